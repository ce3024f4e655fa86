package unmarked

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab/marker"
)

// officialMarkers are the findings on a stone that is probably the government's: that it is wrong, and that it is failing.
func (f *finder) officialMarkers(s *model.Subject) []model.Finding {
	official := 1 - private(s.Implies)
	if s.Stone.Register != nil || official < 0.5 || s.Reading().Unknown {
		return nil
	}
	var out []model.Finding
	for _, found := range []model.Finding{f.wrongMarker(s), f.failingMarker(s)} {
		if found.Probability *= official; found.Probability >= f.least {
			out = append(out, found)
		}
	}
	return out
}

// wrongMarker is the chance that what a government marker says is contradicted: by the record that is its man's, or by itself.
func (f *finder) wrongMarker(s *model.Subject) model.Finding {
	found := model.Finding{Stone: s.Stone.ID, Kind: model.WrongMarker}
	right := 1.0
	claims := f.claims(s.Stone.ID)
	if len(claims) > 0 && claims[0].Probability >= 0.5 {
		best := claims[0]
		for _, e := range f.evidence(s.Stone.ID, best.Record) {
			if e.Field == "unit" && noContradiction(s.Reading().Claim().Service.Unit, f.records[best.Record]) {
				continue // a battery that one list calls a regiment, or a man who moved to the Veteran Reserve Corps
			}
			if fault, ok := marker.FindFault("evidence", e.Field+"/"+e.Level); ok {
				right *= 1 - fault.Chance*best.Probability
				says := orNothing(e.Record)
				if f.livingRecord(f.records[best.Record]) {
					says = heldBack
				}
				found.Reasons = append(found.Reasons, fmt.Sprintf("%s: the stone has %s, record %s has %s", fault.Text, orNothing(e.Stone), best.Record, says))
			}
		}
		if len(found.Reasons) > 0 {
			found.Reasons = append(found.Reasons, f.linkReason(claims, best.Probability))
		}
	}
	for _, c := range s.Implies.Contradictions {
		if fault, ok := marker.FindFault("rule", c.Rule); ok {
			right *= 1 - fault.Chance
			found.Reasons = append(found.Reasons, fault.Text+": "+c.Text)
		}
	}
	if len(found.Reasons) == 0 {
		return found
	}
	found.Probability = 1 - right
	found.Conflict = f.conflict(s, claims)
	found.Reasons = append(found.Reasons, "a roster errs as well as a carver: which of the two is right is to be shown first")
	found.ToShow = f.toShowAt(s, found.Conflict, "wrong", "replacement")
	return found
}

// noContradiction reports whether a record's unit has the number, the state or body, the arm and the company that a stone gives, so that only the kind of unit differs,
// or one of them is of the Veteran Reserve Corps, to which men came from other units.
func noContradiction(u model.Unit, r *model.Record) bool {
	if r == nil {
		return false
	}
	v := r.Service.Unit
	if (u.Body == model.BodyVRC) != (v.Body == model.BodyVRC) {
		return true
	}
	return u.Number == v.Number && u.Designation() == v.Designation() && (u.Arm == v.Arm || u.Arm == "" || v.Arm == "") && (u.Company == v.Company || u.Company == "" || v.Company == "")
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return fmt.Sprintf("%q", s)
}

// evidence is what linking weighed between a stone and a record.
func (f *finder) evidence(stone model.StoneID, record model.RecordID) []model.Evidence {
	for _, c := range f.proposals[stone].Candidates {
		if c.Record == record {
			return c.Evidence
		}
	}
	return nil
}

// failingMarker is the chance that a government marker is broken, sunk or past reading, as recorded.
func (f *finder) failingMarker(s *model.Subject) model.Finding {
	found := model.Finding{Stone: s.Stone.ID, Kind: model.FailingMarker}
	whole := 1.0
	for _, fault := range marker.FaultsIn(s.Stone.Marker.Condition) {
		whole *= 1 - fault.Chance
		found.Reasons = append(found.Reasons, fmt.Sprintf("%s: %q", fault.Text, s.Stone.Marker.Condition))
	}
	if fault, ok := marker.FindFault("reading", "lost name"); ok && nameLost(s.Reading().Claim().Person.Name) {
		whole *= 1 - fault.Chance
		found.Reasons = append(found.Reasons, fault.Text+": "+who(s.Reading().Claim()))
	}
	if len(found.Reasons) == 0 {
		return found
	}
	claims := f.claims(s.Stone.ID)
	found.Probability = 1 - whole
	found.Conflict = f.conflict(s, claims)
	if len(claims) > 0 && claims[0].Probability >= 0.5 {
		found.Reasons = append(found.Reasons, f.linkReason(claims, claims[0].Probability))
	}
	found.ToShow = f.toShowAt(s, found.Conflict, "replacement")
	return found
}

