package rdf

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"musterstone/model"
)

// mapper turns the values of a Dataset into triples.
type mapper struct {
	*graph
	guard
	data *Dataset
	year int
	sum  *Summary
	run  IRI

	seen    map[string]string // local name of a readable IRI, or of a thing that is described once, to that thing's key
	ids     map[shortKey]fate // of things that may come only once
	stones  map[model.StoneID]stoneSeen
	matches map[stonePair]IRI
	further map[stonePair]int         // the place of the man among those whom the stone names, where he is not the first
	names   map[model.RecordID]string // of the men of those records that a decision confirms
	files   map[model.RecordID]string // of those records on which anybody has decided
	grounds map[string]bool           // the burial grounds that private cells name, and whether others do too

	withheld withheld
	// heldBack are the documents of stones and decisions that are held back, and whether it is only what their words and readings say.
	heldBack map[string]bool

	opinion  *Sorter // takes what the program proposes
	columns  map[columnKey]IRI
	concepts map[codeKey]IRI
	units    map[unitKey]IRI
	sources  map[string]IRI
	decided  map[string]bool // ids of decisions
}

// fate is what became of a thing: whether it is held back, whether a private column took something from it, and whether that was what tells of the war.
type fate struct{ held, private, war bool }

// guard is what a dataset keeps private.
type guard struct {
	private   map[string]bool // column names in lower case
	tables    map[string]map[string]columnPlace
	unwritten map[string]unwritten         // by file
	openID    map[string]func(string) bool // likewise: see Table.OpenID
	guarded   bool                         // anything is private
}

func newGuard(d *Dataset) guard {
	g := guard{private: map[string]bool{}, tables: map[string]map[string]columnPlace{}, unwritten: map[string]unwritten{}, openID: map[string]func(string) bool{}}
	for _, t := range d.Tables {
		g.tables[t.File] = map[string]columnPlace{}
		g.unwritten[t.File], g.openID[t.File] = unwritten{t.Private, t.Given}, t.OpenID
		g.guarded = g.guarded || len(t.Private) > 0
		for i, c := range t.Columns {
			if _, twice := g.tables[t.File][c.Name]; !twice {
				g.tables[t.File][c.Name] = columnPlace{i + 1, c.Term}
			}
		}
	}
	for _, c := range d.Private {
		g.private[strings.ToLower(c)], g.guarded = true, true
	}
	return g
}

// unwritten are the IRIs of what stands in no cell of a file: of what is private, and of what may go out, with its value.
type unwritten struct {
	private []string
	open    map[string]string
}

// columnPlace is where a column stands in its file, and the term of the vocabulary that it is read as.
type columnPlace struct {
	order int
	term  string
}

// stoneSeen is what later triples need to know of a stone that went by.
type stoneSeen struct {
	marker IRI
	refs   []IRI // whom its likeliest reading names
	fate
	name string
	wars []model.ConflictCode // that its words name
	// quotes is set where a record that may be its man's lost something to a private column.
	quotes bool
	// worn is set where a private column took its condition.
	worn bool
}

// columnKey is a file and a column of it.
type columnKey struct{ file, column string }

// id mints the IRI of a thing by the digest of what its source calls it.
func (m *mapper) id(kind string, keys ...string) IRI {
	return m.idOf(kind, hashKeys(kind, keys...))
}

func (m *mapper) idOf(kind string, short shortKey) IRI {
	var b [2 * idLength]byte
	lowerBase32.Encode(b[:], short[:])
	name := string(b[:idLength])
	if !isPlainName(kind) {
		m.fail(fmt.Errorf("%q is no kind of thing", kind))
	}
	t, err := trustedIRI(m.base + "id/" + kind + "-" + name)
	if err != nil {
		m.fail(err)
	}
	return t
}

// isPlainName reports whether a name is of letters, digits, "-" and "_", so that an IRI stays one with the name at its end.
func isPlainName(s string) bool { return all(s, isLocalByte) }

// once mints the IRI of a thing that may come only once. A clash of digests shows as a second coming, and stops the publication too.
func (m *mapper) once(kind, key string) (IRI, error) {
	short := hashKeys(kind, key)
	t := m.idOf(kind, short)
	if _, ok := m.ids[short]; ok {
		return t, fmt.Errorf("the %s %q comes twice, or another has its IRI %s; ids must be unique in the survey", kind, key, t)
	}
	m.ids[short] = fate{}
	return t, nil
}

// recordSeen reports whether a record went by, and what became of it.
func (m *mapper) recordSeen(id model.RecordID) (f fate, ok bool) {
	f, ok = m.ids[hashKeys("record", string(id))]
	return f, ok
}

// hold takes down that something was held back, and tells it by the id that the survey has for it.
func (m *mapper) hold(what, id string, why Held) {
	m.sum.hold(what, why)
	if own, ok := m.withheld.own[id]; ok {
		id = own
	}
	if m.data.Tell != nil {
		m.data.Tell(HeldItem{What: what, ID: id, Why: why})
	}
}

// slugged mints a readable IRI of parts, and says whether it is new. Parts that are told apart by letters which a slug cannot hold get
// a digest; two different things with one name stop the publication.
func (m *mapper) slugged(kind string, parts []string) (t IRI, first bool) {
	var slugs []string
	for _, p := range parts {
		if p == "" {
			continue
		}
		s := slug(p)
		if lossy(p) || s == "" {
			s = strings.Trim(s+"-"+digest(kind, p)[:8], "-")
		}
		slugs = append(slugs, s)
	}
	name := kind + "-" + strings.Join(slugs, "-")
	t, err := NewIRI(m.base + "id/" + name)
	if err != nil {
		m.fail(err)
	}
	key := strings.Join(slugs, "\x00")
	other, ok := m.seen["id/"+name]
	if ok && other != key {
		m.fail(fmt.Errorf("%s and %s have the same IRI %s; name one of them otherwise", strings.ReplaceAll(other, "\x00", ", "), strings.ReplaceAll(key, "\x00", ", "), t))
	}
	m.seen["id/"+name] = key
	return t, !ok
}

