package intake_test

import (
	"os"
	"path/filepath"
	"testing"

	"musterstone/index/intake"
	"musterstone/model"
)

// openReal lays the metadata of testdata/real beside links to the open data that it describes, and gives the folder, or skips.
func openReal(t testing.TB, metadata string, files ...string) string {
	t.Helper()
	data, err := filepath.Abs(filepath.Join("..", "..", "..", "shared", "data"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(data); err != nil {
		t.Skip("the open data are not beside the project")
	}
	dir := t.TempDir()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "real", metadata))
	if err != nil {
		t.Fatal(err)
	}
	write(t, dir, intake.MetadataFile, b)
	for _, f := range files {
		b, err := os.ReadFile(filepath.Join(data, filepath.FromSlash(f)))
		if err != nil {
			t.Fatal(err)
		}
		write(t, dir, filepath.Base(f), b)
	}
	return dir
}

// understood counts what was understood of claims.
type understood struct{ surname, given, rank, number, company, state, arm, died, enlisted, age, conflict int }

func (u *understood) add(c model.Claim) {
	s := c.Service
	for _, x := range []struct {
		n  *int
		is bool
	}{
		{&u.surname, c.Person.Name.Surname != ""}, {&u.given, c.Person.Name.Given != ""}, {&u.rank, s.Rank != ""},
		{&u.number, s.Unit.Number != 0}, {&u.company, s.Unit.Company != ""}, {&u.state, s.Unit.Designation() != ""}, {&u.arm, s.Unit.Arm != ""},
		{&u.died, !c.Person.Died.IsZero()}, {&u.enlisted, !s.Enlisted.IsZero()}, {&u.age, !c.Person.Age.IsZero()}, {&u.conflict, len(s.Conflicts) > 0},
	} {
		if x.is {
			*x.n++
		}
	}
}

// atLeast reports the first count that falls short.
func (u understood) atLeast(t *testing.T, want understood) {
	t.Helper()
	for _, x := range []struct {
		name      string
		got, want int
	}{
		{"surname", u.surname, want.surname}, {"given", u.given, want.given}, {"rank", u.rank, want.rank}, {"regiment", u.number, want.number},
		{"company", u.company, want.company}, {"state", u.state, want.state}, {"arm", u.arm, want.arm}, {"died", u.died, want.died},
		{"enlisted", u.enlisted, want.enlisted}, {"age", u.age, want.age}, {"conflict", u.conflict, want.conflict},
	} {
		if x.got < x.want {
			t.Errorf("%s understood in %d rows, want at least %d", x.name, x.got, x.want)
		}
	}
}

// TestReal reads the open data whole. The row counts are those that were published with the data; the counts of complaints and of fields understood are
// what was measured when the metadata were written, and are not to get worse.
func TestReal(t *testing.T) {
	for _, tt := range []struct {
		metadata        string
		files           []string
		stones, records int
		complaints      int
		want            understood
	}{
		{"andersonville.json", []string{"andersonville/andersonville_graves_1881.csv"}, 12413, 0, 160,
			understood{surname: 12413, given: 12230, rank: 12320, number: 12080, company: 11730, state: 12240, arm: 3160, died: 12413, conflict: 12413}},
		{"va_burials.json", []string{"va_burials/va_burials_to_ww1.csv"}, 4971, 0, 375,
			understood{surname: 4971, given: 4969, rank: 3090, number: 64, company: 60, state: 50, died: 4868, conflict: 2550}},
		{"six_regiments.json", []string{"rosters/six_regiments.csv"}, 0, 6456, 880,
			understood{surname: 6456, given: 6454, rank: 3960, number: 6456, company: 6219, state: 6456, arm: 6456, enlisted: 3830, age: 3568, conflict: 6456}},
		{"oh124.json", []string{"rosters/oh124_roster.csv", "rosters/oh124_roll_of_honor_burials.csv"}, 197, 1313, 4,
			understood{surname: 1510, given: 1509, rank: 1510, number: 1510, company: 1440, state: 1510, arm: 1510, died: 197, enlisted: 1308, age: 1310, conflict: 1510}},
		{"rainbow_wwi.json", []string{"rainbow_wwi/rainbow_roster.csv"}, 0, 24599, 90,
			understood{surname: 24599, given: 24598, rank: 24590, number: 18800, company: 21600, arm: 23600, conflict: 24599}},
	} {
		t.Run(tt.metadata, func(t *testing.T) {
			s, err := intake.Open(openReal(t, tt.metadata, tt.files...))
			if err != nil {
				t.Fatal(err)
			}
			told, leftOut := map[string]int{}, 0
			all := len(s.Notices)
			tell := func(c model.Complaint) {
				all++
				told[c.Column]++
				if c.Fatal {
					leftOut++
					t.Errorf("a row was left out: %v", c.Error())
				}
				if c.File == "" || c.Row == 0 || c.Text == "" {
					t.Errorf("the complaint does not say where: %+v", c)
				}
			}
			var stones, records int
			var got understood
			for stone := range s.Stones(tell) {
				stones++
				got.add(*stone.Register)
			}
			for rec := range s.Records(tell) {
				records++
				got.add(rec.Claim)
			}
			t.Logf("%d stones, %d records, %d complaints %v, understood %+v", stones, records, all, told, got)
			if stones != tt.stones || records != tt.records {
				t.Errorf("got %d stones and %d records, want %d and %d", stones, records, tt.stones, tt.records)
			}
			if all > tt.complaints {
				t.Errorf("%d complaints %v, want at most %d", all, told, tt.complaints)
			}
			got.atLeast(t, tt.want)
		})
	}
}
