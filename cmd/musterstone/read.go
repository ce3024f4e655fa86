package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/cmd/musterstone/internal/say"
	"musterstone/index/intake"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/inscription"
	"musterstone/vocab/marker/drawing"
)

func (a *app) readCommand() *cli.Command {
	return &cli.Command{
		Name:      "read",
		Usage:     "read stones: what the words say, and what the design implies",
		UsageText: "musterstone read [--survey FOLDER] [--json]\nmusterstone read -                 (one inscription a line from standard input)\nmusterstone read --drawings OUT    (and draw each stone and its time, as SVG)\nmusterstone read --guide           (how to write down a stone)",
		Description: "Reads every stone of the survey, or, with -, each line of standard input as one inscription, its lines parted by \" / \".\n" +
			"Changes nothing.\n\nExample: echo 'CORPL / JNO. T. HOLDEN / CO. F / 47 ILLS. INF.' | musterstone read -",
		Flags: []cli.Flag{surveyFlag(), jsonFlag(), &cli.StringFlag{Name: "drawings", Usage: "draw each stone as recorded, and the times it speaks of, into `FOLDER`"},
			&cli.BoolFlag{Name: "guide", Usage: "print how to write down a stone, for volunteers"}},
		Action: func(c *cli.Context) error {
			if c.Bool("guide") {
				_, err := fmt.Fprint(a.out, inscription.Guide())
				return err
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
			subjects := j.Subjects()
			if dir := c.String("drawings"); dir != "" {
				n, err := draw(dir, subjects)
				if err != nil {
					return err
				}
				a.note(fmt.Sprintf("drawings of %s are in %s", count(n, "stone", "stones"), dir))
			}
			if err := a.printReadings(subjects, c.Bool("json")); err != nil {
				return err
			}
			return a.finish(j, false)
		},
	}
}

func (a *app) readLines(asJSON bool) error {
	in := bufio.NewReaderSize(a.in, intake.MostCell)
	w := bufio.NewWriter(a.out)
	defer w.Flush()
	problems := false
	for n := 1; ; n++ {
		line, err := in.ReadSlice('\n')
		if errors.Is(err, bufio.ErrBufferFull) {
			fmt.Fprintf(a.err, "musterstone: standard input:%d: the line is longer than %d bytes; no inscription is; it was left out\n", n, intake.MostCell)
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
			stone := &model.Stone{ID: model.StoneID(fmt.Sprint(n))}
			stone.Marker.Inscription = strings.Join(splitLines(text), "\n")
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
	return nil
}

// splitLines parts an inscription at " / ", as the stones table does.
func splitLines(s string) []string {
	lines := strings.Split(s, " / ")
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	return lines
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

// readLine is one stone of `read --json`.
type readLine struct {
	Stone          any                                 `json:"stone"`
	Name           *nameJSON                           `json:"name,omitempty"`
	Rank           model.Rank                          `json:"rank,omitempty"`
	Company        string                              `json:"company,omitempty"`
	Regiment       int                                 `json:"regiment,omitempty"`
	RegimentLost   string                              `json:"regiment_lost,omitempty"`
	State          model.State                         `json:"state,omitempty"`
	StateOf        string                              `json:"state_of,omitempty"`
	Arm            model.Arm                           `json:"arm,omitempty"`
	Body           string                              `json:"body,omitempty"`
	Unit           string                              `json:"unit,omitempty"`
	Branch         model.Branch                        `json:"branch,omitempty"`
	Side           model.Side                          `json:"side,omitempty"`
	Conflicts      []model.ConflictCode                `json:"conflicts,omitempty"`
	Born           string                              `json:"born,omitempty"`
	Died           string                              `json:"died,omitempty"`
	Age            *int                                `json:"age,omitempty"`
	Others         []personJSON                        `json:"others,omitempty"`
	Unknown        bool                                `json:"unknown,omitempty"`
	Grave          string                              `json:"grave,omitempty"`
	Unread         []string                            `json:"unread"`
	Words          []wordJSON                          `json:"words,omitempty"`
	Notes          []string                            `json:"notes,omitempty"`
	Or             []otherReadingJSON                  `json:"or,omitempty"`
	LeftOut        float64                             `json:"left_out,omitempty"`
	Pattern        []model.Weighted[model.PatternCode] `json:"pattern"`
	Implies        impliesJSON                         `json:"implies"`
	Contradictions []string                            `json:"contradictions"`
}

// wordJSON is a stretch of the inscription, in bytes from and to, and the field it gave.
type wordJSON struct {
	Text  string `json:"text"`
	From  int    `json:"from"`
	To    int    `json:"to"`
	Field string `json:"field"`
	Value string `json:"value,omitempty"`
	// Person says of whom it speaks: 0, left out, for the one on top, 1 for the first of others, and so on.
	Person int `json:"person,omitempty"`
}

// otherReadingJSON is a less likely way to read the same words.
type otherReadingJSON struct {
	Probability float64 `json:"probability"`
	Says        string  `json:"says"`
}

type nameJSON struct {
	Surname string   `json:"surname,omitempty"`
	Given   string   `json:"given,omitempty"`
	Middle  string   `json:"middle,omitempty"`
	Suffix  string   `json:"suffix,omitempty"`
	GivenOr []string `json:"given_or,omitempty"`
}

type personJSON struct {
	Name     nameJSON `json:"name"`
	Relation string   `json:"relation,omitempty"`
	Born     string   `json:"born,omitempty"`
	Died     string   `json:"died,omitempty"`
}

type impliesJSON struct {
	Services []model.Weighted[string] `json:"services"`
	From     int                      `json:"from,omitempty"`
	To       int                      `json:"to,omitempty"`
}

func newNameJSON(n model.Name) nameJSON {
	return nameJSON{Surname: n.Surname, Given: n.Given, Middle: n.Middle, Suffix: n.Suffix, GivenOr: n.GivenOr}
}

func newReadLine(s *model.Subject) readLine {
	r := s.Reading()
	c := r.Claim()
	u := c.Service.Unit
	l := readLine{Stone: s.Stone.ID, Rank: c.Service.Rank, Company: u.Company, Regiment: u.Number, RegimentLost: u.NumberLost, Arm: u.Arm, Body: u.Designation(), Unit: u.Name,
		Branch: c.Service.Branch, Side: c.Service.Side, Conflicts: conflicts(s), Born: born(c).String(), Died: c.Person.Died.String(),
		Unknown: r.Unknown, Grave: r.GraveNumber, Unread: orEmpty(r.Unread), Notes: r.Notes, Pattern: s.Implies.Patterns,
		Implies: impliesJSON{Services: s.Implies.Services, From: s.Implies.From, To: s.Implies.To}, Contradictions: []string{}}
	if !c.Person.Name.IsZero() {
		n := newNameJSON(c.Person.Name)
		l.Name = &n
	}
	switch {
	case u.State != "":
		l.State, l.StateOf = u.State, "unit"
	case c.Home != "":
		l.State, l.StateOf = c.Home, "residence"
	}
	if c.Person.Age.Known {
		l.Age = &c.Person.Age.Years
	}
	for _, t := range r.Tokens {
		if t.Field != "" && s.Stone.Register == nil {
			l.Words = append(l.Words, wordJSON{s.Stone.Marker.Inscription[t.From:t.To], t.From, t.To, t.Field, t.Value, t.Person})
		}
	}
	for _, o := range s.Readings[min(1, len(s.Readings)):] {
		l.Or = append(l.Or, otherReadingJSON{rounded(o.Probability), readingWords(o)})
	}
	l.LeftOut = rounded(r.LeftOut)
	for i, o := range r.People {
		if i > 0 {
			l.Others = append(l.Others, personJSON{Name: newNameJSON(o.Person.Name), Relation: o.Person.Relation, Born: o.Person.Born.String(), Died: o.Person.Died.String()})
		}
	}
	for _, x := range s.Implies.Contradictions {
		l.Contradictions = append(l.Contradictions, x.Text)
	}
	return l
}

// born is when a stone's person was born: as cut, or worked out from death and age.
func born(c model.Claim) date.Date {
	if c.Person.Born.IsZero() && c.Person.Age.Known && !c.Person.Died.IsZero() {
		return date.BirthFrom(c.Person.Died, c.Person.Age)
	}
	return c.Person.Born
}

func orEmpty(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// sureOfConflict is how likely the implied conflict must be for a stone that names none to be given it.
const sureOfConflict = 0.8

// conflicts are those that the words name or, where they name none but a service is read, the one that the design surely implies.
func conflicts(s *model.Subject) []model.ConflictCode {
	c := s.Reading().Claim()
	if len(c.Service.Conflicts) > 0 || c.Service.IsZero() {
		return c.Service.Conflicts
	}
	sum := map[string]float64{}
	for _, w := range s.Implies.Services {
		code, _, _ := strings.Cut(w.Code, "/")
		sum[code] += w.Probability
		if code != "none" && sum[code] >= sureOfConflict {
			return []model.ConflictCode{model.ConflictCode(code)}
		}
	}
	return nil
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

// printReading prints one stone for a person.
func printReading(w io.Writer, s *model.Subject) {
	r := s.Reading()
	head := describe(r.Claim())
	switch {
	case r.Unknown:
		head = "unknown dead"
		if r.GraveNumber != "" {
			head += ", grave " + r.GraveNumber
		}
	case len(r.People) == 0:
		head = "names nobody"
	}
	rows := [][]string{{string(s.Stone.ID), head}}
	if words := tokenWords(s.Stone.Marker.Inscription, r.Tokens, 0); words != "" {
		rows = append(rows, []string{"", words})
	}
	for i, o := range r.People {
		if i > 0 {
			line := "also names " + describe(o)
			if o.Person.Relation != "" {
				line += " (" + o.Person.Relation + ")"
			}
			rows = append(rows, []string{"", line})
			if words := tokenWords(s.Stone.Marker.Inscription, r.Tokens, i); words != "" {
				rows = append(rows, []string{"", "  " + words})
			}
		}
	}
	if len(s.Readings) > 1 && len(s.Readings[1].People) > 0 && describe(s.Readings[1].Claim()) != describe(r.Claim()) {
		rows = append(rows, []string{"", fmt.Sprintf("or, %s: %s", percent(s.Readings[1].Probability), describe(s.Readings[1].Claim()))})
	}
	if s.Stone.Register == nil {
		rows = append(rows, []string{"", designWords(s.Implies)})
	}
	for _, x := range s.Implies.Contradictions {
		rows = append(rows, []string{"", "does not fit: " + x.Text})
	}
	for _, n := range r.Notes {
		rows = append(rows, []string{"", "note: " + n})
	}
	if len(r.Unread) > 0 {
		rows = append(rows, []string{"", "not understood: " + strings.Join(r.Unread, " | ")})
	}
	if s.Implies.Next != "" && s.Stone.Register == nil {
		rows = append(rows, []string{"", "to tell more: " + s.Implies.Next})
	}
	columns(w, "", rows)
}

// rounded is a probability to four places.
func rounded(p float64) float64 { return math.Round(p*1e4) / 1e4 }

// readingWords says what a reading makes of the whole stone.
func readingWords(r model.Reading) string {
	var people []string
	for _, p := range r.People {
		people = append(people, describe(p))
	}
	switch {
	case len(people) > 0:
		return strings.Join(people, " | ")
	case r.Unknown:
		return "unknown dead"
	}
	return "names nobody"
}

// tokenWords says which words of an inscription gave what of a person: "CORPL rank · JNO given · HOLDEN surname".
func tokenWords(text string, tokens []model.Token, person int) string {
	var parts []string
	for _, t := range tokens {
		if t.Person != person {
			continue
		}
		switch t.Field {
		case "", "unread", "label", "link": // nothing, told elsewhere, or words that only hold the others together
			continue
		case "commonplace":
			t.Field = "left out"
		}
		word := strings.Trim(oneLine(text[t.From:t.To]), " .,")
		parts = append(parts, word+" "+strings.ReplaceAll(t.Field, "-", " "))
	}
	return strings.Join(parts, " · ")
}

// designWords says which patterns a stone may be and what they imply.
func designWords(m model.Implication) string {
	var patterns []string
	for i, p := range m.Patterns {
		if i == 2 || i > 0 && p.Probability < 0.1 {
			break
		}
		patterns = append(patterns, fmt.Sprintf("%s (%s)", vocab.Label("pattern", string(p.Code)), percent(p.Probability)))
	}
	text := "design: " + strings.Join(patterns, " or ")
	var services []string
	for i, v := range m.Services {
		if i == 2 || v.Probability < 0.1 {
			break
		}
		services = append(services, fmt.Sprintf("%s (%s)", serviceWords(v.Code), percent(v.Probability)))
	}
	if len(services) > 0 {
		text += "; implies " + strings.Join(services, " or ")
	}
	switch {
	case m.From != 0 && m.To != 0:
		text += fmt.Sprintf("; made %d to %d", m.From, m.To)
	case m.From != 0:
		text += fmt.Sprintf("; made in or after %d", m.From)
	case m.To != 0:
		text += fmt.Sprintf("; made in or before %d", m.To)
	}
	return text
}

// serviceWords puts a code such as "civil-war/union" in words.
func serviceWords(code string) string { return say.Service(code) }
