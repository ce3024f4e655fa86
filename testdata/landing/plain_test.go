package landing_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"musterstone/testdata/landing"
	"musterstone/testdata/surveytest"
)

// TestPlain joins stones and records as a volunteer with a spreadsheet would: one man of the stone's surname and given name, and of its regiment and company where it
// tells them, who was old enough for his war; nobody where there are two. Surveys that this finds as easy as child's play, or hopeless, are not those of an honest county.
func TestPlain(t *testing.T) {
	for _, tt := range []struct {
		name              string
		records           int
		messy             bool
		precision, recall [2]float64 // between
	}{
		{"clean", 20000, false, [2]float64{.80, .985}, [2]float64{.50, .75}},
		{"messy", 20000, true, [2]float64{.80, .985}, [2]float64{.38, .65}},
	} {
		right, joined, known := 0, 0, 0
		for seed := range uint64(2) {
			dir := t.TempDir()
			if err := landing.Make(dir, landing.Options{Seed: seed + 11, Records: tt.records, Stones: 1000, Messy: tt.messy}); err != nil {
				t.Fatal(err)
			}
			r, j, k := plain(t, dir)
			right, joined, known = right+r, joined+j, known+k
		}
		p, r := float64(right)/float64(joined), float64(right)/float64(known)
		t.Logf("%s: precision %.3f, recall %.3f, of %d stones whose man is listed", tt.name, p, r, known)
		if p < tt.precision[0] || p > tt.precision[1] || r < tt.recall[0] || r > tt.recall[1] {
			t.Errorf("%s: precision %.3f, recall %.3f; want %v and %v", tt.name, p, r, tt.precision, tt.recall)
		}
	}
}

func BenchmarkPlain(b *testing.B) {
	for _, tt := range []struct {
		records int
		messy   bool
	}{{20000, false}, {20000, true}, {200000, false}} {
		b.Run(fmt.Sprintf("records=%d,messy=%v", tt.records, tt.messy), func(b *testing.B) {
			for b.Loop() {
				right, joined, known := 0, 0, 0
				for seed := range uint64(6) {
					dir := b.TempDir()
					if err := landing.Make(dir, landing.Options{Seed: seed + 11, Records: tt.records, Stones: 1000, Messy: tt.messy}); err != nil {
						b.Fatal(err)
					}
					r, j, k := plain(b, dir)
					right, joined, known = right+r, joined+j, known+k
				}
				b.ReportMetric(float64(right)/float64(joined), "precision")
				b.ReportMetric(float64(right)/float64(known), "recall")
				b.ReportMetric(float64(known)/6, "known")
			}
		})
	}
}

// person is what the volunteer has of a man: of a stone or a record.
type person struct {
	id, surname, given, middle, company, number string
	born, died, war                             int
}

// plain gives how many stones are joined to their man, how many are joined, and how many have a man to be joined to.
func plain(t testing.TB, dir string) (right, joined, known int) {
	truth := map[string][]string{}
	for _, row := range surveytest.Rows(t, dir, "truth.csv") {
		truth[row["stone"]] = append(truth[row["stone"]], row["record"])
	}
	var books []map[string][]person // by surname and given name
	for _, book := range []string{"roster-roll.csv", "roster-index.csv", "roster-later.csv", "roster-enrollment.csv"} {
		of := map[string][]person{}
		for _, row := range surveytest.Rows(t, dir, book) {
			p := person{id: row["id"], surname: row["surname"], company: row["company"], number: row["regiment"], war: 1861}
			given := row["given"]
			if name := row["name"]; name != "" {
				p.surname, given, _ = strings.Cut(name, ", ")
			}
			if unit := row["unit"]; unit != "" {
				p.company, p.number = unitOf(strings.ToUpper(unit))
			}
			if c := row["conflict"]; c == "World War I" {
				p.war = 1917
			} else if c != "" {
				p.war = 1898
			}
			p.surname = strings.ToUpper(p.surname)
			p.given, p.middle = forename(strings.ToUpper(given))
			of[p.surname+","+p.given] = append(of[p.surname+","+p.given], p)
		}
		books = append(books, of)
	}
	try := func(s person) {
		if len(truth[s.id]) > 0 {
			known++
		}
		if len(s.given) < 2 || strings.Contains(s.surname+s.given, "[") {
			return
		}
		var found []string
		for _, of := range books {
			n := 0
			for _, r := range of[s.surname+","+s.given] {
				if s.middle != "" && r.middle != "" && s.middle[0] != r.middle[0] || s.number != "" && s.number != r.number || s.company != "" && r.company != "" && s.company != r.company || s.born > 0 && (s.born > r.war-14 || s.born < r.war-50) || s.died > 0 && s.died < r.war {
					continue
				}
				found = append(found, r.id)
				n++
			}
			if n > 1 {
				return
			}
		}
		if len(found) == 0 {
			return
		}
		joined++
		if slices.Contains(truth[s.id], found[0]) {
			right++
		}
	}
	for _, row := range surveytest.Rows(t, dir, "stones.csv") {
		try(reading(row["id"], row["inscription"]))
	}
	for _, row := range surveytest.Rows(t, dir, "register.csv") {
		s := person{id: row["id"], surname: strings.ToUpper(row["surname"]), company: row["company"], number: row["regiment"]}
		s.given, s.middle = forename(strings.ToUpper(row["given"]))
		if died := regexp.MustCompile(`\d{4}`).FindString(row["died"]); died != "" && row["age"] != "" {
			y, _ := strconv.Atoi(died)
			age, _ := strconv.Atoi(row["age"])
			s.died, s.born = y, y-age
		}
		try(s)
	}
	return right, joined, known
}

