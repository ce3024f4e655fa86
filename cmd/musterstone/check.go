package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/index"
	"musterstone/index/intake"
	"musterstone/model"
)

func (a *app) checkCommand() *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "check every table, the metadata and the ledger; tell every problem with file, row and column",
		UsageText: "musterstone check [--survey FOLDER] [--json]",
		Description: "Reads everything and changes none of your files. Rows are counted as a spreadsheet counts them: the header is row 1.\n" +
			"Of what can always be made again, the index and what is kept beside it, it removes what a disk or a run that was killed has damaged, and says so.\n" +
			"Publications that are still where they were written are held to their digests.\n" +
			"Ends with status 0 where all is well, 3 where something was found, 2 where a file cannot be used at all.\n\nExample: musterstone check --survey alder",
		Flags: []cli.Flag{surveyFlag(), jsonFlag()},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			j, err := a.open(c)
			var faults *intake.Faults
			if errors.As(err, &faults) {
				if err := a.printComplaints(c, faults.Complaints); err != nil {
					return err
				}
				return status(faults.Complaints, true)
			}
			if err != nil {
				return err
			}
			defer j.Close()
			tallies := j.Check()
			if err := j.CheckLedger(); err != nil {
				return err
			}
			derived, err := j.MendIndex(c.Context)
			if err != nil {
				return err
			}
			derived = append(derived, j.MendKept()...)
			publications := j.CheckPublications()
			j.CheckIDKey()
			for _, note := range j.CheckFolder() {
				a.note(note)
			}
			for _, d := range derived {
				if !d.Whole {
					a.note(mendText(d))
				}
			}
			complaints := j.Complaints()
			if c.Bool("json") {
				for _, s := range j.Survey.Aside {
					a.note(s.File + " was passed over: " + s.Why)
				}
			}
			if err := a.printComplaints(c, complaints); err != nil || c.Bool("json") {
				return errors.Join(err, status(complaints, true))
			}
			rows := [][]string{}
			for _, t := range tallies {
				left := ""
				if t.LeftOut > 0 {
					left = fmt.Sprintf("%d left out", t.LeftOut)
				}
				rows = append(rows, []string{t.File, string(t.Kind), count(t.Rows, "row", "rows"), left})
			}
			if len(complaints) > 0 {
				fmt.Fprintln(a.out)
			}
			columns(a.out, "", rows)
			l, err := j.Ledger()
			if err != nil {
				return err
			}
			for _, s := range j.Survey.Aside {
				fmt.Fprintf(a.out, "%s was passed over: %s\n", plain(s.File), s.Why)
			}
			if text := photographs(j.Survey.Dir, j.Stones()); text != "" {
				fmt.Fprintln(a.out, plain(text))
			}
			if text := wholeText(derived); text != "" {
				fmt.Fprintln(a.out, text)
			}
			for _, dir := range publications {
				fmt.Fprintf(a.out, "published in %s, as its digests say\n", plain(dir))
			}
			fmt.Fprintf(a.out, "%s in the ledger; %s found\n", count(len(l.Decisions()), "decision", "decisions"), count(len(complaints), "problem", "problems"))
			return status(complaints, true)
		},
	}
}

// photographs says how many photographs the stones name and how many of these are not in the survey folder; "" where all are. Addresses on the web are none that could be.
func photographs(dir string, stones []*model.Stone) string {
	folder, err := os.OpenRoot(dir)
	if err != nil {
		return "" // what is wrong with the folder is told elsewhere
	}
	defer folder.Close()
	named, missing := 0, 0
	var first *model.Stone
	for _, s := range stones {
		if s.Photo == "" || strings.Contains(s.Photo, "://") {
			continue
		}
		named++
		if info, err := folder.Stat(s.Photo); err != nil || !info.Mode().IsRegular() {
			if missing++; first == nil {
				first = s
			}
		}
	}
	if missing == 0 {
		return ""
	}
	return fmt.Sprintf("%d of the %s that stones name %s not in the folder: that of stone %s, %q, for one; the desk shows those that lie there under that name", missing, count(named, "photograph", "photographs"), isAre(missing), first.ID, first.Photo)
}

// mendText says what check did about a derived thing that is not whole.
func mendText(d index.Derived) string {
	done := "left as it is"
	if d.Mended {
		done = "removed, and made again when it is next needed"
	}
	return fmt.Sprintf("%s/%s: %s; %s", index.DerivedFolder, d.Name, d.State, done)
}

// wholeText says that what is derived is whole; "" where nothing is.
func wholeText(derived []index.Derived) string {
	whole, old, words := false, false, false
	for _, d := range derived {
		whole, old, words = whole || d.Whole, old || d.Old && !d.Words, words || d.Old && d.Words
	}
	switch {
	case !whole:
		return ""
	case old:
		return "the index in " + index.DerivedFolder + " is whole, but of earlier rosters or of another program; the next run makes it anew"
	case words:
		return "the index in " + index.DerivedFolder + " is whole; that of words is of earlier stones or rosters, and is made anew when words are next looked for"
	}
	return "the index in " + index.DerivedFolder + " and what is kept beside it are whole; they can always be made again"
}

// printComplaints prints what was found, which here is the result.
func (a *app) printComplaints(c *cli.Context, complaints []model.Complaint) error {
	if c.Bool("json") {
		lines := make([]complaintJSON, len(complaints))
		for i, p := range complaints {
			lines[i] = complaintJSON{File: p.File, Row: p.Row, Column: p.Column, Text: p.Text, Hint: p.Hint, LeftOut: p.Fatal}
		}
		return jsonLines(a.out, lines)
	}
	for _, p := range complaints {
		fmt.Fprintln(a.out, plain(p.Error()))
	}
	return nil
}

// complaintJSON is one line of `check --json`.
type complaintJSON struct {
	File    string `json:"file"`
	Row     int    `json:"row,omitempty"`
	Column  string `json:"column,omitempty"`
	Text    string `json:"text"`
	Hint    string `json:"hint,omitempty"`
	LeftOut bool   `json:"left_out"`
}
