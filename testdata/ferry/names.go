package ferry

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"
)

//go:embed names.csv
var namesTable string

// pools are the names that are drawn, by people.
type pools struct {
	surnames       map[string]*shares[string]
	givens         map[string]*shares[string]
	women, middles shares[string]
}

var namePools = sync.OnceValue(func() *pools {
	rows, err := csv.NewReader(strings.NewReader(namesTable)).ReadAll()
	if err != nil {
		panic(err) // the table is embedded
	}
	p := &pools{surnames: map[string]*shares[string]{}, givens: map[string]*shares[string]{}}
	for _, people := range []string{"upland", "german", "irish", "freed"} {
		p.surnames[people], p.givens[people] = &shares[string]{}, &shares[string]{}
	}
	for _, r := range rows[1:] {
		n, _ := strconv.ParseFloat(r[2], 64)
		if r[0] == "surname" {
			p.surnames["upland"].add(r[1], n)
		} else {
			p.givens["upland"].add(r[1], n)
			if n < 60 {
				p.middles.add(r[1], n)
			}
		}
	}
	list := func(s *shares[string], words string) {
		for i, w := range strings.Fields(words) {
			s.add(w, 1/(float64(i)+4)) // as the common ones of a list thin out
		}
	}
	list(p.surnames["german"], "Meyer Schmidt Mueller Schneider Becker Wagner Hoffmann Schulte Koch Brandt Kramer Vogel Lange Krueger Hartmann Weber Klein Ruppert Stock Bauer Zimmermann Kuhn Winkler Horn Busch Franke Schaefer Kessler Ebert Heitmann Pohlmann Oetting Struckhoff Gerling Holtgrewe Ahrens Dierker Kleinschmidt Hesse Poeschel Fricke Wehmeyer Grote Lohmann Rohlfing Tiemann Bohn Englert")
	list(p.givens["german"], "Heinrich Wilhelm Johann Friedrich August Henry William John Carl Charles Jacob Hermann George Louis Christian Peter Joseph Philip Adam Conrad Ernst Gustav Theodor Casper Anton Michael Ferdinand Rudolph Valentin Gottlieb Bernard Christoph")
	list(p.surnames["irish"], "Murphy Kelly Sullivan Ryan O'Brien Burke Walsh Doyle Kennedy Lynch Murray McCarthy Daly Byrne Flynn Dunn Quinn Moran Carroll Hogan Riley O'Connor Casey Brennan Collins Welch Fitzgerald Kane Nolan Shea Foley McMahon Tierney Gorman Maloney Dwyer Keefe Hanley Cullen Scanlan")
	list(p.givens["irish"], "John Patrick Michael James Thomas William Daniel Timothy Dennis Edward Martin Peter Jeremiah Cornelius Hugh Bernard Bartholomew Maurice Richard Terence Philip")
	list(p.surnames["freed"], "Johnson Williams Smith Brown Jackson Washington Jones Davis Harris Robinson Clark White Green Taylor Thomas Moore Scott Lewis Carter Anderson Turner Miller Wilson Walker Hill Allen Young Martin Bell Coleman Bradley Price Woods Gibson Ross Henderson Grant Cooper Parker Freeman Payne Berry Crawford Banks Tolson Diggs Buckner Estill Gentry Broadus Hockaday Tandy Marmaduke Burruss Shackelford Ewing Bibb Ficklin")
	list(p.givens["freed"], "Henry George John William James Charles Thomas Peter Moses Isaac Robert Samuel Lewis Alexander Jackson Jacob Andrew Edward Daniel Nelson Washington Anthony Anderson Stephen Benjamin Simon Green Jordan Albert Wesley Frank Joseph Granville Willis Abraham Dennis Squire Prince Aaron Reuben Martin Jerry Major Harrison Cato Jefferson Burrell York Spencer")
	list(&p.women, "Mary Sarah Elizabeth Martha Nancy Margaret Susan Catherine Jane Ann Eliza Emily Julia Harriet Ellen Lucinda Amanda Rebecca Rachel Lydia Louisa Caroline Malinda Permelia Emma Alice Sophia Hannah Minerva Frances Anna Mildred Ida Cora Wilhelmina Bridget")
	return p
})

