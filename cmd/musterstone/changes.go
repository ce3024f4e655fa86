package main

import (
	"bufio"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/resurvey"
	"musterstone/model"
)

func (a *app) changesCommand() *cli.Command {
	return &cli.Command{
		Name:      "changes",
		Usage:     "what became of the stones between two surveys of the same ground, years apart",
		UsageText: "musterstone changes [--survey FOLDER] [--json] EARLIER",
		Description: "Sets the stones of the survey beside those of the earlier survey in the folder EARLIER, and tells which are gone, new, replaced, worn or moved, with\n" +
			"the reasons for each pairing. Cemeteries must bear the same names in both. Nothing is written. A stone that is called gone may only have been overlooked.\n\n" +
			"Example: musterstone changes --survey alder-2025 alder-1998",
		Flags: []cli.Flag{surveyFlag(), jsonFlag()},
		Action: func(c *cli.Context) error {
			if c.Args().Len() != 1 {
				return &usageError{text: "changes takes one folder, that of the earlier survey", hint: "for example: musterstone changes --survey alder-2025 alder-1998"}
			}
			earlier := c.Args().First()
			if same, err := sameFolder(earlier, c.String("survey")); err != nil || same {
				if err != nil {
					return err
				}
				return &job.Refused{Text: fmt.Sprintf("changes: %s is the survey itself; give the folder of an earlier one", earlier)}
			}
			before, err := a.openAt(earlier)
			if err != nil {
				return err
			}
			defer before.Close()
			after, err := a.open(c)
			if err != nil {
				return err
			}
			defer after.Close()
			changes := resurvey.Compare(before.Subjects(), after.Subjects())
			w := bufio.NewWriter(a.out)
			if c.Bool("json") {
				var lines []changeJSON
				for _, x := range changes {
					lines = append(lines, newChangeJSON(x))
				}
				err = jsonLines(w, lines)
			} else {
				printChanges(w, changes)
			}
			if err != nil {
				return err
			}
			if err := w.Flush(); err != nil {
				return err
			}
			if err := a.finish(before, false); err != nil {
				return err
			}
			return a.finish(after, false)
		},
	}
}

// changeJSON is one line of `changes --json`.
type changeJSON struct {
	Kind        resurvey.Kind    `json:"kind"`
	Before      model.StoneID    `json:"before,omitempty"`
	After       model.StoneID    `json:"after,omitempty"`
	Probability float64          `json:"probability"`
	Why         []string         `json:"why,omitempty"`
	Evidence    []model.Evidence `json:"evidence,omitempty"`
}

func newChangeJSON(x resurvey.Change) changeJSON {
	line := changeJSON{Kind: x.Kind, Probability: x.Probability, Why: x.Why, Evidence: x.Evidence}
	if x.Before != nil {
		line.Before = x.Before.Stone.ID
	}
	if x.After != nil {
		line.After = x.After.Stone.ID
	}
	return line
}

// printChanges prints the changes by kind; of the stones that stayed as they were only the number.
func printChanges(w *bufio.Writer, changes []resurvey.Change) {
	n := map[resurvey.Kind]int{}
	for _, x := range changes {
		n[x.Kind]++
	}
	last := resurvey.Kind("")
	for _, x := range changes {
		if x.Kind == resurvey.Same {
			continue
		}
		if x.Kind != last {
			if last != "" {
				fmt.Fprintln(w)
			}
			last = x.Kind
			fmt.Fprintf(w, "%s: %d\n", say.Capital(string(x.Kind)), n[x.Kind])
		}
		s := x.After
		ids := "now "
		switch {
		case x.After == nil:
			s, ids = x.Before, "then "+string(x.Before.Stone.ID)
		case x.Before == nil:
			ids += string(x.After.Stone.ID)
		default:
			ids = fmt.Sprintf("then %s, now %s (%s)", x.Before.Stone.ID, x.After.Stone.ID, percent(x.Probability))
		}
		fmt.Fprintf(w, "  %s  %s\n      %s\n", plain(ids), plain(headline(s)), plain(placeWords(s.Stone.Place)))
		for _, t := range x.Why {
			fmt.Fprintf(w, "      %s\n", plain(t))
		}
		pro, contra := reasons(x.Evidence)
		if len(pro) > 0 {
			fmt.Fprintf(w, "      one stone because: %s\n", plain(strings.Join(pro, "; ")))
		}
		if len(contra) > 0 {
			fmt.Fprintf(w, "      against it: %s\n", plain(strings.Join(contra, "; ")))
		}
	}
	if last != "" {
		fmt.Fprintln(w)
	}
	var parts []string
	for _, k := range resurvey.Kinds() {
		if n[k] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[k], k))
		}
	}
	fmt.Fprintf(w, "%s: %s\n", count(len(changes), "stone", "stones"), strings.Join(parts, ", "))
}
