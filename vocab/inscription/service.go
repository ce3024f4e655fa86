package inscription

import (
	"strings"

	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// formItems adds what the tables say of the words at i, and notes how strongly word i alone means something else than a name.
func (c *chart) formItems(i int) {
	t := c.text
	if t.Words[i].Has(words.Note) {
		c.add(item{from: i, to: i + 1, kind: kNote})
		return
	}
	at := c.spots[i]
	for k := at.from; k < at.to; k++ {
		switch h := &c.hits[k]; h.entry.kind {
		case kHome:
			c.homeItem(i, h)
		case kMonth, kSpan, kPlace:
		default:
			c.formItem(i, h)
		}
	}
	if t.Words[i].Has(words.Ordinal) && i+1 < len(t.Words) && !t.Words[i].Has(words.LastInLine) {
		for k := c.spots[i+1].from; k < c.spots[i+1].to; k++ { // "3RD INF. SON OF", "1ST WIFE OF"
			if h := &c.hits[k]; h.entry.kind == kRelationOf || h.entry.kind == kRelation {
				c.add(item{from: i, to: h.to, kind: h.entry.kind, entry: h.entry, score: c.w.CountedRelation + c.w.CountedRelationWord*float32(h.to-i)})
			}
		}
	}
	if w := &t.Words[i]; w.Num > 0 && w.Num < 10 && w.Flags&(words.Ordinal|words.LastInLine) == 0 && i+1 < len(t.Words) { // "2 BRONZE STARS", "3 AM"
		next := c.spots[i+1]
		for k := next.from; k < next.to; k++ {
			if h := &c.hits[k]; h.entry.kind == kAward {
				c.add(item{from: i, to: h.to, kind: kAward, entry: h.entry, score: h.entry.score + c.w.CountedAward + c.w.CountedAwardWord*float32(h.to-i-1)})
			}
		}
	}
	switch starts := c.infos[i].starts; {
	case starts&sBrevet != 0:
		c.rankBehind(i, true, c.w.BrevetRank, c.w.BrevetRankWord)
	case starts&sActing != 0 && !t.Words[i].Has(words.LastInLine):
		c.rankBehind(i, false, c.w.ActingRank, c.w.ActingRankWord)
	}
}

// rankBehind adds the ranks right behind BREVET or ACTING at word i, whose score is that of the word alone. An acting rank is told as the rank that he acted in.
func (c *chart) rankBehind(i int, brevet bool, score, word float32) {
	if i+1 >= len(c.text.Words) {
		return
	}
	c.sense[i] = c.w.ActingSense
	next := c.spots[i+1]
	for k := next.from; k < next.to; k++ {
		h := &c.hits[k]
		if h.entry.kind != kRank {
			continue
		}
		it := item{from: i, to: h.to, kind: kRank, entry: h.entry, brevet: brevet, score: score + word*float32(h.to-i-1)}
		if !brevet {
			it.score += h.entry.score
		}
		c.add(it)
		if to := c.volunteers(h.to); brevet && to > h.to { // "BVT. MAJ. U. S. V. / CAPT. CO. A 3 IOWA CAV.": no body of his regiment's
			it.to = to
			it.score += c.w.BrevetOfVolunteers
			c.add(it)
		}
	}
}

// formItem adds the item of a form that was found at word i.
func (c *chart) formItem(i int, h *hit) {
	t := c.text
	e := h.entry
	n := float32(h.to - i)
	score := e.score + unit.Guess*float32(h.guessed)
	for k := i; k < h.to-1; k++ {
		if t.Words[k].Has(words.LastInLine) {
			score += c.w.FormBroken
		}
	}
	if h.to == i+1 && e.words > 2 && e.traits&tInitials != 0 {
		score += c.w.GluedInitials // "WWI", "USN": letters in one word are nobody's initials
	}
	wholeLine := t.Words[i].Has(words.FirstInLine) && t.Words[h.to-1].Has(words.LastInLine)
	it := item{from: i, to: h.to, kind: e.kind, entry: e}
	kind := &c.lex.kinds[e.kind]
	it.score = score + kind.base + kind.word*(n-1)
	if wholeLine {
		it.score += kind.line
	}
	sense := kind.sense
	aboveName := false // a rank misread where it alone stands
	if c.misread[i] {
		it.score += c.w.WordMisread
		sense = 0
		if aboveName = e.kind == kRank && i == 0 && t.Words[0].Has(words.LastInLine) && c.context.government(); aboveName {
			it.score += c.w.MisreadBeforeGiven // "NUS. / FREDK. W. JOHNSON"
		}
		if e.kind == kRank && t.Words[i].Has(words.FirstInLine) && h.to < len(t.Words) && t.Words[h.to].Flags&words.FirstInLine == 0 && (c.infos[h.to].abbreviation || c.infos[h.to].given != 0 || t.Len(h.to) == 1 && !t.Words[h.to].Has(words.Digits)) {
			it.score += c.w.MisreadBeforeGiven // "MUBN. JNO. LARD"
			aboveName = c.context.government()
		}
	}
	short := false // too little is left to speak against a name: "C[---]S D / HOLCOTT"
	if key := t.Key(i); h.guessed > 0 && (key[len(key)-1] == '*' || key[0] == '*') && leftOf(key) < 3 && 1<<e.kind&guessedKinds != 0 {
		it.score += c.w.GuessedShort // "JO[---]" is no journalist
		short = true
	} else if h.guessed > 0 && leftOf(key) < 3 && strings.IndexByte(key, '*') > 0 {
		short = true
	}
	if h.guessed > 0 && h.to == i+1 && (1<<e.kind&(1<<kFraternal|1<<kSociety) != 0 || e.kind == kRank && e.traits&tNavy != 0) && !t.Words[i].Has(words.LastInLine) && knownNames().shortened(t.Key(i)) {
		it.score += c.w.GuessedShort // "[.]EO J. HALL" is George
		short = true
	}
	switch e.kind {
	case kRelation:
		if h.to < len(t.Words) && t.Words[h.to].Flags&words.FirstInLine == 0 && t.Key(h.to) == "OF" {
			it.score += c.w.RelationBeforeOf
		}
		if h.guessed > 0 && h.to == i+1 && (leftOf(t.Key(i)) < 3 || knownNames().fits(t.Key(i))) { // "[.]OHN" is John
			it.score += c.w.GuessedRelation
			if leftOf(t.Key(i)) > 2 {
				sense = 0
			}
		}
	case kRank:
		if e.traits&tNavy != 0 && h.to == i+1 && t.Len(i) == 2 && c.armBehind(h.to) {
			return // "CH INF", "CO CH CAV": what is left of a state, and no coal heaver
		}
		if h.guessed > 0 && e.traits&tCivil != 0 {
			it.score += c.w.GuessedTrade // C[..]PL. is a corporal sooner than a chaplain
		}
		it.served = c.shortTrade(i, h)
		surname := h.to == i+1 && c.behindGiven(i) && !rankForms()[t.Key(i)]
		if surname {
			it.score += c.w.RankAsSurname // "SYLVESTER NATHAN CHAPIN"
		}
		switch {
		case surname, e.traits&tInitials != 0:
			sense = 0
		case e.traits&(tCivil|tFull) == 0, aboveName, it.served:
			sense = c.w.SureRankSense
		}
	case kDegree:
		if n == 2 && t.Words[i].Has(words.DotAfter) {
			it.score += c.w.PointedDegree
		}
	case kSide:
		if n == 1 && len(t.Key(i)) > 2 {
			it.score += c.w.SideWord
		}
		if e.traits&tInitials != 0 && n == 2 {
			it.score += c.w.SideInitials // "C. S." is initials oftener
		}
	case kConflict:
		if e.traits&tInitials != 0 && !wholeLine {
			it.score += c.w.WarInitials
		}
	case kAward:
		if e.traits&tInitials != 0 {
			it.score += c.w.AwardInitials
		}
	case kSociety:
		c.post(it)
	case kRelationOf:
		if e.traits&tInitials != 0 || len(t.Key(i)) == 1 {
			it.score += c.w.RelationLetter
		}
		if h.guessed > 0 && n == 1 && leftOf(t.Key(i)) < 3 {
			it.score += c.w.GuessedRelation // WI[---] is WILLIAM sooner than a widow
		}
	case kLabel:
		if len(t.Key(i)) == 1 && n == 1 {
			it.score += c.w.LabelLetter
			sense = 0
		}
		if e.code == "age" {
			c.ageItems(h.to, true, i)
			return
		}
		if h.to >= len(t.Words) {
			it.score += c.w.LabelAtEnd
		}
	case kSaying:
		if !wholeLine && n < 3 {
			it.score += c.w.ShortSaying
		}
		if e.code == "occupation" && c.context.government() {
			it.score += c.w.TradeOfSoldier
		}
	}
	if h.to == i+1 && !short {
		c.sense[i] = max(c.sense[i], sense)
	} else if e.kind == kRank && e.traits&(tInitials|tFull) == 0 && h.guessed == 0 && t.Words[i].Has(words.FirstInLine) && (t.Words[h.to-1].Has(words.DotAfter) || c.context.government() && h.to < len(t.Words) && c.infos[h.to].given != 0) {
		for k := i; k < h.to; k++ { // "COAL HVR."
			if !c.infos[k].named && t.Len(k) > 2 {
				c.sense[k] = max(c.sense[k], c.w.SureRankSense)
			}
		}
	}
	switch e.kind {
	case kConflict, kBranch, kSide:
		if c.goesOn(h.to) {
			it.score += c.w.ServiceGoesOn // "CIVIL WAR HISTORIAN"
		}
	case kLabel:
		c.afterLabel[h.to] = true
	case kRank:
		if h.to > i+2 && h.guessed == 0 && t.Words[h.to-2].Has(words.Digits) {
			c.afterClass[h.to] = true // "PVT. 1 CL. HOWARD BEALS": the CL. is no name's
		}
	}
	if e.kind == kRank && h.to == i+1 && h.to < len(t.Words) && t.Words[i].Has(words.DotAfter) && t.Words[h.to].From <= t.Words[i].To+1 && !t.Words[h.to].Has(words.DotAfter) && (t.Key(h.to) == "T" || t.Key(h.to) == "L") && rankForms()[t.Key(i)+t.Key(h.to)] {
		it.to++ // "SERG.T", "CORP.L": the last letter is raised; that of "SERGT.T.J.HART" is a name's
	}
	c.add(it)
	if e.kind == kRank && e.traits&tNavy != 0 {
		if to := c.classOf(h.to); to > h.to { // "MACH. MATE 1 CL."
			it.to = to
			it.score += c.w.RateClass * float32(to-h.to)
			c.add(it)
		}
	}
	if e.kind == kConflict && h.to < len(t.Words) && t.Words[h.to].Has(words.Digits) {
		c.warWithYears(it)
	}
}

// shortTrade reports whether a soldier's trade is cut short, with its point, before a given name or an initial with its own at the head of the line: "WAGR. JOHN NICHOLSON". Nobody had his trade cut so but who served by it. Common practice, no source.
func (c *chart) shortTrade(i int, h *hit) bool {
	t := c.text
	if h.entry.traits&tShortTrade == 0 || h.guessed > 0 || c.misread[i] || h.to != i+1 || h.to >= len(t.Words)-1 || t.Words[i].Flags&(words.FirstInLine|words.DotAfter) != words.FirstInLine|words.DotAfter || t.Words[h.to].Flags&(words.FirstInLine|words.LastInLine) != 0 {
		return false
	}
	next := &c.infos[h.to]
	return next.abbreviation || next.given != 0 && next.given > next.surname || t.Len(h.to) == 1 && t.Words[h.to].Has(words.DotAfter) && !t.Words[h.to].Has(words.Digits)
}

// armBehind reports whether word i goes on in the line of the one before and is an arm.
func (c *chart) armBehind(i int) bool {
	if i >= len(c.text.Words) || c.text.Words[i].Has(words.FirstInLine) {
		return false
	}
	for k := c.first[i]; k >= 0; k = c.items[k].next {
		if it := &c.items[k]; it.kind == kUnit && c.unitParts[it.ref].Role == unit.RoleArm {
			return true
		}
	}
	return false
}

// guessedKinds are the kinds of which two letters before or behind a gap tell nothing.
const guessedKinds = 1<<kRank | 1<<kBranch | 1<<kSide | 1<<kAward | 1<<kSociety | 1<<kFraternal | 1<<kTitle | 1<<kDegree | 1<<kConflict | 1<<kLink

// leftOf counts the letters that are left of a damaged word.
func leftOf(key string) int {
	n := 0
	for k := range len(key) {
		if key[k] != '?' && key[k] != '*' {
			n++
		}
	}
	return n
}

// volunteers is the word after "U. S. V.", "U. S. VOLS." or "U. S. A." at word i, or i.
func (c *chart) volunteers(i int) int {
	t := c.text
	if i+2 >= len(t.Words) || t.Key(i) != "U" || t.Key(i+1) != "S" {
		return i
	}
	if c.infos[i+2].starts&sVolunteers == 0 {
		return i
	}
	return i + 3
}

// classOf is the word after the class of a rate that stands at word i, or i: "1CL", "2ND CLASS", "3/C".
func (c *chart) classOf(i int) int {
	t := c.text
	if i+1 >= len(t.Words) || t.Words[i].Num < 1 || t.Words[i].Num > 3 || t.Words[i].Flags&(words.FirstInLine|words.LastInLine) != 0 {
		return i
	}
	if c.infos[i+1].starts&sClass == 0 {
		return i
	}
	return i + 2
}

// goesOn reports whether the line goes on at word i with a word that is in no table.
func (c *chart) goesOn(i int) bool {
	t := c.text
	if i >= len(t.Words) || t.Words[i].Flags&(words.FirstInLine|words.Digits|words.Lost|words.InBrackets) != 0 || t.Len(i) < 4 {
		return false
	}
	return c.spots[i].from == c.spots[i].to && !c.infos[i].named && !c.infos[i].function && c.sense[i] == 0
}

// warWithYears adds a conflict with the year or years that stand behind its name: "SPANISH AMERICAN WAR 1898".
func (c *chart) warWithYears(it item) {
	e := it.entry
	within := func(y int) bool { return y >= int(e.from) && y <= int(e.to)+1 }
	_, y, ok := c.year(it.to)
	if !ok || !within(y) {
		return
	}
	it.to++
	it.score += c.w.WarYear
	c.add(it)
	if it.to < len(c.text.Words) && c.text.Words[it.to-1].Has(words.DashAfter) {
		w := &c.text.Words[it.to]
		if _, y2, ok := c.year(it.to); ok && within(y2) || w.Num > 0 && w.Num < 100 && within(y/100*100+w.Num) {
			it.to++
			it.score += c.w.WarYear
			c.add(it)
		}
	}
}

// unitItems adds the parts of a unit at word i.
func (c *chart) unitItems(i int) {
	t := c.text
	from := len(c.unitParts)
	c.unitParts = c.scan.Parts(c.unitParts, i)
	for k := from; k < len(c.unitParts); k++ {
		p := &c.unitParts[k]
		if c.misread[i] {
			p.Score += c.w.WordMisread
		}
		c.add(item{from: p.From, to: p.To, kind: kUnit, ref: int32(k), score: p.Score})
		if p.To == i+1 && p.Role != unit.RoleNumber {
			var sense float32
			switch p.Role {
			case unit.RoleArm, unit.RoleBody, unit.RoleKind:
				sense = c.w.ArmSense
			case unit.RoleState:
				sense = c.w.StateSense
				if len(t.Key(i)) <= 2 {
					sense = c.w.StateLetterSense
				}
			case unit.RoleMark:
				sense = c.w.MarkSense
			}
			if p.Score > -1 && !c.misread[i] {
				c.sense[i] = max(c.sense[i], sense)
			}
		}
	}
}

// mostGuessed is how many lost letters of a state count: that the end of a long name is lost says no more against it than that three of its letters are.
const mostGuessed = 3

// homeItem adds a state that stands alone on its line: the residence that General stones give.
func (c *chart) homeItem(i int, h *hit) {
	t := c.text
	if t.Words[h.to-1].Line != t.Words[i].Line {
		return
	}
	e := h.entry
	it := item{from: i, to: h.to, kind: kHome, entry: e, score: c.w.Home + unit.Guess*float32(min(h.guessed, mostGuessed))}
	if !t.Words[i].Has(words.FirstInLine) || !t.Words[h.to-1].Has(words.LastInLine) {
		// Typed without its lines: "ARVID TVEIT WISCONSIN WAGONER 107 AMM TN". Only the whole name of a state, before a rank.
		if e.traits&tFull == 0 || !c.rankAt(h.to) {
			return
		}
		it.score += c.w.HomeInLine
	}
	if e.traits&tFull != 0 {
		it.score += c.w.HomeFull
	}
	if e.traits&tWeak != 0 {
		it.score += c.w.HomeWord
	}
	if e.traits&tInitials != 0 {
		it.score += c.w.HomeLetters
	}
	if i == 0 {
		it.score += c.w.HomeFirst
	}
	c.add(it)
	if h.to == i+1 && e.traits&tFull != 0 {
		c.sense[i] = max(c.sense[i], c.w.StateSense)
	}
}

// rankAt reports whether a rank that is no trade, or one of a unit, stands at word i.
func (c *chart) rankAt(i int) bool {
	t := c.text
	if i >= len(t.Words) || t.Words[i].Has(words.FirstInLine) {
		return false
	}
	for _, h := range c.hits[c.spots[i].from:c.spots[i].to] {
		if h.entry.kind == kRank && h.entry.traits&tInitials == 0 && (h.entry.traits&tCivil == 0 || h.to < len(t.Words) && t.Words[h.to].Has(words.Digits)) {
			return true
		}
	}
	return false
}
