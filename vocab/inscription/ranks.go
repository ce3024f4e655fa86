package inscription

import (
	"slices"
	"strings"
	"sync"

	"musterstone/vocab"
	"musterstone/vocab/words"
)

// loadRanks loads the forms of ranks, and others that follow from them: contractions, ordinals in figures, words spelt in another way.
func (l *lexicon) loadRanks() {
	civil := map[string]bool{} // titles, trades or words of civilians too: captain, surgeon, cook, company clerk
	inWar := map[string]bool{} // and of those, what beside years of a war is service
	for _, r := range vocab.Rows("ranks") {
		civil[r.Get("rank")] = r.Get("civil") != ""
		inWar[r.Get("rank")] = r.Get("civil") == "but in war"
	}
	trades := map[string]bool{} // forms that are a civilian's occupation, whatever their rank: trooper
	for _, r := range vocab.Rows("stone-words") {
		if r.Get("code") == "occupation" {
			trades[words.Letters(r.Get("form"))] = true
		}
	}
	meanings := map[string]int{}
	known := map[string]bool{}
	for _, f := range vocab.AllRankForms() {
		known[words.Letters(f.Form)] = true
	}
	for _, f := range vocab.AllRankForms() {
		row, _ := vocab.RankOf(f.Rank)
		e := entry{kind: kRank, code: string(f.Rank), source: f.Source}
		t := words.Split(f.Form)
		single := true
		for i := range t.Words {
			single = single && t.Len(i) == 1
		}
		letterCount := len(words.Letters(f.Form))
		if single && letterCount <= 4 {
			e.traits |= tInitials
			e.score += l.RankInitials
			if strings.ContainsAny(f.Form, "0123456789") {
				e.score += l.RankFigure // "S2"
			}
		}
		if letterCount <= 2 && !single {
			e.score += l.RankTwoLetters
		}
		if len(t.Words) == 1 && (letterCount == 1 || letterCount == 2 && strings.Contains(f.Form, "'")) {
			continue
		}
		if len(t.Words) == 1 && l.isName(f.Form) {
			e.traits |= tNameLike
			e.score += l.RankName
		}
		if strings.EqualFold(words.Letters(f.Form), words.Letters(string(f.Rank))) {
			e.traits |= tFull
		}
		if row.Class == "enlisted" && inWar[string(f.Rank)] && e.traits&(tFull|tInitials) == 0 && len(t.Words) == 1 && letterCount > 2 {
			e.traits |= tShortTrade
		}
		if trades[words.Letters(f.Form)] || civil[string(f.Rank)] && !strings.Contains(strings.ToUpper(f.Form), "ARMY") { // an army nurse is no trained nurse
			e.traits |= tCivil
		}
		if inWar[string(f.Rank)] {
			e.traits |= tInWar
		}
		if row.Officer() {
			e.traits |= tOfficer
		}
		if f.From >= 1916 || row.From >= 1916 || f.From >= 1898 && f.To == 0 && e.traits&tInitials != 0 {
			e.traits |= tModern
		}
		switch row.Branch {
		case "navy", "coast-guard", "revenue-cutter":
			e.traits |= tNavy
		}
		if f.Note != "" && e.traits&tNameLike == 0 {
			e.score += l.RankNoted
		}
		if strings.Contains(f.Source, "memory-weak") { // what is weakly remembered weighs less
			e.score += l.RankWeak
		}
		e.score += l.RankFurther * float32(meanings[words.Letters(f.Form)]) // the table has the commonest first
		meanings[words.Letters(f.Form)]++
		e.words = int8(len(t.Words))
		l.add(f.Form, e)
		l.addRankForm(t, e)
		if e.traits&(tCivil|tFull|tNameLike|tInitials) == 0 && e.words == 1 && letterCount > 2 {
			l.mark(words.Letters(f.Form), func(n *nameInfo) { n.never = n.never || n.surname == 0 && n.given == 0 })
		}
		if e.traits&(tCivil|tInitials) == tCivil && (e.traits&tOfficer == 0 || row.Branch == "navy") && letterCount > 3 {
			l.add(f.Form, entry{kind: kSaying, code: "occupation", source: f.Source, score: l.Occupation, words: e.words})
		}
		if e.words == 1 && e.traits&(tFull|tNameLike) == tFull && row.Class != "civilian" && (row.Branch == "army" || row.Branch == "") {
			for _, form := range contracted(words.Letters(f.Form)) {
				if !known[form] && !l.isName(form) {
					known[form] = true
					l.add(form, e)
				}
			}
		}
		if form := figures.Replace(f.Form); form != f.Form {
			l.add(form, e)
		}
		if e.words > 1 {
			for _, form := range respelt(f.Form) {
				if k := words.Letters(form); !known[k] {
					known[k] = true
					l.add(form, e)
				}
			}
		}
	}
}

// contracted gives the contractions of a rank, its head and its last letters: "ARTIF'R", "CORP'L". Common practice, no source.
func contracted(word string) []string {
	var out []string
	if n := len(word); n > 6 {
		for head := 3; head <= 6 && head < n-2; head++ {
			out = append(out, word[:head]+word[n-1:])
			if head > 3 && head < n-3 {
				out = append(out, word[:head]+word[n-2:])
			}
		}
	}
	return out
}

// spellings are words of ranks that stand for each other: the table rank-spellings.csv.
var spellings = sync.OnceValue(func() [][]string {
	var all [][]string
	for _, r := range vocab.Rows("rank-spellings") {
		all = append(all, r.List("spellings"))
	}
	return all
})

// respelt gives a form of several words with one word spelt in another way.
func respelt(form string) []string {
	var out []string
	parts := strings.Fields(strings.ToUpper(form))
	for i, w := range parts {
		for _, group := range spellings() {
			if !slices.Contains(group, strings.TrimRight(w, ".")) {
				continue
			}
			for _, other := range group {
				if other != w {
					out = append(out, strings.Join(slices.Concat(parts[:i], []string{other}, parts[i+1:]), " "))
				}
			}
		}
	}
	return out
}

// figures writes the ordinals of a form as stones do, "1st Sergeant" for "First Sergeant".
var figures = strings.NewReplacer("First ", "1st ", "Second ", "2d ", "Third ", "3d ", " First", " 1st", " Second", " 2d", " Third", " 3d")
