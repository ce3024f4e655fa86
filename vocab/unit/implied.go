package unit

import (
	"cmp"
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
			code = words.Letters(code)
		}
		m[[2]string{what, code}] = Implication{model.Branch(r.Get("branch")), model.Side(r.Get("side")), model.ConflictCode(r.Get("conflict"))}
	}
	return m
})

// imply looks up, once for all, what a form, of that text, alone tells of those who served in what it names.
func (f *Form) imply(text string) {
	note := func(what, code string) {
		if code != "" {
			f.implies.merge(implications()[[2]string{what, code}])
		}
	}
	if f.Role == RoleShip {
		note("ship", words.Letters(text))
	}
	note("name", f.Name)
	note("kind", string(f.Kind))
	note("arm", string(f.Arm))
	for _, mark := range f.Marks {
		note("mark", mark)
	}
}

// merge fills what is not told yet.
func (i *Implication) merge(other Implication) {
	i.Branch = cmp.Or(i.Branch, other.Branch)
	i.Side = cmp.Or(i.Side, other.Side)
	i.Conflict = cmp.Or(i.Conflict, other.Conflict)
}

// Implied is what the name of a unit alone tells, of which the parts are those that it was put together of: pioneer infantry was of the First World War, a "C. S. S." of
// the Confederate navy.
func Implied(u *model.Unit, parts []Part) Implication {
	var told Implication
	if u.Body != "" {
		told.Side = vocab.BodySide(u.Body)
	}
	for k := range parts {
		if f := parts[k].Form; f != nil && f.implies != (Implication{}) {
			told.merge(f.implies)
		}
	}
	return told
}
