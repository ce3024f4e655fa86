package unmarked

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
)

// mostNames is the longest list of names that is worth telling for one row of unknowns.
const mostNames = 6

// unknownLeads looks at the markers of unknowns. Where the named graves on both sides, in the same row, are of men who stand close together in one roster,
// the men between them in the roster who have no stone may be the unknowns between them; where a burial list gives a man the number that is all
// that a block says, he may be its man. Graves were often dug, and lists written, in one order; but rows are reset and blocks moved, so this is a lead and
// never a finding: its probability stays below one half.
func (f *finder) unknownLeads() []model.Finding {
	rows := map[string][]*model.Subject{}
	var keys []string
	for _, s := range f.in.Subjects {
		p := s.Stone.Place
		if s.Stone.Register != nil || p.Cemetery == "" || p.Row == "" {
			continue
		}
		if _, ok := plotNumber(p.Plot); !ok {
			continue
		}
		key := strings.Join([]string{p.Cemetery, p.Section, p.Row}, "\x00")
		if rows[key] == nil {
			keys = append(keys, key)
		}
		rows[key] = append(rows[key], s)
	}
	slices.Sort(keys)
	var runs []*run
	for _, key := range keys {
		row := rows[key]
		slices.SortStableFunc(row, func(a, b *model.Subject) int {
			x, _ := plotNumber(a.Stone.Place.Plot)
			y, _ := plotNumber(b.Stone.Place.Plot)
			return cmp.Or(cmp.Compare(x, y), cmp.Compare(a.Stone.ID, b.Stone.ID))
		})
		runs = append(runs, f.runs(row)...)
	}
	f.fill(runs)
	leads := map[model.StoneID]model.Finding{}
	for _, r := range runs {
		for _, lead := range f.leadsOf(r) {
			leads[lead.Stone] = lead
		}
	}
	for _, s := range f.in.Subjects {
		if lead, ok := f.leadByNumber(s); ok {
			leads[s.Stone.ID] = lead
		}
	}
	var out []model.Finding
	for _, s := range f.in.Subjects {
		if lead, ok := leads[s.Stone.ID]; ok {
			lead.Reasons = append(lead.Reasons, "a lead, not a finding: graves and rows were moved and lists copied; nothing may be cut or published on it")
			lead.ToShow = f.toShowAt(s, lead.Conflict, "unknown")
			out = append(out, lead)
		}
	}
	return out
}

// plotNumber is the number that a plot's name ends or begins in: "7", "12a".
func plotNumber(plot string) (int, bool) {
	digits := strings.TrimFunc(strings.TrimSpace(plot), func(r rune) bool { return r < '0' || r > '9' })
	n, err := strconv.Atoi(digits)
	return n, err == nil
}

// run is a stretch of unknowns in a row between two named graves, whose men stand close together in one table.
type run struct {
	unknown       []*model.Subject
	before, after *model.Subject
	first, last   *model.Record   // the men of before and after
	between       []*model.Record // who stand between them in the table
}

// rowsOf are the rows of the table between the two men.
func (r *run) rowsOf() (from, to int) {
	return min(r.first.Source.Row, r.last.Source.Row) + 1, max(r.first.Source.Row, r.last.Source.Row) - 1
}

// runs are those of a row, which comes sorted by plot.
func (f *finder) runs(row []*model.Subject) []*run {
	var out []*run
	for i := 1; i < len(row); i++ {
		if !row[i].Reading().Unknown {
			continue
		}
		j := i
		for j < len(row) && row[j].Reading().Unknown {
			j++
		}
		if j == len(row) {
			break
		}
		r := &run{unknown: row[i:j], before: row[i-1], after: row[j], first: f.manOf(row[i-1]), last: f.manOf(row[j])}
		i = j
		if r.first == nil || r.last == nil || r.first.Source.File != r.last.Source.File || r.first.Source.Row == 0 || r.last.Source.Row == 0 {
			continue
		}
		if from, to := r.rowsOf(); to >= from && to-from < len(r.unknown)+mostNames {
			out = append(out, r)
		}
	}
	return out
}

// fill gives each run the records between its men, in one pass over them all.
func (f *finder) fill(runs []*run) {
	if len(runs) == 0 {
		return
	}
	for r := range f.in.Records {
		for _, x := range runs {
			if from, to := x.rowsOf(); r.Source.File == x.first.Source.File && r.Source.Row >= from && r.Source.Row <= to {
				x.between = append(x.between, r)
			}
		}
	}
}

