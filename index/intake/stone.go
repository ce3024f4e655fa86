package intake

import (
	"fmt"
	"iter"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// Stones reads the stones of the survey, those of burial registers among them, as Records reads records.
func (s *Survey) Stones(complain func(model.Complaint)) iter.Seq[*model.Stone] {
	return func(yield func(*model.Stone) bool) {
		p := s.stonePass(model.Bounded(complain))
		for i := range s.Tables {
			t := &s.Tables[i]
			if !t.Kind.holdsRecords() && !p.table(t, func(list []*model.Stone) bool {
				for _, stone := range list {
					if !yield(stone) {
						return false
					}
				}
				return true
			}) {
				return
			}
		}
	}
}

// stonePass reads stones by one goroutine: of positions, one is held against those above.
func (s *Survey) stonePass(complain func(model.Complaint)) *pass[model.Stone] {
	return &pass[model.Stone]{survey: s, complain: complain, workers: 1,
		make: (*reading).stone, name: func(s *model.Stone, id string) { s.ID = model.StoneID(id) }}
}

// surveyYear stands for the time in which burial grounds are recorded, so that years of two digits are of 1951 to 2050.
const surveyYear = 2000

// stone makes a stone of the row.
func (r *reading) stone(s *model.Stone) {
	v := &r.terms
	*s = model.Stone{
		Source:  model.Source{File: r.table.File, Row: r.row},
		Written: r.written,
		Place: model.Place{
			Cemetery: v[tCemetery], County: v[tCounty], State: r.state(tPlaceState),
			Section: r.place(tSection), Row: r.place(tRow), Plot: r.place(tPlot), Position: r.position(),
		},
		Marker: model.Marker{
			Inscription: Inscription(v[tInscription]),
			Top:         r.coded(tTop), Material: r.coded(tMaterial), Lettering: r.coded(tLettering), Device: r.coded(tDevice), Setting: r.coded(tSetting),
			Emblem: v[tEmblem], Motifs: r.list(tMotifs), Condition: v[tCondition],
			Width: r.inches(tWidth), Thickness: r.inches(tThickness), Height: r.inches(tHeight), Length: r.inches(tLength),
		},
		Photo: v[tPhoto], Recorder: v[tRecorder], Notes: v[tNotes],
		Recorded: r.date(tRecorded, surveyYear).date,
	}
	if s.Marker.Inscription == "" && r.claims() {
		var c model.Claim
		r.claim(&c)
		c.Person.Relation = relation(v[tRelation])
		if c.Person.Relation != "" {
			c.Service = model.Service{} // the service in the row is the veteran's, not that of his kin
		}
		s.Register = &c
	}
}

// claims reports whether the row holds what someone has already read.
func (r *reading) claims() bool {
	if r.table.Kind == Register {
		return true
	}
	for _, t := range []term{tSurname, tGiven, tName, tRank, tCompany, tRegiment, tUnit} {
		if r.terms[t] != "" {
			return true
		}
	}
	return false
}

// relation is how the buried person stood to the veteran, "" for the veteran.
func relation(text string) string {
	if text == "" {
		return ""
	}
	text = strings.ToLower(text)
	if rel, ok := relations()[text]; ok {
		return rel
	}
	return text
}

var relations = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, r := range vocab.Rows("register-relations") {
		m[r.Get("form")] = r.Get("relation")
	}
	return m
})

// Inscription parts the inscription in a cell into its lines, parted by "\n": at line breaks, and at " / ".
func Inscription(s string) string {
	if s == "" {
		return ""
	}
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", " / ", "\n").Replace(s)
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		l = strings.TrimSpace(l)
		l = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(l, "/ "), " /"))
		lines[i] = l
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}

// list parts a cell at ";", or at the separator that the metadata give.
func (r *reading) list(t term) []string {
	text := r.terms[t]
	if text == "" {
		return nil
	}
	sep := ";"
	for _, f := range r.table.bound.fills {
		if f.term == t && f.column >= 0 && r.table.bound.rules[f.column].separator != "" {
			sep = r.table.bound.rules[f.column].separator
		}
	}
	var out []string
	for _, part := range strings.Split(text, sep) {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// state reads a state.
func (r *reading) state(t term) model.State {
	text := r.terms[t]
	if text == "" {
		return ""
	}
	code, ok := r.memory.state(text)
	if !ok {
		r.tell(t, fmt.Sprintf("%q is not known as a state", text), "write its name or its two-letter postal code; the words are kept")
	}
	return code
}

// coded reads a cell that wants one of a list of words.
func (r *reading) coded(t term) string {
	text := r.terms[t]
	if text == "" {
		return ""
	}
	feature := termName(t)
	if v, ok := observations()[feature+"/"+plainWord(text)]; ok {
		return v
	}
	if v := observationWithin(feature, text); v != "" {
		r.tell(t, fmt.Sprintf("%q was taken as %q", text, v), "the words are kept; what one of these does not say belongs in the notes: "+strings.Join(observationsOf(feature), ", "))
		return v
	}
	r.tell(t, fmt.Sprintf("%q is not a known %s", text, feature), "want one of: "+strings.Join(observationsOf(feature), ", "))
	return ""
}

// observationWithin finds the one value of a feature that a longer text names ("polished black granite"); "" where it names none, several, or
// doubts.
func observationWithin(feature, text string) string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" -_\t.,;()/", r) })
	for _, w := range words {
		switch w {
		case "not", "no", "or", "maybe", "perhaps", "possibly", "probably", "looks", "like", "base", "once", "was":
			return ""
		}
	}
	if strings.ContainsAny(text, "?") {
		return ""
	}
	found := ""
	for at := 0; at < len(words); {
		next := at + 1
		for end := len(words); end > at; end-- { // the longest that begins here
			v, ok := observations()[feature+"/"+strings.Join(words[at:end], " ")]
			if !ok || v == "other" || v == "none" {
				continue
			}
			if found != "" && found != v {
				return ""
			}
			found, next = v, end
			break
		}
		at = next
	}
	return found
}

// plainWord is a coded value without what hands vary in.
func plainWord(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == ' ' || r == '-' || r == '_' || r == '\t' || r == '.' }), " ")
}

var observations = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, row := range vocab.Rows("observations") {
		feature, value := row.Get("feature"), row.Get("value")
		m[feature+"/"+plainWord(value)] = value
		for _, also := range row.List("also") {
			m[feature+"/"+plainWord(also)] = value
		}
	}
	return m
})

// observationsOf lists the values of a feature, in the order of the table.
func observationsOf(feature string) []string {
	var out []string
	for _, row := range vocab.Rows("observations") {
		if row.Get("feature") == feature {
			out = append(out, row.Get("value"))
		}
	}
	return out
}
