package haven_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"musterstone/testdata/haven"
	"musterstone/testdata/surveytest"
)

var (
	notName  = regexp.MustCompile(`(?i)^(\d+|(1 )?(sgt|serg.?t|corp.?l?|cpl|mus|wagr|capt|[12] lieut|nurse|lands|sea|ord sea|1 cl fire|boy|pfc|yeo)\.?|michigan|in memory of|ohio|illinois|indiana|new york|pennsylvania|wisconsin)$`)
	company  = regexp.MustCompile(`(?i)\b(?:co|batt|btry)\.? ([A-M])\b`)
	regiment = regexp.MustCompile(`(?i)\b(\d{1,3})(?:st|nd|rd|d|th)? (?:[A-Z]|$)`)
	year     = regexp.MustCompile(`\b(1[89]\d\d)\b`)
	years    = regexp.MustCompile(`(1[89]\d\d)`)
	forms    = map[string]string{"wm": "william", "jno": "john", "jas": "james", "chas": "charles", "geo": "george", "thos": "thomas", "saml": "samuel", "jos": "joseph", "danl": "daniel", "robt": "robert", "benj": "benjamin", "andw": "andrew", "edwd": "edward", "fredk": "frederick", "hy": "henry", "michl": "michael", "patk": "patrick", "richd": "richard", "albt": "albert", "alex": "alexander"}
)

// key is what is joined on: the surname and the given name, or as much of it as there is.
func key(surname, given string) (string, string) {
	first, _, _ := strings.Cut(strings.ToLower(given)+" ", " ")
	first = strings.Trim(first, ".")
	if full := forms[first]; full != "" {
		first = full
	}
	return strings.ToLower(strings.ReplaceAll(surname, " ", "")), first
}

type claim struct {
	surname, given, company, regiment, died string
}

func differ(a, b string) bool { return a != "" && b != "" && a != b }

// joins says for each stone whom a plain join finds: the only record of a book with its surname and given name (or initial) that does not differ in company, regiment or year of death
// where both give them. A strict join also asks that the regiment is the same, or else the year of death.
func joins(t testing.TB, dir string, strict bool) map[string]string {
	type record struct {
		id string
		claim
	}
	by := map[string][]record{}
	for _, name := range []string{"roster-home.csv", "roster-index.csv", "roster-navy.csv", "roster-state.csv", "roster-wars.csv"} {
		for _, row := range surveytest.Rows(t, dir, name) {
			surname, given := row["surname"], row["given"]
			if surname == "" {
				surname, given, _ = strings.Cut(row["name"], ", ")
			}
			r := record{id: row["id"]}
			r.surname, r.given = key(surname, given)
			r.company, r.regiment = row["company"], row["regiment"]
			if u := row["unit"]; u != "" {
				if m := company.FindStringSubmatch(u); m != nil {
					r.company = m[1]
				}
				if m := regiment.FindStringSubmatch(u); m != nil {
					r.regiment = m[1]
				}
			}
			if m := year.FindString(row["died"]); m != "" {
				r.died = m
			}
			by[r.surname] = append(by[r.surname], r)
		}
	}
	claims := map[string]claim{}
	for _, row := range surveytest.Rows(t, dir, "stones.csv") {
		var c claim
		for line := range strings.SplitSeq(strings.ReplaceAll(row["inscription"], "\n", " / "), " / ") {
			line = strings.Trim(line, " ,.")
			if m := company.FindStringSubmatch(line); m != nil {
				c.company = strings.ToUpper(m[1])
			}
			if m := regiment.FindStringSubmatch(line); m != nil && !year.MatchString(line) && c.surname != "" && c.regiment == "" {
				c.regiment = m[1]
			}
			if m := years.FindAllString(line, -1); m != nil {
				c.died = m[len(m)-1]
			}
			if c.surname == "" && line != "" && !notName.MatchString(line) {
				parts := strings.Fields(strings.TrimSuffix(strings.ToLower(line), " jr"))
				c.surname, c.given = key(parts[len(parts)-1], parts[0])
			}
		}
		claims[row["id"]] = c
	}
	for _, row := range surveytest.Rows(t, dir, "register.csv") {
		var c claim
		c.surname, c.given = key(row["surname"], row["given"])
		c.company, c.died = row["company"], year.FindString(row["died"])
		if m := regiment.FindStringSubmatch(row["regiment"]); m != nil {
			c.regiment = m[1]
		}
		claims[row["id"]] = c
	}
	found := map[string]string{}
	for id, c := range claims {
		if c.surname == "" || c.given == "" {
			continue
		}
		books := map[byte][]string{}
		for _, r := range by[c.surname] {
			if r.given == "" {
				continue
			}
			short := len(r.given) == 1 || len(c.given) == 1
			if short && r.given[0] != c.given[0] || !short && r.given != c.given || differ(c.regiment, r.regiment) || differ(c.company, r.company) || differ(c.died, r.died) {
				continue
			}
			if strict && (c.regiment == "" || c.regiment != r.regiment) && (c.died == "" || c.died != r.died) {
				continue
			}
			books[r.id[0]] = append(books[r.id[0]], r.id)
		}
		for _, book := range []byte("MFHWN") {
			if len(books[book]) == 1 {
				found[id] = books[book][0]
				break
			}
		}
	}
	return found
}

// TestPlainJoin: a survey is neither so easy that a plain join settles it, nor so worn that it finds few.
func TestPlainJoin(t *testing.T) {
	for _, tt := range []struct {
		of string
		haven.Options
		strict, loose [2]float64 // precision and recall
	}{
		{"clean", haven.Options{Seed: 5, Records: 20000, Stones: 3000}, [2]float64{.97, .61}, [2]float64{.88, .69}},
		{"messy", haven.Options{Seed: 5, Records: 20000, Stones: 3000, Messy: true}, [2]float64{.97, .52}, [2]float64{.88, .61}},
		{"large", haven.Options{Seed: 5, Records: 200000, Stones: 3000}, [2]float64{.95, .6}, [2]float64{.76, .66}},
	} {
		dir := t.TempDir()
		if err := haven.Make(dir, tt.Options); err != nil {
			t.Fatal(err)
		}
		truth, known := map[[2]string]bool{}, map[string]bool{}
		for _, row := range surveytest.Rows(t, dir, "truth.csv") {
			truth[[2]string{row["stone"], row["record"]}], known[row["stone"]] = true, true
		}
		for strict, want := range map[bool][2]float64{true: tt.strict, false: tt.loose} {
			found, right := joins(t, dir, strict), 0
			for stone, record := range found {
				if truth[[2]string{stone, record}] {
					right++
				}
			}
			precision, recall := float64(right)/float64(len(found)), float64(right)/float64(len(known))
			t.Logf("%s, strict %v: precision %.3f, recall %.3f; %d of %d found", tt.of, strict, precision, recall, right, len(known))
			if math.Abs(precision-want[0]) > .04 || math.Abs(recall-want[1]) > .06 {
				t.Errorf("%s, strict %v: precision %.3f, recall %.3f; want about %.2f and %.2f", tt.of, strict, precision, recall, want[0], want[1])
			}
		}
	}
}
