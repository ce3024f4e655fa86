package unmarked

import (
	"cmp"
	"slices"
	"strings"

	"musterstone/link/unmarked/estimate"
	"musterstone/model"
)

// lists is by how many lists the men of a ground are counted, in the order of Man.On: that a stone's own words tell of service, that a roster says he is buried here, that a
// register names him.
const lists = 3

// Man is a man who may be a veteran with no government marker, as the estimate for the ground counts him.
type Man struct {
	Stone    model.StoneID // of his stone, or of his row in a register
	Record   model.RecordID
	Cemetery string
	estimate.Man
}

// leastMan is the probability from which a man counts in the estimate.
const leastMan = 0.01

// Men are the men for the estimate, of all grounds: those of the findings, and the doubtful ones below the probability from which findings are told. A plain stone that
// only its match with a record makes a veteran's is no list's: it counts as found, but a match is no list of its own.
func Men(in Input) []Man {
	in.Least = leastMan
	f := newFinder(in)
	var out []Man
	for _, x := range f.noMarker() {
		m := Man{Stone: x.Stone, Record: x.Record, Man: estimate.Man{P: x.Probability, On: make([]float64, lists)}}
		switch s := f.subjects[x.Stone]; {
		case x.Kind == model.PrivateStone:
			m.Cemetery = s.Stone.Place.Cemetery
			m.Named = s.Reading().Claim().Person.Name.Surname != ""
			m.On[0] = tells(s)
			m.On[1] = f.onRoster(s)
			m.On[2] = f.inRegister(s)
		case x.Stone != "": // a register's row
			m.Cemetery = s.Stone.Place.Cemetery
			m.Named = s.Reading().Claim().Person.Name.Surname != ""
			m.On[1] = f.onRoster(s)
			m.On[2] = 1
		default:
			r := f.buriedHere[x.Record]
			m.Cemetery = r.ground.Name
			m.Named = r.named
			m.On[1] = 1
			for _, c := range f.onStones[x.Record] {
				if c.register {
					m.On[2] = max(m.On[2], c.p)
				}
			}
		}
		out = append(out, m)
	}
	slices.SortFunc(out, func(a, b Man) int { return cmp.Or(cmp.Compare(a.Stone, b.Stone), cmp.Compare(a.Record, b.Record)) })
	return out
}

// Count estimates how many veterans lie in a ground without a government marker; "" counts all grounds of the survey.
func Count(men []Man, cemetery string, level float64) estimate.Result {
	var of []estimate.Man
	for _, m := range men {
		if cemetery == "" || strings.EqualFold(m.Cemetery, cemetery) {
			of = append(of, m.Man)
		}
	}
	return estimate.Whole(of, level)
}

// tells is the share of a stone's readings whose words tell of service.
func tells(s *model.Subject) float64 {
	p := 0.0
	for _, r := range s.Readings {
		if !r.Claim().Service.IsZero() || len(r.Society) > 0 {
			p += r.Probability
		}
	}
	return min(p, 1)
}

// onRoster is the chance that a roster says that the man of a stone or a row is buried in its ground.
func (f *finder) onRoster(s *model.Subject) float64 {
	p := 0.0
	for _, c := range f.claims(s.Stone.ID) {
		b, ok := f.buriedHere[c.Record]
		if ok && strings.EqualFold(b.ground.Name, s.Stone.Place.Cemetery) {
			p += c.Probability
		}
	}
	return min(p, 1)
}

// inRegister is the chance that a register of its ground has the man of a stone.
func (f *finder) inRegister(s *model.Subject) float64 {
	best := 0.0
	for _, c := range f.claims(s.Stone.ID) {
		for _, o := range f.onStones[c.Record] {
			if o.register {
				best = max(best, c.Probability*o.alone)
			}
		}
	}
	for _, p := range s.Reading().People {
		a := p.Person.Name
		for _, row := range f.rowsOf[strings.ToLower(a.Surname)] {
			if a.Surname != "" && strings.EqualFold(row.Stone.Place.Cemetery, s.Stone.Place.Cemetery) && agree(a.Given, row.Reading().Claim().Person.Name.Given) {
				best = max(best, weight("same-name"))
			}
		}
	}
	return best
}
