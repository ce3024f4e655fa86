package rdf

import (
	"errors"
	"reflect"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/unit"
)

// secret is what the private columns of a row hold: their values as written, and by the term of ours that they are read as. open are the values of its other columns by their terms, and what the
// metadata give to all rows.
type secret struct {
	values map[string]bool
	terms  map[string][]string
	open   map[string]string
}

// says reports whether a column that is not private, or the metadata, give the term.
func (hidden *secret) says(term string) bool {
	_, ok := hidden.open[term]
	return ok
}

// secrets gives what the private columns of a row hold; nil where they hold nothing. A column of a table that is not described is taken for the term whose
// name it has.
func (g *guard) secrets(file string, cells []model.Cell) *secret {
	if !g.guarded {
		return nil
	}
	unwritten := g.unwritten[file]
	if len(unwritten.private) == 0 && !slices.ContainsFunc(cells, func(c model.Cell) bool { return g.private[strings.ToLower(c.Column)] }) {
		return nil
	}
	out := &secret{map[string]bool{}, map[string][]string{}, map[string]string{}}
	for term, value := range unwritten.open {
		out.open[strings.TrimPrefix(term, MS)] = value
	}
	for _, iri := range unwritten.private {
		term := strings.TrimPrefix(iri, MS)
		out.terms[term] = append(out.terms[term], "")
	}
	for _, c := range cells {
		name, value := strings.ToLower(c.Column), strings.TrimSpace(c.Value)
		if value == "" {
			continue
		}
		term := strings.TrimPrefix(name, "ms:") // as the cells of a graph name it
		if column, ok := g.tables[file][c.Column]; ok {
			term = strings.TrimPrefix(column.term, MS)
		}
		if !g.private[name] {
			out.open[term] = value
			continue
		}
		if term != "id" { // of an id it is known all that it fills: a row or a regiment that is the same number is not it
			out.values[value] = true
		}
		if strings.HasPrefix(term, "lat") || strings.HasPrefix(term, "lon") { // the usual names of such columns
			term = "latitude"
		}
		out.terms[term] = append(out.terms[term], value)
	}
	return out
}

// redactStone gives the stone without what its private columns say, whether as it stood or as it was understood. words is set where the words themselves, or a part
// of a register's claim, are private, so that nothing read from them may go out; looks where something seen or measured is, so that no sentence about the design may.
func (g *guard) redactStone(s *model.Stone) (out *model.Stone, words, looks bool) {
	hidden := g.secrets(s.Source.File, s.Written)
	if hidden == nil {
		return s, false, false
	}
	c := *s
	for _, f := range []*string{
		&c.Place.Cemetery, &c.Place.County, &c.Place.Section, &c.Place.Row, &c.Place.Plot, &c.Photo, &c.Recorder, &c.Notes,
		&c.Marker.Top, &c.Marker.Material, &c.Marker.Lettering, &c.Marker.Device, &c.Marker.Emblem, &c.Marker.Setting, &c.Marker.Condition,
	} {
		hidden.hide(f)
	}
	hidden.hideDate(&c.Recorded)
	c.Marker.Motifs = slices.DeleteFunc(slices.Clone(c.Marker.Motifs), func(motif string) bool { return hidden.values[motif] })
	for term := range hidden.terms {
		empty(stoneFields(&c, term)...)
	}
	words = s.Marker.Inscription != "" && (hidden.values[strings.TrimSpace(s.Marker.Inscription)] || hidden.terms["inscription"] != nil)
	if s.Register != nil {
		claim := *s.Register
		words = hidden.redactClaim(&claim) || words
	}
	return &c, words, !reflect.DeepEqual(c.Marker, s.Marker)
}

// redactRecord gives what a record claims without what its private columns say, and what they took.
func (g *guard) redactRecord(r *model.Record) (model.Claim, fate) {
	claim := r.Claim
	hidden := g.secrets(r.Source.File, r.Written)
	if hidden == nil || !hidden.redactClaim(&claim) {
		return claim, fate{}
	}
	return claim, fate{private: true, war: warTaken(&r.Claim.Service, &claim.Service)}
}

// fateOf is what private columns took from a stone whose words, or looks, are private.
func (g *guard) fateOf(sub *model.Subject, words, looks bool) fate {
	s := sub.Stone
	return fate{private: words || looks || g.secrets(s.Source.File, s.Written).told(sub), war: looks}
}

// told reports whether what the stone's words or place tell, and so what evidence may repeat, holds a private value.
func (hidden *secret) told(sub *model.Subject) bool {
	if hidden == nil {
		return false
	}
	p, s := sub.Stone.Place, sub.Stone
	texts := []string{p.Cemetery, p.County, string(p.State), p.Section, p.Row, p.Plot, s.Notes, s.Photo, s.Marker.Inscription, s.Marker.Emblem, s.Marker.Condition}
	for v := range hidden.values {
		for _, t := range texts {
			if t != "" && (strings.Contains(t, v) || strings.Contains(v, t) && len(t) > 2) {
				return true
			}
		}
	}
	return false
}

