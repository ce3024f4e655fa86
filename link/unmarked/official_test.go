package unmarked

import (
	"strings"
	"testing"

	"musterstone/model"
)

// of are the findings of one kind.
func of(found []model.Finding, kind string) []model.Finding {
	var out []model.Finding
	for _, x := range found {
		if x.Kind == kind {
			out = append(out, x)
		}
	}
	return out
}

func TestOfficialMarkers(t *testing.T) {
	evidence := func(field, level string) func(*world) {
		return func(w *world) {
			w.stone("s1", 0.01, soldier("Colvin", "Andrew"))
			other := soldier("Colvin", "Andrew")
			other.Service.Unit.Number, other.Service.Unit.Company = 37, "C"
			w.record("r1", other)
			w.propose("s1", "r1", 0.98)
			w.proposals[0].Candidates[0].Evidence = []model.Evidence{{Field: field, Level: level, Stone: "this", Record: "that"}}
		}
	}
	condition := func(text string) func(*world) {
		return func(w *world) { w.stone("s1", 0.02, soldier("Colvin", "Andrew")).Stone.Marker.Condition = text }
	}
	tests := []struct {
		name     string
		build    func(*world)
		kind     string
		from, to float64 // 0 and 0: no such finding
		reason   string
	}{
		{"another regiment in the record", evidence("unit", "one digit"), model.WrongMarker, 0.87, 0.88, `one digit off the record's: the stone has "this", record r1 has "that"`},
		{"another company in the record", evidence("unit", "other company"), model.WrongMarker, 0.82, 0.83, "the company on the stone"},
		{"another spelling in the record", evidence("surname", "near"), model.WrongMarker, 0.48, 0.49, "either may be the right one"},
		{"the same unit in the record", evidence("unit", "company"), model.WrongMarker, 0, 0, ""},
		{"a record that may be another man's", func(w *world) {
			evidence("unit", "one digit")(w)
			w.proposals[0].Candidates[0].Probability = 0.3
		}, model.WrongMarker, 0, 0, ""},
		{"a man who moved to the Veteran Reserve Corps", func(w *world) {
			evidence("unit", "different")(w)
			w.records[0].Service.Unit.Body, w.records[0].Service.Unit.State = model.BodyVRC, ""
		}, model.WrongMarker, 0, 0, ""},
		{"a design that the words contradict", func(w *world) {
			s := w.stone("s1", 0.01, soldier("Colvin", "Andrew"))
			s.Implies.Contradictions = []model.Contradiction{{Rule: "shield-confederate", Text: "a recessed shield was for Union men"}}
		}, model.WrongMarker, 0.69, 0.7, "a recessed shield was for Union men"},
		{"a later stone contradicts nothing", func(w *world) {
			s := w.stone("s1", 0.01, soldier("Colvin", "Andrew"))
			s.Implies.Contradictions = []model.Contradiction{{Rule: "later-stone", Text: "a later or replacement stone"}}
		}, model.WrongMarker, 0, 0, ""},
		{"a private stone cannot be a wrong government one", func(w *world) {
			evidence("unit", "one digit")(w)
			w.subjects[0].Implies.Patterns = patterns(0.99)
		}, model.WrongMarker, 0, 0, ""},
		{"broken", condition("Broken in two"), model.FailingMarker, 0.93, 0.94, `recorded as broken: "Broken in two"`},
		{"sunk", condition("half buried, leaning"), model.FailingMarker, 0.94, 0.96, "recorded as sunk"},
		{"illegible", condition("no longer legible"), model.FailingMarker, 0.93, 0.94, "illegible"},
		{"worn", condition("worn"), model.FailingMarker, 0.29, 0.3, "recorded as worn"},
		{"good", condition("good; unbroken"), model.FailingMarker, 0, 0, ""},
		{"most of the name lost", func(w *world) { w.stone("s1", 0.02, soldier("C[.....]n", "Andrew")) }, model.FailingMarker, 0.58, 0.59, "most of the name is lost"},
		{"a second stone by the words", func(w *world) {
			w.stone("s1", 0, soldier("Dunton", "Alvah"))
			w.stone("s2", 0, soldier("Dunton", "Alvah"))
		}, model.SecondMarker, 0.89, 0.91, "stone s1"},
		{"a second stone by the record", func(w *world) {
			w.stone("s1", 0, soldier("Dunton", "Alvah"))
			w.stone("s2", 0, soldier("Downton", "A"))
			w.record("r1", soldier("Dunton", "Alvah"))
			w.decide("s1", "r1", model.Confirmed)
			w.decide("s2", "r1", model.Confirmed)
		}, model.SecondMarker, 0.89, 0.91, "both claim service record r1"},
		{"a namesake of another company", func(w *world) {
			w.stone("s1", 0, soldier("Dunton", "Alvah"))
			other := soldier("Dunton", "Alvah")
			other.Service.Unit.Company = "K"
			w.stone("s2", 0, other)
		}, model.SecondMarker, 0, 0, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := &world{}
			tt.build(w)
			found := of(Find(w.input()), tt.kind)
			if tt.to == 0 {
				if len(found) != 0 {
					t.Errorf("found %+v", found)
				}
				return
			}
			if len(found) != 1 || found[0].Probability < tt.from || found[0].Probability > tt.to {
				t.Fatalf("found %+v, want one of %.2f to %.2f", found, tt.from, tt.to)
			}
			if r := strings.Join(found[0].Reasons, "\n"); !strings.Contains(r, tt.reason) {
				t.Errorf("reasons:\n%s\nwant %q", r, tt.reason)
			}
			if s := strings.Join(found[0].ToShow, "\n"); !strings.Contains(s, "replace or correct") || strings.Contains(s, "where in the ground") {
				t.Errorf("to show:\n%s", s)
			}
		})
	}
}

