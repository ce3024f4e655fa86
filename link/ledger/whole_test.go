package ledger

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// TestStoneAsAWhole: none of these, not sure, and how they and decisions on records set each other aside, whatever the clock does.
func TestStoneAsAWhole(t *testing.T) {
	tests := []struct {
		name  string
		steps []string // "ann none", "ann confirmed r1", "ann withdraws none", "ann withdraws r1"
		want  string   // none, unsure, disputed, confirmed r1, open
	}{
		{"none", []string{"ann none"}, "none"},
		{"unsure", []string{"ann unsure"}, "unsure"},
		{"none after unsure", []string{"ann unsure", "ann none"}, "none"},
		{"unsure after none", []string{"ann none", "ann unsure"}, "unsure"},
		{"a confirmation ends not sure", []string{"ann unsure", "ann confirmed r1"}, "confirmed r1"},
		{"a confirmation ends none", []string{"ann none", "ann confirmed r1"}, "confirmed r1"},
		{"none ends a confirmation", []string{"ann confirmed r1", "ann none"}, "none"},
		{"and back", []string{"ann none", "ann confirmed r1", "ann none"}, "none"},
		{"and back again", []string{"ann confirmed r1", "ann none", "ann confirmed r1"}, "confirmed r1"},
		{"not sure any more", []string{"ann confirmed r1", "ann unsure"}, "unsure"},
		{"another person's none disputes", []string{"ann confirmed r1", "bob none"}, "disputed"},
		{"and another person's confirmation", []string{"bob none", "ann confirmed r1"}, "disputed"},
		{"the other's not sure does not", []string{"ann confirmed r1", "bob unsure"}, "confirmed r1"},
		{"none, withdrawn", []string{"ann none", "ann withdraws none"}, "open"},
		{"none again after that", []string{"ann none", "ann withdraws none", "ann none"}, "none"},
		{"he who said none comes round", []string{"ann confirmed r1", "bob none", "bob confirmed r1"}, "confirmed r1"},
		{"a refusal leaves not sure", []string{"ann unsure", "ann refused r1"}, "unsure"},
	}
	for _, step := range []time.Duration{time.Second, 0, -time.Hour} {
		for _, tt := range tests {
			t.Run(fmt.Sprintf("%s/%v", tt.name, step), func(t *testing.T) {
				path := fresh(t)
				l := open(t, path)
				l.Clock = ticking(step)
				for _, s := range tt.steps {
					w := strings.Fields(s + " -")
					switch {
					case w[1] == "withdraws":
						d, ok := l.voice("s1", "", w[0])
						if !ok {
							t.Fatal("nothing to withdraw")
						}
						if _, err := l.Withdraw(d.ID, w[0], ""); err != nil {
							t.Fatal(err)
						}
					case w[2] == "-":
						add(t, l, w[0], "s1", "", model.Verdict(w[1]))
					default:
						add(t, l, w[0], "s1", w[2], model.Verdict(w[1]))
					}
				}
				for _, l := range []*Ledger{l, open(t, path)} {
					if got := standsAs(l.State(), "s1"); got != tt.want {
						t.Errorf("stands %q, want %q", got, tt.want)
					}
					if l.Complaints() != nil {
						t.Errorf("complaints: %v", l.Complaints())
					}
				}
			})
		}
	}
}

func standsAs(s State, stone model.StoneID) string {
	switch {
	case s.DisputedStone(stone):
		return "disputed"
	case len(s.Confirmed(stone)) > 0:
		return fmt.Sprint("confirmed ", s.Confirmed(stone)[0])
	case s.NoneOf(stone):
		return "none"
	case s.UnsureOf(stone):
		return "unsure"
	}
	return "open"
}

// TestNoneRefusesAll: whoever says none of these refuses each record, also one that comes up later.
func TestNoneRefusesAll(t *testing.T) {
	l := open(t, fresh(t))
	add(t, l, "ann", "s1", "", model.NoneOfThese)
	if !l.State().Refused("s1", "any") || l.State().Refused("s2", "any") {
		t.Error("a none-of-these does not refuse the stone's records, or refuses another's")
	}
	if got := l.State().Pairs(); len(got) != 0 {
		t.Errorf("pairs: %v", got)
	}
}

