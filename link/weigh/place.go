package weigh

import (
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// placeView is the burial ground of a stone and how the rosters' words about places agree with it.
type placeView struct {
	w       *Weigher
	place   model.Place
	ground  string // the ground's distinctive words, lower case
	county  string
	hasUnit bool
}

func (w *Weigher) placeView(p model.Place, claim model.Claim) placeView {
	return placeView{w: w, place: p, ground: groundWords(p.Cemetery), county: countyWords(p.County), hasUnit: claim.Service.Unit.Designation() != ""}
}

// genericGround are the words of a burial ground's name that tell none from another: common practice, no source.
var genericGround = map[string]bool{"cemetery": true, "cem": true, "cemetary": true, "churchyard": true, "burying": true, "burial": true, "ground": true, "grounds": true,
	"graveyard": true, "the": true, "memorial": true, "park": true, "old": true, "at": true, "in": true, "of": true, "near": true, "buried": true, "interred": true}

// groundWords are the distinctive words of a burial ground's name, blanks between and around: " mill " for "Old Mill Cemetery".
func groundWords(s string) string {
	var out []string
	for _, w := range words(s) {
		if !genericGround[w] {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " " + strings.Join(out, " ") + " "
}

// words are the words of a text in lower case, letters and digits only.
func words(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r > 127)
	})
}

func countyWords(s string) string {
	var out []string
	for _, w := range words(s) {
		if w != "county" && w != "co" {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " " + strings.Join(out, " ") + " "
}

// burialText is what a record says of the man's burial: its own column, or the remark from the word that speaks of it.
func burialText(r *model.Record) string {
	if r.Person.Buried != "" {
		return strings.ToLower(r.Person.Buried)
	}
	remarks := strings.ToLower(r.Service.Remarks)
	for _, w := range []string{"buried", "interred", "interment", "bur. "} {
		if i := strings.Index(remarks, w); i >= 0 {
			end := len(remarks)
			if j := strings.IndexAny(remarks[i:], ";"); j >= 0 {
				end = i + j
			}
			return remarks[i:end]
		}
	}
	return ""
}

// shareWith is the chance that a counted text holds the words, worked out once a value.
func shareWith(field, level string, t *tally, cache *sync.Map, holds string) float64 {
	if u, ok := cache.Load(holds); ok {
		return u.(float64)
	}
	n, all := 0, 0
	for _, text := range t.values {
		all += t.n[text]
		if strings.Contains(" "+strings.Join(words(text), " ")+" ", holds) {
			n += t.n[text]
		}
	}
	u := chance(field, level, 0, float64(n), float64(all))
	cache.Store(holds, u)
	return u
}

func (v *placeView) against(s *sum, r *model.Record, kin bool) {
	if text := burialText(r); text != "" && v.ground != "" {
		hit := shareWith("burial", "this ground", &v.w.counts.buried, &v.w.buried, v.ground)
		level, u := "another ground", 1-hit
		if strings.Contains(" "+strings.Join(words(text), " ")+" ", v.ground) {
			level, u = "this ground", hit
		}
		s.weight("burial", level, start("burial", level).m, u, v.place.Cemetery, text, "")
	}
	if home := r.Person.Residence; home != "" && v.county != "" && strings.Contains(strings.ToLower(home), "co") {
		hit := shareWith("home", "same county", &v.w.counts.homes, &v.w.homes, v.county)
		level, u := "elsewhere", 1-hit
		if strings.Contains(" "+strings.Join(words(home), " ")+" ", v.county) {
			level, u = "same county", hit
		}
		if kin {
			u = kinHome(start("home", level).m, u)
		}
		s.weight("home", level, start("home", level).m, u, v.place.County, home, "")
	} else if !v.hasUnit && v.place.State != "" && r.Service.Unit.State != "" {
		here, unit := v.place.State, r.Service.Unit.State
		share := func(s model.State) float64 {
			return chance("home", "same state", 0, float64(v.w.counts.states.n[string(s)]), float64(v.w.counts.N))
		}
		level := "same state"
		if unit != here {
			level = "other state"
		}
		m := v.w.moves.chance(here, unit, start("home", "same state").m, share(here), share(unit))
		s.weight("home", level, m, share(unit), vocab.StateName(v.place.State), vocab.StateName(r.Service.Unit.State), "")
	}
}
