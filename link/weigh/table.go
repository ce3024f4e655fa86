// Package weigh sets a stone beside a service record, field by field, and says in bits what each agreement or difference is
// worth (Fellegi and Sunter 1969).
//
// A field is compared at one of a few levels. The weight of a level is log2(m/u): m is how often it looks so when stone
// and record speak of one man, u how often when they speak of two. The m of every level, and the u of the few that cannot be
// counted, start from the table "weights" of package vocab. All other u are counted on the rosters themselves and depend on the
// value: that a stone and a record both say Smith is worth less than that both say Quackenbush.
//
// Fields that hang together are compared as one: the parts of a unit form one ladder of levels, so that nothing
// is counted twice. The bits of the evidence always add up to the weight.
package weigh

import (
	"fmt"
	"math"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// A level's starting probabilities; u is NaN where it is counted on the roster. Levels of one group exclude each other, and their m can be
// learned from the pairs compared; a level that is like another learns with it.
type level struct {
	field, name string
	m, u        float64
	group, like string
}

// levels are the rows of the table, from number 1 on, and their numbers.
type levels struct {
	rows   []level
	number map[[2]string]uint8
}

var table = sync.OnceValue(func() *levels {
	t := &levels{rows: make([]level, 1), number: map[[2]string]uint8{}}
	for _, r := range vocab.Rows("weights") {
		l := level{field: r.Get("field"), name: r.Get("level"), m: r.Float("m"), u: math.NaN(), group: r.Get("learn"), like: r.Get("like")}
		if r.Get("u") != "" {
			l.u = r.Float("u")
		}
		t.number[[2]string{l.field, l.name}] = uint8(len(t.rows))
		t.rows = append(t.rows, l)
	}
	for _, l := range unlearned {
		t.number[l] = uint8(len(t.rows))
		t.rows = append(t.rows, level{field: l[0], name: l[1], m: 1, u: math.NaN()})
	}
	if len(t.rows) > 255 {
		panic("table weights has more levels than a byte can number")
	}
	return t
})

// levelNumber is the number of a level. It panics where there is none: a fault of the program.
func levelNumber(field, name string) uint8 {
	n, ok := table().number[[2]string{field, name}]
	if !ok {
		panic(fmt.Sprintf("table weights has no level %q of %q", name, field))
	}
	return n
}

// start is the level's row in the table.
func start(field, name string) *level { return &table().rows[levelNumber(field, name)] }

// unlearned are the levels that the table does not have: what a marker's design is worth is reckoned by package marker, what others have decided by package link.
var unlearned = [...][2]string{{"design", "fits"}, {"design", "does not fit"}, {"decisions", "another stone's man"}}

// LevelAt gives the field and the name of the level of that number; ok is false where there is none.
func LevelAt(number uint8) (field, name string, ok bool) {
	t := table()
	if number == 0 || int(number) >= len(t.rows) {
		return "", "", false
	}
	return t.rows[number].field, t.rows[number].name, true
}

// LevelNumber is the number of a level of the table; 0 where it has none such.
func LevelNumber(field, name string) uint8 { return table().number[[2]string{field, name}] }

// Level names a level of a field whose m can be learned, and says with which m it starts.
type Level struct {
	Field string
	Group string // the field, or the part of it whose levels exclude each other: "given" for whole names, "initial" for initials
	Name  string
	Start float64
	Slip  bool // where stone and record speak of one man, one of them is wrong, or says something else of him
}

// Levels are the levels whose m can be learned, those of a group one after the other, in the order of the table.
func Levels() []Level {
	var out []Level
	for _, r := range vocab.Rows("weights") {
		if group := r.Get("learn"); group != "" && r.Get("like") == "" {
			out = append(out, Level{Field: r.Get("field"), Group: group, Name: r.Get("level"), Start: r.Float("m"), Slip: r.Get("slip") != ""})
		}
	}
	return out
}

// Learns gives the group and the name of the level of which the evidence is a case; ok is false where its m cannot be learned.
func Learns(e model.Evidence) (group, name string, ok bool) {
	n, ok := table().number[[2]string{e.Field, e.Level}]
	l := &table().rows[n]
	if !ok || l.group == "" {
		return "", "", false
	}
	if l.like != "" {
		return l.group, l.like, true
	}
	return l.group, e.Level, true
}

// prior is what is believed of a u before any roster is counted: a share, and how many men it is worth.
type prior struct {
	share, men float64
}

var priors = sync.OnceValue(func() map[[2]string]prior {
	t := map[[2]string]prior{}
	for _, r := range vocab.Rows("weight-priors") {
		t[[2]string{r.Get("field"), r.Get("level")}] = prior{share: r.Float("share"), men: r.Float("men")}
	}
	return t
})

// chance is the u-probability of a level of which k of n men of the rosters are, smoothed by the table weight-priors; where share is not 0, it stands for the
// table's. Half a man is taken off: the man who is being weighed is himself among those who were counted.
func chance(field, level string, share, k, n float64) float64 {
	p, ok := priors()[[2]string{field, level}]
	if !ok {
		panic(fmt.Sprintf("table weight-priors has no level %q of %q", level, field))
	}
	if share == 0 {
		share = p.share
	}
	return (max(k-0.5, 0) + p.men*share) / (n + p.men)
}

// maxBits bounds what any one field may say for or against: no single field can settle a case on its own, since every value may be an error.
const maxBits = 20

// bits is log2(m/u), bounded.
func bits(m, u float64) float64 {
	return max(-maxBits, min(maxBits, math.Log2(m/u)))
}
