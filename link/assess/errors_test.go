package assess

import (
	"testing"

	"musterstone/model"
)

// TestKinds: each kind of error from the proposal that makes it.
func TestKinds(t *testing.T) {
	with := func(id string, p float64, surname, unit, birth float64) model.Candidate {
		return model.Candidate{Record: model.RecordID(id), Probability: p, Bits: surname + unit + birth,
			Evidence: []model.Evidence{{Field: "surname", Level: "same", Bits: surname}, {Field: "unit", Level: "one digit", Bits: unit, Stone: "31 Wis.", Record: "37 Wis."}, {Field: "birth", Level: "far", Bits: birth}}}
	}
	proposed := func(c model.Candidate) model.Candidate { c.Proposed = true; return c }
	second := func(c model.Candidate) model.Candidate { c.Second = true; return c }
	for _, tt := range []struct {
		name  string
		none  float64
		cands []model.Candidate
		true  []model.RecordID
		want  Kind
		why   string
	}{
		{"no true record", .1, []model.Candidate{proposed(with("a", .9, 8, 9, 1))}, nil, WrongLacking, ""},
		{"equal", 0, []model.Candidate{proposed(with("a", .5, 8, 9, 1)), with("b", .5, 8, 9, .5)}, []model.RecordID{"b"}, WrongTie, "nothing speaks against it, but too little for it"},
		{"unit misread", .1, []model.Candidate{proposed(with("a", .8, 8, 9, 1)), with("b", .1, 8, -4, 1)}, []model.RecordID{"b"}, WrongUnit, `unit: one digit, "31 Wis." and "37 Wis." (-4.0 bits)`},
		{"name misspelt", .1, []model.Candidate{proposed(with("a", .8, 8, 9, 1)), with("b", .1, 2, 9, 1)}, []model.RecordID{"b"}, WrongName, "nothing speaks against it, but too little for it"},
		{"namesake", .1, []model.Candidate{proposed(with("a", .8, 8, 9, 1)), with("b", .1, 8, 9, -4)}, []model.RecordID{"b"}, WrongNamesake, "birth: far (-4.0 bits)"},
		{"wrong and unfound", .1, []model.Candidate{proposed(with("a", .8, 8, 9, 1))}, []model.RecordID{"z"}, WrongUnfound, ""},
		{"second right", .1, []model.Candidate{second(with("a", .9, 8, 9, 1))}, []model.RecordID{"a"}, "", ""},
		{"its man elsewhere", .1, []model.Candidate{with("held", .9, 8, 9, 1)}, []model.RecordID{"held"}, MissedSecond, ""},
		{"tie", .1, []model.Candidate{with("a", .45, 8, 9, 1), with("b", .45, 8, 9, 1)}, []model.RecordID{"b"}, MissedTie, "record a agrees as well"},
		{"behind", .1, []model.Candidate{with("a", .8, 8, 9, 1), with("b", .1, 8, 2, 1)}, []model.RecordID{"b"}, MissedBehind, "nothing speaks against it, but too little for it"},
		{"none likelier", .7, []model.Candidate{with("a", .3, 8, 2, 1)}, []model.RecordID{"a"}, MissedNone, "nothing speaks against it, but too little for it"},
		{"below", .3, []model.Candidate{with("a", .7, 8, 9, -2)}, []model.RecordID{"a"}, MissedBelow, "birth: far (-2.0 bits)"},
		{"unfound", 1, nil, []model.RecordID{"z"}, MissedUnfound, ""},
	} {
		r := Assess([]model.Proposal{{Stone: "other", Candidates: []model.Candidate{proposed(with("held", .9, 8, 9, 1))}}, {Stone: "s", None: tt.none, Candidates: tt.cands}},
			Truth{"other": {"held"}, "s": tt.true})
		if tt.want == "" {
			if len(r.Errors) != 0 || r.Seconds.Hits != 1 || r.Precision.Hits != 2 {
				t.Errorf("%s: %+v", tt.name, r)
			}
			continue
		}
		if len(r.Errors) != 1 || r.Errors[0].Kind != tt.want || r.Errors[0].Why != tt.why || len(r.Kinds) != 1 || r.Kinds[0] != (KindCount{tt.want, 1}) {
			t.Errorf("%s: %+v, want %s, %s", tt.name, r.Errors, tt.want, tt.why)
		}
	}
}

// TestRetrieved: a true record that was found, and that the proposal no longer shows, was not missing from the candidates.
func TestRetrieved(t *testing.T) {
	r := Assess([]model.Proposal{{Stone: "a", None: 1}, {Stone: "b", None: 1}}, Truth{"a": {"1"}, "b": {"2"}})
	r.Retrieved(map[model.StoneID][]model.RecordID{"a": {"9", "1"}, "b": {"9"}})
	if r.Errors[0].Kind != MissedFar || r.Errors[1].Kind != MissedUnfound || len(r.Kinds) != 2 {
		t.Errorf("got %+v", r.Errors)
	}
}

// TestOneManTwoRows: a man listed twice has the probability of both rows, and either is right.
func TestOneManTwoRows(t *testing.T) {
	twice := model.Proposal{Stone: "a", None: .02, Candidates: []model.Candidate{{Record: "1", Probability: .5, Proposed: true}, {Record: "2", Probability: .48, SameAs: "1"}}}
	r := Assess([]model.Proposal{twice}, Truth{"a": {"1", "2"}})
	if r.Bins[9].N != 1 || r.ExpectedPrecision < .97 || r.ECE > .03 {
		t.Errorf("got %+v", r)
	}
}
