package unmarked

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// Proof is something that must be shown before a marker is asked for, and where proof of it is usually kept.
type Proof struct {
	Need    string // "service", "death", …
	Service string // which services it is for
	Text    string // what is to be shown
	Where   string // where that is usually kept
	Form    string // forms and finding aids by their public names
	Source  string // keys of sources
	// wars are those for whose service it is, where nothing but the war tells of which it was.
	wars []string
}

var proofs = sync.OnceValue(func() []Proof {
	type ordered struct {
		Proof
		order int
	}
	var list []ordered
	for _, r := range vocab.Rows("proof") {
		p := Proof{Need: r.Get("need"), Service: r.Get("service"), Text: r.Get("text"), Where: r.Get("where"), Form: r.Get("form"), Source: r.Get("source"), wars: r.List("wars")}
		list = append(list, ordered{p, r.Int("order")})
	}
	slices.SortStableFunc(list, func(a, b ordered) int { return a.order - b.order })
	var out []Proof
	for _, p := range list {
		out = append(out, p.Proof)
	}
	return out
})

// Proofs are the rows of the table of proofs, in the order in which they are shown.
func Proofs() []Proof { return slices.Clone(proofs()) }

// String is "proof of his service: where it is kept; forms".
func (p Proof) String() string {
	s := p.Text
	if p.Where != "" {
		s += ": " + p.Where
	}
	if p.Form != "" {
		s += "; " + p.Form
	}
	return s
}

// ProofOf is the row of the table of proofs that a line of a finding's ToShow is of.
func ProofOf(line string) (Proof, bool) {
	for _, p := range proofs() {
		if line == p.String() || p.Need == "decision" && strings.HasPrefix(line, p.Text+" (") {
			return p, true
		}
	}
	return Proof{}, false
}

// inShort is the key of the one warning that stands for all.
const inShort = "short"

// Cautions are the standing warnings that belong under every list of findings.
func Cautions() []string {
	var out []string
	for _, r := range vocab.Rows("cautions") {
		if r.Get("key") != inShort {
			out = append(out, r.Get("text"))
		}
	}
	return out
}

// Caution is the warnings in short, for a finding that stands alone: a sheet of paper, a row of a table.
func Caution() string {
	for _, r := range vocab.Rows("cautions") {
		if r.Get("key") == inShort {
			return r.Get("text")
		}
	}
	panic("table cautions has no row " + inShort)
}

// toShow is what is missing for a finding on a stone, on a record, or on both.
func (f *finder) toShow(s *model.Subject, r *model.Record, war model.ConflictCode) []string {
	var stone *model.Stone
	var claim model.Claim
	decided := false
	if s != nil {
		stone, claim = s.Stone, s.Reading().Claim()
		claims := f.claims(stone.ID)
		if len(claims) > 0 {
			decided = claims[0].Decided == string(model.Confirmed)
			if best := f.records[claims[0].Record]; r == nil && best != nil && claims[0].Probability >= 0.5 {
				r = best
			}
		}
	}
	onStone := stone != nil && stone.Register == nil
	service := kindOfService(claim, r, war)
	died := !claim.Person.Died.IsZero() || r != nil && !r.Person.Died.IsZero()
	var out []string
	for _, p := range proofs() {
		switch p.Need {
		case "decision":
			if decided || r == nil || s == nil {
				continue
			}
		case "service":
			if p.Service != service {
				continue
			}
		case "death":
			if died {
				continue
			}
		case "grave":
			if onStone || stone != nil && stone.Place.Plot != "" {
				continue
			}
		case "stone":
			if !onStone {
				continue
			}
		case "applicant":
			if modern(war) != (p.Service == "since-1917") {
				continue
			}
		case "wrong", "replacement", "unknown": // of markers that stand already
			continue
		}
		text := p.String()
		if p.Need == "decision" {
			text = f.proposedOne(p, r)
		}
		out = append(out, text)
	}
	return out
}

// proposedOne asks for a person's decision on a record.
func (f *finder) proposedOne(p Proof, r *model.Record) string {
	if f.livingRecord(r) {
		return fmt.Sprintf("%s (the proposed one is not told: he may be living)", p.Text)
	}
	return fmt.Sprintf("%s (the proposed one is %s)", p.Text, r.ID)
}

// kindOfService is the service by which the table of proofs is asked.
func kindOfService(c model.Claim, r *model.Record, war model.ConflictCode) string {
	services := []model.Service{c.Service}
	if r != nil {
		services = append(services, r.Service)
	}
	for _, s := range services {
		switch s.Branch {
		case "navy", "marine-corps":
			if !modern(war) {
				return string(s.Branch)
			}
		case "coast-guard", "revenue-cutter":
			return "coast-guard"
		}
	}
	if modern(war) {
		return "since-1917"
	}
	for _, s := range services {
		if s.Unit.Body == model.BodyUSCT {
			return "civil-war/usct"
		}
		if s.Side == model.Confederate {
			return "civil-war/confederate"
		}
	}
	for _, p := range proofs() {
		if slices.Contains(p.wars, string(war)) {
			return p.Service
		}
	}
	return "unknown"
}

// modern reports whether the war began in 1917 or later.
func modern(war model.ConflictCode) bool {
	c, ok := vocab.Conflict(war)
	return ok && c.From.Year >= 1917
}
