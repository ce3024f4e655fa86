package vocab

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/model/date"
)

// forms reads a table of forms and gives, for each Key, the rows that have it, in file order.
func forms(table string) map[string][]Row {
	rows := Rows(table)
	m := make(map[string][]Row, len(rows))
	for _, r := range rows {
		k := Key(r.Get("form"))
		m[k] = append(m[k], r)
	}
	return m
}

// codes gives the rows of a table by the code in a column.
func codes(table, column string) map[string]Row {
	rows := Rows(table)
	m := make(map[string]Row, len(rows))
	for _, r := range rows {
		m[r.Get(column)] = r
	}
	return m
}

var (
	branchForms = sync.OnceValue(func() map[string][]Row { return forms("branch-forms") })
	sideForms   = sync.OnceValue(func() map[string][]Row { return forms("side-forms") })
)

// Branch finds the branch of service that a register's words name: "US Army", "U.S.M.C.", "Confederate States Navy".
func Branch(text string) (model.Branch, bool) {
	rows := branchForms()[Key(text)]
	if rows == nil {
		return "", false
	}
	return model.Branch(rows[0].Get("branch")), true
}

// Afloat reports whether the men of a branch serve on ships, so that a ship stands for what a regiment is elsewhere.
func Afloat(branch model.Branch) bool { return afloat()[branch] }

var afloat = sync.OnceValue(func() map[model.Branch]bool {
	m := map[model.Branch]bool{}
	for _, r := range Rows("branches") {
		m[model.Branch(r.Get("code"))] = r.Get("afloat") == "yes"
	}
	return m
})

// Side finds the side of the civil war that words name: "Union", "C.S.A.".
func Side(text string) (model.Side, bool) {
	rows := sideForms()[Key(text)]
	if rows == nil {
		return "", false
	}
	return model.Side(rows[0].Get("side")), true
}

// BodySide is the side of the civil war on which a body of troops fought; "" for one that fought in none, or that the tables do not have.
func BodySide(body model.Body) model.Side { return bodySides()[body] }

var bodySides = sync.OnceValue(func() map[model.Body]model.Side {
	m := map[model.Body]model.Side{}
	for _, r := range Rows("bodies") {
		m[model.Body(r.Get("code"))] = model.Side(r.Get("side"))
	}
	return m
})

// Source is the citation behind a key of a source column, and where it is to be found.
func Source(key string) (citation, where string, ok bool) {
	r, ok := sources()[key]
	if !ok {
		return "", "", false
	}
	return r.Get("citation"), r.Get("where"), true
}

var sources = sync.OnceValue(func() map[string]Row { return codes("sources", "key") })

// day reads a cell that holds "1861-04-12"; the zero Day where it is empty.
func (r Row) day(column string) date.Day {
	s := r.Get(column)
	if s == "" {
		return date.Day{}
	}
	var d date.Day
	if n, err := fmt.Sscanf(s, "%4d-%2d-%2d", &d.Year, &d.Month, &d.Day); n != 3 || err != nil {
		panic(fmt.Sprintf("%s: column %q: %q is not a day", r.Where(), column, s))
	}
	return d
}

var conflicts = sync.OnceValue(func() []model.Conflict {
	var list []model.Conflict
	for _, r := range Rows("conflicts") {
		list = append(list, model.Conflict{
			Code: model.ConflictCode(r.Get("code")), Name: r.Get("name"),
			From: r.day("from"), To: r.day("to"),
			BornFrom: r.Int("born_from"), BornTo: r.Int("born_to"),
			Source: r.Get("source"),
		})
	}
	slices.SortStableFunc(list, func(a, b model.Conflict) int { return a.From.Compare(b.From) })
	return list
})

// Conflicts are the wars that the program knows, sorted by their first day. A war without a last day is not ended.
func Conflicts() []model.Conflict { return slices.Clone(conflicts()) }

// Conflict finds a war by its code.
func Conflict(code model.ConflictCode) (model.Conflict, bool) {
	for _, c := range conflicts() {
		if c.Code == code {
			return c, true
		}
	}
	return model.Conflict{}, false
}

var conflictForms = sync.OnceValue(func() map[string][]Row { return forms("conflict-forms") })

// ConflictOf finds the war that the words of a column or of a stone's line name: "SP. AM. WAR", "War of the
// Rebellion", "W W II", "1861-65", or its code.
func ConflictOf(text string) (model.ConflictCode, bool) {
	if rows := conflictForms()[Key(text)]; rows != nil {
		return model.ConflictCode(rows[0].Get("conflict")), true
	}
	c, ok := Conflict(model.ConflictCode(strings.ToLower(strings.TrimSpace(text))))
	return c.Code, ok
}

