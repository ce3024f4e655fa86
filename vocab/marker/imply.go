package marker

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"musterstone/model"
)

// enough is how many bits the things looked at must be able to tell, on average, for "unknown" to go down to nothing.
const enough = 1.7

// slight is the smallest probability that is told.
const slight = .0005

// logFamilyHere is the log of how much rarer a government marker for a wife or a child is in an ordinary burial ground than the tables'
// shares, which are those of all grounds: in private cemeteries they were not eligible (S7).
const logFamilyHere = -3

// Imply says what the design of a stone, with its words as read, implies. It is safe for use by several goroutines at once, and the same
// stone and reading give the same result.
func Imply(s *model.Stone, r model.Reading) model.Implication {
	t, room := compiled(), rooms.Get().(*room)
	defer rooms.Put(room)
	m, b, rule := t.imply(s, r, room)
	if b == nil {
		m.Because = []string{"a register tells what someone has read, and nothing of the stone"}
		return m
	}
	m.Contradictions = t.contradictions(s, r, b, rule)
	m.Because = t.because(b)
	m.Next = t.next(b)
	return m
}

// Briefly is Imply without the sentences: patterns, services and years.
func Briefly(s *model.Stone, r model.Reading) model.Implication {
	room := rooms.Get().(*room)
	defer rooms.Put(room)
	m, _, _ := compiled().imply(s, r, room)
	return m
}

// A room is what one stone is weighed in; it is used again for the next.
type room struct {
	obs    []observation
	floats []float64
	used   int

	measured map[measurement][]float64
}

var rooms = sync.Pool{New: func() any { return new(room) }}

// numbers are so many numbers, all 0.
func (r *room) numbers(n int) []float64 {
	if r.used+n > len(r.floats) {
		r.floats, r.used = make([]float64, max(4096, 2*len(r.floats), n)), 0
	}
	out := r.floats[r.used : r.used+n : r.used+n]
	clear(out)
	r.used += n
	return out
}

// imply is what a stone implies without the sentences, and the belief that they are made of with the way in which its recorder is taken to have erred; nil for a register's row.
func (t *tables) imply(s *model.Stone, r model.Reading, room *room) (model.Implication, *belief, string) {
	room.used = 0
	o := t.observe(s, r, room)
	defer func() { room.obs = o.obs }()
	if s.Register != nil && !lookedAt(s.Marker) {
		return t.implyRegister(o), nil, ""
	}
	b := t.infer(o)
	alt, rule := t.otherMeasures(o, b)
	if alt != nil {
		b = alt
	}
	m := model.Implication{Patterns: t.weighPatterns(b), Services: t.weighServices(b.service)}
	m.From, m.To = t.made(b)
	return m, b, rule
}

// lookedAt reports whether anything of the stone itself was written down.
func lookedAt(m model.Marker) bool {
	return m.Inscription != "" || m.Top != "" || m.Material != "" || m.Lettering != "" || m.Device != "" || m.Emblem != "" || m.Setting != "" ||
		len(m.Motifs) > 0 || m.Width > 0 || m.Thickness > 0 || m.Height > 0 || m.Length > 0
}

// belief is the state after weighing.
type belief struct {
	*seen
	score   []float64 // log score a pattern, unnormalised
	pattern []float64 // probabilities, unknown left out
	service []float64 // probabilities
	joint   []float64 // pattern by class, log
	sums    []float64 // the log of each row's sum
	fit     []float64 // the log-likelihood of the measurements, a pattern each
	unknown float64
	best    int
	second  int
	logZ    float64
}

