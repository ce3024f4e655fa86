package unmarked

import (
	"fmt"
	"math"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/unit"
)

// privateStone weighs a stone as a veteran's private stone.
func (f *finder) privateStone(s *model.Subject) model.Finding {
	found := model.Finding{Stone: s.Stone.ID, Kind: model.PrivateStone}
	reading := s.Reading()
	if reading.Unknown || len(reading.People) == 0 && len(s.Stone.Marker.Motifs) == 0 {
		return found
	}
	notGovernment := private(s.Implies)
	if notGovernment < f.least {
		return found
	}
	words, reasons := readWords(s)
	signs, beside := signsOn(s.Stone), true
	var looks []float64
	for _, g := range signs {
		looks, reasons, beside = append(looks, g.chance), append(reasons, g.reason), beside && g.beside
	}
	claims := f.claims(s.Stone.ID)
	linked, likely := 0.0, 0.0
	weighed := f.weighed(s, claims)
	for i, c := range claims {
		linked, likely = linked+c.Probability, likely+weighed[i]
	}
	linked, likely = min(linked, 1), min(likely, 1)
	if linked >= told {
		reasons = append(reasons, f.linkReason(claims, linked))
	}
	if linked >= told {
		reasons = append(reasons, f.countedAs(s, claims, linked, likely)...)
	}
	// A veteran is on the rosters, or he is not: where the signs alone speak of him, the fuller the rosters the less they do.
	veteran := either(append(words, likely, unlisted(either(looks...), f.rosters.have))...)
	if len(words) == 0 && len(signs) > 0 && beside && (len(claims) == 0 || claims[0].Probability < 0.5) {
		veteran = min(veteran, weight("holder-alone"))
		reasons = append(reasons, "nothing but what stands beside the stone speaks of service: a lead, not a finding")
	}
	elsewhere, other, why := f.governmentElsewhere(s, claims)
	if len(why) > 0 {
		found.Stones = []model.StoneID{other}
	}
	here, whyNot := f.liesHere(s, claims)
	found.Probability = notGovernment * veteran * (1 - elsewhere) * here
	found.Conflict = f.conflict(s, claims)
	if code, _ := s.Implies.Best(); code == model.NotGovernment {
		reasons = append(reasons, "the marker looks like none that the government furnished"+because(s.Implies.Because))
	} else {
		reasons = append(reasons, fmt.Sprintf("the looks of the marker do not say whose it is; the chance that it is not the government's is %s", vocab.Percent(notGovernment)))
	}
	if len(reading.People) > 1 {
		reasons = append(reasons, fmt.Sprintf("the stone names %d people; the veteran would be %s", len(reading.People), who(reading.Claim())))
	}
	found.Reasons = append(append(reasons, why...), whyNot...)
	found.ToShow = f.toShow(s, nil, found.Conflict)
	return found
}

// because is the most telling observation that speaks for a private stone, in brackets; "" where none is named as such.
func because(reasons []string) string {
	for _, r := range reasons {
		if strings.Contains(r, " for a private stone") {
			return " (" + r + ")"
		}
	}
	return ""
}

// unlisted is the chance that a man for whom signs speak with chance p is a veteran whom the rosters lack, they having the share have of such men.
func unlisted(p, have float64) float64 {
	return p * (1 - have) / (p*(1-have) + 1 - p)
}

// told is the linking posterior below which it is not worth a sentence.
const told = 0.05

// readWords gives the chances that the words of a stone, or of a register's row, make of a veteran, with their reasons. Each reading counts by its share; the likeliest
// of those that say a thing gives the words for it.
func readWords(s *model.Subject) (chances []float64, reasons []string) {
	source := "the stone"
	if s.Stone.Register != nil {
		source = "the register"
	}
	var regiment, rank, war, society said
	for _, r := range s.Readings {
		c := r.Claim().Service
		written := c.Written
		if c.Unit.Written != "" {
			written = c.Unit.Written
		}
		if written != "" {
			written = fmt.Sprintf(": %q", strings.Join(strings.Fields(written), " "))
		}
		switch {
		case !c.Unit.IsZero():
			regiment.add(r.Probability, source+" gives a unit"+written)
		case c.Rank != "":
			rank.add(r.Probability, source+" gives a rank: "+vocab.Label("rank", string(c.Rank)))
		case !c.IsZero():
			war.add(r.Probability, source+" speaks of service"+written)
		}
		if len(r.Society) > 0 {
			society.add(r.Probability, source+" gives the initials of a veterans' society: "+strings.Join(r.Society, ", "))
		}
	}
	for _, x := range []struct {
		said
		key string
	}{{regiment, "unit-on-stone"}, {rank, "rank-on-stone"}, {war, "conflict-on-stone"}, {society, "society-on-stone"}} {
		if x.share > 0 {
			chances, reasons = append(chances, min(x.share, 1)*weight(x.key)), append(reasons, x.reason)
		}
	}
	return chances, reasons
}

