package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/link/ledger"
	"musterstone/model"
)

func (a *app) decideCommand() *cli.Command {
	return &cli.Command{
		Name:  "decide",
		Usage: "confirm or refuse that a record is a stone's man, or withdraw a decision",
		UsageText: "musterstone decide [--survey FOLDER] --stone S --record R --as confirmed|refused --by NAME [--because TEXT]\n" +
			"musterstone decide [--survey FOLDER] --stone S --as none|unsure|noted --by NAME [--because TEXT]\n" +
			"musterstone decide [--survey FOLDER] --from SHEET.csv --by NAME\n" +
			"musterstone decide [--survey FOLDER] --withdraw ID --by NAME [--because TEXT]",
		Description: "Adds one line to decisions.jsonl in the survey folder; no line is ever changed or taken out. What the program proposed at the\n" +
			"time, and what the record said, is kept with the decision. On a stone as a whole, none says that none of the records is its man's,\n" +
			"unsure leaves it for later, and noted keeps a note. Nothing counts until a person confirms it, and a confirmed match is still a\n" +
			"person's judgement, not proof.\n\n" +
			"--from takes a sheet as propose --csv makes it: rows with something in the column \"as\" are decided, all of them or, where one\n" +
			"cannot be understood, none. What stands already in the same name is passed over, so that a sheet can be sent twice.\n\n" +
			"Example: musterstone decide --survey alder --stone OM-02 --record U005 --as confirmed --by \"Ann Novak\" --because \"his company; the other Baker served in the 44th\"",
		Flags: []cli.Flag{
			surveyFlag(), jsonFlag(),
			&cli.StringFlag{Name: "stone", Usage: "the stone's `ID`"},
			&cli.StringFlag{Name: "record", Usage: "the record's `ID`"},
			&cli.StringFlag{Name: "as", Usage: "what you decide: `confirmed|refused|none|unsure|noted`"},
			&cli.StringFlag{Name: "by", Usage: "your `NAME`, as it shall stand in the ledger"},
			&cli.StringFlag{Name: "because", Usage: "your reason, or the note: `TEXT`"},
			&cli.StringFlag{Name: "from", Usage: "take the decisions of a sheet, a CSV `FILE`; - is standard input"},
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
			switch {
			case c.String("withdraw") != "":
				return a.withdraw(c, c.String("withdraw"), by)
			case c.String("from") != "":
				return a.decideFrom(c, c.String("from"), by)
			}
			return a.decide(c, by)
		},
	}
}

// alone refuses flags that do not go with the one that was given.
func alone(c *cli.Context, flag, hint string, others ...string) error {
	for _, other := range others {
		if c.IsSet(other) {
			return &usageError{text: "--" + flag + " and --" + other + " do not go together", hint: hint}
		}
	}
	return nil
}

func (a *app) withdraw(c *cli.Context, id, by string) error {
	if err := alone(c, "withdraw", "a withdrawal needs only the decision's ID: musterstone decide --withdraw ID --by NAME", "stone", "record", "as", "from"); err != nil {
		return err
	}
	j, err := a.openToDecide(c)
	if err != nil {
		return err
	}
	defer j.Close()
	l, err := j.Ledger()
	if err != nil {
		return err
	}
	l.Clock = a.now
	if !slices.ContainsFunc(l.Decisions(), func(d model.Decision) bool { return d.ID == id }) {
		return noDecision(l.State(), id)
	}
	if l, err = j.Follow(c.Context); err != nil {
		return err
	}
	d, err := l.Withdraw(id, by, c.String("because"))
	if err != nil && errors.Unwrap(err) == nil { // another's, or it stands no longer; what the disk says is wrapped
		return &job.Refused{Err: err}
	}
	if err != nil {
		return err
	}
	return a.printDecision(c, d)
}

// noDecision refuses an ID that no decision has. Where it is a stone's, it tells the IDs of the decisions that stand there.
func noDecision(state ledger.State, id string) error {
	e := &usageError{text: fmt.Sprintf("there is no decision %q in the ledger", id), hint: "the IDs stand in " + ledger.FileName + "; --withdraw with a stone's ID lists those of that stone"}
	stone := model.StoneID(id)
	for _, d := range append(state.Voices(stone), state.Notes(stone)...) {
		e.hint = fmt.Sprintf("but %q is a stone; on it stand:", id)
		e.more = append(e.more, fmt.Sprintf("%s: %s by %s, %s", d.ID, d.As, d.By, decidedOn(d)))
	}
	return e
}

