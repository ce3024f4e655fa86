package desk

import (
	"encoding/json"
	"net/http"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/ledger"
	"musterstone/model"
)

// pulse tells the script how things stand, for a page that lies open while others decide.
func (d *Desk) pulse(w http.ResponseWriter, r *http.Request) error {
	if err := d.refresh(); err != nil {
		return err
	}
	b := d.standings()
	answer := struct {
		Revision string `json:"revision"`
		Left     int    `json:"left"`
		Stone    string `json:"stone,omitempty"` // how the stone of the page stands
	}{Revision: b.revision, Left: b.counts[toDecide]}
	if i, ok := d.at[model.StoneID(r.URL.Query().Get("stone"))]; ok {
		_, state := d.current()
		answer.Stone = d.voicesLine(i, state)
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(answer)
}

// voicesLine says in a line who decided what on the stone.
func (d *Desk) voicesLine(i int, state ledger.State) string {
	var parts []string
	for _, v := range state.Voices(d.subjects[i].Stone.ID) {
		parts = append(parts, v.By+" "+verdictWords(v))
	}
	if n := len(state.Notes(d.subjects[i].Stone.ID)); n > 0 {
		parts = append(parts, say.Count(n, "note", "notes"))
	}
	if parts == nil {
		return "nobody has decided"
	}
	return strings.Join(parts, "; ")
}
