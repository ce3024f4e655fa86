package vocab

import (
	"embed"
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/*.csv
var data embed.FS

// Row is one row of a table.
type Row struct {
	table *table
	line  int
	cells []string
}

type table struct {
	name    string
	columns map[string]int
	rows    []Row
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

// TableNames lists the embedded tables, sorted.
func TableNames() []string {
	entries, err := fs.ReadDir(data, "data")
	if err != nil {
		panic(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".csv"))
	}
	return names
}

func readTable(fsys fs.FS, name string) (*table, error) {
	path := "data/" + name + ".csv"
	f, err := fsys.Open(path)
	if err != nil {
		return nil, fmt.Errorf("open table %q: %w", name, err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	header, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("read table %q: %w", name, err)
	}
	t := &table{name: name, columns: map[string]int{}}
	for i, h := range header {
		t.columns[h] = i
	}
	for {
		cells, err := r.Read()
		if err != nil {
			if err == io.EOF {
				return t, nil
			}
			return nil, fmt.Errorf("read table %q: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		t.rows = append(t.rows, Row{table: t, line: line, cells: cells})
	}
}

// Get is the cell of a column; it panics where the table has no such column.
func (r Row) Get(column string) string {
	i, ok := r.table.columns[column]
	if !ok {
		panic(fmt.Sprintf("table %q has no column %q", r.table.name, column))
	}
	return r.cells[i]
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
	return r.table.name + ".csv:" + strconv.Itoa(r.line)
}
