package model

import (
	"slices"
	"strconv"
)

// UnitKind says what sort of unit a Unit is; the zero value is a regiment, or not stated.
type UnitKind string

// Kinds of unit other than a regiment.
const (
	Battalion  UnitKind = "battalion"
	Battery    UnitKind = "battery"    // a numbered battery that stands alone, "3rd Independent Battery"
	Legion     UnitKind = "legion"     // and other units known by a name
	Ship       UnitKind = "ship"       // Name is the ship's
	Depot      UnitKind = "depot"      // depot brigade
	Staff      UnitKind = "staff"      // a staff department: "Quartermaster Department"
	Designated UnitKind = "designated" // any other unit that only its Name tells
)

// Unit is the body of troops a source gives. Company is a letter, also of a battery within a regiment and of a troop.
type Unit struct {
	Body   Body
	State  State // the unit's state; never the man's residence
	Number int   // 0 where none is given
	// NumberLost is what is left of a number that damage took digits of, with ? for each lost one and * for an unknown number of them: "1?4".
	// Number is 0 then.
	NumberLost string
	Arm        Arm
	Kind       UnitKind
	Company    string
	Name       string // "Cobb's Legion", or a ship's name
	Division   int    // the division that a First World War stone adds
	// Marks are what else the wording says of the unit, as codes, sorted: "colored", "militia", "national-guard", "reserves", "volunteers",
	// "african-descent", "veteran", "pioneer", "line", "independent", …
	Marks []string
	// Other are other units of the man that the same cell of a roster gives, worded as remarks would have them: "trans. from Co. K, 12 V. R. C.".
	Other   string
	Written string
}

// IsZero reports whether nothing of the unit is known.
func (u Unit) IsZero() bool {
	return u.Body == "" && u.State == "" && u.Number == 0 && u.Arm == "" && u.Kind == "" && u.Company == "" && u.Name == "" && u.Division == 0 && u.NumberLost == ""
}

// NumberFits reports whether the unit's number is n, or may have been before digits of it were lost. A unit without any number fits none.
func (u Unit) NumberFits(n int) bool {
	if u.NumberLost == "" {
		return u.Number == n && n > 0
	}
	return n > 0 && fits(u.NumberLost, strconv.Itoa(n))
}

// fits reports whether digits may have been what is left of them: ? is one digit, * any number of them.
func fits(left, digits string) bool {
	switch {
	case left == "":
		return digits == ""
	case left[0] == '*':
		return fits(left[1:], digits) || digits != "" && fits(left, digits[1:])
	}
	return digits != "" && (left[0] == '?' || left[0] == digits[0]) && fits(left[1:], digits[1:])
}

// Designation is whose the unit is: "usct", "vrc", "us", or the state's code.
func (u Unit) Designation() string {
	if u.Body != "" {
		return string(u.Body)
	}
	return string(u.State)
}

// SameRegiment reports whether both give a regiment, and the same one, company apart: body or state, number, kind and, where both give
// one, arm.
func (u Unit) SameRegiment(v Unit) bool {
	return u.Number != 0 && u.Number == v.Number && u.Designation() != "" && u.Designation() == v.Designation() &&
		u.Kind == v.Kind && (u.Arm == v.Arm || u.Arm == "" || v.Arm == "")
}

// HasMark reports whether the unit carries the mark.
func (u Unit) HasMark(mark string) bool { return slices.Contains(u.Marks, mark) }
