package rdf

import (
	_ "embed"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// shapes is the SHACL file that goes with every publication; it depends on nothing in the data.
//
//go:embed shapes.ttl
var shapes []byte

// Publish writes a dataset into the folder dir:
//
//	dataset.ttl         the data: what was recorded, how it reads, what people decided and linked; in parts where it is large
//	dataset.nt          the same triples as sorted, canonical N-Triples
//	dataset.nt.sha256   their digest, which names this state of the data
//	proposals.ttl, .nt  what the program proposes and finds, apart from the data
//	dataset.nq          both as N-Quads, the proposals in a named graph
//	dataset.jsonld      both as JSON-LD, where asked for, with context.jsonld
//	vocabulary.ttl      the terms, and a concept scheme for each code list; vocabulary.html for people
//	shapes.ttl          SHACL shapes that the data conform to
//	about.ttl           what the dataset is: counts, licence, publisher, inputs (VoID, DCAT)
//	queries/            questions in SPARQL
//	changes/            against the previous publication: triples gone and new, by person
//	survey-metadata.json  how the tables were described, to make a survey of the publication again
//	README.txt          the same for people, and what was held back
//
// The folder is written under another name beside dir and renamed when it is whole, so that dir is never half written. A folder that
// holds an earlier publication is replaced; any other that is not empty is refused as Occupied. The same values, over the same earlier publication, give the same
// bytes.
func Publish(dir string, d Dataset) (Summary, error) {
	var sum Summary
	abs, err := filepath.Abs(dir)
	if err != nil {
		return sum, fmt.Errorf("find folder %s: %w", dir, err)
	}
	dir = abs
	mended := recoverBeside(dir, time.Now())
	if err := replaceable(dir, d.Also); err != nil {
		return sum, err
	}
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return sum, fmt.Errorf("write into %s: %w", dir, err)
	}
	tmp, err := os.MkdirTemp(parent, "."+filepath.Base(dir)+newPart+"*")
	if err != nil {
		return sum, fmt.Errorf("write into %s: %w", dir, err)
	}
	defer os.RemoveAll(tmp)
	if err := os.Chmod(tmp, 0o755); err != nil {
		return sum, fmt.Errorf("write into %s: %w", dir, err)
	}
	if d.Previous == "" {
		d.Previous = dir
	}
	if err := write(tmp, &d, &sum); err != nil {
		return sum, fmt.Errorf("write into %s: %w", dir, err)
	}
	if err := swap(tmp, dir); err != nil {
		return sum, fmt.Errorf("write into %s: %w", dir, err)
	}
	sum.Notes = append(sum.Notes, mended...) // only now: they are no part of what is published
	return sum, nil
}

// publishedFiles mark a folder as a publication; a name that ends in a slash is a folder's.
var publishedFiles = []string{
	"README.txt", "about.ttl", "changes/", "column/", "context.jsonld", "dataset.jsonld", "dataset.nq", "dataset.nt", "dataset.nt.sha256", "dataset.ttl", "dataset/", "id/",
	"index.html", "markers.html", "persons.html", "places.html", "proposals.nt", "proposals.nt.sha256", "proposals.ttl", "proposals/", "queries/", "shapes.ttl", "style.css",
	"survey-metadata.json", "units.html", "upload.json", "vocabulary.html", "vocabulary.ttl",
}

// Occupied is a folder that holds something else than a publication of the kind, and is left as it is.
type Occupied struct{ Text string }

func (o *Occupied) Error() string { return o.Text }

// replaceable reports an error unless dir is not there, empty, or holds a publication, with the files also, and nothing else.
func replaceable(dir string, also []string) error {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("look into %s: %w; name an empty folder, or one that does not exist yet", dir, err)
	}
	whole := false
	for _, e := range entries {
		name := e.Name()
		if e.IsDir() {
			name += "/"
		}
		whole = whole || name == "about.ttl"
		if !slices.Contains(publishedFiles, name) && !slices.Contains(also, name) && !isPart(name) {
			return occupied(dir, e.Name()+", which is no file of a publication")
		}
	}
	if len(entries) > 0 && !whole {
		return occupied(dir, entries[0].Name()+" and no about.ttl, so it is no publication")
	}
	for _, name := range also {
		if _, err := os.Stat(filepath.Join(dir, name)); len(entries) > 0 && err != nil {
			return occupied(dir, "a publication of another kind, without "+name)
		}
	}
	return nil
}

func occupied(dir, what string) error {
	return &Occupied{fmt.Sprintf("%s holds %s; name an empty folder, or one that does not exist yet", dir, what)}
}

func write(dir string, d *Dataset, sum *Summary) error {
	m, err := build(d, dir, sum)
	if err != nil {
		return err
	}
	defer m.Close()
	data, err := m.writeGraph(dir, "dataset", m.sort)
	if err != nil {
		return err
	}
	opinions, err := m.writeGraph(dir, "proposals", m.opinion)
	if err != nil {
		return err
	}
	// The runs of the sorters lie in the same folder, and must not be in it when it is renamed.
	if err := m.Close(); err != nil {
		return err
	}
	m.summarise(data, opinions)
	steps := []func() error{
		func() error { return writeQuads(dir, m.base+"proposals") },
		func() error { return writeVocabulary(dir) },
		func() error { return os.WriteFile(filepath.Join(dir, "shapes.ttl"), shapes, 0o666) },
		func() error { return writeQueries(dir) },
		func() error { return m.writeContext(dir) },
		func() error { return m.writeDatasetJSON(dir) },
		func() error { return m.writeMetadata(dir) },
		func() error { return m.writeChanges(dir) },
		func() error { return m.writeAbout(dir, data, opinions) },
		func() error {
			m.notes()
			_, err := os.Stat(filepath.Join(dir, "changes"))
			data.changes = err == nil
			return os.WriteFile(filepath.Join(dir, "README.txt"), []byte(m.readme(data, opinions)), 0o666)
		},
	}
	if d.After != nil {
		steps = append(steps, func() error { return d.After(dir) })
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		name := e.Name()
		if e.IsDir() {
			name += "/"
		}
		sum.Files = append(sum.Files, name)
	}
	return nil
}

// Try makes the triples of a dataset and counts them, and writes nothing: what would go out, and what is held back.
func Try(d Dataset) (Summary, error) {
	var sum Summary
	dir, err := os.MkdirTemp("", "musterstone-*")
	if err != nil {
		return sum, fmt.Errorf("try to publish: %w", err)
	}
	defer os.RemoveAll(dir)
	m, err := build(&d, dir, &sum)
	if err != nil {
		return sum, fmt.Errorf("try to publish: %w", err)
	}
	defer m.Close()
	data, err := tally(m.sort)
	if err != nil {
		return sum, fmt.Errorf("try to publish: %w", err)
	}
	opinions, err := tally(m.opinion)
	if err != nil {
		return sum, fmt.Errorf("try to publish: %w", err)
	}
	m.summarise(data, opinions)
	m.notes()
	return sum, nil
}

// summarise takes the counts into the summary.
func (m *mapper) summarise(data, opinions written) {
	m.sum.Triples, m.sum.Proposed, m.sum.Digest = data.triples, opinions.triples, data.digest
	m.sum.Classes = map[string]int{}
	for _, w := range []written{data, opinions} {
		for class, n := range w.classes {
			if name, ok := strings.CutPrefix(class, MS); ok {
				m.sum.Classes[name] = n
			}
		}
	}
}
