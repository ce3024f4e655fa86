package unmarked

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
)

// recordsBuriedHere weighs the records whose words name one of the survey's grounds.
func (f *finder) recordsBuriedHere() []model.Finding {
	var out []model.Finding
	for _, m := range f.buriedHere {
		r := m.record
		found := model.Finding{Record: r.ID, Kind: model.NoStone, Conflict: warOf(r)}
		onStone, near, nearest := f.stoneOf(r.ID)
		if id := f.sameUnitStone(r, m.ground.Name); id != "" && onStone < weight("same-name-date") {
			onStone, near, nearest = weight("same-name-date"), id, fmt.Sprintf("but stone %s in the same ground gives the same name and regiment", id)
		}
		if id, q := f.rowsStone(r.ID); q > onStone {
			onStone, near, nearest = q, id, fmt.Sprintf("but stone %s in the same ground gives the name that a register's row of him gives", id)
		}
		p := m.chance * (1 - onStone)
		if !f.walked(m.ground.Name) {
			p *= weight("not-walked")
			near, nearest = "", "nobody has recorded stones in that ground yet, so that he may well have one: a lead, not a finding"
		}
		if p < f.least {
			continue
		}
		found.Probability = p
		if near != "" {
			found.Stones = []model.StoneID{near}
		}
		found.Reasons = append(found.Reasons, fmt.Sprintf("%s, %s: the roster says %q (%s)", f.describe(r), m.cell, excerpt(m.text), r.Source.Words()))
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
	return f.oneOfEach(out)
}

// buriedHere is a mention of one of the survey's grounds in a record.
type buriedHere struct {
	mention
	cell, text string // where it stands, and how
	named      bool   // the record names its man
	record     *model.Record
}

// burial is the ground that a record's words name; the chance is 0 where they name none.
func (f *finder) burial(r *model.Record) buriedHere {
	b := buriedHere{mention: f.mention(r.Person.Buried, true, r), cell: "burial place", text: r.Person.Buried, named: r.Person.Name.Surname != "", record: r}
	if b.chance == 0 && !namesGround(b.text) { // a town, or nothing: the remarks may tell more
		b.cell, b.text = "remarks", r.Service.Remarks
		b.mention = f.mention(b.text, false, r)
	}
	return b
}

// longest is how many characters of a remark are quoted whole.
const longest = 200

// excerpt is a remark, or of a long one the part that speaks of the burial, with dots where something is left out.
func excerpt(text string) string {
	if len([]rune(text)) <= longest {
		return text
	}
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == '|' || r == '\n' }) {
		if burialRemark(part) == "" {
			continue
		}
		p := []rune(strings.TrimSpace(part))
		if len(p) > longest {
			p = p[len(p)-longest:]
		}
		return "… " + string(p) + " …"
	}
	return string([]rune(text)[:longest]) + " …"
}

// namesGround reports whether a text names any burial ground.
func namesGround(text string) bool {
	for _, w := range words(text) {
		if w.role == "ground" {
			return true
		}
	}
	return false
}

// joinRegister puts the findings together, with one for a man whom a register's row and a roster's burial remark both name: the row's, with its record.
func (f *finder) joinRegister(found, records []model.Finding) []model.Finding {
	at := map[model.RecordID]int{}
	for i, x := range found {
		if x.Kind != model.NoStone {
			continue
		}
		if claims := f.claims(x.Stone); len(claims) > 0 && claims[0].Probability >= 0.5 {
			at[claims[0].Record] = i
		}
	}
	for _, x := range records {
		i, ok := at[x.Record]
		if !ok {
			found = append(found, x)
			continue
		}
		row := &found[i]
		row.Record = x.Record
		row.Probability = max(row.Probability, x.Probability)
		row.Reasons = append(row.Reasons, x.Reasons[0])
	}
	return found
}

// oneOfEach keeps one finding of a man whom several rows name: same name, same unit. The likelier one stays, and says where else.
func (f *finder) oneOfEach(found []model.Finding) []model.Finding {
	slices.SortFunc(found, func(a, b model.Finding) int {
		return cmp.Or(cmp.Compare(b.Probability, a.Probability), cmp.Compare(a.Record, b.Record))
	})
	var out []model.Finding
	named := map[string][]int{} // places in out, by the man's name
	for _, x := range found {
		r := f.buriedHere[x.Record].record
		name := strings.ToLower(r.Person.Name.Surname + "|" + r.Person.Name.Given)
		n := slices.IndexFunc(named[name], func(at int) bool {
			return fullSame(r, f.buriedHere[out[at].Record].record)
		})
		if n < 0 {
			named[name] = append(named[name], len(out))
			out = append(out, x)
			continue
		}
		at := named[name][n]
		out[at].Records = append(out[at].Records, x.Record)
		out[at].Reasons = append(out[at].Reasons, fmt.Sprintf("record %s (%s) says the same of a man of the same name and unit", x.Record, r.Source.Words()))
	}
	return out
}

// fullSame reports whether two rows speak of one man as far as name and unit go.
func fullSame(a, b *model.Record) bool {
	return strings.EqualFold(a.Person.Name.Given, b.Person.Name.Given) && sameMan(a.Claim, b.Claim) &&
		a.Service.Unit.Company == b.Service.Unit.Company
}

