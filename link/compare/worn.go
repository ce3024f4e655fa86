package compare

// WornDistance is an edit distance for names on worn stones: to put in or take out a letter costs 1, to change one for another 1 less how alike the
// two are when worn, which alike says, from 0 (not at all) to 1 (the same). It is symmetric where alike is. Alike is asked of
// ASCII letters only; other characters are the same or not alike at all.
func WornDistance(a, b string, alike func(x, y byte) float64) float64 {
	if a == b {
		return 0
	}
	if len(a) > len(b) {
		a, b = b, a
	}
	var bufA, bufB [most]rune
	p, q := runes(a, &bufA), runes(b, &bufB)
	var bufs [2][most + 1]float64
	back, row := bufs[0][:], bufs[1][:]
	if len(p) > most {
		back, row = make([]float64, len(p)+1), make([]float64, len(p)+1)
	}
	for i := range len(p) + 1 {
		back[i] = float64(i)
	}
	for j, y := range q {
		row[0] = float64(j + 1)
		for i, x := range p {
			change := 1.0
			switch {
			case x == y:
				change = 0
			case x < 0x80 && y < 0x80:
				change = 1 - min(1, max(0, alike(byte(x), byte(y))))
			}
			row[i+1] = min(back[i+1]+1, row[i]+1, back[i]+change)
		}
		back, row = row, back
	}
	return back[len(p)]
}
