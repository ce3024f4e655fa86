package rdf

import (
	"strings"
	"sync"
	"time"

	"musterstone/vocab"
)

// definition is what a code means, in a sentence, and the sources it rests on beyond those of the code's own row.
type definition struct {
	text    string
	sources []string
}

// definitions are the definitions that a table gives.
var definitions = sync.OnceValue(func() map[codeKey]definition {
	m := map[codeKey]definition{}
	for _, r := range vocab.Rows("definitions") {
		m[codeKey{r.Get("kind"), r.Get("code")}] = definition{r.Get("definition"), strings.Fields(r.Get("source"))}
	}
	return m
})

// composers put a definition together from what the row of a code says, so that the two cannot part. A code whose row says too little has its definition in
// the table definitions.
var composers = map[string]func(vocab.Row) string{
	"arm": func(r vocab.Row) string {
		if r.Get("broader") == "" {
			return ""
		}
		return "A kind of " + vocab.Label("arm", r.Get("broader")) + "."
	},
	"body": func(r vocab.Row) string {
		text := "Units that carry the name of no state"
		if side := r.Get("side"); side != "" {
			text += ", on the side of the " + vocab.Label("side", side)
		}
		return text + span(r.Get("from"), r.Get("to"), ", from ") + "."
	},
	"branch": func(r vocab.Row) string {
		return r.Get("name") + ", a branch of the armed forces in which a person may have served."
	},
	"conflict": func(r vocab.Row) string {
		return "A war of the United States, or a time counted as one," + span(day(r.Get("from")), day(r.Get("to")), " from ") + "."
	},
	"pattern": func(r vocab.Row) string {
		if r.Get("family") == "private" {
			return "A marker that the government did not furnish: sizes, top and wording are the family's choice."
		}
		return "A design of marker that the government furnished for " + r.Get("who") + ". Issued: " + r.Get("issued") + "."
	},
	"rank": func(r vocab.Row) string {
		if r.Get("class") == "civilian" {
			return "A calling with the forces, not in the service" + span(r.Get("from"), r.Get("to"), ", from ") + "."
		}
		text := "A rank or rate: " + vocab.Label("class", r.Get("class"))
		if branch := r.Get("branch"); branch != "" {
			text += " of the " + vocab.Label("branch", branch)
		} else {
			text += ", of more than one branch"
		}
		return text + span(r.Get("from"), r.Get("to"), ", from ") + "."
	},
	"service": func(r vocab.Row) string {
		if r.Int("from") == 0 {
			return ""
		}
		to := r.Get("to")
		if r.Int("to") >= stillGoing {
			to = ""
		}
		return "What a marker may imply: " + r.Get("label") + span(r.Get("from"), to, ", from ") + "."
	},
	"state": func(r vocab.Row) string {
		return r.Get("name") + ", a " + r.Get("kind") + " of the United States."
	},
}

// stillGoing is the last year of the table of service classes, which stands for "to this day".
const stillGoing = 2030

// span says from when to when; "" where neither is known.
func span(from, to, word string) string {
	switch {
	case from == "" && to == "":
		return ""
	case from == "":
		return strings.TrimSuffix(word, "from ") + "to " + to
	case to == "":
		return word + from + " on"
	}
	return word + from + " to " + to
}

// day writes a day of a table, 1861-04-12, as people do: 12 April 1861.
func day(iso string) string {
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return t.Format("2 January 2006")
}

// define gives a code its definition: that of the table, or the one that its row makes.
func define(kind string, c *concept, r vocab.Row) {
	if d, ok := definitions()[codeKey{kind, c.code}]; ok {
		c.definition = d.text
		c.sources = append(c.sources, d.sources...)
		return
	}
	if compose, ok := composers[kind]; ok {
		c.definition = compose(r)
	}
}
