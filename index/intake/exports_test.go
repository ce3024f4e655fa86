package intake_test

import (
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/encoding/charmap"

	"musterstone/index/intake"
	"musterstone/model"
)

// grove is a table of stones as a volunteer types it, invented; parts of a row are parted by "|", lines inside a cell by "⏎".
const grove = `Stone No|Cemetery|Sec|What it says|Top of stone|Stone type|Width|Remarks
001|Tamarack Grove|A|ELI T. MARSTON⏎CO. B⏎30 WIS. INF.|rounded|Marble|12.5|
002|Tamarack Grove|a|CORP'L / AUG. HOEFLER / CO. G. / 9 WIS. INF.|Rounded|marble|12|base sunk; "leans"
003|Tamarack Grove|A|MICHL. O’DONNELL, CO. F, 17 WIS INF|round|white marble|11 1/2|
004|Tamarack Grove|A|JOHANN MÜLLER⏎GEST. 9 JUNI 1901|||9|German`

// dressed writes a table as spreadsheets do: with a delimiter, and quotes where a cell wants them.
func dressed(table, delimiter, lineEnd string, change func(row, column int, cell string) string) string {
	var b strings.Builder
	for i, line := range strings.Split(table, "\n") {
		for n, cell := range strings.Split(line, "|") {
			if n > 0 {
				b.WriteString(delimiter)
			}
			if change != nil {
				cell = change(i, n, cell)
			}
			cell = strings.ReplaceAll(cell, "⏎", "\n")
			if strings.ContainsAny(cell, delimiter+"\"\n") {
				cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
			}
			b.WriteString(cell)
		}
		b.WriteString(lineEnd)
	}
	return b.String()
}

// TestExports reads one table as the common spreadsheet programs save it, after begin has looked at it: the stones are the same.
func TestExports(t *testing.T) {
	bom := "\ufeff"
	windows := func(s string) []byte {
		b, err := charmap.Windows1252.NewEncoder().String(s)
		if err != nil {
			t.Fatal(err)
		}
		return []byte(b)
	}
	utf16Text := func(s string) []byte {
		var b []byte
		for _, u := range utf16.Encode([]rune(bom + s)) {
			b = append(b, byte(u), byte(u>>8))
		}
		return b
	}
	comma := func(row, column int, cell string) string {
		if row > 0 && column == 6 {
			return strings.Replace(cell, ".", ",", 1)
		}
		return cell
	}
	want := []string(nil)
	for _, tt := range []struct {
		name, file string
		bytes      []byte
	}{
		{"commas, UTF-8", "stones.csv", []byte(dressed(grove, ",", "\n", nil))},
		{"commas, UTF-8 with a mark, line ends of Windows", "stones.csv", []byte(bom + dressed(grove, ",", "\r\n", nil))},
		{"semicolons and decimal commas", "stones.csv", []byte(bom + dressed(grove, ";", "\r\n", comma))},
		{"Windows-1252", "stones.csv", windows(dressed(grove, ",", "\r\n", nil))},
		{"Windows-1252, semicolons", "stones.csv", windows(dressed(grove, ";", "\r\n", comma))},
		{"tabs", "stones.tsv", []byte(dressed(grove, "\t", "\n", nil))},
		{"tabs in a file named .csv", "stones.csv", []byte(dressed(grove, "\t", "\n", nil))},
		{"UTF-16 text with tabs", "stones.txt", utf16Text(dressed(grove, "\t", "\r\n", nil))},
		{"lone carriage returns", "stones.csv", []byte(strings.ReplaceAll(dressed(grove, ",", "\r", nil), "\n", " / "))},
		{"empty columns at the end", "stones.csv", []byte(dressed(strings.ReplaceAll(grove, "\n", "|||\n")+"|||", ",", "\r\n", nil))},
		{"empty rows at the end", "stones.csv", []byte(dressed(grove+strings.Repeat("\n|||||||", 40), ",", "\r\n", nil))},
		{"a title above the header", "stones.csv", []byte("Tamarack Grove Cemetery,,,,,,,\r\n,,,,,,,\r\n" + dressed(grove, ",", "\r\n", nil))},
		{"a title without delimiters above the header", "stones.csv", []byte("Survey of 2023\n\n" + dressed(grove, ";", "\n", comma))},
		{"a merged row above the header", "stones.csv", []byte(",Where it stands,,The stone,,,Size,\n" + dressed(grove, ",", "\n", nil))},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			write(t, dir, tt.file, tt.bytes)
			text, _, err := intake.Guess(dir)
			if err != nil {
				t.Fatal(err)
			}
			write(t, dir, intake.MetadataFile, text)
			stones, _, complaints := read(t, dir)
			var got []string
			for _, s := range stones {
				s.Source, s.Written = model.Source{}, nil // where it stood and how it was written differ
				got = append(got, describe([]*model.Stone{s}, nil, nil))
			}
			if len(complaints) > 0 {
				t.Errorf("told: %q", complaints)
			}
			if want == nil {
				want = got
			}
			if len(got) != 4 {
				t.Fatalf("got %d stones", len(got))
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("the first export -, this one +:\n%s", diff)
			}
		})
	}
}