// nameLost reports whether half the surname or more is lost.
func nameLost(n model.Name) bool {
	if strings.Contains(n.Surname, "[---]") {
		return true
	}
	lost := strings.Count(n.Surname, ".")
	kept := 0
	for _, r := range n.Surname {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			kept++
		}
	}
	return lost > 0 && lost >= kept
}

// secondMarkers are the government markers whose man has another, the later id of each pair, with the chance that the two are one man's.
func (f *finder) secondMarkers() []model.Finding {
	type pair struct{ a, b model.StoneID }
	chance := map[pair]float64{}
	why := map[pair]string{}
	record := map[pair]model.RecordID{} // that both claim
	note := func(a, b *model.Subject, p float64, r model.RecordID, text string) {
		k := pair{min(a.Stone.ID, b.Stone.ID), max(a.Stone.ID, b.Stone.ID)}
		if p > chance[k] {
			chance[k], record[k], why[k] = p, r, text
		}
	}
	byID := map[model.StoneID]marked{}
	for _, m := range f.government {
		byID[m.subject.Stone.ID] = m
	}
	for _, m := range f.government {
		for _, o := range f.byName[strings.ToLower(m.subject.Reading().Claim().Person.Name.Surname)] {
			mine, theirs := m.subject.Reading().Claim(), o.subject.Reading().Claim()
			if o.subject.Stone.ID > m.subject.Stone.ID && sameMan(mine, theirs) && mine.Service.Unit.Company == theirs.Service.Unit.Company {
				note(m.subject, o.subject, m.share*o.share*weight("second-marker"), "", "both give the same name and the same unit")
			}
		}
	}
	for _, m := range f.government {
		for _, c := range f.claims(m.subject.Stone.ID) {
			for _, o := range f.onStones[c.Record] {
				other, ok := byID[o.stone]
				if !ok || o.stone == m.subject.Stone.ID || c.Probability < 0.5 {
					continue
				}
				p := c.Probability * o.alone * m.share * other.share
				if p >= f.least {
					note(m.subject, other.subject, p*weight("second-marker"), c.Record, fmt.Sprintf("both claim service record %s", c.Record))
				}
			}
		}
	}
	var out []model.Finding
	for _, k := range slices.SortedFunc(maps.Keys(chance), func(x, y pair) int { return cmp.Or(cmp.Compare(x.b, y.b), cmp.Compare(x.a, y.a)) }) {
		p := chance[k]
		if p < f.least {
			continue
		}
		s := byID[k.b].subject
		found := model.Finding{Stone: k.b, Stones: []model.StoneID{k.a}, Kind: model.SecondMarker, Probability: p, Conflict: f.conflict(s, f.claims(k.b)),
			Reasons: []string{fmt.Sprintf("stone %s, which looks like a government marker too, may be the same man's: %s", k.a, why[k])}}
		if r := record[k]; r != "" {
			found.Records = []model.RecordID{r}
		}
		if other := byID[k.a].subject.Stone.Place.Cemetery; !strings.EqualFold(other, s.Stone.Place.Cemetery) {
			found.Reasons = append(found.Reasons, fmt.Sprintf("stone %s stands in %s: one of the two marks no body, or there were two men", k.a, other))
		}
		found.Reasons = append(found.Reasons, "kin of one name served in one company, and a worn stone is sometimes replaced and left standing: look at both")
		found.ToShow = f.toShowAt(s, found.Conflict, "wrong", "replacement")
		out = append(out, found)
	}
	return out
}

// toShowAt is what is to be shown of a marker that stands already: the needs named, in the order of the table, and a person's decision.
func (f *finder) toShowAt(s *model.Subject, war model.ConflictCode, needs ...string) []string {
	claims := f.claims(s.Stone.ID)
	var out []string
	for _, p := range proofs() {
		switch {
		case p.Need == "decision" && len(claims) > 0 && claims[0].Probability >= 0.5 && claims[0].Decided != string(model.Confirmed):
			if r := f.records[claims[0].Record]; r != nil {
				out = append(out, f.proposedOne(p, r))
			}
		case p.Need == "applicant" && modern(war) == (p.Service == "since-1917") && !slices.Contains(needs, "unknown"):
			out = append(out, p.String())
		case slices.Contains(needs, p.Need):
			out = append(out, p.String())
		}
	}
	return out
}

// round4 is a probability to four digits; it stays below 1, for nothing here is certain.
func round4(p float64) float64 { return min(math.Round(p*1e4)/1e4, 0.9999) }