func TestNotes(t *testing.T) {
	l := open(t, fresh(t))
	l.Clock = ticking(time.Second)
	note := func(by, text string) model.Decision {
		d, err := l.Append(model.Decision{By: by, Stone: "s1", As: model.Noted, Because: text})
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	add(t, l, "ann", "s1", "", model.Unsure)
	one := note("ann", "lichen over the regiment")
	note("bob", "look again in low sun")
	if n := l.State().Notes("s1"); len(n) != 2 || n[0].Because != "lichen over the regiment" {
		t.Errorf("notes: %v", n)
	}
	if !l.State().UnsureOf("s1") {
		t.Error("a note took the place of a decision")
	}
	if _, err := l.Withdraw(one.ID, "bob", ""); err == nil {
		t.Error("bob withdrew ann's note")
	}
	if _, err := l.Withdraw(one.ID, "ann", ""); err != nil {
		t.Fatal(err)
	}
	if n := l.State().Notes("s1"); len(n) != 1 || !l.State().UnsureOf("s1") {
		t.Errorf("after the withdrawal of a note: notes %v, unsure %v", n, l.State().UnsureOf("s1"))
	}
	if _, err := l.Append(model.Decision{By: "ann", Stone: "s1", As: model.Noted}); err == nil {
		t.Error("an empty note was written")
	}
	for _, v := range []model.Verdict{model.NoneOfThese, model.Unsure} {
		if _, err := l.Append(model.Decision{By: "ann", Stone: "s1", Record: "r1", As: v}); err == nil {
			t.Errorf("%s was written on a record", v)
		}
	}
}

// TestWholeMerge: the state of what people decided apart on stones as a whole is the same in whatever order the lines come.
func TestWholeMerge(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 40 {
		l := open(t, fresh(t))
		l.Clock = ticking(time.Duration(r.IntN(5)-2) * time.Second)
		for range 12 {
			by, stone := []string{"ann", "bob"}[r.IntN(2)], fmt.Sprint("s", r.IntN(2))
			switch v := []model.Verdict{model.Confirmed, model.Refused, model.NoneOfThese, model.Unsure, model.Noted}[r.IntN(5)]; v {
			case model.NoneOfThese, model.Unsure:
				add(t, l, by, stone, "", v)
			case model.Noted:
				if _, err := l.Append(model.Decision{By: by, Stone: model.StoneID(stone), As: v, Because: "a note"}); err != nil {
					t.Fatal(err)
				}
			default:
				add(t, l, by, stone, fmt.Sprint("r", r.IntN(2)), v)
			}
		}
		ds := l.Decisions()
		want := StateOf(slices.Values(ds))
		r.Shuffle(len(ds), func(i, j int) { ds[i], ds[j] = ds[j], ds[i] })
		if diff := cmp.Diff(want, StateOf(slices.Values(ds)), cmp.AllowUnexported(State{})); diff != "" {
			t.Fatalf("the order of lines changes the state:\n%s", diff)
		}
	}
}

func roster(rows ...string) []*model.Record {
	var rs []*model.Record
	for _, row := range rows { // id surname given company regiment
		w := strings.Fields(row)
		r := &model.Record{ID: model.RecordID(w[0]), Written: []model.Cell{{Column: "id", Value: w[0]}}}
		for i, c := range []string{"surname", "given", "company", "regiment"} {
			r.Written = append(r.Written, model.Cell{Column: c, Value: w[i+1]})
		}
		r.Person.Name = model.Name{Surname: strings.Trim(w[1], "*"), Given: w[2]}
		r.Service.Unit = model.Unit{State: "WI", Company: w[3]}
		fmt.Sscan(w[4], &r.Service.Unit.Number)
		rs = append(rs, r)
	}
	return rs
}

func follow(l *Ledger, rs []*model.Record) {
	l.Follow(func(id model.RecordID) (*model.Record, bool) {
		i := slices.IndexFunc(rs, func(r *model.Record) bool { return r.ID == id })
		if i < 0 {
			return nil, false
		}
		return rs[i], true
	}, slices.Values(rs))
}

// TestFollow: a newer download gives other ids, mends words, drops men.
func TestFollow(t *testing.T) {
	old := roster("1 Holden John F 31", "2 Baker William K 44", "3 Hale George F 31", "4 Ames Seth B 3", "5 Ames Seth B 3")
	path := fresh(t)
	l := open(t, path)
	l.Clock = ticking(time.Second)
	var made []model.Decision
	for i, r := range old[:4] {
		seen := &model.Seen{}
		SawRecord(seen, r)
		d, err := l.Append(model.Decision{By: "ann", Stone: model.StoneID(fmt.Sprint("s", i+1)), Record: r.ID, As: model.Confirmed, Seen: seen})
		if err != nil {
			t.Fatal(err)
		}
		made = append(made, d)
	}
	tests := []struct {
		name string
		now  []*model.Record
		want []string // of stones 1 to 4: the record, or ""
		lost int
	}{
		{"the same roster", old, []string{"1", "2", "3", "4"}, 0},
		{"numbered anew", roster("11 Holden John F 31", "12 Baker William K 44", "13 Hale George F 31", "14 Ames Seth B 3"), []string{"11", "12", "13", "14"}, 0},
		{"ids moved by one", roster("2 Holden John F 31", "3 Baker William K 44", "4 Hale George F 31", "1 Cole Amos F 31", "9 Ames Seth B 3"), []string{"2", "3", "4", "9"}, 0},
		{"a word mended under the same id", roster("1 *Holden John F 31", "2 Baker William K 44", "3 Hale George F 31", "4 Ames Seth B 3"), []string{"1", "2", "3", "4"}, 0},
		{"a word mended under another id", roster("7 *Holden John F 31", "2 Baker William K 44", "3 Hale George F 31", "4 Ames Seth B 3"), []string{"7", "2", "3", "4"}, 0},
		{"a man is gone", roster("2 Baker William K 44", "3 Hale George F 31", "4 Ames Seth B 3"), []string{"1", "2", "3", "4"}, 1},
		{"his id is another man's", roster("1 Cole Amos F 31", "2 Baker William K 44", "3 Hale George F 31", "4 Ames Seth B 3"), []string{"", "2", "3", "4"}, 1},
		{"two are like him", roster("1 Holden John F 31", "2 Baker William K 44", "3 Hale George F 31", "8 Ames Seth B 3", "9 Ames Seth B 3"), []string{"1", "2", "3", ""}, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := open(t, path)
			follow(l, tt.now)
			s := l.State()
			for i, want := range tt.want {
				got := s.Confirmed(model.StoneID(fmt.Sprint("s", i+1)))
				if want == "" && len(got) != 0 || want != "" && !slices.Equal(got, []model.RecordID{model.RecordID(want)}) {
					t.Errorf("stone s%d is confirmed for %v, want %q", i+1, got, want)
				}
			}
			if got := len(l.LostComplaints()); got != tt.lost {
				t.Errorf("%d lost, want %d: %v", got, tt.lost, l.Lost())
			}
		})
	}
	t.Run("withdrawn where it has gone", func(t *testing.T) {
		l := open(t, path)
		follow(l, tests[2].now)
		if _, err := l.Withdraw(made[0].ID, "ann", ""); err != nil {
			t.Fatal(err)
		}
		if got := l.State().Confirmed("s1"); len(got) != 0 {
			t.Errorf("still confirmed for %v", got)
		}
		follow(l, tests[6].now)
		if len(l.Lost()) != 0 {
			t.Errorf("a withdrawn decision is listed as lost: %v", l.Lost())
		}
	})
	t.Run("the file is not touched", func(t *testing.T) {
		before, _ := os.ReadFile(path)
		l := open(t, path)
		follow(l, tests[1].now)
		l.State()
		after, _ := os.ReadFile(path)
		if string(before) != string(after) {
			t.Error("following changed the ledger")
		}
	})
}

