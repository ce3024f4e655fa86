package unit

import (
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/words"
)

// Parts are the cells of a roster's row that tell of the unit, as worded there; any may be empty. State may be a body of troops, Regiment a
// number or a whole unit, Arm and Branch a branch mark ("Cav", "S S").
type Parts struct {
	Company, Regiment, Unit, Arm, State, Branch, Side string
}

// FromParts puts a unit together from a roster's cells. What the Unit cell says comes first, then Regiment, Arm, State and Branch; a cell never
// overrules one before it.
func FromParts(p Parts) model.Unit {
	var u model.Unit
	if branch, rest := OfBranch(p.Unit); strings.TrimSpace(rest) != "" {
		one, others := several(rest)
		v, _ := Parse(one)
		v.Other = toldBeside(others)
		if branch != "" && rest == p.Unit || v.Company == "A" && ofArmy(rest) {
			v.Company = "" // the A of U.S.A.
		}
		u = merge(u, v)
	}
	if _, rest := OfBranch(p.Regiment); strings.TrimSpace(rest) != "" {
		u = merge(u, regiment(rest))
	}
	if u.Company == "" {
		u.Company = companyCell(p.Company)
	}
	for _, cell := range []string{p.Arm, p.Branch} {
		if arm, marks, ok := Arm(cell); ok {
			u = merge(u, model.Unit{Arm: arm, Marks: marks, Body: armBody(cell)})
		} else if body := armBody(cell); body != "" {
			u = merge(u, model.Unit{Body: body}) // "V. R. C." for an arm
		}
	}
	u = merge(u, whose(p.State))
	if u.Body == "" && u.State == "" && (p.Side == "" || !strings.HasPrefix(strings.ToUpper(p.Side), "C")) {
		if v, ok := Parse(p.Branch); ok && v.Body != "" && v.Body != model.BodyRegulars {
			u.Body = v.Body
		}
	}
	u.Written = Written(p)
	return u
}

// OfBranch finds the branch of service that a unit's cell names, as a whole, behind its last comma or before its first one ("U. S. Navy", "1st Bn., U.S.M.C.", "U.S.M.C., Co. A"), and what of the cell is left to say of a unit: all of it where
// it names none, or the army, whose short forms are those of its units too (U.S.C.T.). The single letters of the others' forms are no companies.
func OfBranch(cell string) (branch model.Branch, rest string) {
	if i := strings.LastIndex(cell, " to "); i > 0 && len(cell)-i < len(" to discharge. ") && strings.HasPrefix(strings.ToLower(cell[i:]), " to disch") {
		if branch, ok := vocab.Branch(cell[:i]); ok && branch != armyBranch {
			return branch, "" // "U S Navy to Disch"
		}
	}
	if branch, ok := vocab.Branch(cell); ok {
		if branch == armyBranch {
			return branch, cell
		}
		return branch, ""
	}
	if i := strings.LastIndexByte(cell, ','); i >= 0 {
		if branch, ok := vocab.Branch(cell[i+1:]); ok && branch != armyBranch {
			return branch, cell[:i]
		}
		if i = strings.IndexByte(cell, ','); i > 0 {
			if branch, ok := vocab.Branch(cell[:i]); ok && branch != armyBranch {
				return branch, cell[i+1:]
			}
		}
	}
	return "", cell
}

// ofArmy reports whether a cell ends with the army's name behind a comma, and tells no company before it: "Hospital Steward, U.S.A.".
func ofArmy(cell string) bool {
	i := strings.LastIndexByte(cell, ',')
	if i < 0 {
		return false
	}
	branch, ok := vocab.Branch(cell[i+1:])
	if !ok || branch != armyBranch {
		return false
	}
	before, _ := Parse(cell[:i])
	return before.Company == ""
}

const armyBranch model.Branch = "army"

// Written is what the cells say of the unit as they stood, parted by commas.
func Written(p Parts) string {
	var cells []string
	for _, c := range []string{p.Unit, p.Company, p.Regiment, p.State, p.Arm} {
		if c = strings.TrimSpace(c); c != "" {
			cells = append(cells, c)
		}
	}
	return strings.Join(cells, ", ")
}

// merge fills what u does not say from v.
func merge(u, v model.Unit) model.Unit {
	if u.Body == "" && u.State == "" {
		u.Body, u.State = v.Body, v.State
	}
	if u.Number == 0 {
		u.Number = v.Number
	}
	if u.Arm == "" || isKind(v.Arm, u.Arm) {
		u.Arm = v.Arm
	}
	if u.Kind == "" {
		u.Kind = v.Kind
	}
	if u.Company == "" {
		u.Company = v.Company
	}
	if u.Name == "" {
		u.Name = v.Name
	}
	if u.Division == 0 {
		u.Division = v.Division
	}
	if u.Other == "" {
		u.Other = v.Other
	}
	for _, m := range v.Marks {
		if !u.HasMark(m) {
			u.Marks = append(slices.Clip(u.Marks), m)
		}
	}
	slices.Sort(u.Marks)
	return u
}

// regiment reads the cell of a regiment: a number, or the whole unit.
func regiment(cell string) model.Unit {
	t := words.Split(cell)
	if len(t.Words) == 0 {
		return model.Unit{}
	}
	if n, to := numberAt(t, 0); to == len(t.Words) {
		return model.Unit{Number: n}
	}
	u, _ := Parse(cell)
	return u
}

// companyCell reads the cell of a company: a letter, a number, or "Co. F". Field and staff, and men not assigned, have none.
func companyCell(cell string) string {
	t := words.Split(cell)
	if len(t.Words) == 1 {
		key := t.Key(0)
		if len(key) == 1 && key[0] >= 'A' && key[0] <= 'Z' {
			return key
		}
		if n := t.Words[0].Num; n > 0 && n < 100 {
			return key
		}
	}
	if len(t.Words) < 2 {
		return ""
	}
	u, ok := Parse(cell)
	if ok && (len(u.Company) == 1 || u.Number == 0) {
		return u.Company
	}
	return ""
}

// whose reads the cell of a state, which may be a body of troops.
func whose(cell string) model.Unit {
	cell = strings.TrimSpace(cell)
	if cell == "" {
		return model.Unit{}
	}
	body := model.Body(strings.ToLower(cell))
	if _, ok := bodyWords()[body]; ok {
		return model.Unit{Body: body}
	}
	if s, ok := vocab.State(cell); ok {
		return model.Unit{State: s}
	}
	u, _ := Parse(cell)
	return model.Unit{Body: u.Body, State: u.State, Arm: u.Arm, Marks: u.Marks}
}

// armBody is the body of troops that an arm's words name: "U S C T Infantry".
func armBody(text string) model.Body {
	if len(words.Letters(text)) < 3 {
		return ""
	}
	u, _ := Parse(text)
	if u.Body == model.BodyRegulars {
		return ""
	}
	return u.Body
}
