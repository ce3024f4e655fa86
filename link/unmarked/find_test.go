package unmarked

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"musterstone/link/ledger"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
)

// world builds a small survey: everything in it is invented.
type world struct {
	subjects  []*model.Subject
	proposals []model.Proposal
	records   []*model.Record
	decisions []model.Decision
	unwalked  bool // nobody has recorded a stone in the ground
}

func (w *world) input() Input {
	return Input{Subjects: w.subjects, Proposals: w.proposals, Records: slices.Values(w.records), Decisions: ledger.StateOf(slices.Values(w.decisions)),
		Cemeteries: surveyed()}
}

// stone adds a stone in Old Mill Cemetery with the share that its design gives to not-government; the rest goes to a government pattern.
func (w *world) stone(id string, notGovernment float64, claim model.Claim, motifs ...string) *model.Subject {
	s := &model.Subject{
		Stone: &model.Stone{ID: model.StoneID(id), Source: model.Source{File: "stones.csv", Row: len(w.subjects) + 2},
			Place: model.Place{Cemetery: "Old Mill Cemetery", County: "Alder", State: "WI"}, Marker: model.Marker{Inscription: "…", Motifs: motifs}},
		Readings: []model.Reading{{People: []model.Claim{claim}, Probability: 1}},
		Implies:  model.Implication{Patterns: patterns(notGovernment)},
	}
	w.subjects = append(w.subjects, s)
	return s
}

func patterns(notGovernment float64) []model.Weighted[model.PatternCode] {
	out := []model.Weighted[model.PatternCode]{{Code: model.NotGovernment, Probability: notGovernment}, {Code: "civil-war-1903", Probability: 1 - notGovernment}}
	if notGovernment < 0.5 {
		out[0], out[1] = out[1], out[0]
	}
	return out
}

func (w *world) register(id string, claim model.Claim) *model.Subject {
	s := w.stone(id, 0, claim)
	s.Stone.Register, s.Stone.Marker, s.Stone.Source.File = &claim, model.Marker{}, "register.csv"
	s.Implies = model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: model.UnknownPattern, Probability: 1}}}
	return s
}

func (w *world) record(id string, claim model.Claim) *model.Record {
	r := &model.Record{ID: model.RecordID(id), Source: model.Source{File: "roster.csv", Row: len(w.records) + 2}, Claim: claim}
	w.records = append(w.records, r)
	return r
}

// propose says that the stone's man is the record's with probability p.
func (w *world) propose(stone, record string, p float64) {
	for i := range w.proposals {
		if w.proposals[i].Stone == model.StoneID(stone) {
			w.proposals[i].Candidates = append(w.proposals[i].Candidates, model.Candidate{Record: model.RecordID(record), Probability: p})
			w.proposals[i].None -= p
			return
		}
	}
	w.proposals = append(w.proposals, model.Proposal{Stone: model.StoneID(stone), None: 1 - p,
		Candidates: []model.Candidate{{Record: model.RecordID(record), Probability: p, Proposed: p > 0.5}}})
}

func (w *world) decide(stone, record string, as model.Verdict) {
	w.decisions = append(w.decisions, model.Decision{ID: fmt.Sprint(len(w.decisions)), At: time.Unix(int64(len(w.decisions)), 0), By: "ann",
		Stone: model.StoneID(stone), Record: model.RecordID(record), As: as})
}

func man(surname, given string) model.Claim {
	return model.Claim{Person: model.Person{Name: model.Name{Surname: surname, Given: given, Written: given + " " + surname}}}
}

func soldier(surname, given string) model.Claim {
	c := man(surname, given)
	c.Service.Unit = model.Unit{State: "WI", Number: 31, Arm: "infantry", Company: "F", Written: "Co. F, 31st Wis. Inf."}
	c.Service.Conflicts = []model.ConflictCode{"civil-war"}
	return c
}

