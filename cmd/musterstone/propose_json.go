package main

import (
	"bytes"
	"math"
	"strconv"

	"musterstone/model"
)

// jsonText is JSON under way, in the very form in which encoding/json writes a proposal (letters that matter to HTML as they are); it costs a fifth of that. A test holds
// it to encoding/json, field by field.
type jsonText struct {
	b     []byte
	first bool // no field of the object has been written
	err   error
}

// proposalJSON is a proposal as a line of JSON.
func proposalJSON(p *model.Proposal) ([]byte, error) {
	j := &jsonText{b: make([]byte, 0, 512+1024*len(p.Candidates))}
	j.proposal(p)
	j.b = append(j.b, '\n')
	return j.b, j.err
}

func (j *jsonText) open()  { j.b, j.first = append(j.b, '{'), true }
func (j *jsonText) close() { j.b, j.first = append(j.b, '}'), false }

// key begins a field.
func (j *jsonText) key(name string) {
	if !j.first {
		j.b = append(j.b, ',')
	}
	j.first = false
	j.b = append(j.b, '"')
	j.b = append(j.b, name...)
	j.b = append(j.b, '"', ':')
}

// text is a field of text.
func (j *jsonText) text(name, s string) {
	j.key(name)
	j.string(s)
}

// some is a field of text that is left out where it is empty.
func (j *jsonText) some(name, s string) {
	if s != "" {
		j.text(name, s)
	}
}

// string writes a text: what is not plain ASCII is left to encoding/json.
func (j *jsonText) string(s string) {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= 0x7f || c == '"' || c == '\\' {
			var b bytes.Buffer
			if err := jsonLines(&b, []string{s}); err != nil {
				j.err = err
			}
			j.b = append(j.b, bytes.TrimSuffix(b.Bytes(), []byte{'\n'})...)
			return
		}
	}
	j.b = append(j.b, '"')
	j.b = append(j.b, s...)
	j.b = append(j.b, '"')
}

// number writes a number: those very great or very small, and those that are none, are left to encoding/json.
func (j *jsonText) number(name string, x float64) {
	j.key(name)
	if abs := math.Abs(x); abs == 0 || abs >= 1e-6 && abs < 1e21 {
		j.b = strconv.AppendFloat(j.b, x, 'f', -1, 64)
		return
	}
	var b bytes.Buffer
	if err := jsonLines(&b, []float64{x}); err != nil {
		j.err = err
	}
	j.b = append(j.b, bytes.TrimSuffix(b.Bytes(), []byte{'\n'})...)
}

func (j *jsonText) truth(name string, is bool) {
	j.key(name)
	j.b = strconv.AppendBool(j.b, is)
}

func (j *jsonText) count(name string, n int) {
	j.key(name)
	j.b = strconv.AppendInt(j.b, int64(n), 10)
}

// list is a field of n elements, or null where there is no list.
func (j *jsonText) list(name string, there bool, n int, each func(i int)) {
	j.key(name)
	if !there {
		j.b = append(j.b, "null"...)
		return
	}
	j.b = append(j.b, '[')
	for i := range n {
		if i > 0 {
			j.b = append(j.b, ',')
		}
		each(i)
	}
	j.b = append(j.b, ']')
}

func (j *jsonText) texts(name string, list []string) {
	if len(list) > 0 {
		j.list(name, true, len(list), func(i int) { j.string(list[i]) })
	}
}

func (j *jsonText) proposal(p *model.Proposal) {
	j.open()
	j.text("stone", string(p.Stone))
	j.number("none", p.None)
	j.list("candidates", p.Candidates != nil, len(p.Candidates), func(i int) { j.candidate(&p.Candidates[i]) })
	j.texts("notes", p.Notes)
	if r := p.RunnerUp; r != nil {
		j.key("runner_up")
		j.open()
		j.text("record", string(r.Record))
		j.number("behind", r.Behind)
		j.evidence("by", r.By)
		j.close()
	}
	j.texts("would_change", p.WouldChange)
	j.close()
}

func (j *jsonText) candidate(c *model.Candidate) {
	j.open()
	j.text("record", string(c.Record))
	j.number("probability", c.Probability)
	j.number("bits", c.Bits)
	j.truth("proposed", c.Proposed)
	j.some("decided", c.Decided)
	if c.Second {
		j.truth("second", true)
	}
	j.some("same_as", string(c.SameAs))
	j.evidence("evidence", c.Evidence)
	if n := c.Namesakes; n != nil {
		j.key("namesakes")
		j.open()
		j.text("name", n.Name)
		j.count("men", n.Men)
		j.some("company", n.Company)
		if n.InCompany != 0 {
			j.count("in_company", n.InCompany)
		}
		j.close()
	}
	j.close()
}

func (j *jsonText) evidence(name string, list []model.Evidence) {
	j.list(name, list != nil, len(list), func(i int) {
		e := &list[i]
		j.open()
		j.text("field", e.Field)
		j.text("level", e.Level)
		j.number("bits", e.Bits)
		j.some("stone", e.Stone)
		j.some("record", e.Record)
		j.some("why", e.Why)
		j.close()
	})
}
