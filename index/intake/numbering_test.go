package intake

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// oddCells are what the columns of a made roster hold: what is plain, what is read with the cells beside it, what is complained of.
var oddCells = map[string][]string{
	"id":      {"", "m%d", "m%d", "m%d", "m%d", "m3"},
	"surname": {"Smith", "Brown", "McNeil", "Müller", "Van Dyke", "Smith, Jr.", "Smith or Smyth", "-", "do.", "Do", "", "Hold[..]", "Vonderbruegenschmidt", "Mrs. Doe", " Stone ", ",", "Hall Will E"},
	"given":   {"John", "Wm.", "Geo. W.", "J. R.", "", "Jno", "Thomas, Jr.", `"Jack"`, "Rev. John", "do", "Ann,", "John or Jonathan", ",", "X"},
	"suffix":  {"", "", "", "", "Jr.", "II"}, "name": {"", "Guthrie J", "Smith, John", "Brown, Geo. W.", "Smith, Jr.", "Smith or Smyth, Wm.", "Caleb L. Hudson, M.D.", "Hall,John", "Müller, J. R.", "McNEIL, Jno, Jr."},
	"rank_in":  {"Pvt.", "Pvt.", "Corp", "Bvt. Maj.", "CPL CO D 1ST RI CAV", "Foo", "Private, USN", "C.S.A.", ""},
	"rank_out": {"", "", "Sergt.", "Bar", "Corp. x"}, "company": {"A", "B", "K.", " F ", "", "do.", "F&S"}, "regiment": {"1", "31", "12th", "99th Ohoi", "", "5th U.S.C.T."},
	"unit": {"", "", "", "Co. F, 31st Wis. Inf.", "5th USCT", "garbage"}, "arm": {"Inf.", "Cav", "", "Foo"},
	"state": {"Ohio", "Wis.", "NY", "Xx", "", "US", "usct", "United States Navy"}, "branch": {"", "", "army", "navy", "cavalry", "army, navy", "blah"},
	"side": {"", "", "union", "C", "both"}, "conflict": {"", "", "", "civil-war", "Spanish American War", "nonsense"},
	"enlisted": {"Aug. 9, 1864", "1861", "", "May 3, '62", "45066", "soon", "#REF!", "1899-05-03"}, "mustered_in": {"", "", "Aug. 9, 1862", "Apr 61"},
	"mustered_out": {"", "June 1, 1865", "abt. 1866"}, "age": {"", "22", "22 y 3 m", "abt 30", "old"}, "born": {"", "", "1841", "Jan. 1840", "1879"},
	"died": {"", "", "N/A", "Dec. 3, 1863", "63", "Feb. 12, 1902", "2/4/97"}, "residence": {"Dane Co.", "", " Rock ", "do.", "Null"}, "buried": {"", "Sec. 3"}, "birthplace": {"", "Ohio"},
	"remarks": {"", "Died of wounds at Chattanooga, Tenn., Dec. 3, 1863", "buried in the old ground; d. May 1864", "d. May 4, '62", "discharged", " "}, "extra": {"", "p", "q  "},
}

// oddRoster is a roster of n rows of such cells, of columns as they come, some rows too short or too long.
func oddRoster(random *rand.Rand, columns []string, n int) string {
	var b strings.Builder
	b.WriteString(strings.Join(columns, ",") + "\n")
	for i := range n {
		var cells []string
		for _, c := range columns {
			list := oddCells[strings.TrimRight(c, "0123456789")]
			cell := list[random.IntN(len(list))]
			if strings.Contains(cell, "%d") {
				cell = fmt.Sprintf(cell, i)
			}
			if strings.ContainsAny(cell, `",`) || random.IntN(40) == 0 {
				cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
			}
			cells = append(cells, cell)
		}
		switch random.IntN(50) {
		case 0:
			cells = cells[:random.IntN(len(cells))]
		case 1:
			cells = append(cells, "one more")
		case 2:
			cells[len(cells)-1] = strings.Repeat("x", MostCell+1)
		}
		b.WriteString(strings.Join(cells, ",") + "\n")
	}
	return b.String()
}

