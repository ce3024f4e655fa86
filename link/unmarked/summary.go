package unmarked

import (
	"fmt"
	"math"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
)

// Summary is a sentence or two on the findings: how many are likely, by kind.
func Summary(found []model.Finding) string {
	sum, n := map[string]float64{}, map[string]int{}
	wars := map[model.ConflictCode]float64{}
	leads := 0
	for _, x := range found {
		n[x.Kind]++
		sum[x.Kind] += x.Probability
		if NoMarker(x.Kind) {
			leads++
			wars[x.Conflict] += x.Probability
		}
	}
	var parts []string
	for _, c := range vocab.Conflicts() {
		if n := wars[c.Code]; n >= 0.5 {
			parts = append(parts, fmt.Sprintf("%s %.0f", vocab.Label("conflict", string(c.Code)), n))
		}
	}
	text := fmt.Sprintf("%s; by their probabilities about %s under private stones and %.0f without a stone that names them",
		counted(leads, "lead", "leads"), counted(int(math.RoundToEven(sum[model.PrivateStone])), "veteran", "veterans"), sum[model.NoStone])
	if len(parts) > 0 {
		text += " (" + strings.Join(parts, ", ") + ")"
	}
	var more []string
	markers := false
	for _, k := range []struct{ kind, one, many string }{
		{model.WrongMarker, "that something contradicts", "that something contradicts"},
		{model.FailingMarker, "that is broken, sunk or past reading", "that are broken, sunk or past reading"},
		{model.SecondMarker, "that may be one man's second", "that may be one man's second"},
	} {
		switch {
		case n[k.kind] == 0:
		case markers:
			more = append(more, counted(n[k.kind], k.one, k.many))
		default: // the first says what they are
			markers = true
			more = append(more, counted(n[k.kind], "government marker "+k.one, "government markers "+k.many))
		}
	}
	if n[model.UnknownLead] > 0 {
		more = append(more, counted(n[model.UnknownLead], "unknown with a lead to a name", "unknowns with a lead to a name"))
	}
	if len(more) > 0 {
		text += ". Besides: " + strings.Join(more, ", ")
	}
	return text
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