func (a *app) decide(c *cli.Context, by string) error {
	as, ok := verdictForms[strings.ToLower(c.String("as"))]
	if !ok {
		return &usageError{text: fmt.Sprintf("--as %q is not a verdict", c.String("as")), hint: "want --as confirmed, refused, none, unsure or noted"}
	}
	row := sheetRow{stone: c.String("stone"), record: c.String("record"), as: as, because: c.String("because"), by: by}
	switch paired := onRecord(as); {
	case row.stone == "" && (row.record != "" || !paired):
		return &usageError{text: "--stone is missing: it says which stone is decided on", hint: "musterstone read lists the stones"}
	case row.stone == "":
		return &usageError{text: "--stone and --record are both needed", hint: "musterstone propose shows the IDs of both"}
	case paired && row.record == "":
		return &usageError{text: fmt.Sprintf("--record is missing: --as %s is on a record", c.String("as")), hint: fmt.Sprintf("musterstone propose --only %s shows the stone's records", row.stone)}
	case !paired && as != model.Noted && row.record != "":
		return &usageError{text: fmt.Sprintf("--as %s is on a stone as a whole", c.String("as")), hint: "leave --record out"}
	case as == model.Noted && strings.TrimSpace(row.because) == "":
		return &usageError{text: "the note says nothing", hint: "write it as --because TEXT"}
	}
	k, err := a.decider(c)
	if err != nil {
		return err
	}
	defer k.job.Close()
	if text, hint := k.fault(row); text != "" {
		return &usageError{text: text, hint: hint}
	}
	return k.decide(row)
}

// decideFrom takes the decisions of a sheet: all, or none where one cannot be understood.
func (a *app) decideFrom(c *cli.Context, path, by string) error {
	if err := alone(c, "from", "a sheet has its own stones and records: musterstone decide --from SHEET.csv --by NAME", "stone", "record", "as", "because"); err != nil {
		return err
	}
	name, in := "standard input", a.in
	if path != "-" {
		f, err := os.Open(path)
		if err != nil {
			return &usageError{text: fmt.Sprintf("the sheet cannot be read: %v", err), hint: "musterstone propose --csv makes one"}
		}
		defer f.Close()
		name, in = filepath.Base(path), f
	}
	rows, wrong, err := readSheet(name, in)
	if err != nil {
		return err
	}
	k, err := a.decider(c)
	if err != nil {
		return err
	}
	defer k.job.Close()
	mended := 0
	for i := range rows {
		if k.putZeros(&rows[i]) {
			mended++
		}
	}
	if mended > 0 {
		a.note(fmt.Sprintf("%s: in %s the zeros before an ID, which spreadsheets drop, were put back", name, count(mended, "row", "rows")))
	}
	for _, r := range rows {
		if text, hint := k.fault(r); text != "" && r.stone != "" {
			wrong = append(wrong, model.Complaint{File: name, Row: r.row, Text: text, Hint: hint, Fatal: true})
		}
	}
	if len(wrong) > 0 {
		slices.SortStableFunc(wrong, func(x, y model.Complaint) int { return x.Row - y.Row })
		for _, w := range wrong {
			a.note(w.Error())
		}
		return &job.Refused{Text: fmt.Sprintf("nothing of %s was decided: mend the %s above and send it again", name, count(len(wrong), "row", "rows"))}
	}
	done, stood := 0, 0
	for _, r := range rows {
		if r.by == "" {
			r.by = by
		}
		if k.stands(r) {
			stood++
			continue
		}
		if err := k.decide(r); err != nil {
			return fmt.Errorf("%s, row %d (%d before it are decided; send the sheet again for the rest): %w", name, r.row, done, err)
		}
		done++
	}
	a.note(fmt.Sprintf("%s from %s, %d stood already", count(done, "decision", "decisions"), name, stood))
	return nil
}

// decider writes decisions on a survey's stones, with what was proposed at the time.
type decider struct {
	app       *app
	c         *cli.Context
	job       *job.Job // the caller closes it
	ledger    *ledger.Ledger
	record    func(model.RecordID) (*model.Record, bool)
	proposals map[model.StoneID]*model.Proposal
	digests   map[string]string
}

// decider opens the survey of a command and has it weighed, as a person who decides there would be shown it.
func (a *app) decider(c *cli.Context) (k *decider, err error) {
	j, err := a.openToDecide(c)
	if err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			j.Close()
		}
	}()
	proposals, err := j.Propose(c.Context, 0)
	if err != nil {
		return nil, err
	}
	x, err := j.Index(c.Context)
	if err != nil {
		return nil, err
	}
	k = &decider{app: a, c: c, job: j, record: x.Record, proposals: map[model.StoneID]*model.Proposal{}}
	for i := range proposals {
		k.proposals[proposals[i].Stone] = &proposals[i]
	}
	if k.digests, err = j.Digests(); err != nil {
		return nil, err
	}
	if k.ledger, err = j.Ledger(); err != nil {
		return nil, err
	}
	k.ledger.Clock = a.now
	return k, nil
}

func (k *decider) hasStone(id string) bool { return k.proposals[model.StoneID(id)] != nil }

func (k *decider) hasRecord(id string) bool {
	_, ok := k.record(model.RecordID(id))
	return ok
}

