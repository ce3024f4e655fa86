package weigh

import (
	"cmp"
	"hash/fnv"
	"io"
	"math"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab/name"
)

// People is how many groups of names are told apart, each a people with surnames and given names of its own, where the rosters have such. House judgement: with five, six and eight of them the
// same came out.
const People = 6

// Leaning says how much likelier a name makes a man one of each people: how many times as likely as among all of the rosters' men, less 1. The zero value is that of a name that says nothing.
type Leaning [People]float32

// Times is how many times as likely it makes people k.
func (l *Leaning) Times(k int) float64 { return 1 + float64(l[k]) }

// peoples are groups of men who share surnames and given names: of men called Olson many are called Ole. What they are follows from the rosters alone: each surname is taken to be of one group, each with its
// own given names, and both are learned by EM (a mixture of multinomials, with the surname for the document). Where the men of all surnames have the same given names, the groups differ by chance
// only, and no name leans.
type peoples struct {
	share           [People]float64 // of the rosters' men
	surnames, given map[string]Leaning
}

const (
	// peopleMen is of how many men the peoples are learned.
	peopleMen = 20_000
	// ownGivens is how many men with the given names of all the rosters are added to each people. House judgement.
	ownGivens = 200
	// ownPeople is how many men of all peoples are added to those of a surname. House judgement.
	ownPeople = 2
	// peopleRounds and leanRounds are the rounds of EM for the peoples, and then for how the surnames lean.
	peopleRounds, leanRounds = 20, 8
)

// sampled is a man of whom the peoples are learned. Men of one surname in one unit are taken together or not at all, so that a man who stands in two books counts once.
type sampled struct {
	Digest         uint64 // of unit and surname
	Surname, Given string // folded
}

// digestOf is a digest of texts.
func digestOf(texts ...string) uint64 {
	h := fnv.New64a()
	for _, t := range texts {
		io.WriteString(h, t)
		h.Write([]byte{0xff}) // in no text
	}
	return h.Sum64()
}

// unitDigest is the digest of a unit, 0 for a man of none.
func unitDigest(u *model.Unit) uint64 {
	if u.Number == 0 && u.Name == "" {
		return 0
	}
	return max(1, digestOf(u.Designation(), u.Name, string(u.Kind), string(u.Arm), u.Company)+uint64(u.Number)<<32)
}

// manDigest is the digest by which men of a unit and a surname are taken, 0 where they are not, of so many men in all.
func manDigest(unit, surname uint64, men int) uint64 {
	h := unit + surname*0x9e3779b97f4a7c15
	h = (h ^ h>>33) * 0xff51afd7ed558ccd // of the first bits, none hangs on the first letters alone
	h = (h ^ h>>33) * 0xc4ceb9fe1a85ec53
	if h = max(1, h^h>>33); unit == 0 || men > peopleMen && h >= math.MaxUint64/uint64(men)*peopleMen {
		return 0
	}
	return h
}

// take takes a record among the men sampled, if it is to be.
func (c *Counts) take(r *model.Record) {
	n := &r.Person.Name
	d := manDigest(unitDigest(&r.Service.Unit), digestOf(n.Surname), c.N)
	if d == 0 {
		return
	}
	if s := (sampled{d, name.Fold(n.Surname), name.Fold(n.Given)}); s.tells() {
		c.sample = append(c.sample, s)
	}
	if len(c.sample) > max(4*peopleMen, 2*c.sifted) {
		c.sift()
		c.sifted = len(c.sample)
	}
}

// tells reports whether both names are more than initials.
func (s *sampled) tells() bool { return len(s.Surname) > 1 && len(s.Given) > 1 }

// sift leaves of the men sampled those that are to be, of all who were counted, each once, in order.
func (c *Counts) sift() {
	c.sample = slices.DeleteFunc(c.sample, func(s sampled) bool { return c.N > peopleMen && s.Digest >= math.MaxUint64/uint64(c.N)*peopleMen })
	slices.SortFunc(c.sample, func(a, b sampled) int {
		return cmp.Or(strings.Compare(a.Surname, b.Surname), strings.Compare(a.Given, b.Given), cmp.Compare(a.Digest, b.Digest))
	})
	c.sample = slices.Compact(c.sample)
}

// men are the men sampled, in order. It leaves the counts as they are, which may be in use.
func (c *Counts) men() []sampled {
	own := Counts{N: c.N, sample: slices.Clone(c.sample)}
	own.sift()
	return own.sample
}

// sampler takes rows of the columns as Counts.take takes records.
type sampler struct {
	c               *Columns
	units, surnames []uint64 // digests
	rows            []uint32
	digests         []uint64 // of the rows
}

func newSampler(c *Columns) *sampler {
	s := &sampler{c: c, units: make([]uint64, len(c.units)), surnames: make([]uint64, len(c.surnames))}
	inParts(len(c.units), func(from, to int) {
		for i := from; i < to; i++ {
			s.units[i] = unitDigest(&c.units[i])
		}
	})
	inParts(len(c.surnames), func(from, to int) {
		for i := from; i < to; i++ {
			s.surnames[i] = digestOf(c.surnames[i])
		}
	})
	return s
}

// take takes row i, if it is to be.
func (s *sampler) take(i int, w *row) {
	if d := manDigest(s.units[w.unit], s.surnames[w.surname], len(s.c.rows)); d != 0 {
		s.rows, s.digests = append(s.rows, uint32(i)), append(s.digests, d)
	}
}