// ConflictsOf finds every war that a cell names, parted by commas, semicolons, slashes, "&" or "and": "CIVIL WAR, INDIAN
// WARS". The result is sorted by date, and rest holds the words that name none.
func ConflictsOf(text string) (found []model.ConflictCode, rest []string) {
	if c, ok := ConflictOf(text); ok {
		return []model.ConflictCode{c}, nil
	}
	parts := strings.FieldsFunc(strings.NewReplacer(" and ", ";", " AND ", ";", " And ", ";").Replace(text),
		func(r rune) bool { return r == ',' || r == ';' || r == '/' || r == '&' || r == '\n' || r == '|' })
	for _, p := range parts {
		p = strings.TrimSpace(p)
		if p == "" {
			continue
		}
		if c, ok := ConflictOf(p); ok {
			found = append(found, c)
		} else {
			rest = append(rest, p)
		}
	}
	return SortConflicts(found), rest
}

// SortConflicts sorts codes by the first day of their war and drops doubles; unknown codes come last.
func SortConflicts(codes []model.ConflictCode) []model.ConflictCode {
	place := func(c model.ConflictCode) int {
		i := slices.IndexFunc(conflicts(), func(x model.Conflict) bool { return x.Code == c })
		if i < 0 {
			return len(conflicts())
		}
		return i
	}
	slices.SortFunc(codes, func(a, b model.ConflictCode) int {
		return cmp.Or(cmp.Compare(place(a), place(b)), strings.Compare(string(a), string(b)))
	})
	return slices.Compact(codes)
}

// ConflictsDuring are the wars that share a day with the days from and to, both included, sorted by date. A zero Day is an open side; with both
// open there is none.
func ConflictsDuring(from, to date.Day) []model.ConflictCode {
	if from.IsZero() && to.IsZero() {
		return nil
	}
	var list []model.ConflictCode
	for _, c := range conflicts() {
		if !to.IsZero() && to.Before(c.From) || !from.IsZero() && !c.To.IsZero() && c.To.Before(from) {
			continue
		}
		list = append(list, c.Code)
	}
	return list
}

// ConflictsHolding are the wars in whose official dates all the days from and to lie, both included. The Indian wars, which lasted through most others, are among them only where no other is.
func ConflictsHolding(from, to date.Day) []model.ConflictCode {
	var within []model.ConflictCode
	for _, code := range ConflictsDuring(from, to) {
		c, ok := Conflict(code)
		if !ok || from.Before(c.From) || !c.To.IsZero() && c.To.Before(to) {
			continue
		}
		within = append(within, code)
	}
	if len(within) > 1 {
		within = slices.DeleteFunc(within, func(c model.ConflictCode) bool { return c == indianWars })
	}
	return within
}

const indianWars model.ConflictCode = "indian-wars"

// DeathTells are those of the wars in which a man died that his death says he was in: where his birth is known those for which he was of an age, and else those in which
// few died who had served in an earlier one (column death_tells of the table of conflicts).
func DeathTells(within []model.ConflictCode, born *date.Date) []model.ConflictCode {
	return slices.DeleteFunc(slices.Clone(within), func(code model.ConflictCode) bool {
		c, ok := Conflict(code)
		if !ok || born.From.IsZero() || born.To.IsZero() {
			return !ok || !deathTells()[code]
		}
		return born.To.Year < c.BornFrom || c.BornTo != 0 && c.BornTo < born.From.Year
	})
}

var deathTells = sync.OnceValue(func() map[model.ConflictCode]bool {
	m := map[model.ConflictCode]bool{}
	for _, r := range Rows("conflicts") {
		m[model.ConflictCode(r.Get("code"))] = r.Get("death_tells") == "yes"
	}
	return m
})

// UnderstoodConflicts are the wars of a man of whom no source names one: the civil war where he was of a side, or else those that hold the day on which he entered service. Of the men of a state's
// regiment, which volunteers were in, the Indian wars are not understood from a date: those who enlisted before a war had begun were of the one in which they were mustered out or died.
// A death alone says less than a day of service, since those who came home died in later wars: see DeathTells.
// holding is ConflictsHolding, for the i-th of the dates enlisted, mustered in, mustered out, died.
func UnderstoodConflicts(s *model.Service, born, died *date.Date, holding func(i int, from, to date.Day) []model.ConflictCode) []model.ConflictCode {
	if s.Side != "" {
		return []model.ConflictCode{"civil-war"}
	}
	for i, d := range [...]*date.Date{&s.Enlisted, &s.MusteredIn, &s.MusteredOut, died} {
		if d.From.IsZero() || d.To.IsZero() || i > 1 && s.Unit.State == "" {
			continue
		}
		within := holding(i, d.From, d.To)
		if d == died {
			within = DeathTells(within, born)
		}
		if len(within) > 0 && (s.Unit.State == "" || within[0] != indianWars) {
			return within
		}
	}
	return nil
}
