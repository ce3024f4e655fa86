package weigh

import (
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/marker"
)

// rank compares the stone's rank with the record's, in and out; a stone that gives a unit and no rank was cut for a private, by the rule of
// the government stones.
func (v *Stone) rank(s *sum, r *model.Record) {
	mine := v.claim.Service.Rank
	theirs := []model.Rank{r.Service.Rank}
	if r.Service.RankOut != "" && r.Service.RankOut != r.Service.Rank {
		theirs = append(theirs, r.Service.RankOut)
	}
	if theirs[0] == "" && len(theirs) == 1 {
		return
	}
	c := v.w.counts
	private := c.rankShare("private")
	if mine == "" {
		if v.claim.Service.Unit.IsZero() || v.subject.Stone.Register != nil {
			return
		}
		level, u := "ranked man", 1-private
		for _, t := range theirs {
			if t == "private" {
				level, u = "none carved", private
			}
		}
		s.weight("rank", level, start("rank", level).m, u, "none", string(theirs[len(theirs)-1]), "privates' stones carry no rank")
		return
	}
	best, record := "other", theirs[0]
	for _, t := range theirs {
		switch level := rankLevel(mine, t); {
		case level == "same":
			best, record = level, t
		case level == "one step" && best == "other":
			best, record = level, t
		}
	}
	same, step := c.rankShare(string(mine)), 0.0
	for _, t := range c.ranks.values {
		if rankLevel(mine, model.Rank(t)) == "one step" {
			step += c.rankShare(t)
		}
	}
	step = max(step, c.share(0))
	u := map[string]float64{"same": same, "one step": step, "other": max(1-same-step, c.share(0))}[best]
	s.weight("rank", best, start("rank", best).m, u, string(mine), string(record), "")
}

// rankShare is the share of the rosters' men who ever held the rank.
func (c *Counts) rankShare(rank string) float64 {
	level := "other"
	if rank == "private" {
		level = "private"
	}
	return chance("rank", level, 0, float64(c.ranks.n[rank]), float64(c.N))
}

// rankLevel is how far apart two ranks stand on the ladder.
func rankLevel(a, b model.Rank) string {
	if a == b {
		return "same"
	}
	ra, ok1 := vocab.RankOf(a)
	rb, ok2 := vocab.RankOf(b)
	if ok1 && ok2 && ra.Step > 0 && rb.Step > 0 && ra.Step-rb.Step <= 1 && rb.Step-ra.Step <= 1 {
		return "one step"
	}
	return "other"
}

// design adds what the marker's design, and the conflict that the words name, say of the record's service. Where the unit already agrees down
// to the regiment, the conflict goes with it and only what speaks against it still counts.
//
// A private stone that says nothing of service implies its conflict by its dates alone; those are weighed as birth and death.
func (v *Stone) design(s *sum, r *model.Record, unit string) {
	if v.claim.Service.IsZero() && private(v.subject.Implies) {
		return
	}
	died := r.Person.Died
	if !v.claim.Person.Died.IsZero() {
		died = date.Date{} // what the marker's age says of a death that the stone itself gives is no matter of the record's
	}
	bits, why := marker.Fits(v.subject.Implies, r.Service, died)
	if bits == 0 || bits > 0 && (unit == "company" || unit == "regiment" || unit == "other company" || unit == "redesignated") {
		return
	}
	level := "fits"
	if bits < 0 {
		level = "does not fit"
	}
	s.add(model.Evidence{Field: "design", Level: level, Bits: bits, Why: why})
}

// private reports whether a marker is likelier not the government's, or cannot be told.
func private(m model.Implication) bool {
	sum := 0.0
	for _, p := range m.Patterns {
		if p.Code == model.NotGovernment || p.Code == model.UnknownPattern {
			sum += p.Probability
		}
	}
	return sum >= 0.5
}
