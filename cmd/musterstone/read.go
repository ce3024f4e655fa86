package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/index/intake"
	"musterstone/model"
	"musterstone/vocab/inscription"
	"musterstone/vocab/marker/drawing"
)

func (a *app) readCommand() *cli.Command {
	return &cli.Command{
		Name:      "read",
		Usage:     "read stones: what the words say, and what the design implies",
		UsageText: "musterstone read [--survey FOLDER] [--json]\nmusterstone read -                 (one inscription a line from standard input)\nmusterstone read --drawings FOLDER (and draw each stone and its time, as SVG)\nmusterstone read --guide           (how to write down a stone)",
		Description: "Reads every stone of the survey, or, with -, each line of standard input as one inscription, its lines parted by \" / \".\n" +
			"Changes nothing. Drawings are made to be handed on: what columns marked private in the metadata say is in none of them.\n\nExample: echo 'CORPL / JNO. T. HOLDEN / CO. F / 47 ILLS. INF.' | musterstone read -",
		Flags: []cli.Flag{surveyFlag(), jsonFlag(), &cli.StringFlag{Name: "drawings", Usage: "draw each stone as recorded, and the times it speaks of, into `FOLDER`"},
			&cli.BoolFlag{Name: "guide", Usage: "print how to write down a stone, for volunteers"}},
		Action: func(c *cli.Context) error {
			if c.Bool("guide") {
				return a.print("the guide", inscription.Guide())
			}
			if c.Args().Len() == 1 && c.Args().First() == "-" {
				return a.readLines(c.Bool("json"))
			}
			if err := noArguments(c); err != nil {
				return err
			}
			j, err := a.open(c)
			if err != nil {
				return err
			}
			defer j.Close()
			a.noteStones(j)
			if err := j.Read(c.Context); err != nil {
				return err
			}
			subjects := j.Subjects()
			if dir := c.String("drawings"); dir != "" {
				left, err := handOn(c.Context, j, subjects, nil, nil, true)
				if err != nil {
					return err
				}
				drawn := subjects
				if left != nil {
					drawn = left.Subjects
				}
				n, err := draw(dir, drawn)
				if err != nil {
					return err
				}
				a.note(fmt.Sprintf("drawings of %s are in %s", count(n, "stone", "stones"), dir))
				if left != nil {
					a.note("what columns marked private say is held back in the drawings; read itself shows it")
				}
			}
			if err := a.printReadings(subjects, c.Bool("json")); err != nil {
				return err
			}
			return a.finish(j)
		},
	}
}

func (a *app) readLines(asJSON bool) error {
	in := bufio.NewReaderSize(a.in, intake.MostCell)
	w := bufio.NewWriter(a.out)
	defer w.Flush()
	problems, empty := false, true
	for n := 1; ; n++ {
		line, err := in.ReadSlice('\n')
		if errors.Is(err, bufio.ErrBufferFull) {
			a.note(fmt.Sprintf("standard input:%d: the line is longer than %d bytes; no inscription is; it was left out", n, intake.MostCell))
			problems = true
			for errors.Is(err, bufio.ErrBufferFull) {
				_, err = in.ReadSlice('\n')
			}
			line = nil
		}
		if err != nil && err != io.EOF {
			return fmt.Errorf("read standard input: %w", err)
		}
		if text := strings.TrimRight(string(line), "\r\n"); strings.TrimSpace(text) != "" {
			empty = false
			stone := &model.Stone{ID: model.StoneID(fmt.Sprint(n))}
			stone.Marker.Inscription = intake.Inscription(text)
			sub := job.Subject(stone)
			if asJSON {
				l := newReadLine(sub)
				l.Stone = n
				if err := jsonLines(w, []readLine{l}); err != nil {
					return err
				}
			} else {
				printReading(w, sub)
			}
		}
		if err == io.EOF {
			break
		}
	}
	if problems {
		return errProblems
	}
	if empty {
		a.note("standard input is empty; give one inscription a line, its lines parted by \" / \"")
	}
	return nil
}

func (a *app) printReadings(subjects []*model.Subject, asJSON bool) error {
	w := bufio.NewWriter(a.out)
	if asJSON {
		for _, s := range subjects {
			if err := jsonLines(w, []readLine{newReadLine(s)}); err != nil {
				return err
			}
		}
		return w.Flush()
	}
	for _, s := range subjects {
		printReading(w, s)
	}
	return w.Flush()
}

// draw writes two drawings a stone into a folder: NAME.svg, the stone beside its nearest specification, and NAME-time.svg, the times.
// The rows of a register have none. It returns how many stones were drawn.
func draw(dir string, subjects []*model.Subject) (int, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return 0, fmt.Errorf("make the folder for the drawings: %w", err)
	}
	used := map[string]bool{}
	for _, s := range subjects {
		if s.Stone.Register != nil {
			continue
		}
		name := fileName(string(s.Stone.ID))
		for used[name] {
			name += "-"
		}
		used[name] = true
		for ending, svg := range map[string]string{".svg": drawing.Stone(s.Stone, s.Implies), "-time.svg": drawing.Time(s.Stone, s.Reading(), s.Implies)} {
			if err := os.WriteFile(filepath.Join(dir, name+ending), []byte(svg), 0o644); err != nil {
				return len(used), fmt.Errorf("write the drawing of stone %s: %w", s.Stone.ID, err)
			}
		}
	}
	return len(used), nil
}

// fileName makes a stone's ID safe as a file's name: letters, digits, points and hyphens stay.
func fileName(id string) string {
	name := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '.' {
			return r
		}
		return '_'
	}, id)
	return "stone-" + strings.TrimLeft(name, ".")
}
