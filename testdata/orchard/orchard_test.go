package orchard

import (
	"regexp"
	"strings"
	"testing"

	"musterstone/testdata/surveytest"
)

var files = []string{
	"csv-metadata.json", "register-sexton.csv", "roster-adjutant-general.csv", "roster-confederate-roll.csv", "roster-early-wars.csv", "roster-headstone-cards.csv", "roster-navy.csv", "roster-pensioners.csv",
	"roster-service-cards.csv", "roster-since-1941.csv", "roster-soldiers-home.csv", "roster-volunteers-1898.csv", "stones.csv", "truth.csv",
}

// TestMake holds the maker to what it promises, clean and messy.
func TestMake(t *testing.T) {
	for _, messy := range []bool{false, true} {
		surveytest.Check(t, surveytest.Promise{Records: 3000, Stones: 600, Known: .37, Files: files}, func(dir string, seed uint64) error {
			return Make(dir, Options{Seed: seed, Records: 3000, Stones: 600, Messy: messy})
		})
	}
}

// TestShares: the wars and the noise come in the shares that are stated.
func TestShares(t *testing.T) {
	clean, messy := t.TempDir(), t.TempDir()
	for dir, worn := range map[string]bool{clean: false, messy: true} {
		if err := Make(dir, Options{Seed: 3, Records: 6000, Stones: 2000, Messy: worn}); err != nil {
			t.Fatal(err)
		}
	}
	const stones, words = "stones.csv", "inscription"
	surveytest.Shares(t, clean, []surveytest.Share{
		{Of: "government stones", Table: stones, Column: "Shape", Pattern: "^(rounded|pointed|slightly rounded|flat)$", Want: .60, Give: .12},
		{Of: "a unit's company", Table: stones, Column: words, Pattern: `(?i)\b(CO|COMPANY|BTRY|BATTY)\b`, Want: .26, Give: .06},
		{Of: "wives", Table: stones, Column: words, Pattern: "(?i)WIFE|CONSORT|RELICT", Want: .28, Give: .06},
		{Of: "letters lost and marked", Table: stones, Column: words, Pattern: `\[|\?|_`, Want: .085, Give: .04},
		{Of: "civil war pensioners", Table: "roster-pensioners.csv", Column: "WAR", Pattern: "Civil", Given: true, Want: .84, Give: .07},
		{Of: "carried down", Table: "roster-adjutant-general.csv", Column: "Residence", Pattern: `^do\.$`, Want: .05, Give: .05},
	})
	surveytest.Shares(t, messy, []surveytest.Share{{Of: "letters lost and marked, messy", Table: stones, Column: words, Pattern: `\[|\?|_`, Want: .33, Give: .08}})
	for _, name := range files {
		if strings.HasPrefix(name, "roster") {
			a, b := surveytest.Rows(t, clean, name), surveytest.Rows(t, messy, name)
			for i := range a {
				for title, cell := range a[i] {
					if b[i][title] != cell {
						t.Fatalf("%s, row %d: %s is %q in a messy survey, %q in a clean one", name, i+2, title, b[i][title], cell)
					}
				}
			}
		}
	}
}

// TestTruth: most records that the truth pairs with a stone have a surname that stands on it letter for letter, and some do not, by ear, by wear or by what a man
// brought from abroad.
func TestTruth(t *testing.T) {
	dir := t.TempDir()
	if err := Make(dir, Options{Seed: 5, Records: 4000, Stones: 1000}); err != nil {
		t.Fatal(err)
	}
	surname := map[string]string{}
	for _, name := range files {
		if strings.HasPrefix(name, "roster") {
			for _, row := range surveytest.Rows(t, dir, name) {
				for _, title := range []string{"Name", "NAME", "PENSIONER", "Soldier", "Surname", "Last Name"} {
					if cell, ok := row[title]; ok {
						before, _, _ := strings.Cut(cell, ",")
						surname[row["id"]] = strings.ToUpper(before)
					}
				}
			}
		}
	}
	words := map[string]string{}
	for _, row := range surveytest.Rows(t, dir, "stones.csv") {
		words[row["id"]] = strings.ToUpper(row["inscription"])
	}
	for _, row := range surveytest.Rows(t, dir, "register-sexton.csv") {
		words[row["id"]] = strings.ToUpper(row["Surname"])
	}
	same, all := 0, 0
	for _, row := range surveytest.Rows(t, dir, "truth.csv") {
		if all++; strings.Contains(words[row["stone"]], surname[row["record"]]) {
			same++
		}
	}
	if share := float64(same) / float64(all); share < .7 || share > .95 {
		t.Errorf("%.3f of the pairs of the truth have the same surname, letter for letter, want .70 to .95", share)
	}
}

// TestByEar: a name written by ear is another, and not much longer or shorter.
func TestByEar(t *testing.T) {
	d := newDice(1, 1)
	changed := 0
	for range 200 {
		name := rare(d)
		if heard := byEar(d, name); heard != name {
			changed++
			if len(heard) > len(name)+2 || len(heard) < len(name)-3 {
				t.Errorf("%s by ear is %s", name, heard)
			}
		}
	}
	if changed < 180 {
		t.Errorf("%d of 200 names are other names by ear", changed)
	}
}

// TestDates: each way to write a day is read back by a pattern of its own, and a year alone stays one.
func TestDates(t *testing.T) {
	for _, c := range []struct{ how, want string }{
		{"book", "Mch. 4, 1862"}, {"plain", "Mch 4 1862"}, {"full", "March 4, 1862"}, {"day first", "4 Mar 1862"}, {"slashed", "3/4/1862"}, {"card", "Mch 4/62"}, {"tick", "Mch. 4, '62"},
		{"year first", "1862 Mch. 4"}, {"army", "04 MAR 1862"}, {"iso", "1862-03-04"}, {"month", "March, 1862"},
	} {
		if got := (day{1862, 3, 4}).write(c.how); got != c.want {
			t.Errorf("%s: %q, want %q", c.how, got, c.want)
		}
		if got := (day{y: 1862}).write(c.how); got != "1862" {
			t.Errorf("%s: a year alone is written %q", c.how, got)
		}
	}
}

// TestHand: a hand marks what it lost in its own way and no other.
func TestHand(t *testing.T) {
	marks := map[string]*regexp.Regexp{"leiden": regexp.MustCompile(`\[(\.+|---|[A-Za-z0-9. ]+\??)\]`), "ask": regexp.MustCompile(`\?`), "under": regexp.MustCompile(`_`), "words": regexp.MustCompile(`\[(illegible|worn|---)\]|\.\.\.`)}
	for _, h := range hands {
		d := newDice(2, 2)
		for range 100 {
			if line := h.lose(d, "CO. F, 14 OHIO INF."); line != "CO. F, 14 OHIO INF." && !marks[h.lost].MatchString(line) {
				t.Errorf("%s loses letters as %q", h.name, line)
			}
		}
	}
}