// TestNumbered holds rows that are numbered, from what is remembered of cells, to records that are made one by one: the same of all sorts of cells, columns and metadata, with the same complaints
// in the same order.
func TestNumbered(t *testing.T) {
	given := `{"name": "given", "propertyUrl": "ms:given"}, {"name": "extra", "propertyUrl": "ms:given"}`
	for i, metadata := range []string{
		"",
		`{"name": "company", "ms:ditto": true}, {"name": "state", "null": ["Xx"]}, {"name": "residence", "default": "Nowhere", "null": ["Null"]}`,
		given + `, {"virtual": true, "propertyUrl": "ms:side", "default": "union"}`,
		`{"virtual": true, "propertyUrl": "ms:conflict", "default": "civil-war"}, {"virtual": true, "propertyUrl": "ms:died", "ms:value": "{enlisted}"}, {"virtual": true, "propertyUrl": "ms:residence", "default": "Ohio"}`,
		"", "", "", "", "",
	} {
		random := rand.New(rand.NewPCG(7, uint64(i)))
		columns := []string{"id", "surname", "given", "rank_in", "company", "regiment", "arm", "state", "enlisted", "residence", "died", "remarks", "extra"}
		switch i {
		case 4: // all that there are, in an order that is the same in every run
			columns = columns[:0]
			for _, n := range termNames {
				if oddCells[n.name] != nil && n.on&onRecords != 0 {
					columns = append(columns, n.name)
				}
			}
		case 5: // more than a mask has bits for
			for k := range maskBits {
				columns = append(columns, fmt.Sprintf("extra%d", k))
			}
		case 6:
			columns = []string{"name", "unit", "rank_in", "died", "age", "remarks"}
		case 7: // few, so that the same come together again and again
			columns = []string{"surname", "given", "regiment", "side", "branch", "conflict", "remarks"}
		case 8: // no day of service: the death with the birth says what war it was
			columns = []string{"surname", "given", "company", "regiment", "state", "born", "died"}
		}
		dir := t.TempDir()
		files := map[string]string{"roster-a.csv": oddRoster(random, columns, 1500), "roster-b.csv": oddRoster(random, columns, 700)}
		if metadata != "" {
			tables := ""
			for _, f := range []string{"roster-a.csv", "roster-b.csv"} {
				tables += fmt.Sprintf(`, {"url": %q, "tableSchema": {"columns": [%s, {"virtual": true, "propertyUrl": "rdf:type", "valueUrl": "ms:ServiceRecord"}]}}`, f, metadata)
			}
			files[MetadataFile] = `{"@context": "http://www.w3.org/ns/csvw", "tables": [` + tables[2:] + `]}`
		}
		for name, text := range files {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		records, complaints := apart(heard(t, dir, false))
		numbered, told := apart(heard(t, dir, true))
		if len(records) < 1200 || len(complaints) < 300 {
			t.Errorf("%q: %d records and %d complaints; the rosters are not as they were meant", metadata, len(records), len(complaints))
		}
		if diff := cmp.Diff(records, numbered); diff != "" {
			t.Errorf("%q: records one by one -, numbered +:\n%.3000s", metadata, diff)
		}
		if diff := cmp.Diff(complaints, told); diff != "" {
			t.Errorf("%q: complaints one by one -, numbered +:\n%.3000s", metadata, diff)
		}
	}
}

// TestNumberedAnew: where more comes than is remembered all is forgotten, of tables and of graphs, and rows are the same.
func TestNumberedAnew(t *testing.T) {
	defer func(most int) { mostNumbered = most }(mostNumbered)
	mostNumbered = 500
	var table, graph strings.Builder
	table.WriteString("id,surname,given,residence,company,regiment,state\n")
	for i := range 4000 {
		surname, residence, company, regiment := fmt.Sprintf("Holden%c%c", 'a'+i%26, 'a'+i/26%26), fmt.Sprint("Town ", i), string(rune('A'+i%9)), i%97+1
		fmt.Fprintf(&table, "m%d,%s,Wm.,%s,%s,%d,Ohio\n", i, surname, residence, company, regiment)
		fmt.Fprintf(&graph, "<http://rolls.example.org/g%04d> a ms:ServiceRecord ; ms:surname %q ; ms:given \"Wm.\" ; ms:residence %q ; ms:company %q ; ms:regiment \"%d\" ; ms:state \"Ohio\" .\n",
			i, surname, residence, company, regiment)
	}
	for name, text := range map[string]string{"roster.csv": table.String(), "roster.ttl": "@prefix ms: <https://w3id.org/musterstone/vocab#> .\n" + graph.String()} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(heard(t, dir, false), heard(t, dir, true)); diff != "" {
			t.Errorf("%s: records one by one -, numbered +:\n%.3000s", name, diff)
		}
		s, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		most, readers := 0, map[int]bool{}
		for b := range s.Rosters()[0].Batches() {
			most, readers[b.Reader] = max(most, len(b.Values.Cells)), true
		}
		if most > mostNumbered+8*blockRows || len(readers) < 3 {
			t.Errorf("%s: %d cells were remembered at once, by %d readers one after the other", name, most, len(readers))
		}
	}
}

