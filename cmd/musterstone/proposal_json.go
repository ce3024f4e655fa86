package main

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"musterstone/model"
)

// A jsonWriter appends values to b; err is the first one that JSON cannot say.
type jsonWriter struct {
	b   []byte
	err error
	// Numbers written lately, by a part of their bits: of the evidence of a stone's candidates most have been.
	lately [1 << latelyBits]struct {
		bits uint64
		n    uint8
		text [24]byte
	}
	// What evidence of a field and a level begins with, written lately: a proposal's is of a few dozen of these.
	heads [1 << headBits]struct {
		field, level string
		text         []byte
	}
}

const latelyBits, headBits = 9, 9

// proposal appends a proposal as encoding/json would print it, without the escapes for HTML, and an end of line. A whole run prints the evidence of ten candidates a stone, line by
// line; following the types by reflection took as long as weighing them.
func (w *jsonWriter) proposal(p *model.Proposal) error {
	w.b = append(w.b, `{"stone":`...)
	w.text(string(p.Stone))
	w.b = append(w.b, `,"none":`...)
	w.number(p.None)
	w.b = append(w.b, `,"candidates":`...)
	list(w, p.Candidates, (*jsonWriter).candidate)
	if len(p.Notes) > 0 {
		w.b = append(w.b, `,"notes":`...)
		list(w, p.Notes, (*jsonWriter).sentence)
	}
	if r := p.RunnerUp; r != nil {
		w.b = append(w.b, `,"runner_up":{"record":`...)
		w.text(string(r.Record))
		w.b = append(w.b, `,"behind":`...)
		w.number(r.Behind)
		w.b = append(w.b, `,"by":`...)
		list(w, r.By, (*jsonWriter).difference)
		w.b = append(w.b, '}')
	}
	if len(p.WouldChange) > 0 {
		w.b = append(w.b, `,"would_change":`...)
		list(w, p.WouldChange, (*jsonWriter).sentence)
	}
	w.b = append(w.b, '}', '\n')
	if w.err != nil {
		return fmt.Errorf("write the proposal for stone %s as JSON: %w", p.Stone, w.err)
	}
	return nil
}

// list is null for a nil list, as encoding/json has it.
func list[T any](w *jsonWriter, values []T, each func(*jsonWriter, *T)) {
	if values == nil {
		w.b = append(w.b, "null"...)
		return
	}
	w.b = append(w.b, '[')
	for i := range values {
		if i > 0 {
			w.b = append(w.b, ',')
		}
		each(w, &values[i])
	}
	w.b = append(w.b, ']')
}

func (w *jsonWriter) sentence(s *string) { w.text(*s) }

func (w *jsonWriter) candidate(c *model.Candidate) {
	w.b = append(w.b, `{"record":`...)
	w.text(string(c.Record))
	w.b = append(w.b, `,"probability":`...)
	w.number(c.Probability)
	w.b = append(w.b, `,"bits":`...)
	w.number(c.Bits)
	w.b = append(w.b, `,"proposed":`...)
	w.b = strconv.AppendBool(w.b, c.Proposed)
	w.optional(`,"decided":`, c.Decided)
	if c.Second {
		w.b = append(w.b, `,"second":true`...)
	}
	w.optional(`,"same_as":`, string(c.SameAs))
	if c.Person > 0 {
		w.b = append(w.b, `,"person":`...)
		w.b = strconv.AppendInt(w.b, int64(c.Person), 10)
	}
	w.b = append(w.b, `,"evidence":`...)
	list(w, c.Evidence, (*jsonWriter).evidence)
	if n := c.Namesakes; n != nil {
		w.b = append(w.b, `,"namesakes":{"name":`...)
		w.text(n.Name)
		w.b = append(w.b, `,"men":`...)
		w.b = strconv.AppendInt(w.b, int64(n.Men), 10)
		w.optional(`,"company":`, n.Company)
		if n.InCompany != 0 {
			w.b = append(w.b, `,"in_company":`...)
			w.b = strconv.AppendInt(w.b, int64(n.InCompany), 10)
		}
		w.b = append(w.b, '}')
	}
	w.b = append(w.b, '}')
}

