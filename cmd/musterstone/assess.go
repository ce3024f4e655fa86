package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/index/intake"
	"musterstone/link"
	"musterstone/link/assess"
	"musterstone/link/ledger"
	"musterstone/model"
)

func (a *app) assessCommand() *cli.Command {
	return &cli.Command{
		Name:      "assess",
		ArgsUsage: "FILE",
		Usage:     "precision, recall and calibration of the proposals against a table of true links",
		UsageText: "musterstone assess [--survey FOLDER] [--json] [--precision 0.98] [--diagrams FOLDER] TRUTH.csv",
		Description: "TRUTH.csv has the columns stone and record. A stone that is not in it counts as having no record; a stone with the record ? is\n" +
			"left out. The program is measured as it is without help; where the ledger has decisions, the stones that nobody has decided are\n" +
			"measured a second time, with what the decisions taught. It tells too from which probability on pairs could be linked unseen, below which\n" +
			"they could be left, and how many lie between for a person, with as many errors of either kind as --precision allows. Writes nothing but the\n" +
			"diagrams asked for.\n\nExample: musterstone assess --survey alder --diagrams diagrams alder/truth.csv",
		Flags: []cli.Flag{surveyFlag(), jsonFlag(), precisionFlag(), &cli.StringFlag{Name: "diagrams", Usage: "write precision.svg and reliability.svg into this `FOLDER`"}},
		Action: func(c *cli.Context) error {
			if c.Args().Len() != 1 {
				return &usageError{text: "assess takes one table of true links", hint: "for example: musterstone assess --survey alder truth.csv"}
			}
			p, err := precision(c)
			if err != nil {
				return err
			}
			j, err := a.open(c)
			if err != nil {
				return err
			}
			defer j.Close()
			truth, err := readTruth(c.Args().First(), j)
			if err != nil {
				return err
			}
			m, err := measure(c.Context, j, p, truth)
			if err != nil {
				return err
			}
			if text := m.notLookedAt(c.Args().First()); text != "" {
				a.note(text)
			}
			if text := m.inNoRoster(c.Args().First()); text != "" {
				a.note(text)
			}
			if dir := c.String("diagrams"); dir != "" {
				if err := writeDiagrams(dir, m); err != nil {
					return err
				}
			}
			if !c.Bool("json") {
				printMeasured(a.out, m)
			} else if err := jsonLines(a.out, []*measured{m}); err != nil {
				return err
			}
			return a.finish(j)
		},
	}
}

// measured is all that assess has to say.
type measured struct {
	assess.Report
	Retrieval assess.Retrieval `json:"candidates"`
	Cuts      assess.Cuts      `json:"cuts"`
	Groups    []assess.Group   `json:"groups"`
	Saved     float64          `json:"minutes_saved_a_link"`
	Learned   *link.Lesson     `json:"learned"`
	Helped    *helped          `json:"helped,omitempty"`

	proposals []model.Proposal
	truth     assess.Truth
	strange   []model.RecordID // of the truth, those that no roster has; in the order of the stones
}

// inNoRoster says that the table of truth has records that are none of the survey's, slips of the pen most likely; "" where it has none.
func (m *measured) inNoRoster(file string) string {
	if len(m.strange) == 0 {
		return ""
	}
	return fmt.Sprintf("%s of %s %s in no roster, and cannot be found: %q, for one; look at the ID, zeros before a number and all", count(len(m.strange), "record", "records"), file, isAre(len(m.strange)), m.strange[0])
}

// notLookedAt says that most of the proposals are on stones of which the table of truth says nothing, as where only a sample was looked at; "" where they are not.
func (m *measured) notLookedAt(file string) string {
	proposed, unsaid := 0, 0
	for _, p := range m.proposals {
		if slices.ContainsFunc(p.Candidates, func(c model.Candidate) bool { return c.Proposed }) {
			proposed++
			if m.truth[p.Stone] == nil {
				unsaid++
			}
		}
	}
	if 2*unsaid <= proposed {
		return ""
	}
	return fmt.Sprintf("%d of the %s with a proposal are not in %s, and count as having no record: of a stone that nobody has looked at, write ? there as the record", unsaid, count(proposed, "stone", "stones"), file)
}

// helped is how the stones that nobody has decided fare without and with what the decisions taught.
type helped struct {
	Decisions int           `json:"decisions"`
	Before    assess.Report `json:"before"`
	After     assess.Report `json:"after"`
	Learned   *link.Lesson  `json:"learned"`
}

