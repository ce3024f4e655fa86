package main

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/unmarked"
	"musterstone/link/unmarked/estimate"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/marker/drawing"
)

//go:embed unmarked.html.tmpl
var leadsPage string

// page is what the page of leads is made from.
type page struct {
	Title, Sentence, Printed, Program string
	Held                              string // that private columns are held back
	Assumptions, Cautions             []string
	Caution                           string // in short, for the foot of a sheet
	Grounds                           []groundLine
	Level                             int  // of the intervals, in percent
	Unsaid                            bool // of some ground, though not of all, no estimate can be made
	MoreGrounds                       int  // without a line for want of room
	States                            []string
	ByKind, ByWar, ByPattern          []tally
	Plans                             []template.HTML
	LeftOut                           string // which grounds have no plan for want of room
	Rows                              []row
	Sheets                            []leadSheet
	Proofs                            []proofLine
	Sources                           []string
}

// proofLine is a thing to be shown, where it is kept, and the numbers of the sources that say so.
type proofLine struct{ Text, Numbers string }

// groundLine is a burial ground in the report: how many lie there without a government marker, or, Found, only how many are found.
type groundLine struct {
	Name, Count, Interval, Named string
	Found                        bool
	Leads                        int
}

func newGroundLine(name string, r estimate.Result, leads int) groundLine {
	line := groundLine{Name: name, Count: fmt.Sprintf("about %.0f", r.N), Interval: fmt.Sprintf("%d to %d", r.From, r.To), Named: fmt.Sprintf("%.0f", r.Named), Leads: leads}
	if !r.Estimated {
		line.Count, line.Found = fmt.Sprintf("%.0f found", r.Found), true
	}
	return line
}

// tally counts leads, by state of certainty and in all.
type tally struct {
	Name   string
	States []int
	All    int
}

// row is a line of the work list.
type row struct {
	Number                                 int
	Ground, Where, Plot, ID, Name, Kind, P string
	NewGround, NewWhere                    bool
}

// leadSheet is one sheet of paper.
type leadSheet struct {
	Number                                             int
	Title, Kind, P, State, ID, Where, Name, War, Found string
	Stone, Time                                        template.HTML
	Inscription                                        []string
	Reading                                            []pair
	Record                                             []pair
	RecordID                                           string
	Reasons, ToShow, Contradictions                    []string
	Withheld, Last                                     bool
	NotShown                                           string // stands for what is still to be shown
}

// writeHTML writes the report, the work list and a sheet for each lead as one page, made to print on letter and A4, that loads nothing.
func (a *app) writeHTML(w io.Writer, all *leads) error {
	t, err := template.New("leads").Parse(leadsPage)
	if err != nil {
		return fmt.Errorf("read the page of leads: %w", err)
	}
	p := page{Title: all.title, Sentence: say.Capital(sentence(all.total)), Printed: dayWords(a.now()), Program: "Musterstone " + version,
		Held: all.heldWords(), Assumptions: all.assumptions(), Cautions: unmarked.Cautions(), Caution: unmarked.Caution(), States: states, Level: int(math.Round(100 * all.total.Level))}
	if p.Title == "" {
		p.Title = "A survey without a title"
	}
	for i, g := range all.grounds {
		n := 0
		for j := range all.all {
			if strings.EqualFold(all.all[j].place.Cemetery, g) {
				n++
			}
		}
		p.Grounds = append(p.Grounds, newGroundLine(g, all.counts[i], n))
		p.Unsaid = p.Unsaid || all.total.Estimated && !all.counts[i].Estimated
	}
	if len(p.Grounds) == 1 {
		p.Grounds, p.Unsaid = nil, false // the sentence above says it
	}
	p.Grounds, p.MoreGrounds = most(p.Grounds)
	p.ByKind = tallies(all, kindsInWords(), func(l *lead) string { return kindWords(l.Kind) })
	var wars []string
	for _, c := range vocab.Conflicts() {
		wars = append(wars, c.Name)
	}
	none := func(l *lead) bool { return unmarked.NoMarker(l.Kind) }
	p.ByWar = tallies(all.only(none), append(wars, "war not told"), func(l *lead) string {
		if l.Conflict == "" {
			return "war not told"
		}
		return conflictWords(l.Conflict)
	})
	p.ByPattern = shortened(tallies(all, nil, (*lead).pattern))
	p.Plans, p.LeftOut = plans(all)
	ground, where := "-", "-"
	for i := range all.all {
		l := &all.all[i]
		r := row{Number: l.number, Ground: l.place.Cemetery, Where: rowWords(l), Plot: l.place.Plot, ID: l.what(), Name: l.name(), Kind: kindWords(l.Kind), P: percent(l.Probability)}
		r.NewGround = r.Ground != ground
		r.NewWhere = r.NewGround || r.Where != where
		ground, where = r.Ground, r.Where
		p.Rows = append(p.Rows, r)
		p.Sheets = append(p.Sheets, newSheet(l))
	}
	p.Proofs, p.Sources = proofSources(all)
	if n := len(p.Sheets); n > 0 {
		p.Sheets[n-1].Last = true
	}
	if err := t.Execute(w, p); err != nil {
		return fmt.Errorf("write the page of leads: %w", err)
	}
	return nil
}

func kindsInWords() []string {
	var out []string
	for _, k := range kinds {
		out = append(out, kindWords(k))
	}
	return out
}

// What the first page of the report has room for.
const (
	mostGrounds  = 12
	mostPatterns = 8
)

