package intake

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strings"
)

// description is a metadata file as it is written; field order is that of the file.
type description struct {
	Context       []any              `json:"@context"`
	Base          string             `json:"ms:base,omitempty"`
	Title         string             `json:"dc:title,omitempty"`
	Licence       string             `json:"dc:license,omitempty"`
	Publisher     string             `json:"dc:publisher,omitempty"`
	NameRecorders bool               `json:"ms:nameRecorders,omitempty"`
	PublishNotes  bool               `json:"ms:publishNotes,omitempty"`
	Tables        []tableDescription `json:"tables"`
}

type tableDescription struct {
	URL      string            `json:"url"`
	Dialect  map[string]any    `json:"dialect,omitempty"`
	AboutURL string            `json:"aboutUrl,omitempty"`
	Schema   schemaDescription `json:"tableSchema"`
}

type schemaDescription struct {
	Columns []columnDescription `json:"columns"`
}

type columnDescription struct {
	Name      string   `json:"name,omitempty"`
	Titles    string   `json:"titles,omitempty"`
	Virtual   bool     `json:"virtual,omitempty"`
	Property  string   `json:"propertyUrl,omitempty"`
	AboutURL  string   `json:"aboutUrl,omitempty"`
	ValueURL  string   `json:"valueUrl,omitempty"`
	Value     string   `json:"ms:value,omitempty"`
	Null      []string `json:"null,omitempty"`
	Default   string   `json:"default,omitempty"`
	Separator string   `json:"separator,omitempty"`
	Ditto     bool     `json:"ms:ditto,omitempty"`
}

// idColumn is the column that Describe adds to a table whose rows could not be told apart otherwise once its private columns are gone.
const idColumn = "musterstone id"

// Describe writes a metadata file for the survey's tables as they are published: in UTF-8, parted by commas, every column described, and without those that
// are private. A survey of tables that hold the published cells under the same headers, and this file, reads as this one does.
func (s *Survey) Describe() ([]byte, error) {
	d := description{
		Context: []any{"http://www.w3.org/ns/csvw", map[string]string{"@language": "en"}},
		Base:    s.Base, Title: s.Title, Licence: s.Licence, Publisher: s.Publisher, NameRecorders: s.NameRecorders, PublishNotes: s.PublishNotes, Tables: []tableDescription{},
	}
	for i := range s.Tables {
		d.Tables = append(d.Tables, s.Tables[i].describe())
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(d); err != nil {
		return nil, fmt.Errorf("describe the survey: %w", err)
	}
	return b.Bytes(), nil
}

func (t *Table) describe() tableDescription {
	d := tableDescription{URL: url.PathEscape(t.File), Dialect: map[string]any{"delimiter": ","}}
	d.URL = strings.ReplaceAll(d.URL, "%2F", "/")
	class := "ms:Marker"
	if t.Kind.holdsRecords() {
		class = "ms:ServiceRecord"
	}
	if !t.meta.dialect.header {
		d.Dialect["header"] = false
	}
	if t.graph {
		d.Dialect = nil
	}
	var private []string
	for _, c := range t.Columns {
		if c.Private {
			private = append(private, c.Name)
		}
	}
	ownID := len(private) == 0 || t.graph
	if ownID {
		d.AboutURL = t.meta.aboutURL
	}
	column := 0
	for _, c := range t.Columns {
		if c.Virtual {
			continue
		}
		at := column
		column++
		if c.Private {
			continue
		}
		x := columnDescription{Titles: c.Name, Property: c.Property}
		if c.Term != "" && x.Property == "" {
			x.Property = "ms:" + c.Term
		}
		if !ownID && c.Term == termName(tID) {
			x.Property = ""
		}
		if at < len(t.bound.rules) {
			r := t.bound.rules[at]
			x.Null, x.Default, x.Separator, x.Ditto = r.nulls, r.fallback, r.separator, r.ditto
		}
		d.Schema.Columns = append(d.Schema.Columns, x)
	}
	named := map[string]string{} // the names that references in texts use, by title
	for _, c := range t.meta.columns {
		if !c.virtual && c.name != "" {
			named[plainName(c.label())] = c.name
		}
	}
	for i := range d.Schema.Columns {
		if n := named[plainName(d.Schema.Columns[i].Titles)]; n != d.Schema.Columns[i].Titles {
			d.Schema.Columns[i].Name = n
		}
	}
	if t.graph {
		for _, c := range t.meta.columns {
			if !c.virtual && !c.private {
				d.Schema.Columns = append(d.Schema.Columns, columnDescription{Titles: c.label(), Property: c.property})
			}
		}
	}
	for _, c := range t.meta.columns {
		if !c.virtual || c.private || slices.ContainsFunc(private, func(p string) bool { return refersTo(c.value+c.valueURL, p) }) {
			continue
		}
		x := columnDescription{Name: c.name, Virtual: true, Property: c.property, ValueURL: c.valueURL, Value: c.value, Null: c.nulls, Default: c.fallback, Separator: c.separator}
		if len(c.titles) > 0 {
			x.Titles = c.titles[0]
		}
		if c.other {
			x.AboutURL = "#other" // it speaks of another thing than the row, and is only kept
		}
		d.Schema.Columns = append(d.Schema.Columns, x)
	}
	if !ownID {
		d.Schema.Columns = append(d.Schema.Columns, columnDescription{Titles: idColumn, Property: "dc:identifier"})
	}
	d.Schema.Columns = append(d.Schema.Columns, columnDescription{Virtual: true, Property: "rdf:type", ValueURL: class})
	return d
}

// refersTo reports whether a text with references to columns names one.
func refersTo(text, column string) bool {
	for _, part := range strings.Split(text, "{")[1:] {
		name, _, _ := strings.Cut(part, "}")
		if plainName(name) == plainName(column) {
			return true
		}
	}
	return false
}

// Meaning is the IRI of what a column is read as; "" where it is only kept.
func (c Column) Meaning() string {
	if c.Term == "" {
		return ""
	}
	return vocabulary + c.Term
}