// infer weighs a stone as observed.
func (t *tables) infer(o *seen) *belief {
	b := &belief{seen: o}
	for m, x := range o.sizes {
		if x > 0 {
			o.obs = append(o.obs, observation{key: measureNames[m], inches: x, size: t.measured(o.room, m, x, o.grid)})
		}
	}
	n, k := len(t.patterns), len(t.classes)
	b.score, b.joint, b.fit = o.room.numbers(n), o.room.numbers(n*k), o.room.numbers(n)
	byClass := o.room.numbers(k)
	for _, x := range o.obs {
		for c, l := range x.class {
			byClass[c] += l
		}
	}
	copy(b.joint, t.service)
	for _, x := range o.obs {
		for i, l := range x.joint {
			b.joint[i] += l
		}
	}
	b.sums = o.room.numbers(n)
	top := math.Inf(-1)
	for p := range n {
		b.fit[p] = t.fit(o.obs, p, -1)
		b.score[p] = t.prior[o.ground][p] + b.fit[p]
		for i := range o.obs {
			if v := o.obs[i].pattern; v != nil {
				b.score[p] += v[p]
			}
		}
		row := b.joint[p*k : (p+1)*k]
		for c := range row {
			row[c] += byClass[c]
		}
		if o.ground == county && p != t.private {
			row[t.none] += logFamilyHere
		}
		top = math.Max(top, b.score[p]+slices.Max(row))
	}
	for p := range n {
		row := b.joint[p*k : (p+1)*k]
		if m := slices.Max(row); b.score[p]+m < top-18 { // too far behind for its sum to matter
			b.sums[p] = m
		} else {
			b.sums[p] = logSum(row)
		}
		b.score[p] += b.sums[p]
	}
	b.logZ = logSum(b.score)
	b.pattern, b.service = o.room.numbers(n), o.room.numbers(k)
	for p := range n {
		b.pattern[p] = math.Exp(b.score[p] - b.logZ)
		if b.pattern[p] < 1e-6 {
			continue // no service of it could be told
		}
		for c, l := range b.joint[p*k : (p+1)*k] {
			if d := l - b.sums[p]; d > -16 {
				b.service[c] += b.pattern[p] * math.Exp(d)
			}
		}
	}
	b.unknown = math.Pow(math.Max(0, 1-o.bits/enough), 2)
	b.best, b.second = twoBest(b.pattern)
	return b
}

// fit is the log-likelihood of the measurements for a pattern, over its sizes, one observation left out (-1: none).
func (t *tables) fit(obs []observation, p, without int) float64 {
	var lines [16]float64
	sum := lines[:0]
	measured := false
	for i := t.first[p]; i < t.first[p+1]; i++ {
		l := t.sizes[i].logShare
		for j := range obs {
			if obs[j].size != nil && j != without {
				l += obs[j].size[i]
				measured = true
			}
		}
		sum = append(sum, l)
	}
	if !measured {
		return 0
	}
	return logSum(sum)
}

// twoBest gives the places of the largest and the second largest; second is -1 where there is but one.
func twoBest(p []float64) (best, second int) {
	best, second = 0, -1
	for i := 1; i < len(p); i++ {
		switch {
		case p[i] > p[best]:
			best, second = i, best
		case second < 0 || p[i] > p[second]:
			second = i
		}
	}
	return best, second
}

// logSum is the log of the sum of what the logs are of; what is too small to matter is left out.
func logSum(x []float64) float64 {
	m := slices.Max(x)
	s := 0.
	for _, v := range x {
		if d := v - m; d > -20 {
			s += math.Exp(d)
		}
	}
	return m + math.Log(s)
}

// otherMeasures tries the two ways in which recorders err with all measurements at once: width and thickness changed about, and
// centimetres for inches. Only a stone that looks private, or two of whose measurements
// the best pattern does not explain, is tried, and only a far better fit is taken.
func (t *tables) otherMeasures(o *seen, b *belief) (*belief, string) {
	if b.best != t.private && t.misfits(b) < 2 || o.sizes[width] == 0 || o.sizes[thickness] == 0 && o.sizes[height] == 0 && o.sizes[length] == 0 {
		return nil, ""
	}
	base := o.obs[:0:0]
	for _, x := range o.obs {
		if x.size == nil {
			base = append(base, x)
		}
	}
	try := func(rule string, sizes [measures]float64, grid, prior float64) (*belief, string) {
		if t.mostOther(o, b, sizes, grid)+math.Log(prior) < b.logZ+math.Log(4) {
			return nil, ""
		}
		q := *o
		q.obs = append(make([]observation, 0, len(base)+measures), base...)
		q.sizes, q.grid = sizes, grid
		c := t.infer(&q)
		if c.best != t.private && c.logZ+math.Log(prior) > b.logZ+math.Log(4) {
			return c, rule
		}
		return nil, ""
	}
	if o.sizes[thickness] > 0 && o.sizes[width] < o.sizes[thickness] {
		s := o.sizes
		s[width], s[thickness] = s[thickness], s[width]
		if c, rule := try("swapped", s, 0, t.Swapped); c != nil {
			return c, rule
		}
	}
	s := o.sizes
	for i := range s {
		s[i] /= 2.54
	}
	return try("centimetres", s, .5/2.54, t.Centimetres)
}

