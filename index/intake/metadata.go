package intake

import (
	"fmt"
	"net/url"
	"path"
	"strconv"
	"strings"

	"musterstone/model"
)

// MetadataFile is the name of the file that describes a survey's tables.
const MetadataFile = "csv-metadata.json"

// maxMetadata bounds the metadata file in bytes.
const maxMetadata = 16 << 20

// metadata is what the metadata file says.
type metadata struct {
	title, licence, publisher, base string
	nameRecorders, publishNotes     bool
	tables                          []tableMeta
}

// tableMeta is what it says of one table.
type tableMeta struct {
	path     string // JSON path, for complaints
	file     string // relative to the survey folder, with slashes; "" where it cannot be used
	suppress bool
	broken   bool // a fault in it was told that keeps the table from being read
	kind     Kind // "" where it does not say
	dialect  dialect
	aboutURL string
	columns  []columnMeta
}

// columnMeta is what it says of one column.
type columnMeta struct {
	path      string
	name      string
	titles    []string
	property  string // IRI
	given     string // the property as written
	valueURL  string
	virtual   bool
	other     bool // its own "aboutUrl" says that it speaks of another thing than the row
	nulls     []string
	fallback  string // "default"
	separator string
	private   bool
	ditto     bool
	value     string // "ms:value": a text with {column} references
}

// label names the column for a complaint.
func (c *columnMeta) label() string {
	if len(c.titles) > 0 {
		return c.titles[0]
	}
	return c.name
}

// metadataReader reads the tree of a metadata file.
type metadataReader struct {
	tell  func(model.Complaint)
	fatal bool // something fatal was told of the table at hand
}

// complain tells of what stands at a JSON path.
func (r *metadataReader) complain(at, text, hint string, fatal bool) {
	r.fatal = r.fatal || fatal
	r.tell(model.Complaint{File: MetadataFile, Text: at + ": " + text, Hint: hint, Fatal: fatal})
}

// readMetadata reads the bytes of a metadata file; what is wrong with parts of it goes to complain, and the rest stands. An error is a
// file that cannot be used at all.
func readMetadata(b []byte, complain func(model.Complaint)) (*metadata, error) {
	tree, err := parseJSON(b)
	if err != nil {
		return nil, err
	}
	root, ok := tree.(map[string]any)
	if !ok {
		return nil, fmt.Errorf("%s: it is %s, not a JSON object; write {\"@context\": …, \"tables\": […]}", MetadataFile, kindOf(tree))
	}
	r := &metadataReader{tell: complain}
	return r.group(node{root, ""}), nil
}

// group reads the table group, or a single table in its place.
func (r *metadataReader) group(n node) *metadata {
	m := &metadata{
		title:     r.words(n, "dc:title", "dcterms:title", "schema:name", "rdfs:label"),
		licence:   r.words(n, "dc:license", "dcterms:license", "schema:license", "dc:rights", "dcterms:rights"),
		publisher: r.words(n, "dc:publisher", "dcterms:publisher", "schema:publisher", "dc:creator"),
		base:      r.base(n),

		nameRecorders: r.flag(n, "ms:nameRecorders"), publishNotes: r.flag(n, "ms:publishNotes"),
	}
	list, ok := n.m["tables"]
	if !ok {
		if _, single := n.m["url"]; single {
			m.tables = append(m.tables, r.table(n, inherited{}))
		} else {
			r.complain("$", `there is neither "tables" nor "url", so no table is described`, `list the tables under "tables"`, true)
		}
		return m
	}
	r.unknownKeys(n, "tables", "dialect", "tableSchema", "tableDirection", "transformations", "notes", "@context", "id", "type", "@id", "@type",
		"null", "lang", "default", "separator", "ordered", "required", "datatype", "textDirection", "aboutUrl", "propertyUrl", "valueUrl")
	private := r.notPrivate(n)
	tables, ok := list.([]any)
	if !ok {
		r.complain("$.tables", "it is "+kindOf(list)+", not a list", `write "tables": [ { "url": … } ]`, true)
		return m
	}
	up := inherited{}.with(r, n)
	for i, t := range tables {
		at := "$.tables[" + strconv.Itoa(i) + "]"
		o, ok := t.(map[string]any)
		if !ok {
			r.complain(at, "it is "+kindOf(t)+", not an object", `write { "url": "stones.csv", … }`, true)
			continue
		}
		m.tables = append(m.tables, r.table(node{o, at}, up))
	}
	for i := range m.tables {
		m.tables[i].broken = m.tables[i].broken || private
	}
	return m
}

// inherited are the properties that CSV on the Web hands down from group to table, schema and column (Metadata Vocabulary, section
// 5.7), as far as they are used here.
type inherited struct {
	nulls     []string
	fallback  string
	separator string
	aboutURL  string
	dialect   map[string]any
	schema    map[string]any
	// at are the JSON paths of the last two.
	dialectAt, schemaAt string
}

