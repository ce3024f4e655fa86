// Package junction makes surveys with known truth of a fourth kind: the burial grounds of a railway junction on the plains, whose dead came from everywhere. The state
// where a man lies says next to nothing of the state he served for. It was written whole before the program was run on it, for a figure of linking that is blind.
//
// What it does that is its own. Regiments are mustered whole, a hundred men to a company, so that a unit names a hundred men and not one. A company comes from one town and
// often from one people: in a company of Norwegians five men may be called Ole Olson. Surnames and given names are skewed as they were on real rosters; the rare ones are made by a chain of letters
// learned from the common ones, and so look like them. Four books of rosters have other columns and other gaps: adjutants' rolls, regimental histories (some regiments stand in both, each
// written by its own clerk), index cards of colored troops, Confederates and ships, which know no ages and no dates, and rolls of the later wars. Foreign names are spelled by
// ear, or put into English; print misreads script. Most stones are those of civilians, among them wives who are named with a soldier and sons of a soldier's name. Weather takes
// single letters of most stones, and whole corners of a few. What is lost is lost from names, figures and dates alike.
//
// Where the shares come from. "Six regiments" are 6,456 men in regimental histories of 1875 to 1914 (Project Gutenberg 65589, 52223, 50687, 50422, 51250, 52399), counted; public domain.
//
//	surnames and given names borne by three and four men or more   six regiments, with their counts (names.csv)
//	rare surnames .45, middle names .51, initials for a given name .03, abbreviated .03 on rosters   six regiments
//	ages given at enlisting, heaped at 18, 21 and 44; men of one surname in a company .23; transferred, here some for another term, .08; discharged before the end .24; died .15   six regiments
//	ranks at the end: corporal .085, sergeant .055, officers .025   six regiments, rounded
//	company missing .055 and regiment .026 where a name has a unit   12,413 graves of Andersonville, Ransom 1881 (Project Gutenberg 71609)
//	initials alone .10 on cards   that list has .755, which is one prison's habit; invented
//	middle names .68 of 1917   24,599 men of the 42nd Division, book of 1917
//	dates missing .02   4,971 federal burials, export of the Department of Veterans Affairs, 2015 and 2017
//	largest numbers of regiments, and how many units a state sent   W. F. Fox, Regimental Losses, 1898, counted
//	Confederate, later and colored regiments' numbers   common knowledge, from memory
//	old and new names of colored regiments   Dyer 1908 and the Official Army Register, from memory
//	a record's surname stands on the stone letter for letter, weather and all: .87 (messy .78), counted on what is made   .98 in one book, .73 between two lists of Andersonville's dead
//	a stone of a man on the rosters gives no unit: .22, counted on what is made   invented
//	everything else, and all persons, towns and grounds   invented
//
// It shares no code with the program's reading or weighing, nor with the other makers: what it writes is text, as clerks, carvers and volunteers would.
package junction

import (
	_ "embed"
	"encoding/csv"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"musterstone/testdata/table"
)

// Options say what to make.
type Options struct {
	Seed    uint64
	Records int // rows of all rosters together
	Stones  int // stones and rows of the register together
	Messy   bool
}

type maker struct {
	*rand.Rand
	messy bool
	peoples
	sent, ages bag
	used       map[string]bool // regiments that stand on a roster, by their name
	listed     []*company      // companies of the war of 1861 that stand on a roster
	men        []*man          // the men on the rosters
	missed     []*man          // men of those companies whom the rosters lack
	rows       []*row
	buried     []*man // the veterans who lie here, in the order in which they came
}

// Make writes roster-adjutant.csv, roster-histories.csv, roster-cards.csv, roster-later.csv, stones.csv, register.csv and truth.csv into a folder that is there.
func Make(dir string, opt Options) error {
	m := &maker{Rand: rand.New(rand.NewPCG(opt.Seed, 0x1867)), messy: opt.Messy, used: map[string]bool{}}
	if err := m.settle(); err != nil {
		return err
	}
	m.muster(opt.Records)
	stones, register, truth := m.graves(opt.Stones)
	books := m.books()
	for name, rows := range map[string][][]string{"roster-adjutant.csv": books[adjutant], "roster-histories.csv": books[history], "roster-cards.csv": books[cards], "roster-later.csv": books[later],
		"stones.csv": stones, "register.csv": register, "truth.csv": truth} {
		if err := table.Write(filepath.Join(dir, name), rows); err != nil {
			return err
		}
	}
	return nil
}

