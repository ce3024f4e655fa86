package inscription

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// finish gives everyone what is his, and puts the veteran first.
func (b *builder) finish() {
	if len(b.people) == 0 && (len(b.early) > 0 || !b.carry.Service.IsZero() || b.rank >= 0 || b.carry.Home != "" || b.family != "") {
		b.newPerson(person{})
		if b.family != "" {
			b.people[0].claim.Person.Name.Surname = unit.Title(words.Split(b.family), 0, 1)
			b.people[0].claim.Person.Name.Written = b.family
		}
	}
	if b.rank >= 0 && len(b.people) > 0 {
		b.setRank(max(b.serving, 0), b.path[b.rank].it)
	}
	if first := b.firstOwner(); first >= 0 {
		p := &b.people[first]
		if len(b.early) > 0 {
			p.parts = append(slices.Clone(b.early), p.parts...)
		}
		if b.carried {
			s, carry := &p.claim.Service, &b.carry.Service
			if s.Branch == "" {
				s.Branch = carry.Branch
			}
			if s.Side == "" {
				s.Side = carry.Side
			}
			s.Conflicts = append(s.Conflicts, carry.Conflicts...)
			s.Awards = append(s.Awards, carry.Awards...)
		}
	}
	for k := range b.people {
		b.person(k)
	}
	b.besideWives()
	b.surnames()
	b.order()
	if b.r.Unknown && len(b.people) > 0 && !b.people[0].claim.Person.Name.IsZero() {
		b.r.Unknown = false
	}
	if len(b.people) == 0 && b.r.GraveNumber != "" && len(b.r.Unread) == 0 {
		b.r.Unknown = true
	}
}

// firstOwner is the person to whom the service belongs that stood before any name.
func (b *builder) firstOwner() int {
	if len(b.people) == 0 {
		return -1
	}
	if k := b.firstVeteran(); k >= 0 {
		return k
	}
	return 0
}

// homeAlone reports whether a person's name and state are all that a stone has beside its number.
func (b *builder) homeAlone(p *person) bool {
	return len(b.people) == 1 && p.claim.Person.Born.IsZero() && p.claim.Person.Died.IsZero() && p.claim.Person.Age.IsZero() && p.relation == "" && len(b.r.Unread) == 0
}

// lifeOf reports whether a person's two loose dates may be those of a life: twelve years apart or more, or not two bare years in order.
func (b *builder) lifeOf(p *person) bool {
	one, two := p.loose[0].d, p.loose[1].d
	return len(one.EDTF) != 4 || len(two.EDTF) != 4 || one.From.Year < 1775 || two.From.Year < one.From.Year || two.From.Year-one.From.Year >= 12
}

