package intake

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// rowsOf reads all rows of a text.
func rowsOf(text string, d dialect) (rows [][]string, problems []string) {
	r := newRowReader(strings.NewReader(text), d)
	for {
		row, ok := r.next()
		if !ok {
			return rows, problems
		}
		for _, p := range row.problems {
			problems = append(problems, fmt.Sprintf("%d:%d fatal=%v %s", row.number, p.cell, p.fatal, p.text))
		}
		if !row.fatal() {
			rows = append(rows, slices.Clone(row.cells))
		}
	}
}

func comma() dialect {
	d := defaultDialect()
	d.delimiter = ','
	return d
}

func TestRows(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		dialect    func(*dialect)
		want       string
		problems   int
	}{
		{"plain", "a,b\n1,2\n", nil, `[["a" "b"] ["1" "2"]]`, 0},
		{"no end of line", "a,b\n1,2", nil, `[["a" "b"] ["1" "2"]]`, 0},
		{"crlf", "a,b\r\n1,2\r\n", nil, `[["a" "b"] ["1" "2"]]`, 0},
		{"cr alone", "a,b\r1,2\r", nil, `[["a" "b"] ["1" "2"]]`, 0},
		{"empty cells", ",\n\n\"\",", nil, `[["" ""] [""] ["" ""]]`, 0},
		{"quoted", "\"a,\"\"b\"\"\",\"c\nd\"\n", nil, `[["a,\"b\"" "c\nd"]]`, 0},
		{"crlf in quotes", "\"c\r\nd\",e\r\n", nil, `[["c\nd" "e"]]`, 0},
		{"blanks after a quoted cell", "\"a\"  ,b\n", nil, `[["a" "b"]]`, 0},
		{"quote inside a plain cell", "12\",b\n", nil, `[["12\"" "b"]]`, 0},
		{"quote inside a quoted cell", "\"a \"b\" c\",d\n", nil, `[["a \"b\" c" "d"]]`, 1},
		{"never closed", "a,\"b\nc,d\n", nil, `[["c" "d"]]`, 1},
		{"closed amid another cell", "a,\"b\nc,\"d\"\ne,f\n", nil, `[["c" "d"] ["e" "f"]]`, 1},
		{"two never closed", "\"a\n\"b\nc\n", nil, `[["c"]]`, 2},
		{"semicolon", "a;b,c\n", func(d *dialect) { d.delimiter = ';' }, `[["a" "b,c"]]`, 0},
		{"other quote", "'a,b',c\n", func(d *dialect) { d.quote = '\'' }, `[["a,b" "c"]]`, 0},
		{"no quote", "\"a,b\"\n", func(d *dialect) { d.quote = 0 }, `[["\"a" "b\""]]`, 0},
		{"blank before a cell", "a, \"b,c\"\n", func(d *dialect) { d.skipSpace = true }, `[["a" "b,c"]]`, 0},
		{"comment", "#x,y\na,b\n", func(d *dialect) { d.comment = "#" }, `[["a" "b"]]`, 0},
		{"nul", "a\x00,b\n\x00\x00\x00\nc,d\n", nil, `[["a" "b"] ["c" "d"]]`, 2},
		{"not utf-8", "M\xfcller,\x93x\x94\n", nil, `[["Müller" "“x”"]]`, 1},
		{"undefined in windows-1252", "a\x81\n", nil, `[["a` + "\uFFFD" + `"]]`, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := comma()
			if tt.dialect != nil {
				tt.dialect(&d)
			}
			rows, problems := rowsOf(tt.text, d)
			if got := fmt.Sprintf("%q", rows); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
			if len(problems) != tt.problems {
				t.Errorf("got %d problems %q, want %d", len(problems), problems, tt.problems)
			}
		})
	}
}

