package weigh

import (
	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/remarks"
)

// The levels of a surname of which the record's remarks tell that its man had another.
const (
	byOtherName = "by other name" // the other name is told, and is the stone's
	otherName   = "another name"  // there is one, which is not told
	substitute  = "substitute"    // the man served for another, and may have given a name of his own making
)

// told is what a record's remarks tell of another name and another unit of its man.
type told struct {
	text    string // the words that tell it; toldIn makes the same of them alone
	name    name.Other
	unit    model.Unit
	changed bool // they tell a unit
}

// toldIn reads the remarks of a man of a unit.
func toldIn(text string, own *model.Unit) told { return toldBy(remarks.Read(text), own) }

// toldBy is what the remarks of a man of a unit tell.
func toldBy(r *remarks.Told, own *model.Unit) (t told) {
	if r.IsZero() {
		return t
	}
	t.name = r.Name
	t.text = t.name.Text
	var words string
	if t.unit, words, t.changed = r.Units.Other(own); t.changed {
		t.unit.Written = ""
		if t.text != "" {
			t.text += "; "
		}
		t.text += words
	}
	return t
}

// Whether remarks tell of another name, and of another unit.
const (
	toldName uint8 = 1 << iota
	toldUnit
)

// others is what remarks tell, made ready.
type others struct {
	name       bool
	substitute bool
	surname    int32  // as in facts; missing where the name is not told
	folded     string // of a strange surname, which no row of the rosters has
	given      int32
	middle     middleCode
	hasGiven   bool
	unit       *unitParts // nil where none is told
}

func (o *others) told() (told uint8) {
	return bit(o.name)*toldName | bit(o.unit != nil)*toldUnit
}

func (w *Weigher) othersOf(t *told) *others {
	o := &others{name: !t.name.IsZero(), substitute: t.name.Substitute, surname: missing}
	if t.changed {
		parts := w.unitParts(&t.unit)
		o.unit = &parts
	}
	n := &t.name.Name
	if n.Surname == "" {
		return o
	}
	numbers := w.numbers()
	folded := name.Fold(n.Surname)
	if k, ok := numbers.surnames[folded]; ok {
		o.surname = k
	} else {
		o.surname, o.folded = strange, folded
	}
	if o.hasGiven = n.Given != ""; o.hasGiven {
		middle := newMiddle(n.Middle)
		o.middle = middle.code()
		if k, ok := numbers.givens[name.Fold(n.Given)]; ok {
			o.given = k + 1
		} else {
			o.middle |= noGiven
		}
	}
	return o
}

// toldOf is what the record's remarks tell, of one of which told is not 0.
func (f *facts) toldOf() *others {
	if f.record != nil {
		return f.others
	}
	return f.packed.others[f.row.service]
}

// laterLevels are the levels of a unit that the remarks tell, by those of one that the row gives.
var laterLevels = [unitRoom]uint8{unitCompany: unitLaterCompany, unitRegiment: unitLaterRegiment, unitOtherCompany: unitLaterOther, unitWornCompany: unitLaterWorn}

// later is the line of the unit where the record's remarks tell another, if that is more. A man is on the rolls of each unit in which he served, and on his stone with one of them, mostly the last.
func (v *Stone) later(f *facts, l *unitLine) *unitLine {
	o := f.toldOf().unit
	if !v.unit.given || o == nil || l.level == unitCompany {
		return l
	}
	level := laterLevels[v.unit.level(o)%unitRoom]
	if level == unitNone {
		return l
	}
	if v.unit.other = v.unit.lineOf(level); v.unit.other.line.bits > l.line.bits {
		return &v.unit.other
	}
	return l
}

// byOtherName weighs names anew of which the surname differs, where the record's remarks tell that its man had others. One of two names is on his stone: so either costs one bit. Where the other name is not told, that surnames
// differ says no more than that, and neither does a given name that differs, nor a middle name: who kept his given name mostly kept that too, and where it agrees it counts; and a substitute is a man like others who now and then gave a name of his own making.
func (v *Stone) byOtherName(f *facts, x *[MostLines]line) {
	if v.surname.folded == "" {
		return
	}
	o, fixed := f.toldOf(), &v.w.fixed
	if o.surname == missing && f.surname == missing {
		return
	}
	if o.surname == missing {
		x[surnameAt] = fixed.otherName
		if o.substitute {
			x[surnameAt] = fixed.substitute
		}
		switch {
		case x[givenAt].bits < fixed.otherGiven.bits:
			x[givenAt], x[middleAt] = fixed.otherGiven, noLine
		case x[middleAt].bits < 0:
			x[middleAt] = noLine
		}
		return
	}
	surname := v.surname.against(o.surname)
	if o.surname == strange {
		surname = v.surname.uncounted(o.folded)
	}
	if !surname.oneName {
		return
	}
	given, middle := x[givenAt], x[middleAt]
	if o.hasGiven && v.given.given {
		given = v.given.lines[v.given.levels[o.given]%givenRoom]
		middle = f.seconds[v.second[o.middle]%secondRoom]
	}
	by := line{fixed.byOtherName.level, surname.line.bits + fixed.byOtherName.bits}
	if by.bits+given.bits+middle.bits > x[surnameAt].bits+x[givenAt].bits+x[middleAt].bits {
		x[surnameAt], x[givenAt], x[middleAt] = by, given, middle
	}
}
