package intake_test

import (
	"io"
	"slices"
	"strings"
	"testing"

	"musterstone/index/intake"
)

// TestSeparatorLine: a table whose first line only says what parts its cells is read as without that line, its rows counted as a spreadsheet counts them.
func TestSeparatorLine(t *testing.T) {
	const body = "id;surname;given;unit\n1;Abel;John;U. S. Navy\n2;Bell;Amos;Co. F, 31st Wis. Inf.\n\n3;Cole;Ezra;Co. F, 31st Wis. Inf.;x\n"
	const metadata = `{"@context": "http://www.w3.org/ns/csvw", "tables": [{"url": "roster.csv", "dialect": {DIALECT}, "tableSchema": {"columns": [{"titles": "id"}, {"titles": "surname"}, {"titles": "given"}, {"titles": "unit"}]}}]}`
	for _, c := range []struct{ name, first, body, dialect string }{
		{"plain", "sep=;\n", body, ""},
		{"quoted, with a byte order mark and line ends of two bytes", "\ufeff\"sep=;\"\r\n", strings.ReplaceAll(body, "\n", "\r\n"), ""},
		{"line ends of old", "sep=;\r", strings.ReplaceAll(body, "\n", "\r"), ""},
		{"another case, another delimiter", "SEP=|\n", strings.ReplaceAll(body, ";", "|"), ""},
		{"one that is not looked for", "sep=^\n", strings.ReplaceAll(body, ";", "^"), ""},
		{"a tab", "sep=\t\n", strings.ReplaceAll(body, ";", "\t"), ""},
		{"saved again", "sep=;;;;\n", body, ""},
		{"saved again with commas", "sep=;,,,\n", strings.ReplaceAll(strings.ReplaceAll(body, ",", ""), ";", ","), ""},
		{"a delimiter in the metadata", "sep=;\n", body, `"delimiter": ";"`},
		{"a description that counts the line", "sep=;\n", body, `"skipRows": 1`},
		{"UTF-16", string(utf16LE("\ufeffsep=;\n")), string(utf16LE(body)), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			write(t, dir, "roster.csv", []byte(c.first+c.body))
			if c.dialect != "" {
				write(t, dir, intake.MetadataFile, []byte(strings.Replace(metadata, "DIALECT", c.dialect, 1)))
			}
			_, records, complaints := read(t, dir)
			var got []string
			for _, r := range records {
				got = append(got, string(r.ID)+" "+r.Person.Name.Surname)
			}
			if want := []string{"1 Abel", "2 Bell", "3 Cole"}; !slices.Equal(got, want) {
				t.Errorf("records %q, want %q; complaints %q", got, want, complaints)
			}
			if len(complaints) != 1 || !strings.HasPrefix(complaints[0], "roster.csv:5: ") {
				t.Errorf("complaints %q; want one, of row 5", complaints)
			}
		})
	}
	for _, first := range []string{"sep=\n", "sep=x\n", "sep=;y\n", "\"sep=;\n", "separator=;\n"} {
		dir := t.TempDir()
		write(t, dir, "roster.csv", []byte(first+"1;Abel\n"))
		if _, records, complaints := read(t, dir); len(records) > 0 || len(complaints) == 0 {
			t.Errorf("%q: %d records, complaints %q; want none and some", first, len(records), complaints)
		}
	}
}

// TestBeside: the tables that people keep beside a survey's are read with any delimiter, and with a line that names it.
func TestBeside(t *testing.T) {
	want := [][]string{{"stone", "record"}, {"A-1", "r1, r2"}}
	for _, text := range []string{
		"stone,record\nA-1,\"r1, r2\"\n", "\ufeffstone;record\nA-1;r1, r2\n", "stone\trecord\r\nA-1\tr1, r2\r\n",
		"sep=;\nstone;record\nA-1;r1, r2\n", "\ufeff\"sep=|\"\r\nstone|record\nA-1|r1, r2\n",
	} {
		got, err := intake.Beside(strings.NewReader(text)).ReadAll()
		if err != nil || !slices.EqualFunc(got, want, slices.Equal[[]string]) {
			t.Errorf("%q: %q, %v; want %q", text, got, err, want)
		}
	}
	if _, err := intake.Beside(strings.NewReader("")).Read(); err != io.EOF {
		t.Errorf("of nothing: %v", err)
	}
}