// redactClaim takes out of a claim what is private, whether as it stood or as it was understood, and reports whether anything was.
func (hidden *secret) redactClaim(c *model.Claim) bool {
	n, whole := 0, *c
	count := func(gone bool) {
		if gone {
			n++
		}
	}
	p, s := &c.Person, &c.Service
	count(empty(hidden.spilled(c)...))
	if hidden.values[p.Name.Written] || hidden.values[p.Name.Surname] || hidden.values[p.Name.Given] {
		count(empty(&p.Name))
	}
	for _, f := range []*string{&p.Birthplace, &p.Residence, &p.DeathPlace, &p.Buried, &p.Relation, &s.Remarks, &s.Written} {
		count(hidden.hide(f))
	}
	for _, d := range []*date.Date{&p.Born, &p.Died, &s.Enlisted, &s.MusteredIn, &s.MusteredOut} {
		count(hidden.hideDate(d))
	}
	if hidden.values[p.Age.Written] {
		count(empty(&p.Age))
	}
	if hidden.values[s.Unit.Written] {
		count(empty(&s.Unit))
	}
	for term := range hidden.terms {
		count(empty(claimFields(c, term)...))
	}
	count(hidden.recentre(c))
	count(hidden.unwar(c, &whole))
	return n > 0
}

// recentre takes their meaning from dates whose century a private war or side told, and leaves them their words.
func (hidden *secret) recentre(c *model.Claim) (any bool) {
	if hidden.terms["conflict"] == nil && hidden.terms["side"] == nil {
		return false
	}
	near := 0
	if war, ok := hidden.named(); ok && len(war) > 0 {
		w, _ := vocab.Conflict(war[0])
		near = w.From.Year
	} else if hidden.says("side") {
		w, _ := vocab.Conflict("civil-war")
		near = w.From.Year
	}
	s := &c.Service
	for _, d := range []*date.Date{&c.Person.Born, &c.Person.Died, &s.Enlisted, &s.MusteredIn, &s.MusteredOut} {
		if d.IsZero() {
			continue
		}
		if alone, err := date.ParseNear(d.Written, near); errors.Is(err, date.ErrCentury) || err == nil && alone.EDTF != d.EDTF {
			*d, any = date.Date{Written: d.Written}, true
		}
	}
	return any
}

// named are the wars that columns which are not private name; false where they name none.
func (hidden *secret) named() ([]model.ConflictCode, bool) {
	text, ok := hidden.open["conflict"]
	if !ok {
		return nil, false
	}
	wars, _ := vocab.ConflictsOf(text[strings.LastIndexAny(text, "#/")+1:]) // of a graph, a concept's IRI
	if wars == nil {
		wars, _ = vocab.ConflictsOf(text)
	}
	return wars, wars != nil
}

// unwar takes away the wars that only private cells tell, by the dates or the side that they hold: those that follow from the whole claim, and not from what is left of it.
func (hidden *secret) unwar(c, whole *model.Claim) bool {
	s := &c.Service
	if _, ok := hidden.named(); ok || len(s.Conflicts) == 0 {
		return false
	}
	told, open := understood(whole), understood(c)
	left := slices.DeleteFunc(slices.Clone(s.Conflicts), func(code model.ConflictCode) bool { return slices.Contains(told, code) && !slices.Contains(open, code) })
	if len(left) == len(s.Conflicts) {
		return false
	}
	s.Conflicts = left
	return true
}

// warTaken reports whether redaction took from a service what tells of its war: what a finding says of the war, and of what is still to be shown, could tell it.
func warTaken(whole, left *model.Service) bool {
	dated := len(left.Conflicts) == 0 && (whole.Enlisted != left.Enlisted || whole.MusteredIn != left.MusteredIn)
	return whole.Side != left.Side || whole.Branch != left.Branch || whole.Unit.Body != left.Unit.Body || len(whole.Conflicts) != len(left.Conflicts) || dated
}

func understood(c *model.Claim) []model.ConflictCode {
	return vocab.UnderstoodConflicts(&c.Service, &c.Person.Born, &c.Person.Died, func(_ int, from, to date.Day) []model.ConflictCode { return vocab.ConflictsHolding(from, to) })
}

