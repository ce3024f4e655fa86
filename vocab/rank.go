package vocab

import (
	"slices"
	"strings"
	"sync"

	"musterstone/model"
)

// RankRow is one rank or rate.
type RankRow struct {
	Rank   model.Rank
	Branch model.Branch // "" where more than one branch has it
	// Class is "enlisted", "petty-officer", "warrant", "officer", "staff" (an officer of the staff, or one with a profession), "general" or "civilian".
	Class string
	// Step is the place on one ladder for all branches: 2 a private, 4 a corporal, 5 a sergeant, 7 a first sergeant, 11 a
	// second lieutenant, 13 a captain, 16 a colonel, 17 and more the generals; 0 for those not in the service. The steps of
	// specialists and of the navy are a judgement.
	Step int
	// From and To are the years in which the rank was in use; 0 where open or not known.
	From, To int
	Source   string
}

// Officer reports whether the rank is that of an officer, warrant officers left out.
func (r RankRow) Officer() bool {
	return r.Class == "officer" || r.Class == "staff" || r.Class == "general"
}

// RankForm is one way in which a rank has been written.
type RankForm struct {
	Form string
	Rank model.Rank
	// From and To are the years in which the form meant that rank; 0 where open.
	From, To     int
	Note, Source string
}

type rankTable struct {
	rows   []RankRow
	byRank map[model.Rank]int
	forms  []Row
	byKey  map[string]int32 // the first of the forms with that key
	next   []int32          // and the next with the same, 0 for none
}

var ranks = sync.OnceValue(func() *rankTable {
	t := &rankTable{byRank: map[model.Rank]int{}, byKey: map[string]int32{}}
	last := map[string]int32{}
	for _, r := range Rows("ranks") {
		row := RankRow{
			Rank: model.Rank(r.Get("rank")), Branch: model.Branch(r.Get("branch")), Class: r.Get("class"), Step: r.Int("step"),
			From: r.Int("from"), To: r.Int("to"), Source: r.Get("source"),
		}
		t.byRank[row.Rank] = len(t.rows)
		t.rows = append(t.rows, row)
	}
	t.forms = Rows("rank-forms")
	t.next = make([]int32, len(t.forms))
	for i, r := range t.forms {
		at, k := int32(i), Key(r.Get("form"))
		if before, ok := last[k]; ok {
			t.next[before] = at
		} else {
			t.byKey[k] = at
		}
		last[k] = at
	}
	return t
})

// Rank finds the rank that a form of any period means, whatever its case and points: "1ST SERGT", "2/LT", "Com. Sergt.".
// Where a form has meant several ranks the commonest is given: see RankForms. Misspellings are not guessed at.
func Rank(text string) (model.Rank, bool) {
	t := ranks()
	at, ok := t.byKey[Key(text)]
	if !ok {
		return "", false
	}
	return model.Rank(t.forms[at].Get("rank")), true
}

// RankForms are all the meanings of a form as a rank, commonest first; nil where it is none.
func RankForms(text string) []RankForm {
	t := ranks()
	at, ok := t.byKey[Key(text)]
	if !ok {
		return nil
	}
	list := []RankForm{formOf(t.forms[at])}
	for at = t.next[at]; at > 0; at = t.next[at] {
		list = append(list, formOf(t.forms[at]))
	}
	return list
}

// AllRankForms are all the forms that the program knows, in the order of the table.
func AllRankForms() []RankForm {
	t := ranks()
	all := make([]RankForm, len(t.forms))
	for i, r := range t.forms {
		all[i] = formOf(r)
	}
	return all
}

func formOf(r Row) RankForm {
	return RankForm{
		Form: r.Get("form"), Rank: model.Rank(r.Get("rank")), From: r.Int("from"), To: r.Int("to"), Note: r.Get("note"), Source: r.Get("source"),
	}
}

// Ranks are all ranks and rates, in the order of the table.
func Ranks() []RankRow { return slices.Clone(ranks().rows) }

// RankOf is the row of a rank by its full trade name.
func RankOf(rank model.Rank) (RankRow, bool) {
	i, ok := ranks().byRank[rank]
	if !ok {
		return RankRow{}, false
	}
	return ranks().rows[i], true
}

// RankIn finds a rank at the head of longer words, taking as many words as it can: "PVT CO L 20TH INF" is a private, and
// "CO L 20TH INF" is left. Brevet is set for "BVT. BRIG. GEN." and its like.
func RankIn(text string) (rank model.Rank, brevet bool, rest string, ok bool) {
	words := strings.Fields(text)
	if len(words) > 1 {
		switch Key(words[0]) {
		case "bvt", "brvt", "brevet", "brev":
			brevet = true
			words = words[1:]
		}
	}
	for n := min(len(words), 6); n > 0; n-- {
		if rank, ok = Rank(strings.Join(words[:n], " ")); ok {
			return rank, brevet, strings.Trim(strings.Join(words[n:], " "), " ,;"), true
		}
	}
	return "", false, text, false
}
