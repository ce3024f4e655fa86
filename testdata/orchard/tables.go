package orchard

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"unicode"
)

// surnamesCSV is the 2,400 commonest surnames of the census of 1990 (US Census Bureau, dist.all.last) and their shares in percent, without those that came
// with later immigration. What is missing to a hundred is made of parts.
//
//go:embed surnames.csv
var surnamesCSV string

// givenCSV counts given names of men written out in full: of the Civil War in the printed histories of six regiments (29th and 124th Ohio, 29th, 36th and 39th
// Massachusetts, 125th Illinois, of 1875 to 1914), of the First World War in the roster of the 42nd Division printed in 1917.
//
//go:embed given.csv
var givenCSV string

// formsCSV is how given names were shortened and what men were called: common practice, no source.
//
//go:embed forms.csv
var formsCSV string

// abroadCSV is what names from abroad became: common practice, no source.
//
//go:embed abroad.csv
var abroadCSV string

// unitsCSV is the highest number of regiments of infantry and cavalry, of batteries and of heavy artillery by state, rounded off from the list of units of
// the National Park Service as published by J. B. Arnold. Not all lower numbers were raised: nothing here depends on it.
//
//go:embed units.csv
var unitsCSV string

// statesCSV is how states are written on stones and in books, and how a state's adjutant general wrote its infantry and cavalry: common practice, no source.
//
//go:embed states.csv
var statesCSV string

// rows reads an embedded table without its header.
func rows(table string) [][]string {
	all, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("embedded table: %v", err)) // the tables are the package's own, and tested
	}
	return all[1:]
}

// dice is a seeded source of chance.
type dice struct{ *rand.Rand }

func newDice(seed, stream uint64) dice { return dice{rand.New(rand.NewPCG(seed, stream))} }

func (d dice) chance(p float64) bool       { return d.Float64() < p }
func (d dice) between(least, most int) int { return least + d.IntN(most-least+1) }
func (d dice) of(list ...string) string    { return list[d.IntN(len(list))] }

// one draws one of "a|b|c".
func (d dice) one(list string) string { return d.of(strings.Split(list, "|")...) }

// skewed draws below n, low numbers far more often.
func (d dice) skewed(n int) int { return int(float64(n) * math.Pow(d.Float64(), 2.2)) }

// weighted draws a place of a list of weights.
func (d dice) weighted(weights ...float64) int {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	at := d.Float64() * sum
	for i, w := range weights {
		if at -= w; at < 0 {
			return i
		}
	}
	return len(weights) - 1
}

// urn draws names by their frequency.
type urn struct {
	names []string
	upTo  []float64
}

func (u *urn) add(name string, weight float64) {
	if weight > 0 {
		u.names, u.upTo = append(u.names, name), append(u.upTo, u.total()+weight)
	}
}

func (u *urn) total() float64 {
	if len(u.upTo) == 0 {
		return 0
	}
	return u.upTo[len(u.upTo)-1]
}

