package intake

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// mixedRoster is a roster of n rows with all sorts of faults: ids given twice and left out, broken quotes, cells over several lines, blank rows, dates that
// cannot be read, rows too short and too long.
func mixedRoster(n int) string {
	var b strings.Builder
	b.WriteString("id,surname,given,company,regiment,arm,state,enlisted,died,remarks\n")
	for i := range n {
		id := fmt.Sprintf("m%d", i)
		enlisted, remarks := fmt.Sprintf(`"Aug. %d, 186%d"`, 1+i%28, 1+i%4), "mustered out"
		switch {
		case i%97 == 5:
			id = "m3"
		case i%89 == 7:
			id = ""
		case i%83 == 3:
			enlisted = "45066"
		case i%79 == 2:
			enlisted = "soon"
		case i%73 == 9:
			remarks = "\"first line\nsecond, line\""
		case i%71 == 8:
			remarks = "\"never closed"
		case i%67 == 1:
			b.WriteString("\n")
		case i%61 == 4:
			remarks = "too,many,cells"
		case i%59 == 6:
			fmt.Fprintf(&b, "%s,Short\n", id)
			continue
		}
		fmt.Fprintf(&b, "%s,Name%d,%s,%c,%d,Inf.,Ohio,%s,,%s\n", id, i%313, []string{"John", "Wm.", "J. R.", "Geo. W., Jr."}[i%4], 'A'+i%11, 1+i%140, enlisted, remarks)
	}
	return b.String()
}

// heard reads all records of a folder and gives them and the complaints, in the order in which they came.
func heard(t *testing.T, dir string, batches bool) []string {
	t.Helper()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	complain := func(c model.Complaint) { list = append(list, "told "+c.Error()) }
	if batches {
		for _, roster := range s.Rosters() {
			for b := range roster.Batches() {
				for _, r := range b.Rows {
					list = append(list, fmt.Sprintf("%+v", *b.Record(r)))
				}
				for i, n := range b.Known {
					if n > 0 && b.Cells[i] != b.Values.Cells[n] {
						t.Errorf("the cell %q is known as %q", b.Cells[i], b.Values.Cells[n])
					}
				}
			}
			complaints, _ := roster.Told()
			for _, c := range complaints {
				complain(c)
			}
		}
		return list
	}
	for r := range s.Records(complain) {
		list = append(list, fmt.Sprintf("%+v", *r))
	}
	return list
}

// apart gives what heard has told, records and complaints apart.
func apart(list []string) (records, complaints []string) {
	for _, s := range list {
		if strings.HasPrefix(s, "told ") {
			complaints = append(complaints, s)
		} else {
			records = append(records, s)
		}
	}
	return
}

