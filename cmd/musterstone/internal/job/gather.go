package job

import (
	"strings"

	"musterstone/model"
)

// A Gathering is, of things that come by in the order of their stones, what is of the stone of one id, or else what is of a burial ground, letter case apart.
type Gathering[T any] struct {
	only          string
	stone, ground []T
}

// Gather begins with nothing.
func Gather[T any](only string) *Gathering[T] { return &Gathering[T]{only: only} }

// Add takes a thing in where it is asked for.
func (g *Gathering[T]) Add(stone model.StoneID, cemetery string, thing T) {
	switch {
	case len(g.stone) > 0:
	case string(stone) == g.only:
		g.stone = []T{thing}
	case strings.EqualFold(cemetery, strings.TrimSpace(g.only)):
		g.ground = append(g.ground, thing)
	}
}

// All are the things that were asked for.
func (g *Gathering[T]) All() []T {
	if len(g.stone) > 0 {
		return g.stone
	}
	return g.ground
}

// Pick gives the numbers of the subjects that are meant: the stone of that id, or else the stones of that burial ground, letter case apart.
func Pick(subjects []*model.Subject, only string) []int {
	g := Gather[int](only)
	for i, s := range subjects {
		g.Add(s.Stone.ID, s.Stone.Place.Cemetery, i)
	}
	return g.All()
}
