package desk

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/marker/drawing"
)

// stoneView is what the page of a stone shows.
type stoneView struct {
	ID        model.StoneID
	Headline  string
	Place     string
	Kind      kind
	Standing  string
	Voices    []model.Decision
	Dispute   string
	Line      string // how it stands, to compare with later
	Recorded  recorded
	Lines     []line
	Fields    []fieldRow
	Others    []string // further people whom it names
	Notes     []string // about the reading
	Unread    []string
	Design    design
	Drawing   template.HTML
	Time      template.HTML
	TimeFrom  model.RecordID // whose years fill in where the stone is silent
	Pair      *pairView
	Cards     []card
	More      int // candidates not shown
	None      float64
	Fresh     bool
	Remarks   []string // of the proposal
	Would     []string // what would change the ranking, or settle it
	Bears     []listed
	Next      *listed
	NextBears int
	Ahead     *listed
	Written   []model.Cell
	Remembers []model.Decision // notes of people
	Register  bool
}

// recorded is what was recorded beside the row: the photograph, by whom, and a note.
type recorded struct {
	Photo, PhotoFault, By, Notes string
	Width, Height                int
}

// design is what the design of the stone implies.
type design struct {
	Patterns, Services []string
	Made               string
	Contradictions     []string
	Because            []string
	Next               string
}

func (d *Desk) stonePage(w http.ResponseWriter, r *http.Request) error {
	if reviewer(r) == "" {
		return d.askWho(w, r, r.URL.RequestURI())
	}
	q := r.URL.Query()
	i, err := d.stoneOf(q.Get("id"))
	if err != nil {
		return err
	}
	if err := d.refresh(); err != nil {
		return err
	}
	v, err := d.stoneView(i, model.RecordID(q.Get("with")), q.Get("all") != "")
	if err != nil {
		return err
	}
	c := d.frame(r, "Stone "+string(v.ID), "stone", v)
	c.Flash = d.flash(q.Get("did"))
	c.Stone = v.ID
	return d.render(w, http.StatusOK, "stone", c)
}

// stoneView gathers what the page of stone i shows; with is a record that a person brought, "" for none.
func (d *Desk) stoneView(i int, with model.RecordID, all bool) (*stoneView, error) {
	b := d.standings()
	r, state := d.current()
	s := d.subjects[i]
	p, fresh := r.now(i, state)
	v := &stoneView{ID: s.Stone.ID, Headline: say.Headline(s), Place: say.Place(s.Stone.Place), Kind: b.kinds[i], Standing: b.kinds[i].Name(), Fresh: fresh,
		Voices: state.Voices(s.Stone.ID), Remembers: state.Notes(s.Stone.ID), None: p.None, Remarks: remarks(p.Notes), Would: remarks(p.WouldChange), Written: s.Stone.Written, Register: s.Stone.Register != nil,
		Line: d.voicesLine(i, state)}
	if b.kinds[i] == disputed {
		v.Dispute = "People decided differently on this stone. Both decisions stand until somebody takes one back."
	}
	if text := severalMen(state, s.Stone.ID); text != "" && !state.DisputedStone(s.Stone.ID) {
		v.Dispute = text
	}
	reading := s.Reading()
	v.Lines, v.Fields = inscriptionWords(s.Stone, reading)
	v.Notes, v.Unread = reading.Notes, reading.Unread
	for k, o := range reading.People {
		if k > 0 {
			text := say.Claim(o)
			if o.Person.Relation != "" {
				text += " (" + o.Person.Relation + ")"
			}
			v.Others = append(v.Others, text)
		}
	}
	d.record(v, s)
	cands := p.Candidates
	if with != "" && !slices.ContainsFunc(cands, func(c model.Candidate) bool { return c.Record == with }) {
		rec, ok := d.index.Record(with)
		if !ok {
			return nil, &wrong{http.StatusNotFound, fmt.Sprintf("there is no record %q in the rosters", with)}
		}
		c := d.weigh(i, rec)
		c.Decided = standing(state.Of(s.Stone.ID, with).As)
		cands = append([]model.Candidate{c}, cands...)
	}
	v.cards(d, s, cands, with, all, state)
	v.pair(p.Candidates)
	v.time(d, s, reading, p.Candidates)
	for _, o := range d.bears(b, i) {
		v.Bears = append(v.Bears, d.listed(b, o))
	}
	if n := b.after(i); n >= 0 {
		l := d.listed(b, n)
		v.Next, v.NextBears = &l, len(d.bears(b, n))
	}
	if n := b.ahead(i); n >= 0 {
		l := d.listed(b, n)
		v.Ahead = &l
	}
	return v, nil
}

