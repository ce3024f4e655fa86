package main

import (
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/model"
)

// pair is a name and a value, as reports and dossiers list them.
type pair struct{ Name, Value string }

// pairs are names and values in turn, those with a value.
func pairs(list ...string) []pair {
	var out []pair
	for i := 0; i+1 < len(list); i += 2 {
		if strings.TrimSpace(list[i+1]) != "" {
			out = append(out, pair{list[i], list[i+1]})
		}
	}
	return out
}

// claimPairs are what is claimed of a man, in words.
func claimPairs(c model.Claim) []pair {
	var wars []string
	for _, w := range c.Service.Conflicts {
		wars = append(wars, conflictWords(w))
	}
	rank := string(c.Service.Rank)
	if c.Service.RankOut != "" && c.Service.RankOut != c.Service.Rank {
		rank = strings.TrimPrefix(rank+", last "+string(c.Service.RankOut), ", ")
	}
	return pairs("name", c.Person.Name.String(), "rank", rank, "unit", unitWords(c.Service.Unit), "war", strings.Join(wars, ", "), "born", say.Date(c.Person.Born), "died", say.Date(c.Person.Died),
		"enlisted", say.Date(c.Service.Enlisted), "mustered in", say.Date(c.Service.MusteredIn), "mustered out", say.Date(c.Service.MusteredOut))
}
