package rdf

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// writeAbout writes what the dataset is, in VoID and DCAT. The counts are those of the triples that were written.
func (m *mapper) writeAbout(dir string, w written) error {
	g := newGraph(dir)
	d := m.data
	set := m.under(g, "dataset")
	g.is(set, void+"Dataset", dcat+"Dataset")
	g.english(set, dct+"title", d.title())
	g.english(set, dct+"description", "Grave markers of veterans, service records, proposals to link them, and what people decided. A proposal is no proof.")
	if d.Licence != "" {
		if l, err := NewIRI(d.Licence); err == nil {
			g.iri(set, dct+"license", l)
		} else {
			g.text(set, dct+"rights", d.Licence)
		}
	}
	if d.Publisher != "" {
		p := m.idIn(g, "publisher", d.Publisher)
		g.is(p, foaf+"Organization", prov+"Organization")
		g.text(p, foaf+"name", d.Publisher)
		g.iri(set, dct+"publisher", p)
	}
	if !d.Generated.IsZero() {
		g.typed(set, dct+"issued", d.Generated.UTC().Format("2006-01-02"), xsd+"date")
	}
	g.text(set, dcat+"version", w.digest[:16])
	g.text(set, void+"uriSpace", m.base+"id/")
	g.integer(set, void+"triples", w.triples)
	g.integer(set, void+"distinctSubjects", w.subjects)
	g.integer(set, void+"entities", w.subjects)
	for _, p := range m.prefixes() {
		g.iri(set, void+"vocabulary", g.term(p.Namespace))
	}
	for _, class := range slices.Sorted(maps.Keys(w.classes)) {
		part := m.idIn(g, "partition", class)
		g.is(part, void+"Dataset")
		g.iri(part, void+"class", g.term(class))
		g.integer(part, void+"entities", w.classes[class])
		g.iri(set, void+"classPartition", part)
	}
	for _, f := range slices.Sorted(maps.Keys(d.Inputs)) {
		src := m.idIn(g, "source", f)
		m.describeSource(g, src, f)
		g.iri(set, prov+"wasDerivedFrom", src)
	}
	for _, f := range []struct{ file, title, media string }{
		{"dataset.ttl", "The data as Turtle", "text/turtle"},
		{"dataset.nt", "The data as sorted, canonical N-Triples", "application/n-triples"},
	} {
		if err := m.distribution(g, dir, set, f.file, f.title, f.media, w); err != nil {
			return err
		}
	}
	g.ns[m.base+"id/"] = true
	_, err := g.writeTurtle(filepath.Join(dir, "about.ttl"), g.prefixes(Prefix{"id", m.base + "id/"}))
	return err
}

func (m *mapper) distribution(g *graph, dir string, set IRI, file, title, media string, w written) error {
	info, err := os.Stat(filepath.Join(dir, file))
	if err != nil {
		return err
	}
	url := m.under(g, file)
	dist := m.idIn(g, "distribution", file)
	g.iri(set, void+"dataDump", url)
	g.iri(set, dcat+"distribution", dist)
	g.is(dist, dcat+"Distribution")
	g.english(dist, dct+"title", title)
	g.iri(dist, dcat+"downloadURL", url)
	g.iri(dist, dcat+"mediaType", g.term("https://www.iana.org/assignments/media-types/"+media))
	g.typed(dist, dcat+"byteSize", fmt.Sprint(info.Size()), xsd+"nonNegativeInteger")
	if file == "dataset.nt" {
		sum := m.idIn(g, "checksum", file)
		g.is(sum, spdx+"Checksum")
		g.iri(sum, spdx+"algorithm", g.term(spdx+"checksumAlgorithm_sha256"))
		g.typed(sum, spdx+"checksumValue", w.digest, xsd+"hexBinary")
		g.iri(dist, spdx+"checksum", sum)
	}
	return nil
}

// under makes the IRI of a file of the publication.
func (m *mapper) under(g *graph, name string) IRI {
	t, err := NewIRI(m.base + name)
	if err != nil {
		g.fail(err)
	}
	return t
}

func (m *mapper) idIn(g *graph, kind string, keys ...string) IRI {
	return m.under(g, "id/"+kind+"-"+digest(kind, keys...))
}

func (d *Dataset) title() string {
	if d.Title != "" {
		return d.Title
	}
	return "Grave markers and service records"
}

// notes tell the person who publishes what is missing or held back.
func (m *mapper) notes() {
	d, s := m.data, m.sum
	note := func(format string, args ...any) { s.Notes = append(s.Notes, fmt.Sprintf(format, args...)) }
	if d.Title == "" {
		note("the survey has no title")
	}
	if d.Licence == "" {
		note("no licence is set, so nobody may be sure of being allowed to use the data; set one in the survey's metadata")
	}
	if d.Publisher == "" {
		note("no publisher is set, so nobody can be asked about the data")
	}
	for _, h := range s.Held {
		note("held back: %s: %s", count(h.N, h.What), h.Why)
	}
	if s.PrivateCells > 0 {
		note("left out: %s of private columns", count(s.PrivateCells, "cell"))
	}
	if s.Recorders > 0 {
		note("not named: the recorders of %s", count(s.Recorders, "stone"))
	}
	if s.Orphans > 0 {
		note("%s about stones or records that the survey no longer has: kept, but linking nothing", count(s.Orphans, "decision"))
	}
	if s.DroppedCharacters > 0 {
		note("taken out of texts: %s that no reader of RDF must meet", count(s.DroppedCharacters, "character"))
	}
}

// count is a number and its noun: "1 stone", "2 stones".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func (m *mapper) readme(w written) string {
	var b strings.Builder
	d := m.data
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("%s", d.title())
	line("")
	if d.Publisher != "" {
		line("Published by %s.", d.Publisher)
	}
	if d.Licence != "" {
		line("Licence: %s", d.Licence)
	}
	if !d.Generated.IsZero() {
		line("Made on %s.", d.Generated.UTC().Format("2 January 2006"))
	}
	line("Names of things begin with %sid/", m.base)
	line("")
	line("dataset.ttl        the data, %d triples about %d things, as RDF in Turtle", w.triples, w.subjects)
	line("dataset.nt         the same triples as sorted N-Triples, one a line")
	line("dataset.nt.sha256  their SHA-256; the same data give the same digest")
	line("vocabulary.ttl     what the terms and codes mean, with sources")
	line("shapes.ttl         rules that the data keep (SHACL)")
	line("about.ttl          this description for machines (VoID, DCAT)")
	line("")
	line("What is in it")
	for _, class := range slices.Sorted(maps.Keys(w.classes)) {
		if name, ok := strings.CutPrefix(class, MS); ok {
			line("%8d  ms:%s", w.classes[class], name)
		}
	}
	line("")
	line("How to take it")
	line("A ms:PersonReference is what one source says of one man. A ms:CandidateMatch is what a program thinks of a stone and a")
	line("record: a probability, and no proof. Only a ms:ConfirmedLink, which a person's ms:Decision brought about, says that two")
	line("references are one man, a ms:Person. No marker in these data says that anyone is entitled to anything: that is for the agency to decide.")
	line("")
	line("What was held back")
	line("Nobody who may be living is meant to be here: whoever has no known death and may have been born less than %d years", LivingYears)
	line("before %d is left out. If you find someone who should not be here, tell the publisher.", m.year)
	for _, n := range m.sum.Notes {
		line("- %s", n)
	}
	return b.String()
}