// A row of graves, in the order of the roster: named, unknown, named.
func TestUnknownLeads(t *testing.T) {
	row := func(gap int, taken ...string) *world {
		w := &world{}
		place := func(s *model.Subject, plot string) {
			s.Stone.Place.Section, s.Stone.Place.Row, s.Stone.Place.Plot = "A", "1", plot
		}
		place(w.stone("s1", 0, soldier("Able", "John")), "1")
		u := w.stone("u1", 0.1, model.Claim{})
		u.Readings[0] = model.Reading{Unknown: true, GraveNumber: "17", Probability: 1}
		place(u, "2")
		place(w.stone("s2", 0, soldier("Coe", "Peter")), "3")
		w.record("r1", soldier("Able", "John"))
		for i := range gap {
			w.record("m"+string(rune('1'+i)), soldier("Baker"+string(rune('a'+i)), "Levi"))
		}
		w.record("r2", soldier("Coe", "Peter"))
		w.propose("s1", "r1", 0.97)
		w.propose("s2", "r2", 0.97)
		for i, id := range taken {
			stone := "t" + string(rune('1'+i))
			w.stone(stone, 0, soldier("Baker"+string(rune('a'+i)), "Levi"))
			w.propose(stone, id, 0.97)
		}
		return w
	}
	tests := []struct {
		name   string
		world  *world
		p      float64
		record model.RecordID
		reason string
	}{
		{"one man between", row(1), 0.4, "m1", "Levi Bakera"},
		{"two men between", row(2), 0.2, "", "Levi Bakerb"},
		{"nobody between", row(0), 0, "", ""},
		{"too many between", row(9), 0, "", ""},
		{"the man between has a stone", row(1, "m1"), 0, "", ""},
	}
	for _, tt := range tests {
		found := of(Find(tt.world.input()), model.UnknownLead)
		if tt.p == 0 {
			if len(found) != 0 {
				t.Errorf("%s: %+v", tt.name, found)
			}
			continue
		}
		if len(found) != 1 || found[0].Stone != "u1" || found[0].Probability != tt.p || found[0].Record != tt.record {
			t.Errorf("%s: %+v, want one with %.2f and record %q", tt.name, found, tt.p, tt.record)
			continue
		}
		if r := strings.Join(found[0].Reasons, "\n"); !strings.Contains(r, tt.reason) || !strings.Contains(r, "a lead, not a finding") {
			t.Errorf("%s: %s", tt.name, r)
		}
	}
	w := row(0)
	w.record("g1", buried(soldier("Dow", "Amos"), "Old Mill Cem., grave 17"))
	w.record("g2", buried(soldier("Eno", "Hugh"), "Old Mill Cem., grave 18"))
	found := of(Find(w.input()), model.UnknownLead)
	if len(found) != 1 || found[0].Record != "g1" || found[0].Probability != 0.45 || !strings.Contains(found[0].Reasons[0], `"17"`) {
		t.Errorf("by number: %+v", found)
	}
}