// stoneOf is the chance that some stone of the survey is the record's man's, with a sentence about the nearest, and which that is where the sentence names it.
func (f *finder) stoneOf(id model.RecordID) (chance float64, nearest model.StoneID, sentence string) {
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
		return min(total, 1), "", "no stone recorded in this survey is likely to be his"
	}
	return min(total, 1), best.stone, fmt.Sprintf("no stone recorded in this survey is known to be his; the nearest is %s with %s", best.stone, best.chance())
}

// chance tells a stone's chance to be a record's man's, and where that is not the linking posterior, which propose tells, that one and why.
func (c claimed) chance() string {
	p, linked := vocab.Percent(c.p), vocab.Percent(c.linked)
	switch {
	case p == linked:
		return p
	case c.p > c.linked:
		return fmt.Sprintf("%s (propose says %s; the record buries him in that ground besides)", p, linked)
	}
	return fmt.Sprintf("%s (propose says %s, but nothing on that stone speaks of service, and a civilian may have borne the name)", p, linked)
}

// rowsStone is the stone of the ground that gives the name of a register's row which is likely the record's man's, and the chance that it is his: the row may know a date by
// which to tell it, where the record knows none.
func (f *finder) rowsStone(id model.RecordID) (stone model.StoneID, best float64) {
	for _, c := range f.onStones[id] {
		if !c.register || c.p < 0.5 {
			continue
		}
		row := f.subjects[c.stone]
		if s, p := f.sameNameStone(row, row.Reading().Claim()); p*c.p > best {
			stone, best = s, p*c.p
		}
	}
	return stone, best
}

// registerRow weighs a row of a burial register as a veteran whom no stone names. It says nothing of a ground where no stones were recorded.
func (f *finder) registerRow(s *model.Subject) model.Finding {
	found := model.Finding{Stone: s.Stone.ID, Kind: model.NoStone}
	if !f.walked(s.Stone.Place.Cemetery) || s.Reading().Claim().Person.Relation != "" {
		return found
	}
	claim := s.Reading().Claim()
	chances, reasons := readWords(s)
	claims := f.claims(s.Stone.ID)
	linked, onStone := 0.0, 0.0
	var near model.StoneID
	nearest := "no stone recorded in this survey is likely to be his"
	for _, c := range claims {
		linked += c.Probability
		if c.Probability < 0.01 {
			continue
		}
		for _, o := range f.onStones[c.Record] { // his stone and this row may both claim the record: they are no rivals
			if p := o.alone * c.Probability; !o.register && p > onStone {
				onStone, near, nearest = p, o.stone, fmt.Sprintf("but stone %s may be his (%s)", o.stone, vocab.Percent(p))
			}
		}
	}
	if linked = min(linked, 1); linked >= told {
		chances = append(chances, linked)
		reasons = append(reasons, f.linkReason(claims, linked))
	}
	if id, p := f.sameNameStone(s, claim); p > onStone {
		onStone, near, nearest = p, id, fmt.Sprintf("but stone %s in the same ground gives the same name", id)
	}
	if near != "" {
		found.Stones = []model.StoneID{near}
	}
	found.Probability = either(chances...) * (1 - min(onStone, 1))
	found.Conflict = f.conflict(s, claims)
	found.Reasons = append([]string{fmt.Sprintf("the burial register has %s in %s (%s)", who(claim), s.Stone.Place.Cemetery, s.Stone.Source.Words())}, reasons...)
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
	return f.hasStones[strings.ToLower(cemetery)]
}

// sameNameStone finds a stone of the same ground that gives the register's name.
func (f *finder) sameNameStone(row *model.Subject, claim model.Claim) (id model.StoneID, best float64) {
	for _, s := range f.stonesOf[strings.ToLower(claim.Person.Name.Surname)] {
		if !strings.EqualFold(s.Stone.Place.Cemetery, row.Stone.Place.Cemetery) {
			continue
		}
		for _, p := range s.Reading().People {
			n := p.Person.Name
			if n.Surname == "" || !strings.EqualFold(n.Surname, claim.Person.Name.Surname) || !agree(n.Given, claim.Person.Name.Given) {
				continue
			}
			chance := weight("same-name")
			a, b := p.Person.Died, claim.Person.Died
			switch {
			case !a.IsZero() && !b.IsZero() && a.From.Year == b.From.Year && a.To.Year == b.To.Year || p.Service.Unit.SameRegiment(claim.Service.Unit):
				chance = weight("same-name-date")
			case yearsApart(a, b):
				chance = weight("same-name-other-date")
			}
			if chance > best {
				id, best = s.Stone.ID, chance
			}
		}
	}
	return id, best
}

// yearsApart reports whether two dates are both known, and a whole year or more lies between them.
func yearsApart(a, b date.Date) bool {
	if a.IsZero() || b.IsZero() || a.From.Year == 0 || a.To.Year == 0 || b.From.Year == 0 || b.To.Year == 0 {
		return false
	}
	return a.To.Year+1 < b.From.Year || b.To.Year+1 < a.From.Year
}

// sameUnitStone finds a stone of a ground that gives a record's name and regiment.
func (f *finder) sameUnitStone(r *model.Record, cemetery string) model.StoneID {
	for _, s := range f.stonesOf[strings.ToLower(r.Person.Name.Surname)] {
		if strings.EqualFold(s.Stone.Place.Cemetery, cemetery) && sameMan(s.Reading().Claim(), r.Claim) && !f.in.Decisions.Refused(s.Stone.ID, r.ID) {
			return s.Stone.ID
		}
	}
	return ""
}