// TestOthersLineHidesNoLoss: a line written by hand that says to replace another person's decision replaces nothing, and the decision is told when its record goes.
func TestOthersLineHidesNoLoss(t *testing.T) {
	path := fresh(t)
	l := open(t, path)
	l.Clock = ticking(time.Second)
	seen := &model.Seen{}
	SawRecord(seen, roster("1 Holden John F 31")[0])
	hers, err := l.Append(model.Decision{By: "ann", Stone: "s1", Record: "1", As: model.Confirmed, Seen: seen})
	if err != nil {
		t.Fatal(err)
	}
	his, _, err := encode(model.Decision{ID: "by-hand", At: hers.At, By: "bob", Stone: "s1", Record: "1", As: model.Withdrawn, Supersedes: hers.ID}, "")
	if err != nil {
		t.Fatal(err)
	}
	if err := l.write(his); err != nil {
		t.Fatal(err)
	}
	l = open(t, path)
	follow(l, roster("1 Cole Amos F 31"))
	if lost := l.Lost(); len(lost) != 1 || lost[0].ID != hers.ID {
		t.Errorf("lost: %v, want ann's decision", lost)
	}
}

// TestRowNumbers: what a column of ids or running numbers says is no part of what a record says.
func TestRowNumbers(t *testing.T) {
	for column, want := range map[string]bool{"ID": true, " No. ": true, "record_id": true, "#": true, "regiment": false, "": false} {
		if got := isID(column); got != want {
			t.Errorf("%q: %v, want %v", column, got, want)
		}
	}
}

