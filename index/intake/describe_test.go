package intake

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// TestMappedGraph: a roster that others published as RDF, in a vocabulary of their own, comes in by a mapping in the metadata.
func TestMappedGraph(t *testing.T) {
	dir := folder(t, map[string]string{
		"roster-theirs.ttl": `@prefix x: <http://rolls.example.org/terms#> .
<http://rolls.example.org/man/7> x:lastName "Tillotson" ; x:firstNames "Saml." ; x:regt "31" ; x:co "F" ; x:of "Wis." ; x:branchOfArms "Inf." ; x:joined "Aug. 9, '62" ; x:shoeSize "9" .
<http://rolls.example.org/man/8> x:lastName "Ostby" .
`,
		MetadataFile: `{"@context": "http://www.w3.org/ns/csvw", "ms:nameRecorders": true, "tables": [{"url": "roster-theirs.ttl", "tableSchema": {"columns": [
 {"titles": "http://rolls.example.org/terms#lastName", "propertyUrl": "ms:surname"}, {"titles": "http://rolls.example.org/terms#firstNames", "propertyUrl": "ms:given"},
 {"titles": "http://rolls.example.org/terms#regt", "propertyUrl": "ms:regiment"}, {"titles": "http://rolls.example.org/terms#co", "propertyUrl": "ms:company"},
 {"titles": "http://rolls.example.org/terms#of", "propertyUrl": "ms:state"}, {"titles": "http://rolls.example.org/terms#branchOfArms", "propertyUrl": "ms:arm"},
 {"titles": "http://rolls.example.org/terms#joined", "propertyUrl": "ms:enlisted"},
 {"virtual": true, "propertyUrl": "ms:conflict", "default": "civil-war"}, {"virtual": true, "propertyUrl": "rdf:type", "valueUrl": "ms:ServiceRecord"}]}}]}`,
	})
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if !s.NameRecorders {
		t.Error("that recorders may be named was not read")
	}
	var all []*model.Record
	for r := range s.Records(func(c model.Complaint) { t.Error(c.Error()) }) {
		all = append(all, r)
	}
	if len(all) != 2 {
		t.Fatalf("%d records", len(all))
	}
	r := all[0]
	if r.Person.Name.Surname != "Tillotson" || r.Service.Unit.Number != 31 || r.Service.Unit.State != "WI" || r.Service.Unit.Company != "F" || r.Service.Enlisted.EDTF != "1862-08-09" ||
		r.Source.Subject != "http://rolls.example.org/man/7" || len(r.Service.Conflicts) != 1 || r.Service.Conflicts[0] != "civil-war" {
		t.Errorf("read: %+v", r)
	}
	again, err := s.Describe()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, MetadataFile), again, 0o666); err != nil {
		t.Fatal(err)
	}
	s, err = Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	i := 0
	for r := range s.Records(nil) {
		if diff := cmp.Diff(all[i], r); diff != "" {
			t.Errorf("by the description written anew (-want +got):\n%s", diff)
		}
		i++
	}
}

// TestPrivateMade: a virtual column is private that the metadata call so, or that is made of a private column; another is not.
func TestPrivateMade(t *testing.T) {
	dir := folder(t, map[string]string{
		"roster.csv": "id,family,first,dob,seen\nr1,Tillotson,Saml.,1840,1864\n",
		MetadataFile: `{"@context": "http://www.w3.org/ns/csvw", "tables": [{"url": "roster.csv", "tableSchema": {"columns": [{"titles": "dob", "name": "birth", "ms:private": true},
 {"virtual": true, "propertyUrl": "ms:name", "ms:value": "{family}, {first}"}, {"virtual": true, "propertyUrl": "ms:born", "ms:value": "{birth}-01-01"},
 {"virtual": true, "propertyUrl": "ms:side", "default": "union", "ms:private": true}]}}]}`,
	})
	s, err := Open(dir)
	if err != nil || len(s.Tables) != 1 {
		t.Fatal(s, err)
	}
	var private []string
	for _, c := range s.Tables[0].Columns {
		if c.Private {
			private = append(private, c.Name+" "+c.Term)
		}
	}
	if want := []string{"dob ", "ms:born born", "ms:side side"}; !slices.Equal(private, want) {
		t.Errorf("private are %q, want %q", private, want)
	}
}

// TestPrivateGraph: a property of a graph is private as a column of a table is, whether it is named with its prefix, without one, or by its IRI, and the survey's
// description of itself does not have it.
func TestPrivateGraph(t *testing.T) {
	dir := folder(t, map[string]string{
		"roster-theirs.ttl": `@prefix ms: <https://w3id.org/musterstone/vocab#> .
@prefix schema: <http://schema.org/> .
<http://rolls.example.org/man/7> a ms:ServiceRecord ; ms:surname "Tillotson" ; ms:remarks "deserted" ; ms:age "22" ; schema:deathDate "1864-08-09" .
`,
		MetadataFile: `{"@context": "http://www.w3.org/ns/csvw", "tables": [{"url": "roster-theirs.ttl", "tableSchema": {"columns": [
 {"titles": "ms:remarks", "ms:private": true}, {"titles": "age", "ms:private": true}, {"titles": "http://schema.org/deathDate", "propertyUrl": "ms:died", "suppressOutput": true}]}}]}`,
	})
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	terms := map[string]string{}
	for _, c := range s.Tables[0].Columns {
		terms[c.Name] = c.Term
	}
	for r := range s.Records(func(c model.Complaint) { t.Error(c.Error()) }) {
		for _, c := range r.Written {
			if private := s.Private(r.Source.File, c.Column); private != (c.Value != "Tillotson") {
				t.Errorf("%s %q is private: %v", c.Column, c.Value, private)
			}
		}
	}
	if want := map[string]string{"ms:remarks": "remarks", "ms:age": "age", "schema:deathDate": "died"}; !maps.Equal(terms, want) {
		t.Errorf("private are %v, want %v", terms, want)
	}
	again, err := s.Describe()
	if err != nil || strings.Contains(string(again), "remarks") || strings.Contains(string(again), "deathDate") {
		t.Errorf("described as %s, %v", again, err)
	}
}