func buried(c model.Claim, text string) model.Claim {
	c.Person.Buried = text
	return c
}

func remarks(c model.Claim, text string) model.Claim {
	c.Service.Remarks = text
	return c
}

// Each case is a survey and what is found of it: kind, stone or record, and between which probabilities.
func TestFind(t *testing.T) {
	type want struct {
		id, kind   string
		from, to   float64
		conflict   model.ConflictCode
		reason     string // words in one of the reasons
		notToShow  string // words in none of to_show
		mustToShow string
	}
	holden := soldier("Holden", "John")
	tests := []struct {
		name  string
		build func(*world)
		want  []want
	}{
		{"a unit on a private stone", func(w *world) { w.stone("s1", 0.99, holden) },
			[]want{{"s1", model.PrivateStone, 0.95, 0.97, "civil-war", `the stone gives a unit: "Co. F, 31st Wis. Inf."`, "decision", "record group 94"}}},
		{"a unit on a private stone, and a record", func(w *world) {
			w.stone("s1", 0.99, holden)
			w.record("r1", holden)
			w.propose("s1", "r1", 0.95)
		}, []want{{"s1", model.PrivateStone, 0.98, 0.99, "civil-war", "service record r1 (John Holden, Company F, 31st Wisconsin Infantry) is his with a probability of 95%", "", "the proposed one is r1"}}},
		{"a unit on a stone whose looks nobody recorded", func(w *world) {
			w.stone("s1", 0, holden).Implies = model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: model.UnknownPattern, Probability: 1}}}
		}, []want{{"s1", model.PrivateStone, 0.48, 0.49, "civil-war", "the looks of the marker do not say whose it is", "", ""}}},
		{"a rank alone", func(w *world) {
			c := man("Merriam", "Josiah")
			c.Service.Rank = "captain"
			w.stone("s1", 1, c)
		}, []want{{"s1", model.PrivateStone, 0.9, 0.9, "", "the stone gives a rank: captain", "", "pension index"}}},
		{"a plain stone that matches on name and dates", func(w *world) {
			w.stone("s1", 1, man("Skeels", "Orrin"))
			w.record("r1", soldier("Skeels", "Orrin"))
			w.propose("s1", "r1", 0.8)
		}, []want{{"s1", model.PrivateStone, 0.5, 0.5, "civil-war", "service record r1", "", "private stone already"}}},
		{"a confirmed record on a plain stone", func(w *world) {
			w.stone("s1", 1, man("Skeels", "Orrin"))
			w.record("r1", soldier("Skeels", "Orrin"))
			w.decide("s1", "r1", model.Confirmed)
		}, []want{{"s1", model.PrivateStone, 0.9999, 0.9999, "civil-war", "a person confirmed service record r1", "a person's decision", ""}}},
		{"a refused record on a plain stone", func(w *world) {
			w.stone("s1", 1, man("Skeels", "Orrin"))
			w.record("r1", soldier("Skeels", "Orrin"))
			w.propose("s1", "r1", 0.8)
			w.decide("s1", "r1", model.Refused)
		}, nil},
		{"a civilian", func(w *world) {
			w.stone("s1", 1, man("Baker", "William"), "willow")
			w.record("r1", soldier("Baker", "William"))
			w.propose("s1", "r1", 0.05)
		}, nil},
		{"fraternal sign only", func(w *world) { w.stone("s1", 1, man("Baker", "William"), "square and compasses", "three links") }, nil},
		{"a society's flag holder only is a lead, not a finding", func(w *world) { w.stone("s1", 1, man("Murphy", "James"), "GAR star holder") },
			[]want{{"s1", model.PrivateStone, 0.45, 0.45, "civil-war", "holders move", "", ""}}},
		{"a holder, and three records of the name", func(w *world) {
			w.stone("s1", 1, man("Murphy", "James"), "GAR star holder")
			for _, r := range []string{"r1", "r2", "r3"} {
				w.record(r, soldier("Murphy", "James"))
				w.propose("s1", r, 0.3)
			}
		}, []want{{"s1", model.PrivateStone, 0.45, 0.45, "civil-war", "a lead, not a finding", "", ""}}},
		{"a motif beside a record", func(w *world) {
			w.stone("s1", 1, man("Prentiss", "Charles"), "crossed cannon")
			w.record("r1", soldier("Prentiss", "Charles"))
			w.propose("s1", "r1", 0.9)
		}, []want{{"s1", model.PrivateStone, 0.75, 0.76, "civil-war", "cut into the stone: crossed cannon", "", ""}}},
		{"a plain stone whose dates are not the record's", func(w *world) {
			w.stone("s1", 1, man("Skeels", "Orrin"))
			w.record("r1", soldier("Skeels", "Orrin"))
			w.propose("s1", "r1", 0.98)
			w.proposals[0].Candidates[0].Evidence = []model.Evidence{{Field: "death", Level: "different", Bits: -3.5}}
		}, []want{{"s1", model.PrivateStone, 0.6, 0.61, "civil-war", "its dates are not the record's", "", ""}}},
		{"a family stone", func(w *world) {
			s := w.stone("s1", 1, holden)
			s.Readings[0].People = append(s.Readings[0].People, model.Claim{Person: model.Person{Name: model.Name{Given: "Mary"}, Relation: "wife"}})
		}, []want{{"s1", model.PrivateStone, 0.9, 1, "civil-war", "the stone names 2 people; the veteran would be John Holden", "", ""}}},
		{"a government stone", func(w *world) {
			w.stone("s1", 0.01, holden)
			w.record("r1", holden)
			w.propose("s1", "r1", 0.99)
		}, nil},
		{"a private stone beside the man's government stone, by the record", func(w *world) {
			w.stone("s1", 1, man("Dunton", "Alvah"))
			w.stone("s2", 0, soldier("Dunton", "Alvah"))
			w.record("r1", soldier("Dunton", "Alvah"))
			w.propose("s1", "r1", 0.9)
			w.propose("s2", "r1", 0.98)
		}, nil},
		{"a private stone beside the man's government stone, where linking gave the record to the private one", func(w *world) {
			w.stone("s1", 1, man("Dunton", "Alvah"))
			w.stone("s2", 0, soldier("Dunton", "Alvah"))
			w.record("r1", soldier("Dunton", "Alvah"))
			w.propose("s1", "r1", 0.91)
			w.propose("s2", "r1", 0.08)
			w.proposals[1].Candidates[0].Bits = 20
		}, nil},
		{"a private stone, and a government stone that fits his record badly", func(w *world) {
			w.stone("s1", 1, man("Dunton", "Alvah"))
			w.stone("s2", 0, soldier("Downton", "Alfred"))
			w.record("r1", soldier("Dunton", "Alvah"))
			w.propose("s1", "r1", 0.91)
			w.propose("s2", "r1", 0.01)
			w.proposals[1].Candidates[0].Bits = -3
		}, []want{{"s1", model.PrivateStone, 0.7, 0.72, "civil-war", "", "", ""}}},
		{"a private stone beside the man's government stone, by the words", func(w *world) {
			w.stone("s1", 1, soldier("Dunton", "A"))
			w.stone("s2", 0, soldier("Dunton", "Alvah"))
		}, nil},
		{"a private stone, and a government stone of a man of his name elsewhere", func(w *world) {
			w.stone("s1", 1, holden)
			other := holden
			other.Service.Unit.Number = 44
			w.stone("s2", 0, other)
		}, []want{{"s1", model.PrivateStone, 0.96, 0.98, "civil-war", "", "", ""}}},
		{"in memory of a man buried elsewhere", func(w *world) {
			w.stone("s1", 1, soldier("Stoddard", "Hiram")).Readings[0].Memorial = true
			w.record("r1", buried(soldier("Stoddard", "Hiram"), "Andersonville Nat. Cem., grave 8117"))
			w.propose("s1", "r1", 0.99)
		}, nil},
		{"in memory of a man buried here", func(w *world) {
			w.stone("s1", 1, soldier("Stoddard", "Hiram")).Readings[0].Memorial = true
			w.record("r1", buried(soldier("Stoddard", "Hiram"), "Old Mill Cem., Alder Co."))
			w.propose("s1", "r1", 0.99)
		}, []want{{"s1", model.PrivateStone, 0.99, 1, "civil-war", `record r1 buries him here: "Old Mill Cem., Alder Co."`, "", ""}}},
		{"in memory of a man of whose burial nothing is known", func(w *world) {
			w.stone("s1", 1, soldier("Stoddard", "Hiram")).Readings[0].Memorial = true
		}, []want{{"s1", model.PrivateStone, 0.67, 0.68, "civil-war", "IN MEMORY OF", "", ""}}},
		{"a stone in one ground, buried in another of the survey", func(w *world) {
			w.stone("s1", 1, man("Skeels", "Orrin"))
			w.record("r1", buried(soldier("Skeels", "Orrin"), "Mt. Hope Cem., Alder Co."))
			w.propose("s1", "r1", 0.98)
		}, []want{{"s1", model.PrivateStone, 0.38, 0.39, "civil-war", `but record r1 says of his burial: "Mt. Hope Cem., Alder Co."`, "", ""}}},
		{"a rank in one of two readings", func(w *world) {
			s := w.stone("s1", 1, man("Col", "John"))
			c := man("John", "")
			c.Service.Rank = "colonel"
			s.Readings = []model.Reading{{People: []model.Claim{man("Col", "John")}, Probability: 0.7}, {People: []model.Claim{c}, Probability: 0.3}}
		}, []want{{"s1", model.PrivateStone, 0.27, 0.27, "", "the stone gives a rank: colonel", "", ""}}},
		{"an unknown block", func(w *world) {
			s := w.stone("s1", 0.6, model.Claim{})
			s.Readings[0] = model.Reading{Unknown: true, GraveNumber: "17", Probability: 1}
		}, nil},
		{"buried here by the burial column, no stone", func(w *world) { w.record("r1", buried(holden, "Old Mill Cem., Alder Co.")) },
			[]want{{"r1", model.NoStone, 0.97, 0.97, "civil-war", `John Holden, Company F, 31st Wisconsin Infantry, burial place: the roster says "Old Mill Cem., Alder Co." (roster.csv, row 2)`, "a person's decision", "where in the ground he lies"}}},
		{"buried here by the remarks, no stone", func(w *world) {
			w.record("r1", remarks(holden, "Died of disease at Nashville, Tenn., Feb. 3, 1863. Buried in Old Mill Cem."))
		}, []want{{"r1", model.NoStone, 0.92, 0.92, "civil-war", "no stone recorded in this survey is likely to be his", "", ""}}},
		{"buried here under a former name of the ground", func(w *world) { w.record("r1", buried(holden, "Harlan burying ground")) },
			[]want{{"r1", model.NoStone, 0.92, 0.92, "civil-war", "once called Harlan Burying Ground", "", ""}}},
		{"buried here, and a stone", func(w *world) {
			w.stone("s1", 0, holden)
			w.record("r1", buried(holden, "Old Mill Cem., Alder Co."))
			w.propose("s1", "r1", 0.97)
		}, nil},
		{"buried here, and a stone of his name and regiment that linking gave to another", func(w *world) {
			w.stone("s1", 0, holden)
			w.record("r1", buried(holden, "Old Mill Cem., Alder Co."))
			w.propose("s1", "r1", 0.3)
		}, nil},
		{"buried here, and a stone that is doubtful", func(w *world) {
			w.stone("s1", 0, man("Holden", "J"))
			w.record("r1", buried(holden, "Old Mill Cem., Alder Co."))
			w.propose("s1", "r1", 0.3)
		}, []want{{"r1", model.NoStone, 0.87, 0.88, "civil-war", "the nearest is s1 with 10% (propose says 30%, but nothing on that stone speaks of service", "", ""}}},
		{"buried here, and the stone was refused", func(w *world) {
			w.stone("s1", 0, holden)
			w.record("r1", buried(holden, "Old Mill Cem., Alder Co."))
			w.propose("s1", "r1", 0.97)
			w.decide("s1", "r1", model.Refused)
		}, []want{{"r1", model.NoStone, 0.97, 0.97, "civil-war", "", "", ""}}},
		{"buried here, and one of two men of a family stone", func(w *world) {
			w.stone("s1", 0, holden)
			w.record("r1", buried(holden, "Old Mill Cem., Alder Co."))
			w.record("r2", soldier("Holden", "James"))
			w.decide("s1", "r1", model.Confirmed)
			w.decide("s1", "r2", model.Confirmed)
		}, nil},
		{"buried in a ground of like name", func(w *world) { w.record("r1", buried(holden, "Old Mill Cem., Knox Co., Ill.")) }, nil},
		{"the burial column has a town, the remarks name the ground", func(w *world) {
			w.record("r1", remarks(buried(holden, "Alder Falls, Wis."), "Interred in Old Mill Cem."))
		}, []want{{"r1", model.NoStone, 0.92, 0.92, "civil-war", `remarks: the roster says "Interred in Old Mill Cem."`, "", ""}}},
		{"buried elsewhere, the remarks speak of a moved body", func(w *world) {
			w.record("r1", remarks(buried(holden, "Nashville Nat. Cem."), "not buried in Old Mill Cem."))
		}, nil},
		{"buried in a ground that nobody walked", func(w *world) {
			w.unwalked = true
			w.record("r1", buried(holden, "Old Mill Cem., Alder Co."))
		}, []want{{"r1", model.NoStone, 0.46, 0.47, "civil-war", "nobody has recorded stones in that ground yet", "", ""}}},
		{"one man in two rosters", func(w *world) {
			w.record("r1", remarks(holden, "Buried in Old Mill Cem."))
			w.record("r2", buried(holden, "Old Mill Cem., Alder Co."))
			w.record("r3", buried(soldier("Holden", "James"), "Old Mill Cem., Alder Co."))
		}, []want{{"r2", model.NoStone, 0.97, 0.97, "civil-war", "record r1 (roster.csv, row 2) says the same", "", ""}, {"r3", model.NoStone, 0.97, 0.97, "civil-war", "", "", ""}}},
		{"a register's row and no stone", func(w *world) {
			w.stone("s1", 0, soldier("Other", "Amos"))
			w.register("g1", soldier("Hoyt", "Nathan"))
		}, []want{{"g1", model.NoStone, 0.96, 0.98, "civil-war", "the burial register has Nathan Hoyt in Old Mill Cemetery (register.csv, row 3)", "private stone already", "where in the ground"}}},
		{"a register's row of a ground that nobody walked", func(w *world) { w.register("g1", soldier("Hoyt", "Nathan")) }, nil},
		{"a register's row and the man's stone, by the record", func(w *world) {
			w.stone("s1", 0, soldier("Hoyt", "N"))
			w.register("g1", soldier("Hoyt", "Nathan"))
			w.record("r1", soldier("Hoyt", "Nathan"))
			w.propose("s1", "r1", 0.97)
			w.propose("g1", "r1", 0.97)
		}, nil},
		{"a register's row and a stone of the name", func(w *world) {
			w.stone("s1", 0, man("Hoyt", "Nathan"))
			w.register("g1", soldier("Hoyt", "Nathan"))
		}, nil},
		{"a register's civilian", func(w *world) {
			w.stone("s1", 0, soldier("Other", "Amos"))
			w.register("g1", man("Holcomb", "Sarah"))
		}, nil},
		{"a register's widow", func(w *world) {
			w.stone("s1", 0, soldier("Other", "Amos"))
			c := soldier("Hoyt", "Ann")
			c.Person.Relation = "wife"
			w.register("g1", c)
		}, nil},
		{"no stones, no records", func(*world) {}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := &world{}
			tt.build(w)
			if w.subjects == nil && w.records != nil && !w.unwalked {
				w.stone("s0", 1, man("Nobody", "Else"))
			}
			found := Find(w.input())
			if len(found) != len(tt.want) {
				t.Fatalf("found %d, want %d: %+v", len(found), len(tt.want), found)
			}
			for i, want := range tt.want {
				x := found[i]
				id := string(x.Stone) + string(x.Record)
				if id != want.id || x.Kind != want.kind || x.Probability < want.from-1e-9 || x.Probability > want.to+1e-9 || x.Conflict != want.conflict {
					t.Errorf("%s %s %q %.4f, want %s %s %q %.2f to %.2f", id, x.Kind, x.Conflict, x.Probability, want.id, want.kind, want.conflict, want.from, want.to)
				}
				if r := strings.Join(x.Reasons, "\n"); !strings.Contains(r, want.reason) {
					t.Errorf("reasons:\n%s\nwant %q", r, want.reason)
				}
				s := strings.Join(x.ToShow, "\n")
				if !strings.Contains(s, want.mustToShow) || want.notToShow != "" && strings.Contains(s, want.notToShow) {
					t.Errorf("to show:\n%s\nwant %q and not %q", s, want.mustToShow, want.notToShow)
				}
				if len(x.ToShow) < 3 {
					t.Errorf("only %d things are to be shown", len(x.ToShow))
				}
			}
		})
	}
}