// spilled are the fields of a claim that private cells filled beside their own: a roster's clerk may put the unit behind the rank, the arm or the side into the column of the
// branch, the branch in place of the state, and a death that no column gives is read out of the remarks.
func (hidden *secret) spilled(c *model.Claim) (fields []any) {
	p, s := &c.Person, &c.Service
	for _, term := range []string{"rank", "rank_in"} {
		for _, v := range hidden.terms[term] {
			if _, alone := vocab.Rank(v); !alone {
				fields = append(fields, &s.Unit, &s.Branch, &s.Side)
			}
		}
	}
	for _, v := range hidden.terms["branch"] {
		u, _ := unit.Parse(v)
		_, _, arm := unit.Arm(v)
		if _, branch := vocab.Branch(v); !branch || arm || u.Body != "" && u.Body == s.Unit.Body {
			fields = append(fields, &s.Unit)
		}
		if !hidden.says("side") {
			fields = append(fields, &s.Side)
		}
	}
	said, _ := vocab.Side(hidden.open["side"])
	if s.Side != "" && s.Side == vocab.BodySide(s.Unit.Body) && said != s.Side && slices.ContainsFunc([]string{"unit", "regiment", "arm", "state", "body", "unit_state"}, func(term string) bool { return hidden.terms[term] != nil }) {
		fields = append(fields, &s.Side) // of the U.S. Colored Troops
	}
	for _, v := range hidden.terms["unit"] {
		if branch, _ := unit.OfBranch(v); branch != "" {
			if branch == s.Branch {
				fields = append(fields, &s.Branch)
			}
			if side, ok := vocab.Side(v); ok && side == s.Side && !hidden.says("side") { // C.S.N.
				fields = append(fields, &s.Side)
			}
		}
	}
	for _, term := range []string{"state", "body", "unit_state"} {
		for _, v := range hidden.terms[term] {
			if branch, ok := vocab.Branch(v); ok && branch == s.Branch {
				fields = append(fields, &s.Branch)
			}
		}
	}
	if died := p.Died.Written; hidden.terms["remarks"] != nil && !hidden.says("died") && died != "" && strings.Contains(strings.Join(strings.Fields(s.Remarks), " "), died) {
		fields = append(fields, &p.Died)
	}
	return fields
}

// stoneFields are the fields of a stone that a column of a term fills, its words and a register's claim aside.
func stoneFields(s *model.Stone, term string) []any {
	switch term {
	case "photo":
		return []any{&s.Photo}
	case "recorder":
		return []any{&s.Recorder}
	case "notes":
		return []any{&s.Notes}
	}
	return markerFields(s, term)
}

// markerFields are those that tell of the marker and its place alone, and of nobody.
func markerFields(s *model.Stone, term string) []any {
	k, p := &s.Marker, &s.Place
	switch term {
	case "cemetery":
		return []any{&p.Cemetery}
	case "county":
		return []any{&p.County}
	case "state":
		return []any{&p.State}
	case "section":
		return []any{&p.Section}
	case "row":
		return []any{&p.Row}
	case "plot":
		return []any{&p.Plot}
	case "latitude", "longitude":
		return []any{&p.Position}
	case "top":
		return []any{&k.Top}
	case "material":
		return []any{&k.Material}
	case "width_in":
		return []any{&k.Width}
	case "thickness_in":
		return []any{&k.Thickness}
	case "height_in":
		return []any{&k.Height}
	case "length_in":
		return []any{&k.Length}
	case "lettering":
		return []any{&k.Lettering}
	case "device":
		return []any{&k.Device}
	case "emblem":
		return []any{&k.Emblem}
	case "motifs":
		return []any{&k.Motifs}
	case "setting":
		return []any{&k.Setting}
	case "condition":
		return []any{&k.Condition}
	case "recorded":
		return []any{&s.Recorded}
	}
	return nil
}

// claimFields are the fields of a claim that a column of a term fills. A part of a name or of a unit takes the whole with it, since the whole as written has the part. A
// register's "state" may be the place's or the unit's, and counts as both.
func claimFields(c *model.Claim, term string) []any {
	p, s := &c.Person, &c.Service
	switch term {
	case "surname", "given", "suffix", "name":
		return []any{&p.Name}
	case "rank", "rank_in":
		return []any{&s.Rank, &s.Brevet}
	case "rank_out":
		return []any{&s.RankOut}
	case "company", "regiment", "unit", "arm", "state", "body", "unit_state":
		return []any{&s.Unit}
	case "branch":
		return []any{&s.Branch}
	case "side":
		return []any{&s.Side}
	case "conflict":
		return []any{&s.Conflicts}
	case "born":
		return []any{&p.Born}
	case "died":
		return []any{&p.Died}
	case "age":
		return []any{&p.Age}
	case "relation":
		return []any{&p.Relation}
	case "enlisted":
		return []any{&s.Enlisted}
	case "mustered_in":
		return []any{&s.MusteredIn}
	case "mustered_out":
		return []any{&s.MusteredOut}
	case "birthplace":
		return []any{&p.Birthplace}
	case "residence":
		return []any{&p.Residence}
	case "death_place":
		return []any{&p.DeathPlace}
	case "buried":
		return []any{&p.Buried}
	case "remarks":
		return []any{&s.Remarks}
	}
	return nil
}

// empty sets what the pointers point to to nothing, and reports whether any of it was something.
func empty(fields ...any) bool {
	gone := false
	for _, f := range fields {
		if v := reflect.ValueOf(f).Elem(); !v.IsZero() {
			v.SetZero()
			gone = true
		}
	}
	return gone
}

func (hidden *secret) hide(f *string) bool {
	return hidden.values[strings.TrimSpace(*f)] && empty(f)
}

func (hidden *secret) hideDate(d *date.Date) bool {
	return hidden.values[strings.TrimSpace(d.Written)] && empty(d)
}
