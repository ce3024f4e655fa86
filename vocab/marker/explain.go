package marker

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
)

// What is worth saying: house judgement.
const (
	untold    = .9  // of "unknown" beyond which nothing is said of patterns
	hopeless  = .02 // below it a pattern is out of the question
	worthBits = .5  // the least that an observation must be worth
	mostSaid  = 4
)

// because says which observations decided between the best pattern and its rival: for each, how the odds between them change when it is left
// out. Most telling first. The rival is the second best; where that is out of the question, a private stone, or the best government one.
func (t *tables) because(b *belief) []string {
	if b.second < 0 || b.unknown > untold {
		return nil
	}
	rival := b.second
	if b.pattern[rival] < hopeless {
		rival = t.private
		if b.best == t.private {
			rival = b.second
		}
	}
	type observed struct {
		bits float64
		text string
	}
	var list []observed
	for i := range b.obs {
		bits := (t.without(b, i, b.best) - t.without(b, i, rival)) / math.Ln2
		if math.Abs(bits) >= worthBits && b.obs[i].told() != "" {
			list = append(list, observed{bits, b.obs[i].told()})
		}
	}
	slices.SortStableFunc(list, func(x, y observed) int { return cmp.Compare(math.Abs(y.bits), math.Abs(x.bits)) })
	var out []string
	first, other := t.patterns[b.best].Short, t.patterns[rival].Short
	told := false // the rival is named once; each sentence must stand alone, for where they are published they have no order
	for _, x := range list[:min(len(list), mostSaid)] {
		switch {
		case x.bits < 0:
			out = append(out, x.text+": "+strength(-x.bits)+" "+other+" over "+first)
		case told:
			out = append(out, x.text+": "+strength(x.bits)+" "+first)
		default:
			out = append(out, x.text+": "+strength(x.bits)+" "+first+" over "+other)
			told = true
		}
	}
	if p, q := &t.patterns[min(b.best, b.second)], &t.patterns[max(b.best, b.second)]; p.Design != "" && p.Design == q.Design && b.pattern[b.second] > .05 {
		out = append(out, p.Short+" and "+q.Short+" are one design: only wording and dates tell them apart")
	}
	if p := t.patterns[b.best]; p.year("shield-from") != 0 && b.recorded(device) == "recessed shield" {
		out = append(out, "the recessed shield is documented from "+strconv.Itoa(p.year("shield-from"))+
			"; whether stones of the years before had it, sources disagree")
	}
	return out
}

// recorded is the value that was recorded of a look; "" where it was not looked at.
func (b *belief) recorded(feature int) string {
	for _, x := range b.obs {
		if x.key == lookNames[feature] {
			return x.value
		}
	}
	return ""
}

func strength(bits float64) string {
	switch {
	case bits >= 6:
		return "decisive for"
	case bits >= 3:
		return "strong evidence for"
	case bits >= 1:
		return "evidence for"
	}
	return "slight evidence for"
}

// named is a pattern's name within a sentence.
func named(code model.PatternCode) string {
	if p, ok := Find(code); ok {
		return p.Short
	}
	return "an unknown pattern"
}

// without is what the observation adds to the log score of the pattern.
func (t *tables) without(b *belief, i, p int) float64 {
	x := &b.obs[i]
	sum := 0.
	if x.pattern != nil {
		sum += x.pattern[p]
	}
	if x.size != nil {
		sum += b.fit[p] - t.fit(b.obs, p, i)
	}
	if x.class == nil && x.joint == nil {
		return sum
	}
	k := len(t.classes)
	row := b.joint[p*k : (p+1)*k]
	var room [32]float64
	left := append(room[:0], row...)
	for c := range left {
		if x.class != nil {
			left[c] -= x.class[c]
		}
		if x.joint != nil {
			left[c] -= x.joint[p*k+c]
		}
	}
	return sum + b.sums[p] - logSum(left)
}