// The formula, worked by hand: a design 0.9 not government's and 0.1 unknown is 0.95; a unit is 0.97 and a record of 0.5 joins it to
// 1 - 0.03*0.5 = 0.985; a government stone has the man with 0.4*0.98 through the same record at 0.5, 0.196 in all;
// 0.95 * 0.985 * 0.804 = 0.7523.
func TestFormula(t *testing.T) {
	w := &world{}
	s := w.stone("s1", 0.9, soldier("Holden", "John"))
	s.Implies.Patterns = []model.Weighted[model.PatternCode]{{Code: model.NotGovernment, Probability: 0.9}, {Code: model.UnknownPattern, Probability: 0.1}}
	w.stone("s2", 0.02, man("Holden", "J"))
	w.record("r1", soldier("Holden", "John"))
	w.propose("s1", "r1", 0.5)
	w.propose("s2", "r1", 0.4)
	found := Find(w.input())
	if len(found) != 1 || found[0].Probability != 0.7523 {
		t.Errorf("found %+v, want 0.7523", found)
	}
}

func TestToShow(t *testing.T) {
	tests := []struct {
		name       string
		change     func(*model.Claim)
		has, hasNo string
	}{
		{"Union", func(c *model.Claim) {}, "index T288 or T289", "record group 109"},
		{"Confederate", func(c *model.Claim) { c.Service.Side = model.Confederate }, "record group 109", "T288"},
		{"US Colored Troops", func(c *model.Claim) { c.Service.Unit.Body = model.BodyUSCT }, "US Colored Troops", "109"},
		{"navy", func(c *model.Claim) { c.Service.Branch = "navy" }, "record group 24", "record group 94"},
		{"marines", func(c *model.Claim) { c.Service.Branch = "marine-corps" }, "record group 127", "record group 94"},
		{"revenue cutters", func(c *model.Claim) { c.Service.Branch = "revenue-cutter" }, "record group 26", "record group 94"},
		{"war with Spain", func(c *model.Claim) { c.Service.Conflicts = []model.ConflictCode{"spanish-american-war"} }, "volunteers to 1902", "109"},
		{"First World War", func(c *model.Claim) { c.Service.Conflicts = []model.ConflictCode{"world-war-i"} }, "Standard Form 180", "let any individual ask"},
		{"navy in the First World War", func(c *model.Claim) {
			c.Service.Branch, c.Service.Conflicts = "navy", []model.ConflictCode{"world-war-i"}
		}, "Standard Form 180", "record group 24"},
		{"Mexican War", func(c *model.Claim) { c.Service.Conflicts = []model.ConflictCode{"mexican-war"} }, "bounty land warrant", "109"},
		{"no war known", func(c *model.Claim) { c.Service.Conflicts = nil }, "pension index T288 or T289 first", "109"},
		{"before 1917", func(c *model.Claim) {}, "before 6 April 1917", "next of kin"},
		{"date of death not known", func(c *model.Claim) {}, "his date of death", "\n\n"},
		{"date of death known", func(c *model.Claim) { c.Person.Died = date.Date{EDTF: "1891-05-02"} }, "proof of his service", "his date of death"},
	}
	for _, tt := range tests {
		w := &world{}
		c := soldier("Holden", "John")
		tt.change(&c)
		w.stone("s1", 1, c)
		found := Find(w.input())
		if len(found) != 1 {
			t.Errorf("%s: %d findings", tt.name, len(found))
			continue
		}
		s := strings.Join(found[0].ToShow, "\n")
		if !strings.Contains(s, tt.has) || strings.Contains(s, tt.hasNo) {
			t.Errorf("%s:\n%s\nwant %q and not %q", tt.name, s, tt.has, tt.hasNo)
		}
	}
}

