package marker

import (
	"sync"

	"musterstone/vocab"
)

// Sign is a sign of service, or one that is taken for it, that the government did not furnish: a society's flag holder, crossed swords.
type Sign struct {
	Key  string
	Text string // in words: "crossed swords"
	// Place is "carved" for what is cut into the stone, "beside" for what stands at it and may have been moved.
	Place string
	// Service is the code it speaks for, "any" for service of any kind, "none" for a sign that is not of service.
	Service string
	// Strength is "strong" (alone justifies a search), "medium" (supports another sign), "weak" (note only) or "none".
	Strength string
	// Bits is what the model takes it to be worth for that service.
	Bits            float64
	Caution, Source string
}

// FindSign gives the sign that a recorder's word for a motif stands for ("GAR star", "crossed swords").
func FindSign(motif string) (Sign, bool) {
	t := signTable()
	i, ok := t.at[plain(motif)]
	if !ok {
		return Sign{}, false
	}
	return t.list[i], true
}

type signs struct {
	list []Sign
	at   map[string]int
}

var signTable = sync.OnceValue(func() signs {
	t := signs{at: map[string]int{}}
	for _, r := range vocab.Rows("signs") {
		for _, w := range r.List("words") {
			if _, ok := t.at[plain(w)]; !ok {
				t.at[plain(w)] = len(t.list)
			}
		}
		t.list = append(t.list, Sign{Key: r.Get("key"), Text: r.Get("text"), Place: r.Get("place"), Service: r.Get("service"),
			Strength: r.Get("strength"), Bits: r.Float("bits"), Caution: r.Get("caution"), Source: r.Get("source")})
	}
	return t
})
