// This file sets the years of a life beside the service that the stone tells, and beside those of a wife: a figure that makes them impossible together is misread.

package inscription

import (
	"slices"
	"sync"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
)

// Of a man of a state's numbered regiment who served in no war that the stone names: few died before the first year. House judgement: earlier ones are militia, which is told.
const firstRegiments = 1846

// How many years a birth may lie before those of the men of a war, and a death before the war itself, until it is misread rather than of another war; and how many years a soldier's life has at least. House judgement.
const strayBirth, strayDeath, shortestService = 15, 10, 11

// warEra is the year in which a war began, and those between which its men were born.
type warEra struct{ from, bornFrom, bornTo int }

var eras = sync.OnceValue(func() map[model.ConflictCode]warEra {
	m := map[model.ConflictCode]warEra{}
	for _, c := range vocab.Conflicts() {
		m[c.Code] = warEra{c.From.Year, c.BornFrom, c.BornTo}
	}
	return m
})

// era is when those served who served as p did: no death before from, and a birth from the first to the last year of born, 0 where that is not known. A later birth is of a later war's man, for the words of one war were cut for men of another. ok is false where nothing tells of it.
func (b *builder) era(p *person) (from int, born [2]int, ok bool) {
	s := &p.claim.Service
	for _, code := range s.Conflicts {
		w := eras()[code]
		if w.from == 0 || w.bornTo == 0 {
			return 0, born, false
		}
		if from == 0 || w.from < from {
			from = w.from
		}
		if born[0] == 0 || w.bornFrom < born[0] {
			born[0] = w.bornFrom
		}
		born[1] = max(born[1], w.bornTo)
	}
	if from > 0 {
		return from, [2]int{born[0] - strayBirth, born[1] + strayBirth}, true
	}
	u := &s.Unit
	if (u.Number > 0 || u.NumberLost != "") && (u.State != "" && u.Arm != "" || u.Company != "") && len(u.Marks) == 0 && u.Body != model.BodyRegulars { // regulars there have always been
		return firstRegiments, born, true
	}
	return 0, born, false
}

// settleLife settles the birth and the death of one who served, of which years are lost or misread, by when he can have served; aged is set where the birth was worked out from an age.
func (b *builder) settleLife(p *person, aged bool) {
	who := &p.claim.Person
	born, died := &who.Born, &who.Died
	if len(p.claim.Service.Conflicts) == 0 && died.To.Year >= firstRegiments && died.From.Year == died.To.Year && (born.IsZero() || born.From.Year == born.To.Year && died.From.Year-born.To.Year >= shortestService) {
		return // as most are
	}
	from, births, ok := b.era(p)
	if !ok {
		return
	}
	late := func(y int) bool { return y >= from && y <= lastYear }
	if !died.IsZero() && died.To.Year > 0 && (died.To.Year+strayDeath < from || died.From.Year < from && died.From.Year != died.To.Year) {
		life := func(y int) bool {
			return late(y) && (aged || born.IsZero() || y-born.To.Year >= shortestService && y-born.From.Year <= longestLife)
		}
		b.setYears(died, life)
		if aged && !who.Age.IsZero() {
			*born = date.BirthFrom(*died, who.Age)
		}
	}
	if aged || born.IsZero() || born.To.Year == 0 {
		return
	}
	life := func(y int) bool {
		return (births[0] == 0 || y >= births[0] && y <= births[1]) && (died.IsZero() || died.From.Year-y >= shortestService && died.To.Year-y <= grownTo)
	}
	few := len(died.EDTF) == 4 && len(born.EDTF) == 4 && died.From.Year-born.From.Year < shortestService
	if few && len(b.people) == 1 || births[0] > 0 && born.To.Year < births[0] || born.From.Year != born.To.Year && !life(born.From.Year) {
		b.setYears(born, life)
	}
}

// setYears narrows a date to the years that fit of those that it may be of, or, where none does, of those that look like it, and that differ from it in one figure. A date for which none is found, or that is none of a year, stays.
func (b *builder) setYears(d *date.Date, fits func(int) bool) {
	keep := func(years []int) []int { return slices.DeleteFunc(years, func(y int) bool { return !fits(y) }) }
	var years []int
	if d.From.Year != d.To.Year {
		all := yearsOf(d)
		if len(all) == 0 {
			return
		}
		years = keep(all)
	} else if years = keep(misread(nil, d.From.Year)); len(years) == 0 {
		years = keep(otherFigure(nil, d.From.Year))
	}
	if len(years) == 0 {
		return
	}
	first, last, written := slices.Min(years), slices.Max(years), d.Written
	day := d.From
	whole := d.From == d.To && d.From.Month > 0 && d.From.Day > 0
	*d = someYear(first, last)
	if first == last {
		*d = date.Year(first)
		if whole {
			if on := date.On(first, day.Month, day.Day); !on.IsZero() {
				*d = on
			}
		}
	}
	d.Written = written
}

// yearsOfCouple is by how many years the births of a man and his wife differ at most, where one of them is sought. House judgement.
const yearsOfCouple = 25

// besideWives settles the years of a man that make him a child when he died, or when his wife had died: his death where his birth goes with hers, "JAMES 1855 - 1868 / HIS WIFE MARIA 1862 - 1921", his birth where it does not,
// "WILLIAM 1891 - 1902 / AMELIA HIS WIFE 1843 - 1916".
func (b *builder) besideWives() {
	for k := range len(b.people) - 1 {
		man, wife := &b.people[k].claim.Person, &b.people[k+1].claim.Person
		if b.people[k+1].relation != "wife" || b.people[k].relation != "" || len(man.Born.EDTF) != 4 || len(wife.Born.EDTF) != 4 {
			continue
		}
		born, hers, died := man.Born.From.Year, wife.Born.From.Year, man.Died.From.Year
		life := len(man.Died.EDTF) == 4
		if !(life && died-born < grownFrom) && !(len(wife.Died.EDTF) == 4 && wife.Died.From.Year < born+grownFrom && wife.Died.From.Year >= hers+grownFrom) {
			continue
		}
		if life && born >= hers-yearsOfCouple && born <= hers+yearsOfCouple {
			years := slices.DeleteFunc(otherFigure(nil, died), func(y int) bool { return y-born < grownFrom || y-born > grownTo || y-hers < grownFrom })
			if len(years) > 0 {
				written := man.Died.Written
				man.Died = someYear(slices.Min(years), slices.Max(years))
				man.Died.Written = written
			}
			continue
		}
		years := slices.DeleteFunc(otherFigure(nil, born), func(y int) bool {
			return y < hers-yearsOfCouple || y > hers+yearsOfCouple || life && (died-y < grownFrom || died-y > grownTo)
		})
		if len(years) > 0 {
			written := man.Born.Written
			man.Born = someYear(slices.Min(years), slices.Max(years))
			man.Born.Written = written
		}
	}
}
