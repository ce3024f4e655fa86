package link

import (
	"math"
	"slices"

	"musterstone/link/weigh"
)

// Kin are the men of a stone's company whose surname agrees with the stone's at one level: if the stone's man is none of them, the rosters lack him, and how likely is it then that a man of that
// company bears that surname? Brothers enlist together, and a company of one people has its names. So he is taken to be drawn, as the company's men were, one after the other: each is
// as likely to bear the surname of any one man before him as a hundred or a thousand men are to have among them one who bears it by chance. With N men of the company listed, n of them of a surname that a share p
// of all the rosters' men bear, the next one bears it with the chance
//
//	(n + a p) / (N + a)
//
// (a Pólya urn; Blackwell and MacQueen, Annals of Statistics 1, 1973). The table "weights" has an a, as the excess of pairs of one surname within a company over that in all: 1/a, nearly. How far it holds of
// those whom these rosters lack, their stones say: see Fit.Kin. Where they share nothing with the company as it is listed, a namesake in it is nothing to wonder at.
type Kin struct {
	Share float64 // of all the rosters' men, those whose surname agrees so
	Men   int     // of the company
	view  int8    // under which reading
	level uint8   // of the surname
}

// The table's excess is worth as much as so many stones of men of whole companies that bear it out. House judgement.
const priorKin, wholeCompany = 60, 100

// kinLevel is the number of the level of two men of one surname in one company.
var kinLevel = weigh.LevelNumber("kin", "brothers in arms")

// addKin counts a candidate with those of the stone's company and of a surname, where its levels say that it is one, and gives the place of those, plus 1; 0 where it is none.
func addKin(kin []Kin, s *weigh.Stone, view int8, levels []uint8) ([]Kin, uint8) {
	if !slices.Contains(levels, kinLevel) {
		return kin, 0
	}
	k := find(kin, view, levels)
	if k < 0 {
		k = len(kin)
		kin = append(kin, Kin{Share: s.Bearers(levels[0]), view: view, level: levels[0]})
	}
	kin[k].Men++
	return kin, uint8(k + 1)
}

// find is the place of the kin of a candidate, which has the level of the surname first, -1 for none.
func find(kin []Kin, view int8, levels []uint8) int {
	return slices.IndexFunc(kin, func(k Kin) bool { return k.view == view && k.level == levels[0] })
}

// kinOf is the place of the kin of candidate j, plus 1; 0 for none.
func (w *weighed) kinOf(j int) uint8 {
	if len(w.kin) == 0 {
		return 0
	}
	if w.rows == nil {
		return w.kinAt[j]
	}
	r := &w.rows.list[j]
	if levels := r.levels[:r.n]; slices.Contains(levels, kinLevel) {
		return uint8(find(w.kin, r.view, levels) + 1)
	}
	return 0
}

// drawn is the a of Kin.
func (f *Fit) drawn() float64 { return 1 / (weigh.KinExcess() * f.Kin) }

// kinBits is what was learned of candidates' kin in a company of so many men, in bits: what the urn makes of them instead of the table.
func (f *Fit) kinBits(company int, k *Kin) float64 {
	a := f.drawn()
	return math.Log2((1 + weigh.KinExcess()/k.Share) * (a + float64(company)) / (a + float64(k.Men)/k.Share))
}

// learnKin sets what the stones came to, and gives how far it moved.
func (f *Fit) learnKin(s *Sums) float64 {
	now, _ := f.named(wholeCompany, nil)
	table, _ := (&Fit{Kin: 1}).named(wholeCompany, nil)
	next := f.Kin * (priorKin*table + s.KinFound.float()) / (priorKin*now + s.KinWant.float())
	moved := math.Abs(next-f.Kin) / (next + f.Kin)
	f.Kin = next
	return moved
}

// named gives, of a man of a company whom the rosters lack, the chance that he was to be named like one of those whom they have, and with the surname that his stone bears, that he was.
func (f *Fit) named(company int, kin []Kin) (want, found float64) {
	a, share, men := f.drawn(), 0.0, 0.0
	for i := range kin {
		share, men = share+kin[i].Share, men+float64(kin[i].Men)
	}
	if men > 0 {
		found = men / (men + a*share)
	}
	return float64(company) / (float64(company) + a), found
}