// surname draws a surname. The rest, which no list has, are put together; they look like one another, as a country's names do.
func (d dice) surname(people string) string {
	p := namePools()
	switch people {
	case "upland":
		if d.is(.3) {
			return of(d, "Ab", "Al", "Ash", "Bar", "Bled", "Brax", "Bur", "Cal", "Chil", "Clay", "Cren", "Crut", "Dab", "Dun", "Ever", "Fal", "Gar", "Glas", "Had", "Hal", "Har", "Hatch", "Hol", "Hunt", "Kil", "Lang", "Led", "Lin", "Mal", "Mar", "Mead", "Nor", "Over", "Pen", "Pem", "Pres", "Quarl", "Rad", "Ran", "Red", "Rock", "Shel", "Som", "Stan", "Swin", "Tal", "Thorn", "Til", "Trim", "Ty", "Wal", "War", "Whit", "Wil", "Win", "Wood", "Yar") +
				of(d, "ber", "bert", "borough", "bourne", "bridge", "brook", "bury", "by", "cott", "den", "dron", "er", "ett", "ey", "field", "ford", "gate", "ham", "hart", "head", "hurst", "ington", "ins", "kins", "land", "ley", "lin", "lock", "low", "man", "mer", "mon", "more", "ner", "ridge", "rop", "sett", "son", "stead", "ston", "ter", "thorpe", "ton", "ville", "ward", "way", "well", "wick", "win", "wood", "worth")
		}
	case "german":
		if d.is(.4) {
			return of(d, "Acker", "Alt", "Berg", "Birk", "Blum", "Bock", "Brink", "Buch", "Dett", "Eber", "Eich", "Feld", "Frei", "Gott", "Hage", "Heide", "Hell", "Hein", "Kamp", "Kirch", "Kloster", "Lind", "Mohr", "Nieder", "Ober", "Otten", "Reiter", "Rosen", "Sand", "Schoen", "Stein", "Stroh", "Tegel", "Uhl", "Vogel", "Wester", "Wieg", "Wolf") +
				of(d, "bach", "baum", "berger", "brock", "dorf", "feld", "haus", "heim", "hoff", "horst", "kamp", "kotter", "mann", "meier", "meyer", "mueller", "ing", "reich", "schmidt", "stein", "thal", "wald", "werth")
		}
	case "irish":
		if d.is(.25) {
			return of(d, "Mc", "Mc", "O'") + of(d, "Bride", "Cabe", "Cann", "Clure", "Coy", "Dermott", "Donald", "Dowell", "Elroy", "Fadden", "Gee", "Gill", "Govern", "Grath", "Guire", "Hugh", "Intyre", "Kay", "Kenna", "Laughlin", "Manus", "Namara", "Neil", "Quaid", "Rourke", "Sherry", "Toole", "Vey")
		}
	case "freed":
		if d.is(.18) {
			return d.surname("upland") // of a family that held them, or any
		}
	}
	return p.surnames[people].draw(d)
}

// given draws a given name and, often, a middle one.
func (d dice) given(people string) (given, middle string) {
	p := namePools()
	given = p.givens[people].draw(d)
	if d.is(map[string]float64{"upland": .56, "german": .12, "irish": .15, "freed": .09}[people]) {
		for middle = p.middles.draw(d); middle == given; {
			middle = p.middles.draw(d)
		}
		if people == "upland" && d.is(.07) {
			given, middle = of(d, "George Washington", "Thomas Jefferson", "Andrew Jackson", "Benjamin Franklin", "Francis Marion", "William Henry", "John Wesley"), ""
			given, middle, _ = strings.Cut(given, " ")
		}
	}
	return given, middle
}

var cut = map[string]string{"William": "Wm.", "John": "Jno.", "James": "Jas.", "George": "Geo.", "Charles": "Chas.", "Thomas": "Thos.", "Joseph": "Jos.", "Samuel": "Saml.", "Robert": "Robt.", "Benjamin": "Benj.", "Daniel": "Danl.", "Andrew": "Andw.", "Alexander": "Alex.",
	"Frederick": "Fredk.", "Michael": "Michl.", "Patrick": "Patk.", "Edward": "Edwd.", "Richard": "Richd.", "Henry": "Hy.", "Albert": "Albt.", "Philip": "Phil.", "Nathaniel": "Nathl.", "Jeremiah": "Jer.", "Abraham": "Abm.", "Washington": "Wash.", "Augustus": "Aug.", "Christopher": "Chris.", "Matthew": "Matt."}

