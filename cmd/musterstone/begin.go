package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/cmd/musterstone/internal/restore"
	"musterstone/index/intake"
)

func (a *app) beginCommand() *cli.Command {
	return &cli.Command{
		Name:      "begin",
		ArgsUsage: "FOLDER",
		Usage:     "make a survey folder around your CSV files: guess the columns, write csv-metadata.json",
		UsageText: "musterstone begin [--from PUBLICATION] FOLDER",
		Description: "Looks at the tables in the folder and writes csv-metadata.json (CSV on the Web, W3C) beside them: what each table is and what its\n" +
			"columns mean, as far as names and cells tell. Your tables are never changed; a metadata file that is there is never overwritten.\n" +
			"Mend the guesses in a text editor, then run check. With --from a publication is made a survey again: its tables, their metadata and its ledger, save what\n" +
			"was held back.\n\n" +
			"What a column means is its \"propertyUrl\", ms: and one of these names. Beside it, \"ms:private\": true keeps it from publication, and \"ms:ditto\": true says that\n" +
			"its ditto marks mean the row above.\n\n" +
			"stones and registers: " + folded(intake.Meanings(false), 22) + "\n\n" +
			"rosters:              " + folded(intake.Meanings(true), 22) + "\n\n" +
			"Example: musterstone begin our-survey",
		Flags: []cli.Flag{&cli.StringFlag{Name: "from", Usage: "make the survey of the publication in `FOLDER`"}},
		Action: func(c *cli.Context) error {
			if c.Args().Len() != 1 {
				return &usageError{text: "begin takes one folder", hint: "for example: musterstone begin alder"}
			}
			dir := c.Args().First()
			if from := c.String("from"); from != "" {
				return a.beginFrom(from, dir)
			}
			path := filepath.Join(dir, intake.MetadataFile)
			if _, err := os.Lstat(path); err == nil {
				return &job.Refused{Text: fmt.Sprintf("begin %s: there is a %s already, and it is never overwritten; move it away to have a new one guessed", dir, intake.MetadataFile)}
			}
			text, notes, err := intake.Guess(dir)
			if err != nil {
				return &job.Refused{Err: err}
			}
			if text == nil {
				for _, n := range notes {
					a.note(n)
				}
				return &job.Refused{Text: fmt.Sprintf("begin %s: no table of stones or of service records is there, and nothing was written; is it the right folder? Save each sheet as CSV into it, named stones…, register… or roster…, and run this again", dir)}
			}
			f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
			if err != nil {
				hint := ""
				if errors.Is(err, fs.ErrPermission) || errors.Is(err, fs.ErrNotExist) {
					hint = "; begin needs a folder that it can write to"
				}
				return &job.Refused{Err: fmt.Errorf("write %s: %w%s", path, err, hint)}
			}
			_, err = f.Write(text)
			if err = errors.Join(err, f.Close()); err != nil {
				os.Remove(path)
				return fmt.Errorf("write %s: %w", path, err)
			}
			for _, n := range append(notes, a.lacking(dir)...) {
				fmt.Fprintln(a.out, plain(n))
			}
			fmt.Fprintf(a.out, "wrote %s\nlook it over (what a column means is its \"propertyUrl\"; one without is only kept), then: musterstone check --survey %s\n", plain(path), plain(dir))
			return nil
		},
	}
}

// folded writes names one after the other, in lines that begin so many blanks from the edge.
func folded(names []string, indent int) string {
	const wide = 150
	var b strings.Builder
	at := indent
	for i, n := range names {
		if i < len(names)-1 {
			n += ","
		}
		if at+1+len(n) > wide {
			b.WriteString("\n" + strings.Repeat(" ", indent-1))
			at = indent
		}
		if i > 0 {
			b.WriteString(" ")
		}
		b.WriteString(n)
		at += 1 + len(n)
	}
	return b.String()
}

// lacking says which kind of table a survey that was just described lacks.
func (a *app) lacking(dir string) (notes []string) {
	j, err := a.openAt(dir)
	if err != nil {
		return nil // check tells it
	}
	defer j.Close()
	rosters := 0
	for _, t := range j.Survey.Tables {
		if t.Kind == intake.Roster {
			rosters++
		}
	}
	const then = "Put it into the folder, move " + intake.MetadataFile + " away and run this again."
	switch {
	case rosters == len(j.Survey.Tables):
		return []string{"There is no table of stones or of a burial register yet. " + then}
	case rosters == 0:
		return []string{"There is no roster of service records yet, and without one no man can be proposed for a stone. " + then}
	}
	return nil
}

// beginFrom makes a survey of a publication.
func (a *app) beginFrom(from, dir string) error {
	n, err := restore.Restore(from, dir)
	if err != nil {
		return &job.Refused{Err: fmt.Errorf("begin: %w", err)}
	}
	fmt.Fprintf(a.out, "wrote %s with %s and %s into %s\nlook it over, then: musterstone check --survey %s\n",
		count(n.Tables, "table", "tables"), count(n.Rows, "row", "rows"), count(n.Decisions, "decision", "decisions"), plain(dir), plain(dir))
	return nil
}
