package marker

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"musterstone/model"
	"musterstone/vocab"
)

// lookedWords turns the words into observations.
func (t *tables) lookedWords(o *seen) {
	w := &o.words
	if !w.read {
		return
	}
	o.bits += t.wordBits
	t.lookedNaming(o)
	if w.naming == namesSomeone || w.service >= 0 {
		t.lookedService(o)
	}
	if w.naming == namesSomeone {
		t.lookedDates(o)
		t.lookedPlain(o, "home", home, w.home, "a state that heads the lines")
		t.lookedPlain(o, "epitaph", epitaph, w.epitaph, "a relation, an age or an epitaph")
		t.lookedPlain(o, "several", several, w.people > 1, "several people on one stone")
	}
	t.lookedPlain(o, "memory", inMemory, w.memory, "the words IN MEMORY OF")
	t.lookedPlain(o, "honor", honor, w.honor, "the words MEDAL OF HONOR")
	if w.grave && w.naming != namesNumber {
		t.lookedPlain(o, "grave", grave, true, "a grave number")
	}
	t.lookedSocieties(o)
	t.lookedDeath(o)
	t.lookedBirth(o)
	t.lookedClues(o)
	t.lookedConflicts(o)
}

func (t *tables) lookedNaming(o *seen) {
	w := &o.words
	if w.naming == namesSomeone && w.people == 0 {
		return // words that name nobody, and do not say so: a medallion, or a reading that failed
	}
	text := [3]string{namesSomeone: "a name", namesUnknown: "saying that the dead is unknown", namesNumber: "a grave number and no name"}
	o.obs = append(o.obs, observation{key: "naming", said: text[w.naming], pattern: t.names[w.naming]})
}

// lookedPlain weighs something that the words have or have not. What lost words have not tells nothing.
func (t *tables) lookedPlain(o *seen, key string, share int, has bool, text string) {
	switch {
	case has:
		o.obs = append(o.obs, observation{key: key, said: text, pattern: t.has[share]})
	case !o.words.partial:
		o.obs = append(o.obs, observation{key: key, said: "the lack of " + text, pattern: t.lacks[share]})
	}
}

// lookedSocieties weighs the initials of a veterans' society cut into the stone: the government cut none (S24), and they speak of the man.
func (t *tables) lookedSocieties(o *seen) {
	for _, name := range o.words.societies {
		v := make([]float64, len(t.patterns))
		for p := range v {
			v[p] = math.Log(t.SocietyGovernment)
		}
		v[t.private] = math.Log(t.SocietyPrivate)
		x := observation{key: "society", said: "the initials of a society (" + name + ")", pattern: v}
		if s, ok := FindSign(name); ok {
			x.class = t.speaksFor(s)
		}
		o.obs = append(o.obs, x)
	}
}

// speaksFor is what a sign is worth for each class; nil for one that is not of service.
func (t *tables) speaksFor(s Sign) []float64 {
	if s.Bits == 0 || s.Service == "none" {
		return nil
	}
	v := make([]float64, len(t.classes))
	for c, k := range t.classes {
		if k.code == s.Service || s.Service == "any" && c != t.none {
			v[c] = s.Bits * math.Ln2
		}
	}
	return v
}

// lookedService weighs whether the words speak of service, in what form, and whether they name the war.
func (t *tables) lookedService(o *seen) {
	w := &o.words
	if w.service < 0 && w.partial {
		return
	}
	text := "words that give no unit and no rank"
	switch w.service {
	case unit:
		text = "a unit"
	case branch:
		text = "a rank or branch without a unit"
	case veteran:
		text = "the word VETERAN"
	}
	if w.service < 0 {
		silent := t.words[unserving][0]
		if w.unread {
			silent = t.words[unserving][1]
		}
		o.obs = append(o.obs, observation{key: "service", said: text, joint: silent})
		return
	}
	byClass := t.sides(w)
	if w.form >= 0 {
		for c := range byClass {
			byClass[c] += t.classes[c].form[w.form]
		}
	}
	war := warOpen
	if w.named {
		war = warNamed
		text += ", its war named"
	} else if !w.partial {
		war = warLeft
		if w.service == unit {
			text += ", no war named"
		}
	}
	o.obs = append(o.obs, observation{key: "service", said: text, class: byClass, joint: t.words[w.service][war]})
}

// sides weighs the two sides of the civil war by the unit's state: Southern states had regiments on both.
func (t *tables) sides(w *words) []float64 {
	v := make([]float64, len(t.classes))
	u := w.claim.Service.Unit
	if w.form != formState {
		return v
	}
	south, ok := t.side[u.State]
	if !ok {
		south = t.SouthernElsewhere
	}
	for c, k := range t.classes {
		switch k.side {
		case model.Confederate:
			v[c] = math.Log(south / t.SouthernOverall)
		case model.Union:
			v[c] = math.Log((1 - south) / (1 - t.SouthernOverall))
		}
	}
	return v
}

