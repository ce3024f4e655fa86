package job

import "strings"

// A Gathering is, of answers that come by in the order of the stones, the one of the stone of an id, or else those of a burial ground, letter case apart.
type Gathering struct {
	only   string
	stone  []Answer
	ground []Answer
}

// Gather begins with none.
func Gather(only string) *Gathering { return &Gathering{only: only} }

// Add takes the answer in where it is asked for.
func (g *Gathering) Add(a *Answer) {
	switch {
	case len(g.stone) > 0:
	case string(a.Stone) == g.only:
		g.stone = []Answer{*a}
	case isGround(a.Cemetery, g.only):
		g.ground = append(g.ground, *a)
	}
}

// Answers are those that were asked for.
func (g *Gathering) Answers() []Answer {
	if len(g.stone) > 0 {
		return g.stone
	}
	return g.ground
}

func isGround(cemetery, only string) bool {
	return strings.EqualFold(cemetery, strings.TrimSpace(only))
}
