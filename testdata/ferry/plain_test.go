package ferry_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"musterstone/testdata/ferry"
	"musterstone/testdata/surveytest"
)

// TestPlain joins stones and records by a careful script of rules, as an able volunteer would write one: the surname letter for letter, the given name with the usual
// abbreviations written out, no middle letter, company or regiment against it, of age in the war; of several the one for whom more speaks, and nobody where two men of a
// book have as much. A survey on which this does very well or hopelessly is not like the burial grounds of a county.
func TestPlain(t *testing.T) {
	if testing.Short() {
		t.Skip("makes four surveys of 20,000 records")
	}
	for _, tt := range []struct {
		name              string
		messy             bool
		precision, recall [2]float64 // between
	}{
		{"clean", false, [2]float64{.82, .98}, [2]float64{.55, .72}},
		{"messy", true, [2]float64{.82, .98}, [2]float64{.44, .62}},
	} {
		right, joined, known := 0, 0, 0
		for seed := range uint64(2) {
			dir := t.TempDir()
			if err := ferry.Make(dir, ferry.Options{Seed: 11 + seed, Records: 20000, Stones: 1000, Messy: tt.messy}); err != nil {
				t.Fatal(err)
			}
			r, j, k := byRules(t, dir)
			right, joined, known = right+r, joined+j, known+k
		}
		p, r := float64(right)/float64(joined), float64(right)/float64(known)
		t.Logf("%s: precision %.3f, recall %.3f, of %d stones whose man is listed", tt.name, p, r, known)
		if p < tt.precision[0] || p > tt.precision[1] || r < tt.recall[0] || r > tt.recall[1] {
			t.Errorf("%s: precision %.3f, recall %.3f; want %v and %v", tt.name, p, r, tt.precision, tt.recall)
		}
	}
}

// someone is what the script makes of a stone or a record.
type someone struct {
	id, surname, given, middle, company, number string
	born, died, war                             int
}

var (
	wholeName = map[string]string{"WM": "WILLIAM", "JNO": "JOHN", "JAS": "JAMES", "GEO": "GEORGE", "CHAS": "CHARLES", "THOS": "THOMAS", "JOS": "JOSEPH", "SAML": "SAMUEL", "ROBT": "ROBERT", "BENJ": "BENJAMIN", "DANL": "DANIEL", "ANDW": "ANDREW", "ALEX": "ALEXANDER", "FREDK": "FREDERICK", "MICHL": "MICHAEL", "PATK": "PATRICK", "EDWD": "EDWARD", "RICHD": "RICHARD", "HY": "HENRY",
		"ALBT": "ALBERT", "PHIL": "PHILIP", "NATHL": "NATHANIEL", "JER": "JEREMIAH", "ABM": "ABRAHAM", "AUG": "AUGUSTUS", "HEINRICH": "HENRY", "WILHELM": "WILLIAM", "JOHANN": "JOHN", "FRIEDRICH": "FREDERICK", "CARL": "CHARLES", "THEODOR": "THEODORE", "ERNST": "ERNEST", "HERMANN": "HERMAN", "VALENTIN": "VALENTINE", "CHRISTOPH": "CHRISTOPHER", "CHRIS": "CHRISTOPHER", "WASH": "WASHINGTON", "BILL": "WILLIAM", "SAM": "SAMUEL", "BEN": "BENJAMIN", "TOM": "THOMAS", "JOE": "JOSEPH", "DAN": "DANIEL", "CHARLEY": "CHARLES", "FRED": "FREDERICK", "JIM": "JAMES", "BOB": "ROBERT", "MIKE": "MICHAEL"}
	companyOf  = regexp.MustCompile(`\b(?:CO|COMPANY|BTRY|BATTY|BATTERY|BATT)\.? ([A-M])\b`)
	pensionCo  = regexp.MustCompile(`^([A-M]) \d`)
	numberOf   = regexp.MustCompile(`\b(\d{1,3})(?:ST|D|ND|RD|TH)? (?:REGT\.? )?(?:MO|ILLS?|KANS?|IOWA|KY|TENN|ARK|OHIO|O|IND|WIS|TEX|VA|GA|S\.? C|MISS|N\.? C|PA|PENNA|N\.? Y|MINN|ALA|U\.? S|V\.? R|M\.? S|E\.? M|ENR|ENRD|ENROLLED|INFANTRY|CAVALRY|VETERAN|MISSOURI|ILLINOIS|KANSAS|KENTUCKY|TENNESSEE|ARKANSAS|INDIANA|WISCONSIN|TEXAS|VIRGINIA|GEORGIA|MISSISSIPPI|PENNSYLVANIA|NEW YORK|MINNESOTA|ALABAMA|CAV|INF)\b`)
	yearOf     = regexp.MustCompile(`\b1[789]\d\d\b`)
	agedOf     = regexp.MustCompile(`(?:AGED|AE\.?) (\d+)`)
	rankLine   = regexp.MustCompile(`^(?:\d+|UNKNOWN|MISSOURI|PVT|CORPL?|SERGT|SGT|1 SERGT|1ST SERGT|[12] LIEUT|1ST LIEUT|2ND LIEUT|CAPT|MUSN?|DRUMR|FIFER|BUG|BUGLER|TRUMP|WAGR?|FARR|BLKSM|SADLR|TEAMSTER|HOSP STEWD|HOSP STEWARD|SURG|ASST SURG|LANDS|LDS|SEA|ORD SEA|COL|MAJ|LT COL|CHAPL|ADJT)$`)
	notHis     = regexp.MustCompile(`\b(WIFE OF|CONSORT|DAU OF|SON OF|CHILD OF|INFANT)\b`)
	rankBefore = regexp.MustCompile(`^(PVT|CORPL?|SERGT|SGT|CAPT|[12] LIEUT|1ST SERGT) `)
)

