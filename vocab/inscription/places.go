package inscription

import (
	"strconv"

	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// maxPlace is how many words a place may have, its state and county among them.
const maxPlace = 7

// causeItem adds what a man died of, which tells nothing here: "OF TYPHOID FEVER", "MEASLES".
func (c *chart) causeItem(i int) {
	if to := c.spots[i].cause; to > 0 && i > 0 {
		c.add(item{from: i, to: to, kind: kLink, entry: &theCause, score: c.w.Cause + c.w.CauseWord*float32(to-i)})
	}
}

var theCause = entry{kind: kLink, code: "cause", source: "common-practice", traits: tWeak}

// placeItems adds the places that may start at word i, which is no number and where one may begin: "IN ADAMS CO., IND.", "AT SHILOH", "CO. KERRY, IRELAND", "COLUMBUS, OHIO".
func (c *chart) placeItems(i int) {
	t := c.text
	start := i
	head := &c.spots[i]
	within, native, fought := head.preposition > 0, head.native, head.battle
	if within {
		start = head.preposition
	}
	if start >= len(t.Words) {
		return
	}
	lines := 0
	score := float32(0)
	evidence := false
	for n := 1; n <= maxPlace && start+n <= len(t.Words); n++ {
		k := start + n - 1
		w := &t.Words[k]
		if n > 1 && t.Words[k-1].Has(words.LastInLine) {
			lines++
			score += c.w.PlaceBreaks
			if lines > 1 {
				break
			}
		}
		if w.Has(words.Digits) || w.Has(words.Note) || w.Has(words.Lost) && leftOf(t.Key(k)) < 2 || c.spots[k].cause > 0 || c.shipAt(k) || c.misread[k] && c.units[k] != (unit.Word{}) {
			break // "DROWNED FROM THE / U.S.S. MONITOR"
		}
		key := t.Key(k)
		if c.infos[k].never && !c.spots[k].county && key != "THE" && key != "OF" && key != "PEACE" {
			break
		}
		if n == 1 && (c.infos[k].starts&(sDayArticle|sCirca) != 0 || c.spots[k].month > 0 && k+1 < len(t.Words) && t.Words[k+1].Has(words.Digits)) {
			break // "DIED FEB. 30, 1880": no day of the calendar, and no place
		}
		at := &c.spots[k]
		end := k + 1
		isState := at.fullState > 0 || n > 1 && at.state > 0
		if isState {
			end = max(end, at.fullState)
			if n > 1 {
				end = max(end, at.state)
			}
		}
		isCountry, isCounty := at.country > 0, at.county
		end = max(end, at.country, at.fought)
		fought = fought || at.battle
		it := item{from: i, to: end, kind: kPlace, score: score + c.w.PlaceWord*float32(n)}
		switch {
		case isState && n > 1 && key == "CO":
			isState = false
		case isState && n > 1:
			it.score += c.w.PlaceWithState
		case isState:
			it.score += c.w.PlaceState
		case isCountry:
			it.score += c.w.PlaceCountry
		}
		if isCounty && n > 1 {
			it.score += c.w.PlaceCounty
			if key == "CO" && (k+1 >= len(t.Words) || t.Len(k+1) != 1) {
				score += c.w.CountyGoesOn // "ADAMS CO., IND."
			} else if key != "CO" {
				score += c.w.TownshipGoesOn
			}
		}
		if isCounty && n == 1 && key == "CO" {
			if k+1 >= len(t.Words) || t.Len(k+1) < 4 {
				break
			}
			score += c.w.CountyFirst // "CO. KERRY"
			continue
		}
		if fought {
			it.score += c.w.PlaceOfBattle
		}
		if within {
			it.score += c.w.PlacePreposition
		}
		if native {
			it.score += c.w.PlaceNativeOf
		}
		last := &t.Words[it.to-1]
		if last.Has(words.LastInLine) || it.to < len(t.Words) && (t.Words[it.to].Has(words.Digits) || c.spots[it.to].month > 0) {
			it.score += c.w.PlaceEnds
		} else if !last.Has(words.CommaAfter) {
			it.score += c.w.PlaceInLine
		}
		evidence = evidence || isState || isCountry || fought || within
		bare := n == 1 && isState && !within && !c.labelled(i) && (c.context.government() || !t.Words[i].Has(words.FirstInLine) || !t.Words[it.to-1].Has(words.LastInLine))
		if c.infos[k].function && end == k+1 {
			continue // "OF THE"
		}
		if (evidence || c.labelled(i)) && t.Len(start) > 1 && !bare {
			c.add(it)
		}
		if isState || isCountry {
			if end == k+1 && n < 3 && !w.Has(words.LastInLine) {
				continue
			}
			break
		}
		if c.sense[k] > 1 && at.fought <= k+1 { // but "MISSIONARY RIDGE"
			break
		}
	}
}

// shipAt reports whether a ship is named at word i.
func (c *chart) shipAt(i int) bool {
	for k := c.first[i]; k >= 0; k = c.items[k].next {
		if it := &c.items[k]; it.kind == kUnit && c.unitParts[it.ref].Role == unit.RoleShip {
			return true
		}
	}
	return false
}

// placeWord says what a word does in a place.
type placeWord uint8

const (
	noPlace placeWord = iota
	country
	county
	battle
	prison // of the war: told as a place of battle
	preposition
	nativeOf // a preposition too
	cause    // of death
)

// placeKinds are the kinds of stone-words.csv that make places, each with a code or without.
var placeKinds = map[[2]string]placeWord{
	{"country", ""}: country, {"county", ""}: county, {"battle", ""}: battle, {"battle", "civil-war-prison"}: prison, {"preposition", ""}: preposition,
	{"preposition", "native"}: nativeOf, {"cause", ""}: cause,
}

// spot is what the tables say of word i beside its items: where the forms that start there end, 0 for none.
type spot struct {
	from, to         int // in hits
	state, fullState int // fullState is one that is more than initials
	country          int
	preposition      int
	cause            int  // of death: "OF TYPHOID FEVER"
	native           bool // the preposition is "A NATIVE OF"
	county, battle   bool
	prison           bool // the place of a battle is a prison
	fought           int  // the word after the place of a battle
	month            int
	spans            [6]int // by spanOrder: the word after YRS, MS, WKS, DS
}

// find gathers the forms found at word i; sure tells that places may be among them.
func (s *spot) find(hits []hit, i int, sure bool) {
	for k := range hits {
		h := &hits[k]
		if !sure && (h.entry.kind == kHome || h.entry.kind == kPlace && h.entry.place != preposition) {
			continue
		}
		switch h.entry.kind {
		case kHome:
			if h.entry.traits&tWeak == 0 {
				s.state = max(s.state, h.to)
				if h.entry.traits&tInitials == 0 {
					s.fullState = max(s.fullState, h.to)
				}
			}
		case kMonth:
			if h.to == i+1 {
				s.month, _ = strconv.Atoi(h.entry.code)
			}
		case kSpan:
			o := spanOrder(h.entry.code)
			s.spans[o] = max(s.spans[o], h.to)
		case kPlace:
			switch h.entry.place {
			case country:
				s.country = max(s.country, h.to)
			case cause:
				s.cause = max(s.cause, h.to)
			case county:
				s.county = true
			case battle:
				s.battle, s.fought = true, max(s.fought, h.to)
			case prison:
				s.battle, s.prison = true, true
			case preposition, nativeOf:
				if h.to > s.preposition {
					s.preposition, s.native = h.to, h.entry.place == nativeOf
				}
			}
		}
	}
}

// labelled reports whether the word before is BORN, DIED or the like, after which a bare word may be a place.
func (c *chart) labelled(i int) bool {
	return i > 0 && c.afterLabel[i]
}