// measure proposes, without the ledger's help and with it, and sets both beside the truth.
func measure(ctx context.Context, j *job.Job, precision float64, truth assess.Truth) (*measured, error) {
	proposals, lesson, err := j.Learn(ctx, precision, ledger.State{})
	if err != nil {
		return nil, err
	}
	x, err := j.Index(ctx)
	if err != nil {
		return nil, err
	}
	counts, err := j.Counts(ctx)
	if err != nil {
		return nil, err
	}
	candidates := make([][]model.RecordID, len(j.Subjects()))
	found := map[model.StoneID][]model.RecordID{}
	for i, s := range j.Subjects() {
		records, err := x.Candidates(ctx, s, link.DefaultCandidates)
		if err != nil {
			return nil, err
		}
		for _, r := range records {
			candidates[i] = append(candidates[i], r.ID)
		}
		found[s.Stone.ID] = candidates[i]
	}
	m := &measured{Report: assess.Assess(proposals, truth), Retrieval: assess.Retrieve(j.Subjects(), candidates, counts.N, truth),
		Cuts:   assess.Review(proposals, truth, counts.N, precision),
		Groups: assess.Groups(j.Subjects(), proposals, truth), Learned: lesson, proposals: proposals, truth: truth}
	m.Retrieved(found)
	for _, p := range proposals {
		for _, id := range truth[p.Stone] {
			if _, ok := x.Record(id); !ok && id != assess.Unknown {
				m.strange = append(m.strange, id)
			}
		}
	}
	m.Saved = m.Report.Saved()
	l, err := j.Follow(ctx)
	if err != nil {
		return nil, err
	}
	state := l.State()
	pairs := state.Pairs()
	if len(pairs) == 0 {
		return m, nil
	}
	decided := map[model.StoneID]bool{}
	for _, p := range pairs {
		decided[p.Stone] = true
	}
	after, taught, err := j.Learn(ctx, precision, state)
	if err != nil {
		return nil, err
	}
	isDecided := func(p model.Proposal) bool { return decided[p.Stone] }
	m.Helped = &helped{Decisions: len(pairs), Learned: taught,
		Before: assess.Assess(slices.DeleteFunc(slices.Clone(proposals), isDecided), truth),
		After:  assess.Assess(slices.DeleteFunc(slices.Clone(after), isDecided), truth)}
	return m, nil
}

// readTruth reads a table of true links; every stone in it must be one of the survey's.
func readTruth(path string, j *job.Job) (assess.Truth, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, &job.Refused{Err: fmt.Errorf("read the true links: %w; give the table of them, with the columns stone and record", err)}
	}
	defer f.Close()
	r := intake.Beside(f)
	r.FieldsPerRecord = 0 // as many as the header
	header, err := r.Read()
	if err == io.EOF {
		return nil, &job.Refused{Text: fmt.Sprintf("read the true links of %s: the file is empty; its first row must name the columns stone and record", path)}
	}
	if err != nil {
		return nil, &job.Refused{Err: fmt.Errorf("read the header of %s: %w; want the columns stone and record", path, err)}
	}
	if all := strings.Join(header, ""); !utf8.ValidString(all) || strings.ContainsRune(all, 0) {
		return nil, &job.Refused{Text: fmt.Sprintf("read the true links of %s: it is not UTF-8 text; save it from the spreadsheet as CSV, UTF-8", path)}
	}
	stone, record := -1, -1
	for i, h := range header {
		switch strings.ToLower(strings.TrimSpace(h)) {
		case "stone":
			stone = i
		case "record":
			record = i
		}
	}
	if stone < 0 || record < 0 {
		return nil, &job.Refused{Text: fmt.Sprintf("%s: the columns are %q; want stone and record", path, header)}
	}
	known := map[model.StoneID]bool{}
	for _, s := range j.Stones() {
		known[s.ID] = true
	}
	truth, rows := assess.Truth{}, 0
	for {
		cells, err := r.Read()
		if err == io.EOF && rows == 0 {
			return nil, &job.Refused{Text: fmt.Sprintf("read the true links of %s: there is no row below the header; give each stone that somebody has looked at a row, with the record of its man or none", path)}
		}
		if err == io.EOF {
			return truth, nil
		}
		rows++
		if err != nil {
			return nil, &job.Refused{Err: fmt.Errorf("read the true links of %s: %w; every row wants as many cells as the header", path, err)}
		}
		row, _ := r.FieldPos(stone)
		id := model.StoneID(cells[stone])
		if !known[id] {
			return nil, &job.Refused{Text: fmt.Sprintf("%s:%d: column \"stone\": there is no stone %q in the survey; mend the ID, zeros before a number and all, or take the row out", path, row, id)}
		}
		if cells[record] != "" {
			truth[id] = append(truth[id], model.RecordID(cells[record]))
		}
	}
}
