package vocab

import (
	"embed"
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/*.csv
var data embed.FS

// Row is one row of a table.
type Row struct {
	table *table
	line  int32 // in the file, from 1
	row   int32 // in the table, from 0
}

// table keeps the text of all its cells in one string, so that the collector of memory has little to look at.
type table struct {
	name    string
	columns map[string]int
	rows    []Row
	text    string
	ends    []int32 // where each cell ends in text, row by row
}

// cell is the cell of a row and a column.
func (t *table) cell(row, column int) string {
	k, from := row*len(t.columns)+column, int32(0)
	if k > 0 {
		from = t.ends[k-1]
	}
	return t.text[from:t.ends[k]]
}

var (
	tablesMu sync.Mutex
	tables   = map[string]*table{}
)

// Rows gives the rows of an embedded table, named without ".csv", in file order. It panics where there is no such
// table or it is broken: that is a fault of the program, which the tests of this package find.
func Rows(name string) []Row {
	tablesMu.Lock()
	defer tablesMu.Unlock()
	t, ok := tables[name]
	if !ok {
		var err error
		if t, err = readTable(data, name); err != nil {
			panic(err)
		}
		tables[name] = t
	}
	return t.rows
}

func readTable(fsys fs.FS, name string) (*table, error) {
	path := "data/" + name + ".csv"
	f, err := fsys.Open(path)
	if err != nil {
		return nil, fmt.Errorf("open table %q: %w", name, err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.ReuseRecord = true
	header, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("read table %q: %w", name, err)
	}
	t := &table{name: name, columns: map[string]int{}}
	for i, h := range header {
		t.columns[h] = i
	}
	if len(t.columns) != len(header) {
		return nil, fmt.Errorf("read table %q: two columns have the same name: rename one", name)
	}
	var text []byte
	for {
		cells, err := r.Read()
		if err != nil {
			if err == io.EOF {
				t.text, t.rows, t.ends = string(text), slices.Clip(t.rows), slices.Clip(t.ends)
				return t, nil
			}
			return nil, fmt.Errorf("read table %q: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		t.rows = append(t.rows, Row{table: t, line: int32(line), row: int32(len(t.rows))})
		for _, c := range cells {
			text = append(text, c...)
			t.ends = append(t.ends, int32(len(text)))
		}
	}
}

// Get is the cell of a column; it panics where the table has no such column.
func (r Row) Get(column string) string {
	i, ok := r.table.columns[column]
	if !ok {
		panic(fmt.Sprintf("table %q has no column %q", r.table.name, column))
	}
	return r.table.cell(int(r.row), i)
}

// List is a cell that holds words parted by "|"; nil where it is empty.
func (r Row) List(column string) []string {
	s := r.Get(column)
	if s == "" {
		return nil
	}
	return strings.Split(s, "|")
}

// Int is a cell that holds a whole number; 0 where it is empty.
func (r Row) Int(column string) int {
	s := r.Get(column)
	if s == "" {
		return 0
	}
	n, err := strconv.Atoi(s)
	if err != nil {
		panic(fmt.Sprintf("%s: column %q: %v", r.Where(), column, err))
	}
	return n
}

// Float is a cell that holds a number; 0 where it is empty.
func (r Row) Float(column string) float64 {
	s := r.Get(column)
	if s == "" {
		return 0
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(fmt.Sprintf("%s: column %q: %v", r.Where(), column, err))
	}
	return x
}

// Where names the row for an error message: "ranks.csv:12".
func (r Row) Where() string {
	return r.table.name + ".csv:" + strconv.Itoa(int(r.line))
}
