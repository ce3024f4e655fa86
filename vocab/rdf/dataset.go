package rdf

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
	"strings"
	"time"

	"musterstone/model"
)

// Dataset is what is to be published. The sequences are ranged over once, Records first.
type Dataset struct {
	// Base is the absolute IRI under which the data's own names stand, ending in a slash.
	Base                      string
	Title, Licence, Publisher string
	// Generated is when the data were made; the zero time leaves it out.
	Generated time.Time
	// Year is the year against which it is judged who may be living; 0 takes Generated's.
	Year int
	// Program is the name and version of what made it.
	Program string
	// Inputs has each file of the survey with the SHA-256 of its bytes, in hexadecimal.
	Inputs map[string]string

	Subjects  iter.Seq[*model.Subject]
	Records   iter.Seq[*model.Record]
	Proposals []model.Proposal
	Decisions []model.Decision
	Findings  []model.Finding

	// Private names the columns that must not leave, in any letter case.
	Private []string
	// NameRecorders is set where those who recorded stones agreed to be named. Who decided is always named: a decision without its maker is worth
	// nothing.
	NameRecorders bool
}

// Summary is what Publish did.
type Summary struct {
	Triples int `json:"triples"` // in the dataset file, each once
	// Stones and Records are those read; those held back are among them.
	Stones  int `json:"stones"`
	Records int `json:"records"`
	Links   int `json:"links"`
	Persons int `json:"persons"`

	Held              []HeldCount `json:"held,omitempty"`               // sorted
	PrivateCells      int         `json:"private_cells,omitempty"`      // cells of private columns, left out
	Recorders         int         `json:"recorders,omitempty"`          // stones whose recorder is not named
	Orphans           int         `json:"orphans,omitempty"`            // decisions about stones or records that the survey no longer has
	DroppedCharacters int         `json:"dropped_characters,omitempty"` // taken out of texts, because no RDF reader must meet them
	Digest            string      `json:"digest"`                       // SHA-256 of dataset.nt, in hexadecimal
	Files             []string    `json:"files"`                        // sorted
	Notes             []string    `json:"notes,omitempty"`              // sentences for the person who publishes
}

// HeldCount says how many of what were held back, and why.
type HeldCount struct {
	What string `json:"what"`
	Why  Held   `json:"why"`
	N    int    `json:"n"`
}

func (s *Summary) hold(what string, why Held) {
	for i := range s.Held {
		if h := &s.Held[i]; h.What == what && h.Why == why {
			h.N++
			return
		}
	}
	s.Held = append(s.Held, HeldCount{what, why, 1})
	slices.SortFunc(s.Held, func(a, b HeldCount) int { return cmp.Or(cmp.Compare(a.What, b.What), cmp.Compare(a.Why, b.Why)) })
}

// build makes the triples of the dataset.
func build(d *Dataset, dir string, sum *Summary) (*mapper, error) {
	base, err := checkBase(d.Base)
	if err != nil {
		return nil, err
	}
	year := d.Year
	if year == 0 && !d.Generated.IsZero() {
		year = d.Generated.UTC().Year()
	}
	if year == 0 {
		return nil, fmt.Errorf("the year is not given against which it is judged who may be living")
	}
	m := &mapper{
		graph: newGraph(dir), data: d, base: base, year: year, sum: sum,
		private: map[string]bool{}, seen: map[string]string{}, columns: map[string]IRI{}, decided: map[string]bool{},
		ids: map[shortKey]bool{}, stones: map[model.StoneID]stoneSeen{},
		matches: map[[2]string]IRI{}, names: map[model.RecordID]string{},
	}
	for _, c := range d.Private {
		m.private[strings.ToLower(c)] = true
	}
	for _, x := range d.Decisions {
		if x.As == model.Confirmed {
			m.names[x.Record] = ""
		}
	}
	if err := m.all(); err != nil {
		m.sort.Close()
		return nil, err
	}
	sum.DroppedCharacters = m.dropped
	return m, nil
}

func (m *mapper) all() error {
	m.activity()
	if m.data.Records != nil {
		for r := range m.data.Records {
			if err := m.record(r); err != nil {
				return err
			}
		}
	}
	if m.data.Subjects != nil {
		for s := range m.data.Subjects {
			if err := m.stone(s); err != nil {
				return err
			}
		}
	}
	for _, p := range m.data.Proposals {
		if err := m.proposal(p); err != nil {
			return err
		}
	}
	if err := m.decisions(m.data.Decisions); err != nil {
		return err
	}
	for _, f := range m.data.Findings {
		if err := m.finding(f); err != nil {
			return err
		}
	}
	return m.err
}
