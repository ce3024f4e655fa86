package unmarked

import (
	"math"
	"strings"

	"musterstone/model"
)

// rosters is what the survey's rosters are worth in its own grounds, measured on the stones that give a unit: of their men it is as good as certain who is whom.
type rosters struct {
	have float64 // the share of the men who are on them
	// buried is what it says for a record, in bits, that its words bury its man in the very ground of a stone, and silent that they bury him nowhere. Linking
	// compares the place where there is one; this is for its being told at all, of a man of the ground and of anyone.
	buried, silent float64
}

// weak is how many men's worth the first guess at a share counts.
const weak = 2

// measureRosters measures the rosters on the stones that give a unit, by so many records, of which said tell of a burial. By hand: TestRosters.
func (f *finder) measureRosters(records, said int) rosters {
	if records == 0 {
		return rosters{}
	}
	units, linked, sure, told := 0.0, 0.0, 0.0, 0.0
	for _, s := range f.in.Subjects {
		if s.Stone.Register != nil || s.Reading().Claim().Service.Unit.IsZero() {
			continue
		}
		units++
		claims := f.claims(s.Stone.ID)
		for _, c := range claims {
			linked += c.Probability
		}
		if len(claims) == 0 || claims[0].Probability < 0.5 {
			continue
		}
		if r := f.records[claims[0].Record]; r != nil {
			sure += claims[0].Probability
			if saysBuried(r) {
				told += claims[0].Probability
			}
		}
	}
	r := rosters{have: (linked + weak*0.5) / (units + weak)}
	if usual := float64(said) / float64(records); usual > 0 && usual < 1 {
		ours := (told + weak*usual) / (sure + weak)
		r.buried, r.silent = math.Log2(ours/usual), math.Log2((1-ours)/(1-usual))
	}
	return r
}

// saysBuried reports whether a record's words say anything of a burial.
func saysBuried(r *model.Record) bool {
	return r.Person.Buried != "" || burialRemark(r.Service.Remarks) != ""
}

// weighed gives, for each of the records that may be the man's of a stone, the chance that it is: the linking posterior, but for a stone that says nothing of service. A civilian
// of the same name is seldom on any list, so that linking, which compares a man with those who are, makes too much of a name, and where dates disagree there is nothing
// but the name; against that stands where the record itself buries its man.
func (f *finder) weighed(s *model.Subject, claims []model.Candidate) []float64 {
	out := make([]float64, len(claims))
	none := 1.0
	for i, c := range claims {
		out[i] = c.Probability
		none -= c.Probability
	}
	if s.Stone.Register != nil || len(claims) == 0 || claims[0].Decided == string(model.Confirmed) {
		return out
	}
	if words, _ := readWords(s); len(words) > 0 {
		return out
	}
	bits := weight("plain-bits")
	if f.datesApart(s, claims) {
		bits += weight("plain-date-bits")
	}
	none = max(none, 1e-9) * math.Exp2(bits)
	total := none
	for i, c := range claims {
		r := f.records[c.Record]
		switch b, ok := f.buriedHere[c.Record]; {
		case ok && b.chance >= 0.5 && strings.EqualFold(b.ground.Name, s.Stone.Place.Cemetery):
			out[i] *= math.Exp2(f.rosters.buried)
		case r != nil && !saysBuried(r):
			out[i] *= math.Exp2(f.rosters.silent)
		}
		total += out[i]
	}
	for i := range out {
		out[i] /= total
	}
	return out
}

// datesApart reports whether the dates of a stone are not those of the likeliest record.
func (f *finder) datesApart(s *model.Subject, claims []model.Candidate) bool {
	for _, e := range f.evidence(s.Stone.ID, claims[0].Record) {
		if e.Field == "death" && (e.Level == "different" || e.Level == "another year") || e.Field == "birth" && (e.Level == "far" || e.Level == "near") || e.Field == "service" {
			return true
		}
	}
	return false
}