// Nothing that is printed says what only the agency can say, and every service that a finding may ask for is in the table.
func TestWords(t *testing.T) {
	var all []string
	services := map[string]bool{}
	for _, p := range Proofs() {
		all = append(all, p.String())
		services[p.Need+" "+p.Service] = true
		for _, key := range strings.Fields(p.Source) {
			if _, _, ok := vocab.Source(key); !ok {
				t.Errorf("%s: source %q is not known", p.Text, key)
			}
		}
	}
	all = append(all, Cautions()...)
	for _, s := range all {
		if low := strings.ToLower(s); strings.Contains(low, "eligib") || strings.Contains(low, "entitle") || strings.Contains(low, "qualif") {
			t.Errorf("%q says what only the agency can say", s)
		}
	}
	for _, s := range []string{"civil-war/union", "civil-war/usct", "civil-war/confederate", "spanish-american-war", "philippine-war", "before-1861", "navy",
		"marine-corps", "coast-guard", "since-1917", "unknown"} {
		if !services["service "+s] {
			t.Errorf("no proof of service for %s", s)
		}
	}
	for _, c := range vocab.Conflicts() {
		if s := kindOfService(model.Claim{}, nil, c.Code); !services["service "+s] || s == "unknown" && c.Code != "mexican-border" {
			t.Errorf("service in the war %s is asked for as %q", c.Code, s)
		}
	}
	if c := Cautions(); len(c) < 6 || !strings.Contains(c[0], "decided by the agency") {
		t.Errorf("cautions: %q", c)
	}
	for _, r := range vocab.Rows("unmarked-weights") {
		if w := r.Float("value"); w <= 0 || w >= 1 && !strings.HasSuffix(r.Get("key"), "-bits") {
			t.Errorf("%s: %v is no chance", r.Where(), w)
		}
	}
}

