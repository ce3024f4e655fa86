package main

import (
	"bufio"
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/cmd/musterstone/internal/say"
	"musterstone/index/intake"
	"musterstone/link/ledger"
	"musterstone/link/unmarked"
	"musterstone/model"
	"musterstone/vocab"
)

// leadForms are the forms in which leads are written.
var leadForms = []string{"list", "csv", "geojson", "html"}

func (a *app) unmarkedCommand() *cli.Command {
	forms := strings.Join(leadForms, "|")
	return &cli.Command{
		Name:      "unmarked",
		Usage:     "veterans with no government marker, with the evidence and what is still to be shown",
		UsageText: "musterstone unmarked [--survey FOLDER] [--cemetery GROUND] [--as " + forms + "] [--out FILE]\nmusterstone unmarked [--survey FOLDER] --json",
		Description: "Lists private stones that look like veterans', and men whom a roster or a register buries here but no stone names, likeliest first; then government\n" +
			"markers that the record contradicts, that are broken, sunk or past reading, or that are a man's second; then leads to the names of unknowns.\n" +
			"A finding is a lead for people. Whether a marker may be had is for the agency and the law to decide.\n\n" +
			"Former names of burial grounds are read from cemeteries.csv in the survey folder, if it is there: the columns cemetery, also (names parted by |), county, state.\n\n" +
			"--as list     a work list by cemetery, section, row and plot, in walking order\n" +
			"--as csv      the same as a table, one finding a row\n" +
			"--as geojson  the same for maps (RFC 7946); findings without a position have none\n" +
			"--as html     a report of two pages with plans, the work list, and a sheet for each finding, to be printed on letter or A4; it loads nothing\n\n" +
			"What goes into a file, and csv, geojson and html wherever they go, is made to be handed on: what columns marked private in the metadata (\"ms:private\": true) say is\n" +
			"held back there, as publish does; the list and --json on your own screen have it. Whoever may be living is held back everywhere.\n\n" +
			"Example: musterstone unmarked --survey alder --as html --out alder.html",
		Flags: []cli.Flag{surveyFlag(), jsonFlag(),
			&cli.StringFlag{Name: "as", Usage: "the form of the result: `" + forms + "`"},
			&cli.StringFlag{Name: "cemetery", Usage: "only this `GROUND` (with --as)"},
			&cli.StringFlag{Name: "out", Usage: "write into this `FILE` instead of printing (with --as)"},
		},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			if err := leadFlags(c); err != nil {
				return err
			}
			j, err := a.openByClock(c)
			if err != nil {
				return err
			}
			defer j.Close()
			a.noteStones(j)
			if c.String("as") != "" {
				return a.putLeads(c, j)
			}
			all, err := a.leads(c.Context, j, "", false)
			if err != nil {
				return err
			}
			w := bufio.NewWriter(a.out)
			if c.Bool("json") {
				var lines []findingJSON
				for _, l := range all.ranked() {
					lines = append(lines, newFindingJSON(l.told()))
				}
				if err := jsonLines(w, lines); err != nil {
					return err
				}
			} else {
				printFindings(w, all)
			}
			if err := w.Flush(); err != nil {
				return err
			}
			return a.finish(j)
		},
	}
}

// leadFlags checks the options against each other.
func leadFlags(c *cli.Context) error {
	as := c.String("as")
	switch {
	case as != "" && !slices.Contains(leadForms, as):
		return &usageError{text: fmt.Sprintf("no form %q", as), hint: "want --as list, csv, geojson or html"}
	case as != "" && c.Bool("json"):
		return &usageError{text: "--as and --json exclude each other", hint: "for example: musterstone unmarked --as csv"}
	case as == "" && (c.String("out") != "" || c.String("cemetery") != ""):
		return &usageError{text: "--out and --cemetery go with --as", hint: "for example: musterstone unmarked --as html --out leads.html"}
	}
	return nil
}

// placeFor refuses a file that has no folder, and one that holds a survey's decisions or metadata.
func placeFor(out string) error {
	dir, name := filepath.Split(filepath.Clean(out))
	if _, err := os.Stat(cmp.Or(dir, ".")); errors.Is(err, fs.ErrNotExist) {
		return &usageError{text: fmt.Sprintf("write %s: there is no folder %s", out, dir), hint: "make it first, or name another"}
	}
	if info, err := os.Stat(out); err == nil && info.IsDir() {
		return &usageError{text: fmt.Sprintf("write %s: it is a folder", out), hint: "name a file in it, for example: " + filepath.Join(out, "leads.html")}
	}
	if name == intake.MetadataFile || name == ledger.FileName {
		return &usageError{text: fmt.Sprintf("write %s: a file of that name is a survey's own", out), hint: "for example: --out leads.html"}
	}
	return nil
}

