package landing

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"sort"
	"strconv"
	"strings"
)

//go:embed names.csv
var counted string

// bag holds words, each drawn as often as its whole-numbered weight says.
type bag struct {
	words []string
	upto  []int
}

func (b *bag) add(word string, weight int) {
	if n := len(b.upto); n > 0 {
		weight += b.upto[n-1]
	}
	b.words, b.upto = append(b.words, word), append(b.upto, weight)
}

func (b *bag) draw(m *maker) string {
	return b.words[sort.SearchInts(b.upto, 1+m.IntN(b.upto[len(b.upto)-1]))]
}

// falling weighs words by their rank, the n-th as 1/(n+c).
func falling(words []string, c int) *bag {
	b := &bag{}
	for i, w := range words {
		b.add(w, max(1, 10_000_000/(i+c)))
	}
	return b
}

// folk is a people, with its names and how others hear them.
type folk struct {
	common, rare *bag
	often        int // percent of households whose surname is a common one
	given        *bag
	middle       float64
	ear          [][2]string // a spelling and another of like sound; ^ is the beginning of a name, $ the end
	misheard     float64
}

func (f *folk) surname(m *maker) string {
	if f.rare == nil || m.IntN(100) < f.often {
		return f.common.draw(m)
	}
	return f.rare.draw(m)
}

// name peoples the world with names.
func (m *maker) name() error {
	rows, err := csv.NewReader(strings.NewReader(counted)).ReadAll()
	if err != nil {
		return err
	}
	surnames := &bag{}
	m.givens, m.later = &bag{}, &bag{}
	for _, r := range rows[1:] {
		n, err := strconv.Atoi(r[2])
		if err != nil {
			return err
		}
		map[string]*bag{"surname": surnames, "given": m.givens, "later": m.later}[r[0]].add(r[1], n)
	}
	english := append(pairs("^C K ^K C ^Wr R ^Kn N ^Ph F ^Wh W ^G J ^Cl Kl ^Sc Sk ea ee ee ea ea e ai ay ai a ow ou ou o oo u ck k gh h dg g tch ch x cks er or or er ar er th t ph f ay ai igh y ley ly ley lay ford fort ton ten ton tin ham um man mon wood ward bury berry field fields worth with son ston well wel"), like...)
	m.settled = &folk{common: surnames, rare: falling(m.mix(englishNames(m)), 160), often: 52, given: m.givens, middle: .72, ear: english, misheard: .05}
	m.freed = &folk{common: surnames, rare: falling(strings.Fields("Washington Freeman Jefferson Johnson Jackson Banks Brown Green Williams Robinson Jones Harris Lewis Bibb Clay"), 6), often: 62, given: m.givens, middle: .1, ear: english, misheard: .11}
	m.german = &folk{common: falling(strings.Fields("Mueller Schmidt Meyer Weber Schneider Becker Wagner Hoffmann Schulz Koch Bauer Klein Schroeder Wolf Neumann Schwarz Zimmermann Krueger Braun Hartmann Werner Lange Krause Lehmann Kaiser Huber Keller Vogel Fuchs Roth Frank Beck Jung Hahn Winter Kuhn Stein Engel Haas Bender Ritter Ziegler Scherer Metz"), 6),
		rare: falling(m.mix(germanNames()), 60), often: 30, given: falling(strings.Fields("John Henry William Frederick George Charles Jacob Joseph Peter Philip Adam Michael Christian Herman August Frank Anthony Louis Bernard Casper Nicholas Valentine Conrad Andrew Martin Matthias Gottlieb Theodore Sebastian Ernst Lorenz Ferdinand Simon Leonard Rudolph"), 4), middle: .34, misheard: .12,
		ear: append(pairs("^Sch Sh ^Sch S ^Pf F ^V F ^W V ^J Y ^Z S ^K C ^B P ^D T ^G K ^Kr Cr ^Kl Cl sch sh sch ch tz ts tz s ei i ei y ie ee ue ee ue u oe a oe e ae a eu oi au ow ck k dt t th t ff f berg burg berger burger bach baugh bach back mann man meier myer meyer mire meyer myers dorf dorff heim hime stein stine er ar ner nor thal dale feld field"), like...)}
	m.irish = &folk{common: falling(strings.Fields("Murphy Kelly Sullivan Walsh O'Brien Ryan Byrne O'Connor O'Neill Doyle McCarthy Gallagher Kennedy Lynch Murray Quinn McLaughlin Carroll Connolly Daly Connell Dunne Brennan Burke Collins Fitzgerald Nolan Flynn Callahan Donnell Duffy Mahoney Boyle Healy Shea Sweeney Hayes Kavanagh Power McGrath Moran Brady Casey Foley Fitzpatrick Leary McDonnell McMahon Donnelly Regan Donovan Flanagan Barry Kane Cunningham Griffin Sheehan Whelan Hogan Keefe McNamara McDermott Tierney Dwyer Meagher Cassidy Rafferty Hanrahan Costello"), 9), rare: falling(m.mix(irishNames()), 60), often: 55,
		given: falling(strings.Fields("John Patrick Michael James Thomas William Daniel Timothy Edward Dennis Peter Martin Hugh Jeremiah Cornelius Matthew Bernard Francis Lawrence Maurice Owen Andrew Bartholomew Philip Stephen Richard"), 2), middle: .2, misheard: .1,
		ear: append(pairs("^O' ^ ^Mc Mac ^Mc M ^C K ^K C ^Ka Ca ^Ke Ca gh g gh h agh a ea a ea ay ei e ey y ia a ue u oy oi aly ailey onn on onn ohn all el ogh o nn n ughl aughl ann an ahan igan igan agan erty arty onel onnel"), like...)}
	return nil
}

