package site

import (
	"bytes"
	"cmp"
	"embed"
	"html/template"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"

	"musterstone/vocab/natural"
	"musterstone/vocab/rdf"
)

//go:embed page.tmpl list.tmpl style.css
var files embed.FS

var templates = sync.OnceValues(func() (*template.Template, error) { return template.ParseFS(files, "*.tmpl") })

// page is what the template of a page shows.
type page struct {
	Site, Title, Kind, IRI string
	Root                   string
	Words                  []string // of an inscription, line by line
	Flat                   bool     // the marker's top
	Caution                string
	Sections               []section
	Inward                 []inwardGroup
	Schema                 any
}

// section is the thing itself, with ID "", or one of its parts.
type section struct {
	ID, Title string
	Anchor    string // the link to it
	Rows      []row
	Cells     []row // of the source's table, as they came
	Raw       []row // for programs
	Grid      *grid // of its parts
	Plain     bool  // it is a heading over its grid, and nothing else
}

type row struct {
	Label  string
	Values []shown
}

// shown is a value: a text, or a link.
type shown struct{ Text, Href string }

type inwardGroup struct {
	Label string
	Links []shown
	More  int
}

// mostInward is how many things that name another its page lists of a kind.
const mostInward = 500

// cautions are what must be said where a class is shown.
var cautions = map[string]string{
	"Marker":        "What is proposed below is no proof. Only a link that a person confirmed says who lies here, and entitlement to anything is the agency's to decide.",
	"ServiceRecord": "That a name and a unit are like those on a stone is no proof that they are one man's.",
	"Person":        "He is one person here because somebody decided so; the decision, with its reasons, is linked below.",
}

func (s *site) page(d document, root string) ([]byte, error) {
	class := classOf(d.triples, d.iri)
	p := page{Site: s.Title, Title: cmp.Or(labelOf(d.iri, d.triples), d.iri), Kind: rdf.LabelOf(rdf.MS + class), IRI: d.iri, Root: root, Caution: cautions[class]}
	if words := value(d.triples, d.iri+"#inscription", rdf.MS+"transcription"); words != "" {
		p.Words = strings.Split(words, "\n")
	}
	p.Flat = strings.HasPrefix(value(d.triples, d.iri, rdf.MS+"top"), "flat")
	if class == "Decision" {
		p.Caution = s.decided(d)
	}
	p.Sections = s.sections(d, root, p.Title)
	p.Inward = s.inwardGroups(d, root)
	p.Schema = s.schema(d, class)
	t, err := templates()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = t.ExecuteTemplate(&b, "page.tmpl", p)
	return b.Bytes(), err
}

// parts are the triples of each subject of a document, the thing itself first, its parts in the order of their names, numbers by size, and candidates, whose
// names are digests, in theirs.
func parts(d document) [][]rdf.Triple {
	var out [][]rdf.Triple
	at := map[string]int{}
	for _, t := range d.triples {
		s := t.Subj.String()
		i, ok := at[s]
		if !ok {
			i = len(out)
			at[s] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], t)
	}
	type place struct {
		rank, order int
		name        []string
	}
	places := map[string]place{}
	for _, block := range out {
		iri := block[0].Subj.String()
		places[iri] = place{rankOf(iri), orderOf(d, iri), sortKey(iri)}
	}
	slices.SortStableFunc(out, func(a, b []rdf.Triple) int {
		x, y := places[a[0].Subj.String()], places[b[0].Subj.String()]
		return cmp.Or(cmp.Compare(x.rank, y.rank), cmp.Compare(x.order, y.order), slices.Compare(x.name, y.name))
	})
	return out
}

// partOrder is the order in which a reader wants the parts of a thing; what is not in it comes last.
var partOrder = []string{"", "link", "person", "proposal", "match", "finding", "pattern", "implies", "inscription", "reading", "line"}

func rankOf(iri string) int {
	_, fragment, _ := strings.Cut(iri, "#")
	kind, _, _ := strings.Cut(fragment, "-")
	if i := slices.Index(partOrder, kind); i >= 0 {
		return i
	}
	return len(partOrder)
}

// orderOf is the place of the candidate that a part belongs to; 0 for other parts.
func orderOf(d document, iri string) int {
	whole, fragment, _ := strings.Cut(iri, "#match-")
	if fragment == "" {
		return 0
	}
	name, _, _ := strings.Cut(fragment, "-")
	n, err := strconv.Atoi(value(d.triples, whole+"#match-"+name, rdf.MS+"order"))
	if err != nil {
		return 0
	}
	return n
}

// sortKey parts a name at its hyphens and widens its numbers.
func sortKey(iri string) []string {
	_, fragment, _ := strings.Cut(iri, "#")
	words := strings.Split(fragment, "-")
	for i, w := range words {
		if n, err := strconv.Atoi(w); err == nil {
			words[i] = strings.Repeat("0", max(0, 8-len(strconv.Itoa(n)))) + strconv.Itoa(n)
		}
	}
	return words
}