// next says which one look or measurement would best tell the two best patterns apart: the expected information of each that was not
// made, worked out over what it could show. Nobody is asked to dig for the length of a stone that stands.
func (t *tables) next(b *belief) string {
	if b.second < 0 || b.unknown > untold {
		return "write down the top, the material, the device and the width"
	}
	a, z := b.best, b.second
	pa, pz := b.pattern[a], b.pattern[z]
	prior := [2]float64{pa / (pa + pz), pz / (pa + pz)}
	doubt := entropy(prior)
	if doubt < .1 { // bits: they are as good as told apart
		return ""
	}
	var best float64
	var text string
	for f := range looks {
		if b.recorded(f) != "" || slices.Contains(b.hides, lookNames[f]) {
			continue
		}
		l := &t.looks[f]
		gain, modeA, modeZ := 0., 0, 0
		for v := range l.log {
			gain += pairBits(prior, math.Exp(l.log[v][a]), math.Exp(l.log[v][z]))
			if l.log[v][a] > l.log[modeA][a] {
				modeA = v
			}
			if l.log[v][z] > l.log[modeZ][z] {
				modeZ = v
			}
		}
		if gain > best {
			best = gain
			text = lookText(f, l.said[modeA], l.said[modeZ])
		}
	}
	flush := t.patterns[a].Sizes[0].setFlat && t.patterns[z].Sizes[0].setFlat
	for m := range measures {
		if b.sizes[m] > 0 || slices.Contains(b.hides, measureKeys[m]) ||
			m == length && !flush || m == thickness && flush || m == height && !t.stands(a) && !t.stands(z) || !t.fixes(a, m) || !t.fixes(z, m) {
			continue
		}
		ra, rz := t.spread[m][a*gridCells:(a+1)*gridCells], t.spread[m][z*gridCells:(z+1)*gridCells]
		gain := 0.
		for c := range ra {
			gain += pairBits(prior, ra[c], rz[c])
		}
		if gain > best*1.02 { // a look is easier than a tape
			best = gain
			text = "measure the " + measureNames[m] + against(mode(ra), mode(rz))
		}
	}
	if !b.words.read {
		gain := 0.
		for _, k := range []int{epitaph, home} {
			gain += pairBits(prior, t.share[k][a], t.share[k][z]) + pairBits(prior, 1-t.share[k][a], 1-t.share[k][z])
		}
		sa, sz := t.wordServed(a), t.wordServed(z)
		gain += pairBits(prior, sa, sz) + pairBits(prior, 1-sa, 1-sz)
		if gain = math.Min(gain, doubt); gain > best {
			best, text = gain, "read the words"
		}
	}
	switch q := best / doubt; { // of the doubt, what it takes away on average
	case q >= .6:
		return text + " would decide"
	case q >= .2:
		return text + " would help"
	case q >= .05:
		return text + " would help a little"
	}
	return ""
}

// stands reports whether the pattern stands or lies in the ground, so that something of it is above.
func (t *tables) stands(p int) bool {
	s := t.patterns[p].Sizes[0]
	return s.Above > 0 || s.setFlat
}

// fixes reports whether some size of the pattern fixes the measure.
func (t *tables) fixes(p, m int) bool {
	for i := t.first[p]; i < t.first[p+1]; i++ {
		if t.sizes[i].parts[m] != nil {
			return true
		}
	}
	return false
}

func entropy(p [2]float64) float64 {
	h := 0.
	for _, x := range p {
		if x > 0 {
			h -= x * math.Log2(x)
		}
	}
	return h
}

// pairBits is what one outcome adds to the information about which of the two it is.
func pairBits(prior [2]float64, a, z float64) float64 {
	m := prior[0]*a + prior[1]*z
	if m < 1e-6 || math.Abs(a-z) < .02*m {
		return 0
	}
	bits := 0.
	if a > 0 {
		bits += prior[0] * a * math.Log(a/m)
	}
	if z > 0 {
		bits += prior[1] * z * math.Log(z/m)
	}
	return bits / math.Ln2
}

// mode is the likeliest whole or half inch of a spread over the grid.
func mode(row []float64) float64 {
	best := 0
	for c := range row {
		if row[c] > row[best]*1.0001 {
			best = c
		}
	}
	return float64(best+1) * gridStep
}

func against(a, z float64) string {
	if a == z {
		return ""
	}
	return ": " + inchText(a) + " against " + strings.TrimSuffix(strings.TrimSuffix(inchText(z), " inches"), " inch")
}

// lookText asks for a look that shows one thing or the other, both in words.
func lookText(feature int, a, z string) string {
	if feature == emblem {
		return "look for an emblem of belief: one present or none"
	}
	text := "look at the " + lookNames[feature]
	if a == z {
		return text
	}
	return text + ": " + a + " against " + z
}
