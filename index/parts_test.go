package index

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/index/intake"
	"musterstone/model/same"
	"musterstone/vocab/remarks"
)

// surveyInputs are the inputs of a survey folder, as the program makes them; read says which rosters were read and not kept.
func surveyInputs(t *testing.T, dir string, read *[]string) Inputs {
	t.Helper()
	s, err := intake.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	digests, err := s.Digests()
	if err != nil {
		t.Fatal(err)
	}
	var in Inputs
	for _, r := range s.Rosters() {
		in.Rosters += digests[r.File]
		batches := r.Batches()
		in.Parts = append(in.Parts, Part{File: r.File, Digest: digests[r.File], Keep: r.Keep, Told: r.Told,
			Batches: func(yield func(*same.Batch) bool) {
				*read = append(*read, r.File)
				batches(yield)
			}})
	}
	return in
}

// TestSameFiles builds the index of a survey with one goroutine and with several: the same bytes, and the records that intake reads one by one.
func TestSameFiles(t *testing.T) {
	survey := t.TempDir()
	var b strings.Builder
	b.WriteString("id,surname,given,rank_in,company,regiment,arm,state,enlisted,mustered_out,age,residence,died,remarks\n")
	for i := range 3000 {
		fmt.Fprintf(&b, "m%d,Name%d,%s,%s,%c,%d,Inf.,%s,\"Aug. %d, 186%d\",,%d,%s Co.,,\"%s %d, once\"\n", i%2990, i*7%433, []string{"John", "Wm.", "Geo. W.", "J. R., Jr."}[i%4],
			[]string{"Pvt.", "Corp.", "Sergt.", "Bvt. Maj."}[i%4], 'A'+i%10, 1+i%90, []string{"Ohio", "Wis.", "US"}[i%3], 1+i%28, 1+i%4, 17+i%30, []string{"Dane", "Rock", ""}[i%3], []string{"Remark", "Alias Henry Kirby; remark", "Trans. to Co. B, 9th Wis. Cav.; remark", "Alias Otto Name7; later Co. C"}[i%4], i)
	}
	if err := os.WriteFile(filepath.Join(survey, "roster-a.csv"), []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var first map[string][]byte
	for _, n := range []int{1, 2, 5} {
		runtime.GOMAXPROCS(n)
		var read []string
		dir := t.TempDir()
		x, err := Open(context.Background(), dir, surveyInputs(t, survey, &read), Options{})
		if err != nil {
			t.Fatal(err)
		}
		s, err := intake.Open(survey)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(slices.Collect(s.Records(nil)), slices.Collect(x.Records(context.Background()))); d != "" {
			t.Errorf("%d goroutines: records (-read +stored):\n%.1500s", n, d)
		}
		files := map[string][]byte{}
		for _, f := range []string{recordsName, tablesName, rowsName, startsName} {
			if files[f], err = os.ReadFile(filepath.Join(x.Folder(), f)); err != nil {
				t.Fatal(err)
			}
		}
		x.Close()
		if first == nil {
			first = files
		}
		for f := range files {
			if !bytes.Equal(first[f], files[f]) {
				t.Errorf("%s is another with %d goroutines", f, n)
			}
		}
	}
}

// rowsOf are the rows of an index, with the given names and units that their numbers stand for: those that remarks alone name are numbered in another order where a part was kept.
func rowsOf(x *Index) (list []string) {
	for _, w := range x.roll.rows {
		given, unit := x.roll.givens[w.given], x.roll.units[w.unit]
		w.given, w.unit = 0, 0
		list = append(list, fmt.Sprintf("%+v %s %+v", w, given, unit))
	}
	return list
}

// TestPartsKept changes one of three rosters at a time, and holds what comes of keeping the others against an index built anew.
func TestPartsKept(t *testing.T) {
	dir := t.TempDir()
	roster := func(prefix string, n int, more ...string) string {
		var b strings.Builder
		b.WriteString("id,surname,given,company,regiment,arm,state,enlisted,age,remarks\n")
		for i := range n {
			remark := fmt.Sprintf("Remark %d of %s", i, prefix)
			switch i % 7 { // which the index reads
			case 0:
				remark = fmt.Sprintf("Alias Henry Name%d", i%37)
			case 1:
				remark = fmt.Sprintf("Trans. to Co. B; later Co. K %d Ohio Inf.", 1+i%70)
			case 2:
				remark = "Alias on some rolls"
			}
			fmt.Fprintf(&b, "%s%d,Name%d,%s,%c,%d,Inf.,Ohio,\"Aug. %d, 1862\",%d,%s\n", prefix, i, i%41, []string{"John", "Wm.", "Geo. W."}[i%3], 'A'+i%9, 1+i%70, 1+i%28, 18+i%20, remark)
		}
		return b.String() + strings.Join(more, "\n") + "\n"
	}
	write := func(file, text string) {
		if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("roster-a.csv", roster("a", 700))
	write("roster-b.csv", roster("b", 900, "b1,Twice,John,,,,,,,", ",Without,Id,A,3,Inf.,Ohio,soon,20,"))
	write("roster-c.csv", roster("c", 300))
	step := func(what string, wantRead ...string) {
		t.Helper()
		var read, all []string
		in := surveyInputs(t, dir, &read)
		x, err := Open(context.Background(), dir, in, Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer x.Close()
		var kept []string
		for _, p := range in.Parts {
			if !slices.Contains(read, p.File) {
				kept = append(kept, p.File)
			}
		}
		if x.Built && !slices.Equal(kept, x.Kept) || !slices.Equal(read, wantRead) {
			t.Errorf("%s: %q were read, want %q; kept are %q", what, read, wantRead, x.Kept)
		}
		fresh, err := Open(context.Background(), t.TempDir(), surveyInputs(t, dir, &all), Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer fresh.Close()
		if d := cmp.Diff(slices.Collect(fresh.Records(context.Background())), slices.Collect(x.Records(context.Background()))); d != "" {
			t.Errorf("%s: records (-built anew +kept):\n%.1500s", what, d)
		}
		if d := cmp.Diff(fresh.Complaints(), x.Complaints()); d != "" {
			t.Errorf("%s: complaints (-built anew +kept):\n%s", what, d)
		}
		if d := cmp.Diff(rowsOf(fresh), rowsOf(x)); d != "" {
			t.Errorf("%s: rows (-built anew +kept):\n%.1500s", what, d)
		}
		for i := range 40 {
			c := claim(fmt.Sprintf("John Nam%d", i), fmt.Sprintf("Co. B, %d Ohio Inf.", i), 0)
			a, err := fresh.Candidates(context.Background(), subject("S", c), 20)
			if err != nil {
				t.Fatal(err)
			}
			b, err := x.Candidates(context.Background(), subject("S", c), 20)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(ids(a), ids(b)) {
				t.Errorf("%s: stone %d: built anew %v, kept %v", what, i, ids(a), ids(b))
			}
		}
	}
	step("the first time", "roster-a.csv", "roster-b.csv", "roster-c.csv")
	step("nothing has changed")
	write("roster-b.csv", roster("b", 901, "b1,Twice,John,,,,,,,", ",Without,Id,A,3,Inf.,Ohio,soon,20,"))
	step("the second has changed", "roster-b.csv")
	write("roster-a.csv", roster("a", 650))
	step("the first has changed", "roster-a.csv")
	write("roster-d.csv", roster("d", 100))
	step("a fourth has come", "roster-d.csv")
	// An id of the first that the third has too: the third's row must now be refused, and come back when the first lets go of it.
	write("roster-a.csv", roster("a", 650, "c7,Taken,John,,,,,,,"))
	step("the first takes an id of the third", "roster-a.csv", "roster-c.csv")
	write("roster-d.csv", roster("d", 101))
	step("what hangs on another is not kept", "roster-c.csv", "roster-d.csv")
	write("roster-a.csv", roster("a", 651))
	step("the first lets go of it", "roster-a.csv", "roster-c.csv")
	if err := os.Remove(filepath.Join(dir, "roster-b.csv")); err != nil {
		t.Fatal(err)
	}
	step("the second is gone")
	// A record of an earlier index that was harmed is not kept.
	folders, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, recordsKind+"-*"))
	path := filepath.Join(folders[0], recordsName)
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	b[len(b)*3/4] ^= 1 // in the second
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	write("roster-a.csv", roster("a", 10))
	step("the index was harmed", "roster-a.csv", "roster-c.csv")
}

// TestUnread: an index that was made while the disk did not give a roster serves that once, and is made again the next time, with its words.
func TestUnread(t *testing.T) {
	dir := t.TempDir()
	for file, text := range map[string]string{
		"roster-a.csv": "id,surname,given\na1,Tveit,Ole\n",
		"roster-b.csv": "id,surname,given\nb1,Moser,Anna\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	lost := filepath.Join(dir, "roster-b.csv")
	open := func(away bool) (x *Index, words int) {
		t.Helper()
		var read []string
		in := surveyInputs(t, dir, &read)
		if away {
			if err := os.Rename(lost, lost+".away"); err != nil {
				t.Fatal(err)
			}
			defer os.Rename(lost+".away", lost)
		}
		x, err := Open(context.Background(), dir, in, Options{})
		if err != nil {
			t.Fatal(err)
		}
		r, err := x.Find(context.Background(), "Moser", FindOptions{})
		if err != nil {
			t.Fatal(err)
		}
		return x, len(r.Hits)
	}
	for i, want := range []struct {
		away               bool
		records, found     int
		built              bool
		complaints, noting int
	}{
		{true, 1, 0, true, 1, 0},
		{true, 1, 0, true, 1, 1}, // still away: told again
		{false, 2, 1, true, 0, 1},
		{false, 2, 1, false, 0, 0},
	} {
		x, found := open(want.away)
		if x.Len() != want.records || found != want.found || x.Built != want.built || len(x.Complaints()) != want.complaints || len(x.Notes) != want.noting {
			t.Errorf("step %d: %d records, %d found, built %v, complaints %v, notes %q; want %+v", i+1, x.Len(), found, x.Built, x.Complaints(), x.Notes, want)
		}
		if err := x.Close(); err != nil {
			t.Error(err)
		}
	}
}

// TestBesideKept: what is made beside an index is told of every record in its order, kept ones among them; where it cannot keep what it made of these, it is given them one by one.
func TestBesideKept(t *testing.T) {
	dir := t.TempDir()
	write := func(file, ids string) {
		t.Helper()
		text := "id,surname,given\n"
		for id := range strings.FieldsSeq(ids) {
			text += id + ",Tveit,Ole\n"
		}
		if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	build := func(can bool) string {
		t.Helper()
		var read, told []string
		in := surveyInputs(t, dir, &read)
		in.Beside = func(string) (Beside, error) {
			return Beside{
				Add: func(b *same.Batch, _ []*remarks.Told) error {
					for _, r := range b.Rows {
						told = append(told, strings.Clone(r.ID))
					}
					return nil
				},
				Keep: func(folder string, from, to int) (bool, error) {
					if !can {
						return false, nil
					}
					if _, err := os.Stat(filepath.Join(folder, recordsName)); err != nil {
						t.Error(err)
					}
					told = append(told, fmt.Sprintf("%d-%d", from, to))
					return true, nil
				},
				Finish: func() error { told = append(told, "end"); return nil },
			}, nil
		}
		x, err := Open(context.Background(), dir, in, Options{})
		if err != nil {
			t.Fatal(err)
		}
		x.Close()
		return strings.Join(told, " ")
	}
	write("roster-a.csv", "a1 a2")
	write("roster-b.csv", "b1 b2 b3")
	for _, step := range []struct {
		change string // of the first roster
		can    bool
		want   string
	}{
		{"a1 a2", true, "a1 a2 b1 b2 b3 end"},
		{"a1", true, "a1 2-5 end"},
		{"a1 a2 a3", false, "a1 a2 a3 b1 b2 b3 end"},
	} {
		write("roster-a.csv", step.change)
		if got := build(step.can); got != step.want {
			t.Errorf("with %s in the first, told %q, want %q", step.change, got, step.want)
		}
	}
}

// TestManyShapes: of a table whose cells are filled at random, with as many patterns as rows, no more lists of columns are kept than a bound; the records come back as they were read, and so they do
// when they are carried over into the index of a changed survey.
func TestManyShapes(t *testing.T) {
	defer func(most int) { mostShapes = most }(mostShapes)
	mostShapes = 40
	dir := t.TempDir()
	columns := strings.Split("id,surname,given,name,company,remarks,residence,one,two,three,four,five,six,seven,eight,nine,ten", ",")
	roster := func(file, prefix string, n int) {
		rng := rand.New(rand.NewPCG(7, uint64(n)))
		var b strings.Builder
		b.WriteString(strings.Join(columns, ",") + "\n")
		for i := range n {
			for k := range columns {
				switch {
				case k == 0:
					fmt.Fprintf(&b, "%s%d", prefix, i)
				case rng.IntN(2) == 0:
				case rng.IntN(9) == 0:
					fmt.Fprintf(&b, ",\" v%d, \"", rng.IntN(40))
					continue
				default:
					fmt.Fprintf(&b, ",v%d", rng.IntN(40))
					continue
				}
				if k > 0 {
					b.WriteString(",")
				}
			}
			b.WriteString("\n")
		}
		if err := os.WriteFile(filepath.Join(dir, file), []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	roster("roster-a.csv", "a", 600)
	for round, n := range []int{300, 301, 302} {
		roster("roster-b.csv", "b", n)
		var read []string
		x, err := Open(context.Background(), dir, surveyInputs(t, dir, &read), Options{})
		if err != nil {
			t.Fatal(err)
		}
		s, err := intake.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(slices.Collect(s.Records(nil)), slices.Collect(x.Records(context.Background()))); d != "" {
			t.Errorf("round %d: records (-read +stored):\n%.1500s", round, d)
		}
		if round > 0 && len(read) != 1 {
			t.Errorf("round %d: %q were read, and not kept", round, read)
		}
		if n := len(x.tables.shared.Columns); n > 2*mostShapes+2 {
			t.Errorf("round %d: %d lists of columns", round, n)
		}
		x.Close()
	}
}
