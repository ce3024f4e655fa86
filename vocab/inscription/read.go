package inscription

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// Context is what else is known of a stone. All of it is optional.
type Context struct {
	// Died is the man's death, where something other than the inscription tells it.
	Died date.Date
	// Pattern is the marker's pattern: on a government marker a rank alone is a rank.
	Pattern model.PatternCode
}

const (
	// lesser is the share below which a reading is left out.
	lesser = 0.02
	// most is how many readings are given.
	most = 8
	// negligible is by how much a way may be worse than the best and still count in what is left out: one in three thousand.
	negligible = 8
)

// lesserLog is the logarithm of lesser.
var lesserLog = float32(math.Log(lesser))

// Read gives the ways to read an inscription, best first: never none, and their probabilities sum to 1. Lines are parted by line breaks or by
// " / ". The tokens of each reading tile the text. A way that is less than a fiftieth as likely as the best is not given, nor is the ninth; what they
// come to is told in the first reading's LeftOut.
func Read(text string, ctx Context) []model.Reading {
	c := charts.Get().(*chart)
	defer charts.Put(c)
	t := &c.own
	t.Split(text)
	if len(t.Words) == 0 {
		r := model.Reading{Probability: 1}
		if text != "" {
			r.Tokens = []model.Token{{Span: model.Span{From: 0, To: len(text)}}}
		}
		return []model.Reading{r}
	}
	c.figures(t)
	rest := t.Words[len(t.Words):]
	if len(t.Words) > maxWords {
		t.Words, rest = t.Words[:maxWords], t.Words[maxWords:]
	}
	c.fill(t, ctx)
	c.search()
	return c.readings(rest)
}

// readings makes readings of the best ends.
func (c *chart) readings(rest []words.Word) []model.Reading {
	b := &c.build
	b.begin()
	keys := c.keys[:0]
	c.paths, c.pathOf = c.paths[:0], c.pathOf[:0]
	sum, left := 0.0, 0.0
	best := c.finals[0].score
	for k, f := range c.finals {
		if f.score < best-negligible {
			break
		}
		p := math.Exp(float64(f.score - best))
		told := c.told(f)
		if same := slices.Index(c.paths, told); same >= 0 {
			sum += p
			b.kept[c.pathOf[same]].Probability += p
			continue
		}
		if p < lesser || len(b.kept) == most {
			left += p
			continue
		}
		b.reset(c)
		b.read(f, rest)
		same := -1
		if k > 0 || len(c.finals) > 1 && c.finals[1].score > best+lesserLog {
			key := essence(&b.r)
			if same = slices.Index(keys, key); same < 0 {
				keys = append(keys, key)
			}
		}
		sum += p
		c.paths = append(c.paths, told)
		if same >= 0 {
			c.pathOf = append(c.pathOf, same)
			b.kept[same].Probability += p
			continue
		}
		c.pathOf = append(c.pathOf, len(b.kept))
		b.keep(p)
	}
	c.keys = keys
	out := b.kept[:len(b.kept):len(b.kept)]
	for k := range out {
		out[k].Probability /= sum
	}
	slices.SortStableFunc(out, func(a, b model.Reading) int { return cmp.Compare(b.Probability, a.Probability) })
	out[0].LeftOut = left / (sum + left)
	return out
}

// hashStart and hashStep are the constants of FNV-1a for 64 bits.
const (
	hashStart = 14695981039346656037
	hashStep  = 1099511628211
)

// told is a hash of what the items of a path tell, so that paths that differ only in words that tell nothing are built once.
func (c *chart) told(f final) uint64 {
	h, parts := uint64(hashStart), uint64(0)
	put := func(n uint64) { h = (h ^ n) * hashStep }
	for k := f.state; c.states[k].back >= 0; k = c.states[k].back {
		i := c.states[k].item
		if i < 0 {
			if w := int(-i - 2); !lostWord(c.text.Key(w)) && !c.joins(w) {
				put(uint64(w)<<8 | uint64(kUnread))
			}
			continue
		}
		if i == f.swap {
			i = f.swapped
		}
		switch it := &c.items[i]; it.kind {
		case kLink, kNote:
		case kUnit:
			parts += c.unitParts[it.ref].Tells()
		case kDate, kYears:
			w := &c.whens[it.ref]
			if it.kind == kYears {
				put(uint64(w.other.from)<<8 | uint64(kDate))
			}
			put(uint64(w.one.to)<<16 | uint64(w.one.from)<<8 | uint64(kDate))
		default:
			put(uint64(i)<<8 | uint64(it.kind))
		}
	}
	put(parts)
	return h
}

