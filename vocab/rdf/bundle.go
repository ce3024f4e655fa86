package rdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"musterstone/model"
)

// Bundle is a publication that is read back.
type Bundle struct {
	dir   string
	files map[string]string // IRI of a source to the file's name
	rows  *Sorter
	// Decisions are those of the publication, in the order of their IRIs.
	Decisions []model.Decision
	// Metadata describes the tables; nil where the publication has none.
	Metadata []byte
}

// BundleRow is one row of a table as it was published.
type BundleRow struct {
	File    string       `json:"-"`
	Row     int          `json:"row"`               // as a spreadsheet counts; 0 for a subject of a graph
	Subject string       `json:"subject,omitempty"` // its IRI there
	ID      string       `json:"id"`
	Cells   []model.Cell `json:"cells"` // sorted by column, then value
}

// OpenBundle reads the publication in a folder: its data as N-Triples, whose digest must be right, and nothing else but survey-metadata.json.
// The caller closes it.
func OpenBundle(dir string) (b *Bundle, err error) {
	if err := checkDigest(dir); err != nil {
		return nil, err
	}
	b = &Bundle{dir: dir, files: map[string]string{}, rows: NewSorter("", 0)}
	defer func() {
		if err != nil {
			err = errors.Join(fmt.Errorf("read the publication in %s: %w", dir, err), b.Close())
			b = nil
		}
	}()
	b.Metadata, err = os.ReadFile(filepath.Join(dir, metadataName))
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return b, err
	}
	f, err := os.Open(filepath.Join(dir, "dataset.nt"))
	if err != nil {
		return b, err
	}
	defer f.Close()
	columns := map[string]string{}
	var block []Triple
	for t, err := range ReadNTriples(f, "dataset.nt") {
		if err != nil {
			return b, err
		}
		if len(block) > 0 && block[0].Subj.String() != t.Subj.String() {
			if err := b.take(block, columns); err != nil {
				return b, err
			}
			block = block[:0]
		}
		block = append(block, t)
	}
	if len(block) > 0 {
		err = b.take(block, columns)
	}
	return b, err
}

// metadataName is the file in which a publication says how the survey's tables were described.
const metadataName = "survey-metadata.json"

// writeMetadata writes how the survey's tables were described, without private columns, where the caller knows it: OpenBundle reads it back.
func (m *mapper) writeMetadata(dir string) error {
	if m.data.Metadata == nil {
		return nil
	}
	return os.WriteFile(filepath.Join(dir, metadataName), m.data.Metadata, 0o666)
}

// Close removes temporary files.
func (b *Bundle) Close() error { return b.rows.Close() }

// checkDigest holds dataset.nt to the digest that lies beside it.
func checkDigest(dir string) error {
	want, err := readDigest(filepath.Join(dir, "dataset.nt.sha256"))
	if errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("%s holds no dataset.nt.sha256, so it is no publication; name the folder that publish wrote", dir)
	}
	if err != nil {
		return fmt.Errorf("read the publication in %s: %w", dir, err)
	}
	f, err := os.Open(filepath.Join(dir, "dataset.nt"))
	if err != nil {
		return fmt.Errorf("read the publication in %s: %w", dir, err)
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return fmt.Errorf("read the publication in %s: %w", dir, err)
	}
	if want != hex.EncodeToString(h.Sum(nil)) {
		return fmt.Errorf("%s: dataset.nt is not what its digest says; it was changed or cut short: fetch it again", dir)
	}
	return nil
}

// readDigest reads the digest in a file that holds one, with the name of what it is of behind it.
func readDigest(path string) (string, error) {
	text, err := os.ReadFile(path)
	digest, _, _ := strings.Cut(string(text), " ")
	return digest, err
}

// take takes what is said of one subject. Columns come before what has cells, because their IRIs do.
func (b *Bundle) take(block []Triple, columns map[string]string) error {
	said := map[string]string{}
	class := ""
	for _, t := range block {
		p, o := t.Pred.String(), t.Obj.String()
		if p == rdfType {
			if local, ok := strings.CutPrefix(o, MS); ok {
				class = local
			}
			continue
		}
		said[p] = o
	}
	subject := block[0].Subj.String()
	switch class {
	case "Column":
		columns[subject] = said[MS+"columnName"]
	case "SourceFile":
		b.files[subject] = said[MS+"fileName"]
	case "Decision":
		var d model.Decision
		if err := json.Unmarshal([]byte(said[MS+"ledgerEntry"]), &d); err != nil {
			return fmt.Errorf("the ledger's entry of <%s> is no decision: %w; publish the survey again", subject, err)
		}
		b.Decisions = append(b.Decisions, d)
	case "Marker", "ServiceRecord":
		row := BundleRow{ID: said[dct+"identifier"], Subject: said[MS+"sourceSubject"]}
		if n := said[MS+"sourceRow"]; n != "" {
			var err error
			if row.Row, err = strconv.Atoi(n); err != nil {
				return fmt.Errorf("the row of <%s> is no number: %w; publish the survey again", subject, err)
			}
		}
		for _, t := range block {
			if name, ok := columns[t.Pred.String()]; ok {
				row.Cells = append(row.Cells, model.Cell{Column: name, Value: t.Obj.String()})
			}
		}
		return b.keep(row, said[prov+"wasDerivedFrom"])
	}
	return nil
}

// rowScheme begins the names under which rows are sorted; they leave this process nowhere.
const rowScheme = "urn:row:"

// keep puts a row where it is sorted by file and number.
func (b *Bundle) keep(row BundleRow, source string) error {
	text, err := json.Marshal(row)
	if err != nil {
		return err
	}
	name, err := NewIRI(fmt.Sprintf("%s%s:%010d:%s", rowScheme, percent(source), row.Row, digest("row", row.Subject, row.ID)))
	if err != nil {
		return err
	}
	predicate, err := NewIRI(MS + "row")
	if err != nil {
		return err
	}
	value, err := NewLiteral(string(text))
	if err != nil {
		return err
	}
	return b.rows.Add(Triple{Subj: name, Pred: predicate, Obj: value})
}

// Rows gives the rows of all tables, those of a table together and in their order. It is ranged over once.
func (b *Bundle) Rows() iter.Seq2[BundleRow, error] {
	return func(yield func(BundleRow, error) bool) {
		names := map[string]string{}
		for iri, file := range b.files {
			names[percent(iri)] = file
		}
		for line, err := range b.rows.lines() {
			if err != nil {
				yield(BundleRow{}, err)
				return
			}
			t, err := parseLine(line)
			var row BundleRow
			if err == nil {
				err = json.Unmarshal([]byte(t.Obj.String()), &row)
			}
			key, _, _ := bytes.Cut([]byte(strings.TrimPrefix(t.Subj.String(), rowScheme)), []byte{':'})
			row.File = names[string(key)]
			if err == nil && row.File == "" {
				err = fmt.Errorf("row %d of %q comes from a file without a name; publish the survey again", row.Row, row.ID)
			}
			if !yield(row, err) || err != nil {
				return
			}
		}
	}
}
