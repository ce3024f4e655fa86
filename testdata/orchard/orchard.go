// Package orchard makes surveys of an invented burial ground with known truth, in a hand of its own: ten rosters of ten kinds, each with the headers and the
// cells of such a book, described by table metadata, a table of stones read by six people, each in his own way, and a sexton's book. The men, the towns, the ships
// and what is written of them are invented.
//
// Of a hundred stones and rows of the sexton's book some 37 are of men of the rosters, 9 of men of a war whose books are missing, and the rest of people
// who served in none. A man may be in several rosters, and in some under two regiments, and have a government stone and a name on his family's; the truth pairs all
// of these.
package orchard

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"musterstone/testdata/table"
)

// Options says how large a survey is, and how worn. The same options make the same bytes.
type Options struct {
	Seed    uint64
	Records int  // rows of all rosters; a few more, as men come whole
	Stones  int  // stones and rows of the sexton's book
	Messy   bool // more is worn and misread; the rosters are the same
}

// Make makes a survey in a folder, and beside it truth.csv of the columns stone and record.
func Make(dir string, opt Options) error {
	t := read()
	w := newWorld(newDice(opt.Seed, 1), t, opt.Records)
	b := newBooks(w)
	g := newGround(w, opt)

	for g.n < opt.Stones {
		switch g.weighted(.355, .095, .55) {
		case 0:
			m := w.man(true)
			if b.enter(m); len(m.records) == 0 {
				continue // not a man of the rosters after all, and not buried here
			}
			g.veteran(m)
		case 1:
			g.veteran(w.man(true))
		case 2:
			g.civilian()
		}
	}
	for b.count() < opt.Records {
		b.enter(w.man(false))
	}

	renamed := b.settle()
	truth := g.settled(renamed)
	tables := append(b.all(), g.stones, g.sexton)
	for _, t := range tables {
		if err := t.write(dir); err != nil {
			return err
		}
	}
	if err := table.Write(filepath.Join(dir, "truth.csv"), append([][]string{{"stone", "record"}}, truth...)); err != nil {
		return err
	}
	return describe(dir, opt.Seed, tables)
}

// settled puts stones and the sexton's rows in an order that says nothing, and gives the truth by their ids.
func (g *ground) settled(renamed map[string]string) (truth [][]string) {
	for _, t := range []*sheet{g.stones, g.sexton} {
		g.Shuffle(len(t.rows), func(i, j int) { t.rows[i], t.rows[j] = t.rows[j], t.rows[i] })
		for i, r := range t.rows {
			id := fmt.Sprintf("%s%04d", t.prefix, i+1)
			if m := g.truth[r[0]]; m != nil {
				for _, record := range m.records {
					truth = append(truth, []string{id, renamed[record]})
				}
			}
			r[0] = id
		}
	}
	slices.SortFunc(truth, func(x, y []string) int { return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1])) })
	return truth
}

// write writes a table with its header.
func (t *sheet) write(dir string) error {
	var header []string
	for _, c := range t.columns {
		header = append(header, c.title)
	}
	return table.Write(filepath.Join(dir, t.file), append([][]string{header}, t.rows...))
}

// describe writes the table metadata: what the rows of each table are, and what its columns mean.
func describe(dir string, seed uint64, tables []*sheet) error {
	type object = map[string]any
	var list []object
	for _, t := range tables {
		is := "ms:ServiceRecord"
		if !strings.HasPrefix(t.file, "roster") {
			is = "ms:Marker"
		}
		var columns []object
		for _, c := range t.columns {
			o := object{"titles": c.title}
			switch {
			case c.term == "identifier":
				o["propertyUrl"] = "dcterms:identifier"
			case c.term != "":
				o["propertyUrl"] = "ms:" + c.term
			}
			columns = append(columns, o)
		}
		columns = append(columns, object{"virtual": true, "propertyUrl": "rdf:type", "valueUrl": is})
		list = append(list, object{"url": t.file, "dc:title": t.about, "tableSchema": object{"columns": columns}})
	}
	text, err := json.MarshalIndent(object{
		"@context":   []any{"http://www.w3.org/ns/csvw", object{"@language": "en"}},
		"dc:title":   fmt.Sprintf("An invented burial ground, number %d", seed),
		"dc:license": "https://creativecommons.org/publicdomain/zero/1.0/",
		"tables":     list,
	}, "", "  ")
	if err != nil {
		return fmt.Errorf("describe the survey: %w", err)
	}
	return os.WriteFile(filepath.Join(dir, "csv-metadata.json"), append(text, '\n'), 0o644)
}
