package unmarked

import (
	"cmp"
	"iter"
	"math"
	"slices"
	"strings"
	"sync"

	"musterstone/link/ledger"
	"musterstone/model"
	"musterstone/vocab"
)

// Input is what findings are made from.
type Input struct {
	// Subjects are the survey's stones and register rows.
	Subjects []*model.Subject
	// Proposals are what linking says of the subjects, in any order.
	Proposals []model.Proposal
	// Records are all service records of the survey, nil for none; they are gone through twice.
	Records iter.Seq[*model.Record]
	// Decisions are what people have decided.
	Decisions ledger.State
	// Cemeteries are the survey's burial grounds; nil means those that the subjects name: see Cemeteries.
	Cemeteries []Cemetery
	// Least is the probability below which a finding is left out; 0 means the table's.
	Least float64
	// LivingRecord and LivingStone report of whom it must be thought that he may be living: of a record's man, of those whom a stone or a register's row names. Reasons do not
	// name them where they speak of them beside the finding's own man. nil means nobody.
	LivingRecord func(*model.Record) bool
	LivingStone  func(*model.Subject) bool
}

// Find gives the findings: the veterans with no government marker, likeliest first; then the government markers that are wrong, failing or one too
// many; then leads to the names of unknowns. The same input gives the same findings.
func Find(in Input) []model.Finding {
	f := newFinder(in)
	out := f.noMarker()
	for _, s := range f.in.Subjects {
		out = append(out, f.officialMarkers(s)...)
	}
	out = append(out, f.secondMarkers()...)
	out = append(out, f.unknownLeads()...)
	for i := range out {
		out[i].Probability = round4(out[i].Probability)
	}
	slices.SortStableFunc(out, func(a, b model.Finding) int {
		return cmp.Or(cmp.Compare(order(a.Kind), order(b.Kind)), cmp.Compare(b.Probability, a.Probability), cmp.Compare(b.Kind, a.Kind), cmp.Compare(a.Stone, b.Stone), cmp.Compare(a.Record, b.Record))
	})
	return out
}

// noMarker are the findings of veterans with no government marker.
func (f *finder) noMarker() []model.Finding {
	var out []model.Finding
	for _, s := range f.in.Subjects {
		var found model.Finding
		if s.Stone.Register == nil {
			found = f.privateStone(s)
		} else {
			found = f.registerRow(s)
		}
		if found.Probability >= f.least {
			out = append(out, found)
		}
	}
	return f.joinRegister(out, f.recordsBuriedHere())
}

// NoMarker reports whether a finding is of a veteran with no government marker, and not about one that stands.
func NoMarker(kind string) bool { return kind == model.PrivateStone || kind == model.NoStone }

// order puts the veterans with no government marker first, then what is amiss with those that stand, then the leads.
func order(kind string) int {
	switch {
	case NoMarker(kind):
		return 0
	case kind == model.UnknownLead:
		return 2
	}
	return 1
}

// finder holds what the findings share.
type finder struct {
	in         Input
	least      float64
	proposals  map[model.StoneID]model.Proposal
	grounds    []ground
	government []marked
	// byName are the government markers, and stonesOf all stones, by the surnames on them in lower case.
	byName   map[string][]marked
	stonesOf map[string][]*model.Subject
	// rowsOf are the rows of registers by the surnames in them in lower case, and registers all of them.
	rowsOf    map[string][]*model.Subject
	registers []*model.Subject
	subjects  map[model.StoneID]*model.Subject
	// hasStones are the grounds, in lower case, in which stones were recorded.
	hasStones map[string]bool
	// records are those that a candidate or a decision names.
	records map[model.RecordID]*model.Record
	// onStones is, for each record, the stones that may be his.
	onStones map[model.RecordID][]claimed
	// buriedHere are the records whose words name one of the survey's grounds.
	buriedHere map[model.RecordID]buriedHere
	rosters    rosters
}

// marked is a stone that is probably a government marker.
type marked struct {
	subject *model.Subject
	share   float64 // the chance that its design is the government's
}

// claimed is a stone that is a record's man's with some probability.
type claimed struct {
	stone model.StoneID
	p     float64 // as weighed has it
	// linked is the linking posterior, as everything else tells it.
	linked float64
	// alone is the linking posterior with no regard to other stones that claim the record too: one man may have two stones.
	alone    float64
	official float64 // the chance that the stone is a government marker
	register bool
}

