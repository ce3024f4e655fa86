package desk

import (
	"cmp"
	"fmt"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/ledger"
	"musterstone/model"
)

// A page shows the two likeliest candidates, and up to shownCards of those with a chance of at least shownChance, before it is asked for all.
const (
	shownCards  = 5
	shownChance = 0.01
)

// leastRival is the chance from which the second best candidate is set beside the best.
const leastRival = 0.0005

// likeliest is the likeliest candidate that nobody has refused; nil where there is none.
func likeliest(cands []model.Candidate) *model.Candidate {
	for i := range cands {
		if cands[i].Decided != string(model.Refused) {
			return &cands[i]
		}
	}
	return nil
}

// card is a candidate.
type card struct {
	N           int
	Record      model.RecordID
	Who         string
	As          string // the man of the stone whose record it may be, where he is not the first whom it names
	Known       bool   // it is in the rosters
	Probability float64
	Bits        float64
	Proposed    bool
	ByPerson    bool // a person brought it
	Decided     string
	Voices      []model.Decision
	Rows        []evidenceRow
	Written     []model.Cell
	Elsewhere   []model.StoneID // other stones that it is confirmed for
	Pro, Contra string
	Namesakes   string
}

type evidenceRow struct {
	Field, Stone, Record, Says string
	Bits                       float64
	// From is where the bar of the bits begins, and Width how wide it is, in a picture of 120 by 10 with the middle at 60.
	From, Width int
	Against     bool
}

// cards makes the candidates.
func (v *stoneView) cards(d *Desk, s *model.Subject, cands []model.Candidate, with model.RecordID, all bool, state ledger.State) {
	for n, c := range cands {
		if !all && (n >= shownCards || n >= 2 && c.Probability < shownChance) && c.Decided == "" && c.Record != with {
			v.More++
			continue
		}
		rec, ok := d.index.Record(c.Record)
		k := card{N: n + 1, Record: c.Record, Known: ok, Probability: c.Probability, Bits: c.Bits, Proposed: c.Proposed, ByPerson: c.Record == with, Decided: c.Decided,
			Voices: state.Of(s.Stone.ID, c.Record).Voices}
		if ok {
			k.Who, k.Written = say.Claim(rec.Claim), rec.Written
		}
		if people := s.Reading().People; c.Person > 0 && c.Person < len(people) {
			k.As = people[c.Person].Person.Name.String()
		}
		for _, o := range state.ConfirmedStones(c.Record) {
			if o != s.Stone.ID {
				k.Elsewhere = append(k.Elsewhere, o)
			}
		}
		pro, contra := say.Reasons(c.Evidence)
		k.Pro, k.Contra = strings.Join(firstFew(pro), "; "), strings.Join(firstFew(contra), "; ")
		if m := c.Namesakes; m != nil && m.Men > 1 {
			k.Namesakes = fmt.Sprintf("%d men in the rosters bear the name %s", m.Men, m.Name)
			if m.Company != "" {
				k.Namesakes += fmt.Sprintf(", %d of them in %s", m.InCompany, m.Company)
			}
			k.Namesakes += "."
		}
		for _, e := range c.Evidence {
			k.Rows = append(k.Rows, evidenceRowOf(e))
		}
		v.Cards = append(v.Cards, k)
	}
}

func firstFew(s []string) []string { return s[:min(len(s), 4)] }

// evidenceRowOf puts evidence in a row; the bar is drawn to 20 bits a side.
func evidenceRowOf(e model.Evidence) evidenceRow {
	row := evidenceRow{Field: say.Field(e.Field), Stone: e.Stone, Record: e.Record, Bits: e.Bits, Says: cmp.Or(e.Why, say.Level(e.Field, e.Level)), Against: e.Bits < 0}
	row.Width = int(min(20, max(e.Bits, -e.Bits))*3 + 0.5)
	row.From = 60
	if row.Against {
		row.From = 60 - row.Width
	}
	return row
}

// pairView sets the best candidate beside the runner-up.
type pairView struct {
	A, B model.RecordID
	Rows []pairRow
	Gap  float64
}

type pairRow struct {
	Field, Stone, A, B string
	ABits, BBits       float64
	HasA, HasB         bool
	Differs            bool
}

// pair sets the two best candidates side by side.
func (v *stoneView) pair(cands []model.Candidate) {
	var two []model.Candidate
	for _, c := range cands {
		if c.Decided != string(model.Refused) && len(two) < 2 {
			two = append(two, c)
		}
	}
	if len(two) < 2 || two[1].Probability < leastRival && two[1].Decided == "" {
		return
	}
	p := &pairView{A: two[0].Record, B: two[1].Record, Gap: two[0].Bits - two[1].Bits}
	at := map[string]int{}
	for side, c := range two {
		for _, e := range c.Evidence {
			n, ok := at[e.Field]
			if !ok {
				n = len(p.Rows)
				at[e.Field] = n
				p.Rows = append(p.Rows, pairRow{Field: say.Field(e.Field), Stone: e.Stone})
			}
			row := &p.Rows[n]
			if row.Stone == "" {
				row.Stone = e.Stone
			}
			text := cmp.Or(say.Why(e), e.Record, say.Level(e.Field, e.Level))
			if side == 0 {
				row.A, row.ABits, row.HasA = text, row.ABits+e.Bits, true
			} else {
				row.B, row.BBits, row.HasB = text, row.BBits+e.Bits, true
			}
		}
	}
	for n := range p.Rows {
		row := &p.Rows[n]
		gap := row.ABits - row.BBits
		row.Differs = max(gap, -gap) >= 0.05 || !strings.EqualFold(row.A, row.B)
	}
	v.Pair = p
}

// weigh sets a record that the program did not propose beside the stone, as that of the man of it whom it is likest: of the first, or of another who is not said to be somebody's wife or child. It has no chance of its own: only bits.
func (d *Desk) weigh(i int, rec *model.Record) model.Candidate {
	s := d.subjects[i]
	c := model.Candidate{Record: rec.ID}
	for n, reading := range s.Readings {
		if len(reading.People) == 0 {
			continue
		}
		c.Bits, c.Evidence = d.weigher.Stone(s, reading.Claim()).Against(rec)
		if n > 0 { // further men are told by their places in the likeliest reading
			break
		}
		for k, claim := range reading.People {
			if k == 0 || claim.Person.Relation != "" {
				continue
			}
			if bits, evidence := d.weigher.Stone(s, claim).Against(rec); bits > c.Bits {
				c.Bits, c.Evidence, c.Person = bits, evidence, k
			}
		}
		break
	}
	return c
}