// A lead is never a finding: however good the signs, it stays below one half.
func TestLeadsStayLeads(t *testing.T) {
	for _, key := range []string{"unknown-order", "unknown-number", "sign-strong-beside", "holder-alone"} {
		if weight(key) >= 0.5 {
			t.Errorf("%s is %v", key, weight(key))
		}
	}
}

// A man whom a register's row and a roster's remark both name is one finding.
func TestJoinRegister(t *testing.T) {
	w := &world{}
	w.stone("s1", 0, soldier("Other", "Amos"))
	w.register("g1", soldier("Hoyt", "Nathan"))
	w.record("r1", buried(soldier("Hoyt", "Nathan"), "Old Mill Cem., Alder Co."))
	w.propose("g1", "r1", 0.97)
	found := Find(w.input())
	if len(found) != 1 || found[0].Stone != "g1" || found[0].Record != "r1" || !strings.Contains(strings.Join(found[0].Reasons, "\n"), "the roster says") {
		t.Errorf("%+v", found)
	}
	men := Men(w.input())
	if len(men) != 1 || men[0].On[0] != 0 || men[0].On[1] < 0.9 || men[0].On[2] != 1 || !men[0].Named || men[0].Cemetery != "Old Mill Cemetery" {
		t.Errorf("%+v", men)
	}
}

func TestMen(t *testing.T) {
	w := &world{}
	w.stone("s1", 1, soldier("Holden", "John"))
	w.record("r1", buried(soldier("Holden", "John"), "Old Mill Cem., Alder Co."))
	w.propose("s1", "r1", 0.99)
	w.stone("s2", 1, man("Skeels", "Orrin"))
	w.record("r2", soldier("Skeels", "Orrin"))
	w.propose("s2", "r2", 0.95)
	w.record("r3", buried(soldier("Tate", "Reuben"), "Old Mill Cem., Alder Co."))
	men := Men(w.input())
	want := map[string][]float64{"s1": {1, 0.99, 0}, "s2": {0, 0, 0}, "r3": {0, 1, 0}}
	for _, m := range men {
		id := string(m.Stone)
		if id == "" {
			id = string(m.Record)
		}
		on, ok := want[id]
		if !ok {
			if m.P > 0.05 {
				t.Errorf("%s with %.2f", id, m.P)
			}
			continue
		}
		delete(want, id)
		for i := range on {
			if m.On[i] != on[i] {
				t.Errorf("%s is on %v, want %v", id, m.On, on)
				break
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("missing %v", want)
	}
	if res := Count(men, "Old Mill Cemetery", 0.9); !res.Estimated || res.Found < 2.5 || res.Found > 3.1 {
		t.Errorf("%+v", res)
	}
	if res := Count(men, "Elsewhere", 0.9); res.Estimated || res.Found != 0 {
		t.Errorf("elsewhere: %+v", res)
	}
}

// TestSecondMarkersOrder: several second markers of one man, equally likely, come in the order of the stones beside which they stand, each time.
func TestSecondMarkersOrder(t *testing.T) {
	w := &world{}
	for _, id := range []string{"s1", "s2", "s3", "s4", "s5"} {
		w.stone(id, 0, soldier("Holden", "Orrin"))
	}
	const want = "s1<s2 s1<s3 s2<s3 s1<s4 s2<s4 s3<s4 s1<s5 s2<s5 s3<s5 s4<s5"
	for range 20 {
		var got []string
		for _, f := range Find(w.input()) {
			if f.Kind == model.SecondMarker {
				got = append(got, string(f.Stones[0]+"<"+f.Stone))
			}
		}
		if strings.Join(got, " ") != want {
			t.Fatalf("second markers %v, want %s", got, want)
		}
	}
}