var (
	company = regexp.MustCompile(`\bCO\.? ([A-M])\b`)
	number  = regexp.MustCompile(`\b(\d{1,3})(?:ST|D|RD|ND|TH)? (?:REGT\.? )?(?:BTRY\.? |INF|FA|U\.? S|IND|O\b|OHIO|KY|ILL|PA|PENNA|N\.? Y|W\.? VA|TENN|MO|MICH|VA|GA|BATT)`)
	year    = regexp.MustCompile(`\b1[789]\d\d\b`)
	aged    = regexp.MustCompile(`AGED (\d+)`)
	rank    = regexp.MustCompile(`^(CORPL?|SERGT?|1(ST)? SERGT|PVT|PRIV|MUSN?|WAGR?|(1|1ST|2|2ND)? ?LIEUT|CAPT|LANDS|LDS|SEA|ORD\.? SEA|COAL HVR|1 CL\.? FIRE|BOY|INDIANA|HIER RUHT)\.?$`)
	title   = regexp.MustCompile(`^(CAPT|DR|REV)\.? `)
	others  = regexp.MustCompile(`\b(WIFE OF|DAU\.? OF|CHILD OF|INFANT|DARLING)`)
	full    = map[string]string{"WM": "WILLIAM", "JNO": "JOHN", "JAS": "JAMES", "GEO": "GEORGE", "CHAS": "CHARLES", "THOS": "THOMAS", "JOS": "JOSEPH", "SAML": "SAMUEL", "ROBT": "ROBERT", "BENJ": "BENJAMIN", "DANL": "DANIEL", "ANDW": "ANDREW", "ALEX": "ALEXANDER", "FREDK": "FREDERICK", "MICHL": "MICHAEL", "PATK": "PATRICK", "EDWD": "EDWARD", "RICHD": "RICHARD", "HY": "HENRY", "ALBT": "ALBERT", "PHIL": "PHILIP"}
)

func unitOf(s string) (co, no string) {
	if m := company.FindStringSubmatch(s); m != nil {
		co = m[1]
	}
	if m := number.FindStringSubmatch(s); m != nil {
		no = m[1]
	}
	return co, no
}

// forename parts a given name from the middle one.
func forename(s string) (given, middle string) {
	s, _, _ = strings.Cut(s, ",")
	f := strings.Fields(strings.ReplaceAll(s, ".", " "))
	if len(f) == 0 {
		return "", ""
	}
	if len(f) > 1 {
		middle = f[1]
	}
	if g := full[f[0]]; g != "" {
		return g, middle
	}
	return f[0], middle
}

// reading is how the volunteer takes a stone's words.
func reading(id, inscription string) person {
	text := strings.ToUpper(strings.ReplaceAll(inscription, "\u0323", ""))
	p := person{id: id}
	p.company, p.number = unitOf(text)
	if y := year.FindAllString(text, -1); len(y) > 0 {
		p.died, _ = strconv.Atoi(y[len(y)-1])
		if a := aged.FindStringSubmatch(text); a != nil {
			n, _ := strconv.Atoi(a[1])
			p.born = p.died - n
		} else if len(y) > 1 {
			p.born, _ = strconv.Atoi(y[0])
		}
	}
	if others.MatchString(text) {
		return p
	}
	lines := strings.Split(text, " / ")
	for len(lines) > 1 && rank.MatchString(lines[0]) {
		lines = lines[1:]
	}
	name := title.ReplaceAllString(strings.TrimSuffix(strings.TrimSuffix(lines[0], "JR"), ", JR."), "")
	if len(lines) > 1 && !strings.Contains(name, " ") {
		if strings.ContainsAny(lines[1], "0123456789[") {
			return p
		}
		p.surname = name // of a family
		p.given, p.middle = forename(lines[1])
		return p
	}
	i := strings.LastIndex(name, " ")
	if i < 0 {
		return p
	}
	p.surname = strings.Trim(name[i+1:], ".,")
	p.given, p.middle = forename(name[:i])
	return p
}
