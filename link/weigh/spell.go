package weigh

import (
	"fmt"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/remarks"
	"musterstone/vocab/unit"
)

// Spell is the evidence that the lines stand for, with what stone and record say; r is the record that was weighed, or Columns.Record of its row.
func (v *Stone) Spell(l *Lines, r *model.Record) []model.Evidence {
	out := make([]model.Evidence, 0, l.n+1) // one more for what is known beside the record
	return v.spellAll(out, l, r, func() string { return unit.Format(r.Service.Unit) })
}

// SpellRow is Spell for row i of the columns, of which r is the record; the evidence is appended to out.
func (v *Stone) SpellRow(out []model.Evidence, l *Lines, i uint32, r *model.Record) []model.Evidence {
	return v.spellAll(out, l, r, func() string { return v.w.packed.unitText(i) })
}

func (v *Stone) spellAll(out []model.Evidence, l *Lines, r *model.Record, theirUnit func() string) []model.Evidence {
	if l.n > 0 && l.at[surnameAt].level == v.w.fixed.byOtherName.level {
		r = named(r)
	}
	for level, bits := range l.All() {
		e := line{level, bits}.evidence()
		v.spell(&e, r, theirUnit)
		out = append(out, e)
	}
	return out
}

// otherNameOf is the other name that a record tells, in its name or in its remarks.
func otherNameOf(r *model.Record) name.Other {
	return name.OtherIn(remarks.Beside(r.Person.Name.Other, "", r.Service.Remarks))
}

// named is a record under the other name that it tells.
func named(r *model.Record) *model.Record {
	other := *r
	o := otherNameOf(r).Name
	if o.Given == "" {
		o.Given, o.Middle, o.Suffix = r.Person.Name.Given, r.Person.Name.Middle, r.Person.Name.Suffix
	}
	o.Other = r.Person.Name.Other
	other.Person.Name = o
	return &other
}

// spell puts in what either side says.
func (v *Stone) spell(e *model.Evidence, r *model.Record, theirUnit func() string) {
	mine, theirs := &v.claim.Person, &r.Person
	switch e.Field {
	case "surname":
		e.Stone, e.Record = v.surname.written, theirs.Name.Surname
		if e.Level == byOtherName || e.Level == otherName || e.Level == substitute {
			e.Why = "the record tells: " + otherNameOf(r).Text
		} else if e.Level == "same" && v.surname.same > 1 {
			if v.bearers == "" {
				v.bearers = fmt.Sprintf("%d men of this surname in the rosters", v.surname.same)
			}
			e.Why = v.bearers
		}
	case "given":
		e.Stone, e.Record = mine.Name.Given, theirs.Name.Given
		if e.Level == "exchanged" {
			e.Record, e.Why = theirs.Name.Given+" "+theirs.Name.Middle, "the two names stand the other way round"
		} else if e.Level == "middle initial" {
			e.Record, e.Why = theirs.Name.Given+" "+theirs.Name.Middle, "the stone's name may be the record's second one"
		}
	case "middle":
		e.Stone, e.Record = mine.Name.Middle, theirs.Name.Middle
	case "suffix":
		e.Stone, e.Record = orNone(mine.Name.Suffix), orNone(theirs.Name.Suffix)
	case "unit":
		if v.unitText == "" {
			v.unitText = unit.Format(v.unit.unit)
		}
		if e.Stone = v.unitText; strings.Contains(e.Level, "later") {
			u, text, _ := unit.InRemarks(remarks.Beside("", r.Service.Unit.Other, r.Service.Remarks), &r.Service.Unit)
			e.Record, e.Why = unit.Format(u), "the record tells: "+text
		} else {
			e.Record = theirUnit()
		}
	case "kin":
		e.Why = "men of one name enlist together"
	case "rank":
		_, rank := v.rankCompared(rankPair{r.Service.Rank, r.Service.RankOut})
		e.Stone, e.Record = string(v.claim.Service.Rank), string(rank)
		if e.Stone == "" {
			e.Stone, e.Why = "none", "privates' stones carry no rank"
		}
	case "birth":
		e.Stone, e.Record = spellDate(v.birth.born), spellBirth(r)
		if b := bornInOf(&r.Service); e.Level == birthLevels[ofAge] || e.Level == birthLevels[notOfAge] {
			e.Record, e.Why = b.String(), "the record gives no birth: those who served when its man did were born in these years"
		}
	case "death":
		e.Stone, e.Record = spellDate(v.death.died), spellDate(theirs.Died)
	case "service":
		e.Stone = spellDate(v.death.died)
		e.Record, e.Why = v.death.beforeLeaving(&r.Service), "the stone's man was dead before the record's man had entered or left the service"
		if e.Record == "" {
			e.Record, e.Why = began(&r.Service).String(), "the stone's man was dead before the war of the record's man began"
		}
	case "burial":
		e.Stone, e.Record = v.place.place.Cemetery, burialText(r)
	case "home":
		switch e.Level {
		case "same county", "elsewhere":
			e.Stone, e.Record = v.place.place.County, theirs.Residence
		default:
			e.Stone, e.Record = vocab.StateName(v.place.place.State), vocab.StateName(r.Service.Unit.State)
		}
	case "design":
		e.Why = v.design.why(&r.Service, &theirs.Died)
	}
}

// unitText is the unit of row i as evidence has it.
func (p *packed) unitText(i uint32) string {
	n := p.c.rows[i].unit
	if text := p.unitTexts[n].Load(); text != nil {
		return *text
	}
	text := unit.Format(p.c.units[n])
	p.unitTexts[n].Store(&text)
	return text
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// spellBirth is spellDate of a record's birth. One that is reckoned from an age lies in two years, as a rule, and is then worded without its days.
func spellBirth(r *model.Record) string {
	if r.Person.Born.IsZero() {
		at := &r.Service.Enlisted
		if at.IsZero() {
			at = &r.Service.MusteredIn
		}
		if from, to := date.BirthDays(*at, r.Person.Age); !from.IsZero() && to.Year-from.Year == 1 {
			return twoYears(from.Year)
		}
	}
	return spellDate(r.Birth())
}

func twoYears(first int) string { return strconv.Itoa(first) + " or " + strconv.Itoa(first+1) }

// spellDate is a date as it stood, or in EDTF where it was worked out.
func spellDate(d date.Date) string {
	if d.Written != "" {
		return d.Written
	}
	if d.From.Year == d.To.Year || d.From.IsZero() || d.To.IsZero() {
		return d.String()
	}
	if d.To.Year-d.From.Year == 1 {
		return twoYears(d.From.Year)
	}
	return d.String()
}
