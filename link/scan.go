package link

import (
	"cmp"
	"context"
	"slices"

	"musterstone/link/weigh"
	"musterstone/model"
)

// Scan is the Finder that weighs every record: slow, without an index, and the second opinion on one.
type Scan struct {
	Records []*model.Record
	Counts  *weigh.Counts
}

// Candidates gives the limit records of the greatest weight.
func (s *Scan) Candidates(ctx context.Context, subject *model.Subject, limit int) ([]*model.Record, error) {
	w := weigh.New(s.Counts, nil)
	views := claims(w, subject, w.Person, nil)
	if len(views) == 0 {
		return nil, nil
	}
	type scored struct {
		record *model.Record
		bits   float64
	}
	all := make([]scored, 0, len(s.Records))
	for _, r := range s.Records {
		best, _ := views[0].stone.Against(r)
		for _, v := range views[1:] {
			bits, _ := v.stone.Against(r)
			best = max(best, bits)
		}
		all = append(all, scored{r, best})
	}
	slices.SortStableFunc(all, func(a, b scored) int { return cmp.Compare(b.bits, a.bits) })
	all = all[:min(limit, len(all))]
	out := make([]*model.Record, len(all))
	for i := range all {
		out[i] = all[i].record
	}
	return out, ctx.Err()
}
