package inscription

import (
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// setRank gives person k the rank.
func (b *builder) setRank(k int, it *item) {
	p := &b.people[k]
	p.claim.Service.Rank = model.Rank(it.entry.code)
	p.claim.Service.Brevet = it.brevet
	p.rank = it.entry
	b.wroteWords(k, it)
}

// wroteWords adds an item's words to those of a person's rank and service.
func (b *builder) wroteWords(k int, it *item) {
	p := &b.people[k]
	if p.written == nil && k < len(b.wrote) {
		p.written = b.wrote[k][:0]
	}
	p.written = append(p.written, [2]int{it.from, it.to})
	if k < len(b.wrote) {
		b.wrote[k] = p.written
	}
}

// takeRank gives a rank to the one it stands beside: the name before it, or the name that follows.
func (b *builder) takeRank(k int, it *item) {
	next, _ := b.later(k)
	prev, _ := b.before(k)
	if b.head < 0 && b.rank >= 0 && it.brevet {
		b.token(it.from, it.to, "rank", it.entry.code, it.entry.source, -1) // "CAPT. AND BVT. MAJOR / EDMUND DOW": the rank of his service stands first
		return
	}
	toNext := (next == kName || next == kPair) && !(prev == kName && b.wants == "" && b.next == "" && b.head >= 0 && b.people[b.head].rank == nil)
	if b.head < 0 || toNext && b.rank < 0 {
		b.rank = k
		b.token(it.from, it.to, "rank", it.entry.code, it.entry.source, -1)
		return
	}
	who := b.serving
	if who < 0 { // "DAU. OF / HOSP. STEW'D": only the one mentioned has been named
		who = b.head
	}
	b.token(it.from, it.to, "rank", it.entry.code, it.entry.source, who)
	p := &b.people[who]
	switch {
	case p.rank == nil:
		b.setRank(who, it)
	case p.rank.traits&tCivil != 0 && (next == kUnit || next == kBranch) && prev != kUnit && !(it.brevet && prev == kRank) && p.claim.Service.Rank != model.Rank(it.entry.code):
		// "GEN. W. PECK / COLONEL 2ND CONN.": the rank beside the unit is that of the service, but for the brevet of "CAPT. & BVT. MAJ."
		b.setRank(who, it)
	}
}

// serve is the person to whom service belongs; before any name it is kept for the first.
func (b *builder) serve() int {
	k := b.serving
	if k <= 0 || b.people[k].mention || b.people[k].rank != nil || len(b.people[k].parts) > 0 {
		return k
	}
	// "JOHN … MARY HIS WIFE … CO. F": the regiment is John's
	if v := b.firstVeteran(); v >= 0 && v != k && !b.people[v].woman && (b.people[k].woman || b.people[k].relation != "") {
		return v
	}
	for v := range k { // "FATHER / JOHN LEE / MOTHER / SARAH LEE / CO. G 4 WIS. CAV."
		if p := &b.people[v]; b.people[k].woman && !p.woman && !p.mention && p.relation == "father" {
			return v
		}
	}
	return k
}

// unitFields are the token fields of a unit's parts.
var unitFields = [...]string{
	unit.RoleCompany: "company", unit.RoleNumber: "regiment", unit.RoleState: "state", unit.RoleBody: "body", unit.RoleArm: "arm", unit.RoleKind: "kind",
	unit.RoleNamed: "unit", unit.RoleDivision: "division", unit.RoleMark: "mark", unit.RoleShip: "ship", unit.RoleFiller: "link",
}

// takeUnit gives a part of a unit to the one who serves: to his unit, or to a second where it does not go with that.
func (b *builder) takeUnit(it *item) {
	part := b.c.unitParts[it.ref]
	field := unitFields[part.Role]
	who := b.serve()
	if who >= 0 && who != b.head && !b.people[b.head].woman && !b.people[b.head].mention && len(b.people[who].parts) > 0 && !fits(b.people[who].parts, &part) {
		who, b.serving = b.head, b.head // "NATHAN DODGE CO. B 2 WIS. CAV. / THEIR SON ELI CO. I 3 WIS. INF."
	}
	b.token(it.from, it.to, field, partValue(b.c.text, &part), part.Source(), who)
	if part.Role == unit.RoleNumber && part.Num == 0 {
		b.note("The regiment's number is partly lost: " + b.c.text.Span(it.from, it.from+1) + ".")
	}
	if who < 0 {
		b.early = append(b.early, part)
		return
	}
	p := &b.people[who]
	if p.parts == nil && who < len(b.room) {
		p.parts = b.room[who][:0]
	}
	if p.second == nil && len(p.parts) > 0 && !fits(p.parts, &part) || p.second != nil {
		p.second = append(p.second, part)
		b.wroteWords(who, it)
		return
	}
	p.parts = append(p.parts, part)
	if who < len(b.room) {
		b.room[who] = p.parts
	}
	b.wroteWords(who, it)
}

// fits reports whether a part goes with those of a unit.
func fits(parts []unit.Part, p *unit.Part) bool {
	var s unit.State
	for k := range parts {
		s, _, _ = s.Add(&parts[k])
	}
	_, _, ok := s.Add(p)
	return ok
}

// partValue is what a part of a unit was understood as.
func partValue(t *words.Text, p *unit.Part) string {
	switch p.Role {
	case unit.RoleNumber, unit.RoleDivision:
		if p.Num == 0 {
			return t.Key(p.From) // "1?": what is left of it
		}
		return strconv.Itoa(p.Num)
	case unit.RoleState:
		return string(p.Form.State)
	case unit.RoleBody:
		return string(p.Form.Body)
	case unit.RoleArm:
		return string(p.Form.Arm)
	case unit.RoleKind:
		return string(p.Form.Kind)
	case unit.RoleMark:
		return strings.Join(p.Form.Marks, " ")
	case unit.RoleFiller:
		return ""
	}
	u := unit.Unit(t, []unit.Part{*p})
	if p.Role == unit.RoleCompany {
		return u.Company
	}
	return u.Name
}

var serviceFields = [kinds]string{kBranch: "branch", kSide: "side", kConflict: "conflict", kWarYears: "conflict", kAward: "award"}

// takeService gives a branch, a side, a war or an award to the one who serves.
func (b *builder) takeService(it *item, text string) {
	e := it.entry
	if b.wants != "" { // "SON OF A REVOLUTIONARY SOLDIER": another's service, and nobody's name
		b.token(it.from, it.to, "commonplace", e.code, e.source, b.head)
		b.wants = ""
		return
	}
	field := serviceFields[it.kind]
	who := b.serve()
	b.token(it.from, it.to, field, e.code, e.source, who)
	s := &b.carry.Service
	b.carried = b.carried || who < 0
	if who >= 0 {
		s = &b.people[who].claim.Service
		b.wroteWords(who, it)
	}
	switch it.kind {
	case kBranch:
		if s.Branch == "" {
			s.Branch = model.Branch(e.code)
		}
		if e.code == "army" && e.words == 3 && words.Letters(text) == "USA" && who >= 0 {
			b.people[who].usa = true
		}
	case kSide:
		s.Side = model.Side(e.code)
		if e.traits&tNavy != 0 {
			s.Branch = "navy"
		}
	case kConflict, kWarYears:
		for code := range strings.SplitSeq(e.code, "|") {
			s.Conflicts = append(s.Conflicts, model.ConflictCode(code))
		}
	case kAward:
		if !slices.Contains(s.Awards, e.code) {
			s.Awards = append(s.Awards, e.code)
		}
	}
	if it.kind == kWarYears {
		b.label = noLabel
	}
}
