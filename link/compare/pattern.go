package compare

// PatternDistance counts the letters to put in, take out or change before a name that is partly lost can be the full name. In the pattern '?' is one
// lost letter and '*' is lost letters of unknown number, none included; any other letter stands for itself. A name of nothing but '*' is 0
// from every name: mind how many letters a pattern still has before making anything of a small distance.
func PatternDistance(pattern, full string) int {
	var bufP, bufF [most]rune
	p, f := runes(pattern, &bufP), runes(full, &bufF)
	var bufs [2][most + 1]int
	back, row := bufs[0][:], bufs[1][:]
	if len(f) > most {
		back, row = make([]int, len(f)+1), make([]int, len(f)+1)
	}
	for i := range len(f) + 1 {
		back[i] = i
	}
	for _, c := range p {
		if c == '*' {
			row[0] = back[0]
			for i := range f {
				row[i+1] = min(back[i+1], row[i])
			}
		} else {
			row[0] = back[0] + 1
			for i, x := range f {
				change := 1
				if c == x || c == '?' {
					change = 0
				}
				row[i+1] = min(back[i+1]+1, row[i]+1, back[i]+change)
			}
		}
		back, row = row, back
	}
	return back[len(f)]
}
