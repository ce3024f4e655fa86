package rdf

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// writeAbout writes what the dataset is, in VoID and DCAT. The counts are those of the triples that were written. The proposals are a part of the
// dataset (void:subset), which whoever wants only what people recorded and decided leaves out.
func (m *mapper) writeAbout(dir string, data, opinions written) error {
	g := newGraph(dir)
	g.base = m.base
	d := m.data
	set := g.under("dataset")
	proposals := g.under("proposals")
	g.is(set, void+"Dataset", dcat+"Dataset")
	g.english(set, dct+"title", d.title())
	g.english(set, dct+"description", "Grave markers of veterans, service records, and what people decided of them. What the program proposes is a subset of its own; a proposal is no proof.")
	g.is(proposals, void+"Dataset", dcat+"Dataset")
	g.english(proposals, dct+"title", "What the program proposes")
	g.english(proposals, dct+"description", "Matches of stones and records with their probabilities and evidence, and findings of veterans without a government marker. None of it is proof; only a person's decision links.")
	g.iri(set, void+"subset", proposals)
	g.iri(proposals, dct+"isPartOf", set)
	for _, s := range []IRI{set, proposals} {
		if d.Licence != "" {
			if l, err := NewIRI(d.Licence); err == nil {
				g.iri(s, dct+"license", l)
			} else {
				g.text(s, dct+"rights", d.Licence)
			}
		}
		if d.Publisher != "" {
			p := g.part(set, "publisher")
			g.is(p, foaf+"Organization", prov+"Organization")
			g.text(p, foaf+"name", d.Publisher)
			g.iri(s, dct+"publisher", p)
		}
		if !d.Generated.IsZero() {
			g.typed(s, dct+"issued", d.Generated.UTC().Format("2006-01-02"), xsd+"date")
		}
		g.text(s, dcat+"version", data.digest[:16])
	}
	g.text(set, void+"uriSpace", m.base+"id/")
	g.iri(set, foaf+"homepage", g.under(""))
	if before, err := readDigest(filepath.Join(dir, "changes", "previous.sha256")); err == nil {
		g.text(set, MS+"changedFrom", before)
	}
	for _, p := range m.prefixes() {
		g.iri(set, void+"vocabulary", g.term(p.Namespace))
	}
	for _, f := range slices.Sorted(maps.Keys(d.Inputs)) {
		src := g.under("id/source-" + digest("source", f))
		m.describeSource(g, src, f)
		g.iri(set, prov+"wasDerivedFrom", src)
	}
	for _, x := range []struct {
		set IRI
		w   written
		of  string
	}{{set, data, "The data"}, {proposals, opinions, "The proposals"}} {
		g.counts(x.set, x.w)
		for _, f := range x.w.turtle {
			if err := g.distribution(dir, x.set, f, x.of+" as Turtle", "text/turtle", ""); err != nil {
				return err
			}
		}
		if err := g.distribution(dir, x.set, x.w.name+".nt", x.of+" as sorted, canonical N-Triples", "application/n-triples", x.w.digest); err != nil {
			return err
		}
	}
	for _, f := range []struct{ file, title, media string }{
		{"dataset.nq", "Data and proposals as N-Quads, the proposals in a named graph", "application/n-quads"},
		{"dataset.jsonld", "Data and proposals as JSON-LD, the proposals in a named graph", "application/ld+json"},
	} {
		if err := g.distribution(dir, set, f.file, f.title, f.media, ""); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	g.ns[m.base+"id/"] = true
	_, err := g.writeTurtle(filepath.Join(dir, "about.ttl"), g.prefixes(Prefix{"id", m.base + "id/"}))
	if err != nil {
		return fmt.Errorf("description: %w", err)
	}
	return nil
}

// counts says how much a graph holds.
func (g *graph) counts(set IRI, w written) {
	g.integer(set, void+"triples", w.triples)
	g.integer(set, void+"distinctSubjects", w.subjects)
	g.integer(set, void+"entities", w.subjects)
	for _, class := range slices.Sorted(maps.Keys(w.classes)) {
		part := g.part(set, "class-"+digest("class", class))
		g.is(part, void+"Dataset")
		g.iri(part, void+"class", g.term(class))
		g.integer(part, void+"entities", w.classes[class])
		g.iri(set, void+"classPartition", part)
	}
}

// distribution says of a set that a file of the folder dir holds it; sha256 is its digest, or "".
func (g *graph) distribution(dir string, set IRI, file, title, media, sha256 string) error {
	info, err := os.Stat(filepath.Join(dir, file))
	if err != nil {
		return err
	}
	url := g.under(file)
	dist := g.part(set, "file-"+slug(strings.ReplaceAll(file, ".", "-")))
	g.iri(set, void+"dataDump", url)
	g.iri(set, dcat+"distribution", dist)
	g.is(dist, dcat+"Distribution")
	g.english(dist, dct+"title", title)
	g.iri(dist, dcat+"downloadURL", url)
	g.iri(dist, dcat+"mediaType", g.term("https://www.iana.org/assignments/media-types/"+media))
	g.typed(dist, dcat+"byteSize", fmt.Sprint(info.Size()), xsd+"nonNegativeInteger")
	if sha256 != "" {
		sum := g.also(dist, "checksum")
		g.is(sum, spdx+"Checksum")
		g.iri(sum, spdx+"algorithm", g.term(spdx+"checksumAlgorithm_sha256"))
		g.typed(sum, spdx+"checksumValue", sha256, xsd+"hexBinary")
		g.iri(dist, spdx+"checksum", sum)
	}
	return nil
}

// under makes the IRI of a file of the publication.
func (g *graph) under(name string) IRI {
	t, err := NewIRI(g.base + name)
	if err != nil {
		g.fail(err)
	}
	return t
}

// DefaultTitle is what a dataset, and a site of it, is called that has no title of its own.
const DefaultTitle = "Grave markers and service records"

func (d *Dataset) title() string { return cmp.Or(d.Title, DefaultTitle) }

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
	if s.PrivateCells > 0 {
		note("left out: %s of private columns", count(s.PrivateCells, "cell"))
	}
	if s.WithheldIDs > 0 {
		note("left out: %s that private columns tell; where one would stand there is a number that begins with %s", count(s.WithheldIDs, "id"), withheldPrefix)
	}
	s.Notes = append(s.Notes, m.bareNotes()...)
	if s.Recorders > 0 {
		note("not named: the recorders of %s; the metadata do not say that they agreed (\"ms:nameRecorders\": true)", count(s.Recorders, "stone"))
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

func (m *mapper) readme(data, opinions written) string {
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
	line("%-21s the data, %d triples about %d things, as RDF in Turtle", strings.Join(data.turtle, ", "), data.triples, data.subjects)
	line("dataset.nt            the same triples as sorted N-Triples, one a line")
	line("dataset.nt.sha256     their SHA-256; the same data give the same digest")
	line("%-21s what the program proposes, %d triples; leave it out to have only what people recorded and decided", strings.Join(opinions.turtle, ", "), opinions.triples)
	line("proposals.nt          the same as N-Triples, with its digest in proposals.nt.sha256")
	line("dataset.nq            both as N-Quads, the proposals in the graph <%sproposals>", m.base)
	if d.JSONLD {
		line("dataset.jsonld        both as JSON-LD; context.jsonld belongs to it")
	}
	line("vocabulary.ttl        what the terms and codes mean, with sources; vocabulary.html is the same to read")
	line("shapes.ttl            rules that the data keep (SHACL)")
	line("about.ttl             this description for machines (VoID, DCAT)")
	line("queries/              questions in SPARQL, each with what it asks in its first lines")
	if data.changes {
		line("changes/              what changed since the publication before, by person")
	}
	if d.Metadata != nil {
		line("%s  how the tables were described: musterstone begin --from makes a survey of this folder again", metadataName)
	}
	line("")
	line("What is in it")
	for _, class := range slices.Sorted(maps.Keys(m.sum.Classes)) {
		line("%8d  ms:%s", m.sum.Classes[class], class)
	}
	line("")
	line("How to take it")
	line("A ms:PersonReference is what one source says of one man. A ms:CandidateMatch is what a program thinks of a stone and a")
	line("record: a probability, and no proof. Only a ms:ConfirmedLink, which a person's ms:Decision brought about, says that two")
	line("references are one man, a ms:Person. No marker in these data says that anyone is entitled to anything: that is for the agency to decide.")
	line("")
	line("How to put it on the web")
	line("Where the folder has an index.html, copy it as it is to any host of plain files at %s: every name", m.base)
	line("of a thing then leads to its page, with the same as Turtle and JSON-LD beside it. The host must send .ttl as text/turtle, .jsonld as")
	line("application/ld+json, .nt as application/n-triples and .nq as application/n-quads; most need to be told so once.")
	line("")
	line("What was held back")
	line("Nobody who may be living is meant to be here: whoever has no known death and may have been born less than %d years", LivingYears)
	line("before %d is left out. That is a rule of caution of this program; the law of your place goes before it. If you find someone", m.year)
	line("who should not be here, tell the publisher.")
	for _, n := range m.sum.Notes {
		line("- %s", n)
	}
	return b.String()
}
