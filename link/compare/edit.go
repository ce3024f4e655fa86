package compare

import "musterstone/vocab/name/near"

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
	c := near.NewColumn(x.n)
	for i := range len(b) {
		c.Next(x.eq(b[i]))
	}
	return c.Edits
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