func (t *tables) lookedDates(o *seen) {
	w := &o.words
	if w.dates != bothDates && w.partial {
		return
	}
	text := [3]string{"no dates", "a date of death alone", "dates of birth and death"}
	o.obs = append(o.obs, observation{key: "dates", said: text[w.dates], pattern: t.dates[w.dates]})
}

// lookedDeath weighs the year of death: within reach of the service, and not after the pattern's last year. A stone follows a
// death by any number of years, but seldom by many.
func (t *tables) lookedDeath(o *seen) {
	d := o.words.died.year()
	if d == 0 {
		return
	}
	byPattern, byClass := o.room.numbers(len(t.patterns)), o.room.numbers(len(t.classes))
	for p := range byPattern {
		if f := t.follows(p, d); f != 1 {
			byPattern[p] = math.Log(f)
		}
	}
	for c := range byClass {
		byClass[c] = logDied(&t.classes[c], d)
	}
	o.obs = append(o.obs, observation{key: "death", said: "a death in " + strconv.Itoa(d), pattern: byPattern, class: byClass})
}

// follows is how readily the pattern stands on the grave of one who died in year d, against a year within its issue.
func (t *tables) follows(p, d int) float64 {
	switch {
	case t.to[p] != 0 && d > t.to[p]+1:
		return t.DeathAfterIssue
	case t.deaths[p] != 0 && d < t.deaths[p]:
		return t.EarlyDeath + t.EarlyDeathNear*math.Exp(-float64(t.deaths[p]-d)/t.EarlyDeathYears)
	}
	return 1
}

// logDied is the log of the share of a class's men who died in year d.
func logDied(k *class, d int) float64 {
	if k.from != 0 && (d < k.from || d > k.diedTo) {
		return logNever
	}
	return k.logDied
}

func (t *tables) lookedBirth(o *seen) {
	b := o.words.born
	if !b.known() {
		return
	}
	y := b.year()
	v := o.room.numbers(len(t.classes))
	for c := range v {
		k := &t.classes[c]
		v[c] = k.logBorn
		if k.from != 0 && (y < k.bornFrom || y > k.born) {
			v[c] = logNever
		}
	}
	o.obs = append(o.obs, observation{key: "birth", said: "a birth in " + strconv.Itoa(y), class: v})
}

// lookedClues weighs wordings that bound the year of the stone or of the service.
func (t *tables) lookedClues(o *seen) {
	for _, i := range o.words.clues {
		k := &t.clues.list[i]
		if k.bounds == "medallion" {
			continue
		}
		if len(k.services) > 0 {
			v := make([]float64, len(t.classes))
			for c := range t.classes {
				switch code := t.classes[c].code; {
				case !slices.Contains(k.services, code):
					v[c] = math.Log(t.WordingOtherService)
				case slices.Contains(k.seldom, code):
					v[c] = math.Log(t.WordingSeldom)
				}
			}
			o.obs = append(o.obs, observation{key: "clue", said: "its wording (" + k.written + ")", class: v})
		}
		if k.bounds != "stone" {
			continue
		}
		v, tells := make([]float64, len(t.patterns)), false
		for p := range v {
			if t.to[p] != 0 && k.from > t.to[p] {
				v[p], tells = math.Log(t.WordingAfterIssue), true
			}
			if k.to != 0 && t.from[p] > k.to {
				v[p], tells = math.Log(t.WordingBeforeIssue), true
			}
		}
		if tells {
			o.obs = append(o.obs, observation{key: "clue-year", said: "the age of its wording (" + k.written + ")", pattern: v})
		}
	}
}

// lookedConflicts weighs the conflicts and the side that the reading found.
func (t *tables) lookedConflicts(o *seen) {
	s := o.words.claim.Service
	if len(s.Conflicts) > 0 {
		v := make([]float64, len(t.classes))
		for c := range t.classes {
			if !t.classes[c].fights(s.Conflicts) {
				v[c] = math.Log(t.OtherConflict)
			}
		}
		o.obs = append(o.obs, observation{key: "conflict", said: "the war that its words speak of", class: v})
	}
	if side := sideOf(&s); side != "" {
		v := make([]float64, len(t.classes))
		for c, k := range t.classes {
			if k.side != side {
				v[c] = math.Log(t.OtherSide)
				if k.side == "" {
					v[c] = math.Log(t.NoSide)
				}
			}
		}
		o.obs = append(o.obs, observation{key: "side", said: "the side that its words speak of", class: v})
	}
}

// sideOf is the side of the civil war on which a service was: what is said of it, or that of its body of troops.
func sideOf(s *model.Service) model.Side { return cmp.Or(s.Side, vocab.BodySide(s.Unit.Body)) }

// ofSide reports whether a class may be a service on a side; "" is any.
func (k *class) ofSide(side model.Side) bool { return k.side == "" || side == "" || k.side == side }

// fights reports whether the class is a service in one of the conflicts, or takes one of them in: the wording for the war with Spain is that of the Philippines too.
func (k *class) fights(list []model.ConflictCode) bool {
	return slices.ContainsFunc(list, func(c model.ConflictCode) bool { return c != "" && c == k.conflict || slices.Contains(k.also, c) })
}