// TestDescribe: a survey reads by the description that it writes of itself as it did, and private columns are not in it.
func TestDescribe(t *testing.T) {
	dir := folder(t, map[string]string{
		"stones.csv":    "id,Cemetery,carved on it,recorder,owner's phone\nA-1,Old Mill,SAML. TILLOTSON,Ann,555 0100\n",
		"roster-a.csv":  "nr,last,first,mo,da,yr,regt,owner\n1,Holden,John,8,9,1862,31,N.N.\n2,n/a,James,8,,1862,do.,N.N.\n",
		"roster-b.csv":  "Smith;J;44\n",
		"decisions.txt": "",
		MetadataFile: `{"@context": "http://www.w3.org/ns/csvw", "dc:title": "A <test> & more", "ms:base": "https://data.example.org/", "tables": [
{"url": "stones.csv", "tableSchema": {"columns": [{"titles": "carved on it", "propertyUrl": "ms:inscription"}, {"titles": "owner's phone", "ms:private": true}]}},
{"url": "roster-a.csv", "tableSchema": {"aboutUrl": "#a-{nr}", "columns": [{"name": "nr", "titles": "nr"}, {"titles": "last", "propertyUrl": "ms:surname", "null": "n/a"}, {"titles": "first", "propertyUrl": "schema:givenName"},
 {"name": "mo", "titles": "mo"}, {"name": "da", "titles": "da"}, {"name": "yr", "titles": "yr"}, {"titles": "regt", "propertyUrl": "ms:regiment", "ms:ditto": true},
 {"virtual": true, "propertyUrl": "ms:enlisted", "ms:value": "{mo}/{da}/{yr}"}, {"virtual": true, "propertyUrl": "ms:state", "default": "WI"}]}},
{"url": "roster-b.csv", "dialect": {"header": false, "delimiter": ";"}, "tableSchema": {"columns": [{"name": "surname"}, {"name": "given"}, {"name": "regiment"}]}}]}`,
	})
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	text, err := s.Describe()
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(text), "phone") {
		t.Errorf("a private column is described:\n%s", text)
	}
	var want []*model.Record
	for r := range s.Records(nil) {
		want = append(want, r)
	}
	// The tables as they would be published: commas, and no private columns.
	for name, old := range map[string]string{
		"stones.csv":   "id,Cemetery,carved on it,recorder,musterstone id\nA-1,Old Mill,SAML. TILLOTSON,Ann,A-1\n",
		"roster-b.csv": "Smith,J,44\n",
		MetadataFile:   string(text),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(old), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if s, err = Open(dir); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	var got []*model.Record
	for r := range s.Records(func(c model.Complaint) { t.Log(c.Error()) }) {
		got = append(got, r)
	}
	if diff := cmp.Diff(want, got); diff != "" || len(got) != 3 {
		t.Errorf("records (-want +got):\n%s\n%s", diff, text)
	}
	for st := range s.Stones(nil) {
		if st.ID != "A-1" || st.Marker.Inscription != "SAML. TILLOTSON" || st.Place.Cemetery != "Old Mill" {
			t.Errorf("stone: %+v", st)
		}
	}
}

// TestPrivateGraphMeaning: a property of a graph that is said to be private by what it means alone, or by its plain name, is private under every name that means the same; one that is named with its prefix is
// that one.
func TestPrivateGraphMeaning(t *testing.T) {
	for _, c := range []struct {
		column string
		open   []string // values that are not private
	}{
		{`{"propertyUrl": "schema:familyName", "ms:private": true}`, []string{"22"}},
		{`{"propertyUrl": "ms:surname", "ms:private": true}`, []string{"22"}},
		{`{"titles": "surname", "ms:private": true}`, []string{"22"}},
		{`{"titles": "foaf:lastName", "ms:private": true}`, []string{"22", "Adams", "Brown", "Dale"}},
	} {
		dir := folder(t, map[string]string{
			"roster-theirs.ttl": `@prefix ms: <https://w3id.org/musterstone/vocab#> .
<http://r.example.org/1> a ms:ServiceRecord ; ms:surname "Adams" ; ms:age "22" .
<http://r.example.org/2> a ms:ServiceRecord ; <http://schema.org/familyName> "Brown" ; ms:age "22" .
<http://r.example.org/3> a ms:ServiceRecord ; <http://xmlns.com/foaf/0.1/lastName> "Cole" ; ms:age "22" .
<http://r.example.org/4> a ms:ServiceRecord ; <http://their.example.org/lname> "Dale" ; ms:age "22" .
`,
			MetadataFile: `{"@context": "http://www.w3.org/ns/csvw", "tables": [{"url": "roster-theirs.ttl", "tableSchema": {"columns": [
 {"titles": "http://their.example.org/lname", "propertyUrl": "ms:surname"}, ` + c.column + `]}}]}`,
		})
		s, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for r := range s.Records(nil) {
			n++
			for _, k := range r.Written {
				if private := s.Private(r.Source.File, k.Column); private == slices.Contains(c.open, k.Value) {
					t.Errorf("%s: %s %q is private: %v", c.column, k.Column, k.Value, private)
				}
			}
		}
		if n != 4 {
			t.Errorf("%d records, want 4", n)
		}
	}
}
