package name

import (
	"encoding/csv"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// table reads an open data set where it is at hand, its rows as maps from column to cell.
func table(t *testing.T, file string) []map[string]string {
	f, err := os.Open("../../../shared/data/" + file)
	if err != nil {
		t.Skip("the open data is not at hand")
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, column := range rows[0] {
			m[column] = row[i]
		}
		list = append(list, m)
	}
	return list
}

var diedOn = regexp.MustCompile(`([A-Z][a-z]{2})[a-z]*\.?\s+(\d{1,2}), ('64|'65|1864|1865)`)

// TestSoundOnRealPairs pairs the rows of a printed list of a prison cemetery (1881) with the men whom the rosters of their regiments have die in that
// prison, by state, regiment, company (where both have one), day of death and first letter of the given name, never by surname; and counts how often each key finds the man.
func TestSoundOnRealPairs(t *testing.T) {
	list := table(t, "andersonville/andersonville_graves_1881.csv")
	months := map[string]string{}
	for i, m := range strings.Fields("Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec") {
		months[m] = []string{"1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12"}[i]
	}
	initial := func(given string) string { return Fold(given)[:min(1, len(Fold(given)))] }
	byDay := map[string][]map[string]string{}
	for _, r := range list {
		k := strings.Join([]string{r["state"], r["regiment"], r["death_month"], r["death_day"], initial(r["given"])}, "|")
		byDay[k] = append(byDay[k], r)
	}
	pairs, same, sound, soundex := 0, 0, 0, 0
	for _, r := range table(t, "rosters/six_regiments.csv") {
		if !strings.Contains(r["remarks"], "Andersonville") {
			continue
		}
		for _, m := range diedOn.FindAllStringSubmatch(r["remarks"], -1) {
			var found []string
			for _, x := range byDay[strings.Join([]string{r["state"], r["regiment"], months[m[1]], m[2], initial(r["given"])}, "|")] {
				if x["company"] == r["company"] || x["company"] == "" || r["company"] == "" {
					found = append(found, x["surname"])
				}
			}
			if len(found) != 1 || strings.Trim(found[0], "— ") == "" {
				continue
			}
			pairs++
			if Fold(found[0]) == Fold(r["surname"]) {
				same++
			}
			if Sound(found[0]) == Sound(r["surname"]) {
				sound++
			} else {
				t.Logf("apart: %s, %s", r["surname"], found[0])
			}
			if Soundex(found[0]) == Soundex(r["surname"]) {
				soundex++
			}
			break
		}
	}
	t.Logf("%d pairs: the same surname %d, Sound %d, Soundex %d", pairs, same, sound, soundex)
	if pairs < 20 {
		t.Fatalf("only %d pairs found", pairs)
	}
	if sound < soundex || float64(sound) < 0.8*float64(pairs) {
		t.Errorf("Sound finds %d of %d, Soundex %d", sound, pairs, soundex)
	}
}

// TestRealNames reads the names of open rosters: a surname and a given name must come of nearly every row, and nothing may be lost that a matcher needs.
func TestRealNames(t *testing.T) {
	for _, x := range [][3]string{
		{"rosters/six_regiments.csv", "surname", "given"}, {"rainbow_wwi/rainbow_roster.csv", "surname", "given"},
		{"va_burials/va_burials_to_ww1.csv", "d_last", "d_first"}, {"andersonville/andersonville_graves_1881.csv", "surname", "given"},
	} {
		rows, named, known := 0, 0, 0
		for _, r := range table(t, x[0]) {
			if r[x[1]] == "" || r[x[2]] == "" {
				continue
			}
			rows++
			n := FromParts(r[x[1]], r[x[2]])
			if n.Surname != "" && n.Given != "" {
				named++
			}
			if len(n.Given) == 1 || isGiven(n.Given) {
				known++
			}
			whole := Parse(r[x[1]] + ", " + r[x[2]])
			if whole.Surname != n.Surname && !slices.Contains(strings.Fields(strings.ToLower(r[x[1]])), "jr") {
				t.Logf("%q, %q: surname %q from its parts, %q from the whole", r[x[1]], r[x[2]], n.Surname, whole.Surname)
			}
		}
		t.Logf("%s: %d rows, %d with both names, %d with an initial or a known given name", x[0], rows, named, known)
		if float64(named) < 0.98*float64(rows) || float64(known) < 0.85*float64(rows) {
			t.Errorf("%s: of %d rows %d have both names and %d a given name that the tables know", x[0], rows, named, known)
		}
	}
}