func givenOf(s string) (given, middle string) {
	f := strings.Fields(strings.NewReplacer(".", " ", ",", " ", "JR", "").Replace(s))
	if len(f) == 0 {
		return "", ""
	}
	if len(f) > 1 {
		middle = f[1]
	}
	if w := wholeName[f[0]]; w != "" {
		return w, middle
	}
	return f[0], middle
}

func first(re *regexp.Regexp, s string) string {
	if m := re.FindStringSubmatch(s); m != nil {
		return m[1]
	}
	return ""
}

func someoneOf(row map[string]string) someone {
	cell := func(titles ...string) string {
		for _, t := range titles {
			if row[t] != "" {
				return strings.ToUpper(row[t])
			}
		}
		return ""
	}
	p := someone{id: row["id"], surname: cell("surname"), company: cell("company", "CO.", "Co."), number: first(regexp.MustCompile(`^(\d+)$`), cell("regiment")), war: 1861}
	given := cell("given")
	if name := cell("name", "Name", "NAME", "Soldier"); name != "" {
		p.surname, given, _ = strings.Cut(name, ", ")
	}
	p.given, p.middle = givenOf(given)
	unit := cell("unit", "Organization", "ORGANIZATION", "Regiment", "Service", "COMPANY AND REGIMENT")
	if p.number == "" {
		p.number = first(numberOf, unit)
	}
	if p.company == "" {
		p.company = first(companyOf, unit)
	}
	if p.company == "" {
		p.company = first(pensionCo, unit)
	}
	switch war := cell("conflict"); {
	case strings.HasPrefix(war, "REV"):
		p.war = 1778
	case strings.HasPrefix(war, "WAR OF 1812"):
		p.war = 1812
	case strings.HasPrefix(war, "MEX"):
		p.war = 1846
	case strings.HasPrefix(war, "SPAN"):
		p.war = 1898
	}
	return p
}

