package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

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
			"was held back.\n\nExample: musterstone begin our-survey",
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
			for _, n := range notes {
				fmt.Fprintln(a.out, plain(n))
			}
			fmt.Fprintf(a.out, "wrote %s\nlook it over, then: musterstone check --survey %s\n", plain(path), plain(dir))
			return nil
		},
	}
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