// newFinder goes once over the subjects and once over the records, and works out what all findings share.
func newFinder(in Input) *finder {
	if in.Least == 0 {
		in.Least = weight("least")
	}
	if in.Cemeteries == nil {
		in.Cemeteries = Cemeteries(in.Subjects)
	}
	if in.Records == nil {
		in.Records = func(func(*model.Record) bool) {}
	}
	in.Subjects = slices.SortedStableFunc(slices.Values(in.Subjects), func(a, b *model.Subject) int { return cmp.Compare(a.Stone.ID, b.Stone.ID) })
	f := &finder{in: in, least: in.Least, grounds: grounds(in.Cemeteries), proposals: map[model.StoneID]model.Proposal{}, subjects: map[model.StoneID]*model.Subject{},
		byName: map[string][]marked{}, stonesOf: map[string][]*model.Subject{}, rowsOf: map[string][]*model.Subject{}, hasStones: map[string]bool{},
		records: map[model.RecordID]*model.Record{}, onStones: map[model.RecordID][]claimed{}, buriedHere: map[model.RecordID]buriedHere{}}
	for _, p := range in.Proposals {
		f.proposals[p.Stone] = p
	}
	for _, s := range in.Subjects {
		f.subjects[s.Stone.ID] = s
		official := 1 - private(s.Implies)
		if s.Stone.Register == nil && official >= 0.5 {
			f.government = append(f.government, marked{s, official})
			name := strings.ToLower(s.Reading().Claim().Person.Name.Surname)
			f.byName[name] = append(f.byName[name], marked{s, official})
		}
		if s.Stone.Register != nil {
			name := strings.ToLower(s.Reading().Claim().Person.Name.Surname)
			f.rowsOf[name] = append(f.rowsOf[name], s)
			f.registers = append(f.registers, s)
		} else {
			f.hasStones[strings.ToLower(s.Stone.Place.Cemetery)] = true
			for _, p := range s.Reading().People {
				name := strings.ToLower(p.Person.Name.Surname)
				if l := f.stonesOf[name]; len(l) == 0 || l[len(l)-1] != s {
					f.stonesOf[name] = append(l, s)
				}
			}
		}
		for _, c := range f.claims(s.Stone.ID) {
			f.records[c.Record] = nil
		}
	}
	n, said := 0, 0
	for r := range in.Records {
		n++
		if saysBuried(r) {
			said++
		}
		if _, ok := f.records[r.ID]; ok {
			f.records[r.ID] = r
		}
		if b := f.burial(r); b.chance > 0 {
			f.buriedHere[r.ID] = b
		}
	}
	f.rosters = f.measureRosters(n, said)
	for _, s := range f.in.Subjects {
		claims := f.claims(s.Stone.ID)
		weighed := f.weighed(s, claims)
		for i, c := range claims {
			f.onStones[c.Record] = append(f.onStones[c.Record], claimed{s.Stone.ID, weighed[i], c.Probability, alone(c, claims, n), 1 - private(s.Implies), s.Stone.Register != nil})
		}
	}
	return f
}

// claims are the records that may be the stone's man, with their probabilities, best first. A decision has the last word: a
// confirmed record is certain as far as this package goes, and what was refused is gone.
func (f *finder) claims(id model.StoneID) []model.Candidate {
	confirmed := f.in.Decisions.Confirmed(id)
	if len(confirmed) > 0 {
		var out []model.Candidate
		for _, r := range confirmed {
			out = append(out, model.Candidate{Record: r, Probability: 1, Decided: string(model.Confirmed)})
		}
		return out
	}
	var out []model.Candidate
	for _, c := range f.proposals[id].Candidates {
		if c.Probability > 0 && !f.in.Decisions.Refused(id, c.Record) {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b model.Candidate) int {
		return cmp.Or(cmp.Compare(b.Probability, a.Probability), cmp.Compare(a.Record, b.Record))
	})
	return out
}

// alone is the chance that the record is the stone's man's if no other stone claimed it: by Bayes' rule over the stone's candidates, with
// even odds that its man is among the n records at all. It is never less than what linking says.
func alone(c model.Candidate, claims []model.Candidate, n int) float64 {
	if c.Bits <= 0 || n == 0 || c.Decided == string(model.Confirmed) {
		return c.Probability
	}
	total := float64(n)
	for _, other := range claims {
		total += math.Exp2(other.Bits)
	}
	return max(c.Probability, math.Exp2(c.Bits)/total)
}

// private is the chance that a marker of this design was not furnished by the government.
func private(m model.Implication) float64 {
	if len(m.Patterns) == 0 {
		return weight("pattern-unknown")
	}
	p := 0.0
	for _, w := range m.Patterns {
		switch w.Code {
		case model.NotGovernment:
			p += w.Probability
		case model.UnknownPattern:
			p += w.Probability * weight("pattern-unknown")
		}
	}
	return min(p, 1)
}

var weights = sync.OnceValue(func() map[string]float64 {
	m := map[string]float64{}
	for _, r := range vocab.Rows("unmarked-weights") {
		m[r.Get("key")] = r.Float("value")
	}
	return m
})

func weight(key string) float64 {
	w, ok := weights()[key]
	if !ok {
		panic("table unmarked-weights has no row " + key)
	}
	return w
}

// either joins independent chances by noisy-or.
func either(ps ...float64) float64 {
	none := 1.0
	for _, p := range ps {
		none *= 1 - p
	}
	return 1 - none
}

// heldBack stands for what would tell of a man who may be living.
const heldBack = "(held back: he may be living)"

// livingRecord reports whether a record's man may be living.
func (f *finder) livingRecord(r *model.Record) bool {
	return r != nil && f.in.LivingRecord != nil && f.in.LivingRecord(r)
}

// livingStone reports whether somebody on a stone or in a register's row may be living.
func (f *finder) livingStone(s *model.Subject) bool {
	return f.in.LivingStone != nil && f.in.LivingStone(s)
}

// who names the man of a claim, or says that he has no name.
func who(c model.Claim) string {
	n := c.Person.Name.String()
	if n == "" {
		n = strings.TrimSpace(c.Person.Name.Written)
	}
	if n == "" {
		return "a man without a name"
	}
	return n
}
