package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/demo"
	"musterstone/cmd/musterstone/internal/job"
	"musterstone/link/assess"
	"musterstone/model"
	"musterstone/vocab"
)

func (a *app) demoCommand() *cli.Command {
	return &cli.Command{
		Name:      "demo",
		ArgsUsage: "FOLDER",
		Usage:     "lay down the invented survey, run the whole job on it, say what to look at next",
		UsageText: "musterstone demo [FOLDER]",
		Description: "Writes an invented county with three burial grounds and two rosters into the folder (by default a new one in the temporary folder), and\n" +
			"runs the whole job on it: reading, proposing, unmarked veterans, publication. All persons in it are invented.\n\nExample: musterstone demo alder",
		Action: func(c *cli.Context) error {
			if c.Args().Len() > 1 {
				return &usageError{text: "demo takes one folder at most", hint: "for example: musterstone demo alder"}
			}
			dir := c.Args().First()
			if dir == "" {
				made, err := os.MkdirTemp("", "musterstone-demo-")
				if err != nil {
					return fmt.Errorf("make a folder for the demo: %w", err)
				}
				dir = made
			}
			if err := demo.Lay(dir); err != nil {
				return &job.Refused{Err: err}
			}
			return a.runDemo(c, dir)
		},
	}
}

func (a *app) runDemo(c *cli.Context, dir string) error {
	w := bufio.NewWriter(a.out)
	defer w.Flush()
	j, err := a.openAt(dir)
	if err != nil {
		return err
	}
	defer j.Close()
	subjects := j.Subjects()
	fmt.Fprintf(w, "An invented survey is now in %s\n\n", plain(dir))

	fmt.Fprintf(w, "1. Reading the stones: %s\n", count(len(subjects), "stone", "stones"))
	columns(w, "   ", patternTally(subjects))
	if n := contradicted(subjects); n > 0 {
		fmt.Fprintf(w, "   On %s design and words do not fit together, such as:\n", count(n, "stone", "stones"))
		for _, s := range subjects {
			if len(s.Implies.Contradictions) > 0 {
				fmt.Fprintf(w, "   %s: %s\n", plain(string(s.Stone.ID)), plain(s.Implies.Contradictions[0].Text))
				break
			}
		}
	}

	proposals, err := j.Propose(c.Context, 0)
	if err != nil {
		return err
	}
	x, err := j.Index(c.Context)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "\n2. Proposing service records: %s in the rosters\n", count(x.Len(), "man", "men"))
	example, proposed, seconds := -1, 0, 0
	for i, p := range proposals {
		switch {
		case len(p.Candidates) == 0:
		case p.Candidates[0].Second:
			seconds++
		case p.Candidates[0].Proposed:
			proposed++
			if example < 0 || len(p.Candidates) > 1 && p.Candidates[1].Probability > second(proposals[example]) {
				example = i
			}
		}
	}
	fmt.Fprintf(w, "   %s proposed for a person to confirm, and %s.", count(proposed, "link is", "links are"), count(seconds, "stone as a man's second", "stones as a man's second"))
	if example >= 0 {
		p := proposals[example]
		fmt.Fprintf(w, " For instance:\n   %s  %s\n", plain(string(p.Stone)), plain(headline(subjects[example])))
		for _, cand := range p.Candidates[:min(2, len(p.Candidates))] {
			r, _ := x.Record(cand.Record)
			printCandidate(w, cand, who(r))
		}
	} else {
		fmt.Fprintln(w)
	}
	truth, err := readTruth(filepath.Join(dir, "truth.csv"), j)
	if err != nil {
		return err
	}
	r := assess.Assess(proposals, truth)
	fmt.Fprintf(w, "   The demo knows its own truth: %d of %d proposals are right, and %d of %d true links are proposed.\n", r.Precision.Hits, r.Precision.Of, r.Recall.Hits, r.Recall.Of)

	findings, err := j.Unmarked(c.Context, proposals)
	if err != nil {
		return err
	}
	private, none := 0, 0
	for _, f := range findings {
		switch {
		case f.Probability < 0.5:
		case f.Kind == model.PrivateStone:
			private++
		case f.Kind == model.NoStone:
			none++
		}
	}
	fmt.Fprintf(w, "\n3. Veterans with no government marker: %s, %s without any stone (each likelier than not)\n",
		count(private, "private stone", "private stones"), count(none, "man", "men"))

	out := filepath.Join(dir, "published")
	d, err := a.dataset(c.Context, j, proposals, findings, true)
	if err != nil {
		return err
	}
	d.After = func(string) error { return recordsRead(c.Context, j) }
	summary, err := writeDataset("demo", out, d)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "\n4. Publishing: %s of linked data in %s\n", count(summary.Triples+summary.Proposed, "triple", "triples"), plain(out))

	fmt.Fprintf(w, "\nWhat to try next:\n")
	me := invocation()
	columns(w, "   ", [][]string{
		{me + " read --survey " + dir, "every stone: words and design"},
		{me + " propose --survey " + dir, "every stone: candidates with reasons"},
		{me + " review --survey " + dir, "the review desk: decide in your browser"},
		{me + " unmarked --survey " + dir, "who lies without a government marker"},
		{me + " find --survey " + dir + " smith", "words in stones and rosters"},
		{me + " publish --survey " + dir + " " + filepath.Join(dir, "site"), "the same with pages to browse"},
	})
	return a.finish(j)
}

// second is the probability of a proposal's runner-up.
func second(p model.Proposal) float64 {
	if len(p.Candidates) < 2 {
		return 0
	}
	return p.Candidates[1].Probability
}

// patternTally counts the stones by their likeliest pattern, in the order of the patterns' first coming.
func patternTally(subjects []*model.Subject) [][]string {
	var order []model.PatternCode
	n := map[model.PatternCode]int{}
	for _, s := range subjects {
		if s.Stone.Register != nil {
			continue
		}
		code, _ := s.Implies.Best()
		if n[code] == 0 {
			order = append(order, code)
		}
		n[code]++
	}
	var rows [][]string
	for _, code := range order {
		rows = append(rows, []string{fmt.Sprint(n[code]), vocab.Label("pattern", string(code))})
	}
	return rows
}

// contradicted counts the stones on which something does not fit.
func contradicted(subjects []*model.Subject) int {
	n := 0
	for _, s := range subjects {
		if len(s.Implies.Contradictions) > 0 {
			n++
		}
	}
	return n
}

// invocation is how the program was called, so that it can be called again: by its name, or by go run.
func invocation() string {
	if exe, err := os.Executable(); err == nil && strings.Contains(exe, "go-build") {
		return "go run ./cmd/musterstone"
	}
	return "musterstone"
}
