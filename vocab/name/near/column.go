package near

// Column is a column of the distances between a name of 1 to 64 letters and the beginnings of another, held in bits, where two neighbours that changed places count once and no
// letter is edited twice: Hyyrö, A Bit-Vector Algorithm for Computing Levenshtein and Damerau Edit Distances, Nordic Journal of Computing 10 (2003).
type Column struct {
	Edits                      int // between the name and the letters so far
	vp, vn, d0, before, bottom uint64
}

// NewColumn is the column before any letter, for a name of n letters.
func NewColumn(n int) Column { return Column{Edits: n, vp: ^uint64(0), bottom: 1 << (n - 1)} }

// Next goes on by one letter, which stands in the name where at has bits.
func (c *Column) Next(at uint64) {
	swap := (^c.d0 & at) << 1 & c.before
	c.d0 = (at&c.vp + c.vp) ^ c.vp | at | c.vn | swap
	hp, hn := c.vn|^(c.d0|c.vp), c.d0&c.vp
	if hp&c.bottom != 0 {
		c.Edits++
	}
	if hn&c.bottom != 0 {
		c.Edits--
	}
	hp = hp<<1 | 1
	c.vp, c.vn = hn<<1|^(c.d0|hp), hp&c.d0
	c.before = at
}
