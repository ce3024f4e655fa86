package intake

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab/rdf"
)

// Faults are what keeps a survey, or some of its tables, from being read.
type Faults struct{ Complaints []model.Complaint }

// Error lists the faults, one a line.
func (f *Faults) Error() string {
	var b strings.Builder
	for i := range f.Complaints {
		if i > 0 {
			b.WriteByte('\n')
		}
		if i == 20 {
			fmt.Fprintf(&b, "and %d more", len(f.Complaints)-i)
			break
		}
		b.WriteString(f.Complaints[i].Error())
	}
	return b.String()
}

// Open finds the tables of a survey folder and what their columns mean, from csv-metadata.json or, where there is none, from the names of
// files and columns. It reads the headers and no rows.
//
// Where some table cannot be read at all, the error is a *Faults and the Survey comes with it, holding the tables that can be; any
// other error is about the folder itself, and the Survey is nil.
func Open(dir string) (*Survey, error) {
	if err := isFolder(dir); err != nil {
		return nil, err
	}
	o := &opener{survey: &Survey{Dir: dir}}
	meta, err := o.metadata()
	if err != nil {
		return nil, err
	}
	if meta != nil {
		o.described(meta)
	} else if err := o.discover(); err != nil {
		return nil, err
	}
	if len(o.survey.Tables) == 0 && len(o.faults) == 0 {
		c := model.Complaint{File: dir, Fatal: true, Text: "no table of stones or of service records was found",
			Hint: "put a CSV file named stones…, register… or roster… into the folder, or let begin make sense of the files that are there"}
		o.faults = append(o.survey.Notices, c)
		o.survey.Notices = nil
	}
	if len(o.faults) > 0 {
		return o.survey, &Faults{o.faults}
	}
	return o.survey, nil
}

func isFolder(dir string) error {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("open survey %q: there is no such folder; give the folder that holds the tables", dir)
	case err != nil:
		return fmt.Errorf("open survey %q: %w", dir, err)
	case !info.IsDir():
		return fmt.Errorf("open survey %q: it is a file, not a folder; give the folder that holds it", dir)
	}
	return nil
}

// opener gathers what Open finds.
type opener struct {
	survey *Survey
	faults []model.Complaint
}

// note keeps a complaint: as a fault where it is fatal, else with the survey.
func (o *opener) note(c model.Complaint) {
	if c.Fatal {
		o.faults = append(o.faults, c)
	} else {
		o.survey.Notices = append(o.survey.Notices, c)
	}
}

// aside takes down a table that was passed over.
func (o *opener) aside(file, why string) {
	o.survey.Aside = append(o.survey.Aside, Aside{file, why})
}

// metadata reads the metadata file; nil where there is none.
func (o *opener) metadata() (*metadata, error) {
	if err := Within(o.survey.Dir, MetadataFile); err != nil {
		return nil, fmt.Errorf("read %s: %w; %s", MetadataFile, err, hintWithin)
	}
	name := filepath.Join(o.survey.Dir, MetadataFile)
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", MetadataFile, err)
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, maxMetadata+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", MetadataFile, err)
	}
	if len(b) > maxMetadata {
		return nil, fmt.Errorf("read %s: it is larger than %d MiB, more than any description of tables", MetadataFile, maxMetadata>>20)
	}
	m, err := readMetadata(b, o.note)
	if err != nil {
		return nil, err
	}
	return m, nil
}

// described opens the tables that the metadata name.
func (o *opener) described(m *metadata) {
	s := o.survey
	s.Described = true
	s.Title, s.Licence, s.Publisher, s.Base = m.title, m.licence, m.publisher, m.base
	s.NameRecorders, s.PublishNotes = m.nameRecorders, m.publishNotes
	named := map[string]bool{}
	for _, t := range m.tables {
		if t.file == "" {
			continue
		}
		if named[t.file] {
			o.note(model.Complaint{File: MetadataFile, Fatal: true, Text: fmt.Sprintf("%s: the table %q is described twice", t.path, t.file),
				Hint: "keep one of the descriptions"})
			continue
		}
		named[t.file] = true
		if t.suppress && !t.broken {
			o.aside(t.file, MetadataFile+" says that it is left out")
		}
		if !t.suppress && !t.broken {
			o.table(t)
		}
	}
	entries, err := os.ReadDir(s.Dir)
	if err != nil {
		return
	}
	o.foreign(entries, named)
	for _, e := range entries {
		if named[e.Name()] || !isTableName(e.Name()) {
			continue
		}
		switch {
		case kindByName(e.Name()) == "" && !e.IsDir() && !strings.HasPrefix(e.Name(), "."):
			o.aside(e.Name(), MetadataFile+" does not list it")
		case kindByName(e.Name()) != "":
			o.note(model.Complaint{File: e.Name(), Text: "the file is named like a table, but " + MetadataFile + " does not list it, so it was not read",
				Hint: `list it there, or move ` + MetadataFile + ` away and let begin write it anew; with "suppressOutput": true there if it is to be left out`})
		}
	}
}

// discover opens the tables of a folder without metadata.
func (o *opener) discover() error {
	entries, err := os.ReadDir(o.survey.Dir)
	if err != nil {
		return fmt.Errorf("open survey %q: %w", o.survey.Dir, err)
	}
	o.foreign(entries, nil)
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") || !isTableName(e.Name()) {
			continue
		}
		if kindByName(e.Name()) == "" && (e.IsDir() || rdf.Readable(e.Name())) {
			if !e.IsDir() {
				o.aside(e.Name(), "it is linked data whose name does not begin with roster")
			}
			continue
		}
		o.table(tableMeta{file: e.Name(), dialect: defaultDialect()})
	}
	return nil
}

