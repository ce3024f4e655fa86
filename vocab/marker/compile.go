package marker

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// compiled is the tables of knowledge; they are worked out when first asked for.
var compiled = sync.OnceValue(compile)

func compile() *tables {
	t := &tables{patterns: patternTable(), at: map[model.PatternCode]int{}, side: map[model.State]float64{}}
	for i, p := range t.patterns {
		t.at[p.Code] = i
		t.from, t.to = append(t.from, p.From()), append(t.to, p.To())
		t.deaths = append(t.deaths, p.year("deaths"))
	}
	t.private = t.at[model.NotGovernment]
	vocab.Weights("marker-weights", &t.weights)
	t.compileShares()
	t.compileServices()
	t.compileWords()
	t.compileLooks()
	t.compileSizes()
	t.clues = compileClues()
	for _, r := range vocab.Rows("state-sides") {
		t.side[model.State(r.Get("state"))] = r.Float("confederate")
	}
	t.weigh()
	return t
}

func (t *tables) pattern(r vocab.Row) int {
	i, ok := t.at[model.PatternCode(r.Get("pattern"))]
	if !ok {
		panic(fmt.Sprintf("%s: no pattern %q", r.Where(), r.Get("pattern")))
	}
	return i
}

func (t *tables) compileShares() {
	n := len(t.patterns)
	for g := range t.prior {
		t.prior[g] = make([]float64, n)
	}
	for k := range t.share {
		t.share[k] = make([]float64, n)
	}
	t.looks[emblem] = look{values: []string{"none", "present"}, said: []string{"no emblem of belief", "an emblem of belief"}, index: map[string]int{"none": 0, "present": 1}, log: [][]float64{make([]float64, n), make([]float64, n)}}
	for _, r := range vocab.Rows("pattern-shares") {
		p := t.pattern(r)
		for g, name := range groundNames {
			t.prior[g][p] = r.Float(name)
		}
		for k, name := range shareNames {
			t.share[k][p] = r.Float(name)
		}
		e := r.Float("emblem")
		seen := e*t.EmblemSeen + (1-e)*t.EmblemImagined
		t.looks[emblem].log[0][p], t.looks[emblem].log[1][p] = math.Log(1-seen), math.Log(seen)
	}
	for k := range t.share {
		t.has[k], t.lacks[k] = make([]float64, n), make([]float64, n)
		for p, x := range t.share[k] {
			t.has[k][p], t.lacks[k][p] = math.Log(x), math.Log(1-x)
		}
	}
	t.names = [3][]float64{namesSomeone: make([]float64, n), namesUnknown: t.has[unknown], namesNumber: t.has[number]}
	t.dates = [3][]float64{t.has[undated], t.has[deathOnly], make([]float64, n)}
	t.silent = make([]float64, n)
	for p := range n { // what the shares leave over is never nothing, though they be rounded up to the whole
		t.names[namesSomeone][p] = math.Log(1 - t.share[unknown][p] - t.share[number][p])
		t.dates[2][p] = math.Log(math.Max(1-t.share[undated][p]-t.share[deathOnly][p], .01))
		t.silent[p] = math.Log(math.Max(1-t.share[unit][p]-t.share[branch][p]-t.share[veteran][p], .003))
	}
	for g := range t.prior { // no pattern is impossible on any ground
		sum := 0.
		for _, x := range t.prior[g] {
			sum += x
		}
		for p := range t.prior[g] {
			t.prior[g][p] = math.Log(t.prior[g][p]/sum*(1-1e-6) + 1e-6/float64(n))
		}
	}
}

func (t *tables) compileServices() {
	index := map[string]int{}
	for _, r := range vocab.Rows("service-classes") {
		c := class{code: r.Get("code"), label: r.Get("label"), conflict: model.ConflictCode(r.Get("conflict")), side: model.Side(r.Get("side")),
			from: r.Int("from"), to: r.Int("to"), bornFrom: r.Int("born_from"), born: r.Int("born_to"), diedTo: r.Int("died_to"), base: r.Float("base")}
		for _, code := range r.List("also") {
			c.also = append(c.also, model.ConflictCode(code))
		}
		for f, name := range formNames {
			c.form[f] = math.Log(r.Float(name))
		}
		// Deaths and births are spread evenly over the years within reach, of which a short war has no fewer than these.
		c.logDied, c.logBorn = -math.Log(float64(max(c.diedTo-c.from, 40))), -math.Log(float64(max(c.born-c.bornFrom, 30)))
		if c.from == 0 { // no service: anyone
			c.logDied, c.logBorn = -math.Log(180), -math.Log(200)
		}
		index[c.code] = len(t.classes)
		t.classes = append(t.classes, c)
	}
	t.none = index["none"]
	t.idle = [3]float64{unit: math.Log(t.IdleUnit), branch: math.Log(t.IdleBranch), veteran: math.Log(t.IdleVeteran)}
	n := len(t.patterns) * len(t.classes)
	t.listed = make([]bool, n)
	share, named := make([]float64, n), make([]float64, n)
	for i := range share {
		share[i], named[i] = t.OtherService/float64(len(t.classes)), t.WarNamed
	}
	for _, r := range vocab.Rows("pattern-services") {
		c, ok := index[r.Get("service")]
		if !ok {
			panic(fmt.Sprintf("%s: no service %q", r.Where(), r.Get("service")))
		}
		i := t.pattern(r)*len(t.classes) + c
		share[i] += r.Float("share") * (1 - t.OtherService)
		named[i] = math.Max(r.Float("named"), .0005) // a carver may always have done what was not furnished
		t.listed[i] = true
	}
	t.service, t.named, t.unnamed = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range share {
		t.service[i], t.named[i], t.unnamed[i] = math.Log(share[i]), math.Log(named[i]), math.Log(1-named[i])
	}
}

