package vocab

import (
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
}

var ranks = sync.OnceValue(func() *rankTable {
	t := &rankTable{byRank: map[model.Rank]int{}, byKey: map[string]int32{}}
	for _, r := range Rows("ranks") {
		row := RankRow{
			Rank: model.Rank(r.Get("rank")), Branch: model.Branch(r.Get("branch")), Class: r.Get("class"), Step: r.Int("step"),
			From: r.Int("from"), To: r.Int("to"), Source: r.Get("source"),
		}
		t.byRank[row.Rank] = len(t.rows)
		t.rows = append(t.rows, row)
	}
	t.forms = Rows("rank-forms")
	for i, r := range t.forms {
		k := Key(r.Get("form"))
		if _, ok := t.byKey[k]; !ok {
			t.byKey[k] = int32(i)
		}
	}
	return t
})

// Rank finds the rank that a form of any period means, whatever its case and points: "1ST SERGT", "2/LT", "Com. Sergt.".
// Where a form has meant several ranks the commonest is given, which stands first in the table. Misspellings are not guessed at.
func Rank(text string) (model.Rank, bool) {
	t := ranks()
	at, ok := t.byKey[Key(text)]
	if !ok {
		return "", false
	}
	return model.Rank(t.forms[at].Get("rank")), true
}

var brevets = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, r := range Rows("brevet-forms") {
		m[r.Get("form")] = true
	}
	return m
})

// Brevet takes the word that makes a rank a brevet from before it: "Bvt. Maj." gives "Maj.".
func Brevet(text string) (rank string, ok bool) {
	i := strings.IndexAny(text, ". ")
	if i < 0 || !brevets()[strings.ToLower(text[:i])] {
		return "", false
	}
	rank = strings.TrimLeft(text[i:], ". ")
	return rank, rank != ""
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

// formOf is the form that a row tells of.
func formOf(r Row) RankForm {
	return RankForm{
		Form: r.Get("form"), Rank: model.Rank(r.Get("rank")), From: r.Int("from"), To: r.Int("to"), Note: r.Get("note"), Source: r.Get("source"),
	}
}

// RankOf is the row of a rank by its full trade name.
func RankOf(rank model.Rank) (RankRow, bool) {
	i, ok := ranks().byRank[rank]
	if !ok {
		return RankRow{}, false
	}
	return ranks().rows[i], true
}
