package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/link/ledger"
	"musterstone/model"
)

func (a *app) mergeCommand() *cli.Command {
	return &cli.Command{
		Name:      "merge",
		ArgsUsage: "FILE",
		Usage:     "put together the decisions of ledgers that people kept apart",
		UsageText: "musterstone merge A B [C …]                 (prints the merged ledger)\nmusterstone merge --into FOLDER A [B …]     (adds the decisions of A, B, … to those of FOLDER)",
		Description: "Each of A and B is a survey folder or its decisions.jsonl. Every line of each is kept as it stands, once; the order in which the\n" +
			"ledgers are named, and how often they are merged, makes no difference. Where one confirmed what another refused both decisions stand\n" +
			"and the stone is disputed; it is named, and so is a stone for which several records are confirmed. With --into, other programs may be at work on that ledger meanwhile.\n\n" +
			"Example: musterstone merge --into alder ann/decisions.jsonl bob/decisions.jsonl",
		Flags: []cli.Flag{&cli.StringFlag{Name: "into", Usage: "the survey `FOLDER`, or its decisions.jsonl, that takes in the others"}},
		Action: func(c *cli.Context) error {
			into := c.String("into")
			least := 2
			if into != "" {
				least = 1
			}
			if c.NArg() < least {
				return &usageError{text: "merge needs the ledgers to put together", hint: "for example: musterstone merge --into alder ann/decisions.jsonl"}
			}
			var paths []string
			for _, arg := range c.Args().Slice() {
				p := ledgerAt(arg)
				if _, err := os.Stat(p); err != nil {
					return &usageError{text: fmt.Sprintf("there is no ledger at %s", arg), hint: "name a survey folder, or a decisions.jsonl"}
				}
				paths = append(paths, p)
			}
			if into == "" {
				return a.printMerged(paths)
			}
			return a.mergeInto(ledgerAt(into), paths)
		},
	}
}

// ledgerAt is the ledger that a path names: itself, or the one in a folder.
func ledgerAt(path string) string {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return filepath.Join(path, ledger.FileName)
	}
	return path
}

func (a *app) printMerged(paths []string) error {
	var all [][]byte
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			return fmt.Errorf("read ledger %s: %w", p, err)
		}
		all = append(all, data)
	}
	merged := ledger.Merge(all...)
	if _, err := a.out.Write(merged); err != nil {
		return fmt.Errorf("print the merged ledger: %w", err)
	}
	return a.tellLedger(ledger.Replay(ledger.FileName, merged), len(paths))
}

func (a *app) mergeInto(path string, others []string) error {
	if _, err := os.Stat(filepath.Dir(path)); errors.Is(err, fs.ErrNotExist) {
		return &usageError{text: fmt.Sprintf("there is no folder %s", filepath.Dir(path)), hint: "name a survey folder"}
	}
	l, err := ledger.Open(path)
	if err != nil {
		return err
	}
	if note := job.ShareNote(filepath.Dir(path)); note != "" {
		a.note(note)
	}
	before := len(l.Entries())
	if err := l.MergeInto(others...); err != nil {
		return err
	}
	fmt.Fprintf(a.out, "%s: %s before, %d now\n", plain(path), count(before, "decision", "decisions"), len(l.Entries()))
	data, err := os.ReadFile(path)
	if err != nil {
		return fmt.Errorf("read ledger %s: %w", path, err)
	}
	return a.tellLedger(ledger.Replay(ledger.FileName, data), len(others)+1)
}

// tellDifferences tells on which stones people disagree, and which have more than one record confirmed, with who holds what.
func (a *app) tellDifferences(state ledger.State) {
	var stones []model.StoneID
	for _, p := range state.Pairs() {
		if !slices.Contains(stones, p.Stone) && (state.DisputedStone(p.Stone) || len(state.Confirmed(p.Stone)) > 1) {
			stones = append(stones, p.Stone)
		}
	}
	for i, stone := range stones {
		if i == mostTold {
			a.note(fmt.Sprintf("and %d more such stones", len(stones)-mostTold))
			return
		}
		var voices []string
		for _, d := range state.Voices(stone) {
			text := d.By + ": " + string(d.As)
			if d.Record != "" {
				text += " " + string(d.Record)
			}
			voices = append(voices, text)
		}
		how := "is disputed"
		if !state.DisputedStone(stone) {
			how = fmt.Sprintf("has %d confirmed records", len(state.Confirmed(stone)))
		}
		a.note(fmt.Sprintf("stone %s %s (%s)", stone, how, strings.Join(voices, "; ")))
	}
}

// tellLedger tells what a merged ledger comes to, and what is wrong with it.
func (a *app) tellLedger(g *ledger.Log, n int) error {
	state := ledger.StateOf(func(yield func(model.Decision) bool) {
		for _, e := range g.Entries {
			if !yield(e.Decision) {
				return
			}
		}
	})
	a.note(fmt.Sprintf("%s of %s: %d confirmed, %d refused, %d disputed", count(len(g.Entries), "decision", "decisions"), count(n, "ledger", "ledgers"),
		state.Count(ledger.Confirmed), state.Count(ledger.Refused), state.Count(ledger.Disputed)))
	a.tellDifferences(state)
	for _, c := range g.Complaints {
		a.note(c.Error())
	}
	if len(g.Complaints) > 0 {
		return errProblems
	}
	return nil
}