// said is what readings of a stone say, and the share of those that say it.
type said struct {
	share  float64
	reason string
}

func (s *said) add(share float64, reason string) {
	if s.share == 0 {
		s.reason = reason
	}
	s.share += share
}

// linkReason says in words how likely the records are the man's, and which is the best of them; linked is the chance of all together.
func (f *finder) linkReason(claims []model.Candidate, linked float64) string {
	best := claims[0]
	name := ""
	if r := f.records[best.Record]; r != nil {
		name = " (" + f.describe(r) + ")"
	}
	if f.livingRecord(f.records[best.Record]) && best.Decided != string(model.Confirmed) {
		if len(claims) == 1 || best.Probability > 0.9*linked {
			return fmt.Sprintf("a service record %s is his with a probability of %s", heldBack, vocab.Percent(best.Probability))
		}
		return fmt.Sprintf("one of the service records is his with a probability of %s; the best is one %s", vocab.Percent(linked), heldBack)
	}
	switch {
	case best.Decided == string(model.Confirmed):
		return fmt.Sprintf("a person confirmed service record %s%s as his", best.Record, name)
	case len(claims) == 1 || best.Probability > 0.9*linked:
		return fmt.Sprintf("service record %s%s is his with a probability of %s", best.Record, name, vocab.Percent(best.Probability))
	}
	return fmt.Sprintf("one of the service records is his with a probability of %s; the best is %s%s with %s", vocab.Percent(linked), best.Record, name, vocab.Percent(best.Probability))
}

// worthTelling is by how much a chance has to count for more or for less than it is elsewhere, that it is worth a sentence.
const worthTelling = 0.02

// countedAs says where the chance that the records are the man's counts for more or for less here than linking and so propose has it, and why; nothing where it does not.
func (f *finder) countedAs(s *model.Subject, claims []model.Candidate, linked, likely float64) []string {
	p := vocab.Percent(likely)
	switch {
	case math.Abs(likely-linked) < worthTelling:
		return nil
	case likely > linked:
		return []string{"the record buries him in this ground, so that the match counts as " + p + " here"}
	case f.datesApart(s, claims):
		return []string{"but nothing on the stone speaks of service, and its dates are not the record's, so that the match counts as " + p + " here"}
	}
	return []string{"but nothing on the stone speaks of service, and a civilian may have borne the name, so that the match counts as " + p + " here"}
}

// describe names a record's man and his unit, unless he may be living.
func (f *finder) describe(r *model.Record) string {
	if f.livingRecord(r) {
		return "a man " + heldBack
	}
	s := who(r.Claim)
	if u := unit.Format(r.Service.Unit); u != "" {
		s += ", " + u
	}
	return s
}

// governmentElsewhere is the chance that the man of a private stone has a government marker elsewhere in the survey, and which that would be.
func (f *finder) governmentElsewhere(s *model.Subject, claims []model.Candidate) (chance float64, other model.StoneID, why []string) {
	total, top := 0.0, 0.0
	for _, c := range claims {
		most := 0.0
		for _, o := range f.onStones[c.Record] {
			if o.stone == s.Stone.ID || o.register || o.official < 0.5 {
				continue
			}
			if p := o.alone * o.official; p > most {
				most = p
				if p*c.Probability > top {
					top, other = p*c.Probability, o.stone
				}
			}
		}
		total += most * c.Probability
	}
	for _, m := range f.byName[strings.ToLower(s.Reading().Claim().Person.Name.Surname)] {
		if m.subject != s && sameMan(s.Reading().Claim(), m.subject.Reading().Claim()) {
			if p := m.share * weight("same-man"); p > top {
				total, top, other = max(total, p), p, m.subject.Stone.ID
			}
		}
	}
	if total < 0.02 {
		return min(total, 1), "", nil
	}
	return min(total, 1), other, []string{fmt.Sprintf("but stone %s, which looks like a government marker, may be the same man's (%s)", other, vocab.Percent(min(total, 1)))}
}

// sameMan reports whether two stones give the same name and the same unit: surname alike, given names that agree as far as
// both go, the same regiment, and no two companies.
func sameMan(a, b model.Claim) bool {
	u, v := a.Service.Unit, b.Service.Unit
	return a.Person.Name.Surname != "" && strings.EqualFold(a.Person.Name.Surname, b.Person.Name.Surname) &&
		agree(a.Person.Name.Given, b.Person.Name.Given) && u.SameRegiment(v) && (u.Company == "" || v.Company == "" || u.Company == v.Company)
}

// agree reports whether two given names may be one: alike, or one the initial of the other.
func agree(a, b string) bool {
	a, b = strings.ToLower(a), strings.ToLower(b)
	if a == "" || b == "" {
		return false
	}
	if len(a) > len(b) {
		a, b = b, a
	}
	return a == b || len(a) == 1 && strings.HasPrefix(b, a)
}

