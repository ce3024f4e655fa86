package desk

import (
	"cmp"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/index"
	"musterstone/model"
	"musterstone/vocab"
)

// pageSize is how many stones or records a list shows at once, mostHits how many hits are looked at for the facets.
const (
	pageSize = 40
	mostHits = 1000
)

// hitCell is a cell in which something was found.
type hitCell struct {
	Column string
	Parts  []part
}

// part is a stretch of a text, marked where it was found.
type part struct {
	Text   string
	Marked bool
}

// marks parts a cell of a hit.
func marks(c index.HitCell) []part {
	var out []part
	at := 0
	for _, m := range c.Marks {
		if m.From > at {
			out = append(out, part{c.Value[at:m.From], false})
		}
		out = append(out, part{c.Value[m.From:m.To], true})
		at = m.To
	}
	if at < len(c.Value) {
		out = append(out, part{c.Value[at:], false})
	}
	return out
}

// choice is a value of a facet that can be chosen.
type choice struct {
	Value, Name string
	N           int
	Chosen      bool
}

// facet is one way to sort stones, with its values.
type facet struct {
	Name, Label string
	Choices     []choice
}

type foundRecord struct {
	ID    model.RecordID
	Line  string
	Cells []hitCell
}

// findView is what the page of a search shows.
type findView struct {
	Words, Kind, For string
	ForWhom          string // what the stone says
	Fault            string
	Near             bool
	Facets           []facet
	Stones           []listed
	Records          []foundRecord
	StoneN, RecordN  int
	More             string // the address of the next page
	Before           string
	Title            string
	Asked            bool
}

// findPage looks for words over stones and rosters, and lists stones by facets.
func (d *Desk) findPage(w http.ResponseWriter, r *http.Request) error {
	if err := d.refresh(); err != nil {
		return err
	}
	q := r.URL.Query()
	v := &findView{Words: strings.TrimSpace(q.Get("q")), Kind: q.Get("kind"), For: q.Get("for"), Title: "Find"}
	if v.Kind != "stone" && v.Kind != "record" {
		v.Kind = ""
	}
	if i, ok := d.at[model.StoneID(v.For)]; ok {
		v.ForWhom = say.Headline(d.subjects[i])
	} else {
		v.For = ""
	}
	here := "find"
	if q.Get("state") == string(leftOpen) && v.Words == "" {
		v.Title, here = "Left unsure", "unsure"
	}
	from, _ := strconv.Atoi(q.Get("from"))
	from = max(0, min(from, 1_000_000))
	b := d.standings()
	conflict := q.Get("conflict")
	stones, cells, err := d.lookFor(r, v, from, conflict)
	if err != nil {
		return err
	}
	ways := []struct {
		name, label, chosen string
		of                  func(i int) string
	}{
		{"state", "How it stands", q.Get("state"), func(i int) string { return string(b.kinds[i]) }},
		{"cemetery", "Burial ground", q.Get("cemetery"), func(i int) string { return d.facets[i].cemetery }},
		{"conflict", "Conflict", conflict, func(i int) string { return d.facets[i].conflict }},
		{"pattern", "Design", q.Get("pattern"), func(i int) string { return d.facets[i].pattern }},
	}
	passes := func(i int, but string) bool {
		for _, w := range ways {
			if w.name != but && w.chosen != "" && w.of(i) != w.chosen {
				return false
			}
		}
		return true
	}
	v.Asked = v.Words != ""
	for _, w := range ways {
		v.Asked = v.Asked || w.chosen != ""
		n := map[string]int{}
		for _, i := range stones {
			if passes(i, w.name) {
				n[w.of(i)]++
			}
		}
		v.Facets = append(v.Facets, facet{w.name, w.label, choices(w.name, n, w.chosen)})
	}
	stones = slices.DeleteFunc(stones, func(i int) bool { return !passes(i, "") })
	v.StoneN = len(stones)
	for _, i := range stones[min(from, len(stones)):min(from+pageSize, len(stones))] {
		l := d.listed(b, i)
		l.Cells = cells[i]
		v.Stones = append(v.Stones, l)
	}
	if q.Get("cemetery")+q.Get("pattern")+q.Get("state") != "" { // these are about stones alone
		v.Records, v.RecordN = nil, 0
	}
	turn := func(to int) string {
		next := url.Values{}
		for k := range q {
			if k != "did" {
				next.Set(k, q.Get(k))
			}
		}
		next.Set("from", strconv.Itoa(to))
		return "/find?" + next.Encode()
	}
	if from+pageSize < max(v.StoneN, v.RecordN) {
		v.More = turn(from + pageSize)
	}
	if from > 0 {
		v.Before = turn(max(0, from-pageSize))
	}
	return d.render(w, http.StatusOK, "find", d.frame(r, v.Title, here, v))
}

// lookFor finds the stones that have the words, or all, and of the records that have them the page that begins at from; of a conflict, where one is chosen.
func (d *Desk) lookFor(r *http.Request, v *findView, from int, conflict string) (stones []int, cells map[int][]hitCell, err error) {
	cells = map[int][]hitCell{}
	if v.Words == "" {
		for i := range d.subjects {
			stones = append(stones, i)
		}
		return stones, cells, nil
	}
	for _, kind := range []string{"stone", "record"} {
		if v.Kind != "" && v.Kind != kind {
			continue
		}
		opt := index.FindOptions{Kind: kind, Limit: mostHits}
		if kind == "record" && conflict == "" {
			opt.Limit, opt.From = pageSize, from
		}
		found, err := d.index.Find(r.Context(), v.Words, opt)
		if index.ErrQuestion(err) {
			v.Fault = err.Error()
			return stones, cells, nil
		}
		if err != nil {
			return nil, nil, err
		}
		v.Near = v.Near || found.Near
		if kind == "record" {
			v.RecordN = found.Total
			hits := found.Hits
			if conflict != "" {
				hits = slices.DeleteFunc(hits, func(h index.Hit) bool {
					return !slices.ContainsFunc(h.Record.Service.Conflicts, func(c model.ConflictCode) bool { return conflictName(c) == conflict })
				})
				v.RecordN = len(hits)
				hits = hits[min(from, len(hits)):]
			}
			for _, h := range hits[:min(pageSize, len(hits))] {
				v.Records = append(v.Records, foundRecord{h.Record.ID, h.Line, hitCells(h.Cells)})
			}
			continue
		}
		for _, h := range found.Hits {
			if i, ok := d.at[model.StoneID(h.ID)]; ok {
				stones = append(stones, i)
				cells[i] = hitCells(h.Cells)
			}
		}
	}
	return stones, cells, nil
}

func conflictName(c model.ConflictCode) string { return vocab.Label("conflict", string(c)) }

func hitCells(cells []index.HitCell) []hitCell {
	var out []hitCell
	for _, c := range cells {
		out = append(out, hitCell{c.Column, marks(c)})
	}
	return out
}

// choices are the values of a facet, the commonest first; those of the state in their own order.
func choices(name string, n map[string]int, chosen string) []choice {
	if chosen != "" {
		n[chosen] += 0
	}
	var out []choice
	if name == "state" {
		for _, k := range kinds {
			if c, ok := n[string(k.Kind)]; ok {
				out = append(out, choice{string(k.Kind), k.Name, c, string(k.Kind) == chosen})
			}
		}
		return out
	}
	for value, c := range n {
		if value != "" {
			out = append(out, choice{value, value, c, value == chosen})
		}
	}
	slices.SortFunc(out, func(a, b choice) int { return cmp.Or(-cmp.Compare(a.N, b.N), cmp.Compare(a.Value, b.Value)) })
	return out
}