// mostOther is what the logZ of a stone can be at most where it was measured so and looks otherwise as it was believed to: nearly always too little for infer to be asked.
func (t *tables) mostOther(o *seen, b *belief, sizes [measures]float64, grid float64) float64 {
	var room [measures]observation
	obs := room[:0]
	for m, x := range sizes {
		if x > 0 {
			obs = append(obs, observation{size: t.measured(o.room, m, x, grid)})
		}
	}
	score := o.room.numbers(len(b.score))
	for p := range score {
		score[p] = b.score[p] - b.fit[p] + t.fit(obs, p, -1)
	}
	// Where infer left out a pattern's sum it was up to as many times more as there are classes; a tenth is room for rounding.
	return logSum(score) + math.Log(float64(len(t.classes))) + .1
}

// misfits counts the measurements that no size of the best pattern explains but as a blunder.
func (t *tables) misfits(b *belief) int {
	n := 0
	for _, x := range b.obs {
		if x.size == nil {
			continue
		}
		if slices.Max(x.size[t.first[b.best]:t.first[b.best+1]]) < math.Log(t.Unexplained) {
			n++
		}
	}
	return n
}

// implyRegister answers for a register's row: nothing is known of any stone, and the words speak of the man alone.
func (t *tables) implyRegister(o *seen) model.Implication {
	k := len(t.classes)
	v := make([]float64, k)
	for c, x := range t.classes {
		v[c] = math.Log(x.base * t.RegisterServed)
		if c == t.none {
			v[c] = math.Log(1 - t.RegisterServed)
		}
	}
	civil := t.sides(&o.words)
	for c, x := range t.classes {
		switch {
		case c == t.none && o.words.service >= 0:
			v[c] += math.Log(t.Unserved)
		case c != t.none && o.words.service < 0:
			v[c] += math.Log(t.RegisterSilent)
		}
		if o.words.form >= 0 {
			v[c] += x.form[o.words.form] + civil[c]
		}
		if d := o.words.died.year(); d != 0 {
			v[c] += logDied(&t.classes[c], d)
		}
	}
	for _, x := range o.obs {
		for c, l := range x.class {
			v[c] += l
		}
	}
	z := logSum(v)
	p := make([]float64, k)
	for c := range v {
		p[c] = math.Exp(v[c] - z)
	}
	return model.Implication{
		Patterns: []model.Weighted[model.PatternCode]{{Code: model.UnknownPattern, Probability: 1}},
		Services: t.weighServices(p),
	}
}

// weighPatterns gives the patterns best first, unknown among them, summing to 1. Those under the slight go into the rest.
func (t *tables) weighPatterns(b *belief) []model.Weighted[model.PatternCode] {
	var out []model.Weighted[model.PatternCode]
	sum := 0.
	for p, x := range b.pattern {
		if x *= 1 - b.unknown; x >= slight {
			out = append(out, model.Weighted[model.PatternCode]{Code: t.patterns[p].Code, Probability: x})
			sum += x
		}
	}
	if b.unknown >= slight {
		out = append(out, model.Weighted[model.PatternCode]{Code: model.UnknownPattern, Probability: b.unknown})
		sum += b.unknown
	}
	return sorted(out, sum)
}

func (t *tables) weighServices(p []float64) []model.Weighted[string] {
	var out []model.Weighted[string]
	sum := 0.
	for c, x := range p {
		if x >= slight {
			out = append(out, model.Weighted[string]{Code: t.classes[c].code, Probability: x})
			sum += x
		}
	}
	return sorted(out, sum)
}

func sorted[C ~string](out []model.Weighted[C], sum float64) []model.Weighted[C] {
	for i := range out {
		out[i].Probability /= sum
	}
	slices.SortStableFunc(out, func(a, b model.Weighted[C]) int { return cmp.Compare(b.Probability, a.Probability) })
	return out
}