// liesHere is the chance that the stone stands on the man's grave. Signs that it does not are joined as odds, from those of a stone of which nothing is said: a stone
// IN MEMORY OF a man whom his record buries elsewhere is next to certainly over no grave.
func (f *finder) liesHere(s *model.Subject, claims []model.Candidate) (float64, []string) {
	var against []float64 // the chances that each sign alone leaves
	var why []string
	if s.Reading().Memorial {
		against = append(against, weight("in-memory"))
		why = append(why, "but the stone says IN MEMORY OF: he may lie elsewhere")
	}
	if s.Reading().Mention {
		against = append(against, weight("wifes-stone"))
		why = append(why, "but the stone is over somebody else, and only says whose she was: he may lie elsewhere")
	}
	here, elsewhere := 0.0, 0.0 // the chance that the likeliest record is his, where it buries him here or elsewhere
	if len(claims) > 0 {
		if r := f.records[claims[0].Record]; r != nil {
			text, m := r.Person.Buried, f.mention(r.Person.Buried, true, r)
			if text == "" {
				text, m = burialRemark(r.Service.Remarks), f.mention(r.Service.Remarks, false, r)
			}
			if text != "" && f.livingRecord(r) {
				text = heldBack
			}
			switch {
			case text == "":
			case m.chance >= 0.5 && strings.EqualFold(m.ground.Name, s.Stone.Place.Cemetery):
				here = claims[0].Probability
				why = append(why, fmt.Sprintf("record %s buries him here: %q", r.ID, text))
			default:
				elsewhere = claims[0].Probability
				why = append(why, fmt.Sprintf("but record %s says of his burial: %q", r.ID, text))
			}
		}
	}
	if place := f.fellAt(s, claims); place != "" && here < 0.5 {
		against = append(against, weight("fell-away"))
		why = append(why, fmt.Sprintf("but he died in the war, at %q: many a stone stands over an empty grave, and many a man was brought home", place))
	}
	return here + elsewhere*overGrave(append(against, weight("buried-elsewhere"))...) + (1-here-elsewhere)*overGrave(against...), why
}

// overGrave joins the chances that signs leave, each alone, that a stone stands over its man; without signs it is 1.
func overGrave(alone ...float64) float64 {
	if len(alone) == 0 {
		return 1
	}
	first := weight("over-grave") / (1 - weight("over-grave"))
	odds := first
	for _, p := range alone {
		odds *= p / (1 - p) / first
	}
	return odds / (1 + odds)
}

// fellAt is the place at which the man died in his war, as the stone has it or else the likely record; "" where neither says so.
func (f *finder) fellAt(s *model.Subject, claims []model.Candidate) string {
	war, ok := vocab.Conflict(f.conflict(s, claims))
	if !ok || war.To.Year == 0 {
		return ""
	}
	said := []model.Claim{s.Reading().Claim()}
	if len(claims) > 0 && claims[0].Probability >= 0.5 && !f.livingRecord(f.records[claims[0].Record]) {
		if r := f.records[claims[0].Record]; r != nil {
			said = append(said, r.Claim)
		}
	}
	for _, c := range said {
		died := c.Person.Died
		if c.Person.DeathPlace != "" && !died.IsZero() && died.From.Year >= war.From.Year && died.To.Year != 0 && died.To.Year <= war.To.Year {
			return c.Person.DeathPlace
		}
	}
	return ""
}

// burialRemark is a remark that speaks of a burial; "" where it does not.
func burialRemark(remarks string) string {
	for _, w := range words(remarks) {
		if w.tells == "burial" {
			return remarks
		}
	}
	return ""
}

// conflict is the war that the finding is about: the one on the stone, or of the likeliest record, or that the design implies.
func (f *finder) conflict(s *model.Subject, claims []model.Candidate) model.ConflictCode {
	if c := s.Reading().Claim().Service.Conflicts; len(c) > 0 {
		return c[0]
	}
	for _, c := range claims {
		if r := f.records[c.Record]; r != nil && c.Probability >= 0.2 {
			if war := warOf(r); war != "" {
				return war
			}
		}
	}
	for _, sign := range signsOn(s.Stone) {
		if sign.service != "" {
			war, _, _ := strings.Cut(sign.service, "/")
			return model.ConflictCode(war)
		}
	}
	for _, w := range s.Implies.Services {
		war, _, _ := strings.Cut(w.Code, "/")
		if _, ok := vocab.Conflict(model.ConflictCode(war)); ok && w.Probability >= 0.2 {
			return model.ConflictCode(war)
		}
	}
	return ""
}

// warOf is the war of a record: the one it names, or the only one of its dates.
func warOf(r *model.Record) model.ConflictCode {
	if len(r.Service.Conflicts) > 0 {
		return r.Service.Conflicts[0]
	}
	from := r.Service.Enlisted
	if from.IsZero() {
		from = r.Service.MusteredIn
	}
	if from.IsZero() {
		return ""
	}
	for _, c := range vocab.ConflictsDuring(from.From, from.To) {
		if c != "indian-wars" { // they went on for eighty years, beside all the others
			return c
		}
	}
	return ""
}