// essence is a hash of a reading's claims, so that readings that say the same are told.
func essence(r *model.Reading) uint64 {
	h := uint64(hashStart)
	put := func(parts ...string) {
		for k, p := range parts {
			if p != "" {
				h = mix(h^uint64(k), p)
			}
		}
		h = h*3 + uint64(len(parts))
	}
	for i := range r.People {
		p, s := &r.People[i].Person, &r.People[i].Service
		u := &s.Unit
		put(p.Name.Given, p.Name.Middle, p.Name.Surname, p.Name.Suffix, p.Relation, p.Born.EDTF, p.Died.EDTF, p.Age.Written, p.Birthplace, p.DeathPlace,
			p.Residence, string(s.Rank), string(s.Branch), string(s.Side), string(u.Body), string(u.State), string(u.Arm), string(u.Kind), u.Company, u.Name,
			string(r.People[i].Home), s.Enlisted.EDTF, s.MusteredOut.EDTF)
		put(u.Marks...)
		put(s.Awards...)
		for _, c := range s.Conflicts {
			put(string(c))
		}
		h = (h ^ uint64(u.Number)) * hashStep
		h = (h ^ uint64(u.Division)) * hashStep
	}
	put(r.Unread...)
	put(r.Society...)
	put(r.GraveNumber)
	return h
}

// mix adds a text to a hash, eight bytes at a time.
func mix(h uint64, s string) uint64 {
	const odd = 0x9E3779B97F4A7C15
	for len(s) >= 8 {
		h ^= uint64(s[0]) | uint64(s[1])<<8 | uint64(s[2])<<16 | uint64(s[3])<<24 | uint64(s[4])<<32 | uint64(s[5])<<40 | uint64(s[6])<<48 | uint64(s[7])<<56
		h *= odd
		h ^= h >> 32
		s = s[8:]
	}
	end := uint64(len(s)+1) << 56
	for k := range len(s) {
		end |= uint64(s[k]) << (8 * k)
	}
	h = (h ^ end) * odd
	return h ^ h>>32
}

// ReadStone reads a stone: its inscription, or what a burial register says that someone has already read.
func ReadStone(s *model.Stone) []model.Reading {
	if s.Marker.Inscription == "" && s.Register != nil {
		r := model.Reading{People: []model.Claim{*s.Register}, Probability: 1}
		if s.Register.Person.Name.IsZero() {
			r.Unknown = true
		}
		return bothNames([]model.Reading{r})
	}
	ctx := Context{}
	if s.Register != nil {
		ctx.Died = s.Register.Person.Died
	}
	switch { // a first look, at what only a government stone has; package marker, which needs the words too, judges
	case s.Marker.Device == "recessed shield":
		ctx.Pattern = "civil-war-1873"
	case s.Marker.Top == "pointed" && strings.Contains(s.Marker.Material, "marble") && s.Marker.Setting == "upright":
		ctx.Pattern = "confederate-1906"
	case s.Marker.Setting == "block":
		ctx.Pattern = "unknown-block"
	}
	return bothNames(Read(s.Marker.Inscription, ctx))
}

// bothNames gives a reading whose first person has another name too once under each: which of the two a roster has is as likely as not.
func bothNames(list []model.Reading) []model.Reading {
	two := func(r model.Reading) bool { return len(r.People) > 0 && r.People[0].Person.Name.Other != "" }
	if !slices.ContainsFunc(list, two) {
		return list
	}
	list = slices.Clone(list)
	for i, r := range list {
		if !two(r) {
			continue
		}
		if other, ok := otherName(&r.People[0]); ok {
			r.Probability /= 2
			list[i] = r
			r.People = slices.Clone(r.People)
			r.People[0] = other
			list = append(list, r)
		}
	}
	slices.SortStableFunc(list, func(a, b model.Reading) int { return cmp.Compare(b.Probability, a.Probability) })
	return list
}

// otherName is what is claimed of a person under the other name that his own tells ("Smith alias Kolb, Peter").
func otherName(c *model.Claim) (other model.Claim, ok bool) {
	n := name.OtherIn(c.Person.Name.Other).Name
	if n.Surname == "" {
		return model.Claim{}, false
	}
	if n.Given == "" {
		n.Given, n.GivenOr, n.Middle = c.Person.Name.Given, c.Person.Name.GivenOr, c.Person.Name.Middle
	}
	n.Suffix, n.Written = c.Person.Name.Suffix, c.Person.Name.Written
	other = *c
	other.Person.Name = n
	return other, true
}