// putLeads writes the leads in the form asked for, to standard output or, whole or not at all, into a file.
func (a *app) putLeads(c *cli.Context, j *job.Job) error {
	all, err := a.leads(c.Context, j, c.String("cemetery"), c.String("as") != "list" || c.String("out") != "")
	if err != nil {
		return err
	}
	if held := all.heldWords(); held != "" {
		a.note(held)
	}
	var b bytes.Buffer
	switch c.String("as") {
	case "list":
		err = writeList(&b, all)
	case "csv":
		err = writeLeadsCSV(&b, all)
	case "geojson":
		err = writeGeoJSON(&b, all)
	case "html":
		err = a.writeHTML(&b, all)
	}
	if err != nil {
		return err
	}
	if out := c.String("out"); out != "" {
		if err := placeFor(out); err != nil {
			return err
		}
		if err := a.nothingUnread("unmarked", out, j); err != nil {
			return err
		}
		write := func(f *os.File) error {
			_, err := f.Write(b.Bytes())
			return errors.Join(err, f.Chmod(0o644))
		}
		if err := job.Replace(out, write); err != nil {
			return fmt.Errorf("write %s: %w", out, err)
		}
		fmt.Fprintf(a.out, "%s in %s\n", count(len(all.all), "finding", "findings"), plain(out))
		return a.finish(j)
	}
	if err := a.print("the findings", b.String()); err != nil {
		return err
	}
	return a.finish(j)
}

// printFindings prints the findings, likeliest first, with what several of them have to show, and the sources for that, told once at the end.
func printFindings(w *bufio.Writer, all *leads) {
	var findings []model.Finding
	list := all.ranked()
	for i := range list {
		findings = append(findings, list[i].told())
	}
	legend := newLegend(findings)
	var sources numbered
	cite := func(line string) string {
		if n := sources.of(line); n != "" {
			return fmt.Sprintf("%s [%s]", line, n)
		}
		return line
	}
	for i, f := range findings {
		l := &list[i]
		fmt.Fprintf(w, "%s  %s", percent(f.Probability), kindWords(f.Kind))
		if f.Conflict != "" {
			fmt.Fprintf(w, ", %s", vocab.Label("conflict", string(f.Conflict)))
		}
		fmt.Fprintf(w, "\n    %s\n", plain(l.headline()))
		if where := say.Place(l.place); l.subject != nil && where != "" {
			fmt.Fprintf(w, "    %s\n", plain(where))
		}
		for _, r := range f.Reasons {
			if !strings.HasPrefix(r, "but ") {
				r = "because " + r
			}
			fmt.Fprintf(w, "    %s\n", plain(r))
		}
		for _, t := range f.ToShow {
			if !legend.has(t) {
				fmt.Fprintf(w, "    still to be shown: %s\n", plain(cite(t)))
			}
		}
		if n := legend.numbers(f.ToShow); n != "" {
			fmt.Fprintf(w, "    still to be shown: %s\n", n)
		}
	}
	if len(legend.lines) > 0 {
		fmt.Fprintln(w, "\nStill to be shown:")
		for i, t := range legend.lines {
			fmt.Fprintf(w, "  (%d) %s\n", i+1, plain(cite(t)))
		}
	}
	if len(sources.list) > 0 {
		fmt.Fprintln(w, "\nWho says where it is kept:")
		for i, t := range sources.list {
			fmt.Fprintf(w, "  [%d] %s\n", i+1, plain(t))
		}
	}
	fmt.Fprintf(w, "\nThe percentage is how likely a finding is to be so.\n%s.\n%s.\n", unmarked.Summary(findings), say.Capital(sentence(all.total)))
	for _, t := range all.assumptions() {
		fmt.Fprintf(w, "- %s\n", t)
	}
	for _, t := range unmarked.Cautions() {
		fmt.Fprintf(w, "- %s\n", t)
	}
}

// headline is what a lead is about, in a line.
func (l *lead) headline() string {
	switch {
	case l.withheld:
		return l.what() + "  " + withheldName
	case l.subject != nil:
		return l.what() + "  " + say.Reading(l.subject.Reading()) // of the man alone whom it may be of
	case l.record != nil:
		return l.what() + "  " + describe(l.record.Claim)
	}
	return l.what()
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
