package remarks

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
	"musterstone/model/same"
	"musterstone/vocab"
	"musterstone/vocab/unit"
)

// texts are remarks that tell something, by the words of both tables, and others that do not.
func texts() []string {
	list := []string{"", "A", "No", "Mustered out", "Discharged for wounds Aug. 2, '64", "Transferred to Co. D, 84th Regiment", "TRANS. TO V. R. C. Oct. 13, 1864", "Died; alias Henry Kirby",
		"(alias Henry Kirby)", "transferred to the west", "ſub. Kirby", "Gone, trans to Co. B, 3d Ohio Inf., Jan. 3, 1863; later Co. C, 3d Ohio Inf."}
	for _, r := range vocab.Rows("other-name-words") {
		list = append(list, r.Get("form")+" Henry Kirby", "x "+r.Get("form")+" Henry Kirby", "x-"+r.Get("form")+" Kirby, Henry")
	}
	for _, r := range vocab.Rows("other-unit-words") {
		list = append(list, r.Get("word")+" Co. D, 84th Ohio Inf.", "Gone; "+r.Get("word")+" Co. D, 84th Regiment, May 1, 1864")
	}
	return list
}

// asRead holds what is told to what reading anew tells.
func asRead(t *testing.T, what string, want, got *Told) {
	t.Helper()
	if diff := cmp.Diff(want.Name, got.Name); diff != "" {
		t.Errorf("%s, of the name: read -, told +:\n%s", what, diff)
	}
	own := model.Unit{State: "OH", Number: 3, Arm: "infantry", Company: "B"}
	a, words, ok := want.Units.Other(&own)
	b, words2, ok2 := got.Units.Other(&own)
	if ok != ok2 || words != words2 || unit.Format(a) != unit.Format(b) {
		t.Errorf("%s: of the unit is told %q %q %v, read is %q %q %v", what, words2, unit.Format(b), ok2, words, unit.Format(a), ok)
	}
}

// check holds a memory to reading anew.
func check(t *testing.T, m *Memory, text string) (told bool) {
	t.Helper()
	want := Read(text)
	asRead(t, fmt.Sprintf("%q, remembered", text), want, m.Read(text))
	return !want.IsZero()
}

// TestMemory: what is remembered is what is read, of every word of the tables and when no more can be remembered.
func TestMemory(t *testing.T) {
	var m Memory
	told := 0
	for range 2 {
		for _, text := range texts() {
			if check(t, &m, text) {
				told++
			}
		}
		m.told = make(map[string]*Told, most)
		for i := range most {
			m.told[string(rune(i))+" "] = nothing
		}
	}
	if told < 60 {
		t.Errorf("only %d of the remarks told something", told)
	}
	if len(m.told) > most {
		t.Errorf("%d remarks are remembered", len(m.told))
	}
}

func FuzzMemory(f *testing.F) {
	for _, text := range texts() {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var m Memory
		check(t, &m, text)
		check(t, &m, text)
	})
}

// TestRows: of a batch each row is told what its own texts tell, whether that is remembered or not.
func TestRows(t *testing.T) {
	var list []*model.Record
	for i, text := range texts() {
		r := new(model.Record)
		r.Person.Name.Surname, r.Service.Remarks = "Kirby", text
		switch i % 3 {
		case 1:
			r.Person.Name.Other = "alias Henry Porter"
		case 2:
			r.Service.Unit.Other = "Transferred to Co. K, 9th Ohio Inf."
			r.Service.Remarks += strings.Repeat(" ", longest) + "x" // too long to be remembered
		}
		list = append(list, r)
	}
	var m Memory
	collector, told := same.NewCollector(), 0
	for range 2 {
		batch := collector.Take(list)
		rows := m.Rows(batch)
		if len(rows) != len(list) {
			t.Fatalf("%d rows, told of %d", len(list), len(rows))
		}
		for i, got := range rows {
			want := Read(Beside(list[i].Person.Name.Other, list[i].Service.Unit.Other, list[i].Service.Remarks))
			asRead(t, fmt.Sprintf("row %d", i), want, got)
			if !got.IsZero() {
				told++
			}
		}
	}
	if told < 60 {
		t.Errorf("only %d rows told something", told)
	}
}
