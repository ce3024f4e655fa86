package rdf

import (
	"sync"

	"musterstone/vocab"
)

// publicID is what a public knowledge base calls a code, and how well the two match: "exact", "close" where they draw the line otherwise, as with the
// official dates of wars, or "related" where the one is but a part of the other, as the Gulf War of 1991 is of what the agency counts as that war, or became the
// other, as the Revenue Cutter Service became the Coast Guard. Related things share a name; what is exact or close has its own.
type publicID struct{ IRI, Match string }

// publicIDs are those of codes, for conflicts, branches and states only, never for people.
var publicIDs = sync.OnceValue(func() map[codeKey][]publicID {
	m := map[codeKey][]publicID{}
	for _, r := range vocab.Rows("public-identifiers") {
		key := codeKey{r.Get("kind"), r.Get("code")}
		m[key] = append(m[key], publicID{r.Get("iri"), r.Get("match")})
	}
	return m
})
