package unit

import (
	"cmp"
	"slices"
	"sync"

	"musterstone/model"
	"musterstone/vocab/words"
)

// Parse reads a text that is a unit and nothing else: a roster's cell, or the unit's words on a stone. ok is false where nothing of it
// could be understood, or some words could not; the unit then holds what could.
func Parse(text string) (u model.Unit, ok bool) {
	t := words.Split(text)
	room := parseRooms.Get().(*parseRoom)
	best, left := room.best(t)
	parseRooms.Put(room)
	u = Unit(t, best)
	u.Written = text
	return u, left == 0 && !u.IsZero()
}

// path is one way to read the words up to a place.
type path struct {
	state State
	score float32
	back  int32 // in the paths, -1 for none
	part  Part  // the part that led here; Role NoRole for a word left over
}

// beam is how many paths are kept at one place.
const beam = 12

// A parseRoom is room to parse a text in, used again for the next.
type parseRoom struct {
	Scanner
	paths []path
	at    [][]int32 // by place, the paths that end there
	found []Part
}

var parseRooms = sync.Pool{New: func() any { return new(parseRoom) }}

// best is the best way to read the words, and the number of words left over.
func (s *parseRoom) best(t *words.Text) (parts []Part, left int) {
	n := len(t.Words)
	if n == 0 || n > 60 {
		return nil, n
	}
	s.beginWhole(t)
	for len(s.at) <= n {
		s.at = append(s.at, nil)
	}
	paths, at := append(s.paths[:0], path{back: -1}), s.at[:n+1]
	for i := range at {
		at[i] = at[i][:0]
	}
	at[0] = append(at[0], 0)
	push := func(to int, p path) {
		for k, other := range at[to] {
			if paths[other].state == p.state {
				if p.score > paths[other].score {
					paths = append(paths, p)
					at[to][k] = int32(len(paths) - 1)
				}
				return
			}
		}
		paths = append(paths, p)
		at[to] = append(at[to], int32(len(paths)-1))
	}
	for i := range n {
		if len(at[i]) == 0 {
			continue
		}
		slices.SortStableFunc(at[i], func(a, b int32) int { return cmp.Compare(paths[b].score, paths[a].score) })
		if len(at[i]) > beam {
			at[i] = at[i][:beam]
		}
		found := s.Parts(s.found[:0], i)
		s.found = found
		for _, from := range at[i] {
			p := paths[from]
			for k := range found {
				if next, score, ok := p.state.Add(&found[k]); ok {
					push(found[k].To, path{state: next, score: p.score + found[k].Score + score, back: from, part: found[k]})
				}
			}
			cost := worth.LeftOver
			if s.may(i, isConnective) {
				cost = worth.Connective
			}
			push(i+1, path{state: p.state, score: p.score + cost, back: from, part: Part{From: i, To: i + 1}})
		}
	}
	s.paths = paths
	end, top := int32(-1), float32(0)
	for _, k := range at[n] {
		if sc := paths[k].score + paths[k].state.Close(); end < 0 || sc > top {
			end, top = k, sc
		}
	}
	for k := end; k > 0; k = paths[k].back {
		if paths[k].part.Role != NoRole {
			parts = append(parts, paths[k].part)
		} else if !s.may(paths[k].part.From, isConnective) {
			left++
		}
	}
	slices.Reverse(parts)
	return parts, left
}