func TestShown(t *testing.T) {
	p := model.Proposal{Stone: "s1"}
	for i, chance := range []float64{0.5, 0.004, 0.003, 0.02, 0.002, 0.001, 0.001} {
		p.Candidates = append(p.Candidates, model.Candidate{Record: model.RecordID(fmt.Sprint("r", i)), Probability: chance})
	}
	p.Candidates[5].Decided = "refused"
	var got []string
	for _, c := range Shown(p, "r6").Candidates {
		got = append(got, string(c.Record))
	}
	if want := []string{"r0", "r1", "r3", "r5", "r6"}; !slices.Equal(got, want) {
		t.Errorf("shown %v, want %v", got, want)
	}
	if len(p.Candidates) != 7 {
		t.Error("the proposal itself was changed")
	}
}

// TestNoneBesideOthers: a none-of-these refuses a record also for him who had confirmed it and withdrew that, and holds of no stone of which somebody else has confirmed a record.
func TestNoneBesideOthers(t *testing.T) {
	at := time.Date(2024, 3, 1, 12, 0, 0, 0, time.UTC)
	state := func(ds ...model.Decision) State {
		for i := range ds {
			ds[i].ID, ds[i].At, ds[i].Stone = fmt.Sprint("d", i), at.Add(time.Duration(i)*time.Hour), "s1"
		}
		return StateOf(slices.Values(ds))
	}
	s := state(model.Decision{By: "ann", Record: "r1", As: model.Confirmed}, model.Decision{By: "ann", Record: "r1", As: model.Withdrawn, Supersedes: "d0"}, model.Decision{By: "ann", As: model.NoneOfThese})
	if h := s.Of("s1", "r1"); h.As != Refused || !s.Refused("s1", "r1") || !s.NoneOf("s1") {
		t.Errorf("confirmed, withdrawn, then none: %+v, none of these %v", h, s.NoneOf("s1"))
	}
	s = state(model.Decision{By: "ann", As: model.NoneOfThese}, model.Decision{By: "bob", Record: "r1", As: model.Confirmed})
	if h := s.Of("s1", "r1"); h.As != Disputed || s.NoneOf("s1") || s.UnsureOf("s1") || s.Refused("s1", "r1") {
		t.Errorf("one says none, another confirms: %+v, none of these %v, unsure %v", h, s.NoneOf("s1"), s.UnsureOf("s1"))
	}
}