// with takes what a level says itself.
func (in inherited) with(r *metadataReader, n node) inherited {
	if v, ok := n.m["null"]; ok {
		in.nulls = r.texts(v, n.at("null"))
	}
	if s, ok := r.text(n, "default"); ok {
		in.fallback = s
	}
	if s, ok := r.text(n, "separator"); ok {
		in.separator = s
	}
	if s, ok := r.text(n, "aboutUrl"); ok {
		in.aboutURL = s
	}
	if o, ok := r.object(n, "dialect"); ok {
		in.dialect, in.dialectAt = o, n.at("dialect")
	}
	if o, ok := r.object(n, "tableSchema"); ok {
		in.schema, in.schemaAt = o, n.at("tableSchema")
	}
	return in
}

// table reads one table description.
func (r *metadataReader) table(n node, up inherited) tableMeta {
	t := tableMeta{path: n.path, dialect: defaultDialect()}
	if t.path == "" {
		t.path = "$"
	}
	r.fatal = false
	r.unknownKeys(n, "url", "dialect", "tableSchema", "suppressOutput", "tableDirection", "transformations", "notes", "@context", "id", "type",
		"@id", "@type", "null", "lang", "default", "separator", "ordered", "required", "datatype", "textDirection", "aboutUrl", "propertyUrl", "valueUrl")
	r.notPrivate(n, "suppressOutput")
	if _, ok := n.m["suppressOutput"]; ok {
		t.suppress = r.keptBack(node{map[string]any{"suppressOutput": n.m["suppressOutput"]}, n.path}, "suppressOutput")
	}
	if u, ok := r.text(n, "url"); !ok || u == "" {
		r.complain(t.path, `the table has no "url", so there is no telling which file it is`, `write "url": "stones.csv"`, true)
	} else if file, err := localFile(u); err != nil {
		r.complain(n.at("url"), err.Error(), "put the file into the survey folder and give its name there", true)
	} else {
		t.file = file
	}
	in := up.with(r, n)
	if in.dialect != nil {
		t.dialect = r.dialect(node{in.dialect, in.dialectAt})
	}
	if in.schema != nil {
		s := node{in.schema, in.schemaAt}
		in = in.with(r, s)
		r.unknownKeys(s, "columns", "primaryKey", "foreignKeys", "rowTitles", "@id", "@type", "id", "type", "null", "lang", "default", "separator",
			"ordered", "required", "datatype", "textDirection", "aboutUrl", "propertyUrl", "valueUrl")
		r.notPrivate(s)
		r.columns(&t, s, in)
	}
	t.aboutURL = in.aboutURL
	t.broken = r.fatal
	return t
}

// columns reads the columns of a schema.
func (r *metadataReader) columns(t *tableMeta, n node, up inherited) {
	v, ok := n.m["columns"]
	if !ok {
		return
	}
	list, ok := v.([]any)
	if !ok {
		r.complain(n.at("columns"), "it is "+kindOf(v)+", not a list", `write "columns": [ { "titles": … } ]`, true)
		return
	}
	for i, v := range list {
		at := n.at("columns") + "[" + strconv.Itoa(i) + "]"
		o, ok := v.(map[string]any)
		if !ok {
			r.complain(at, "it is "+kindOf(v)+", not an object", `write { "titles": "Surname", "propertyUrl": "ms:surname" }`, true)
			continue
		}
		c := r.column(node{o, at}, up)
		if c.property == typeIRI {
			if !c.other {
				r.rowType(t, &c)
			}
			continue
		}
		t.columns = append(t.columns, c)
	}
}

// column reads one column description.
func (r *metadataReader) column(n node, up inherited) columnMeta {
	in := up.with(r, n)
	c := columnMeta{path: n.path, nulls: in.nulls, fallback: in.fallback, separator: in.separator, other: in.aboutURL != up.aboutURL}
	r.unknownKeys(n, "name", "titles", "virtual", "suppressOutput", "@id", "@type", "id", "type", "null", "lang", "default", "separator", "ordered", "required",
		"datatype", "textDirection", "aboutUrl", "propertyUrl", "valueUrl")
	c.name, _ = r.text(n, "name")
	if v, ok := n.m["titles"]; ok {
		c.titles = r.texts(v, n.at("titles"))
	}
	c.virtual = r.flag(n, "virtual")
	c.private = r.keptBack(n, "ms:private", "suppressOutput")
	c.ditto = r.flag(n, "ms:ditto")
	c.valueURL, _ = r.text(n, "valueUrl")
	c.value, _ = r.text(n, "ms:value")
	if p, ok := r.text(n, "propertyUrl"); ok && p != "" {
		c.given = p
		iri, ok := Expand(p)
		if !ok {
			r.complain(n.at("propertyUrl"), fmt.Sprintf("%q is neither an IRI nor a name with a known prefix", p),
				`write "ms:surname", "schema:familyName" or the whole IRI; the column is kept without a meaning`, false)
		}
		c.property = iri
	}
	if o, ok := n.m["datatype"].(map[string]any); ok {
		if format, _ := o["format"].(string); strings.HasPrefix(format, "d") {
			r.complain(n.at("datatype")+".format", "formats are not used, and dates in figures are read with the month first", "write the dates as 1864-08-09, or with the month in words", false)
		}
	}
	if c.virtual && c.value == "" && c.valueURL == "" && c.fallback == "" {
		r.complain(n.path, "the virtual column has no value", `give it "default", "ms:value" or "valueUrl"`, false)
	}
	if !c.virtual && c.name == "" && len(c.titles) == 0 {
		r.complain(n.path, `the column has neither "titles" nor "name"; it was taken by its place in the list`, `write its header as "titles"`, false)
	}
	return c
}