// lossy reports whether a slug leaves out letters.
func lossy(s string) bool {
	plain := slug(s)
	n := 0
	for _, r := range s {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			n++
		}
	}
	return len(strings.ReplaceAll(plain, "-", "")) < n
}

// source gives the IRI of a file of the survey, which it describes the first time.
func (m *mapper) source(file string) IRI {
	if file == "" {
		return IRI{}
	}
	t, ok := m.sources[file]
	if !ok {
		t = m.id("source", file)
		m.sources[file] = t
		m.describeSource(m.graph, t, file)
	}
	return t
}

func (m *mapper) describeSource(g *graph, t IRI, file string) {
	g.is(t, MS+"SourceFile", prov+"Entity")
	g.text(t, rdfs+"label", file)
	g.text(t, MS+"fileName", file)
	if d := m.data.Inputs[file]; d != "" {
		g.typed(t, MS+"sha256", strings.ToLower(d), xsd+"hexBinary")
	}
}

// origin says where a row came from.
func (m *mapper) origin(s IRI, from model.Source) {
	m.iri(s, prov+"wasDerivedFrom", m.source(from.File))
	if from.Row > 0 {
		m.integer(s, MS+"sourceRow", from.Row)
	}
	m.text(s, MS+"sourceSubject", from.Subject)
}

// cells says every cell of a row as it came, each by a property of its own column.
func (m *mapper) cells(s IRI, file string, cells []model.Cell, recorder string) {
	for _, c := range cells {
		switch {
		case c.Value == "":
		case m.private[strings.ToLower(c.Column)]:
			m.sum.PrivateCells++
		case recorder != "" && !m.data.NameRecorders && strings.TrimSpace(c.Value) == strings.TrimSpace(recorder):
		default:
			m.text(s, m.column(file, c.Column).String(), c.Value)
		}
	}
}

// column gives the property of a column of a file, BASE/column/FILE#COLUMN, which it describes the first time.
func (m *mapper) column(file, column string) IRI {
	key := columnKey{file, column}
	if t, ok := m.columns[key]; ok {
		return t
	}
	// A slash in a file's name would make folders of it on the way through a file host.
	t, err := NewIRI(m.base + "column/" + strings.ReplaceAll(percent(file), "%2F", "~") + "#" + percent(column))
	if err != nil {
		m.fail(err)
	}
	m.columns[key] = t
	m.is(t, MS+"Column", rdfns+"Property")
	m.text(t, rdfs+"label", column)
	m.text(t, MS+"columnName", column)
	m.iri(t, prov+"wasDerivedFrom", m.source(file))
	if p, ok := m.tables[file][column]; ok {
		m.integer(t, MS+"order", p.order)
		if p.term != "" {
			m.iri(t, MS+"readAs", m.term(p.term))
		}
	}
	return t
}

// agent gives the IRI of a person who recorded or decided.
func (m *mapper) agent(name string) IRI {
	name = strings.TrimSpace(name)
	if name == "" {
		return IRI{}
	}
	t := m.id("agent", name)
	local := t.String()[len(m.base):]
	if _, ok := m.seen[local]; !ok {
		m.seen[local] = name
		m.is(t, foaf+"Person", prov+"Person")
		m.text(t, foaf+"name", name)
	}
	return t
}

// activity says what made the proposals: the program, from which files.
func (m *mapper) activity() {
	inputs := slices.Sorted(maps.Keys(m.data.Inputs))
	keys := []string{m.data.Program}
	for _, f := range inputs {
		keys = append(keys, f, m.data.Inputs[f])
	}
	m.run = m.id("run", keys...)
	m.is(m.run, MS+"Run", prov+"Activity")
	for _, f := range inputs {
		m.iri(m.run, prov+"used", m.source(f))
	}
	if m.data.Program != "" {
		p := m.id("program", m.data.Program)
		m.is(p, prov+"SoftwareAgent")
		m.text(p, rdfs+"label", m.data.Program)
		m.iri(m.run, prov+"wasAssociatedWith", p)
	}
	if t := m.data.Generated; !t.IsZero() {
		m.instant(m.run, prov+"endedAtTime", t)
	}
}

// record says one row of a roster, unless its man may be living.
func (m *mapper) record(whole *model.Record) error {
	r, err := m.openRecord(whole)
	if err != nil {
		return err
	}
	rec, err := m.once("record", string(r.ID))
	if err != nil {
		return err
	}
	m.sum.Records++
	if why, held := mayLive(r.Claim, r.Birth(), false, m.year); held {
		m.hold("record", string(r.ID), why)
		m.ids[hashKeys("record", string(r.ID))] = fate{held: true}
		return nil
	}
	claim, f := m.redactRecord(r)
	if f.private {
		m.ids[hashKeys("record", string(r.ID))] = f
	}
	if _, wanted := m.names[whole.ID]; wanted {
		m.names[r.ID] = claim.Person.Name.String()
	}
	m.is(rec, MS+"ServiceRecord")
	m.text(rec, dct+"identifier", string(r.ID))
	m.english(rec, rdfs+"label", "Service record "+string(r.ID))
	m.origin(rec, r.Source)
	m.cells(rec, r.Source.File, r.Written, "")
	m.reference(m.part(rec, "person"), rec, IRI{}, 0, claim, "Person of service record "+string(r.ID))
	return m.err
}

func (m *mapper) recordPerson(id model.RecordID) IRI {
	return m.part(m.id("record", string(id)), "person")
}
