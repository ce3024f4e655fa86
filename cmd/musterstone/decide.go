package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/model"
)

func (a *app) decideCommand() *cli.Command {
	return &cli.Command{
		Name:  "decide",
		Usage: "confirm or refuse that a record is a stone's man, or withdraw a decision",
		UsageText: "musterstone decide --stone S --record R --as confirmed|refused --by NAME [--because TEXT]\n" +
			"musterstone decide --withdraw ID --by NAME [--because TEXT]",
		Description: "Adds one line to decisions.jsonl in the survey folder; no line is ever changed or taken out. What the program proposed at the\n" +
			"time is kept with the decision. Nothing counts until a person confirms it, and a confirmed match is still a person's\n" +
			"judgement, not proof.\n\nExample: musterstone decide --survey alder --stone M-014 --record r-0231 --as confirmed --by \"A. Novak\" --because \"same company, died the same day\"",
		Flags: []cli.Flag{
			surveyFlag(), jsonFlag(),
			&cli.StringFlag{Name: "stone", Usage: "the stone's `ID`"},
			&cli.StringFlag{Name: "record", Usage: "the record's `ID`"},
			&cli.StringFlag{Name: "as", Usage: "`confirmed` or refused"},
			&cli.StringFlag{Name: "by", Usage: "your `NAME`, as it shall stand in the ledger"},
			&cli.StringFlag{Name: "because", Usage: "your reason"},
			&cli.StringFlag{Name: "withdraw", Usage: "take back the decision with this `ID`"},
		},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			by := strings.TrimSpace(c.String("by"))
			if by == "" {
				hint := "for example: --by \"A. Novak\""
				if n := a.userName(); n != "" {
					hint = fmt.Sprintf("for example: --by %q", n)
				}
				return &usageError{text: "--by is missing: a decision is a person's", hint: hint}
			}
			if id := c.String("withdraw"); id != "" {
				return a.withdraw(c, id, by)
			}
			return a.decide(c, by)
		},
	}
}

func (a *app) withdraw(c *cli.Context, id, by string) error {
	for _, other := range []string{"stone", "record", "as"} {
		if c.IsSet(other) {
			return &usageError{text: "--withdraw and --" + other + " do not go together", hint: "a withdrawal needs only the decision's ID: musterstone decide --withdraw ID --by NAME"}
		}
	}
	j, err := a.open(c)
	if err != nil {
		return err
	}
	defer j.Close()
	l, err := j.Ledger()
	if err != nil {
		return err
	}
	l.Clock = a.now
	if !hasDecision(l.Decisions(), id) {
		return &usageError{text: fmt.Sprintf("there is no decision %q in the ledger", id), hint: "the IDs stand in decisions.jsonl"}
	}
	d, err := l.Withdraw(id, by, c.String("because"))
	if err != nil {
		return err
	}
	return a.printDecision(c, d)
}

func hasDecision(ds []model.Decision, id string) bool {
	for _, d := range ds {
		if d.ID == id {
			return true
		}
	}
	return false
}

func (a *app) decide(c *cli.Context, by string) error {
	as := model.Verdict(c.String("as"))
	if as != model.Confirmed && as != model.Refused {
		return &usageError{text: fmt.Sprintf("--as %q is not a verdict", c.String("as")), hint: "want --as confirmed or --as refused"}
	}
	stone, record := model.StoneID(c.String("stone")), model.RecordID(c.String("record"))
	if stone == "" || record == "" {
		return &usageError{text: "--stone and --record are both needed", hint: "musterstone propose shows the IDs of both"}
	}
	j, err := a.open(c)
	if err != nil {
		return err
	}
	defer j.Close()
	proposals, err := j.Propose(c.Context, 0)
	if err != nil {
		return err
	}
	x, err := j.Index(c.Context)
	if err != nil {
		return err
	}
	var seen *model.Proposal
	for i := range proposals {
		if proposals[i].Stone == stone {
			seen = &proposals[i]
		}
	}
	if seen == nil {
		return &usageError{text: fmt.Sprintf("there is no stone %q in the survey", stone), hint: "musterstone read lists the stones"}
	}
	if _, ok := x.Record(record); !ok {
		return &usageError{text: fmt.Sprintf("there is no record %q in the rosters", record), hint: "musterstone find looks for records by words"}
	}
	digests, err := j.Digests()
	if err != nil {
		return err
	}
	l, err := j.Ledger()
	if err != nil {
		return err
	}
	l.Clock = a.now
	d, err := l.Append(model.Decision{By: by, Stone: stone, Record: record, As: as, Because: c.String("because"),
		Seen: &model.Seen{Proposal: seen, Program: version, Inputs: digests}})
	if err != nil {
		return err
	}
	if others := l.State().ConfirmedStones(record); as == model.Confirmed && len(others) > 1 {
		a.note(fmt.Sprintf("record %s is now confirmed for %d stones: %v; that can be right (a family stone, a cenotaph, a replacement), look at them together", record, len(others), others))
	}
	if l.State().Disputed(stone, record) {
		a.note(fmt.Sprintf("stone %s and record %s are disputed: another person decided otherwise", stone, record))
	}
	return a.printDecision(c, d)
}

func (a *app) printDecision(c *cli.Context, d model.Decision) error {
	if c.Bool("json") {
		enc := json.NewEncoder(a.out)
		enc.SetEscapeHTML(false)
		return enc.Encode(d)
	}
	_, err := fmt.Fprintf(a.out, "%s: %s by %s, stone %s, record %s (%s)\n", plain(d.ID), d.As, plain(d.By), plain(string(d.Stone)), plain(string(d.Record)),
		d.At.UTC().Format("2006-01-02 15:04 MST"))
	return err
}