// compileWords lays together how often each pattern speaks of service, for those who served and those who did not.
func (t *tables) compileWords() {
	n := len(t.classes)
	for service := range t.words {
		for war := range t.words[service] {
			v := make([]float64, len(t.patterns)*n)
			for i := range v {
				p, c := i/n, i%n
				switch {
				case service == unserving && c == t.none:
					v[i] = math.Log(1 - t.Unserved)
				case service == unserving:
					v[i] = t.silent[p]
					if war == warNamed && v[i] < logUnplaced {
						v[i] = logUnplaced
					}
				case c == t.none:
					v[i] = t.idle[service]
				default:
					v[i] = t.has[service][p]
				}
				switch {
				case service == unserving:
				case war == warNamed:
					v[i] += t.named[i]
				case war == warLeft:
					v[i] += t.unnamed[i]
				}
			}
			t.words[service][war] = v
		}
	}
}

// compileLooks folds the recorder's confusions into the true looks.
func (t *tables) compileLooks() {
	type key struct{ feature, value string }
	type confusion struct {
		recorded string
		share    float64
	}
	confusions := map[key][]confusion{}
	for _, r := range vocab.Rows("confusions") {
		k := key{r.Get("feature"), r.Get("true")}
		confusions[k] = append(confusions[k], confusion{r.Get("recorded"), r.Float("share")})
	}
	plain := [looks]map[string][]float64{}
	for f := range emblem {
		plain[f] = map[string][]float64{}
		t.looks[f].index = map[string]int{}
	}
	for _, r := range vocab.Rows("pattern-looks") {
		f := slices.Index(lookNames[:], r.Get("feature"))
		if f < 0 || f == emblem {
			panic(r.Where() + ": no such feature")
		}
		row := confusions[key{r.Get("feature"), r.Get("value")}]
		if row == nil {
			panic(r.Where() + ": the confusions have no row for " + r.Get("value"))
		}
		p, share := t.pattern(r), r.Float("share")
		for _, c := range row {
			v := c.recorded
			if plain[f][v] == nil {
				plain[f][v] = make([]float64, len(t.patterns))
				t.looks[f].index[v] = len(t.looks[f].values)
				t.looks[f].values = append(t.looks[f].values, v)
				known := observationTable()[lookNames[f]]
				i := slices.Index(known.values, v)
				if i < 0 {
					panic(r.Where() + ": the observations have no " + lookNames[f] + " " + v)
				}
				t.looks[f].said = append(t.looks[f].said, known.said[i])
			}
			plain[f][v][p] += share * c.share
		}
	}
	for f := range emblem {
		for _, v := range t.looks[f].values {
			row := plain[f][v]
			for p := range row {
				row[p] = math.Log(row[p]*(1-1e-3) + 1e-3/float64(len(t.looks[f].values))) // a slip of the pen gives any value
			}
			t.looks[f].log = append(t.looks[f].log, row)
		}
	}
}

func (t *tables) compileSizes() {
	for p, pat := range t.patterns {
		t.first = append(t.first, len(t.sizes))
		for _, s := range pat.Sizes {
			row := sizeRow{pattern: p, logShare: math.Log(s.Share)}
			for m := range measures {
				row.parts[m] = s.parts(m)
			}
			t.sizes = append(t.sizes, row)
		}
	}
	t.first = append(t.first, len(t.sizes))
	n := len(t.sizes)
	for m := range measures {
		t.grid[m] = make([]float64, n*gridCells)
		t.spread[m] = make([]float64, len(t.patterns)*gridCells)
		for cell := range gridCells {
			for i, s := range t.sizes {
				q := likelihood(float64(cell+1)*gridStep, s.parts[m], 0)
				t.grid[m][cell*n+i] = math.Log(q)
				t.spread[m][s.pattern*gridCells+cell] += math.Exp(s.logShare) * q
			}
		}
		for p := range t.patterns {
			row := t.spread[m][p*gridCells : (p+1)*gridCells]
			sum := 0.
			for _, x := range row {
				sum += x
			}
			for c := range row {
				row[c] /= sum
			}
		}
	}
}