var pet = map[string]string{"William": "Bill", "Francis": "Frank", "Franklin": "Frank", "Benjamin": "Ben", "Samuel": "Sam", "Daniel": "Dan", "Thomas": "Tom", "Joseph": "Joe", "Charles": "Charley", "Alexander": "Alex", "Frederick": "Fred", "Edward": "Ed", "Lewis": "Lew", "Andrew": "Andy",
	"Robert": "Bob", "Michael": "Mike", "Washington": "Wash", "Abraham": "Abe", "Jefferson": "Jeff", "Henry": "Harry", "James": "Jim", "Jackson": "Jack", "Richard": "Dick", "Nathaniel": "Nat", "Augustus": "Gus", "Elizabeth": "Lizzie", "Margaret": "Maggie", "Martha": "Mattie", "Sarah": "Sallie", "Nancy": "Nannie", "Mary": "Mollie"}

// english is what a clerk makes of a German's given name.
var english = map[string]string{"Heinrich": "Henry", "Wilhelm": "William", "Johann": "John", "Friedrich": "Frederick", "Carl": "Charles", "Theodor": "Theodore", "Hermann": "Herman", "Valentin": "Valentine", "Ernst": "Ernest", "Christoph": "Christopher", "Gustav": "Gustave"}

// sounds are what a clerk may put for what another puts.
var sounds = [][2]string{{"ey", "y"}, {"ie", "y"}, {"ee", "ea"}, {"ck", "k"}, {"ph", "f"}, {"ei", "i"}, {"au", "o"}, {"ll", "l"}, {"tt", "t"}, {"nn", "n"}, {"ss", "s"}, {"rr", "r"}, {"mm", "m"}, {"ff", "f"}, {"gh", ""}, {"er", "ar"}, {"or", "er"}, {"on", "en"}, {"an", "en"}, {"in", "en"}, {"ea", "e"},
	{"ai", "a"}, {"ou", "ow"}, {"oo", "u"}, {"sch", "sh"}, {"mann", "man"}, {"ue", "u"}, {"oe", "o"}, {"ae", "a"}, {"dt", "t"}, {"th", "t"}, {"meyer", "myer"}, {"meyer", "meier"}, {"tz", "ts"}, {"wick", "ick"}, {"son", "ton"}, {"ham", "um"}, {"bourne", "burn"}, {"borough", "bery"}, {"worth", "wroth"}, {"ch", "k"}, {"qu", "k"}, {"x", "cks"}, {"c", "k"}, {"y", "i"}, {"z", "s"}, {"u", "o"}, {"e", "i"}, {"d", "t"}, {"v", "f"}}

// byEar spells a name as another hears it.
func (d dice) byEar(name string) string {
	for range 12 {
		if d.is(.18) {
			switch end := name[len(name)-1]; {
			case end == 's' && len(name) > 4:
				return name[:len(name)-1]
			case end == 'e':
				return name[:len(name)-1]
			case end == 'y':
				return name + "s"
			case strings.IndexByte("dlnrt", end) >= 0:
				return name + of(d, "e", "s", name[len(name)-1:])
			}
		}
		s := of(d, sounds...)
		from, to := s[0], s[1]
		if d.is(.5) && to != "" {
			from, to = to, from
		}
		if i := strings.Index(name[1:], from); i >= 0 {
			return name[:1+i] + to + name[1+i+len(from):]
		}
	}
	switch {
	case strings.HasPrefix(name, "Mc"):
		return "Mac" + strings.ToLower(name[2:3]) + name[3:]
	case strings.HasPrefix(name, "O'"):
		return name[2:]
	}
	return name
}

// scripts are letters that a copyist takes for one another in a clerk's hand.
var scripts = [][2]string{{"n", "u"}, {"a", "o"}, {"e", "c"}, {"l", "t"}, {"r", "v"}, {"m", "w"}, {"h", "k"}, {"i", "e"}, {"s", "r"}, {"T", "F"}, {"L", "S"}, {"I", "J"}, {"H", "K"}, {"K", "R"}, {"B", "R"}, {"P", "R"}, {"C", "E"}, {"M", "N"}, {"G", "S"}, {"W", "M"}, {"nn", "m"}, {"ll", "tt"}, {"rn", "m"}, {"li", "h"}, {"u", "a"}, {"o", "e"}, {"y", "g"}}

// miscopied takes a letter for another.
func (d dice) miscopied(name string) string {
	for range 20 {
		s := of(d, scripts...)
		from, to := s[0], s[1]
		if d.is(.5) {
			from, to = to, from
		}
		if at := strings.Index(name, from); at >= 0 {
			return name[:at] + to + name[at+len(from):]
		}
	}
	return name
}