// pairs reads a list of spellings, each followed by its like; "^" alone is nothing.
func pairs(list string) (out [][2]string) {
	f := strings.Fields(list)
	for i := 0; i < len(f); i += 2 {
		out = append(out, [2]string{f[i], strings.Trim(f[i+1], "^")})
	}
	return out
}

// like are spellings that sound alike in any tongue.
var like = pairs("ll l l ll tt t t tt nn n n nn rr r ss s s ss mm m pp p e a e i i e a o o a u o y i i y d t$ s$ ^ $ s e$ ^ $ e y$ ey ey$ y y$ ie s z z s n$ nd nd$ n le$ el el$ le er$ ar c k ks x")

// heard is a name as one writes it who has it by ear.
func (m *maker) heard(s string, f *folk) string {
	for range 30 {
		e := f.ear[m.IntN(len(f.ear))]
		from, to := e[0], e[1]
		var at int
		switch {
		case from[0] == '^':
			from = from[1:]
			if !strings.HasPrefix(s, from) {
				continue
			}
		case strings.HasSuffix(from, "$"):
			from = strings.TrimSuffix(from, "$")
			if !strings.HasSuffix(s, from) {
				continue
			}
			at = len(s) - len(from)
		default:
			if at = strings.LastIndex(s, from); at < 1 {
				continue
			}
		}
		to = strings.TrimSuffix(to, "$")
		out := s[:at] + to + s[at+len(from):]
		if len(out) < 3 || out == s || out[0] == '\'' {
			continue
		}
		return strings.ToUpper(out[:1]) + out[1:]
	}
	return s
}

// hands are letters that look alike in a clerk's writing; common practice, no source.
var hands = pairs("n u u n a o o a e c c e i e r n s r l t t l m w h k rr n v r y g g y L S S L T F F T I J J I H K B R P R M W C G Q G U V")

