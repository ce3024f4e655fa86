package marker

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
)

// because says which observations decided between the best pattern and its rival: for each, how the odds between them change when it is left
// out. Most telling first. The rival is the second best; where that is out of the question, a private stone, or the best government one.
func (t *tables) because(b *belief) []string {
	if b.second < 0 || b.unknown > .9 {
		return nil
	}
	rival := b.second
	if b.pattern[rival] < .02 {
		rival = t.private
		if b.best == t.private {
			rival = b.second
		}
	}
	type telling struct {
		bits float64
		text string
	}
	var list []telling
	for i := range b.obs {
		bits := (t.without(b, i, b.best) - t.without(b, i, rival)) / math.Ln2
		if math.Abs(bits) >= .5 && b.obs[i].said != "" {
			list = append(list, telling{bits, b.obs[i].said})
		}
	}
	slices.SortStableFunc(list, func(x, y telling) int {
		switch ax, ay := math.Abs(x.bits), math.Abs(y.bits); {
		case ax > ay:
			return -1
		case ax < ay:
			return 1
		}
		return 0
	})
	var out []string
	first, other := t.patterns[b.best].Short, t.patterns[rival].Short
	told := false // the two are named once
	for _, x := range list[:min(len(list), 4)] {
		switch {
		case x.bits < 0:
			out = append(out, x.text+": "+strength(-x.bits)+" "+other+" over "+first)
		case told:
			out = append(out, x.text+": "+strength(x.bits)+" the same")
		default:
			out = append(out, x.text+": "+strength(x.bits)+" "+first+" over "+other)
			told = true
		}
	}
	if oneDesign(t.patterns[b.best].Code, t.patterns[b.second].Code) && b.pattern[b.second] > .05 {
		out = append(out, "the General stone of 1922 and the upright marble of today are one design: only wording and dates tell them apart")
	}
	if p := t.patterns[b.best]; p.year("shield-from") != 0 && b.recorded("device") == "recessed shield" {
		out = append(out, "the recessed shield is documented from "+strconv.Itoa(p.year("shield-from"))+
			"; whether stones of the years before had it, sources disagree")
	}
	return out
}

// recorded is the phrase of what was recorded of a look, without its article; "" where it was not looked at.
func (b *belief) recorded(key string) string {
	for _, x := range b.obs {
		if x.key == key {
			return strings.TrimPrefix(strings.TrimPrefix(x.said, "a "), "an ")
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

func oneDesign(a, b model.PatternCode) bool {
	return a == "general-1922" && b == "upright-marble" || a == "upright-marble" && b == "general-1922"
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
	if b.second < 0 || b.unknown > .9 {
		return "write down the top, the material, the device and the width"
	}
	a, z := b.best, b.second
	pa, pz := b.pattern[a], b.pattern[z]
	prior := [2]float64{pa / (pa + pz), pz / (pa + pz)}
	doubt := entropy(prior)
	if doubt < .1 {
		return ""
	}
	var best float64
	var text string
	for f := range looks {
		if b.recorded(lookNames[f]) != "" || slices.Contains(b.hides, lookNames[f]) {
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
			text = lookText(f, l.values[modeA], l.values[modeZ])
		}
	}
	flush := t.patterns[a].Sizes[0].setFlat && t.patterns[z].Sizes[0].setFlat
	for m := range measures {
		if b.sizes[m] > 0 || slices.Contains(b.hides, [measures]string{"width", "thickness", "height", "length"}[m]) ||
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
	switch q := best / doubt; {
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

func lookText(feature int, a, z string) string {
	if feature == emblem {
		return "look for an emblem of belief: one present or none"
	}
	text := "look at the " + lookNames[feature]
	if a == z {
		return text
	}
	return text + ": " + said(feature, a) + " against " + said(feature, z)
}

// inchText writes inches as people do: "12 inches", "8 1/2 inches".
func inchText(x float64) string {
	whole := math.Floor(x)
	frac := ""
	for _, d := range []int{1, 2, 4, 8, 16} {
		n := (x - whole) * float64(d)
		if math.Abs(n-math.Round(n)) < 1e-6 {
			if k := int(math.Round(n)); k == d {
				whole++
			} else if k > 0 {
				frac = strconv.Itoa(k) + "/" + strconv.Itoa(d)
			}
			break
		}
		if d == 16 {
			return strconv.FormatFloat(x, 'f', 1, 64) + " inches"
		}
	}
	switch {
	case frac == "" && whole == 1:
		return "1 inch"
	case frac == "":
		return strconv.Itoa(int(whole)) + " inches"
	case whole == 0:
		return frac + " inch"
	}
	return strconv.Itoa(int(whole)) + " " + frac + " inches"
}