// Cemeteries is the name of the table of burial grounds and their former names, which may stand in a survey folder and holds neither stones nor records.
const Cemeteries = "cemeteries.csv"

// isTableName reports whether a file is a table or graph by the ending of its name.
func isTableName(name string) bool {
	if strings.EqualFold(path.Base(name), Cemeteries) {
		return false
	}
	switch strings.ToLower(path.Ext(name)) {
	case ".csv", ".tsv", ".tab":
		return true
	}
	return rdf.Readable(name)
}

// ofPairs reports whether a table sets stones beside records: the sheet of proposals that people decide on, the list of leads, the known pairs that proposals are assessed by. People keep such tables in the
// survey's folder, and taken for stones they would be all the same stones again.
func ofPairs(header []string) bool {
	has := func(name string) bool {
		return slices.ContainsFunc(header, func(h string) bool { return strings.EqualFold(strings.TrimSpace(h), name) })
	}
	return has("stone") && has("record")
}

// pairsAre says what tables of pairs there are.
const pairsAre = "as the sheet of proposals, the list of leads and a table of known pairs do"

// kindByName is what a file's name says it is; "" where it says nothing.
func kindByName(file string) Kind {
	base := strings.ToLower(path.Base(file))
	switch {
	case strings.HasPrefix(base, "stone"):
		return Stones
	case strings.HasPrefix(base, "register"):
		return Register
	case strings.HasPrefix(base, "roster"):
		return Roster
	}
	return ""
}

// table opens one table: its header is read and its columns are bound to meanings.
func (o *opener) table(meta tableMeta) {
	t := Table{File: meta.file, Kind: meta.kind, meta: meta, graph: rdf.Readable(meta.file)}
	n := len(o.faults)
	defer func() {
		if len(o.faults) > n { // the table is not kept, and what was noted of it would be lost
			o.survey.Notices = append(o.survey.Notices, t.Notices...)
		}
	}()
	fault := func(text, hint string) {
		o.note(model.Complaint{File: t.File, Text: text, Hint: hint, Fatal: true})
	}
	if t.Kind == "" {
		t.Kind = kindByName(t.File)
	}
	if err := Within(o.survey.Dir, t.File); err != nil {
		fault(err.Error(), hintWithin)
		return
	}
	info, err := os.Stat(o.survey.path(t.File))
	switch {
	case errors.Is(err, fs.ErrNotExist) && meta.path != "":
		o.note(model.Complaint{File: MetadataFile, Fatal: true, Text: fmt.Sprintf("%s.url: there is no file %q in the survey folder", meta.path, t.File),
			Hint: "put it there, or take the table out of the list"})
		return
	case err != nil:
		o.note(model.Complaint{File: t.File, Text: "the file cannot be looked at: " + plainError(err), Hint: "look at its permissions", Fatal: true, Unread: ofTheDisk(err)})
		return
	case info.IsDir():
		fault("it is a folder, not a table", "rename the folder, or put the table in its place")
		return
	case !info.Mode().IsRegular():
		fault("it is no ordinary file", "put a file in its place")
		return
	case info.Size() == 0 && meta.path == "" && t.Kind == "": // such as the list that is being written into the folder
		o.note(model.Complaint{File: t.File, Text: "the file is empty, so it was not read", Hint: "if it is a table, export it again; if not, take it out of the folder"})
		return
	case info.Size() == 0:
		fault("the file is empty", "export the table again; the first row must name the columns")
		return
	}
	if kind, hint := foreignContent(o.survey.path(t.File)); kind != "" {
		fault("it is "+kind+", whatever its name says", hint)
		return
	}
	if t.graph {
		if t.Kind == "" {
			t.Kind = Roster
		}
		if !t.Kind.holdsRecords() {
			fault("a graph of stones is not read; only rosters may be Turtle, N-Triples or N-Quads", "give the stones as CSV")
			return
		}
		t.bound = graphBinding()
		t.mapping = graphMapping(meta)
		t.Columns = describedProperties(meta)
		o.survey.Tables = append(o.survey.Tables, t)
		return
	}
	r, closer, err := o.survey.rows(&t)
	if err != nil {
		hint := "look at its permissions"
		if errors.Is(err, errUTF16) {
			hint = `save it as UTF-8, or say "dialect": {"encoding": "utf-16le"} for it in ` + MetadataFile
		}
		o.note(model.Complaint{File: t.File, Text: plainError(err), Hint: hint, Fatal: true, Unread: ofTheDisk(err)})
		return
	}
	defer closer.Close()
	b := &binder{survey: o.survey, table: &t, note: func(c model.Complaint) {
		if c.Fatal {
			o.note(c)
		} else {
			t.Notices = append(t.Notices, c)
		}
	}}
	header, ok := b.header(r)
	if !ok {
		return
	}
	if meta.path == "" && t.Kind == "" && ofPairs(header) {
		o.aside(t.File, "its columns stone and record set stones beside records, "+pairsAre+"; if it holds stones or records, name it stones…, register… or roster…")
		return
	}
	if !b.decideKind(header) {
		if meta.path == "" && len(o.faults) == n {
			o.note(model.Complaint{File: t.File, Text: "neither its name nor its columns say that it is a table of stones or of records, so it was not read",
				Hint: "name it stones…, register… or roster…, or describe it in " + MetadataFile})
		}
		return
	}
	b.bind(header)
	if len(o.faults) == n {
		b.unnamed(header)
		o.survey.Tables = append(o.survey.Tables, t)
	}
}
