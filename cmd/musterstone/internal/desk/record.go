package desk

import (
	"fmt"
	"net/http"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/model"
)

// recordPage shows a record as it stands in its roster, and the stones that claim it.
func (d *Desk) recordPage(w http.ResponseWriter, r *http.Request) error {
	id := model.RecordID(r.URL.Query().Get("id"))
	rec, ok := d.index.Record(id)
	if !ok {
		return &wrong{http.StatusNotFound, fmt.Sprintf("there is no record %q in the rosters", id)}
	}
	b := d.standings()
	made, state := d.current()
	type claim struct {
		listed
		As string
	}
	var claims []claim
	seen := map[model.StoneID]bool{}
	for _, i := range made.claims[id] {
		s := d.subjects[i].Stone.ID
		seen[s] = true
		l := d.listed(b, i)
		p, _ := made.now(i, state)
		l.Chance = 0
		for _, c := range p.Candidates {
			if c.Record == id {
				l.Chance = c.Probability
			}
		}
		claims = append(claims, claim{l, string(state.Of(s, id).As)})
	}
	for _, s := range state.ConfirmedStones(id) {
		if i, ok := d.at[s]; ok && !seen[s] {
			claims = append(claims, claim{d.listed(b, i), string(model.Confirmed)})
		}
	}
	return d.render(w, http.StatusOK, "record", d.frame(r, "Record "+string(id), "find", struct {
		ID      model.RecordID
		Who     string
		Source  model.Source
		Written []model.Cell
		Claims  []claim
	}{id, say.Claim(rec.Claim), rec.Source, rec.Written, claims}))
}
