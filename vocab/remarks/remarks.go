// Package remarks tells what a roster's remarks say of a man beside his row: that he had another name, that he came to another unit. What the words mean package name and package
// unit know; here both are asked, and what they say is remembered. Deaths in remarks are no part of it: the reading of rosters looks for these.
package remarks

import (
	"slices"
	"strings"
	"sync"

	"musterstone/model/same"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// Told is what remarks tell; the zero value where they tell nothing of this.
type Told struct {
	Name  name.Other
	Units unit.Remarks
}

// IsZero reports whether nothing is told.
func (t *Told) IsZero() bool { return t.Name.IsZero() && t.Units == nil }

// Read finds what remarks tell.
func Read(text string) *Told { return new(Memory).read(text) }

// Beside is what is told of a man whose name tells another one, see [model.Name], and whose unit's cell others, see [model.Unit], beside his remarks.
func Beside(otherName, otherUnits, text string) string {
	if otherName == "" && otherUnits == "" {
		return text
	}
	var told []string
	for _, s := range [...]string{otherName, otherUnits, text} {
		if s != "" {
			told = append(told, s)
		}
	}
	return strings.Join(told, "; ")
}

// A Memory remembers what remarks tell: a million records have a thousand to fifty thousand different ones, mostly by their dates. The zero Memory is empty; it is for one goroutine.
type Memory struct {
	told  map[string]*Told
	units unit.RemarksReader
	last  Told
	rows  []*Told // room for what Rows gives
	own   []Told
}

const (
	// most is how many different remarks are remembered, the first that come; where there are more, they are of many dates, and the units in them are remembered.
	most = 1 << 12
	// longest is how many bytes are remembered of: longer remarks hardly come twice.
	longest = 200
)

// nothing is what most remarks tell.
var nothing = new(Told)

// Read is the function Read. What it gives is not to be changed, and good until the next is read.
func (m *Memory) Read(text string) *Told {
	if !mayTell(text) {
		return nothing
	}
	if t, ok := m.told[text]; ok {
		return t
	}
	if len(m.told) >= most || len(text) > longest {
		return m.read(text)
	}
	if m.told == nil {
		m.told = make(map[string]*Told)
	}
	text = strings.Clone(text) // what is told holds parts of it
	t := *m.read(text)
	m.told[text] = &t
	return &t
}

// Rows is what the remarks of each of the batch's rows tell, and what is told Beside them. It is not to be changed, and good until the Memory is asked again.
func (m *Memory) Rows(b *same.Batch) []*Told {
	m.rows, m.own = m.rows[:0], slices.Grow(m.own[:0], len(b.Rows))
	for _, r := range b.Rows {
		t := m.Read(Beside(b.Values.Names[r.Name].Other, b.Values.Units[r.Unit].Other, b.Text(r, same.Remarks)))
		if t == &m.last {
			m.own = append(m.own, m.last)
			t = &m.own[len(m.own)-1]
		}
		m.rows = append(m.rows, t)
	}
	return m.rows
}

func (m *Memory) read(text string) *Told {
	m.last = Told{Name: name.OtherIn(text), Units: m.units.Read(text)}
	return &m.last
}

// heads has, for the first two letters of a word with which something begins that package name or package unit looks for in remarks, a bit for the third.
var heads = sync.OnceValue(func() *[32][32]uint32 {
	var heads [32][32]uint32
	for table, column := range map[string]string{"other-name-words": "form", "other-unit-words": "word"} {
		for _, r := range vocab.Rows(table) {
			w := r.Get(column)
			heads[w[0]&31][w[1]&31] |= 1 << (w[2] & 31)
		}
	}
	return &heads
})

// mayTell reports whether a word begins like one that is looked for: of most remarks none does.
func mayTell(text string) bool {
	heads, begins := heads(), true
	for i := 0; i+2 < len(text); i++ {
		c := text[i] | 0x20
		letter := 'a' <= c && c <= 'z'
		if letter && begins && heads[c&31][text[i+1]&31]>>(text[i+2]&31)&1 != 0 {
			return true
		}
		begins = !letter
	}
	return false
}
