package unmarked

import (
	"fmt"

	"musterstone/model"
	"musterstone/vocab/marker"
)

// sign is a sign of service on a stone or beside it.
type sign struct {
	chance  float64 // that the sign alone makes of a veteran
	reason  string
	beside  bool   // it is not cut into the stone, and may have been moved
	service string // "civil-war/union"; "" where it speaks for any
}

// signsOn are the signs of service among a stone's motifs, in their order, each once.
func signsOn(s *model.Stone) []sign {
	var out []sign
	seen := map[string]bool{}
	for _, m := range s.Marker.Motifs {
		row, ok := marker.FindSign(m)
		if !ok || seen[row.Key] || row.Strength == "none" {
			continue
		}
		seen[row.Key] = true
		key, where := "sign-"+row.Strength, "cut into the stone: "
		if row.Place == "beside" {
			where = "beside the stone: "
		}
		if row.Strength == "strong" {
			key += "-" + row.Place
		}
		g := sign{chance: weight(key), reason: where + row.Text, beside: row.Place == "beside"}
		if row.Caution != "" {
			g.reason += fmt.Sprintf(" (%s)", row.Caution)
		}
		if row.Service != "any" {
			g.service = row.Service
		}
		out = append(out, g)
	}
	return out
}
