package main

import (
	"bufio"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/cmd/musterstone/internal/say"
	"musterstone/index/intake"
	"musterstone/link/resurvey"
	"musterstone/model"
	"musterstone/vocab/rdf"
)

func (a *app) changesCommand() *cli.Command {
	return &cli.Command{
		Name:      "changes",
		ArgsUsage: "FOLDER",
		Usage:     "what became of the stones between two surveys of the same ground, years apart",
		UsageText: "musterstone changes [--survey FOLDER] [--json] EARLIER",
		Description: fmt.Sprintf("Sets the stones of the survey beside those of the earlier survey in the folder EARLIER, and tells which are gone, new, replaced, worn or moved, with\n"+
			"the reasons for each pairing. Cemeteries must bear the same names in both. Nothing is written. A stone that is called gone may only have been overlooked.\n"+
			"Of the earlier stones that come near one of the survey the %d nearest are weighed against each other; where there are more, as on a field of unknowns, none of those can be told apart.\n"+
			"Nobody who may be living is named, by the rule for publication.\n\n"+
			"Example: musterstone changes --survey alder-2025 alder-1998", resurvey.MostNear),
		Flags: []cli.Flag{surveyFlag(), jsonFlag()},
		Action: func(c *cli.Context) error {
			if c.Args().Len() != 1 {
				return &usageError{text: "changes takes one folder, that of the earlier survey", hint: "for example: musterstone changes --survey alder-2025 alder-1998"}
			}
			earlier := c.Args().First()
			same, err := sameFolder(earlier, c.String("survey"))
			if err != nil {
				return err
			}
			if same {
				return &job.Refused{Text: fmt.Sprintf("changes: %s is the survey itself; give the folder of an earlier one", earlier)}
			}
			before, err := a.openAt(earlier)
			if err != nil {
				return err
			}
			defer before.Close()
			after, err := a.openByClock(c)
			if err != nil {
				return err
			}
			defer after.Close()
			if err := before.Read(c.Context); err != nil {
				return err
			}
			if err := after.Read(c.Context); err != nil {
				return err
			}
			for _, side := range []struct {
				dir          string
				survey, with *job.Job
			}{{earlier, before, after}, {c.String("survey"), after, before}} {
				if err := comparable(side.dir, side.survey, side.with); err != nil {
					return err
				}
			}
			all, err := resurvey.Compare(c.Context, before.Subjects(), after.Subjects())
			if err != nil {
				return fmt.Errorf("compare %s with %s: %w", c.String("survey"), earlier, err)
			}
			changes := holdChanges(all, a.now().Year())
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
			return a.finish(before, after)
		},
	}
}

// comparable refuses a survey without stones, and one of whose stones no words are read while the other's have some: all of them would be told as gone and new, and no more than that a column is not known.
func comparable(dir string, survey, with *job.Job) error {
	worded := func(j *job.Job) bool {
		return slices.ContainsFunc(j.Subjects(), func(s *model.Subject) bool { return s.Stone.Register == nil && s.Stone.Marker.Inscription != "" })
	}
	switch stone := func(s *model.Subject) bool { return s.Stone.Register == nil }; {
	case !slices.ContainsFunc(survey.Subjects(), stone):
		return &job.Refused{Text: fmt.Sprintf("changes: %s has no stone that can be read; a survey to compare has a table stones…", dir)}
	case !worded(survey) && worded(with):
		return &job.Refused{Text: fmt.Sprintf("changes: no stone of %s has words that are read, so that none can be found again; name the column of the words inscription, or say in %s which it is, which begin helps with", dir, intake.MetadataFile)}
	}
	return nil
}

// change is a change as it may be told.
type change struct {
	resurvey.Change
	Held bool // somebody on one of its stones may be living
}

// holdChanges takes the evidence, which names people, out of changes of stones that name somebody who may be living, by the rule for publication.
func holdChanges(changes []resurvey.Change, year int) []change {
	var out []change
	for _, x := range changes {
		c := change{Change: x}
		for _, s := range []*model.Subject{x.Before, x.After, x.Nearest} {
			if s == nil || !rdf.LivingOnStone(s, year) {
				continue
			}
			c.Evidence = nil
			c.Held = c.Held || s != x.Nearest
		}
		out = append(out, c)
	}
	return out
}

// changeJSON is one line of `changes --json`.
type changeJSON struct {
	Kind        resurvey.Kind    `json:"kind"`
	Before      model.StoneID    `json:"before,omitempty"`
	After       model.StoneID    `json:"after,omitempty"`
	Probability float64          `json:"probability"`
	Why         []string         `json:"why,omitempty"`
	Evidence    []model.Evidence `json:"evidence,omitempty"`
	Held        bool             `json:"held_back,omitempty"` // somebody named there may be living: no evidence is told
}

func newChangeJSON(x change) changeJSON {
	line := changeJSON{Kind: x.Kind, Probability: x.Probability, Why: x.Why, Evidence: x.Evidence, Held: x.Held}
	if x.Before != nil {
		line.Before = x.Before.Stone.ID
	}
	if x.After != nil {
		line.After = x.After.Stone.ID
	}
	return line
}

// printChanges prints the changes by kind; of the stones that stayed as they were only the number.
func printChanges(w *bufio.Writer, changes []change) {
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
		name := headline(s)
		if x.Held {
			name = withheldName
		}
		fmt.Fprintf(w, "  %s  %s\n", plain(ids), plain(name))
		if at := say.Place(s.Stone.Place); at != "" {
			fmt.Fprintf(w, "      %s\n", plain(at))
		}
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