// leadsOf are the leads of a run: none where too many men stand between for the order to narrow it down.
func (f *finder) leadsOf(r *run) []model.Finding {
	var names []*model.Record
	for _, m := range r.between {
		if p, _, _ := f.stoneOf(m.ID); p < 0.5 {
			names = append(names, m)
		}
	}
	n := len(r.unknown)
	if len(names) == 0 || len(names) > n+2 || len(names) > mostNames {
		return nil
	}
	slices.SortStableFunc(names, func(x, y *model.Record) int { return cmp.Compare(x.Source.Row, y.Source.Row) })
	var told []string
	others := []model.RecordID{r.first.ID, r.last.ID}
	for _, m := range names {
		others = append(others, m.ID)
		told = append(told, fmt.Sprintf("%s (record %s)", f.describe(m), m.ID))
	}
	var out []model.Finding
	for _, s := range r.unknown {
		lead := model.Finding{Stone: s.Stone.ID, Kind: model.UnknownLead, Probability: weight("unknown-order") * min(1, float64(n)/float64(len(names))), Conflict: warOf(names[0]),
			Stones: []model.StoneID{r.before.Stone.ID, r.after.Stone.ID}, Records: others}
		if len(names) == 1 && n == 1 {
			lead.Record = names[0].ID
		}
		lead.Reasons = []string{
			fmt.Sprintf("an unknown in the row between %s (%s) and %s (%s), who stand close together in %s", r.before.Stone.ID, f.describe(r.first), r.after.Stone.ID, f.describe(r.last), r.first.Source.File),
			fmt.Sprintf("between the men of %s and %s the roster has, with no stone known to be theirs: %s", r.before.Stone.ID, r.after.Stone.ID, strings.Join(told, "; ")),
		}
		out = append(out, lead)
	}
	return out
}

// manOf is the record that is a named stone's man's with a probability of one half or more; nil where none is.
func (f *finder) manOf(s *model.Subject) *model.Record {
	if s.Reading().Unknown {
		return nil
	}
	claims := f.claims(s.Stone.ID)
	if len(claims) == 0 || claims[0].Probability < 0.5 {
		return nil
	}
	return f.records[claims[0].Record]
}

// leadByNumber finds the rows of lists that give the number on an unknown's block to a man of that ground.
func (f *finder) leadByNumber(s *model.Subject) (model.Finding, bool) {
	lead := model.Finding{Stone: s.Stone.ID, Kind: model.UnknownLead, Probability: weight("unknown-number")}
	number := s.Reading().GraveNumber
	if s.Stone.Register != nil || !s.Reading().Unknown || number == "" {
		return lead, false
	}
	var told []string
	for _, o := range f.registers {
		if c := o.Reading().Claim(); strings.EqualFold(o.Stone.Place.Cemetery, s.Stone.Place.Cemetery) && o.Stone.Place.Plot == number &&
			(s.Stone.Place.Section == "" || o.Stone.Place.Section == "" || s.Stone.Place.Section == o.Stone.Place.Section) && c.Person.Name.Surname != "" {
			name := who(c)
			if f.livingStone(o) {
				name = "a man " + heldBack
			}
			lead.Stones = append(lead.Stones, o.Stone.ID)
			told = append(told, fmt.Sprintf("%s (%s)", name, o.Stone.Source.Words()))
		}
	}
	for _, id := range slices.Sorted(maps.Keys(f.buriedHere)) {
		if b := f.buriedHere[id]; strings.EqualFold(b.ground.Name, s.Stone.Place.Cemetery) && graveIs(b.text, number) {
			told = append(told, fmt.Sprintf("%s (record %s)", f.describe(b.record), id))
			lead.Records = append(lead.Records, id)
			lead.Record, lead.Conflict = id, warOf(b.record)
		}
	}
	if len(told) == 0 || len(told) > mostNames {
		return lead, false
	}
	if len(told) > 1 {
		lead.Record = ""
		lead.Probability /= float64(len(told))
	}
	lead.Reasons = []string{fmt.Sprintf("the block says only %q, and a list gives that number in this ground to %s", number, strings.Join(told, "; "))}
	return lead, true
}

// graveIs reports whether a burial remark gives this number to the grave: "grave 17", "Gr. 17", "No. 17".
func graveIs(text, number string) bool {
	ws := words(text)
	for i := 1; i < len(ws); i++ {
		if ws[i].word == number && ws[i-1].tells == "number" {
			return true
		}
	}
	return false
}