// The order of the input changes nothing.
func TestDeterministic(t *testing.T) {
	w := &world{}
	for i := range 12 {
		c := soldier("Holden", string(rune('A'+i))+"lbert")
		w.stone(fmt.Sprint("s", i), 0.9, c)
		w.record(fmt.Sprint("r", i), buried(soldier("Stone", string(rune('A'+i))+"lbert"), "Old Mill Cem., Alder Co."))
		w.propose(fmt.Sprint("s", i), fmt.Sprint("r", (i+1)%12), 0.3)
		w.propose(fmt.Sprint("s", i), fmt.Sprint("r", (i+2)%12), 0.3)
	}
	want, err := json.Marshal(Find(w.input()))
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(7, 8))
	for range 5 {
		r.Shuffle(len(w.subjects), func(i, j int) { w.subjects[i], w.subjects[j] = w.subjects[j], w.subjects[i] })
		r.Shuffle(len(w.proposals), func(i, j int) { w.proposals[i], w.proposals[j] = w.proposals[j], w.proposals[i] })
		r.Shuffle(len(w.records), func(i, j int) { w.records[i], w.records[j] = w.records[j], w.records[i] })
		got, _ := json.Marshal(Find(w.input()))
		if !bytes.Equal(got, want) {
			t.Fatalf("the order of the input changes the findings:\n%s", cmp.Diff(string(want), string(got)))
		}
	}
}

