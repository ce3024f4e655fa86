package marker

import "math"

// weigh works out how many bits each kind of observation tells on average, in an ordinary burial ground.
func (t *tables) weigh() {
	prior := make([]float64, len(t.patterns))
	for p := range prior {
		prior[p] = math.Exp(t.prior[county][p])
	}
	for f := range looks {
		rows := make([][]float64, len(t.looks[f].log))
		for v, l := range t.looks[f].log {
			rows[v] = make([]float64, len(l))
			for p := range l {
				rows[v][p] = math.Exp(l[p])
			}
		}
		t.looks[f].bits = information(prior, rows)
	}
	for m := range measures {
		rows := make([][]float64, gridCells)
		for c := range rows {
			rows[c] = make([]float64, len(prior))
			for p := range prior {
				rows[c][p] = t.spread[m][p*gridCells+c]
			}
		}
		t.measureBits[m] = information(prior, rows)
	}
	for _, k := range []int{epitaph, home} { // of the words, besides whether service is spoken of
		t.wordBits += information(prior, [][]float64{t.share[k], complement(t.share[k])})
	}
	served := make([]float64, len(prior))
	for p := range served {
		served[p] = t.wordServed(p)
	}
	t.wordBits += information(prior, [][]float64{served, complement(served)})
}

// wordServed is how often the words of a pattern speak of service.
func (t *tables) wordServed(p int) float64 {
	none := math.Exp(t.service[p*len(t.classes)+t.none])
	return (1-none)*(t.share[unit][p]+t.share[branch][p]+t.share[veteran][p]) + none*t.Unserved
}

func complement(x []float64) []float64 {
	out := make([]float64, len(x))
	for i := range x {
		out[i] = 1 - x[i]
	}
	return out
}

// information is the mutual information, in bits, of a pattern with the prior and an observation with P(value|pattern) = rows[value][pattern].
func information(prior []float64, rows [][]float64) float64 {
	sum := 0.
	for _, row := range rows {
		m := 0.
		for p, x := range row {
			m += prior[p] * x
		}
		for p, x := range row {
			if x > 0 && prior[p] > 0 {
				sum += prior[p] * x * math.Log2(x/m)
			}
		}
	}
	return math.Max(sum, 0)
}