func (s *site) section(d document, triples []rdf.Triple, root, heading string) section {
	subject := triples[0].Subj.String()
	var x section
	if _, fragment, ok := strings.Cut(subject, "#"); ok {
		x.ID, x.Anchor = fragment, "#"+fragment
		x.Title = s.partTitle(triples, subject, fragment)
		heading = x.Title
	}
	last := ""
	for _, t := range triples {
		property := t.Pred.String()
		if property == rdf.Type || told(triples, t, heading) {
			continue
		}
		rows := &x.Rows
		switch {
		case strings.HasPrefix(property, s.Base+"column/"):
			rows = &x.Cells
		case property == rdf.MS+"ledgerEntry":
			rows = &x.Raw
		}
		if property != last {
			*rows = append(*rows, row{Label: s.propertyLabel(property)})
		}
		last = property
		r := &(*rows)[len(*rows)-1]
		v := s.shown(t.Obj, root, d)
		if slices.Contains(chances, property) {
			v.Text = percent(v.Text)
		}
		r.Values = append(r.Values, v)
	}
	for _, r := range x.Rows {
		slices.SortStableFunc(r.Values, func(a, b shown) int {
			if strings.HasPrefix(a.Href, "#match-") && strings.HasPrefix(b.Href, "#match-") {
				return cmp.Or(cmp.Compare(orderOf(d, d.iri+a.Href), orderOf(d, d.iri+b.Href)), slices.Compare(sortKey(a.Href), sortKey(b.Href)))
			}
			return natural.Compare(a.Text, b.Text)
		})
	}
	return x
}

// propertyLabel is a property in plain words: the label of our vocabulary, the name of a column, or the last part of the IRI.
func (s *site) propertyLabel(iri string) string {
	if l := cmp.Or(rdf.LabelOf(iri), propertyWords()[iri].label); l != "" {
		return l
	}
	local := iri[strings.LastIndexAny(iri, "#/")+1:]
	if name, err := url.PathUnescape(local); err == nil && strings.HasPrefix(iri, s.Base+"column/") {
		return name
	}
	var b strings.Builder
	for i, r := range local {
		if i > 0 && r >= 'A' && r <= 'Z' {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
	}
	return strings.ToLower(b.String())
}

func (s *site) shown(o rdf.Object, root string, d document) shown {
	iri, ok := o.(rdf.IRI)
	if !ok {
		return shown{Text: o.String()}
	}
	text := iri.String()
	switch {
	case text == rdf.MS:
		return shown{Text: text, Href: root + "vocabulary.html"}
	case strings.HasPrefix(text, rdf.MS):
		return shown{Text: cmp.Or(rdf.LabelOf(text), strings.TrimPrefix(text, rdf.MS)), Href: root + "vocabulary.html#" + strings.TrimPrefix(text, rdf.MS)}
	case strings.HasPrefix(text, d.iri+"#"):
		return shown{Text: s.ownPart(d, text), Href: text[len(d.iri):]}
	case s.own(text):
		label := s.labels[documentOf(text)]
		if label == "" {
			label = labelOf(documentOf(text), d.triples)
		}
		return s.link(text, root, label)
	case text == s.Base:
		return shown{Text: text, Href: root + "index.html"}
	case strings.HasPrefix(text, s.Base): // a file of the publication
		return shown{Text: strings.TrimPrefix(text, s.Base), Href: root + strings.TrimPrefix(text, s.Base)}
	case strings.HasPrefix(text, "http://"), strings.HasPrefix(text, "https://"):
		return shown{Text: text, Href: text}
	}
	return shown{Text: text}
}

// link is a link to the page of one of the base's own things, and to the part of it where a fragment says so.
func (s *site) link(iri, root, label string) shown {
	path, fragment, has := strings.Cut(strings.TrimPrefix(iri, s.Base), "#")
	href := root + path + "/index.html"
	if has {
		href += "#" + fragment
		if part := partWords(fragment); part != "" {
			label += " (" + part + ")"
		}
	}
	return shown{Text: label, Href: href}
}

func (s *site) inwardGroups(d document, root string) []inwardGroup {
	var groups []inwardGroup
	for _, g := range d.inward {
		x := inwardGroup{Label: cmp.Or(propertyWords()[g.property].inward, "As "+s.propertyLabel(g.property)), More: g.more}
		for _, n := range g.things {
			x.Links = append(x.Links, s.link(n.iri, root, n.label))
		}
		slices.SortStableFunc(x.Links, func(a, b shown) int { return cmp.Or(natural.Compare(a.Text, b.Text), cmp.Compare(a.Href, b.Href)) })
		groups = append(groups, x)
	}
	return groups
}
