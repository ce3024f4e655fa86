package weigh

import (
	"musterstone/model"
	"musterstone/vocab"
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
		case level == "one step" && best != "same", level == "few steps" && best == "other":
			best, record = level, t
		}
	}
	u := map[string]float64{"same": c.rankShare(string(mine))}
	for _, t := range c.ranks.values {
		if level := rankLevel(mine, model.Rank(t)); level != "same" {
			u[level] += c.rankShare(t)
		}
	}
	s.weight("rank", best, start("rank", best).m, max(u[best], c.share(0)), string(mine), string(record), "")
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
	if !ok1 || !ok2 || ra.Step == 0 || rb.Step == 0 {
		return "other"
	}
	switch d := max(ra.Step-rb.Step, rb.Step-ra.Step); {
	case d <= 1:
		return "one step"
	case d <= 3:
		return "few steps"
	}
	return "other"
}
