// Package restore makes a survey folder of a publication: its tables as CSV, or as N-Triples where they were a graph, its metadata and its ledger. What
// the publication holds back is not in it.
package restore

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"musterstone/index/intake"
	"musterstone/link/ledger"
	"musterstone/model"
	"musterstone/vocab/rdf"
)

// Count says what was written.
type Count struct{ Tables, Rows, Decisions int }

// Restore makes a survey in the folder dir, which must be empty or not there, from the publication in the folder from. Where that fails, nothing of it is left.
func Restore(from, dir string) (c Count, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return c, fmt.Errorf("look into the folder for the survey: %w", err)
	}
	if len(entries) > 0 {
		return c, fmt.Errorf("%s holds %s; a survey is restored into an empty folder, or one that does not exist yet", dir, entries[0].Name())
	}
	b, err := rdf.OpenBundle(from)
	if err != nil {
		return c, err
	}
	defer func() { err = errors.Join(err, b.Close()) }()
	if b.Metadata == nil {
		return c, fmt.Errorf("%s holds no survey-metadata.json, which says what its tables were like; it was published without; publish the survey again", from)
	}
	w := &writer{dir: dir, tables: map[string]*table{}}
	if c, err = w.restore(b); err != nil {
		w.undo()
		return Count{}, fmt.Errorf("restore %s: %w", from, err)
	}
	return c, nil
}

func (w *writer) restore(b *rdf.Bundle) (c Count, err error) {
	if err := w.layout(b); err != nil {
		return c, err
	}
	if err := w.rows(b); err != nil {
		return c, err
	}
	path, err := w.place(intake.MetadataFile)
	if err != nil {
		return c, err
	}
	w.made = append(w.made, path)
	if err := os.WriteFile(path, b.Metadata, 0o666); err != nil {
		return c, err
	}
	if len(b.Decisions) > 0 {
		path, err := w.place(ledger.FileName)
		if err != nil {
			return c, err
		}
		w.made = append(w.made, path)
		if err := ledger.Rebuild(path, b.Decisions); err != nil {
			return c, err
		}
	}
	return Count{Tables: w.written, Rows: w.count, Decisions: len(b.Decisions)}, nil
}

// place is the path of a file that is to be written; the folder that it lies in is made.
func (w *writer) place(name string) (string, error) {
	path := filepath.Join(w.dir, filepath.FromSlash(name))
	return path, w.folder(filepath.Dir(path))
}

// folder makes a folder, with those above it, where it is not there.
func (w *writer) folder(path string) error {
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		return err
	}
	if err := w.folder(filepath.Dir(path)); err != nil {
		return err
	}
	if err := os.Mkdir(path, 0o777); err != nil {
		return err
	}
	w.made = append(w.made, path)
	return nil
}

// undo takes away what was made, the latest first.
func (w *writer) undo() {
	for _, path := range slices.Backward(w.made) {
		os.Remove(path)
	}
}

// table is how one file is written.
type table struct {
	graph, noHeader bool
	begun           bool // its file is there
	columns         []string
	id              int // the column of ids; -1 where the rows' ids follow from their cells
}

// writer writes the files of a survey.
type writer struct {
	dir            string
	tables         map[string]*table
	written, count int      // tables and rows
	made           []string // files and folders, in the order in which they were made
}

// metadata is what of survey-metadata.json says how tables are laid out.
type metadata struct {
	Tables []struct {
		URL     string `json:"url"`
		About   string `json:"aboutUrl"`
		Dialect struct {
			Header *bool `json:"header"`
		} `json:"dialect"`
		Schema struct {
			Columns []struct {
				Titles   string `json:"titles"`
				Property string `json:"propertyUrl"`
				Virtual  bool   `json:"virtual"`
			} `json:"columns"`
		} `json:"tableSchema"`
	} `json:"tables"`
}

// layout settles the columns of each file: those of the metadata in their order, then those that only rows have.
func (w *writer) layout(b *rdf.Bundle) error {
	var m metadata
	if err := json.Unmarshal(b.Metadata, &m); err != nil {
		return fmt.Errorf("survey-metadata.json: %w; fetch the publication again", err)
	}
	for _, t := range m.Tables {
		file, err := url.PathUnescape(t.URL)
		if err != nil || !filepath.IsLocal(filepath.FromSlash(file)) {
			return fmt.Errorf("survey-metadata.json: %q is no file of a survey; fetch the publication again, from one whom you trust", t.URL)
		}
		x := &table{graph: rdf.Readable(file), noHeader: t.Dialect.Header != nil && !*t.Dialect.Header, id: -1}
		for _, c := range t.Schema.Columns {
			if c.Virtual {
				continue
			}
			property, _ := intake.Expand(c.Property)
			if t.About == "" && (strings.HasSuffix(property, "/terms/identifier") || property == rdf.MS+"id") {
				x.id = len(x.columns)
			}
			x.columns = append(x.columns, c.Titles)
		}
		w.tables[file] = x
	}
	for row, err := range b.Rows() {
		if err != nil {
			return err
		}
		t := w.tables[row.File]
		if t == nil {
			return fmt.Errorf("survey-metadata.json does not describe %q, of which there are rows; fetch the publication again", row.File)
		}
		t.widen(row.Cells)
	}
	return nil
}