func (u *urn) draw(d dice) string {
	at, lo, hi := d.Float64()*u.total(), 0, len(u.upTo)-1
	for lo < hi {
		if mid := (lo + hi) / 2; u.upTo[mid] > at {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return u.names[lo]
}

// number reads a figure of an embedded table.
func number(s string) float64 {
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(fmt.Sprintf("embedded table: %v", err))
	}
	return f
}

// title writes a surname of the census as a book does.
func title(s string) string {
	r := []rune(strings.ToLower(s))
	if len(r) == 0 {
		return s
	}
	r[0] = unicode.ToUpper(r[0])
	for i := 2; i < len(r); i++ {
		if i == 2 && len(r) > 4 && string(r[:2]) == "Mc" || r[i-1] == '\'' || r[i-1] == ' ' {
			r[i] = unicode.ToUpper(r[i])
		}
	}
	return string(r)
}

// form is how a given name is shortened and what a man of that name is called.
type form struct{ short, familiar string }

// state is how a state is written.
type state struct{ name, stone, book, foot, horse string }

// raised is the highest numbers of a state's regiments.
type raised struct {
	side, state                           string
	infantry, cavalry, batteries, heavies int
}

// tables are the embedded tables, read.
type tables struct {
	surnames, old, young urn // given names of the Civil War, of the First World War
	forms                map[string]form
	abroad, christened   [][3]string // surnames, given names: of what people, there, here
	states               map[string]state
	raised               []raised
}

func read() *tables {
	t := &tables{forms: map[string]form{}, states: map[string]state{}}
	for _, r := range rows(surnamesCSV) {
		t.surnames.add(title(r[0]), number(r[1]))
	}
	for _, r := range rows(givenCSV) {
		t.old.add(r[0], number(r[1]))
		t.young.add(r[0], number(r[2]))
	}
	for _, r := range rows(formsCSV) {
		t.forms[r[0]] = form{r[1], r[2]}
	}
	for _, r := range rows(abroadCSV) {
		if pair := [3]string{r[1], r[2], r[3]}; r[0] == "surname" {
			t.abroad = append(t.abroad, pair)
		} else {
			t.christened = append(t.christened, pair)
		}
	}
	for _, r := range rows(statesCSV) {
		foot, horse, _ := strings.Cut(r[4], "|")
		t.states[r[0]] = state{r[1], r[2], r[3], foot, horse}
	}
	for _, r := range rows(unitsCSV) {
		t.raised = append(t.raised, raised{r[0], r[1], int(number(r[2])), int(number(r[3])), int(number(r[4])), int(number(r[5]))})
	}
	return t
}

// The parts of surnames that no table gives, of towns and of ships.
var (
	heads   = strings.Fields("Alder Am Ash Bar Beck Ber Blen Bol Brad Bram Bran Bris Brock Bur Cal Car Chat Clay Clif Col Cor Crad Cran Cul Dan Dar Del Den Dor Dra Dun East Eck El Em Fal Farn Fen Fitch Flan Fors Gal Gar Gil Glad Glen Gor Gran Grim Had Hal Ham Har Haver Hen Her Hil Hol Hor Hun Ing Ken Ker Kil King Kin Lam Lan Lath Law Leb Lin Lock Lor Lud Mal Mar Mel Mer Mil Mor Nor Oak Or Os Par Pem Per Pick Pol Pren Quin Rad Ram Red Ren Rich Rock Rom Ros Rus Sal San Sel Shel Sher Sib Stan Stod Sut Tal Tam Thorn Til Tow Trim Tul Van Wad Wal War Wat Wes Whit Wil Win Wol Wood Wor Yar York")
	tails   = strings.Fields("berg bert bury by com croft dale den der die don dorf er ett ey field ford gan gate gert ham hart haw hurst ick ing ington kin kins land ler ley lin ling low man mann mer mond more ner nett ney over rell ridge rick rod sell ser sett shaw son stead ster stock strom tel ter ton tree ver ville vin wald wall way well wick win wood worth")
	celtic  = strings.Fields("Ad Ardle Ateer Auley Bride Cabe Call Cann Carthy Causland Clain Clelland Clure Connell Cord Cormick Coy Cready Crory Cue Cullough Curdy Dade Dermott Donald Donough Dowell Elroy Elwee Fadden Fall Garvey Gee Ginnis Glone Gowan Grath Guire Hale Hugh Innis Intosh Kee Kenna Kibben Kinley Knight Lain Lean Leod Mahon Manus Master Millan Murray Nabb Nally Namara Neal Neil Nulty Pherson Quaid Quillan Rae Shane Sherry Vay Whorter Williams")
	mothers = strings.Fields("Mary Sarah Elizabeth Margaret Anna Martha Nancy Catherine Jane Emma Ellen Eliza Hannah Susan Alice Rebecca Julia Minnie Ida Clara Lucinda Harriet Rachel Laura Bertha Florence Grace Lydia Amanda Bridget Ethel Maude Cora Mabel Hattie Lottie Pearl Ruth Phebe Caroline Augusta Wilhelmina Louisa Dorothy Helen Gladys")
	groves  = strings.Fields("Apple Birch Bent Cherry Clear Cold Deer Elder Fair Flint Fox Gravel Hazel Hickory Indian Long Maple Mill Old Otter Plum Quarry Raven Red Rock Round Salt Sand Stone Sugar Swan Turkey Walnut Willow Wolf")
	springs = strings.Fields("Bend Bluff Bridge Brook Church Corners Creek Crossing Falls Forge Fork Grove Hill Hollow Landing Mills Mound Point Prairie Ridge Run Springs Station Valley")
	ships   = strings.Fields("Harrow Minota Sabine-Bell Pawtuxet Alderney Corvina Tecona Halcyon Marmora Wachusa Ottara Vandalis Kittary Seneca-Lake Petrelle Iolas Tarquin Nahant-Bay Monocacy-Hill Arista")
)

// rare makes a surname that no table gives. There are some ten thousand, a few of them far commoner than others.
func rare(d dice) string {
	switch {
	case d.chance(.12):
		return d.of("Mc", "Mc", "Mc", "O'") + celtic[d.skewed(len(celtic))]
	case d.chance(.08):
		return heads[d.skewed(len(heads))] + d.of("a", "e", "o") + tails[d.skewed(len(tails))]
	}
	return heads[d.IntN(len(heads))] + tails[d.skewed(len(tails))]
}