// most are the grounds with the most leads, in their order, and how many others there are.
func most(grounds []groundLine) ([]groundLine, int) {
	if len(grounds) <= mostGrounds {
		return grounds, 0
	}
	leads := make([]int, len(grounds))
	for i, g := range grounds {
		leads[i] = g.Leads
	}
	slices.Sort(leads)
	least := leads[len(leads)-mostGrounds]
	var out []groundLine
	for _, want := range []func(int) bool{func(n int) bool { return n > least }, func(n int) bool { return n == least }} {
		for _, g := range grounds {
			if want(g.Leads) && len(out) < mostGrounds {
				out = append(out, g)
			}
		}
	}
	slices.SortFunc(out, func(a, b groundLine) int { return strings.Compare(a.Name, b.Name) })
	return out, len(grounds) - len(out)
}

// shortened joins the rarest to one line, where there are too many.
func shortened(list []tally) []tally {
	if len(list) <= mostPatterns {
		return list
	}
	list = slices.SortedStableFunc(slices.Values(list), func(a, b tally) int { return b.All - a.All })
	rest := tally{Name: fmt.Sprintf("%d other patterns", len(list)-mostPatterns+1), States: make([]int, len(states))}
	for _, t := range list[mostPatterns-1:] {
		rest.All += t.All
		for i, n := range t.States {
			rest.States[i] += n
		}
	}
	return append(list[:mostPatterns-1], rest)
}

// only are the leads that are wanted.
func (all *leads) only(want func(*lead) bool) *leads {
	out := &leads{}
	for _, l := range all.all {
		if want(&l) {
			out.all = append(out.all, l)
		}
	}
	return out
}

// tallies counts leads by a name: in the order given, what is not in it after that by the alphabet; names without leads are left out.
func tallies(all *leads, order []string, name func(*lead) string) []tally {
	at := map[string]*tally{}
	var more []string
	for i := range all.all {
		l := &all.all[i]
		n := name(l)
		t := at[n]
		if t == nil {
			t = &tally{Name: n, States: make([]int, len(states))}
			at[n] = t
			if !slices.Contains(order, n) {
				more = append(more, n)
			}
		}
		t.States[slices.Index(states, l.state())]++
		t.All++
	}
	slices.Sort(more)
	var out []tally
	for _, n := range append(slices.Clone(order), more...) {
		if t := at[n]; t != nil {
			out = append(out, *t)
		}
	}
	return out
}

// newSheet puts one lead on a sheet. Of a man who may be living it tells where he is looked for, what kind of lead it is and what is to be shown, and nothing that names him.
func newSheet(l *lead) leadSheet {
	s := leadSheet{Number: l.number, Kind: say.Capital(kindWords(l.Kind)), P: percent(l.Probability), State: l.state(), Name: l.name(), War: conflictWords(l.Conflict), Withheld: l.withheld, ToShow: l.ToShow}
	if l.unshown {
		s.NotShown = privateToShow
	}
	s.Where = say.Place(l.place)
	if s.Where == "" {
		s.Where = "place not known"
	}
	s.ID = l.what()
	if l.subject == nil {
		s.Where += ", place in the ground not known"
	}
	if l.withheld {
		return s
	}
	s.Reasons = l.Reasons
	stone := model.Stone{ID: model.StoneID(l.Record), Place: l.place}
	var imp model.Implication
	if l.subject != nil {
		stone, imp = *l.subject.Stone, l.subject.Implies
		for _, c := range imp.Contradictions {
			s.Contradictions = append(s.Contradictions, c.Text)
		}
		if stone.Register == nil {
			s.Stone = picture(drawing.Stone(&stone, imp), l.number)
			if stone.Marker.Inscription != "" {
				s.Inscription = strings.Split(stone.Marker.Inscription, "\n")
			}
		}
		s.Reading = claimPairs(l.subject.Reading().Claim())
		s.Reading = append(s.Reading, pairs("looks like", l.pattern(), "signs", strings.Join(stone.Marker.Motifs, ", "), "condition", stone.Marker.Condition,
			"recorded", say.Date(stone.Recorded), "notes", stone.Notes)...)
	}
	if l.record != nil {
		s.RecordID = string(l.record.ID)
		s.Record = append(claimPairs(l.record.Claim), pairs("lived", l.record.Person.Residence, "buried, it says", l.record.Person.Buried, "remarks", l.record.Service.Remarks, "from", l.record.Source.Words())...)
	}
	s.Time = picture(drawing.Time(&stone, model.Reading{People: []model.Claim{life(l)}}, imp), l.number)
	return s
}

// picture is a drawing as a part of a page: a stone may be on several of its sheets, so that the ids of title and description get the sheet's number.
func picture(svg string, sheet int) template.HTML {
	_, after, _ := strings.Cut(svg, `aria-labelledby="`)
	id, _, ok := strings.Cut(after, "-t ")
	if ok && id != "" {
		for _, end := range []string{"-t", "-d"} {
			svg = strings.NewReplacer(`id="`+id+end+`"`, fmt.Sprintf(`id="n%d-%s%s"`, sheet, id, end)).Replace(svg)
		}
		svg = strings.Replace(svg, `aria-labelledby="`+id+"-t "+id+`-d"`, fmt.Sprintf(`aria-labelledby="n%d-%s-t n%d-%s-d"`, sheet, id, sheet, id), 1)
	}
	return template.HTML(svg)
}

// life is what is told of a man's years, for the picture of time.
func life(l *lead) model.Claim {
	c := l.claim()
	if l.subject == nil {
		c.Person.Age = date.Age{} // a roster tells it as of the day on which he came, and a stone as of that on which he died
	}
	if l.record != nil {
		c, _ = drawing.Lived(c, l.record)
	}
	if len(c.Service.Conflicts) == 0 && l.Conflict != "" {
		c.Service.Conflicts = []model.ConflictCode{l.Conflict}
	}
	return c
}
