package desk

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/ledger"
	"musterstone/model"
)

// home goes to the next stone, or tells that all is done.
func (d *Desk) home(w http.ResponseWriter, r *http.Request) error {
	if reviewer(r) == "" {
		return d.askWho(w, r, "/")
	}
	if err := d.refresh(); err != nil {
		return err
	}
	b := d.standings()
	did := r.URL.Query().Get("did")
	if len(b.queue) > 0 {
		return d.goOn(w, r, b.queue[0], did)
	}
	return d.stand(w, r, b, d.flash(did))
}

// standPage tells how many stones stand how.
func (d *Desk) standPage(w http.ResponseWriter, r *http.Request) error {
	if err := d.refresh(); err != nil {
		return err
	}
	return d.stand(w, r, d.standings(), nil)
}

func (d *Desk) stand(w http.ResponseWriter, r *http.Request, b *board, flash []string) error {
	c := d.frame(r, "Where things stand", "stand", struct {
		Counts []countRow
		Stones int
	}{countRows(b), len(d.subjects)})
	c.Flash = flash
	return d.render(w, http.StatusOK, "done", c)
}

// countRow is how many stones stand in one way.
type countRow struct {
	Kind             kind
	Name, Long, Link string
	N                int
}

func countRows(b *board) []countRow {
	var rows []countRow
	for _, k := range kinds {
		rows = append(rows, countRow{k.Kind, k.Name, k.Long, "/find?state=" + string(k.Kind), b.counts[k.Kind]})
	}
	return rows
}

// flash tells what was just decided, and what came of it.
func (d *Desk) flash(id string) []string {
	if id == "" {
		return nil
	}
	for _, e := range d.ledger.Entries() {
		if e.ID != id {
			continue
		}
		x := e.Decision
		_, state := d.current()
		switch x.As {
		case model.Withdrawn:
			return []string{fmt.Sprintf("Taken back, on stone %s.", x.Stone)}
		case model.Noted:
			return []string{fmt.Sprintf("Noted on stone %s.", x.Stone)}
		}
		out := []string{say.Capital(decisionWords(x)) + "."}
		if state.DisputedStone(x.Stone) {
			out = append(out, "Another person decided otherwise: both stand, and the stone is disputed.")
		}
		if others := slices.DeleteFunc(state.ConfirmedStones(x.Record), func(s model.StoneID) bool { return s == x.Stone }); x.As == model.Confirmed && len(others) > 0 {
			out = append(out, fmt.Sprintf("That record is confirmed for stone %s too. That can be right (a family stone, a cenotaph); look at them together.", join(others)))
		}
		if text := severalMen(state, x.Stone); x.As == model.Confirmed && text != "" {
			out = append(out, text)
		}
		if x.As == model.Confirmed {
			r, _ := d.current()
			var told []string
			for _, o := range r.claims[x.Record] {
				if s := d.subjects[o].Stone.ID; s != x.Stone {
					told = append(told, string(s))
				}
			}
			if len(told) > 0 {
				out = append(out, "This bears on "+strings.Join(told, ", ")+", which claimed the same man.")
			}
		}
		return out
	}
	return nil
}

// severalMen says that more than one record is confirmed for a stone; "" where that is not so.
func severalMen(state ledger.State, stone model.StoneID) string {
	records := state.Confirmed(stone)
	if len(records) < 2 {
		return ""
	}
	return fmt.Sprintf("Stone %s has %d confirmed records: %s. That can be right (one man in two rosters, two men on one stone); else refuse one.", stone, len(records), join(records))
}

func join[T ~string](ids []T) string {
	var s []string
	for _, id := range ids {
		s = append(s, string(id))
	}
	return strings.Join(s, ", ")
}