// copied is a name as one writes it who has it from another's writing.
func (m *maker) copied(s string) string {
	for range 30 {
		e := hands[m.IntN(len(hands))]
		if at := strings.LastIndex(s, e[0]); at >= 0 && (at > 0 || e[0] < "a") {
			return s[:at] + e[1] + s[at+len(e[0]):]
		}
	}
	return s
}

// mix puts words into an order of this survey's own.
func (m *maker) mix(words []string) []string {
	slices.Sort(words)
	words = slices.Compact(words)
	m.Shuffle(len(words), func(i, j int) { words[i], words[j] = words[j], words[i] })
	return words
}

// englishNames makes surnames from places, and others from sounds.
func englishNames(m *maker) (out []string) {
	for _, a := range strings.Fields("Ash Bar Beck Black Brad Bram Bur Car Chad Clay Cop Cran Dal Dun East Ed El Ever Fair Farn Gar Glad Gran Hal Ham Har Hart Haw Hazel Hol Hunt Kel Kirk Lang Law Led Lin Mar Mel Mil Nor Oak Pem Pen Pres Rad Red Rock Rush Sel Shel Stan Stock Sut Thorn Thur Wal Ward Wen West Whit Wil Win Wood Wor Yar") {
		for _, b := range strings.Fields("bert bourne bridge brook burn bury by combe cott croft den dale ell field ford gate ham hurst ington ker land lake ley low man mer more ridge shaw sey son stead ston ton wall way well wick worth") {
			if len(a)+len(b) < 12 && !strings.HasSuffix(strings.ToLower(a), b) {
				out = append(out, a+b)
			}
		}
	}
	on := strings.Fields("B B Bl Br C C Cl Cr D D Dr F F Fl G Gr H H J K L L M M N P P Pr R R S S Sh Sl Sp St St Str T T Th Tr V W W")
	mid := strings.Fields("a a a e e i i o o u u ea")
	end := strings.Fields("ck gg ll mm nd ng nk pp rk rn rt sh st tt v z n r t ld rl rd lt mp b d l m")
	last := strings.Fields("er er er s ley ley ey y ins ett el on in aw ow ing by sley man")
	for range 20000 {
		e, l := m.any(end...), m.any(last...)
		if len(e) == 2 && e[0] == e[1] && !strings.ContainsRune("aeioy", rune(l[0])) {
			e = e[:1]
		}
		out = append(out, m.any(on...)+m.any(mid...)+e+l)
	}
	return out
}

func germanNames() (out []string) {
	for _, a := range strings.Fields("Acker Alten Bach Berg Brand Breit Buch Diet Dorn Eber Eich Eisen Engel Erden Feld Fink Frei Gold Grun Haber Hage Hart Heid Herz Hirsch Hohen Holz Kalt Kessel Kirch Korn Kron Lands Leit Licht Linden Loh Mohr Muhl Nagel Neu Nieder Ober Oster Reich Rosen Rothen Sand Schaum Schell Schoen Schwarz Seel Silber Stahl Stein Stroh Sturm Tiefen Uhl Vogel Wald Weid Weiss Wester Winkel Ziegen") {
		for _, b := range strings.Fields("bach berg berger burg dorf eck feld felder haus hausen heim hof hofer hold horn kamp ler lein mann meier meyer mueller ner schmidt staedt stein thal wald wirth") {
			if len(a)+len(b) < 13 && strings.ToLower(a) != b && a[len(a)-1] != b[0] {
				out = append(out, a+b)
			}
		}
	}
	return out
}

func irishNames() (out []string) {
	for _, a := range strings.Fields("Bran Cal Car Cor Cul Der Don Dool Fal Far Fin Gar Gil Hal Han Hen Kel Kin Lar Mal Mul Nor Rat Reg Rior Shan Tag Tul") {
		for _, b := range strings.Fields("an dan fee gan garty hill igan lan ligan naghan nelly ney rey rigan van vey") {
			for _, p := range []string{"", "", "O'", "Mc"} {
				out = append(out, p+a+b)
			}
		}
	}
	return out
}