// rowType takes what an rdf:type column says the rows are.
func (r *metadataReader) rowType(t *tableMeta, c *columnMeta) {
	given := c.valueURL
	if given == "" {
		given = c.fallback
	}
	iri, _ := Expand(given)
	switch iri {
	case vocabulary + "Marker":
		t.kind = Stones
	case vocabulary + "ServiceRecord":
		t.kind = Roster
	default:
		if !strings.HasPrefix(iri, vocabulary) {
			return // a type besides
		}
		r.complain(c.path+".valueUrl", fmt.Sprintf("rows of type %q are not known", given), "write ms:Marker for stones and registers, ms:ServiceRecord for rosters", true)
	}
}

// dialect reads a dialect description.
func (r *metadataReader) dialect(n node) dialect {
	d := defaultDialect()
	r.unknownKeys(n, "commentPrefix", "delimiter", "doubleQuote", "encoding", "header", "headerRowCount", "lineTerminators", "quoteChar", "skipBlankRows",
		"skipColumns", "skipInitialSpace", "skipRows", "trim", "@id", "@type", "id", "type")
	if s, ok := r.text(n, "delimiter"); ok {
		if len(s) != 1 || s[0] >= 0x80 || s[0] == '\n' || s[0] == '\r' {
			r.complain(n.at("delimiter"), fmt.Sprintf("%q is not one ASCII character", s), `write ",", ";" or "\t"`, true)
		} else {
			d.delimiter = s[0]
		}
	}
	if v, ok := n.m["quoteChar"]; ok && v == nil {
		d.quote = 0
	} else if s, ok := r.text(n, "quoteChar"); ok {
		if len(s) != 1 || s[0] >= 0x80 {
			r.complain(n.at("quoteChar"), fmt.Sprintf("%q is not one ASCII character", s), `write "\"", "'" or null`, true)
		} else {
			d.quote = s[0]
		}
	}
	if v, ok := n.m["doubleQuote"]; ok && v == false {
		r.complain(n.at("doubleQuote"), "quote marks that are escaped by a backslash are not read", "save the file with doubled quote marks", true)
	}
	if s, ok := r.text(n, "encoding"); ok {
		d.encoding = s
		if _, known := lookEncoding(s); !known {
			r.complain(n.at("encoding"), fmt.Sprintf("the encoding %q is not known", s), "save the file as UTF-8, or name utf-8, utf-16, windows-1252, windows-1250, iso-8859-2, iso-8859-15, macintosh, cp437 or cp850", true)
		}
	}
	if s, ok := r.text(n, "commentPrefix"); ok {
		d.comment = s
	}
	if v, ok := n.m["header"]; ok {
		if b, isBool := v.(bool); isBool {
			d.header = b
		} else {
			r.complain(n.at("header"), "it is "+kindOf(v)+", not true or false", "write true or false, without quotes", true)
		}
	}
	d.skipRows = r.count(n, "skipRows")
	if _, ok := n.m["headerRowCount"]; ok {
		switch r.count(n, "headerRowCount") {
		case 0:
			d.header = false
		case 1:
		default:
			r.complain(n.at("headerRowCount"), "headers of more than one row are not read", `skip all but the last with "skipRows"`, true)
		}
	}
	if r.count(n, "skipColumns") > 0 {
		r.complain(n.at("skipColumns"), "columns cannot be skipped", "leave them out of the column list instead", true)
	}
	d.skipSpace = r.flag(n, "skipInitialSpace") || n.m["trim"] == true
	return d
}

// localFile turns a table's url into a file of the survey folder. Nothing is ever fetched.
func localFile(u string) (string, error) {
	parsed, err := url.Parse(u)
	if err != nil {
		return "", fmt.Errorf("%q is not a usable url", u)
	}
	if parsed.Scheme != "" || parsed.Host != "" {
		return "", fmt.Errorf("%q is not in the survey folder, and nothing is fetched from elsewhere", u)
	}
	name := strings.ReplaceAll(parsed.Path, `\`, "/")
	clean := path.Clean(name)
	if name == "" || strings.HasPrefix(clean, "/") || clean == ".." || strings.HasPrefix(clean, "../") || clean == "." || strings.ContainsRune(clean, 0) {
		return "", fmt.Errorf("%q is not a file within the survey folder", u)
	}
	return clean, nil
}
