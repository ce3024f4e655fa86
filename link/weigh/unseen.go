package weigh

// Unseen is about which part of the men of such names the rosters lack bear a surname that no record bears: as many as there are records whose surname
// is theirs alone (I. J. Good, 1953, after Turing).
func (c *Counts) Unseen() float64 {
	if c.N == 0 {
		return 1
	}
	once := 0
	for _, n := range c.surnames.n {
		if n == 1 {
			once++
		}
	}
	return float64(once) / float64(c.N)
}
