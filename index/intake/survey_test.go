package intake_test

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"musterstone/index/intake"
	"musterstone/model"
)

// folder lays down files given as "-- name --" sections, in the manner of txtar, and gives the folder. Files with odd bytes are
// written by the tests that need them.
func folder(t testing.TB, archive string) string {
	t.Helper()
	dir := t.TempDir()
	name, body := "", strings.Builder{}
	flush := func() {
		if name == "" {
			body.Reset()
			return
		}
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(body.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		body.Reset()
	}
	for _, line := range strings.SplitAfter(archive, "\n") {
		trimmed := strings.TrimSpace(line)
		if strings.HasPrefix(trimmed, "-- ") && strings.HasSuffix(trimmed, " --") {
			flush()
			name = strings.TrimSpace(trimmed[3 : len(trimmed)-3])
			continue
		}
		body.WriteString(line)
	}
	flush()
	return dir
}

// read reads a whole survey: what it holds, and every complaint as a line of text.
func read(t testing.TB, dir string) (stones []*model.Stone, records []*model.Record, complaints []string) {
	t.Helper()
	s, err := intake.Open(dir)
	if err != nil {
		for _, line := range strings.Split(err.Error(), "\n") {
			complaints = append(complaints, "open: "+strings.ReplaceAll(line, dir, "DIR"))
		}
	}
	if s == nil {
		return nil, nil, complaints
	}
	tell := func(c model.Complaint) { complaints = append(complaints, c.Error()) }
	for _, c := range s.Notices {
		tell(c)
	}
	for stone := range s.Stones(tell) {
		stones = append(stones, stone)
	}
	for rec := range s.Records(tell) {
		records = append(records, rec)
	}
	return stones, records, complaints
}

// write puts bytes into a file of a folder.
func write(t testing.TB, dir, name string, b []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
		t.Fatal(err)
	}
}

// utf16LE is a text in UTF-16, low byte first, without a mark.
func utf16LE(s string) []byte {
	var b []byte
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u), byte(u>>8))
	}
	return b
}

func TestEncodings(t *testing.T) {
	const table = "id,surname,given\n1,Müller,Jürgen “Jack”\n"
	windows := []byte("id,surname,given\n1,M\xfcller,J\xfcrgen \x93Jack\x94\n")
	declared := func(encoding string) string {
		return `{"@context": "http://www.w3.org/ns/csvw", "tables": [{"url": "roster.csv", "dialect": {"encoding": "` + encoding + `"}}]}`
	}
	for _, tt := range []struct {
		name       string
		bytes      []byte
		metadata   string
		complaints string // the parts of those wanted, parted by "|"
		lost       bool
	}{
		{"utf-8", []byte(table), "", "", false},
		{"utf-8 with mark", []byte("\xef\xbb\xbf" + table), "", "", false},
		{"utf-16 with mark", append([]byte{0xFF, 0xFE}, utf16LE(table)...), "", "", false},
		{"utf-16 without mark", utf16LE(table), "", "UTF-16 without a byte order mark", true},
		{"utf-16 declared", utf16LE(table), declared("UTF-16LE"), "", false},
		{"windows-1252 declared", windows, declared("windows-1252"), "", false},
		{"windows-1252 called latin 1", windows, declared("ISO-8859-1"), "", false},
		{"windows-1252 undeclared", windows, "", `roster.csv:2: the row is not UTF-8; it was read as Windows-1252, which is a guess; save the file as UTF-8, or say "dialect"`, false},
		{"windows-1252 declared utf-8", windows, declared("utf-8"), `roster.csv:2: the row is not UTF-8; it was read as Windows-1252, which is a guess; the metadata says utf-8`, false},
		{"mark over declaration", []byte("\xef\xbb\xbf" + table), declared("windows-1252"), "", false},
		{"macintosh", []byte("id,surname,given\r1,M\x9fller,J\x9frgen \xd2Jack\xd3\r"), declared("macintosh"), "", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			write(t, dir, "roster.csv", tt.bytes)
			if tt.metadata != "" {
				write(t, dir, intake.MetadataFile, []byte(tt.metadata))
			}
			_, records, complaints := read(t, dir)
			all := strings.Join(complaints, "\n")
			if tt.complaints == "" && all != "" || !strings.Contains(all, tt.complaints) {
				t.Errorf("complaints %q, want %q", all, tt.complaints)
			}
			if tt.lost {
				if len(records) != 0 {
					t.Errorf("got %d records", len(records))
				}
				return
			}
			if len(records) != 1 || records[0].Person.Name.Surname != "Müller" || records[0].Written[2].Value != "Jürgen “Jack”" {
				t.Errorf("got %+v", records)
			}
		})
	}
}

