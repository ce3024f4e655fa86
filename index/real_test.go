package index_test

import (
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/index"
	"musterstone/index/intake"
	"musterstone/model"
	"musterstone/vocab/inscription"
)

const openData = "../../shared/data"

// openReal opens the open data that a metadata file of testdata/real describes, or skips.
func openReal(t *testing.T, metadata string, files ...string) *intake.Survey {
	t.Helper()
	if _, err := os.Stat(openData); err != nil {
		t.Skip("the open data are not beside the project")
	}
	dir := t.TempDir()
	files = append(files, filepath.Join("..", "testdata", "real", metadata))
	for i, f := range files {
		to := filepath.Join(dir, filepath.Base(f))
		if i == len(files)-1 {
			to = filepath.Join(dir, intake.MetadataFile)
		} else {
			f = filepath.Join(openData, f)
		}
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(to, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s, err := intake.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func quiet(model.Complaint) {}

// TestRealPairs looks up the burials of the 124th Ohio's roll of honor in its roster, and counts for how many the man whom the book's own
// words pair with the burial is among the candidates. All are of one regiment, so that its number says nothing.
func TestRealPairs(t *testing.T) {
	s := openReal(t, "oh124.json", "rosters/oh124_roster.csv", "rosters/oh124_roll_of_honor_burials.csv")
	f, err := os.Open(filepath.Join(openData, "truth", "oh124_roster_to_burial_pairs.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	roll, roster := slices.Index(rows[0], "roll_src_line"), slices.Index(rows[0], "roster_src_line")
	truth := map[string]string{}
	for _, r := range rows[1:] {
		truth[r[roll]] = r[roster]
	}
	x, err := index.Open(context.Background(), s.Dir, index.Inputs{Rosters: "a", Graves: func() string { return "b" }, Records: s.Records(quiet), Stones: s.Stones(quiet)}, index.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	stones, first, ten := 0, 0, 0
	for stone := range s.Stones(quiet) {
		found, err := x.Candidates(context.Background(), &model.Subject{Stone: stone, Readings: inscription.ReadStone(stone)}, 10)
		if err != nil {
			t.Fatal(err)
		}
		_, line, _ := strings.Cut(string(stone.ID), "roll-")
		want, ok := truth[line]
		if !ok {
			t.Fatalf("stone %q is not in the table of pairs", stone.ID)
		}
		stones++
		k := slices.IndexFunc(found, func(r *model.Record) bool { return strings.HasSuffix(string(r.ID), "roster-"+want) })
		switch {
		case k == 0:
			first++
			fallthrough
		case k > 0:
			ten++
		default:
			t.Logf("%s: %s is not among the ten of %v", stone.ID, want, stone.Register.Person.Name)
		}
	}
	t.Logf("%d burials: the book's man is first for %d, among ten for %d", stones, first, ten)
	if stones != 197 || ten < 195 || first < 190 {
		t.Errorf("%d burials: the book's man is first for %d, among ten for %d; want 197, 190, 195", stones, first, ten)
	}
}

// TestRealSpeed looks up the 12,413 graves of Andersonville among the six regiments, and tells how long that took.
func TestRealSpeed(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	graves := openReal(t, "andersonville.json", "andersonville/andersonville_graves_1881.csv")
	rosters := openReal(t, "six_regiments.json", "rosters/six_regiments.csv")
	start := time.Now()
	x, err := index.Open(context.Background(), rosters.Dir, index.Inputs{Rosters: "a", Records: rosters.Records(quiet)}, index.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	built := time.Since(start)
	var subjects []*model.Subject
	for stone := range graves.Stones(quiet) {
		subjects = append(subjects, &model.Subject{Stone: stone, Readings: inscription.ReadStone(stone)})
	}
	start = time.Now()
	some := 0
	for _, s := range subjects {
		found, err := x.Candidates(context.Background(), s, 50)
		if err != nil {
			t.Fatal(err)
		}
		if len(found) > 0 {
			some++
		}
	}
	t.Logf("%d records read and indexed in %v; %d of %d graves have candidates, in %v", x.Len(), built, some, len(subjects), time.Since(start))
	if some < len(subjects)/2 {
		t.Errorf("%d of %d graves have candidates", some, len(subjects))
	}
}
