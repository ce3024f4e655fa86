package rdf

import (
	"sync"

	"musterstone/vocab"
)

// publicID is what a public knowledge base calls a code, and how well the two match: "exact", or "close" where they draw the line otherwise, as with the
// official dates of wars.
type publicID struct{ iri, match string }

// publicIDs are those of codes, by "kind:code": for conflicts, branches and states only, never for people.
var publicIDs = sync.OnceValue(func() map[string][]publicID {
	m := map[string][]publicID{}
	for _, r := range vocab.Rows("public-identifiers") {
		key := r.Get("kind") + ":" + r.Get("code")
		m[key] = append(m[key], publicID{r.Get("iri"), r.Get("match")})
	}
	return m
})
