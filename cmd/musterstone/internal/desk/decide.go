package desk

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"

	"musterstone/link/ledger"
	"musterstone/model"
)

// stoneOf finds the stone that a request names.
func (d *Desk) stoneOf(id string) (int, error) {
	i, ok := d.at[model.StoneID(id)]
	if !ok {
		return 0, &wrong{http.StatusNotFound, fmt.Sprintf("there is no stone %q in the survey", id)}
	}
	return i, nil
}

// decide writes a decision and goes on to the next stone.
func (d *Desk) decide(w http.ResponseWriter, r *http.Request) error {
	by := reviewer(r)
	if by == "" {
		return d.askWho(w, r, "/stone?id="+url.QueryEscape(r.PostForm.Get("stone")))
	}
	i, err := d.stoneOf(r.PostForm.Get("stone"))
	if err != nil {
		return err
	}
	because, err := words(r.PostForm.Get("because"))
	if err != nil {
		return err
	}
	dec := model.Decision{By: by, Stone: d.subjects[i].Stone.ID, Because: because}
	switch {
	case r.PostForm.Get("confirm") != "":
		dec.As, dec.Record = model.Confirmed, model.RecordID(r.PostForm.Get("confirm"))
	case r.PostForm.Get("refuse") != "":
		dec.As, dec.Record = model.Refused, model.RecordID(r.PostForm.Get("refuse"))
	case r.PostForm.Get("whole") == string(model.NoneOfThese), r.PostForm.Get("whole") == string(model.Unsure):
		dec.As = model.Verdict(r.PostForm.Get("whole"))
	default:
		return &wrong{http.StatusBadRequest, "the form does not say what was decided; nothing was changed"}
	}
	if err := d.refresh(); err != nil {
		return err
	}
	if dec.Seen, err = d.seen(i, dec.Record); err != nil {
		return err
	}
	done, err := d.ledger.Append(dec)
	if err != nil {
		return err
	}
	d.decidedSince()
	next := i
	if dec.As != model.Refused || d.standings().kinds[i] != toDecide { // a stone with another man left stays on the desk
		next = d.standings().after(i)
	}
	return d.goOn(w, r, next, done.ID)
}

// goOn shows the stone next, or, with none left, the end, and tells there what was decided.
func (d *Desk) goOn(w http.ResponseWriter, r *http.Request, next int, decision string) error {
	q := url.Values{}
	if decision != "" {
		q.Set("did", decision)
	}
	path := "/"
	if next >= 0 {
		path = "/stone"
		q.Set("id", string(d.subjects[next].Stone.ID))
	}
	http.Redirect(w, r, path+"?"+q.Encode(), http.StatusSeeOther)
	return nil
}

// seen is what the person has before him when he decides.
func (d *Desk) seen(i int, record model.RecordID) (*model.Seen, error) {
	r, state := d.current()
	p, _ := r.now(i, state)
	s := &model.Seen{Program: d.opts.Program, Inputs: d.digests}
	if record != "" {
		rec, ok := d.index.Record(record)
		if !ok {
			return nil, &wrong{http.StatusBadRequest, fmt.Sprintf("there is no record %q in the rosters; nothing was changed", record)}
		}
		ledger.SawRecord(s, rec)
		if !slices.ContainsFunc(p.Candidates, func(c model.Candidate) bool { return c.Record == record }) {
			p.Candidates = append(p.Candidates, d.weigh(i, rec))
		}
	}
	s.Proposal = ledger.Shown(p, record)
	return s, nil
}

// latest is the reviewer's latest decision that stands.
func (d *Desk) latest(by string) (model.Decision, bool) {
	_, state := d.current()
	for _, e := range slices.Backward(d.ledger.Entries()) {
		if e.By == by && e.As != model.Withdrawn && e.As != model.Noted &&
			slices.ContainsFunc(state.Voices(e.Stone), func(v model.Decision) bool { return v.ID == e.ID }) {
			return e.Decision, true
		}
	}
	return model.Decision{}, false
}

// undo takes a decision back, and makes the one that it replaced anew.
func (d *Desk) undo(w http.ResponseWriter, r *http.Request) error {
	by := reviewer(r)
	if by == "" {
		return d.askWho(w, r, "/")
	}
	if err := d.refresh(); err != nil {
		return err
	}
	ds := d.ledger.Decisions()
	find := func(id string) (model.Decision, bool) {
		i := slices.IndexFunc(ds, func(x model.Decision) bool { return x.ID == id })
		if i < 0 {
			return model.Decision{}, false
		}
		return ds[i], true
	}
	old, ok := find(r.PostForm.Get("decision"))
	if !ok {
		return &wrong{http.StatusNotFound, "there is no such decision; nothing was changed"}
	}
	withdrawn, err := d.ledger.Withdraw(old.ID, by, "undone at the desk")
	if err != nil {
		return &wrong{http.StatusConflict, err.Error()}
	}
	for _, id := range append([]string{old.Supersedes}, old.Instead...) {
		if before, ok := find(id); ok && before.As != model.Withdrawn && before.As != model.Noted {
			again := before
			again.Supersedes, again.Instead = "", nil
			if again.Because == "" {
				again.Because = "as before"
			}
			if _, err := d.ledger.Append(again); err != nil {
				d.decidedSince()
				return fmt.Errorf("the decision was taken back, but the one before it could not be made anew: %w; decide it again", err)
			}
		}
	}
	d.decidedSince()
	i, ok := d.at[old.Stone]
	if !ok {
		i = -1
	}
	return d.goOn(w, r, i, withdrawn.ID)
}

// note writes a note on a stone.
func (d *Desk) note(w http.ResponseWriter, r *http.Request) error {
	i, err := d.stoneOf(r.PostForm.Get("stone"))
	if err != nil {
		return err
	}
	back := "/stone?id=" + url.QueryEscape(string(d.subjects[i].Stone.ID))
	by := reviewer(r)
	if by == "" {
		return d.askWho(w, r, back)
	}
	text, err := words(r.PostForm.Get("text"))
	if err != nil {
		return err
	}
	if text == "" {
		return &wrong{http.StatusBadRequest, "the note is empty; nothing was written"}
	}
	n, err := d.ledger.Append(model.Decision{By: by, Stone: d.subjects[i].Stone.ID, As: model.Noted, Because: text})
	if err != nil {
		return err
	}
	http.Redirect(w, r, back+"&did="+url.QueryEscape(n.ID)+"#notes", http.StatusSeeOther)
	return nil
}
