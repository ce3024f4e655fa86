package index

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"testing"

	"musterstone/model"
)

// TestWeakTies: where more men have the stone's names, or nearly, than there are candidates, its man is among these by what else is known.
func TestWeakTies(t *testing.T) {
	const crowd = 80 // more than a stone has candidates
	var none [2]model.ConflictCode
	for _, test := range []struct {
		what  string
		stone model.Claim
		man   string
		rest  string                // the men who would leave no place for him; %d is a number
		wars  [2]model.ConflictCode // his, and theirs
	}{
		{"men of the Veteran Reserve Corps stand with their regiments", claim("John Larkin", "Co. B, 9th V. R. C.", 0), "Larkin, John | Co. F, 31st Wis. Inf.", "Larkin, J. | Co. B, %dth V. R. C.", none},
		{"too young for that war", claim("John Larkin", "", 1896), "Larkin, John | Co. C, 339th Wis. Inf.", "Larkin, John | Co. F, %dth Wis. Inf.", [2]model.ConflictCode{"world-war-i", "civil-war"}},
		{"initials the other way round", claim("A. J. Larkin", "", 0), "Larkin, John A. | Co. F, 31st Wis. Inf.", "Larkin, Zadok | Co. B, %dth Wis. Inf.", none},
		{"a given name that is none", claim("Priedrich Larkin", "", 0), "Larkin, Frederick | Co. F, 31st Wis. Inf.", "Larkin, Zadok | Co. B, %dth Wis. Inf.", none},
		{"a surname rendered in English", claim("August Zimmermann", "", 0), "Carpenter, August | Co. F, 31st Wis. Inf.", "Zimmermann, Zadok | Co. B, %dth Wis. Inf.", none},
		{"one given name alone", claim("John Larkin", "", 0), "Larkin, John | Co. F, 31st Wis. Inf.", "Larkin, John Q. | Co. B, %dth Wis. Inf.", none},
	} {
		var records []*model.Record
		add := func(line string, war model.ConflictCode) {
			r := man(fmt.Sprintf("R%d | %s", len(records), line))
			if war != "" {
				r.Service.Conflicts = []model.ConflictCode{war}
			}
			records = append(records, r)
		}
		for i := range crowd {
			add(fmt.Sprintf(test.rest, 5+i), test.wars[1])
		}
		add(test.man, test.wars[0])
		x := open(t, t.TempDir(), inputs(records, "a"))
		found, err := x.Candidates(context.Background(), subject("S", test.stone), 0)
		if err != nil {
			t.Fatal(err)
		}
		if id := model.RecordID(fmt.Sprintf("R%d", crowd)); !slices.Contains(ids(found), id) {
			t.Errorf("%s: %s is not among the %d candidates", test.what, test.man, len(found))
		}
	}
}

// TestInitialsSayLess: where namesakes with an initial alone are more than a stone has candidates, the man with the very name is among these, though the name is a common one.
func TestInitialsSayLess(t *testing.T) {
	records := []*model.Record{}
	add := func(line string) { records = append(records, man(fmt.Sprintf("R%d | %s", len(records), line))) }
	for i := range 80 {
		add(fmt.Sprintf("Larkin, J. | Co. B, %dth Wis. Inf.", 5+i))
	}
	add("Larkin, John | Co. F, 31st Wis. Inf.")
	for i := range 400 {
		given := "William"
		switch {
		case i%20 == 0:
			given = "W."
		case i%20 < 9:
			given = "John"
		}
		add(fmt.Sprintf("Holden, %s | Co. C, %dth Wis. Inf.", given, 5+i%80))
	}
	x := open(t, t.TempDir(), inputs(records, "a"))
	found, err := x.Candidates(context.Background(), subject("S", claim("John Larkin", "", 0)), 0)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(ids(found), "R80") {
		t.Errorf("John Larkin is not among the %d candidates, all of them J. Larkin", len(found))
	}
}