func (w *jsonWriter) evidence(e *model.Evidence) {
	at := &w.heads[headKey(e.Field, e.Level)]
	if at.field != e.Field || at.level != e.Level || at.text == nil {
		from := len(w.b)
		w.head(e)
		at.field, at.level, at.text = e.Field, e.Level, append(at.text[:0], w.b[from:]...)
	} else {
		w.b = append(w.b, at.text...)
	}
	w.values(e)
}

// headKey tells the fields and levels that there are from most others.
func headKey(field, level string) int {
	if field == "" || level == "" {
		return 0
	}
	x := uint32(len(field)) + uint32(field[0])<<4 + uint32(len(level))<<11 + uint32(level[0])<<16 + uint32(level[len(level)/2])<<23 + 131*uint32(level[len(level)-1])
	return int(x * 0x85ebca6b >> (32 - headBits))
}

// difference is evidence of a level that hardly comes again.
func (w *jsonWriter) difference(e *model.Evidence) {
	w.head(e)
	w.values(e)
}

// head is what evidence begins with.
func (w *jsonWriter) head(e *model.Evidence) {
	w.b = append(w.b, `{"field":`...)
	w.text(e.Field)
	w.b = append(w.b, `,"level":`...)
	w.text(e.Level)
	w.b = append(w.b, `,"bits":`...)
}

func (w *jsonWriter) values(e *model.Evidence) {
	w.number(e.Bits)
	w.optional(`,"stone":`, e.Stone)
	w.optional(`,"record":`, e.Record)
	w.optional(`,"why":`, e.Why)
	w.b = append(w.b, '}')
}

func (w *jsonWriter) optional(name, value string) {
	if value != "" {
		w.b = append(w.b, name...)
		w.text(value)
	}
}

func (w *jsonWriter) text(s string) {
	from := len(w.b)
	w.b = append(append(append(w.b, '"'), s...), '"')
	if hasSpecial(w.b[from+1 : len(w.b)-1]) {
		w.b = w.b[:from]
		w.marked(s)
	}
}

// hasSpecial reports whether one of specials is in a text: eight signs at a time.
func hasSpecial(s []byte) bool {
	const each, high = 0x0101010101010101, 0x8080808080808080
	for ; len(s) >= 8; s = s[8:] {
		x := binary.LittleEndian.Uint64(s)
		quote, stroke := x^each*'"', x^each*'\\'
		if (x|(x+each)|(x-each*' ')&^x|(quote-each)&^quote|(stroke-each)&^stroke)&high != 0 {
			return true
		}
	}
	for _, c := range s {
		if specials[c] {
			return true
		}
	}
	return false
}

// specials are the signs that are escaped, or are no ASCII.
var specials = func() (list [256]bool) {
	for c := range list {
		list[c] = c < ' ' || c >= 0x7f || c == '"' || c == '\\'
	}
	return list
}()

// marked writes a text with signs that must be escaped, or that are no ASCII.
func (w *jsonWriter) marked(s string) {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		w.err = err
		return
	}
	w.b = append(w.b, bytes.TrimSuffix(out.Bytes(), []byte("\n"))...)
}

// number writes a number as ECMAScript does, like encoding/json: with an exponent where it is very small or great.
func (w *jsonWriter) number(x float64) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		w.err = fmt.Errorf("%v is no number in JSON", x)
		return
	}
	bits := math.Float64bits(x)
	at := &w.lately[bits*0x9e3779b97f4a7c15>>(64-latelyBits)]
	if at.bits == bits && at.n > 0 {
		w.b = append(w.b, at.text[:at.n]...)
		return
	}
	from := len(w.b)
	form := byte('f')
	if abs := math.Abs(x); abs != 0 && (abs < 1e-6 || abs >= 1e21) {
		form = 'e'
	}
	w.b = strconv.AppendFloat(w.b, x, form, -1, 64)
	if n := len(w.b); form == 'e' && n >= 4 && w.b[n-4] == 'e' && w.b[n-3] == '-' && w.b[n-2] == '0' {
		w.b[n-2] = w.b[n-1] // e-09 is e-9
		w.b = w.b[:n-1]
	}
	if n := len(w.b) - from; n <= len(at.text) {
		at.bits, at.n = bits, uint8(n)
		copy(at.text[:], w.b[from:])
	}
}