// chance is true at a rate.
func (m *maker) chance(p float64) bool { return m.Float64() < p }

// of is chance at one of two rates, the second for a messy survey.
func (m *maker) of(clean, messy float64) bool {
	if m.messy {
		return m.chance(messy)
	}
	return m.chance(clean)
}

// any is one of several words.
func (m *maker) any(words ...string) string { return words[m.IntN(len(words))] }

// bag holds words to draw from, each with its weight.
type bag struct {
	words []string
	upto  []float64
}

// add puts a word into the bag.
func (b *bag) add(word string, weight float64) {
	total := weight
	if n := len(b.upto); n > 0 {
		total += b.upto[n-1]
	}
	b.words, b.upto = append(b.words, word), append(b.upto, total)
}

// at draws a place in the bag.
func (b *bag) at(m *maker) int {
	i, _ := slices.BinarySearch(b.upto, m.Float64()*b.upto[len(b.upto)-1])
	return i
}

// draw draws a word.
func (b *bag) draw(m *maker) string { return b.words[b.at(m)] }

// ranked gives the n-th word the weight 1/(n+1), or less than that where flat is higher.
func ranked(words string, flat float64) *bag {
	b := &bag{}
	for i, w := range strings.Fields(words) {
		b.add(w, 1/(float64(i)+flat))
	}
	return b
}

// people is a people from among whom a company may come.
type people struct {
	surnames, givens *bag
	rare             *bag // drawn rather than surnames, .45 of the time; nil for none
	middle           float64
	misspelled       float64           // by a clerk who has it by ear
	ear              [][2]string       // how he hears it
	english          *strings.Replacer // what it is put into; nil for nothing
}

type peoples struct{ settled, german, irish, norse, freed *people }

//go:embed names.csv
var names string

