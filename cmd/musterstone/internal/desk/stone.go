package desk

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/ledger"
	"musterstone/model"
	"musterstone/model/date"
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

type recorded struct {
	Photo, PhotoFault, By, Notes string
	Width, Height                int
	Facts                        []model.Cell
}

// line is a line of an inscription, word by word.
type line struct{ Words []word }

// word is a stretch of a line. Group numbers what gave one field; 0 for none.
type word struct {
	Text, Field, Says string
	Group             int
}

// fieldRow is a field and the words that gave it.
type fieldRow struct {
	Group              int
	Name, Value, Words string
}

type design struct {
	Patterns, Services []string
	Made               string
	Contradictions     []string
	Because            []string
	Next               string
}

// card is a candidate.
type card struct {
	N           int
	Record      model.RecordID
	Who         string
	Known       bool // it is in the rosters
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
	// Bar is where the bar of the bits begins, and its width, in a picture of 120 by 10 with the middle at 60.
	From, Width int
	Against     bool
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

// listed is a stone in a list.
type listed struct {
	ID       model.StoneID
	Headline string
	Kind     kind
	Chance   float64
	Place    string
	Cells    []hitCell
}

func (d *Desk) listed(b *board, i int) listed {
	return listed{ID: d.subjects[i].Stone.ID, Headline: d.headline(i), Kind: b.kinds[i], Chance: b.best[i], Place: placeWords(d.subjects[i].Stone.Place)}
}

// A page shows the two likeliest candidates, and up to shownCards of those with a chance of at least shownChance, before it is asked for all.
const (
	shownCards  = 5
	shownChance = 0.01
)

// home goes to the next stone, or tells that all is done.
func (d *Desk) home(w http.ResponseWriter, r *http.Request) error {
	if reviewer(r) == "" {
		return d.askWho(w, r, "/")
	}
	if err := d.refresh(); err != nil {
		return err
	}
	b := d.standings()
	did := r.URL.Query().Get("did")
	if len(b.queue) > 0 {
		return d.goOn(w, r, b.queue[0], did)
	}
	return d.stand(w, r, b, d.flash(did))
}

// standPage tells how many stones stand how.
func (d *Desk) standPage(w http.ResponseWriter, r *http.Request) error {
	if err := d.refresh(); err != nil {
		return err
	}
	return d.stand(w, r, d.standings(), nil)
}

func (d *Desk) stand(w http.ResponseWriter, r *http.Request, b *board, flash []string) error {
	c := d.frame(r, "Where things stand", "stand", struct {
		Counts []countRow
		Stones int
	}{countRows(b), len(d.subjects)})
	c.Flash = flash
	return d.render(w, http.StatusOK, "done", c)
}

type countRow struct {
	Kind             kind
	Name, Long, Link string
	N                int
}

func countRows(b *board) []countRow {
	var rows []countRow
	for _, k := range kinds {
		rows = append(rows, countRow{k.Kind, k.Name, k.Long, "/find?state=" + string(k.Kind), b.counts[k.Kind]})
	}
	return rows
}

// flash tells what was just decided, and what came of it.
func (d *Desk) flash(id string) []string {
	if id == "" {
		return nil
	}
	for _, e := range d.ledger.Entries() {
		if e.ID != id {
			continue
		}
		x := e.Decision
		_, state := d.current()
		switch x.As {
		case model.Withdrawn:
			return []string{fmt.Sprintf("Taken back, on stone %s.", x.Stone)}
		case model.Noted:
			return []string{fmt.Sprintf("Noted on stone %s.", x.Stone)}
		}
		out := []string{say.Capital(decisionWords(x)) + "."}
		if state.DisputedStone(x.Stone) {
			out = append(out, "Another person decided otherwise: both stand, and the stone is disputed.")
		}
		if others := slices.DeleteFunc(state.ConfirmedStones(x.Record), func(s model.StoneID) bool { return s == x.Stone }); x.As == model.Confirmed && len(others) > 0 {
			out = append(out, fmt.Sprintf("That record is confirmed for stone %s too. That can be right (a family stone, a cenotaph); look at them together.", join(others)))
		}
		if x.As == model.Confirmed {
			r, _ := d.current()
			var told []string
			for _, o := range r.claims[x.Record] {
				if s := d.subjects[o].Stone.ID; s != x.Stone {
					told = append(told, string(s))
				}
			}
			if len(told) > 0 {
				out = append(out, "This bears on "+strings.Join(told, ", ")+", which claimed the same man.")
			}
		}
		return out
	}
	return nil
}

func join[T ~string](ids []T) string {
	var s []string
	for _, id := range ids {
		s = append(s, string(id))
	}
	return strings.Join(s, ", ")
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
	v := &stoneView{ID: s.Stone.ID, Headline: d.headline(i), Place: placeWords(s.Stone.Place), Kind: b.kinds[i], Standing: b.kinds[i].Name(), Fresh: fresh,
		Voices: state.Voices(s.Stone.ID), Remembers: state.Notes(s.Stone.ID), None: p.None, Remarks: remarks(p.Notes), Would: remarks(p.WouldChange), Written: s.Stone.Written, Register: s.Stone.Register != nil,
		Line: d.voicesLine(i, state)}
	if b.kinds[i] == disputed {
		v.Dispute = "People decided differently on this stone. Both stand until one of them changes his mind."
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

// record fills in what was recorded of the stone, its drawing and what its design implies.
func (d *Desk) record(v *stoneView, s *model.Subject) {
	m := s.Stone.Marker
	v.Recorded.By, v.Recorded.Notes = s.Stone.Recorder, s.Stone.Notes
	if !s.Stone.Recorded.IsZero() {
		v.Recorded.By = strings.TrimSpace(v.Recorded.By + ", " + say.Date(s.Stone.Recorded))
		v.Recorded.By = strings.TrimPrefix(v.Recorded.By, ", ")
	}
	if s.Stone.Photo != "" {
		if p, err := d.openPhoto(s.Stone.Photo); err != nil {
			v.Recorded.PhotoFault = fmt.Sprintf("The photograph %q is not shown: %v.", s.Stone.Photo, err)
		} else {
			v.Recorded.Photo, v.Recorded.Width, v.Recorded.Height = s.Stone.Photo, p.width, p.height
		}
	}
	fact := func(name, value string) {
		if value != "" {
			v.Recorded.Facts = append(v.Recorded.Facts, model.Cell{Column: name, Value: value})
		}
	}
	inches := func(x model.Inches) string {
		if x == 0 {
			return ""
		}
		return fmt.Sprintf("%g in", float64(x))
	}
	fact("top", m.Top)
	fact("material", m.Material)
	fact("width", inches(m.Width))
	fact("thickness", inches(m.Thickness))
	fact("above ground", inches(m.Height))
	fact("length", inches(m.Length))
	fact("lettering", m.Lettering)
	fact("device", m.Device)
	fact("emblem", m.Emblem)
	fact("motifs", strings.Join(m.Motifs, ", "))
	fact("setting", m.Setting)
	fact("condition", m.Condition)
	if s.Stone.Register != nil {
		return
	}
	v.Drawing = template.HTML(drawing.Stone(s.Stone, s.Implies)) // package drawing escapes what it is given
	for i, p := range s.Implies.Patterns {
		if i == 3 || i > 0 && p.Probability < 0.05 {
			break
		}
		v.Design.Patterns = append(v.Design.Patterns, fmt.Sprintf("%s, %s", vocab.Label("pattern", string(p.Code)), vocab.Percent(p.Probability)))
	}
	for i, x := range s.Implies.Services {
		if i == 3 || i > 0 && x.Probability < 0.05 {
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

func sentence(s string) string {
	s = say.Capital(strings.TrimSpace(s))
	if s != "" && !strings.ContainsAny(s[len(s)-1:], ".!?") {
		s += "."
	}
	return s
}

// maxGroups is how many fields the stylesheet can mark apart.
const maxGroups = 32

// inscriptionWords parts an inscription into lines and words, each with the field that it gave.
func inscriptionWords(s *model.Stone, r model.Reading) ([]line, []fieldRow) {
	if s.Register != nil || s.Marker.Inscription == "" {
		return nil, nil
	}
	text := s.Marker.Inscription
	type key struct {
		person int
		field  string
	}
	group := map[key]int{}
	lines := []line{{}}
	var rows []fieldRow
	var whole []bool // the row's value is that of the claim
	put := func(t string, w word) {
		for n, part := range strings.Split(t, "\n") {
			if n > 0 {
				lines = append(lines, line{})
			}
			if part = strings.TrimRight(part, "\r"); part != "" {
				w.Text = part
				l := &lines[len(lines)-1]
				l.Words = append(l.Words, w)
			}
		}
	}
	at := 0
	for _, t := range r.Tokens {
		if t.From < at || t.To > len(text) || t.From > t.To { // tokens tile the text; what does not is shown as it stands
			break
		}
		if t.From > at {
			put(text[at:t.From], word{})
		}
		piece := text[t.From:t.To]
		at = t.To
		switch t.Field {
		case "", "commonplace", "label":
			put(piece, word{})
			continue
		case "unread":
			put(piece, word{Field: "unread", Says: "not understood"})
			continue
		}
		k := key{t.Person, t.Field}
		g, ok := group[k]
		if !ok {
			g = len(group) + 1
			group[k] = g
			name := fieldName(t.Field)
			if t.Person > 0 {
				name = fmt.Sprintf("%s of person %d", name, t.Person+1)
			}
			row := fieldRow{Group: g, Name: name}
			if t.Person < len(r.People) {
				row.Value = understood(r.People[t.Person], t.Field)
			}
			rows, whole = append(rows, row), append(whole, row.Value != "")
		}
		row := &rows[g-1]
		bare := strings.Trim(strings.Join(strings.Fields(piece), " "), " .,;")
		if bare != "" {
			row.Words = strings.TrimSpace(row.Words + " " + bare)
		}
		if t.Value != "" && !whole[g-1] && !strings.Contains(row.Value, t.Value) {
			row.Value = strings.TrimSpace(row.Value + " " + t.Value)
		}
		says := row.Name
		if row.Value != "" && !strings.EqualFold(row.Value, bare) {
			says += ": " + row.Value
		}
		put(piece, word{Field: t.Field, Says: says, Group: min(g, maxGroups)})
	}
	if at < len(text) {
		put(text[at:], word{})
	}
	return lines, rows
}

// understood is what a claim has of a field, in words for a person; "" for a field that stands only in the words.
func understood(c model.Claim, field string) string {
	n, sv := c.Person.Name, c.Service
	switch field {
	case "surname":
		return n.Surname
	case "given":
		return strings.Join(append([]string{n.Given}, n.GivenOr...), " or ")
	case "middle":
		return n.Middle
	case "suffix":
		return n.Suffix
	case "rank":
		return string(sv.Rank)
	case "company":
		return sv.Unit.Company
	case "regiment":
		if sv.Unit.Number > 0 {
			return fmt.Sprint(sv.Unit.Number)
		}
	case "state":
		if sv.Unit.State != "" {
			return vocab.StateName(sv.Unit.State)
		}
	case "born":
		return dated(c.Person.Born)
	case "died":
		return dated(c.Person.Died)
	case "relation":
		return c.Person.Relation
	}
	return ""
}

func dated(d date.Date) string {
	if d.IsZero() {
		return ""
	}
	return say.Date(d)
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
	row := evidenceRow{Field: fieldName(e.Field), Stone: e.Stone, Record: e.Record, Bits: e.Bits, Says: say.Level(e.Field, e.Level), Against: e.Bits < 0}
	if e.Why != "" {
		row.Says = e.Why
	}
	row.Width = int(min(20, max(e.Bits, -e.Bits))*3 + 0.5)
	row.From = 60
	if row.Against {
		row.From = 60 - row.Width
	}
	return row
}

// pair sets the two best candidates side by side.
func (v *stoneView) pair(cands []model.Candidate) {
	var two []model.Candidate
	for _, c := range cands {
		if c.Decided != string(model.Refused) && len(two) < 2 {
			two = append(two, c)
		}
	}
	if len(two) < 2 || two[1].Probability < 0.0005 && two[1].Decided == "" {
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
				p.Rows = append(p.Rows, pairRow{Field: fieldName(e.Field), Stone: e.Stone})
			}
			row := &p.Rows[n]
			if row.Stone == "" {
				row.Stone = e.Stone
			}
			text := e.Record
			if text == "" {
				text = say.Level(e.Field, e.Level)
			}
			if e.Why != "" && (e.Field == "design" || e.Field == "decisions") {
				text = e.Why
			}
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

// time draws the years of the stone, and, where it is silent, those of the likeliest record.
func (v *stoneView) time(d *Desk, s *model.Subject, reading model.Reading, cands []model.Candidate) {
	if s.Stone.Register != nil && len(reading.People) == 0 {
		return
	}
	claim := reading.Claim()
	for _, c := range cands {
		if c.Decided == string(model.Refused) {
			continue
		}
		rec, ok := d.index.Record(c.Record)
		if !ok || c.Probability < 0.5 && c.Decided != string(model.Confirmed) {
			break
		}
		took := false
		take := func(empty bool, set func()) {
			if empty {
				set()
				took = true
			}
		}
		p, q := &claim.Person, rec.Person
		take(p.Born.IsZero() && p.Age.IsZero() && !rec.Birth().IsZero(), func() { p.Born = rec.Birth() })
		take(p.Died.IsZero() && !q.Died.IsZero(), func() { p.Died = q.Died })
		sv, rv := &claim.Service, rec.Service
		take(sv.Enlisted.IsZero() && !rv.Enlisted.IsZero(), func() { sv.Enlisted = rv.Enlisted })
		take(sv.MusteredIn.IsZero() && !rv.MusteredIn.IsZero(), func() { sv.MusteredIn = rv.MusteredIn })
		take(sv.MusteredOut.IsZero() && !rv.MusteredOut.IsZero(), func() { sv.MusteredOut = rv.MusteredOut })
		take(len(sv.Conflicts) == 0 && len(rv.Conflicts) > 0, func() { sv.Conflicts = rv.Conflicts })
		if took {
			v.TimeFrom = rec.ID
		}
		break
	}
	people := append([]model.Claim{claim}, reading.People[min(1, len(reading.People)):]...)
	reading.People = people
	v.Time = template.HTML(drawing.Time(s.Stone, reading, s.Implies)) // package drawing escapes what it is given
}

// placeWords is where a stone stands, in a line.
func placeWords(p model.Place) string {
	parts := []string{}
	add := func(label, s string) {
		if s != "" {
			parts = append(parts, label+s)
		}
	}
	add("", p.Cemetery)
	add("section ", p.Section)
	add("row ", p.Row)
	add("plot ", p.Plot)
	return strings.Join(parts, ", ")
}

// recordPage shows a record as it stands in its roster, and the stones that claim it.
func (d *Desk) recordPage(w http.ResponseWriter, r *http.Request) error {
	id := model.RecordID(r.URL.Query().Get("id"))
	rec, ok := d.index.Record(id)
	if !ok {
		return &wrong{http.StatusNotFound, fmt.Sprintf("there is no record %q in the rosters", id)}
	}
	b := d.standings()
	round, state := d.current()
	type claim struct {
		listed
		As string
	}
	var claims []claim
	seen := map[model.StoneID]bool{}
	for _, i := range round.claims[id] {
		s := d.subjects[i].Stone.ID
		seen[s] = true
		l := d.listed(b, i)
		p, _ := round.now(i, state)
		l.Chance = 0
		for _, c := range p.Candidates {
			if c.Record == id {
				l.Chance = c.Probability
			}
		}
		claims = append(claims, claim{l, string(state.Of(s, id).As)})
	}
	for _, s := range state.ConfirmedStones(id) {
		if i, ok := d.at[s]; ok && !seen[s] {
			claims = append(claims, claim{d.listed(b, i), string(model.Confirmed)})
		}
	}
	return d.render(w, http.StatusOK, "record", d.frame(r, "Record "+string(id), "find", struct {
		ID      model.RecordID
		Who     string
		Source  model.Source
		Written []model.Cell
		Claims  []claim
	}{id, say.Claim(rec.Claim), rec.Source, rec.Written, claims}))
}
