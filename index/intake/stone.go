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
		m := newMemory()
		for i := range s.Tables {
			if t := &s.Tables[i]; !t.Kind.holdsRecords() && !s.stones(t, m, complain, yield) {
				return
			}
		}
	}
}

func (s *Survey) stones(t *Table, m *memory, complain func(model.Complaint), yield func(*model.Stone) bool) bool {
	if complain == nil {
		complain = func(model.Complaint) {}
	}
	return s.each(t, m, complain, func(r *reading) bool {
		stone, ok := r.stone()
		return !ok || yield(stone)
	})
}

// stone makes a stone of the row.
func (r *reading) stone() (*model.Stone, bool) {
	id, ok := r.id()
	if !ok {
		return nil, false
	}
	v := &r.terms
	s := &model.Stone{
		ID:      model.StoneID(id),
		Source:  model.Source{File: r.table.File, Row: r.row},
		Written: r.written,
		Place: model.Place{
			Cemetery: v[tCemetery], County: v[tCounty], State: r.state(tPlaceState),
			Section: v[tSection], Row: v[tRow], Plot: v[tPlot], Position: r.position(),
		},
		Marker: model.Marker{
			Inscription: inscriptionLines(v[tInscription]),
			Top:         r.coded(tTop), Material: r.coded(tMaterial), Lettering: r.coded(tLettering), Device: r.coded(tDevice), Setting: r.coded(tSetting),
			Emblem: v[tEmblem], Motifs: r.list(tMotifs), Condition: v[tCondition],
			Width: r.inches(tWidth), Thickness: r.inches(tThickness), Height: r.inches(tHeight), Length: r.inches(tLength),
		},
		Photo: v[tPhoto], Recorder: v[tRecorder], Notes: v[tNotes],
		Recorded: r.date(tRecorded, 0),
	}
	if s.Marker.Inscription == "" && r.claims() {
		c := r.claim()
		c.Person.Relation = relation(v[tRelation])
		if c.Person.Relation != "" {
			c.Service = model.Service{} // the service in the row is the veteran's, not that of his kin
		}
		s.Register = &c
	}
	return s, true
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

// inscriptionLines parts an inscription into its lines: at line breaks, and at " / ".
func inscriptionLines(s string) string {
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
	r.tell(t, fmt.Sprintf("%q is not a known %s", text, feature), "want one of: "+strings.Join(observationsOf(feature), ", "))
	return ""
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