// settle makes the peoples, and the other bags to draw from.
func (m *maker) settle() error {
	for _, s := range sent {
		m.sent.add(s.state, s.units)
	}
	for i, share := range said {
		m.ages.add(strconv.Itoa(15+i), share)
	}
	counted, err := csv.NewReader(strings.NewReader(names)).ReadAll()
	if err != nil {
		return err
	}
	surnames, givens := &bag{}, &bag{}
	for _, r := range counted[1:] {
		n, err := strconv.Atoi(r[2])
		if err != nil {
			return err
		}
		if name := strings.Replace(r[1], "Mc", "Mc ", 1); r[0] == "given" {
			givens.add(r[1], float64(n))
		} else if strings.HasPrefix(name, "Mc ") {
			surnames.add("Mc"+strings.ToUpper(name[3:4])+name[4:], float64(n))
		} else {
			surnames.add(name, float64(n))
		}
	}
	ear := append(english, general...)
	m.settled = &people{surnames: surnames, givens: givens, rare: m.rare(surnames.words), middle: .75, misspelled: .07, ear: ear}
	freed := &bag{}
	before := 0.
	for i, w := range surnames.words {
		freed.add(w, surnames.upto[i]-before)
		before = surnames.upto[i]
	}
	for _, w := range strings.Fields("Washington Freeman Johnson Jackson Jones Brown Green Williams Robinson Banks") {
		freed.add(w, 30)
	}
	m.freed = &people{surnames: freed, givens: givens, middle: .12, misspelled: .14, ear: ear}
	m.german = &people{surnames: ranked(germans, 4), givens: ranked("John/Johann Henry/Heinrich William/Wilhelm Charles/Karl Frederick/Friedrich George/Georg Jacob/Jakob Peter Joseph/Josef Christian August Louis/Ludwig Philip/Philipp Michael Adam Herman/Hermann Nicholas/Nikolaus Conrad/Konrad Anton Otto Ernest/Ernst Gottlieb Bernard/Bernhard Casper/Kaspar", 3),
		middle: .3, misspelled: .16, ear: append([][2]string{{"Sch", "Sh"}, {"Sch", "S"}, {"sch", "sh"}, {"tz", "ts"}, {"tz", "tts"}, {"ei", "y"}, {"ei", "i"}, {"ie", "ee"}, {"ue", "ee"}, {"ue", "u"}, {"oe", "a"}, {"ae", "a"}, {"mann", "man"}, {"W", "V"}, {"V", "F"}, {"Pf", "F"},
			{"ck", "k"}, {"B", "P"}, {"D", "T"}, {"K", "C"}, {"er", "ar"}, {"berger", "burger"}, {"bach", "baugh"}, {"hardt", "hart"}, {"Kr", "Cr"}, {"J", "Y"}, {"ff", "f"}}, general...),
		english: strings.NewReplacer("Schmidt", "Smith", "Mueller", "Miller", "Koch", "Cook", "Zimmermann", "Carpenter", "Braun", "Brown", "Schneider", "Snyder", "Klein", "Kline", "Schwarz", "Black", "Weiss", "White", "Koenig", "King", "Fuchs", "Fox", "Jung", "Young", "Bauer", "Bower")}
	m.irish = &people{surnames: ranked(irishmen, 5), givens: ranked("John Patrick James Michael Thomas William Daniel Edward Timothy Peter Dennis Hugh Martin Cornelius Jeremiah Bernard Owen Matthew Francis Maurice Bartholomew Lawrence Philip Stephen Robert", 2),
		middle: .2, misspelled: .15, ear: append([][2]string{{"O'", ""}, {"Mc", "Mac"}, {"Mc", ""}, {"gh", ""}, {"gh", "h"}, {"ea", "a"}, {"ei", "e"}, {"ey", "y"}, {"ia", "a"}, {"nn", "n"}, {"Ke", "Ka"}, {"Do", "Da"}, {"ll", "l"}, {"ue", "u"}, {"Ca", "Co"}, {"i", "e"}}, general...)}
	m.norse = &people{surnames: ranked("Olson Johnson Larson Peterson Anderson Nelson Hanson Knudson Erickson Halvorson Thompson Gunderson Evenson Amundson Iverson Jacobson Christianson Tollefson Torgerson Swenson Syverson Ellingson Rasmussen Sorenson Guttormson", 1.5),
		givens: ranked("Ole John/Johan Lars Peter/Peder Andrew/Anders Nels/Nils Knud Hans Christian Erick/Erik Halvor Thomas/Tommas Gunder Even Iver Jacob Tollef Torger Swen/Sven Andrew Syver Ellef Rasmus Soren Charles/Karl", 1.5),
		middle: .06, misspelled: .2, ear: append([][2]string{{"son", "sen"}, {"son", "en"}, {"son", "s"}, {"Kn", "N"}, {"ck", "k"}, {"Th", "T"}, {"Tor", "Thor"}, {"Ol", "Ole"}, {"Sw", "Sv"}, {"Ha", "Ho"}, {"Jo", "Yo"}, {"dson", "tson"}, {"Even", "Evan"}, {"Iv", "Ev"}}, general...)}
	return nil
}

const germans = "Schmidt Mueller Meyer Schneider Wagner Weber Becker Schaefer Koch Bauer Richter Klein Wolf Schroeder Neumann Schwarz Zimmermann Braun Krueger Hofmann Hartmann Lange Werner Krause Lehmann Schulze Koenig Walter Huber Kaiser Fuchs Peters Scholz Moeller Weiss Jung Hahn Vogel Keller Guenther Frank Berger Winkler Roth Beck Lorenz Baumann Franke Albrecht Schuster Ludwig Boehm Winter Kraus Schumacher Kraemer Vogt Stein Jaeger Otto Sommer Gross Seidel Heinrich Brandt Haas Schreiber Graf Dietrich Ziegler Kuhn Pohl Engel Horn Busch Bergmann Voigt Sauer Arnold Pfeiffer Ebersbach Reinhardt Tietjen Heidemann Uhlenbrock Niebuhr Wehmeier Dannenberg"
const irishmen = "Murphy Kelly O'Sullivan Walsh Smith O'Brien Byrne Ryan O'Connor O'Neill O'Reilly Doyle McCarthy Gallagher Doherty Kennedy Lynch Murray Quinn Moore McLaughlin O'Carroll Connolly Daly O'Connell Wilson Dunne Brennan Burke Collins Campbell Clarke Johnston Hughes O'Farrell Fitzgerald Brown Martin Maguire Nolan Flynn Thompson O'Callaghan O'Donnell Duffy O'Mahony Boyle Healy O'Shea White Sweeney Hayes Kavanagh Power McGrath Moran Brady Stewart Casey Foley Fitzpatrick O'Leary McDonnell MacMahon Donnelly Regan Donovan Burns Flanagan Mullan Barry Kane Robinson Cunningham Griffin Kenny Sheehan Ward Whelan Lyons Reid Graham Higgins Cullen Keane King Maher McKenna Bell Scott Hogan O'Keeffe Magee McNamara McDonald McDermott Moloney O'Rourke Buckley Dwyer Geraghty Mulvihill Tierney Shaughnessy"