// byRules gives how many stones are joined to their man, how many are joined, and how many have a man to be joined to.
func byRules(t *testing.T, dir string) (right, joined, known int) {
	truth := map[string][]string{}
	for _, row := range surveytest.Rows(t, dir, "truth.csv") {
		truth[row["stone"]] = append(truth[row["stone"]], row["record"])
	}
	var books []map[string][]someone
	for _, name := range files {
		if !strings.HasPrefix(name, "roster") {
			continue
		}
		b := map[string][]someone{}
		for _, row := range surveytest.Rows(t, dir, name) {
			p := someoneOf(row)
			b[p.surname] = append(b[p.surname], p)
		}
		books = append(books, b)
	}
	try := func(s someone) {
		if len(truth[s.id]) > 0 {
			known++
		}
		if len(s.given) < 2 {
			return
		}
		best, found, alike := 0, "", false
		for _, b := range books {
			most, who, two := 0, "", false
			for _, r := range b[s.surname] {
				if s.middle != "" && r.middle != "" && s.middle[0] != r.middle[0] || s.company != "" && r.company != "" && s.company != r.company || s.number != "" && s.number != r.number || s.born > 0 && (s.born > r.war-14 || s.born < r.war-48) || s.died > 0 && s.died < r.war {
					continue
				}
				points := 1
				switch {
				case s.given == r.given:
					points += 3
				case s.number == "" || r.given == "" || s.given[0] != r.given[0] || len(r.given) > 1:
					continue
				}
				for _, same := range []bool{s.middle != "" && r.middle != "", s.company != "" && r.company != "", s.number != ""} {
					if same {
						points += 2
					}
				}
				if points > most {
					most, who, two = points, r.id, false
				} else if points == most {
					two = true
				}
			}
			if most > best {
				best, found, alike = most, who, two
			} else if most == best {
				alike = alike || two
			}
		}
		if found == "" || alike {
			return
		}
		joined++
		if slices.Contains(truth[s.id], found) {
			right++
		}
	}
	for _, row := range surveytest.Rows(t, dir, "stones.csv") {
		try(readPlainly(row["id"], row["inscription"]))
	}
	for _, name := range []string{"register-sexton.csv", "register-soldiers-lot.csv"} {
		for _, row := range surveytest.Rows(t, dir, name) {
			if strings.Contains(row["Name"], "Mrs.") {
				continue
			}
			s := someoneOf(row)
			s.died, _ = strconv.Atoi(yearOf.FindString(row["Interred"] + row["died"]))
			if age, err := strconv.Atoi(row["Age"] + row["age"]); err == nil && s.died > 0 {
				s.born = s.died - age
			}
			try(s)
		}
	}
	return right, joined, known
}

// readPlainly takes a stone's first line that is no rank for the name.
func readPlainly(id, words string) someone {
	text := strings.ToUpper(words)
	s := someone{id: id, company: first(companyOf, text), number: first(numberOf, text)}
	if notHis.MatchString(strings.ReplaceAll(text, ".", "")) {
		return s
	}
	for _, line := range strings.Split(text, " / ") {
		line = strings.TrimSpace(strings.NewReplacer(".", " ", ", JR", "").Replace(line))
		line = rankBefore.ReplaceAllString(strings.Join(strings.Fields(line), " "), "")
		if rankLine.MatchString(line) {
			continue
		}
		if f := strings.Fields(line); len(f) > 1 {
			s.surname = f[len(f)-1]
			s.given, s.middle = givenOf(strings.Join(f[:len(f)-1], " "))
		}
		break
	}
	if y := yearOf.FindAllString(text, -1); len(y) > 0 {
		s.died, _ = strconv.Atoi(y[len(y)-1])
		if age, err := strconv.Atoi(first(agedOf, text)); err == nil {
			s.born = s.died - age
		} else if len(y) > 1 {
			s.born, _ = strconv.Atoi(y[0])
			s.died, _ = strconv.Atoi(y[1])
		}
	}
	return s
}
