package unit

import (
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/words"
)

// Implication is what a unit's name alone tells of those who served in it; what it does not tell is empty.
type Implication struct {
	Branch   model.Branch
	Side     model.Side
	Conflict model.ConflictCode
}

// implications are the rows of unit-implies.csv, by what they are of and its code.
var implications = sync.OnceValue(func() map[[2]string]Implication {
	m := map[[2]string]Implication{}
	for _, r := range vocab.Rows("unit-implies") {
		what, code := r.Get("what"), r.Get("code")
		if what == "ship" {
			code = letters(code)
		}
		m[[2]string{what, code}] = Implication{model.Branch(r.Get("branch")), model.Side(r.Get("side")), model.ConflictCode(r.Get("conflict"))}
	}
	return m
})

// sides are the sides on which bodies of troops fought: bodies.csv.
var sides = sync.OnceValue(func() map[model.Body]model.Side {
	m := map[model.Body]model.Side{}
	for _, r := range vocab.Rows("bodies") {
		m[model.Body(r.Get("code"))] = model.Side(r.Get("side"))
	}
	return m
})

// Implied is what the name of a unit alone tells, of which the parts are those that it was put together of: pioneer infantry was of the First World War, a "C. S. S." of
// the Confederate navy.
func Implied(t *words.Text, u *model.Unit, parts []Part) Implication {
	told := Implication{Side: sides()[u.Body]}
	note := func(what, code string) {
		if code == "" {
			return
		}
		i := implications()[[2]string{what, code}]
		if told.Branch == "" {
			told.Branch = i.Branch
		}
		if told.Side == "" {
			told.Side = i.Side
		}
		if told.Conflict == "" {
			told.Conflict = i.Conflict
		}
	}
	for k := range parts {
		if p := &parts[k]; p.Role == RoleShip {
			note("ship", t.Join(p.From, p.NameFrom))
		}
	}
	note("name", u.Name)
	note("kind", string(u.Kind))
	note("arm", string(u.Arm))
	for _, mark := range u.Marks {
		note("mark", mark)
	}
	return told
}

// letters is a text's letters and digits alone, in capitals.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if notLetter(r) {
			return -1
		}
		return r
	}, strings.ToUpper(s))
}
