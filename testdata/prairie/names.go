package prairie

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

//go:embed names.csv
var nameTable string

// A bag holds names by how many bear them.
type bag struct {
	names []string
	upTo  []int
}

// bags reads the table: by pool and nation, and the pools of surnames of 1861 and 1917 again with all nations in one.
func bags() (map[string]*bag, error) {
	rows, err := csv.NewReader(strings.NewReader(nameTable)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("read names.csv: %w", err)
	}
	all := map[string]*bag{}
	for _, row := range rows[1:] {
		n, err := strconv.Atoi(row[2])
		if err != nil {
			return nil, fmt.Errorf("read names.csv: count %q of %s: %w", row[2], row[0], err)
		}
		for _, key := range slices.Compact([]string{row[0] + row[1], row[0]}) {
			b := all[key]
			if b == nil {
				b = &bag{}
				all[key] = b
			}
			for name := range strings.FieldsSeq(row[3]) {
				last := 0
				if len(b.upTo) > 0 {
					last = b.upTo[len(b.upTo)-1]
				}
				b.names, b.upTo = append(b.names, name), append(b.upTo, last+n)
			}
		}
	}
	return all, nil
}

func (m *maker) from(key string) string {
	b := m.bags[key]
	at, found := slices.BinarySearch(b.upTo, m.IntN(b.upTo[len(b.upTo)-1])+1)
	_ = found // the first that is reached, whether met or passed
	return b.names[at]
}

// surname draws one of a nation; those of a nation who came late are named as the old country did more often than those of the old lists.
func (m *maker) surname(nation string, late bool) string {
	switch nation {
	case "yankee":
		if late {
			return m.from("surname-1917yankee")
		}
		return m.from("surname-1861yankee")
	case "czech", "french":
		return m.from("surname-prairie" + nation)
	}
	if m.chance(map[string]float64{"german": .62, "irish": .5, "norse": .75}[nation]) {
		return m.from("surname-prairie" + nation)
	}
	if late {
		return m.from("surname-1917" + nation)
	}
	return m.from("surname-1861" + nation)
}

func (m *maker) given(nation string, born int) string {
	if nation != "yankee" && m.chance(map[string]float64{"german": .75, "irish": .85, "norse": .9, "czech": .95, "french": .9}[nation]-max(0, float64(born-1865)*.02)) {
		return m.from("given-prairie" + nation)
	}
	if born > 1868 {
		return m.from("given-1917")
	}
	return m.from("given-1861")
}

// name is a name as somebody writes it.
type name struct{ surname, given, middle, suffix string }

// full is the name as people say it.
func (n name) full() string { return join(n.given, n.middle, n.surname, n.suffix) }

// listed is the name as a book lists it.
func (n name) listed() string {
	if rest := join(n.given, n.middle, n.suffix); rest != "" {
		return n.surname + ", " + rest
	}
	return n.surname
}

func join(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " ")
}

// Contractions as clerks and carvers cut them: common practice, no source.
var short = map[string]string{"William": "Wm", "John": "Jno", "James": "Jas", "Charles": "Chas", "George": "Geo", "Thomas": "Thos", "Samuel": "Saml", "Joseph": "Jos", "Daniel": "Danl", "Robert": "Robt",
	"Benjamin": "Benj", "Andrew": "Andw", "Edward": "Edwd", "Frederick": "Fredk", "Henry": "Hy", "Michael": "Michl", "Patrick": "Patk", "Richard": "Richd", "Albert": "Albt", "Alexander": "Alex",
	"Jonathan": "Jona", "Nathaniel": "Nathl", "Theodore": "Theo", "Augustus": "Aug", "Abraham": "Abm", "Christopher": "Chris", "Franklin": "Frank", "Timothy": "Timy", "Cornelius": "Corns", "Jeremiah": "Jer",
	"Matthew": "Matt", "Solomon": "Sol", "Stephen": "Steph", "Nicholas": "Nich", "Archibald": "Archd", "Ebenezer": "Eben", "Philip": "Phil", "Josiah": "Jos", "David": "Davd", "Gilbert": "Gilbt"}