// TestRowsBounded checks that quotes which are never closed hold no more than so many lines, and lose no row but theirs.
func TestRowsBounded(t *testing.T) {
	text := "\"open,\n" + strings.Repeat("a,b\n", 3*maxQuotedLines)
	rows, problems := rowsOf(text, comma())
	if len(rows) != 3*maxQuotedLines || len(problems) != 1 {
		t.Errorf("got %d rows and problems %q, want %d rows and one problem", len(rows), problems, 3*maxQuotedLines)
	}
	text = "\"open," + strings.Repeat("x", maxQuotedBytes) + "\na,b\nc,d\n"
	rows, problems = rowsOf(text, comma())
	if len(rows) != 2 || len(problems) != 1 {
		t.Errorf("got %d rows and problems %q, want 2 rows and one problem", len(rows), problems)
	}
}

// endless gives n times a byte, then rest, then err.
type endless struct {
	n    int64
	rest string
	err  error
}

func (e *endless) Read(p []byte) (int, error) {
	if e.n > 0 {
		k := min(int64(len(p)), e.n)
		for i := range p[:k] {
			p[i] = 'x'
		}
		e.n -= k
		return int(k), nil
	}
	if e.rest != "" {
		k := copy(p, e.rest)
		e.rest = e.rest[k:]
		return k, nil
	}
	return 0, e.err
}

// TestLongLine reads a line of 200 MB, without holding it, and the rows after it.
func TestLongLine(t *testing.T) {
	const size = 200 << 20
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	r := newRowReader(io.MultiReader(strings.NewReader("a,b\n"), &endless{n: size, rest: "\n1,2\n", err: io.EOF}), comma())
	var got []string
	for {
		row, ok := r.next()
		if !ok {
			break
		}
		got = append(got, fmt.Sprintf("%d fatal=%v %q", row.number, row.fatal(), row.cells))
	}
	runtime.ReadMemStats(&after)
	want := []string{`1 fatal=false ["a" "b"]`, `2 fatal=true []`, `3 fatal=false ["1" "2"]`}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if held := after.TotalAlloc - before.TotalAlloc; held > 16<<20 {
		t.Errorf("%d bytes were allocated for a line that is skipped", held)
	}
}

// TestReadError checks that a reader's own fault is never taken for the end of the file.
func TestReadError(t *testing.T) {
	boom := errors.New("boom")
	r := newRowReader(&endless{rest: "a,b\nc", err: boom}, comma())
	n := 0
	for {
		if _, ok := r.next(); !ok {
			break
		}
		n++
	}
	if n != 1 || !errors.Is(r.err(), boom) {
		t.Errorf("got %d rows and error %v, want 1 row and boom", n, r.err())
	}
}

// FuzzRows sets the row reader beside encoding/csv: what that package accepts strictly is read the same, and nothing makes the reader panic or
// lose a row.
func FuzzRows(f *testing.F) {
	for _, s := range []string{"a,b\n1,2\n", "\"a\"\"b\",c\n", "\"x\ny\",z\r\n", "\"open\na,b\n", "a\"b,c\n", "\"a\" ,b\n", "\x00,\xff\n", "\n\n,\n", "a,\"b\"c\",d\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, problems := rowsOf(text, comma())
		if strings.ContainsRune(text, 0) || strings.ToValidUTF8(text, "") != text {
			return
		}
		if oldLineEnds([]byte(text)) || strings.ContainsRune(strings.ReplaceAll(text, "\r\n", "\n"), '\r') {
			return // a lone carriage return is no end of line to that package
		}
		if len(text) > maxQuotedBytes || strings.Count(text, "\n") > maxQuotedLines {
			return
		}
		want := csv.NewReader(strings.NewReader(text))
		want.FieldsPerRecord = -1
		strict, err := want.ReadAll()
		if err != nil {
			return
		}
		if len(problems) != 0 {
			t.Fatalf("%q: problems %q where encoding/csv has none", text, problems)
		}
		var filled [][]string // that package passes over empty lines
		for _, r := range rows {
			if len(r) != 1 || r[0] != "" {
				filled = append(filled, r)
			}
		}
		var others [][]string
		for _, r := range strict {
			if len(r) != 1 || r[0] != "" {
				others = append(others, r)
			}
		}
		if fmt.Sprintf("%q", filled) != fmt.Sprintf("%q", others) {
			t.Fatalf("%q:\n got %q\nwant %q", text, filled, others)
		}
	})
}
