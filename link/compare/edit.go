package compare

// OSA counts the letters to put in, take out or change to make one name of the other, where two neighbours that changed places count once (optimal
// string alignment: nothing is done to a letter twice, so that CA and ABC are 3 apart). It is symmetric.
func OSA(a, b string) int {
	if len(a) > len(b) {
		a, b = b, a
	}
	if a == b {
		return 0
	}
	var x letters
	if !x.load(a) || !ascii(b) {
		return editRunes(a, b)
	}
	if x.n == 0 {
		return len(b)
	}
	r := swapsFrom(x.n)
	for i := range len(b) {
		r.next(x.eq(b[i]))
	}
	return r.score
}

// swaps is a column of the distances with neighbours that change places, held in bits (Hyyrö 2003).
type swaps struct {
	vp, vn, d0, before, last uint64
	score                    int
}

// swapsFrom is the column before any letter, for a name of n letters, 1 to 64.
func swapsFrom(n int) swaps { return swaps{vp: ^uint64(0), last: 1 << (n - 1), score: n} }

// next goes on by one letter, which stands in the name where eq has bits.
func (r *swaps) next(eq uint64) {
	swap := (^r.d0 & eq) << 1 & r.before
	r.d0 = (eq&r.vp + r.vp) ^ r.vp | eq | r.vn | swap
	hp := r.vn | ^(r.d0 | r.vp)
	hn := r.d0 & r.vp
	if hp&r.last != 0 {
		r.score++
	}
	if hn&r.last != 0 {
		r.score--
	}
	hp = hp<<1 | 1
	r.vp = hn<<1 | ^(r.d0 | hp)
	r.vn = hp & r.d0
	r.before = eq
}

func ascii(s string) bool {
	for i := range len(s) {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}

// editRunes is OSA in the textbook way, over three rows.
func editRunes(s, t string) int {
	var bufA, bufB [most]rune
	a, b := runes(s, &bufA), runes(t, &bufB)
	if len(a) > len(b) {
		a, b = b, a
	}
	var bufs [3][most + 1]int
	rows := [3][]int{bufs[0][:], bufs[1][:], bufs[2][:]}
	if len(a) > most {
		for i := range rows {
			rows[i] = make([]int, len(a)+1)
		}
	}
	twoBack, back, row := rows[0][:len(a)+1], rows[1][:len(a)+1], rows[2][:len(a)+1]
	for i := range back {
		back[i] = i
	}
	for j := range b {
		row[0] = j + 1
		for i := range a {
			change := 1
			if a[i] == b[j] {
				change = 0
			}
			row[i+1] = min(back[i+1]+1, row[i]+1, back[i]+change)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[i+1] = min(row[i+1], twoBack[i-1]+1)
			}
		}
		twoBack, back, row = back, row, twoBack
	}
	return back[len(a)]
}
