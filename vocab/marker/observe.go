package marker

import (
	"math"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
)

// observation is one thing seen, measured or read, and the logs of how likely it is. The vectors that are set add up.
type observation struct {
	key  string // "top", "width", "war", …
	said string // as told to people: "a rounded top"

	pattern []float64 // a pattern each
	size    []float64 // a size each
	class   []float64 // a class each
	joint   []float64 // pattern by class
}

// condition is a row of marker-conditions.csv.
type condition struct {
	words, hides []string
}

func compileConditions() []condition {
	var out []condition
	for _, r := range vocab.Rows("marker-conditions") {
		out = append(out, condition{r.List("words"), r.List("hides")})
	}
	return out
}

// hidden gives what the state of the stone hides.
func (t *tables) hidden(state string) []string {
	if state == "" {
		return nil
	}
	state = strings.ToLower(state)
	var out []string
	for _, c := range t.conditions {
		for _, w := range c.words {
			if strings.Contains(state, w) {
				out = append(out, c.hides...)
				break
			}
		}
	}
	return out
}

// seen is a stone as observed.
type seen struct {
	ground int
	// churchyard is set where the cemetery is named, and nothing in its name says that it was the government's or the Confederacy's.
	churchyard bool
	words      words
	obs        []observation
	hides      []string
	// sizes are the measurements in inches, 0 where not measured or not to be trusted; grid is the rounding where it is known.
	sizes [measures]float64
	grid  float64
	// bits is how much the kinds of things looked at can tell on average.
	bits   float64
	emblem Emblem
	carved []Sign
}

func (t *tables) observe(s *model.Stone, r model.Reading) *seen {
	o := &seen{ground: groundOf(s.Place), words: t.readWords(s, r), hides: t.hidden(s.Marker.Condition)}
	o.churchyard = s.Place.Cemetery != "" && o.ground == county
	o.obs = make([]observation, 0, 24)
	m := s.Marker
	t.looked(o, top, m.Top)
	t.looked(o, material, m.Material)
	t.looked(o, lettering, m.Lettering)
	t.looked(o, device, m.Device)
	t.looked(o, setting, m.Setting)
	t.lookedEmblem(o, m.Emblem)
	for i, x := range [measures]model.Inches{m.Width, m.Thickness, m.Height, m.Length} {
		if x > 0 && !math.IsInf(float64(x), 0) && !slices.Contains(o.hides, [measures]string{"width", "thickness", "height", "length"}[i]) {
			o.sizes[i] = float64(x)
			o.bits += t.measureBits[i]
		}
	}
	t.motifs(o, m.Motifs)
	t.lookedWords(o)
	return o
}

func groundOf(p model.Place) int {
	if p.Cemetery == "" {
		return county
	}
	name := strings.ToLower(p.Cemetery)
	switch {
	case strings.Contains(name, "national cem"), strings.Contains(name, "soldiers' home"), strings.Contains(name, "soldiers home"),
		strings.Contains(name, "soldiers' lot"), strings.Contains(name, "soldiers lot"), strings.Contains(name, "post cem"),
		strings.Contains(name, "veterans cem"), strings.Contains(name, "veterans' cem"):
		return national
	case strings.Contains(name, "confederate"):
		return confederate
	case strings.Contains(name, "american cemetery") && p.State == "" && p.County == "":
		return overseas
	}
	return county
}

func (t *tables) looked(o *seen, feature int, value string) {
	if value == "" || slices.Contains(o.hides, lookNames[feature]) {
		return
	}
	if feature == device && value == "none" && slices.Contains(o.hides, "device-none") {
		return
	}
	l := &t.looks[feature]
	v, ok := l.index[value]
	if !ok {
		if v, ok = l.index[strings.ToLower(value)]; !ok {
			return
		}
	}
	o.bits += l.bits
	o.obs = append(o.obs, observation{key: lookNames[feature], said: said(feature, l.values[v]), pattern: l.log[v]})
}

// said words a look for people.
func said(feature int, value string) string {
	switch feature {
	case top:
		switch value {
		case "other":
			return "a top of no usual shape"
		case "oval":
			return "an oval top"
		}
		return "a " + value + " top"
	case material:
		if value == "other" {
			return "an unusual material"
		}
		return value
	case lettering:
		return value + " letters"
	case device:
		switch value {
		case "none":
			return "no device"
		case "outline shield":
			return "an outline shield"
		case "other":
			return "a device that no government marker has"
		case "medal of honor":
			return "the Medal of Honor insignia"
		case "confederate cross":
			return "the Southern Cross"
		}
		return "a " + value
	case setting:
		switch value {
		case "niche":
			return "a place on a niche or wall"
		case "post":
			return "a post"
		case "block":
			return "a block"
		}
		return "being set " + value
	}
	return value
}

func (t *tables) lookedEmblem(o *seen, value string) {
	if value == "" || slices.Contains(o.hides, "emblem") {
		return
	}
	v, text := 1, "an emblem of belief"
	if strings.EqualFold(value, "none") || strings.EqualFold(value, "no") {
		v, text = 0, "no emblem of belief"
	} else {
		o.emblem, _ = FindEmblem(value)
	}
	o.bits += t.looks[emblem].bits
	o.obs = append(o.obs, observation{key: "emblem", said: text, pattern: t.looks[emblem].log[v]})
}

// motifs weighs what is carved or stands beside: a military, fraternal or mourning sign cut into the stone is not on a government marker; a
// holder beside it speaks of the man only.
func (t *tables) motifs(o *seen, motifs []string) {
	for _, m := range motifs {
		s, ok := FindSign(m)
		if !ok {
			continue
		}
		if s.Place == "carved" {
			o.carved = append(o.carved, s)
			v := make([]float64, len(t.patterns))
			for p := range v {
				v[p] = math.Log(.006)
			}
			v[t.private] = math.Log(.15)
			o.bits += .5
			o.obs = append(o.obs, observation{key: "motif", said: s.Text, pattern: v})
		}
		v := t.speaksFor(s)
		if v == nil {
			continue
		}
		o.obs = append(o.obs, observation{key: "sign", said: s.Text, class: v})
	}
}
