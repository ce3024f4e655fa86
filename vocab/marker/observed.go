package marker

import (
	"strings"
	"sync"

	"musterstone/vocab"
)

// observations are the values of a feature in observations.csv, each with its words for people, and the wordings that recorders have for it.
type observations struct {
	values, said []string
	words        wordings
}

var observationTable = sync.OnceValue(func() map[string]*observations {
	t := map[string]*observations{}
	for _, r := range vocab.Rows("observations") {
		o := t[r.Get("feature")]
		if o == nil {
			o = &observations{words: wordings{}}
			t[r.Get("feature")] = o
		}
		for _, w := range append(r.List("also"), r.Get("value")) {
			o.words.add(len(o.values), strings.Fields(plain(w)))
		}
		o.values, o.said = append(o.values, r.Get("value")), append(o.said, r.Get("said"))
	}
	return t
})

// Observed gives the value of a feature ("top", "material", "lettering", "device", "setting") with which a text begins: "recessed shield, documented from 1896" is "recessed
// shield". "" where it begins with none.
func Observed(feature, text string) string {
	o := observationTable()[feature]
	if o == nil {
		return ""
	}
	x, ok := o.words.begins(strings.Fields(plain(text)))
	if !ok {
		return ""
	}
	return o.values[x.row]
}