// TestPassOrder reads a faulty roster with one goroutine and with several, one by one and in batches: what is read and told is the same.
func TestPassOrder(t *testing.T) {
	dir := t.TempDir()
	for _, f := range []string{"roster-a.csv", "roster-b.csv"} {
		if err := os.WriteFile(filepath.Join(dir, f), []byte(mixedRoster(3000)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	was := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(was)
	want := heard(t, dir, false)
	told := 0
	for _, s := range want {
		if strings.HasPrefix(s, "told ") {
			told++
		}
	}
	if told < 300 || len(want)-told < 2500 {
		t.Fatalf("%d records and %d complaints; the roster is not as it was meant", len(want)-told, told)
	}
	for _, n := range []int{2, 7} {
		runtime.GOMAXPROCS(n)
		if diff := cmp.Diff(want, heard(t, dir, false)); diff != "" {
			t.Errorf("with %d goroutines: want -, got +:\n%.2000s", n, diff)
		}
	}
	// In batches, complaints are asked for after the records of their roster; each kind keeps its order.
	records, complaints := apart(want)
	gotRecords, gotComplaints := apart(heard(t, dir, true))
	if diff := cmp.Diff(records, gotRecords); diff != "" {
		t.Errorf("records in batches: want -, got +:\n%.2000s", diff)
	}
	if diff := cmp.Diff(complaints, gotComplaints); diff != "" {
		t.Errorf("complaints in batches: want -, got +:\n%.2000s", diff)
	}
}

// TestPassStops stops readings early, at every place about the end of a block, and leaves no goroutine behind.
func TestPassStops(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "roster-a.csv"), []byte(mixedRoster(2000)), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	before := runtime.NumGoroutine()
	for _, stop := range []int{1, 2, blockRows - 1, blockRows, blockRows + 1, 1000} {
		n := 0
		for range s.Records(nil) {
			if n++; n == stop {
				break
			}
		}
		for range s.Rosters()[0].Batches() {
			break
		}
	}
	after := runtime.NumGoroutine()
	for range 100 { // the last of them may be about to end
		if after <= before {
			return
		}
		time.Sleep(10 * time.Millisecond)
		after = runtime.NumGoroutine()
	}
	t.Errorf("%d goroutines before, %d after", before, after)
}

// TestHalves holds names and units that are read cell by cell against the same read whole, on the cells of real and of made rosters.
func TestHalves(t *testing.T) {
	m := newMemory()
	pairs := [][2]string{{"Smith", "John"}, {"Smith, Jr.", "John"}, {"Smith Jr", "Wm. H."}, {"Smith or Smyth", "John"}, {"Smith", "John or Jonathan"}, {"SMITH", "J. R."},
		{"Smith", `John "Jack"`}, {"Smith (Schmidt)", "Johann"}, {"Van Dyke", "Jas., Jr."}, {"O'Brien", "Patrick, M.D."}, {"Hall Will E", "X"}, {"Smith", "Jr."}, {"Smith", "?"},
		{"Hold[..]", "[---]"}, {"Caleb L. Hudson", "Jr"}, {"Smith alias Jones", "Peter alias Paul"}, {"Smith", "(Bill)"}, {"Doe", "Rev. John"}, {"Mrs. Doe", "Ann"}, {"-", "-"}, {"Smith", "Sr"}}
	units := []unit.Parts{{Company: "F", Regiment: "31", Arm: "Inf.", State: "Wis."}, {Company: "F", Unit: "Co. B, 31st Wis. Inf."}, {Company: "Co. K", Regiment: "5th U.S.C.T."},
		{Company: "F&S", Regiment: "2", State: "Ohio", Branch: "Cavalry"}, {Company: "3", Regiment: "Cobb's Legion", Side: "C"}, {Company: "G"}, {Company: " F ", Regiment: " 31 "}}
	dir := filepath.Join("..", "..", "..", "shared", "data")
	for _, f := range []struct{ file, description string }{
		{filepath.Join(dir, "rainbow_wwi", "rainbow_roster.csv"), "rainbow_wwi.json"}, {filepath.Join(dir, "rosters", "six_regiments.csv"), "six_regiments.json"}} {
		cells := cellsOf(t, f.file, filepath.Join("..", "..", "testdata", "real", f.description))
		for i, c := range cells {
			pairs = append(pairs, [2]string{c[tSurname], c[tGiven]}, [2]string{c[tSurname], cells[(i*31+7)%len(cells)][tGiven]})
			units = append(units, unit.Parts{Company: c[tCompany], Regiment: c[tRegiment], Unit: c[tUnit], Arm: c[tArm], State: c[tUnitState], Branch: c[tBranch], Side: c[tSide]})
		}
	}
	halves := func(surname, given string) model.Name {
		n, _ := m.name(nameParts{surname: surname, given: given})
		return n
	}
	for _, p := range pairs {
		if p[0] == "" && p[1] == "" {
			continue
		}
		if diff := cmp.Diff(name.FromParts(p[0], p[1]), halves(p[0], p[1])); diff != "" {
			t.Errorf("%q: whole -, in halves +:\n%s", p, diff)
		}
	}
	for _, u := range units {
		got := m.unit(u)
		if diff := cmp.Diff(unit.FromParts(u), *got); diff != "" {
			t.Errorf("%+v: whole -, in halves +:\n%s", u, diff)
		}
	}
	t.Logf("%d names, %d units", len(pairs), len(units))
}

// cellsOf gives the cells of a real roster, by their terms; none where it is absent.
func cellsOf(t *testing.T, file, description string) [][termCount]string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Logf("without %s: %v", file, err)
		return nil
	}
	meta, err := os.ReadFile(description)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	for name, b := range map[string][]byte{filepath.Base(file): text, MetadataFile: meta} {
		if err := os.WriteFile(filepath.Join(folder, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s, err := Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	var list [][termCount]string
	p := pass[int]{survey: s, complain: func(model.Complaint) {}, workers: 1, name: func(*int, string) {},
		make: func(r *reading, _ *int) { list = append(list, r.terms) }}
	for i := range s.Tables {
		p.table(&s.Tables[i], func([]*int) bool { return true })
	}
	if len(list) == 0 {
		t.Fatalf("no row of %s was read", file)
	}
	return list
}

// TestRecordsAbout estimates how many records there are, of rosters that are read whole for it and of one that is not.
func TestRecordsAbout(t *testing.T) {
	for _, n := range []int{10, 500, 20000} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "roster-a.csv"), []byte(mixedRoster(n)), 0o644); err != nil {
			t.Fatal(err)
		}
		s, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		if about := s.RecordsAbout(); about < n*8/10 || about > n*12/10+2 {
			t.Errorf("about %d records, of %d rows", about, n)
		}
	}
}
