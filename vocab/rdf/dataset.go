package rdf

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"slices"
	"time"

	"musterstone/model"
)

// Dataset is what is to be published. The sequences are ranged over once, Records first, and once before that where something is private.
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
	// Decisions are those of the ledger, none, unsure and notes among them.
	Decisions []model.Decision
	// Stands has the ids of the decisions that speak today; where it is nil, those that no other supersedes or sets aside do.
	Stands map[string]bool
	// Astray has the ids of decisions whose record's id is another man's today; they link nothing.
	Astray   map[string]bool
	Findings []model.Finding

	// Tables are the survey's tables, as far as known: they give the columns their order and meaning.
	Tables []Table
	// Metadata describes the tables for whoever makes a survey of the publication again (CSV on the Web, JSON); nil leaves it out.
	Metadata []byte
	// Previous is the folder of the publication that this one takes the place of; "" takes what is in its own folder.
	Previous string
	// JSONLD asks for the data as JSON-LD too.
	JSONLD bool
	// After, where set, is called when all is written and before it takes the place of an earlier publication: what it adds to the folder goes with it.
	After func(folder string) error
	// Also names the files that After adds and that a publication does not have of itself. A folder is replaced only where it has all of them, and no others.
	Also []string
	// PartTriples is how many triples a file of Turtle holds at most before the data are parted; 0 for DefaultPartTriples.
	PartTriples int
	// Tell, where set, hears of each thing that is held back.
	Tell func(HeldItem)

	// Of is the dataset that this one is cut out of, whose private ids are as private where a row of the part repeats one; nil where it is whole.
	Of *Dataset
	// Private names the columns that must not leave, in any letter case.
	Private []string
	// IDKey gives the key under which numbers are made that stand for private ids. It is asked for only where there are such, and must give the same for everything that is published of a survey; nil takes a
	// key that this run alone has.
	IDKey func() ([]byte, error)
	// NameRecorders is set where those who recorded stones agreed to be named. Who decided is always named: a decision without its maker is worth
	// nothing.
	NameRecorders bool
	// PublishNotes is set where the notes that reviewers made may be published; else they are held back.
	PublishNotes bool
}

// DefaultPartTriples is how many triples go into one file of Turtle, at about 50 bytes each.
const DefaultPartTriples = 5_000_000

// Table is one table of the survey.
type Table struct {
	File    string
	Columns []TableColumn
	// Private are the IRIs of what is read from no column of the file and must stay at home: the values that the metadata alone give, or make of private columns.
	Private []string
	// Given is, by the IRI of what it is read as, what the metadata give to every row where no cell does, and may go out.
	Given map[string]string
	// OpenID, where set, reports whether an id of the table was made, as its metadata say, of columns none of which is private.
	OpenID func(id string) bool
}

// TableColumn is a column: its name in the file, and the IRI of what it is read as, "" where it is only kept.
type TableColumn struct{ Name, Term string }

// HeldItem is one thing that is held back.
type HeldItem struct {
	What string `json:"what"`
	ID   string `json:"id"`
	Why  Held   `json:"why"`
}

// Summary is what Publish did.
type Summary struct {
	Triples int `json:"triples"` // in the dataset file, each once
	// Stones and Records are those read; those held back are among them.
	Stones  int `json:"stones"`
	Records int `json:"records"`
	Links   int `json:"links"`
	Persons int `json:"persons"`
	// Proposed is how many triples say what the program proposes and finds; they are in files of their own.
	Proposed int `json:"proposed"`
	// Classes counts the things of each class, by the class's name in the vocabulary.
	Classes map[string]int `json:"classes,omitempty"`
	Changes *Changes       `json:"changes,omitempty"`

	Held              []HeldCount `json:"held,omitempty"`               // sorted
	PrivateCells      int         `json:"private_cells,omitempty"`      // cells of private columns, left out
	WithheldIDs       int         `json:"withheld_ids,omitempty"`       // ids that private columns tell, for which numbers stand
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
	base, err := CheckBase(d.Base)
	if err != nil {
		return nil, err
	}
	year := d.Year
	if year == 0 && !d.Generated.IsZero() {
		year = d.Generated.UTC().Year()
	}
	if year == 0 {
		return nil, fmt.Errorf("the year is not given against which it is judged who may be living; give it, or the day on which the data were made")
	}
	m := &mapper{
		graph: newGraph(dir), guard: newGuard(d), data: d, year: year, sum: sum,
		seen: map[string]string{}, columns: map[columnKey]IRI{}, concepts: map[codeKey]IRI{}, units: map[unitKey]IRI{}, sources: map[string]IRI{}, decided: map[string]bool{},
		ids: map[shortKey]fate{}, stones: map[model.StoneID]stoneSeen{},
		matches: map[stonePair]IRI{}, further: map[stonePair]int{}, names: map[model.RecordID]string{}, grounds: map[string]bool{}, heldBack: map[string]bool{},
		opinion: NewSorter(dir, 0),
	}
	m.opinion.preds = m.sort.preds // a term has one number, whichever of them takes it
	m.graph.base = base
	for _, x := range d.Decisions {
		if x.As == model.Confirmed {
			m.names[x.Record] = ""
		}
	}
	if err := m.all(); err != nil {
		return nil, errors.Join(err, m.Close())
	}
	sum.DroppedCharacters, sum.WithheldIDs = m.dropped, len(m.withheld.told)
	return m, nil
}

func (m *mapper) all() error {
	if err := m.meetIDs(); err != nil {
		return err
	}
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
	if err := m.opinions(); err != nil {
		return err
	}
	if err := m.decisions(m.data.Decisions); err != nil {
		return err
	}
	return m.err
}

// opinions says what the program proposes and finds, into a sorter of its own: nobody who takes the data must take it too.
func (m *mapper) opinions() error {
	m.sort, m.opinion = m.opinion, m.sort
	defer func() { m.sort, m.opinion = m.opinion, m.sort }()
	for _, p := range m.data.Proposals {
		if err := m.proposal(m.openProposal(p)); err != nil {
			return err
		}
	}
	m.meetConfirmed()
	for _, f := range m.data.Findings {
		if err := m.finding(m.openFinding(f)); err != nil {
			return err
		}
	}
	return m.err
}

// Close removes the temporary files.
func (m *mapper) Close() error { return errors.Join(m.sort.Close(), m.opinion.Close()) }