// What men are called at home and told a clerk or a neighbour: common practice, no source.
var called = map[string][]string{"William": {"Bill", "Will", "Willie"}, "John": {"Jack", "Johnny"}, "James": {"Jim"}, "Charles": {"Charley", "Charlie"}, "Thomas": {"Tom"}, "Samuel": {"Sam"}, "Joseph": {"Joe"},
	"Daniel": {"Dan"}, "Robert": {"Bob", "Rob"}, "Benjamin": {"Ben"}, "Edward": {"Ed", "Ned"}, "Frederick": {"Fred"}, "Henry": {"Harry", "Hank"}, "Michael": {"Mike"}, "Patrick": {"Pat"}, "Richard": {"Dick"},
	"Albert": {"Bert"}, "Alexander": {"Alec", "Sandy"}, "Theodore": {"Theo"}, "Francis": {"Frank"}, "Andrew": {"Andy"}, "David": {"Dave"}, "Lewis": {"Lew"}, "Nathaniel": {"Nat"}, "Abraham": {"Abe"},
	"Cornelius": {"Con", "Neil"}, "Jeremiah": {"Jerry"}, "Timothy": {"Tim"}, "Augustus": {"Gus"}, "August": {"Gus"}, "Christopher": {"Chris"}, "Christian": {"Chris"}, "Franklin": {"Frank"}, "Elijah": {"Lige"}, "Stephen": {"Steve"}}

// What became of given names in America: common practice, no source.
var american = map[string]string{"Johann": "John", "Heinrich": "Henry", "Wilhelm": "William", "Friedrich": "Frederick", "Karl": "Charles", "Georg": "George", "Jakob": "Jacob", "Ludwig": "Louis", "Philipp": "Philip", "Franz": "Frank",
	"Theodor": "Theodore", "Nicolaus": "Nicholas", "Andreas": "Andrew", "Matthias": "Matthew", "Joachim": "John", "Gottlieb": "George", "Christoph": "Christopher", "Claus": "Nicholas", "Hans": "John", "Johan": "John",
	"Lars": "Lewis", "Nels": "Nelson", "Niels": "Nels", "Anders": "Andrew", "Jens": "James", "Erik": "Erick", "Jorgen": "George", "Gustaf": "Gus", "Rasmus": "Robert", "Soren": "Samuel", "Swan": "Swain", "Knud": "Knute",
	"Josef": "Joseph", "Jan": "John", "Frantisek": "Frank", "Vaclav": "James", "Wenzel": "James", "Karel": "Charles", "Jakub": "Jacob", "Matej": "Matthew", "Tomas": "Thomas", "Vojtech": "Albert", "Stanislav": "Stanley", "Ludvik": "Louis",
	"Jean": "John", "Pierre": "Peter", "Antoine": "Anthony", "Francois": "Frank", "Henri": "Henry", "Moise": "Moses", "Florence": "Flurry", "Bernard": "Barney", "Bartholomew": "Bart"}

