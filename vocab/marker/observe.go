package marker

import (
	"math"
	"slices"
	"strings"

	"musterstone/model"
)

// observation is one thing seen, measured or read, and the logs of how likely it is. The vectors that are set add up.
type observation struct {
	key    string  // "top", "width", "war", …
	value  string  // of a look: the value recorded
	said   string  // as told to people: "a rounded top"; of a measurement see told
	inches float64 // of a measurement

	pattern []float64 // a pattern each
	size    []float64 // a size each
	class   []float64 // a class each
	joint   []float64 // pattern by class
}

// told is the observation as told to people.
func (x *observation) told() string {
	if x.size != nil {
		return "a " + x.key + " of " + inchText(x.inches)
	}
	return x.said
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
	room   *room
}

func (t *tables) observe(s *model.Stone, r model.Reading, room *room) *seen {
	o := &seen{ground: groundOf(s.Place), words: t.readWords(s, r), hides: hidden(s.Marker.Condition), obs: room.obs[:0], room: room}
	o.churchyard = s.Place.Cemetery != "" && o.ground == county
	m := s.Marker
	t.looked(o, top, m.Top)
	t.looked(o, material, m.Material)
	t.looked(o, lettering, m.Lettering)
	t.looked(o, device, m.Device)
	t.looked(o, setting, m.Setting)
	t.lookedEmblem(o, m.Emblem)
	for i, x := range [measures]model.Inches{m.Width, m.Thickness, m.Height, m.Length} {
		if x > 0 && !math.IsInf(float64(x), 0) && !slices.Contains(o.hides, measureKeys[i]) {
			o.sizes[i] = float64(x)
			o.bits += t.measureBits[i]
		}
	}
	t.motifs(o, m.Motifs)
	t.lookedWords(o)
	return o
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
	o.obs = append(o.obs, observation{key: lookNames[feature], value: l.values[v], said: l.said[v], pattern: l.log[v]})
}

func (t *tables) lookedEmblem(o *seen, value string) {
	if value == "" || slices.Contains(o.hides, "emblem") {
		return
	}
	l, v := &t.looks[emblem], 1
	if strings.EqualFold(value, "none") || strings.EqualFold(value, "no") {
		v = 0
	} else {
		o.emblem, _ = FindEmblem(value)
	}
	o.bits += l.bits
	o.obs = append(o.obs, observation{key: lookNames[emblem], value: l.values[v], said: l.said[v], pattern: l.log[v]})
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
				v[p] = math.Log(t.CarvedGovernment)
			}
			v[t.private] = math.Log(t.CarvedPrivate)
			o.bits += t.CarvedBits
			o.obs = append(o.obs, observation{key: "motif", said: s.Text, pattern: v})
		}
		v := t.speaksFor(s)
		if v == nil {
			continue
		}
		o.obs = append(o.obs, observation{key: "sign", said: s.Text, class: v})
	}
}
