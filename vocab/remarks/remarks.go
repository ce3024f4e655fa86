// Package remarks tells what a roster's remarks say of a man beside his row: that he had another name, that he came to another unit. What the words mean package name and package
// unit know; here it is read once for all records with the same remarks. Deaths in remarks are no part of it: the reading of rosters looks for these.
package remarks

import (
	"strings"
	"sync"

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

// A Memory remembers what remarks tell. A million records have a thousand to fifty thousand different ones, and reading one with a unit takes as long as packing twenty records. The zero
// Memory is empty; it is for one goroutine.
type Memory struct {
	told  map[string]*Told
	units unit.RemarksReader
}

func (m *Memory) read(text string) *Told {
	return &Told{Name: name.OtherIn(text), Units: m.units.Read(text)}
}

const (
	// most is how many different remarks are remembered: after that all are forgotten.
	most = 1 << 15
	// longest is how many bytes are remembered of: longer remarks hardly come twice.
	longest = 200
)

// nothing is what most remarks tell.
var nothing = new(Told)

// Read is the function Read. What it gives is not to be changed.
func (m *Memory) Read(text string) *Told {
	if !mayTell(text) {
		return nothing
	}
	if t, ok := m.told[text]; ok {
		return t
	}
	if len(text) > longest {
		return m.read(text)
	}
	if m.told == nil || len(m.told) >= most {
		m.told = make(map[string]*Told)
	}
	text = strings.Clone(text) // what is told holds parts of it
	t := m.read(text)
	if t.IsZero() {
		t = nothing
	}
	m.told[text] = t
	return t
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