// What became of surnames: common practice, no source.
var becomes = map[string]string{"Schmidt": "Smith", "Schmitt": "Smith", "Mueller": "Miller", "Braun": "Brown", "Schwarz": "Black", "Schwartz": "Black", "Zimmermann": "Carpenter", "Koenig": "King", "Koch": "Cook", "Schneider": "Snyder", "Schaeffer": "Shafer",
	"Weiss": "White", "Jung": "Young", "Fischer": "Fisher", "Wolf": "Wolfe", "Klein": "Kline", "Schroeder": "Schrader", "Krueger": "Kruger", "Hoffmann": "Huffman", "Meyer": "Myers", "Maier": "Myer", "Becker": "Baker", "Bauer": "Bower",
	"Koehler": "Kaylor", "Fuchs": "Fox", "Stein": "Stone", "Vogel": "Fogle", "Schumacher": "Shoemaker", "Kraemer": "Cramer", "Haas": "Hass", "Pfeiffer": "Pifer", "Kuhn": "Coon", "Jaeger": "Yeager", "Roth": "Rhodes", "Lange": "Long", "Lang": "Long",
	"Neumann": "Newman", "Baumann": "Bowman", "Kaiser": "Keyser", "Moeller": "Miller", "Guenther": "Gunter", "Boehm": "Beam", "Ziegler": "Zigler", "Claussen": "Clawson", "Schuetz": "Sheets", "Busch": "Bush", "Hahn": "Hawn", "Eberhardt": "Everhart",
	"Olson": "Oleson", "Larson": "Lawson", "Hansen": "Hanson", "Jensen": "Johnson", "Nielsen": "Nelson", "Petersen": "Peterson", "Andersen": "Anderson", "Christensen": "Christianson", "Rasmussen": "Robinson", "Jorgensen": "Jorgenson", "Sjogren": "Shogren", "Kjeldgaard": "Kelgard",
	"Ostergaard": "Ostergard", "Lindquist": "Linquist", "Ekdahl": "Eckdall", "Novak": "Novack", "Svoboda": "Freeman", "Cerny": "Cherny", "Kucera": "Kuchera", "Kovar": "Smith", "Kral": "King", "Prochazka": "Prohaska", "Krejci": "Kraychee", "Vlcek": "Wolf", "Simek": "Shimek",
	"Ruzicka": "Rose", "Jelinek": "Yelinek", "Wisniewski": "Wisnesky", "Boucher": "Bushey", "Dubois": "Wood", "Beaudoin": "Boudwin", "Desjardins": "Gardner", "Lapointe": "Point", "Pelletier": "Pelkey", "Poirier": "Perry", "Gauthier": "Gokey", "Leclerc": "Clark", "Robidoux": "Rubidoux", "Thibault": "Tebo",
	"O'Brien": "Brien", "O'Connor": "Connor", "O'Neill": "Neill", "O'Connell": "Connell", "Reilly": "Riley", "Doherty": "Dougherty", "Byrne": "Burns", "Dunne": "Dunn", "McLaughlin": "McGloughlin", "Walsh": "Welch", "Kavanagh": "Cavanaugh"}

