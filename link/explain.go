package link

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
)

// explain says for every proposal how many men share the candidates' names, why the runner-up lost, and what would change the ranking.
func (l *Linker) explain(all []weighed, proposals []model.Proposal) {
	inParts(len(proposals), func(from, to int) {
		for i := from; i < to; i++ {
			l.explainOne(&all[i], &proposals[i])
		}
	})
}

// finish spells the evidence of the candidates that the proposals keep, explains it, and gives back what the candidates took.
func (l *Linker) finish(ctx context.Context, all []weighed, proposals []model.Proposal) {
	var mu sync.Mutex
	done := 0
	inParts(len(all), func(from, to int) {
		var r model.Record
		for i := from; i < to && ctx.Err() == nil; i++ {
			if all[i].packed != nil {
				l.spell(&all[i], &proposals[i], &r)
				if l.Kept != nil {
					mu.Lock()
					all[i].keep(l.Kept, &proposals[i])
					mu.Unlock()
				}
			}
			l.explainOne(&all[i], &proposals[i])
			all[i].cands, all[i].records, all[i].packed = nil, nil, nil
			if l.Explained != nil {
				mu.Lock()
				done++
				l.Explained(done, len(all))
				mu.Unlock()
			}
		}
	})
}

func (l *Linker) explainOne(w *weighed, p *model.Proposal) {
	for j := range p.Candidates {
		c := &p.Candidates[j]
		if c.Namesakes != nil {
			continue // told with its evidence
		}
		if r := w.record(c.Record); r != nil {
			c.Namesakes = l.Counts.Namesakes(r)
		}
	}
	if len(p.Candidates) == 0 || p.Candidates[0].Decided != "" {
		return
	}
	if len(p.Candidates) > 1 && p.Candidates[1].Decided == "" {
		p.RunnerUp = runnerUp(&p.Candidates[0], &p.Candidates[1])
	}
	p.WouldChange = wouldChange(w.subject, p)
}

// runnerUp sets the second candidate beside the best, field by field.
func runnerUp(best, second *model.Candidate) *model.RunnerUp {
	r := &model.RunnerUp{Record: second.Record, Behind: best.Bits - second.Bits}
	fields := map[string]int{}
	add := func(e model.Evidence, sign float64) {
		i, ok := fields[e.Field]
		if !ok {
			i = len(r.By)
			fields[e.Field] = i
			r.By = append(r.By, model.Evidence{Field: e.Field})
		}
		d := &r.By[i]
		d.Bits += sign * e.Bits
		if sign > 0 {
			d.Stone, d.Level = e.Record, e.Level
			return
		}
		d.Record = e.Record
		if d.Level != "" && d.Level != e.Level {
			d.Level += ", not " + e.Level
		} else if d.Level == "" {
			d.Level = "only the runner-up: " + e.Level
		}
	}
	for _, e := range best.Evidence {
		add(e, 1)
	}
	for _, e := range second.Evidence {
		add(e, -1)
	}
	r.By = slices.DeleteFunc(r.By, func(e model.Evidence) bool { return e.Bits == 0 })
	slices.SortStableFunc(r.By, func(a, b model.Evidence) int { return cmp.Compare(math.Abs(b.Bits), math.Abs(a.Bits)) })
	return r
}

// settles are the fields that a person can go and look for, in the order in which they tell most, with where.
var settles = []struct{ field, ask string }{
	{"unit", "the regiment and company, if the stone or a pension index gives them"},
	{"death", "the day of death, from a pension file, a newspaper or the register of the ground"},
	{"birth", "the year of birth or the age at death"},
	{"middle", "a middle initial"},
	{"given", "the whole given name"},
	{"home", "where the man lived"},
}

// wouldChange says what would turn the ranking round or settle it: a field that speaks against the best as strongly as the lead is wide, and the fields not yet
// compared.
func wouldChange(s *model.Subject, p *model.Proposal) []string {
	best := &p.Candidates[0]
	if best.Probability > 0.999 {
		return nil
	}
	var out []string
	if p.RunnerUp != nil && p.Candidates[1].Probability >= toldClaim {
		for _, e := range p.RunnerUp.By {
			if e.Bits > 0 && e.Bits >= p.RunnerUp.Behind {
				out = append(out, fmt.Sprintf("without the %s, %s would stand first", e.Field, p.RunnerUp.Record))
			}
		}
	}
	var missing []string
	for _, f := range settles {
		compared := slices.ContainsFunc(best.Evidence, func(e model.Evidence) bool {
			return e.Field == f.field && !(f.field == "given" && strings.Contains(e.Level, "initial"))
		})
		if !compared && (f.field != "given" || s.Reading().Claim().Person.Name.Given != "") {
			missing = append(missing, f.ask)
		}
		if len(missing) == 2 {
			break
		}
	}
	if len(missing) > 0 && (best.Probability < 0.98) {
		out = append(out, "not compared yet, and would tell: "+strings.Join(missing, "; "))
	}
	return out
}