func TestOpenFails(t *testing.T) {
	dir := folder(t, "-- stones.csv --\nid,inscription\n1,X\n")
	if _, err := intake.Open(filepath.Join(dir, "nowhere")); err == nil || !strings.Contains(err.Error(), "there is no such folder") {
		t.Errorf("no folder: %v", err)
	}
	if _, err := intake.Open(filepath.Join(dir, "stones.csv")); err == nil || !strings.Contains(err.Error(), "it is a file, not a folder") {
		t.Errorf("a file: %v", err)
	}
	if err := os.Mkdir(filepath.Join(dir, "roster.csv"), 0o755); err != nil {
		t.Fatal(err)
	}
	s, err := intake.Open(dir)
	var faults *intake.Faults
	if !errors.As(err, &faults) || len(faults.Complaints) != 1 || faults.Complaints[0].File != "roster.csv" || !strings.Contains(err.Error(), "it is a folder, not a table") {
		t.Errorf("a folder for a table: %v", err)
	}
	if s == nil || len(s.Tables) != 1 || s.Tables[0].File != "stones.csv" {
		t.Errorf("the good table did not come with the fault: %+v", s)
	}
	if err := os.Mkdir(filepath.Join(dir, intake.MetadataFile), 0o755); err != nil {
		t.Fatal(err)
	}
	if s, err := intake.Open(dir); s != nil || err == nil || !strings.Contains(err.Error(), intake.MetadataFile) {
		t.Errorf("a folder for the metadata: %v", err)
	}
}

func TestUnreadable(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("the superuser reads everything")
	}
	dir := folder(t, "-- stones.csv --\nid,inscription\n1,X\n")
	if err := os.Chmod(filepath.Join(dir, "stones.csv"), 0); err != nil {
		t.Fatal(err)
	}
	if _, err := intake.Open(dir); err == nil || !strings.Contains(err.Error(), "stones.csv: permission denied") {
		t.Errorf("got %v", err)
	}
}

// TestVanished checks that a table that goes away between opening and reading is told of.
func TestVanished(t *testing.T) {
	dir := folder(t, "-- stones.csv --\nid,inscription\n1,X\n")
	s, err := intake.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(dir, "stones.csv")); err != nil {
		t.Fatal(err)
	}
	var told []string
	for range s.Stones(func(c model.Complaint) { told = append(told, c.Error()) }) {
		t.Error("a stone out of nothing")
	}
	if len(told) != 1 || !strings.Contains(told[0], "it cannot be read") {
		t.Errorf("told %q", told)
	}
}

// TestAgain checks that a sequence can be stopped and run again, with the same ids.
func TestAgain(t *testing.T) {
	dir := folder(t, "-- roster.csv --\nsurname,given\nSmith,John\nSmith,John\nBrown,Peter\n")
	s, err := intake.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for range s.Records(nil) {
		break
	}
	ids := func() (list []string) {
		for r := range s.Records(nil) {
			list = append(list, string(r.ID))
		}
		return list
	}
	first, second := ids(), ids()
	if len(first) != 3 || !slices.Equal(first, second) {
		t.Errorf("first %q, then %q", first, second)
	}
	// An added column without values and a row above change no id.
	write(t, dir, "roster.csv", []byte("surname,given,remarks\nStone,Eli,\nBrown,Peter,\nSmith,John,\nSmith,John,\n"))
	if s, err = intake.Open(dir); err != nil {
		t.Fatal(err)
	}
	third := ids()
	for _, id := range first {
		if !slices.Contains(third, id) {
			t.Errorf("the id %q went away: %q", id, third)
		}
	}
}

func TestSurvey(t *testing.T) {
	dir := folder(t, `
-- csv-metadata.json --
{"@context": "http://www.w3.org/ns/csvw", "dc:title": "Alder", "dc:license": "CC0-1.0", "dc:publisher": "Alder Society", "ms:base": "https://example.org/alder/",
 "tables": [{"url": "stones.csv", "tableSchema": {"columns": [{"titles": "phone", "suppressOutput": true}, {"titles": "colour", "propertyUrl": "http://example.org/colour"}]}},
  {"url": "roster.csv"}]}
-- stones.csv --
id,inscription,phone,colour
1,JOHN SMITH,555,grey
1,TWICE,,
-- roster.csv --
id,name
r1,"Smith, John"
`)
	s, err := intake.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if s.Title != "Alder" || s.Licence != "CC0-1.0" || s.Publisher != "Alder Society" || s.Base != "https://example.org/alder/" || !s.Described {
		t.Errorf("got %+v", s)
	}
	if !s.Private("stones.csv", "phone") || s.Private("stones.csv", "colour") || s.Private("roster.csv", "phone") {
		t.Error("the wrong columns are private")
	}
	if c := s.Tables[0].Columns; c[1].Term != "inscription" || c[1].Property != "" || c[3].Property != "http://example.org/colour" || c[3].Term != "" {
		t.Errorf("columns %+v", c)
	}
	sums, err := s.Digests()
	if err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(filepath.Join(dir, "roster.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("%x", sha256.Sum256(b)); len(sums) != 3 || sums["roster.csv"] != want || sums[intake.MetadataFile] == "" {
		t.Errorf("digests %v, want three, that of the roster %s", sums, want)
	}
	var told []string
	tallies := s.Check(func(c model.Complaint) { told = append(told, c.Error()) })
	want := []intake.Tally{{File: "stones.csv", Kind: intake.Stones, Rows: 1, LeftOut: 1, Told: 1}, {File: "roster.csv", Kind: intake.Roster, Rows: 1}}
	if !slices.Equal(tallies, want) || len(told) != 1 {
		t.Errorf("got %+v and %q, want %+v and one complaint", tallies, told, want)
	}
}