// sounds are what an ear puts for what was said, by the nation of who said it; from the second on, of everybody. By how such names are found in more than one form in the regimental rolls and lists of the
// package's comment (Schrader and Schroeder, Riley and Reilly, Oleson and Olson), put together from memory: no count.
var sounds = map[string][][2]string{
	"german": {{"sch", "sh"}, {"sch", "s"}, {"ei", "y"}, {"ei", "i"}, {"ei", "ie"}, {"eu", "oy"}, {"mann", "man"}, {"tz", "ts"}, {"tz", "s"}, {"w", "v"}, {"v", "f"}, {"oe", "a"}, {"oe", "o"}, {"oe", "e"}, {"ue", "u"}, {"ue", "ee"}, {"ae", "a"}, {"ae", "ai"},
		{"pf", "f"}, {"dt", "tt"}, {"ck", "k"}, {"k", "c"}, {"kr", "cr"}, {"z", "s"}, {"th", "t"}, {"b", "p"}, {"d", "t"}, {"g", "k"}, {"ie", "ee"}, {"au", "ow"}, {"ch", "gh"}, {"ch", "k"}, {"j", "y"}, {"hn", "n"}, {"ss", "s"}, {"ff", "f"}, {"rg", "rk"}, {"mey", "my"}, {"ai", "y"}},
	"irish":  {{"o'", ""}, {"mc", "mac"}, {"mcc", "mck"}, {"gh", "h"}, {"augh", "aff"}, {"ough", "o"}, {"ea", "a"}, {"ea", "e"}, {"ey", "y"}, {"y", "ey"}, {"ei", "i"}, {"ll", "l"}, {"nn", "n"}, {"c", "k"}, {"k", "c"}, {"ier", "er"}, {"sh", "ch"}, {"ls", "lch"}, {"ahe", "ea"}, {"rr", "r"}, {"onn", "unn"}, {"ie", "e"}, {"gan", "gin"}, {"lan", "len"}, {"gh", "g"}},
	"norse":  {{"sen", "son"}, {"son", "sen"}, {"ss", "s"}, {"j", "y"}, {"kj", "ch"}, {"aa", "o"}, {"aard", "ard"}, {"quist", "quest"}, {"strom", "strum"}, {"gren", "green"}, {"rs", "s"}, {"ol", "oll"}, {"k", "ck"}, {"ie", "ee"}, {"ve", "va"}, {"hal", "hol"}, {"un", "on"}, {"or", "ur"}, {"ard", "ord"}, {"dahl", "doll"}, {"v", "w"}, {"th", "t"}},
	"czech":  {{"c", "ch"}, {"c", "ts"}, {"cz", "ch"}, {"sz", "sh"}, {"j", "y"}, {"w", "v"}, {"v", "w"}, {"z", "s"}, {"ek", "eck"}, {"ak", "ack"}, {"ski", "sky"}, {"ova", "avy"}, {"ch", "h"}, {"ice", "ish"}, {"k", "c"}, {"s", "sh"}, {"y", "ey"}, {"hr", "gr"}},
	"french": {{"eau", "o"}, {"ou", "oo"}, {"oi", "wa"}, {"ier", "ey"}, {"lt", "lt"}, {"eau", "oo"}, {"th", "t"}, {"ais", "ay"}, {"ois", "oy"}, {"ch", "sh"}, {"b", "p"}, {"gn", "ny"}, {"au", "o"}, {"x", ""}, {"on", "o"}, {"in", "a"}},
	"yankee": {{"ph", "f"}, {"ey", "y"}, {"y", "ey"}, {"ai", "a"}, {"ay", "ey"}, {"ea", "ee"}, {"ee", "ea"}, {"ei", "i"}, {"ie", "ei"}, {"ks", "x"}, {"kn", "n"}, {"wr", "r"}, {"er", "ar"}, {"or", "er"}, {"ar", "er"}, {"on", "en"}, {"en", "in"}, {"an", "en"}, {"tt", "t"}, {"ll", "l"}, {"nn", "n"}, {"ss", "s"}, {"rr", "r"}, {"mm", "m"}, {"ck", "k"},
		{"c", "k"}, {"k", "c"}, {"i", "y"}, {"y", "i"}, {"ou", "o"}, {"ow", "ou"}, {"gh", ""}, {"wh", "w"}, {"ford", "ferd"}, {"ham", "um"}, {"s", "z"}, {"au", "o"}, {"oo", "u"}, {"d", "dd"}, {"g", "gg"}, {"l", "ll"}, {"t", "tt"}, {"n", "nn"}, {"dge", "ge"}, {"ew", "ue"}, {"al", "el"}, {"le", "el"}, {"igh", "i"}, {"ville", "vel"}},
}

// byEar writes a name as somebody hears it who does not know how it is written.
func (m *maker) byEar(s, nation string) string {
	if len(s) < 4 {
		return s
	}
	low := strings.ToLower(s)
	table := sounds[nation]
	if nation != "yankee" && m.chance(.3) {
		table = sounds["yankee"]
	}
	switch k := m.Float64(); {
	case k < .09 && !strings.HasSuffix(low, "s"):
		return s + "s"
	case k < .15 && strings.HasSuffix(low, "s") && !strings.HasSuffix(low, "ss"):
		return s[:len(s)-1]
	case k < .22 && !strings.HasSuffix(low, "e") && strings.ContainsAny(low[len(low)-1:], "kdnrl"):
		return s + "e"
	case k < .28 && strings.HasSuffix(low, "e"):
		return s[:len(s)-1]
	}
	for range 12 {
		r := table[m.IntN(len(table))]
		at := strings.Index(low, r[0])
		if at < 0 || r[0] == r[1] || at == 0 && r[1] == "" && r[0] != "o'" {
			continue
		}
		if last := strings.LastIndex(low, r[0]); last != at && m.chance(.5) {
			at = last
		}
		if out := low[:at] + r[1] + low[at+len(r[0]):]; len(out) >= 3 && !tripled(out) {
			return capital(out)
		}
	}
	return s
}

