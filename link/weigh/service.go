package weigh

import (
	"slices"

	"musterstone/model"
	"musterstone/vocab"
)

// rank compares the stone's rank with the record's, in and out; a stone that gives a unit and no rank was cut for a private, by the rule of
// the government stones.
func (v *Stone) rank(f *facts) *line {
	if f.packed != nil {
		return &v.ranks[f.rank]
	}
	v.own[0], _ = v.rankLine(rankPair{f.record.Service.Rank, f.record.Service.RankOut})
	return &v.own[0]
}

// rankLines are the lines of all the columns' ranks, worked out once a rank.
func (v *Stone) rankLines() []line {
	if v.w.packed == nil {
		return nil
	}
	type key struct {
		rank model.Rank
		dumb bool
	}
	k := key{v.claim.Service.Rank, v.dumb()}
	if lines, ok := v.w.ranks.Load(k); ok {
		return lines.([]line)
	}
	pairs := v.w.packed.c.ranks
	lines := make([]line, len(pairs))
	for i, p := range pairs {
		lines[i], _ = v.rankLine(p)
	}
	v.w.ranks.Store(k, lines)
	return lines
}

// dumb reports whether that the stone gives no rank says nothing.
func (v *Stone) dumb() bool {
	return v.claim.Service.Rank == "" && (v.claim.Service.Unit.IsZero() || v.subject.Stone.Register != nil)
}

// rankLine is the line of a record's ranks, and the one of them that was compared.
func (v *Stone) rankLine(pair rankPair) (line, model.Rank) {
	level, record := v.rankCompared(pair)
	c, mine := v.w.counts, v.claim.Service.Rank
	u := 0.0
	switch level {
	case "":
		return line{}, ""
	case "ranked man":
		u = 1 - c.rankShare("private")
	case "none carved":
		u = c.rankShare("private")
	case "same":
		u = c.rankShare(string(mine))
	}
	if mine != "" {
		for _, t := range slices.Sorted(slices.Values(c.ranks.values)) { // in an order of their own, so that the sum hangs on no order of records
			if l := rankLevel(mine, model.Rank(t)); l != "same" && l == level {
				u += c.rankShare(t)
			}
		}
		u = max(u, c.share(0))
	}
	return lineOf("rank", level, start("rank", level).m, u), record
}

// rankCompared is the level of a record's ranks, "" for none, and the one of them that was compared.
func (v *Stone) rankCompared(pair rankPair) (level string, record model.Rank) {
	mine := v.claim.Service.Rank
	theirs := []model.Rank{pair.in}
	if pair.out != "" && pair.out != pair.in {
		theirs = append(theirs, pair.out)
	}
	if theirs[0] == "" && len(theirs) == 1 || v.dumb() {
		return "", ""
	}
	if mine == "" {
		level = "ranked man"
		if slices.Contains(theirs, "private") {
			level = "none carved"
		}
		return level, theirs[len(theirs)-1]
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
	return best, record
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