// person settles the loose dates and the service of one person.
func (b *builder) person(k int) {
	p := &b.people[k]
	who := &p.claim.Person
	if p.paired && len(p.loose) == 2 && !b.lifeOf(p) { // "PETER & JACOB / … / 1863 & 1864": a year each
		b.people[k+1].claim.Person.Died = p.loose[1].d
		b.r.Tokens[p.loose[1].token].Person = k + 1
		p.loose = p.loose[:1]
	}
	if len(p.loose) == 2 && (len(p.parts) > 0 || p.rank != nil) && !b.lifeOf(p) { // "1861 CO. H 4 WIS. CAV. 1865"
		p.claim.Service.Enlisted, p.claim.Service.MusteredOut = p.loose[0].d, p.loose[1].d
		b.r.Tokens[p.loose[0].token].Field, b.r.Tokens[p.loose[1].token].Field = "enlisted", "mustered-out"
		p.loose = p.loose[:0]
	}
	for i, l := range p.loose {
		born := len(p.loose) == 2 && i == 0 || !who.Died.IsZero() && who.Born.IsZero()
		switch {
		case born && who.Born.IsZero() && !who.Died.IsZero() && len(l.d.EDTF) > len("1862") && (len(p.parts) > 0 || p.rank != nil) && who.Died.From.Year >= l.d.From.Year && who.Died.From.Year-l.d.From.Year < shortestService:
			b.r.Tokens[l.token].Field = "battle" // "WOUNDED AT SAVAGE STATION / JUNE 29, 1862 / DIED JULY 4, 1862": of a soldier no birth
		case born && who.Born.IsZero():
			who.Born = l.d
			b.r.Tokens[l.token].Field = "born"
		case who.Died.IsZero():
			who.Died = l.d
		}
	}
	if !who.Born.IsZero() && !who.Died.IsZero() && who.Died.Before(who.Born) && len(p.loose) > 0 {
		who.Born, who.Died = who.Died, who.Born
	}
	narrow(&who.Born, &who.Died)
	aged := who.Born.IsZero() && !who.Age.IsZero() && !who.Died.IsZero()
	if aged {
		who.Born = date.BirthFrom(who.Died, who.Age)
	}
	s := &p.claim.Service
	if p.claim.Home != "" && p.homeShort && len(p.parts) == 0 && s.Branch == "" && !b.modern(s) && (!s.IsZero() || b.c.context.government() || b.r.GraveNumber != "" && b.homeAlone(p)) {
		// a stone of the nineteenth century that gives rank, name and state: the state is the unit's
		s.Unit.State, p.claim.Home = p.claim.Home, ""
	}
	if len(p.parts) > 0 {
		s.Unit = unit.Unit(b.c.text, p.parts)
		s.Unit.Written = b.partsText(p.parts)
		if len(p.second) > 0 {
			b.note("He served in a second unit too: " + b.partsText(p.second) + ".")
		}
		b.implied(p)
	}
	if s.Side != "" { // there are sides in the civil war alone
		s.Conflicts = append(s.Conflicts, "civil-war")
	}
	if p.battle && (who.Died.IsZero() || who.Died.From.Year >= 1861 && who.Died.To.Year <= 1866) {
		s.Conflicts = append(s.Conflicts, "civil-war")
	}
	if p.fought && (who.Died.IsZero() || who.Died.To.Year >= 1861) && (who.Born.IsZero() || who.Born.From.Year < 1852) {
		s.Conflicts = append(s.Conflicts, "civil-war")
	}
	if p.fell && !s.IsZero() && !who.Died.IsZero() && who.Died.From.Year >= 1861 && who.Died.To.Year <= 1865 {
		s.Conflicts = append(s.Conflicts, "civil-war")
	}
	s.Conflicts = vocab.SortConflicts(s.Conflicts)
	if p.relation == "" && !p.mention && (len(p.parts) > 0 || len(s.Conflicts) > 0) {
		b.settleLife(p, aged)
	}
	s.Written = b.joined(p.written)
	if p.relation != "" {
		who.Relation = p.relation
	}
	b.doubts(p)
}

// joined is ranges of words as they stood; those that follow on each other keep what stands between them.
func (b *builder) joined(ranges [][2]int) string {
	var out string
	for i := 0; i < len(ranges); i++ {
		j := i
		for j+1 < len(ranges) && ranges[j+1][0] == ranges[j][1] {
			j++
		}
		if text := b.spanText(ranges[i][0], ranges[j][1]); out == "" {
			out = text
		} else {
			out = out + " " + text
		}
		i = j
	}
	return out
}

// modern reports whether a war of the twentieth century is named.
func (b *builder) modern(s *model.Service) bool {
	for _, c := range s.Conflicts {
		if w, ok := vocab.Conflict(c); ok && w.From.Year > 1900 {
			return true
		}
	}
	return false
}

// partsText is the unit's words as they stood.
func (b *builder) partsText(parts []unit.Part) string {
	var room [8][2]int
	ranges := room[:0]
	for i := range parts {
		ranges = append(ranges, [2]int{parts[i].From, parts[i].To})
	}
	return b.joined(ranges)
}

// southern are the states most of whose men who served in the civil war served against the Union: the table state-sides.csv.
var southern = sync.OnceValue(func() map[model.State]bool {
	m := map[model.State]bool{}
	for _, r := range vocab.Rows("state-sides") {
		m[model.State(r.Get("state"))] = r.Float("confederate") > 0.5
	}
	return m
})