// tripled says whether a letter stands thrice running, which no clerk writes.
func tripled(s string) bool {
	for i := 2; i < len(s); i++ {
		if s[i] == s[i-1] && s[i] == s[i-2] {
			return true
		}
	}
	return false
}

// capital gives a name its capitals again.
func capital(low string) string {
	if len(low) > 4 && (strings.HasPrefix(low, "mc") || strings.HasPrefix(low, "o'")) {
		return strings.ToUpper(low[:1]) + low[1:2] + strings.ToUpper(low[2:3]) + low[3:]
	}
	if low == "" {
		return ""
	}
	return strings.ToUpper(low[:1]) + low[1:]
}

// capitals are taken for each other in the round hand of the rolls, minuscules likewise: common practice, no source.
var capitals = map[byte]string{'S': "LT", 'L': "S", 'T': "FS", 'F': "T", 'J': "IT", 'I': "J", 'H': "KN", 'K': "HR", 'R': "KB", 'P': "R", 'M': "WN", 'W': "MU", 'N': "HW", 'U': "W", 'D': "O", 'O': "D", 'C': "GE", 'G': "CY", 'E': "C", 'B': "RP", 'V': "N", 'Y': "G", 'Q': "G", 'A': "O", 'Z': "L"}
var strokes = [][2]string{{"n", "u"}, {"u", "n"}, {"m", "nn"}, {"nn", "m"}, {"in", "m"}, {"rn", "m"}, {"cl", "d"}, {"d", "cl"}, {"e", "c"}, {"c", "e"}, {"a", "o"}, {"o", "a"}, {"a", "u"}, {"ll", "tt"}, {"tt", "ll"}, {"t", "l"}, {"l", "t"}, {"r", "v"}, {"v", "r"}, {"ss", "fs"}, {"h", "k"}, {"k", "h"}, {"e", "i"}, {"i", "e"}, {"w", "m"}, {"er", "n"}, {"s", "r"}, {"r", "s"}, {"g", "y"}, {"y", "g"}, {"ri", "n"}, {"on", "ou"}, {"b", "l"}}

// misread copies a name from a hand that is hard to read.
func (m *maker) misread(s string) string {
	if len(s) < 3 {
		return s
	}
	if to := capitals[s[0]]; to != "" && m.chance(.3) && !strings.HasPrefix(s, "Mc") && !strings.HasPrefix(s, "O'") {
		return string(to[m.IntN(len(to))]) + s[1:]
	}
	for range 12 {
		r := strokes[m.IntN(len(strokes))]
		if at := strings.Index(s[1:], r[0]); at >= 0 {
			at++
			if out := s[:at] + r[1] + s[at+len(r[0]):]; !tripled(strings.ToLower(out)) {
				return out
			}
		}
	}
	return s
}

// typo is what a printer or typist does: a letter doubled, left out or changed with its neighbour.
func (m *maker) typo(s string) string {
	if len(s) < 4 {
		return s
	}
	at := 1 + m.IntN(len(s)-2)
	low := strings.ToLower(s)
	switch m.IntN(3) {
	case 0:
		return capital(low[:at] + low[at+1:])
	case 1:
		return capital(low[:at] + low[at+1:at+2] + low[at:at+1] + low[at+2:])
	}
	return capital(low[:at] + low[at:at+1] + low[at:])
}

func initial(s string) string {
	if s == "" {
		return ""
	}
	return s[:1] + "."
}
