package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"musterstone/link/compare"
	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/natural"
)

// mostNear is how many names are told where one was not found.
const mostNear = 5

// alike is how like two names must be, by Jaro and Winkler, for one to be told in place of the other: this program's judgement.
const alike = 0.88

// grounds are the burial grounds that the subjects name, each once.
func grounds(subjects []*model.Subject) []string {
	seen := map[string]bool{}
	var out []string
	for _, s := range subjects {
		if g := s.Stone.Place.Cemetery; g != "" && !seen[strings.ToLower(g)] {
			seen[strings.ToLower(g)] = true
			out = append(out, g)
		}
	}
	slices.SortFunc(out, natural.Compare)
	return out
}

// nearGrounds says, of a name that no burial ground has, which are like it, or else which there are: the first few, and how many.
func nearGrounds(grounds []string, want string) string {
	if len(grounds) == 0 {
		return "no stone names a burial ground"
	}
	type scored struct {
		name string
		like float64
	}
	w := name.Fold(strings.TrimSpace(want))
	var near []scored
	for _, g := range grounds {
		f := name.Fold(g)
		like := compare.JaroWinkler(w, f)
		if len(w) > 2 && strings.Contains(f, w) {
			like = 1
		}
		if like >= alike {
			near = append(near, scored{g, like})
		}
	}
	slices.SortStableFunc(near, func(a, b scored) int { return cmp.Compare(b.like, a.like) })
	list, head := grounds, "the burial grounds are "
	if len(near) > 0 {
		list, head = nil, "the nearest is "
		for _, n := range near {
			list = append(list, n.name)
		}
		if len(list) > 1 {
			head = "the nearest are "
		}
	} else if len(grounds) == 1 {
		head = "the burial ground is "
	}
	more := len(list) - mostNear
	text := head + strings.Join(quoted(list[:min(len(list), mostNear)]), ", ")
	switch {
	case len(near) > 0 && len(grounds) > len(near):
		text += ", of " + count(len(grounds), "burial ground", "burial grounds") + " in all"
	case more > 0:
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

func quoted(list []string) []string {
	var out []string
	for _, s := range list {
		out = append(out, strconv.Quote(s))
	}
	return out
}
