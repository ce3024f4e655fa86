package unmarked

import (
	"fmt"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
)

// recordsBuriedHere weighs the records whose words name one of the survey's grounds.
func (f *finder) recordsBuriedHere() []model.Finding {
	if f.in.Records == nil || len(f.grounds) == 0 {
		return nil
	}
	var out []model.Finding
	for r := range f.in.Records {
		text, cell := r.Person.Buried, "burial place"
		m := f.mention(text, true, r)
		if m.chance == 0 && strings.TrimSpace(text) == "" {
			text, cell = r.Service.Remarks, "remarks"
			m = f.mention(text, false, r)
		}
		if m.chance == 0 {
			continue
		}
		onStone, nearest := f.stoneOf(r.ID)
		p := m.chance * (1 - onStone)
		if p < f.least {
			continue
		}
		found := model.Finding{Record: r.ID, Kind: model.NoStone, Probability: p, Conflict: warOf(r)}
		found.Reasons = append(found.Reasons, fmt.Sprintf("%s, %s: the roster says %q (%s)", describe(r), cell, text, where(r.Source)))
		place := m.ground.Name
		if m.ground.called != m.ground.Name {
			place = fmt.Sprintf("%s, once called %s,", m.ground.Name, m.ground.called)
		}
		says := fmt.Sprintf("%s is a burial ground of this survey", place)
		if m.why != "" {
			says += "; " + m.why
		}
		found.Reasons = append(found.Reasons, says, nearest)
		found.ToShow = f.toShow(nil, r, found.Conflict)
		out = append(out, found)
	}
	return oneOfEach(out, f)
}

// oneOfEach keeps one finding of a man whom several rows name: same name, same unit. The likelier one stays, and says where else.
func oneOfEach(found []model.Finding, f *finder) []model.Finding {
	want := map[model.RecordID]bool{}
	for _, x := range found {
		want[x.Record] = true
	}
	rows := map[model.RecordID]*model.Record{}
	for r := range f.in.Records {
		if want[r.ID] {
			rows[r.ID] = r
		}
	}
	slices.SortStableFunc(found, func(a, b model.Finding) int {
		if a.Probability != b.Probability {
			if a.Probability > b.Probability {
				return -1
			}
			return 1
		}
		return strings.Compare(string(a.Record), string(b.Record))
	})
	var out []model.Finding
	for _, x := range found {
		at := slices.IndexFunc(out, func(y model.Finding) bool {
			return fullSame(rows[x.Record], rows[y.Record])
		})
		if at < 0 {
			out = append(out, x)
			continue
		}
		out[at].Reasons = append(out[at].Reasons, fmt.Sprintf("record %s (%s) says the same of a man of the same name and unit", x.Record, where(rows[x.Record].Source)))
	}
	return out
}

// fullSame reports whether two rows speak of one man as far as name and unit go.
func fullSame(a, b *model.Record) bool {
	return a != nil && b != nil && strings.EqualFold(a.Person.Name.Given, b.Person.Name.Given) && sameMan(a.Claim, b.Claim) &&
		a.Service.Unit.Company == b.Service.Unit.Company
}

func where(s model.Source) string {
	switch {
	case s.Row > 0:
		return fmt.Sprintf("%s, row %d", s.File, s.Row)
	case s.Subject != "":
		return s.File + ", " + s.Subject
	}
	return s.File
}

// stoneOf is the chance that some stone of the survey is the record's man's, with a sentence about the nearest.
func (f *finder) stoneOf(id model.RecordID) (float64, string) {
	total := 0.0
	var best claimed
	for _, c := range f.onStones[id] {
		if c.register {
			continue
		}
		total += c.p
		if c.p > best.p {
			best = c
		}
	}
	if best.p < 0.01 {
		return min(total, 1), "no stone recorded in this survey is likely to be his"
	}
	return min(total, 1), fmt.Sprintf("no stone recorded in this survey is known to be his; the nearest is %s with %s", best.stone, percent(best.p))
}

// registerRow weighs a row of a burial register as a veteran whom no stone names. It says nothing of a ground where no stones were recorded.
func (f *finder) registerRow(s *model.Subject) model.Finding {
	found := model.Finding{Stone: s.Stone.ID, Kind: model.NoStone}
	if !f.walked(s.Stone.Place.Cemetery) || s.Reading().Claim().Person.Relation != "" {
		return found
	}
	claim := s.Reading().Claim()
	chances, reasons := readWords(s)
	for i := range reasons {
		reasons[i] = strings.Replace(reasons[i], "the stone", "the register", 1)
	}
	claims := f.claims(s.Stone.ID)
	linked, onStone := 0.0, 0.0
	nearest := "no stone recorded in this survey is likely to be his"
	for _, c := range claims {
		linked += c.Probability
		if c.Probability < 0.01 {
			continue
		}
		for _, o := range f.onStones[c.Record] { // his stone and this row may both claim the record: they are no rivals
			if p := o.alone * c.Probability; !o.register && p > onStone {
				onStone, nearest = p, fmt.Sprintf("but stone %s may be his (%s)", o.stone, percent(p))
			}
		}
	}
	if linked = min(linked, 1); linked >= told {
		chances = append(chances, linked)
		reasons = append(reasons, f.linkReason(claims, linked))
	}
	if id, p := f.sameNameStone(s, claim); p > onStone {
		onStone, nearest = p, fmt.Sprintf("but stone %s in the same ground gives the same name", id)
	}
	found.Probability = either(chances...) * (1 - min(onStone, 1))
	found.Conflict = f.conflict(s, claims)
	found.Reasons = append([]string{fmt.Sprintf("the burial register has %s in %s (%s)", who(claim), s.Stone.Place.Cemetery, where(s.Stone.Source))}, reasons...)
	found.Reasons = append(found.Reasons, nearest)
	var r *model.Record
	if len(claims) > 0 {
		r = f.records[claims[0].Record]
	}
	found.ToShow = f.toShow(s, r, found.Conflict)
	return found
}

// walked reports whether stones were recorded in the ground.
func (f *finder) walked(cemetery string) bool {
	return slices.ContainsFunc(f.in.Subjects, func(s *model.Subject) bool {
		return s.Stone.Register == nil && strings.EqualFold(s.Stone.Place.Cemetery, cemetery)
	})
}

// sameNameStone finds a stone of the same ground that gives the register's name.
func (f *finder) sameNameStone(row *model.Subject, claim model.Claim) (model.StoneID, float64) {
	for _, s := range f.in.Subjects {
		if s.Stone.Register != nil || !strings.EqualFold(s.Stone.Place.Cemetery, row.Stone.Place.Cemetery) {
			continue
		}
		for _, p := range s.Reading().People {
			if n := p.Person.Name; n.Surname != "" && strings.EqualFold(n.Surname, claim.Person.Name.Surname) && agree(n.Given, claim.Person.Name.Given) {
				return s.Stone.ID, weight("same-name")
			}
		}
	}
	return "", 0
}

// conflictName is a war in words; "" for none.
func conflictName(c model.ConflictCode) string {
	if c == "" {
		return ""
	}
	return vocab.Label("conflict", string(c))
}