func ExampleFind() {
	unit := model.Unit{State: "WI", Number: 31, Arm: "infantry", Company: "F", Written: "CO. F 31ST WIS. INF."}
	stone := &model.Subject{
		Stone:    &model.Stone{ID: "OM-14", Place: model.Place{Cemetery: "Old Mill Cemetery", County: "Alder", State: "WI"}},
		Readings: []model.Reading{{People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: "Bardwell", Given: "Lewis"}}, Service: model.Service{Unit: unit}}}, Probability: 1}},
		Implies:  model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: model.NotGovernment, Probability: 1}}},
	}
	for _, f := range Find(Input{Subjects: []*model.Subject{stone}}) {
		fmt.Printf("%s %s %.2f\n", f.Stone, f.Kind, f.Probability)
		for _, r := range f.Reasons {
			fmt.Println("-", r)
		}
	}
	// Output:
	// OM-14 private-stone 0.97
	// - the stone gives a unit: "CO. F 31ST WIS. INF."
	// - the marker looks like none that the government furnished
}

func BenchmarkFind(b *testing.B) {
	w := &world{}
	for i := range 1000 {
		c := soldier(fmt.Sprint("Surname", i%300), "John")
		w.stone(fmt.Sprint("s", i), float64(i%2), c)
		w.propose(fmt.Sprint("s", i), fmt.Sprint("r", i), 0.9)
	}
	for i := range 20000 {
		c := remarks(soldier(fmt.Sprint("Surname", i%3000), "John"), "Died of disease at Nashville, Tenn., Feb. 3, 1863")
		if i%50 == 0 {
			c.Service.Remarks = "Buried in Old Mill Cem."
		}
		w.record(fmt.Sprint("r", i), c)
	}
	in := w.input()
	for b.Loop() {
		Find(in)
	}
}

// What stands already is told as what it is, whichever kind comes first.
func TestSummaryMarkers(t *testing.T) {
	for _, tt := range []struct {
		kinds []string
		want  string
	}{
		{[]string{model.FailingMarker, model.FailingMarker}, "Besides: 2 government markers that are broken, sunk or past reading"},
		{[]string{model.WrongMarker, model.FailingMarker, model.SecondMarker}, "Besides: 1 government marker that something contradicts, 1 that is broken, sunk or past reading, 1 that may be one man's second"},
		{[]string{model.SecondMarker, model.UnknownLead}, "Besides: 1 government marker that may be one man's second, 1 unknown with a lead to a name"},
	} {
		var found []model.Finding
		for _, k := range tt.kinds {
			found = append(found, model.Finding{Kind: k})
		}
		if got := Summary(found); !strings.HasSuffix(got, tt.want) {
			t.Errorf("%v: %q, want %q", tt.kinds, got, tt.want)
		}
	}
}