// widen makes room for the cells of a row. A name that stands in more than one cell has as many columns.
func (t *table) widen(cells []model.Cell) {
	if t.graph {
		return
	}
	need := map[string]int{}
	for _, c := range cells {
		need[c.Column]++
		have := 0
		for _, name := range t.columns {
			if name == c.Column {
				have++
			}
		}
		if have < need[c.Column] {
			t.columns = append(t.columns, c.Column)
		}
	}
}

// rows writes the rows of every table, each into its file.
func (w *writer) rows(b *rdf.Bundle) error {
	var (
		name string
		out  *file
	)
	for row, err := range b.Rows() {
		if err != nil {
			return err
		}
		if out == nil || row.File != name {
			if err := out.close(); err != nil {
				return err
			}
			name = row.File
			if out, err = w.create(name); err != nil {
				return err
			}
		}
		if err := out.row(row); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		w.count++
	}
	if err := out.close(); err != nil {
		return err
	}
	// A table of which nothing could be published is there with its header alone.
	for _, name := range slices.Sorted(maps.Keys(w.tables)) {
		if t := w.tables[name]; !t.graph && !t.begun {
			out, err := w.create(name)
			if err != nil {
				return err
			}
			if err := out.close(); err != nil {
				return err
			}
		}
	}
	return nil
}

// file is one table while it is written.
type file struct {
	*table
	f    *os.File
	w    *bufio.Writer
	csv  *csv.Writer
	last int // the row that was written last, as a spreadsheet counts
}

// create begins the file of a table, with its header.
func (w *writer) create(name string) (*file, error) {
	path, err := w.place(name)
	if err != nil {
		return nil, err
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return nil, err
	}
	w.made = append(w.made, path)
	w.written++
	w.tables[name].begun = true
	out := &file{table: w.tables[name], f: f, w: bufio.NewWriter(f)}
	if out.graph {
		return out, nil
	}
	out.csv = csv.NewWriter(out.w)
	if !out.noHeader {
		out.last = 1
		return out, out.csv.Write(out.columns)
	}
	return out, nil
}

// mostBlank is how many rows that were held back may lie between two that were not, more than any roster has: a publication that says otherwise would fill the disk.
const mostBlank = 100_000_000

// row writes a row where it stood: rows that were held back leave blank ones.
func (o *file) row(r rdf.BundleRow) error {
	if o.graph {
		return o.subject(r)
	}
	if blank := r.Row - 1 - o.last; blank > mostBlank {
		return fmt.Errorf("row %d would lie behind %d blank ones; fetch the publication again, from one whom you trust", r.Row, blank)
	}
	if o.last < r.Row-1 {
		o.csv.Flush() // what was written before must lie before the blank rows
	}
	for ; o.last < r.Row-1; o.last++ {
		if _, err := o.w.WriteString("\n"); err != nil {
			return err
		}
	}
	o.last++
	cells := make([]string, len(o.columns))
	for _, c := range r.Cells {
		for i, name := range o.columns {
			if name == c.Column && cells[i] == "" {
				cells[i] = c.Value
				break
			}
		}
	}
	if o.id >= 0 && strings.TrimSpace(cells[o.id]) != r.ID {
		cells[o.id] = r.ID
	}
	return o.csv.Write(cells)
}

// subject writes a row of a graph as N-Triples, which Turtle takes in.
func (o *file) subject(r rdf.BundleRow) error {
	name := r.Subject
	if name == "" {
		name = "urn:record:" + url.PathEscape(r.ID)
	}
	s, err := rdf.NewIRI(name)
	if err != nil {
		return err
	}
	cells := append([]model.Cell{{Column: "rdf:type", Value: rdf.MS + "ServiceRecord"}}, r.Cells...)
	for _, c := range cells {
		property, ok := intake.Expand(c.Column)
		if !ok {
			return fmt.Errorf("%q of %s is no property; mend the name of that column in the roster it comes from, and publish anew", c.Column, name)
		}
		p, err := rdf.NewIRI(property)
		if err != nil {
			return err
		}
		var value rdf.Object
		if iri, err := rdf.NewIRI(c.Value); err == nil && strings.Contains(c.Value, "://") {
			value = iri
		} else if value, err = rdf.NewLiteral(c.Value); err != nil {
			return err
		}
		line, err := rdf.AppendTriple(nil, rdf.Triple{Subj: s, Pred: p, Obj: value})
		if err != nil {
			return err
		}
		if _, err := o.w.Write(line); err != nil {
			return err
		}
	}
	return nil
}

// close ends a file; the nil file has none.
func (o *file) close() error {
	if o == nil {
		return nil
	}
	var errs []error
	if o.csv != nil {
		o.csv.Flush()
		errs = append(errs, o.csv.Error())
	}
	return errors.Join(append(errs, o.w.Flush(), o.f.Close())...)
}
