package link

import (
	"math"
	"slices"
)

// Slips come together. That stone and record disagree is weighed field by field, as if a clerk who has one thing wrong were no likelier to have the next one wrong too; but the man who stands under another
// name, or on a second list, or on a stone cut from hearsay, disagrees in several things at once, and a namesake who agrees in several is a cousin of the same company. So what the fields say together is too strong
// for either answer, by the more the more slips there are. How many there are the survey says itself: the m that it taught (see Fit). Where they are none, the fields are taken at their word; where they are
// many, the odds that a stone's man is in the rosters are taken to a power below 1. Which of its candidates he is if so does not change.
// A figure of the regiment misread is no slip here: wear comes by the figure, and makes no second thing wrong.

const (
	// hang is how much the fields hang together for each slip that a pair of one man has in the mean: the power is 1/(1 + hang × slips). House judgement, measured on made surveys (see DEVELOPERS.md).
	hang = 6
	// soundPairs are the pairs without a slip that are believed in each field before any is seen. House judgement.
	soundPairs = 20
)

// slips is how many slips a pair of one man has in the mean, in these fields, or in all in which they are told, by what was learned; 0 where nothing was.
func (f *Fit) slips(l *ladder, of ...string) float64 {
	slips, pairs := map[string]float64{}, map[string]float64{}
	var fields []string // in the order of the ladder, so that the sum is the same each time
	for k, level := range l.levels {
		field := level.Field
		if level.Group == unlistedSurname {
			field = "surname"
		}
		if _, ok := slips[field]; !ok && level.Slip && (of == nil || slices.Contains(of, field)) {
			fields = append(fields, field)
			slips[field] = 0
		}
		for r := range f.Seen {
			pairs[field] += f.Seen[r][k]
			if level.Slip {
				slips[field] += f.Seen[r][k]
			}
		}
	}
	sum := 0.0
	for _, field := range fields {
		sum += slips[field] / (pairs[field] + soundPairs)
	}
	return sum
}

// powers are what the odds of stones are taken to that tell of a service, and of a register's rows; and of plain stones, which show their man by names, years and place alone, so that only slips of names can come together there.
func (f *Fit) powers(l *ladder) (told, plain float64) {
	return 1 / (1 + hang*f.slips(l)), 1 / (1 + hang*f.slips(l, "surname", "given"))
}

// temper is the prior by which odds of that many to one come to their power.
func temper(prior, odds, power float64) float64 { return likelier(prior, math.Pow(odds, power-1)) }
