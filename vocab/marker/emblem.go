package marker

import (
	"strconv"
	"strings"
	"sync"

	"musterstone/vocab"
)

// Emblem is an emblem of belief of the official list.
type Emblem struct {
	Number, Name string
	// From is the first year in which it can stand on a government marker, By the year in which it was certainly on the list.
	From, By    int
	Why, Source string
}

// FindEmblem gives the emblem of a number ("1", "01") or a name in any case ("Latin Cross").
func FindEmblem(text string) (Emblem, bool) {
	t := emblemTable()
	if n, err := strconv.Atoi(strings.TrimSpace(text)); err == nil {
		text = strconv.Itoa(n)
	}
	i, ok := t.at[plain(text)]
	if !ok {
		return Emblem{}, false
	}
	return t.list[i], true
}

type emblems struct {
	list []Emblem
	at   map[string]int
}

var emblemTable = sync.OnceValue(func() emblems {
	t := emblems{at: map[string]int{}}
	for _, r := range vocab.Rows("emblems") {
		e := Emblem{Number: r.Get("number"), Name: r.Get("name"), From: r.Int("from"), By: r.Int("by"), Why: r.Get("why"), Source: r.Get("source")}
		names := append(r.List("other_names"), e.Name, strconv.Itoa(r.Int("number")))
		if i := strings.IndexByte(e.Name, '('); i > 0 {
			names = append(names, e.Name[:i])
		}
		for _, n := range names {
			if _, ok := t.at[plain(n)]; !ok {
				t.at[plain(n)] = len(t.list)
			}
		}
		t.list = append(t.list, e)
	}
	return t
})
