package link

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/vocab"
)

// tell makes the proposals of a stretch of stones out of their answers: with the evidence of each candidate, how many men share its name, why the runner-up lost, and what would
// change the ranking.
func (l *Linker) tell(w *weigh.Weigher, of subjects, f *Fit, all []weighed, answers []answer, from, to int) *Told {
	told := &Told{From: from, Subjects: make([]*model.Subject, to-from), Proposals: make([]model.Proposal, to-from), Rows: make([][]uint32, to-from)}
	var room tellRoom
	for k := range told.Proposals {
		i := from + k
		me, list := &all[i], answers[i].list
		told.Subjects[k] = of.at(i)
		told.Rows[k], room.rows = make([]uint32, len(list)), room.rows[:0]
		for n := range list {
			told.Rows[k][n] = NoRow
			if me.rows != nil && me.rows.list[list[n].cand].view != noView {
				told.Rows[k][n] = me.rows.list[list[n].cand].number
				room.rows = append(room.rows, told.Rows[k][n])
			}
		}
		w.Ask(room.rows)
		l.tellOne(w, f, all, i, &answers[i], told.Subjects[k], &told.Proposals[k], &room)
	}
	return told
}

// tellRoom is room for a record, for the rows that a stone is told with, and for what an earlier run kept of it.
type tellRoom struct {
	record model.Record
	rows   []uint32
	kept   []byte
	found  []keptAt
	// evidence is room for that of the next candidates, manyLines at a time, each candidate's behind the last one's.
	evidence []model.Evidence
}

const manyLines = 512

// tellOne makes the proposal of stone i.
func (l *Linker) tellOne(w *weigh.Weigher, f *Fit, all []weighed, i int, a *answer, s *model.Subject, p *model.Proposal, tell *tellRoom) {
	me := &all[i]
	*p = model.Proposal{Stone: me.stone, None: a.none, Candidates: make([]model.Candidate, len(a.list))}
	for k := range a.list {
		c := &a.list[k]
		j := int(c.cand)
		cand := &p.Candidates[k]
		if me.rows == nil {
			*cand = me.cands[j]
			sum(cand)
		} else {
			*cand = model.Candidate{Record: me.id(j), Bits: me.bits(j), Decided: me.decided(j).String()}
		}
		cand.Probability, cand.Proposed, cand.Second = c.p, c.proposed, c.second
	}
	for _, r := range a.rivals {
		p.Notes = append(p.Notes, claimNote(me, &all[r.stone], p.Candidates[r.choice].Record))
	}
	for _, t := range a.twins {
		mine, other := p.Candidates[t[0]].Record, &p.Candidates[t[1]]
		other.SameAs = mine
		p.Notes = append(p.Notes, fmt.Sprintf("records %s and %s look like one man, listed twice", mine, other.Record))
	}
	if me.rows != nil {
		l.spell(w, f, i, me, a, s, p, tell)
	} else {
		for k := range a.list {
			if r := me.records[a.list[k].cand]; r != nil {
				p.Candidates[k].Namesakes = l.Counts.Namesakes(r)
			}
		}
	}
	if len(p.Candidates) == 0 || p.Candidates[0].Decided != "" {
		return
	}
	if len(p.Candidates) > 1 && p.Candidates[1].Decided == "" {
		p.RunnerUp = runnerUp(&p.Candidates[0], &p.Candidates[1])
	}
	p.WouldChange = wouldChange(s, p)
}

// spell gives the candidates of stone i, which are rows, their evidence and their namesakes: by the lines that an earlier run kept, or weighing the rows again.
func (l *Linker) spell(w *weigh.Weigher, f *Fit, i int, me *weighed, a *answer, s *model.Subject, p *model.Proposal, tell *tellRoom) {
	var lines weigh.Lines
	var views []view
	var kept *keptLines
	columns, learned, room := me.rows.columns, f.learned(me), &tell.record
	for k := range a.list {
		r := &me.rows.list[a.list[k].cand]
		if r.view == noView {
			continue
		}
		if views == nil {
			ready := w.Person
			if l.Kept != nil {
				var err error
				if tell.kept, err = l.Kept(i, tell.kept); err == nil {
					read := newKeptLines(tell.kept, tell.rows, tell.found)
					tell.found = read.rows
					kept, ready = &read, w.Told
				}
			}
			views = claims(w, s, ready, func(view int) bool {
				return slices.ContainsFunc(a.list, func(c choice) bool { return int(me.rows.list[c.cand].view) == view })
			})
		}
		if int(r.view) >= len(views) {
			continue // what was kept of the stone is not of this one
		}
		c, roster := &p.Candidates[k], f.roster(columns.Files()[r.file])
		c.Person = views[r.view].person
		columns.Record(r.number, room)
		if kept == nil {
			l.lines(views, r, &lines)
		} else if kept.of(r.number, &lines) && r.other {
			lines.Add(weigh.LevelNumber("decisions", "another stone's man"), l.another())
		}
		from := len(tell.evidence)
		if cap(tell.evidence)-from < weigh.MostLines {
			from, tell.evidence = 0, make([]model.Evidence, 0, manyLines)
		}
		tell.evidence = views[r.view].stone.SpellRow(tell.evidence, &lines, r.number, room)
		c.Evidence = slices.Clip(tell.evidence[from:])
		agree := me.agree(int(a.list[k].cand))
		n := 0
		for level, bits := range lines.All() {
			e := &c.Evidence[n]
			n++
			e.Bits = bits + learned.at(int(a.list[k].cand), agree, roster, level)
			switch e.Field {
			case "reading":
				e.Why = whyReading[e.Level]
			case "decisions":
				e.Why = confirmedFor(l.Settled.ConfirmedStones(c.Record)[0])
			}
		}
		sum(c)
		c.Namesakes = l.namesakes(me, a, p, k, room)
	}
}