// implied adds what the unit's words alone imply: units that fought in one war, on one side or in one branch only.
func (b *builder) implied(p *person) {
	s := &p.claim.Service
	u := &s.Unit
	told := unit.Implied(u, p.parts)
	switch {
	case u.Kind == model.Ship && (s.Branch != "" || s.Side != ""): // the words beside the ship's name say it better
	case told.Side != "":
		if s.Side != "" && s.Side != told.Side {
			b.note(fmt.Sprintf("The words name the side %s, and the unit %s, which was of the side %s: one of the two is wrong, or misread.", vocab.Label("side", string(s.Side)), s.Unit.Written, vocab.Label("side", string(told.Side))))
		}
		s.Side = told.Side
	case p.usa && southern()[u.State] && s.Side == "":
		s.Side = model.Union
	}
	if s.Branch == "" && (u.Kind != model.Ship || s.Side == told.Side) {
		s.Branch = told.Branch
	}
	if len(s.Conflicts) > 0 || s.Side != "" {
		return // a side tells of the civil war
	}
	died := p.claim.Person.Died
	switch {
	case told.Conflict != "":
		s.Conflicts = append(s.Conflicts, told.Conflict)
	case u.Division > 0 && u.State == "" && !died.IsZero() && !died.To.IsZero() && died.To.Year < secondWorldWar:
		s.Conflicts = append(s.Conflicts, "world-war-i")
	case u.Division > 0 && p.rank != nil:
		if row, ok := vocab.RankOf(s.Rank); ok && row.To > 0 && row.To <= ranksRecast {
			s.Conflicts = append(s.Conflicts, "world-war-i")
		}
	}
}

// Divisions with a number are of the world wars: before the second, or with a rank that the Army gave up when it recast its grades, of the first.
const (
	secondWorldWar = 1941
	ranksRecast    = 1921
)

// doubts notes what a careful reader would look at twice.
func (b *builder) doubts(p *person) {
	u := &p.claim.Service.Unit
	switch {
	case u.Company == "J":
		b.note("Company J was not used; look again, it may be I or L.")
	case len(u.Company) == 1 && u.Company[0] > 'M' && u.Company[0] <= 'Z':
		b.note("Regiments had companies A to M at most; look again at company " + u.Company + ".")
	case (u.Company == "L" || u.Company == "M") && (u.Arm == "infantry" || u.Arm == "mounted-infantry") && u.Number < 200 && u.State != "" &&
		!slices.Contains(p.claim.Service.Conflicts, "spanish-american-war") && !slices.Contains(p.claim.Service.Conflicts, "world-war-i"):
		b.note("Infantry of the civil war had companies A to K; company " + u.Company + " points to cavalry, heavy artillery or a later war.")
	}
	if u.Body == model.BodyUSCT && unit.Twice(*u) {
		b.note(fmt.Sprintf("Two regiments bore the number %d of US Colored Infantry in turn; dates of service tell them apart.", u.Number))
	}
}

// surnames gives those named by given names alone the surname of the stone's man.
func (b *builder) surnames() {
	for k := range b.people {
		p := &b.people[k]
		n := &p.claim.Person.Name
		if p.relation != "" && !p.mention && n.Given == "" && n.Middle == "" && !strings.Contains(n.Surname, " ") && (len(b.people) > 1 || p.relation != "wife") {
			// "CATHARINE / HIS WIFE": one word, and not in the tables of given names
			n.Given, n.Surname, p.short = n.Surname, "", true
		}
	}
	b.borrowed()
	surname := ""
	for k := range b.people {
		if n := &b.people[k].claim.Person.Name; n.Surname != "" && !b.people[k].mention {
			surname = n.Surname
			break
		}
	}
	for k := range b.people {
		p := &b.people[k]
		if p.claim.Person.Name.IsZero() && inherits(p.relation) && k+1 < len(b.people) && b.people[k+1].mention {
			p.claim.Person.Name.Surname = b.people[k+1].claim.Person.Name.Surname // "INFANT SON OF SERGT. J. DEAN"
		}
		if p.claim.Person.Name.Surname == "" && p.claim.Person.Name.Given != "" && (p.short && p.relation != "" || p.from > 0 && !p.mention && k > 0 && (b.family != "" || !b.lostIn(p))) {
			switch {
			case surname != "":
				p.claim.Person.Name.Surname = surname
			case inherits(p.relation), p.relation != "" && k+1 < len(b.people) && b.people[k+1].mention && b.people[k+1].relation == "husband": // "MOTHER / ELIZA J. / WIFE OF / CAPT. N. B. COWLES"
				for _, q := range b.people[k+1:] {
					if q.mention {
						p.claim.Person.Name.Surname = q.claim.Person.Name.Surname
						break
					}
				}
				if n := &p.claim.Person.Name; n.Surname == "" && k > 0 && b.people[k-1].mention { // "SONS OF / A. & R. MINOT / WILLARD"
					n.Surname = b.people[k-1].claim.Person.Name.Surname
				}
			}
		}
	}
}

