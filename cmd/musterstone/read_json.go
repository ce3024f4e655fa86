package main

import (
	"math"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
)

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

// rounded is a probability to four places.
func rounded(p float64) float64 { return math.Round(p*1e4) / 1e4 }
