package main

import (
	"bufio"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/index"
	"musterstone/model"
)

func (a *app) findCommand() *cli.Command {
	return &cli.Command{
		Name:      "find",
		Usage:     "look for words in stones and records",
		UsageText: "musterstone find [--survey FOLDER] [--json] [--kind stone|record] [--limit NUMBER] WORDS",
		Description: "All words must be there; words in quotation marks must stand together; name:, unit:, place: and text: before a word say where; a * at the\n" +
			"end of a word stands for any letters. Short forms and other spellings of names are found too. Columns marked\n" +
			"private are searched and shown here: private means that they are never published.\n\nExample: musterstone find --survey alder baker 'unit:31'",
		Flags: []cli.Flag{surveyFlag(), jsonFlag(), &cli.StringFlag{Name: "kind", Usage: "look in one kind only: `stone|record`"}, &cli.IntFlag{Name: "limit", Value: 20, Usage: "show at most this `NUMBER` of hits"}},
		Action: func(c *cli.Context) error {
			words := strings.Join(c.Args().Slice(), " ")
			if strings.TrimSpace(words) == "" {
				return &usageError{text: "find needs words to look for", hint: "for example: musterstone find holden"}
			}
			kind := c.String("kind")
			if kind != "" && kind != "stone" && kind != "record" {
				return &usageError{text: fmt.Sprintf("--kind %q is neither stone nor record", kind), hint: "leave it out to look in both"}
			}
			limit := c.Int("limit")
			if limit < 1 || limit > 1000 {
				return &usageError{text: fmt.Sprintf("--limit %d is not between 1 and 1000", limit), hint: "for example: musterstone find --limit 100 smith"}
			}
			j, err := a.open(c)
			if err != nil {
				return err
			}
			defer j.Close()
			x, err := j.Index(c.Context)
			if err != nil {
				return err
			}
			found, err := x.Find(c.Context, words, index.FindOptions{Kind: kind, Limit: limit})
			if index.ErrQuestion(err) {
				return &usageError{text: err.Error(), hint: "see: musterstone find --help"}
			}
			if err != nil {
				return err
			}
			for _, n := range found.Notes {
				a.note(n)
			}
			if c.Bool("json") {
				err = a.printHitsJSON(found)
			} else {
				err = a.printHits(found)
			}
			if err != nil {
				return err
			}
			return a.finish(j)
		},
	}
}

func (a *app) printHits(found index.Results) error {
	w := bufio.NewWriter(a.out)
	if found.Near {
		fmt.Fprintln(w, "nothing has the very words; these have names one letter away:")
	}
	for _, h := range found.Hits {
		fmt.Fprintf(w, "%s %s  %s\n", h.Kind, plain(h.ID), plain(h.Line))
		for _, cell := range h.Cells {
			fmt.Fprintf(w, "    %s: %s\n", plain(cell.Column), plain(oneLine(marked(cell))))
		}
	}
	switch {
	case found.Total == 0:
		fmt.Fprintln(w, "nothing found; fewer words, or the beginning of one with a * behind it, find more")
	case found.Total > len(found.Hits):
		fmt.Fprintf(w, "%d shown of %d\n", len(found.Hits), found.Total)
	}
	return w.Flush()
}

// marked puts what was found in a cell between asterisks.
func marked(c index.HitCell) string {
	var b strings.Builder
	at := 0
	for _, m := range c.Marks {
		b.WriteString(c.Value[at:m.From] + "*" + c.Value[m.From:m.To] + "*")
		at = m.To
	}
	b.WriteString(c.Value[at:])
	return b.String()
}

// hitJSON is one line of `find --json`.
type hitJSON struct {
	Kind  string     `json:"kind"`
	ID    string     `json:"id"`
	Line  string     `json:"line"`
	Score float64    `json:"score"`
	Cells []cellJSON `json:"cells"`
}

type cellJSON struct {
	Column string   `json:"column"`
	Value  string   `json:"value"`
	Marks  [][2]int `json:"marks"` // byte offsets in value, from and to
}

func (a *app) printHitsJSON(found index.Results) error {
	w := bufio.NewWriter(a.out)
	for _, h := range found.Hits {
		line := hitJSON{Kind: h.Kind, ID: h.ID, Line: h.Line, Score: h.Score, Cells: []cellJSON{}}
		for _, c := range h.Cells {
			line.Cells = append(line.Cells, cellJSON{c.Column, c.Value, spans(c.Marks)})
		}
		if err := jsonLines(w, []hitJSON{line}); err != nil {
			return err
		}
	}
	return w.Flush()
}

func spans(marks []model.Span) [][2]int {
	out := make([][2]int, len(marks))
	for i, m := range marks {
		out[i] = [2]int{m.From, m.To}
	}
	return out
}
