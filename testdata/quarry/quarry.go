// Package quarry makes surveys with known truth of an invented county on the upper lakes: its soldiers of the Civil War, of the frontier, of 1898 and of the World War, eight
// rosters in which they stand, and what recorders wrote down from the stones of their graves and of their neighbors'. It was written whole, in a hand of its own, before the
// program was run on it.
//
// The tables beside it: names.csv counts the surnames and given names of rosters that were printed (six regiments' of 1861, 1875 to 1914; a division's of 1917), with the names of two
// men and fewer left out, in whose place names are put together from parts; units.csv says which numbers regiments bore (F. H. Dyer, A Compendium of the War of the Rebellion,
// 1908; the later wars from memory and common practice) and how many men of the county's rosters were in each kind, which is invented; states.csv has the abbreviations that the
// Post Office preferred in 1874, and what stonecutters made of them. Every man and every place is invented.
package quarry

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"

	"musterstone/testdata/table"
)

// Options says what survey to make.
type Options struct {
	Seed    uint64
	Records int  // rows of all rosters; men come whole, with all their rows
	Stones  int  // stones and rows of the register of graves
	Messy   bool // more wear and more misreading; the rosters are the same
}

// quarry is a survey in the making. The rosters, the stones, and what time and recorders did to them have randomness of their own, so that a messy survey differs from a clean one only
// in what is messy.
type quarry struct {
	opt                    Options
	world, ground, weather *rand.Rand
	names                  names
	outfits                map[string]*outfits // by war
	towns                  []string            // the county's first
	men                    []*man
	rows                   int
	books                  map[string][][]string // rows of the rosters
	camps                  map[string][]*man     // by regiment and company
}

// Make writes a survey into a folder: stones.csv, register-graves.csv, the rosters, the metadata of those that have headers of their own, and truth.csv.
func Make(dir string, opt Options) error {
	q := &quarry{
		opt:     opt,
		world:   rand.New(rand.NewPCG(opt.Seed, 1848)),
		ground:  rand.New(rand.NewPCG(opt.Seed, 1873)),
		weather: rand.New(rand.NewPCG(opt.Seed, 1922)),
		books:   map[string][][]string{},
		camps:   map[string][]*man{},
	}
	if err := q.readTables(); err != nil {
		return err
	}
	q.settle()
	for q.rows < opt.Records {
		q.raise()
	}
	stones, register, truth := q.bury()
	tables := map[string][][]string{"stones.csv": stones, "register-graves.csv": register, "truth.csv": truth}
	for _, b := range books {
		tables[b.file] = append([][]string{b.header}, q.books[b.file]...)
	}
	for file, rows := range tables {
		if err := table.Write(filepath.Join(dir, file), rows); err != nil {
			return err
		}
	}
	return writeMetadata(dir, opt.Seed)
}

// writeMetadata describes the tables: those of the default columns by their names alone.
func writeMetadata(dir string, seed uint64) error {
	type object = map[string]any
	tables := []object{{"url": "stones.csv"}, {"url": "register-graves.csv"}}
	for _, b := range books {
		t := object{"url": b.file}
		if b.terms != nil {
			var columns []object
			for i, title := range b.header {
				c := object{"titles": title}
				if b.terms[i] != "" {
					c["propertyUrl"] = b.terms[i]
				}
				columns = append(columns, c)
			}
			for _, same := range b.same {
				columns = append(columns, object{"virtual": true, "propertyUrl": same[0], "default": same[1]})
			}
			t["tableSchema"] = object{"columns": columns}
		}
		tables = append(tables, t)
	}
	data, err := json.MarshalIndent(object{
		"@context": "http://www.w3.org/ns/csvw", "dc:title": "Graves and rosters of an invented county", "dc:license": "https://creativecommons.org/publicdomain/zero/1.0/",
		"ms:base": fmt.Sprintf("https://example.org/quarry/%d/", seed), "tables": tables,
	}, "", "\t")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "csv-metadata.json"), append(data, '\n'), 0o644)
}