// namesakes are those of candidate k; another one of the same name and unit, told before it, has the same.
func (l *Linker) namesakes(me *weighed, a *answer, p *model.Proposal, k int, room *model.Record) *model.Namesakes {
	columns, number := me.rows.columns, me.rows.list[a.list[k].cand].number
	for n := range k {
		if other := &me.rows.list[a.list[n].cand]; other.view != noView && columns.SameNameAndUnit(other.number, number) {
			return p.Candidates[n].Namesakes
		}
	}
	return l.Counts.NamesakesAt(columns, number, room)
}

// sum makes a candidate's bits the sum of its evidence to the last digit: what was learned was added to them in another order.
func sum(c *model.Candidate) {
	if len(c.Evidence) == 0 {
		return
	}
	c.Bits = 0
	for i := range c.Evidence {
		c.Bits += c.Evidence[i].Bits
	}
}

// whyReading says why a candidate is weighed under a reading that is not the likeliest, or against another man of the stone than the first.
var whyReading = map[string]string{
	"another reading": "the stone is likelier to be read otherwise",
	"another man":     "the stone names another man before him",
}

func confirmedFor(stone model.StoneID) string { return "confirmed for stone " + string(stone) }

// runnerUp sets the second candidate beside the best, field by field.
func runnerUp(best, second *model.Candidate) *model.RunnerUp {
	r := &model.RunnerUp{Record: second.Record, Behind: best.Bits - second.Bits}
	fields := map[string]int{}
	add := func(e model.Evidence, sign float64) {
		i, ok := fields[e.Field]
		if !ok {
			i = len(r.By)
			fields[e.Field] = i
			r.By = append(r.By, model.Evidence{Field: e.Field})
		}
		d := &r.By[i]
		d.Bits += sign * e.Bits
		if sign > 0 {
			d.Stone, d.Level = e.Record, e.Level
			return
		}
		d.Record = e.Record
		if d.Level != "" && d.Level != e.Level {
			d.Level += ", not " + e.Level
		} else if d.Level == "" {
			d.Level = "only the runner-up: " + e.Level
		}
	}
	for _, e := range best.Evidence {
		add(e, 1)
	}
	for _, e := range second.Evidence {
		add(e, -1)
	}
	r.By = slices.DeleteFunc(r.By, func(e model.Evidence) bool { return e.Bits == 0 })
	slices.SortStableFunc(r.By, func(a, b model.Evidence) int { return cmp.Compare(math.Abs(b.Bits), math.Abs(a.Bits)) })
	return r
}

// settling is a field that a person can go and look for, with where.
type settling struct{ field, ask string }

// settles are those of the table, in the order in which they tell most.
var settles = sync.OnceValue(func() []settling {
	var out []settling
	for _, r := range vocab.Rows("settling-fields") {
		out = append(out, settling{r.Get("field"), r.Get("ask")})
	}
	return out
})

// wouldChange says what would turn the ranking round or settle it: a field that speaks against the best as strongly as the lead is wide, and the fields not yet
// compared.
func wouldChange(s *model.Subject, p *model.Proposal) []string {
	best := &p.Candidates[0]
	if best.Probability > 0.999 {
		return nil
	}
	var out []string
	if s.Reading().Mention {
		out = append(out, "the stone names him only as another's husband or father, and few such stones mark him too: a register or a plan that has him here would change that")
	}
	if p.RunnerUp != nil && p.Candidates[1].Probability >= toldClaim {
		for _, e := range p.RunnerUp.By {
			if e.Bits > 0 && e.Bits >= p.RunnerUp.Behind {
				out = append(out, fmt.Sprintf("without the %s, %s would stand first", vocab.Label("field", e.Field), p.RunnerUp.Record))
			}
		}
	}
	var missing []string
	for _, f := range settles() {
		compared := slices.ContainsFunc(best.Evidence, func(e model.Evidence) bool {
			return e.Field == f.field && !(f.field == "given" && strings.Contains(e.Level, "initial"))
		})
		if !compared && (f.field != "given" || s.Reading().Claim().Person.Name.Given != "") {
			missing = append(missing, f.ask)
		}
		if len(missing) == 2 {
			break
		}
	}
	if len(missing) > 0 && (best.Probability < 0.98) {
		out = append(out, "not compared yet, and would tell: "+strings.Join(missing, "; "))
	}
	return out
}
