package near

// A Table says where each letter stands in a name: bit i is set where it is letter i.
type Table struct {
	at      [32]uint64 // by the letter's code in a Packed
	letters int
}

// NewTable is the Table of a packed name of letters only.
func NewTable(p Packed) Table {
	t := Table{letters: p.Len()}
	for i := range t.letters {
		t.at[p>>(5*i)&31] |= 1 << i
	}
	return t
}

// NewLostTable is the Table of a folded name some of whose letters are lost, '?' for each, which may be any; ok is false for one that is longer than Longest or has other signs.
func NewLostTable(folded string) (t Table, ok bool) {
	if len(folded) > Longest {
		return t, false
	}
	t.letters = len(folded)
	for i := range len(folded) {
		switch c := folded[i]; {
		case c == '?':
			for code := 1; code <= 26; code++ {
				t.at[code] |= 1 << i
			}
		case c >= 'a' && c <= 'z':
			t.at[c-'a'+1] |= 1 << i
		default:
			return t, false
		}
	}
	return t, true
}

// Edits is how many edits lie between the name, which is not empty, and another, as Column counts them. Signs that are no letters are like no letter.
func (t *Table) Edits(p Packed) int {
	c := NewColumn(t.letters)
	for ; p != 0; p >>= 5 {
		c.Next(t.at[p&31])
	}
	return c.Edits
}