// remarks are a proposal's notes, each once.
func remarks(notes []string) []string {
	var out []string
	for _, n := range notes {
		n = sentence(n)
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// A page shows the likeliest design and service, and up to shownDesigns of those with a chance of at least shownDesign.
const (
	shownDesigns = 3
	shownDesign  = 0.05
)

// record fills in what was recorded of the stone, its drawing and what its design implies.
func (d *Desk) record(v *stoneView, s *model.Subject) {
	v.Recorded.By, v.Recorded.Notes = s.Stone.Recorder, s.Stone.Notes
	if day := say.Date(s.Stone.Recorded); day != "" {
		v.Recorded.By = strings.TrimPrefix(v.Recorded.By+", "+day, ", ")
	}
	if s.Stone.Photo != "" {
		if p, err := d.openPhoto(s.Stone.Photo); err != nil {
			v.Recorded.PhotoFault = fmt.Sprintf("The photograph %q is not shown: %v.", s.Stone.Photo, err)
		} else {
			v.Recorded.Photo, v.Recorded.Width, v.Recorded.Height = s.Stone.Photo, p.width, p.height
		}
	}
	if s.Stone.Register != nil {
		return
	}
	v.Drawing = template.HTML(drawing.Stone(s.Stone, s.Implies)) // package drawing escapes what it is given
	for i, p := range s.Implies.Patterns {
		if i == shownDesigns || i > 0 && p.Probability < shownDesign {
			break
		}
		v.Design.Patterns = append(v.Design.Patterns, fmt.Sprintf("%s, %s", vocab.Label("pattern", string(p.Code)), vocab.Percent(p.Probability)))
	}
	for i, x := range s.Implies.Services {
		if i == shownDesigns || i > 0 && x.Probability < shownDesign {
			break
		}
		v.Design.Services = append(v.Design.Services, fmt.Sprintf("%s, %s", say.Service(x.Code), vocab.Percent(x.Probability)))
	}
	switch from, to := s.Implies.From, s.Implies.To; {
	case from != 0 && to != 0:
		v.Design.Made = fmt.Sprintf("%d to %d", from, to)
	case from != 0:
		v.Design.Made = fmt.Sprintf("in or after %d", from)
	case to != 0:
		v.Design.Made = fmt.Sprintf("in or before %d", to)
	}
	for _, c := range s.Implies.Contradictions {
		v.Design.Contradictions = append(v.Design.Contradictions, sentence(c.Text))
	}
	for _, t := range s.Implies.Because {
		v.Design.Because = append(v.Design.Because, sentence(t))
	}
	if s.Implies.Next != "" {
		v.Design.Next = sentence(s.Implies.Next)
	}
}

// sentence is a text with a capital and a full stop.
func sentence(s string) string {
	s = say.Capital(strings.TrimSpace(s))
	if s != "" && !strings.ContainsAny(s[len(s)-1:], ".!?") {
		s += "."
	}
	return s
}

// time draws the years of the stone, and, where it is silent, those of the likeliest record.
func (v *stoneView) time(d *Desk, s *model.Subject, reading model.Reading, cands []model.Candidate) {
	if s.Stone.Register != nil && len(reading.People) == 0 {
		return
	}
	man := likeliest(cands)
	if man != nil && man.Probability < 0.5 && man.Decided != string(model.Confirmed) {
		man = nil
	}
	reading = s.About(man).Reading()
	claim := reading.Claim()
	if man != nil {
		if rec, ok := d.index.Record(man.Record); ok {
			both, taken := drawing.Lived(claim, rec)
			if claim = both; taken {
				v.TimeFrom = rec.ID
			}
		}
	}
	people := append([]model.Claim{claim}, reading.People[min(1, len(reading.People)):]...)
	reading.People = people
	v.Time = template.HTML(drawing.Time(s.Stone, reading, s.Implies)) // package drawing escapes what it is given
}