var english = [][2]string{{"ph", "f"}, {"ey", "y"}, {"ay", "ey"}, {"ai", "ay"}, {"ea", "ee"}, {"ee", "ea"}, {"er", "or"}, {"or", "er"}, {"ton", "ten"}, {"ford", "fort"}, {"ley", "ly"}, {"Wh", "W"}, {"Wr", "R"}, {"Cl", "Kl"}, {"C", "K"}, {"ick", "ix"}, {"ow", "ou"}, {"au", "a"}, {"igh", "y"}, {"th", "t"}, {"dg", "g"}, {"man", "mon"}, {"son", "ston"}, {"ston", "son"}, {"i", "y"}}
var general = [][2]string{{"ll", "l"}, {"tt", "t"}, {"nn", "n"}, {"rr", "r"}, {"ss", "s"}, {"l", "ll"}, {"t", "tt"}, {"e", "a"}, {"a", "e"}, {"o", "a"}, {"er", "ar"}, {"u", "o"}, {"i", "e"}, {"d", "t"}, {"$", "s"}, {"$", "e"}, {"s$", ""}, {"e$", ""}, {"ck", "k"}, {"n$", "nd"}}

// rare makes surnames that look like those given, by a chain of letters: each is drawn as it follows the two before it there.
func (m *maker) rare(like []string) *bag {
	next := map[string][]byte{}
	for _, w := range like {
		w = "^^" + strings.ToLower(w) + "$"
		for i := 2; i < len(w); i++ {
			next[w[i-2:i]] = append(next[w[i-2:i]], w[i])
		}
	}
	b, seen := &bag{}, map[string]bool{}
	for _, w := range like {
		seen[strings.ToLower(w)] = true
	}
	for range 200000 {
		w := "^^"
		for len(w) < 14 && w[len(w)-1] != '$' {
			after := next[w[len(w)-2:]]
			w += string(after[m.IntN(len(after))])
		}
		if w = strings.Trim(w, "^$"); len(w) > 3 && len(w) < 12 && !seen[w] && len(b.words) < 24000 {
			seen[w] = true
			b.add(strings.ToUpper(w[:1])+w[1:], math.Pow(float64(len(b.words)+200), -.9))
		}
	}
	return b
}

// surname draws a surname, a rare one .45 of the time.
func (f *people) surname(m *maker) string {
	if f.rare != nil && m.chance(.45) {
		return f.rare.draw(m)
	}
	return f.surnames.draw(m)
}

// heard is a surname as one writes it who has it by ear.
func (m *maker) heard(s string, f *people) string {
	for range 20 {
		e := f.ear[m.IntN(len(f.ear))]
		from, end := strings.CutSuffix(e[0], "$")
		at := strings.LastIndex(s, from)
		if at < 0 || end && at+len(from) != len(s) || len(s)+len(e[1])-len(from) < 3 {
			continue
		}
		if out := s[:at] + e[1] + s[at+len(from):]; out != s {
			return strings.ToUpper(out[:1]) + out[1:]
		}
	}
	return s
}

// script are letters that a printer takes for others in a clerk's hand; common practice, no source.
var script = strings.NewReplacer("n", "u", "u", "n", "a", "o", "o", "a", "e", "c", "c", "e", "i", "e", "r", "v", "v", "r", "l", "t", "t", "l", "m", "w", "w", "m", "h", "k", "k", "h", "L", "S", "S", "L", "I", "J", "J", "I", "H", "K", "K", "H", "T", "F", "F", "T")

// written is a surname as it stands on a roster: heard by a clerk, and now and then misread in print.
func (m *maker) written(s string, f *people) string {
	rate := f.misspelled
	if m.messy {
		rate *= 1.6
	}
	if m.chance(rate) {
		if f.english != nil && m.chance(.3) {
			s = f.english.Replace(s)
		} else if s = m.heard(s, f); m.chance(.15) {
			s = m.heard(s, f)
		}
	}
	if m.of(.02, .05) {
		if i := m.IntN(len(s)); m.chance(.8) || i > 0 {
			s = s[:i] + script.Replace(s[i:i+1]) + s[i+1:]
		}
	}
	return s
}