// putZeros gives the IDs of a sheet's row the zeros back that a spreadsheet has dropped, and reports whether it did.
func (k *decider) putZeros(r *sheetRow) bool {
	done := false
	if near, ok := zeros(r.stone, k.hasStone); ok && !k.hasStone(r.stone) {
		r.stone, done = near, true
	}
	if near, ok := zeros(r.record, k.hasRecord); ok && !k.hasRecord(r.record) {
		r.record, done = near, true
	}
	return done
}

// zeros finds the one known ID that differs from an ID of figures in the zeros before it alone.
func zeros(id string, known func(string) bool) (near string, ok bool) {
	if id == "" || strings.Trim(id, "0123456789") != "" {
		return "", false
	}
	bare := strings.TrimLeft(id, "0")
	for n := range 9 {
		try := strings.Repeat("0", n) + bare
		if try == "" || try == id || !known(try) {
			continue
		}
		if ok {
			return "", false // two
		}
		near, ok = try, true
	}
	return near, ok
}

// otherCase finds the known ID that differs from an ID in capitals, or in blanks about it, alone.
func otherCase(id string, known func(string) bool) (near string, ok bool) {
	id = strings.TrimSpace(id)
	for _, try := range []string{id, strings.ToUpper(id), strings.ToLower(id)} {
		if try != "" && known(try) {
			return try, true
		}
	}
	return "", false
}

// fault says what is wrong with a decision, "" where nothing is.
func (k *decider) fault(r sheetRow) (text, hint string) {
	if !k.hasStone(r.stone) {
		text, hint = fmt.Sprintf("there is no stone %q in the survey", r.stone), "musterstone read lists the stones"
		if near, ok := zeros(r.stone, k.hasStone); ok {
			hint = fmt.Sprintf("there is a stone %q: zeros before a number count", near)
		} else if near, ok := otherCase(r.stone, k.hasStone); ok {
			hint = fmt.Sprintf("there is a stone %q", near)
		}
		return text, hint
	}
	if r.record != "" && !k.hasRecord(r.record) {
		text, hint = fmt.Sprintf("there is no record %q in the rosters", r.record), "musterstone find looks for records by words"
		if near, ok := zeros(r.record, k.hasRecord); ok {
			hint = fmt.Sprintf("there is a record %q: zeros before a number count", near)
		} else if near, ok := otherCase(r.record, k.hasRecord); ok {
			hint = fmt.Sprintf("there is a record %q", near)
		}
		return text, hint
	}
	return "", ""
}

// stands reports whether the same person holds so already, for the same reason or none.
func (k *decider) stands(r sheetRow) bool {
	state := k.ledger.State()
	held := append(state.Voices(model.StoneID(r.stone)), state.Notes(model.StoneID(r.stone))...)
	return slices.ContainsFunc(held, func(d model.Decision) bool {
		return d.By == strings.Join(strings.Fields(r.by), " ") && d.As == r.as && string(d.Record) == r.record && (r.because == "" || r.because == d.Because)
	})
}

// decide writes one decision and prints it.
func (k *decider) decide(r sheetRow) error {
	stone, record := model.StoneID(r.stone), model.RecordID(r.record)
	seen := &model.Seen{Proposal: ledger.Shown(*k.proposals[stone], record), Program: version, Inputs: k.digests}
	if rec, ok := k.record(record); ok {
		ledger.SawRecord(seen, rec)
	}
	d, err := k.ledger.Append(model.Decision{By: r.by, Stone: stone, Record: record, As: r.as, Because: r.because, Seen: seen})
	if err != nil {
		return err
	}
	state := k.ledger.State()
	if others := state.ConfirmedStones(record); r.as == model.Confirmed && len(others) > 1 {
		k.app.note(fmt.Sprintf("record %s is now confirmed for %d stones: %s; that can be right (a family stone, a cenotaph, a replacement), look at them together", record, len(others), listed(others)))
	}
	if others := state.Confirmed(stone); r.as == model.Confirmed && len(others) > 1 {
		k.app.note(fmt.Sprintf("stone %s now has %d confirmed records: %s; that can be right (one man in two rosters, two men on one stone), else take one back with --withdraw", stone, len(others), listed(others)))
	}
	switch {
	case record != "" && r.as != model.Noted && state.Disputed(stone, record):
		k.app.note(fmt.Sprintf("stone %s and record %s are disputed: another person decided otherwise", stone, record))
	case record == "" && state.DisputedStone(stone):
		k.app.note(fmt.Sprintf("stone %s is disputed: another person decided otherwise", stone))
	}
	return k.app.printDecision(k.c, d)
}

// listed are IDs in a row.
func listed[T ~string](ids []T) string {
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = string(id)
	}
	return strings.Join(words, ", ")
}

func (a *app) printDecision(c *cli.Context, d model.Decision) error {
	if c.Bool("json") {
		return jsonLines(a.out, []model.Decision{d})
	}
	_, err := fmt.Fprintf(a.out, "%s: %s by %s, %s (%s)\n", plain(d.ID), d.As, plain(d.By), plain(decidedOn(d)), d.At.UTC().Format("2006-01-02 15:04 MST"))
	return err
}
