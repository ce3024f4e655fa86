package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"sort"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link"
	"musterstone/model"
)

func precisionFlag() cli.Flag {
	return &cli.Float64Flag{Name: "precision", Value: link.DefaultPrecision, Usage: "propose only as long as this `SHARE` of the proposals can be expected to be right"}
}

// precision is the value of the flag, checked.
func precision(c *cli.Context) (float64, error) {
	p := c.Float64("precision")
	if !(p > 0 && p < 1) {
		return 0, &usageError{text: fmt.Sprintf("--precision %v is not between 0 and 1", p), hint: "for example: --precision 0.98"}
	}
	return p, nil
}

func (a *app) proposeCommand() *cli.Command {
	return &cli.Command{
		Name:      "propose",
		Usage:     "for each stone, the service records that may be its man, ranked, with reasons",
		UsageText: "musterstone propose [--survey FOLDER] [--json | --csv] [--precision 0.98]",
		Description: "Weighs every stone against the rosters. Reasons are in bits: each bit doubles the odds. A stone may belong to none of the\n" +
			"records. Nothing is linked until a person confirms it with decide; propose writes nothing but its index.\n" +
			"A match is no proof: look at the stone and at the record before you confirm.\n\nExample: musterstone propose --survey alder",
		Flags: []cli.Flag{surveyFlag(), jsonFlag(), precisionFlag(),
			&cli.BoolFlag{Name: "csv", Usage: "print a sheet to decide on with pen or spreadsheet; decide --from takes it back"}, &cli.StringFlag{Name: "stone", Usage: "show only the stone with this `ID`"}},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			p, err := precision(c)
			if err != nil {
				return err
			}
			j, err := a.open(c)
			if err != nil {
				return err
			}
			proposals, err := j.Propose(c.Context, p)
			if err != nil {
				return err
			}
			subjects := j.Subjects()
			if only := c.String("stone"); only != "" {
				i := sort.Search(len(subjects), func(int) bool { return false })
				for k := range subjects {
					if string(subjects[k].Stone.ID) == only {
						i = k
					}
				}
				if i == len(subjects) {
					return &usageError{text: fmt.Sprintf("there is no stone %q in the survey", only), hint: "musterstone read lists the stones"}
				}
				subjects, proposals = subjects[i:i+1], proposals[i:i+1]
			}
			if c.Bool("csv") {
				if err := a.printSheet(c.Context, j, subjects, proposals); err != nil {
					return err
				}
				return a.finish(j, false)
			}
			if c.Bool("json") {
				w := bufio.NewWriter(a.out)
				if err := jsonLines(w, proposals); err != nil {
					return err
				}
				if err := w.Flush(); err != nil {
					return err
				}
				return a.finish(j, false)
			}
			if err := a.printProposals(c.Context, j, subjects, proposals); err != nil {
				return err
			}
			return a.finish(j, false)
		},
	}
}

// printProposals prints the proposals, a line or more for each candidate that matters.
func (a *app) printProposals(ctx context.Context, j *job.Job, subjects []*model.Subject, proposals []model.Proposal) error {
	x, err := j.Index(ctx)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(a.out)
	defer w.Flush()
	proposed, decided := 0, 0
	for i, p := range proposals {
		fmt.Fprintf(w, "%s  %s\n", plain(string(p.Stone)), plain(headline(subjects[i])))
		for n, c := range p.Candidates {
			if n == 3 || n > 0 && c.Probability < 0.01 && c.Decided == "" {
				break
			}
			r, _ := x.Record(c.Record)
			printCandidate(w, c, r)
			if c.Proposed {
				proposed++
			}
			if c.Decided == string(model.Confirmed) {
				decided++
			}
		}
		if len(p.Candidates) == 0 {
			fmt.Fprintln(w, "    no record comes near")
		} else {
			fmt.Fprintf(w, "    none of the records: %s\n", percent(p.None))
		}
		printRunnerUp(w, p)
		for _, n := range p.Notes {
			fmt.Fprintf(w, "    note: %s\n", plain(n))
		}
	}
	fmt.Fprintf(w, "\n%s: %d proposed, %d confirmed. Reasons are in bits: each bit doubles the odds.\n", count(len(proposals), "stone", "stones"), proposed, decided)
	return w.Flush()
}

// printRunnerUp says why the second candidate lost and what would change the ranking, where there is doubt.
func printRunnerUp(w io.Writer, p model.Proposal) {
	if r := p.RunnerUp; r != nil && p.Candidates[1].Probability >= 0.01 {
		var by []string
		for _, e := range r.By[:min(3, len(r.By))] {
			by = append(by, fmt.Sprintf("%s %+.1f", e.Field, -e.Bits))
		}
		if len(by) > 0 {
			fmt.Fprintf(w, "    %s is %.1f bits behind: %s\n", plain(string(r.Record)), r.Behind, plain(strings.Join(by, ", ")))
		}
	}
	for _, s := range p.WouldChange {
		fmt.Fprintf(w, "    %s\n", plain(s))
	}
}

// namesakes says how many men share the record's name, where any do: "3 men named William Smith; 2 in Company K".
func namesakes(n *model.Namesakes) string {
	if n == nil || n.Men < 2 {
		return ""
	}
	text := fmt.Sprintf("%d men named %s", n.Men, n.Name)
	if n.Company != "" {
		text += fmt.Sprintf("; %d in %s", n.InCompany, n.Company)
	}
	return text
}

// headline is what a stone says, in one line.
func headline(s *model.Subject) string { return say.Headline(s) }

// printCandidate prints a candidate with its reasons.
func printCandidate(w io.Writer, c model.Candidate, r *model.Record) {
	mark := "    "
	switch {
	case c.Decided != "":
		mark = "  = "
	case c.Proposed:
		mark = "  > "
	case c.Second: // proposed for another stone, and this would be his second
		mark = "  + "
	}
	who := "(record no longer in the rosters)"
	if r != nil {
		who = describe(r.Claim)
	}
	state := percent(c.Probability)
	if c.Decided != "" {
		state = c.Decided
	}
	fmt.Fprintf(w, "%s%s  %s  %s, %+.1f bits\n", mark, plain(string(c.Record)), plain(who), state, c.Bits)
	pro, contra := reasons(c.Evidence)
	if len(pro) > 0 {
		fmt.Fprintf(w, "        for: %s\n", plain(strings.Join(pro, "; ")))
	}
	if text := namesakes(c.Namesakes); text != "" {
		fmt.Fprintf(w, "        in the rosters: %s\n", plain(text))
	}
	if len(contra) > 0 {
		fmt.Fprintf(w, "        against: %s\n", plain(strings.Join(contra, "; ")))
	}
}
