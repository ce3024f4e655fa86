package link

import "musterstone/link/weigh"

// Standing is what a stone says by itself, before any record is looked at, of whether its man is in the rosters.
type Standing struct {
	Veteran  float64 // probability that the stone is a veteran's at all, by its words and design
	Plain    bool    // neither words nor design speak of a service
	Unlisted bool    // no record bears its surname
	// Near are, of an unlisted surname, the levels at which some man's surname agrees with it, a bit for each level of the group in its order; 0 where that is no more than chance.
	Near uint16
	// Strange is a given name that hardly a record bears, or one that it may be short for: a woman's, mostly.
	Strange bool
	// Register is a row of a burial register, not a stone.
	Register bool
	// Surname and Given are how its names lean.
	Surname, Given weigh.Leaning
	// Mention is a stone that names its veteran only as the husband or father of another: see model.Reading.
	Mention bool
	// Born is the year of birth, 0 where it is not known within ten years, and BornShare the share of the rosters' men born in a year near it.
	Born      int
	BornShare float64
}

// plainKinds is how many kinds of plain stones are told apart.
const plainKinds = 6

const (
	designKinds = 4
	// strangeKind is the kind of plain stones whose given name is hardly one of the rosters'.
	strangeKind = designKinds
	// registerKind is the kind of a register's rows: what men a register lists its keeper chose, and no design tells.
	registerKind = strangeKind + 1
)

// kind is the kind of a plain stone: how likely its design alone makes it a veteran's, below one in ten and then by doublings. What the design is worth is a table's, made for no ground in
// particular: where the men of these rosters lie under headstones of one design and civilians under those of another, a single factor for both would do right by neither. House judgement.
func (s *Standing) kind() int {
	if s.Strange {
		return strangeKind
	}
	if s.Register {
		return registerKind
	}
	k := 0
	for least := 0.1; s.Veteran >= least && k < designKinds-1; least *= 2 {
		k++
	}
	return k
}

// mostPrior is the most that it may be believed before any record is looked at that a stone's man is in the rosters. House judgement.
const mostPrior = 0.97

// share is the share of stones of this one's kind whose men are in the rosters.
func (f *Fit) share(s *Standing) float64 {
	p := s.Veteran * f.Coverage
	if s.Plain {
		p *= f.Kinds[s.kind()]
	}
	if s.Unlisted {
		p *= f.Unlisted
	}
	return min(p, mostPrior)
}

// prior is the probability that a stone's man is in the rosters: that of its kind, and what its own surname and birth say.
//
// Of a surname that no record bears, that it is nearly a name of the rosters is evidence by itself: behind it stands one of the names near it, so that the m of the levels at which there is one are
// shares of their sum.
func (f *Fit) prior(s *Standing, nobody bool) float64 {
	if nobody {
		return 0
	}
	p := f.share(s)
	if s.Near != 0 && f.Near != nil {
		sum := 0.0
		for k, m := range f.Near {
			if s.Near>>k&1 == 1 {
				sum += m
			}
		}
		p = likelier(p, 1/sum)
	}
	if bin := binOf(s.Born); s.Plain && bin >= 0 {
		p = likelier(p, f.Births[s.kind()].times(bin, s.BornShare))
	}
	return p
}

// marking turns the prior that a man whom a stone only names is in the rosters, and his odds against none, into the prior by which some record is his and the stone marks his grave: it mostly marks the
// grave of the one who is named with him, however surely the record is his.
func marking(prior, odds float64) float64 {
	found := marks / (1 + 1/odds)
	return likelier(prior, found/(1-found)/odds)
}

// likelier is a prior whose odds are so many times what they were.
func likelier(p, times float64) float64 { return min(mostPrior, p*times/(1-p+p*times)) }