// men are the men of the rows taken.
func (s *sampler) men() []sampled {
	surnames, givens := map[uint32]string{}, map[uint32]string{}
	folded := func(of map[uint32]string, values []string, i uint32) string {
		f, ok := of[i]
		if !ok {
			f = name.Fold(values[i])
			of[i] = f
		}
		return f
	}
	out := make([]sampled, 0, len(s.rows))
	for k, i := range s.rows {
		w := &s.c.rows[i]
		if m := (sampled{s.digests[k], folded(surnames, s.c.surnames, w.surname), folded(givens, s.c.givens, w.given)}); m.tells() {
			out = append(out, m)
		}
	}
	return out
}

// bearers are the men of one surname: the number of each one's given name.
type bearers struct {
	surname string
	givens  []int32
}

// newPeoples learns the peoples of the men sampled, in their order.
func newPeoples(men []sampled) *peoples {
	p := &peoples{surnames: map[string]Leaning{}, given: map[string]Leaning{}}
	for k := range p.share {
		p.share[k] = 1. / People
	}
	var surnames []bearers
	var givens []string
	var n []float64 // men of each given name
	numbers := map[string]int32{}
	for _, m := range men {
		g, ok := numbers[m.Given]
		if !ok {
			g = int32(len(givens))
			numbers[m.Given] = g
			givens, n = append(givens, m.Given), append(n, 0)
		}
		n[g]++
		if len(surnames) == 0 || surnames[len(surnames)-1].surname != m.Surname {
			surnames = append(surnames, bearers{surname: m.Surname})
		}
		last := &surnames[len(surnames)-1]
		last.givens = append(last.givens, g)
	}
	if len(men) == 0 {
		return p
	}
	of := make([][People]float64, len(surnames)) // the chance of each people, by surname
	for i := range surnames {
		of[i] = begun(surnames[i].surname)
	}
	leans := make([][People]float64, len(givens)) // the chance of a given name in each people over that in all
	for range peopleRounds {
		p.maximise(surnames, of, n, leans)
		for i := range surnames {
			r := p.share
			for _, g := range surnames[i].givens {
				sum := 0.0
				for k := range r {
					r[k] *= leans[g][k]
					sum += r[k]
				}
				for k := range r { // a name has many bearers
					r[k] /= sum
				}
			}
			of[i] = r
		}
	}
	// A surname may be of two peoples: how its bearers part follows from the given names of each.
	for i := range surnames {
		b, all := &surnames[i], float64(len(surnames[i].givens))
		at := p.share
		for range leanRounds {
			var sum [People]float64
			for _, g := range b.givens {
				r, total := at, 0.0
				for k := range r {
					r[k] *= leans[g][k]
					total += r[k]
				}
				for k := range r {
					sum[k] += r[k] / total
				}
			}
			for k := range at {
				at[k] = (sum[k] + ownPeople*p.share[k]) / (all + ownPeople)
			}
		}
		var l Leaning
		for k := range l {
			l[k] = float32(at[k]/p.share[k] - 1)
		}
		p.surnames[b.surname] = l
	}
	for g, given := range givens {
		var l Leaning
		for k := range l {
			l[k] = float32(leans[g][k] - 1)
		}
		p.given[given] = l
	}
	return p
}

// begun is where EM begins for a surname: nearly even, and another for each, since from the same it would find nothing.
func begun(surname string) (of [People]float64) {
	h, sum := uint64(keyOf(surname)), 0.0
	for k := range of {
		h = (h ^ h>>31) * 0x9e3779b97f4a7c15
		of[k] = 0.5 + float64(h>>40)/(1<<24)
		sum += of[k]
	}
	for k := range of {
		of[k] /= sum
	}
	return of
}

// maximise sets the shares of the peoples and their given names by what people each surname is of; n are the men of each given name.
func (p *peoples) maximise(surnames []bearers, of [][People]float64, n []float64, leans [][People]float64) {
	const spread = 10 // men of each people, so that none vanishes
	clear(leans)
	var men [People]float64
	all := 0.0
	for i := range surnames {
		r := &of[i]
		for _, g := range surnames[i].givens {
			for k := range r {
				leans[g][k] += r[k]
			}
		}
		for k := range r {
			men[k] += r[k] * float64(len(surnames[i].givens))
		}
		all += float64(len(surnames[i].givens))
	}
	for k := range men {
		p.share[k] = (men[k] + spread) / (all + People*spread)
		for g := range leans {
			share := n[g] / all
			leans[g][k] = (leans[g][k] + ownGivens*share) / ((men[k] + ownGivens) * share)
		}
	}
}

// oncePeoples are peoples that are learned when they are first asked for.
type oncePeoples struct {
	sync.Once
	p *peoples
}

// learnedPeoples are the peoples of the rosters' men.
func (c *Counts) learnedPeoples() *peoples {
	if c.peoples == nil {
		return newPeoples(c.men())
	}
	c.peoples.Do(func() { c.peoples.p = newPeoples(c.men()) })
	return c.peoples.p
}

// Peoples are the shares of the peoples among the rosters' men.
func (c *Counts) Peoples() [People]float64 { return c.learnedPeoples().share }

// Leaning is how the stone's surname and given name lean.
func (v *Stone) Leaning() (surname, given Leaning) {
	p, n := v.w.counts.learnedPeoples(), &v.claim.Person.Name
	return p.surnames[name.Fold(n.Surname)], p.given[name.Fold(n.Given)]
}