// borrowed takes the second of two given names for no surname where the words tell that the other's serves: "MARY ANN / WIFE OF / PETER LUNDEEN".
func (b *builder) borrowed() {
	for k := range b.people {
		p := &b.people[k]
		n := &p.claim.Person.Name
		if !inherits(p.relation) || p.mention || n.Given == "" || n.Surname == "" || p.to-p.from < 2 || n.Suffix != "" {
			continue
		}
		last := b.c.infos[p.to-1]
		if last.given == 0 || last.surname != 0 && last.given < last.surname || !b.c.nameScore[p.from].givenName {
			continue
		}
		for _, q := range b.people[k+1:] {
			if s := q.claim.Person.Name.Surname; q.mention && s != "" && s != n.Surname {
				n.Middle = strings.TrimSpace(n.Middle + " " + n.Surname)
				n.Surname = s
				for i := range b.r.Tokens {
					if b.r.Tokens[i].From == b.c.text.Words[p.to-1].From {
						b.r.Tokens[i].Field = "middle"
					}
				}
				break
			}
		}
	}
}

// lostIn reports whether damage has taken letters of the lines in which a person is named, so that a surname may have stood there.
func (b *builder) lostIn(p *person) bool {
	t := b.c.text
	for i := range t.Words {
		if t.Words[i].Flags&(words.Lost|words.Note) != 0 && t.Words[i].Line >= t.Words[p.from].Line && t.Words[i].Line <= t.Words[p.to-1].Line+1 {
			return true
		}
	}
	return false
}

// order puts the veteran first, and gives the reading its people.
func (b *builder) order() {
	veteran := -1
	for k := range b.people {
		if b.people[k].claim.Service.IsZero() {
			continue
		}
		if veteran < 0 || b.people[veteran].relation != "" && b.people[k].relation == "" {
			veteran = k
		}
	}
	if len(b.people) > 0 {
		p := &b.people[max(veteran, 0)]
		who := &p.claim.Person
		b.r.Mention = p.mention && who.Born.IsZero() && who.Died.IsZero() && who.Age.IsZero()
		if veteran >= 0 {
			if r := p.relation; p.mention || r == "husband" || r == "father" {
				who.Relation = ""
			}
			if b.r.Mention {
				b.note("The veteran is only named, as another's husband or father: whether he lies here the stone does not say.")
			}
		}
	}
	b.ordered(veteran)
	if veteran <= 0 {
		return
	}
	for i := range b.r.Tokens {
		switch t := &b.r.Tokens[i]; {
		case t.Person == veteran:
			t.Person = 0
		case t.Person < veteran:
			t.Person++
		}
	}
}

// ordered gives the reading its people, the veteran first.
func (b *builder) ordered(veteran int) {
	n := len(b.people)
	if n == 0 {
		return
	}
	inPlace := veteran <= 0 && b.claims == n && n <= cap(b.said)
	for k := 0; k < n && inPlace; k++ {
		inPlace = b.people[k].claim == &b.said[:n][k]
	}
	if inPlace {
		b.r.People = b.said[:n:n]
		return
	}
	b.turned = b.turned[:0]
	if veteran >= 0 {
		b.turned = append(b.turned, *b.people[veteran].claim)
	}
	for k := range b.people {
		if k != veteran {
			b.turned = append(b.turned, *b.people[k].claim)
		}
	}
	b.r.People = append(b.said[:0:min(n, cap(b.said))], b.turned...)
	b.used = max(b.used, min(n, cap(b.said)))
}