// TestNumberedOften: a row that comes again is the same when all its cells are remembered, and one that is complained of is so each time.
func TestNumberedOften(t *testing.T) {
	dir := t.TempDir()
	row := func(i int, state string) string {
		return fmt.Sprintf("m%d,Holden,Wm. H.,F,31,Inf.,%s,\"Aug. 9, 1864\",22\n", i, state)
	}
	text := "id,surname,given,company,regiment,arm,state,enlisted,age\n"
	for i := range 900 {
		text += row(i, []string{"Wis.", "Wis.", "Ohoi"}[i%3])
	}
	if err := os.WriteFile(filepath.Join(dir, "roster.csv"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	var first [2]*model.Record
	roster := s.Rosters()[0]
	n := 0
	for b := range roster.Batches() {
		for _, r := range b.Rows {
			rec := b.Record(r)
			rec.ID, rec.Source.Row, rec.Written = "", 0, nil
			strange := n % 3 / 2
			if first[strange] == nil {
				first[strange] = rec
			}
			if diff := cmp.Diff(first[strange], rec); diff != "" {
				t.Fatalf("row %d: the first such -, this one +:\n%s", n, diff)
			}
			n++
		}
		if v := &b.Values; len(v.Surnames) != 2 || len(v.Names) != 2 || len(v.Units) > 3 || len(v.Dates) != 2 {
			t.Errorf("%d surnames, %d names, %d units, %d dates", len(v.Surnames), len(v.Names), len(v.Units), len(v.Dates))
		}
	}
	if told, _ := roster.Told(); n != 900 || len(told) != 300 {
		t.Errorf("%d records and %d complaints, want 900 and 300", n, len(told))
	}
}

// FuzzLookup numbers texts and tuples of numbers as maps do, whatever their lengths and the order in which they come.
func FuzzLookup(f *testing.F) {
	f.Add("a b c a  b", uint64(1))
	f.Add("12345678 123456789 1234567890123456 12345678901234567 1234567890123456_ 12345678901234567", uint64(2))
	f.Add("\x00 \x00\x00 a\x00 a ab abc abcd abcde", uint64(3))
	f.Fuzz(func(t *testing.T, text string, seed uint64) {
		random := rand.New(rand.NewPCG(seed, 1))
		l, p := newLookup(&[]string{""}), tuples{}
		known, tuplesKnown := map[string]uint32{"": 0}, map[[4]uint32]uint32{{}: 0}
		words := strings.Split(text, " ")
		for range 300 {
			w := words[random.IntN(len(words))]
			if k := random.IntN(len(w) + 1); random.IntN(3) == 0 {
				w = w[k:] + w[:k]
			}
			n := l.number(w)
			if want, ok := known[w]; ok && n != want || !ok && n != uint32(len(known)) {
				t.Fatalf("%q has the number %d; known %v as %d of %d", w, n, ok, want, len(known))
			}
			known[w] = n
			v := [4]uint32{n, random.Uint32N(20) << random.Uint32N(16), random.Uint32N(3), random.Uint32N(3) << (8 * random.Uint32N(4))}
			k := p.number(three(v[0], v[1], v[2]), v[3])
			if want, ok := tuplesKnown[v]; ok && k != want || !ok && k != uint32(len(tuplesKnown)) {
				t.Fatalf("%v has the number %d; known %v as %d", v, k, ok, want)
			}
			tuplesKnown[v] = k
		}
	})
}
