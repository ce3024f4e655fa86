package main

import (
	"bufio"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/link/unmarked"
	"musterstone/model"
	"musterstone/vocab"
)

func (a *app) unmarkedCommand() *cli.Command {
	return &cli.Command{
		Name:      "unmarked",
		Usage:     "veterans with no government marker, with the evidence and what is still to be shown",
		UsageText: "musterstone unmarked [--survey FOLDER] [--json]",
		Description: "Lists private stones that look like veterans', and men whom a roster or a register buries here but no stone names, likeliest first.\n" +
			"A finding is a lead for people. Whether a marker may be had is for the agency and the law to decide.\n\nExample: musterstone unmarked --survey alder",
		Flags: []cli.Flag{surveyFlag(), jsonFlag()},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
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
			findings, err := j.Unmarked(c.Context, proposals)
			if err != nil {
				return err
			}
			w := bufio.NewWriter(a.out)
			if c.Bool("json") {
				err = jsonLines(w, findings)
			} else {
				err = a.printFindings(c, w, j, findings)
			}
			if err != nil {
				return err
			}
			if err := w.Flush(); err != nil {
				return err
			}
			return a.finish(j, false)
		},
	}
}

func (a *app) printFindings(c *cli.Context, w *bufio.Writer, j *job.Job, findings []model.Finding) error {
	x, err := j.Index(c.Context)
	if err != nil {
		return err
	}
	byID := map[model.StoneID]*model.Subject{}
	for _, s := range j.Subjects() {
		byID[s.Stone.ID] = s
	}
	legend := newLegend(findings)
	for _, f := range findings {
		who, where := "", ""
		if s := byID[f.Stone]; s != nil {
			who = fmt.Sprintf("stone %s  %s", f.Stone, headline(s))
			where = placeWords(s.Stone.Place)
		} else if r, ok := x.Record(f.Record); ok {
			who = fmt.Sprintf("record %s  %s", f.Record, describe(r.Claim))
		}
		kind := "private stone"
		if f.Kind == model.NoStone {
			kind = "no stone"
		}
		fmt.Fprintf(w, "%s  %s", percent(f.Probability), kind)
		if f.Conflict != "" {
			fmt.Fprintf(w, ", %s", vocab.Label("conflict", string(f.Conflict)))
		}
		fmt.Fprintf(w, "\n    %s\n", plain(who))
		if where != "" {
			fmt.Fprintf(w, "    %s\n", plain(where))
		}
		for _, r := range f.Reasons {
			fmt.Fprintf(w, "    because %s\n", plain(r))
		}
		for _, t := range f.ToShow {
			if !legend.has(t) {
				fmt.Fprintf(w, "    still to be shown: %s\n", plain(t))
			}
		}
		if n := legend.numbers(f.ToShow); n != "" {
			fmt.Fprintf(w, "    still to be shown: %s\n", n)
		}
	}
	if len(legend.lines) > 0 {
		fmt.Fprintln(w, "\nStill to be shown:")
		for i, t := range legend.lines {
			fmt.Fprintf(w, "  (%d) %s\n", i+1, plain(t))
		}
	}
	fmt.Fprintf(w, "\n%s\n", count(len(findings), "finding", "findings"))
	for _, t := range unmarked.Cautions() {
		fmt.Fprintf(w, "- %s\n", t)
	}
	return nil
}

// placeWords is where a stone stands, in a line.
func placeWords(p model.Place) string {
	s := p.Cemetery
	for _, part := range [][2]string{{"section", p.Section}, {"row", p.Row}, {"plot", p.Plot}} {
		if part[1] != "" {
			s += ", " + part[0] + " " + part[1]
		}
	}
	return s
}

// legend numbers the lines that several findings share, so that each is printed once.
type legend struct {
	lines []string
}

func newLegend(findings []model.Finding) *legend {
	n := map[string]int{}
	l := &legend{}
	for _, f := range findings {
		for _, t := range f.ToShow {
			if n[t]++; n[t] == 2 {
				l.lines = append(l.lines, t)
			}
		}
	}
	return l
}

func (l *legend) has(line string) bool { return slices.Contains(l.lines, line) }

// numbers gives the numbers of those of the lines that are shared: "(1) (2) (5)".
func (l *legend) numbers(lines []string) string {
	var out []string
	for _, t := range lines {
		if i := slices.Index(l.lines, t); i >= 0 {
			out = append(out, fmt.Sprintf("(%d)", i+1))
		}
	}
	return strings.Join(out, " ")
}