// TestLikelierFirst: of records that fit as well, the one of the likelier reading comes first, and the one of the names as the clerk wrote them.
func TestLikelierFirst(t *testing.T) {
	x := open(t, t.TempDir(), inputs([]*model.Record{
		man("R0 | Lorkin, John | Co. F, 31st Wis. Inf."), man("R1 | Larkin, John | Co. F, 31st Wis. Inf."),
		man("R2 | Allen, Perrin | Co. F, 31st Wis. Inf."), man("R3 | Perrin, Allen | Co. F, 31st Wis. Inf."),
	}, "a"))
	first := func(s *model.Subject) model.RecordID {
		found, err := x.Candidates(context.Background(), s, 0)
		if err != nil {
			t.Fatal(err)
		}
		return append(ids(found), "")[0]
	}
	two := subject("S", claim("John Larkin", "", 0), claim("John Lorkin", "", 0))
	for i, want := range []model.RecordID{"R1", "R0"} {
		two.Readings[i].Probability, two.Readings[1-i].Probability = .9, .1
		slices.SortFunc(two.Readings, func(a, b model.Reading) int { return cmp.Compare(b.Probability, a.Probability) })
		if got := first(two); got != want {
			t.Errorf("where %s is the likelier reading, %s comes first", two.Reading().Claim().Person.Name.Surname, got)
		}
		slices.SortFunc(two.Readings, func(a, b model.Reading) int {
			return cmp.Compare(a.People[0].Person.Name.Surname, b.People[0].Person.Name.Surname)
		})
	}
	row := subject("S", claim("Allen Perrin", "", 0))
	row.Stone.Register = new(model.Claim)
	if got := first(row); got != "R3" {
		t.Errorf("for the row Perrin, Allen of a register, %s comes first", got)
	}
}

// TestFewOfSeveral: where as many are found for one reading as are wanted, the next reading's records that fit better still come before them, by however little.
func TestFewOfSeveral(t *testing.T) {
	x := open(t, t.TempDir(), inputs([]*model.Record{
		man("R0 | Lorkin, John | Co. F, 31st Wis. Inf."), man("R1 | Lorkin, John | Co. F, 31st Wis. Inf."), man("R2 | Larkin, John | Co. F, 31st Wis. Inf."),
	}, "a"))
	for _, names := range [][2]string{{"John Larkin", "John Lorkin"}, {"John Lorkin", "John Larkin"}} {
		s := subject("S", claim(names[0], "", 0), claim(names[1], "", 0))
		s.Readings[0].Probability, s.Readings[1].Probability = .5, .5
		all, err := x.Candidates(context.Background(), s, 0)
		if err != nil {
			t.Fatal(err)
		}
		one, err := x.Candidates(context.Background(), s, 1)
		if err != nil {
			t.Fatal(err)
		}
		if len(all) != 3 || len(one) != 1 || all[0].ID != "R2" || one[0].ID != "R2" {
			t.Errorf("%q: of all %v, of one %v; want R2, the only Larkin, first", names, ids(all), ids(one))
		}
	}
}

// TestOneSound: of two surnames a letter off, the one that sounds as the stone's comes first.
func TestOneSound(t *testing.T) {
	x := open(t, t.TempDir(), inputs([]*model.Record{man("R0 | Larkid, John | Co. F, 31st Wis. Inf."), man("R1 | Larken, John | Co. F, 31st Wis. Inf.")}, "a"))
	found, err := x.Candidates(context.Background(), subject("S", claim("John Larkin", "", 0)), 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := ids(found); !slices.Equal(got, []model.RecordID{"R1", "R0"}) {
		t.Errorf("for Larkin %v are found, want Larken before Larkid", got)
	}
}

// TestOfAnotherState: that a man served for another state than the ground's is held against him by as many as served for that one.
func TestOfAnotherState(t *testing.T) {
	held := func(atHome int) int32 {
		records := []*model.Record{man("R0 | Larkin, John | Co. F, 31st Wis. Inf."), man("R1 | Larkin, John | Co. F, 3rd U. S. Inf.")}
		for i := range 100 {
			state := "Ohio"
			if i < atHome {
				state = "Iowa"
			}
			records = append(records, man(fmt.Sprintf("X%d | Holden, Amos | Co. C, %dth %s Inf.", i, 5+i%40, state)))
		}
		x := open(t, t.TempDir(), inputs(records, fmt.Sprint(atHome)))
		s := subject("S", claim("John Larkin", "", 0))
		s.Stone.Place.State = "IA"
		found, err := x.best(context.Background(), s, 2)
		if err != nil {
			t.Fatal(err)
		}
		score := map[uint32]int32{}
		for _, f := range found {
			score[f.at()] = f.score()
		}
		if len(score) != 2 || score[0] == 0 || score[1] == 0 {
			t.Fatalf("%v are found, want both Larkins", found)
		}
		return score[1] - score[0]
	}
	// In sixteenths of a bit, beside a regular, who is of no state: log2(1 + 2 × the share of Iowa's), .03 and 1.47 bits.
	if few, most := held(1), held(90); few > 1 || most < 22 || most > 25 {
		t.Errorf("where 1 of 102 is of Iowa %d sixteenths of a bit are held against him, where 90 are %d; want 0 or 1, and 22 to 25", few, most)
	}
}
