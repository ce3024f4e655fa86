// Package haven makes surveys with known truth of a sixth kind: a state's home for old soldiers on the Lakes, its burial ground, and the city's cemetery beside it. Most of the stones are
// the government's, of men who came from many states and several wars and died far from their kin; in the city lie its citizens, some of whom served. It was written whole before the
// program's linking was run on it, for a figure that is blind; only the reading of its tables was tried, and how the Home's register calls three wars and a roll its nurses was mended.
//
// What it does that is its own. A man has a life: he is born to a household, may go to one war or more, falls or outlives it by a law of mortality, and some of those left when the Home opens in
// 1887 are admitted, of whom most die there. Each time a book takes him down he is told, copied and printed anew, by that book's clerk. Who cannot write his name is spelled by ear each time, seven times
// as often wrongly as who can; sounds are put for each other by a table. The Home's clerk hears a man decades after his service: companies are forgotten, numbers mixed up, ranks bettered, ages rounded.
// Companies are what a state's towns raise in a year until they are full, by their numbers about as far on as the war is; brothers share one because they left one house, or went together. A second
// service, the Reserve Corps, the regulars or a name assumed give a man rows that do not look like one man's. The government's stones are cut by six contractors, each with his years, his abbreviations and his way of
// breaking lines, from an order that copies the Home's register, the muster rolls or the family's letter, with the order's own errors; patterns, widths and words follow the year. Rare surnames are put together
// from heads and tails by nation (Dutch, Cornish, Canadian, Norse, German, Irish, Yankee), and so have many near neighbours. Lichen covers discs of a stone across its lines; letters in relief go one by one,
// units flake whole, the foot sinks, the head breaks. Six volunteers write down what is left, each in his way.
//
// Who the rosters lack. Of each who served it is drawn once, whatever his war, whether any book knows him: .885. A man who is known keeps each of his rows but the last at .92. So men, wars and names of those who
// lack are as those of the listed, and their brothers stand in the books.
//
// What is true. A stone's records are all rows of the man whose grave or memorial it is: the grave, a family's stone with his name, a stone for one who fell, a second stone. A wife's or a child's own stone has none,
// though it names him, and neither have citizens, staff, the unknown, and men whom the rosters lack.
//
// A messy survey has the same rosters: more weather, thrice the volunteers' slips, more units worn.
//
// Where the shares come from. "Six regiments" are 6,456 men in regimental histories of 1875 to 1914 (Project Gutenberg 65589, 52223, 50687, 50422, 51250, 52399); "Andersonville" is 12,413 graves, Ransom 1881
// (Project Gutenberg 71609); both counted, public domain.
//
//	surnames of 1861 borne by five men or more, with their counts (names.csv)   six regiments and Andersonville together, of whose men they are .49; here .57 of Yankees, less of others (invented)
//	given names of 1861 borne by four men or more, with their counts   six regiments, and the men of 1861-65 among 4,971 federal burials (Department of Veterans Affairs, export of 2015 and 2017)
//	surnames and given names of 1898 and 1917, with their counts   24,599 men of the 42nd Division, book of 1917, borne by eight and by fifteen or more
//	middle names .48 on the roll   six regiments and federal burials have .51
//	ages given, .14 of them eighteen   six regiments .145
//	died in service .16   six regiments .163; discharged or transferred before the end .21   six regiments .25 and .08
//	corporals .11, sergeants .08, first sergeants .013, musicians .02, captains .013, lieutenants .022   six regiments, of those whose rank is given
//	men of one surname in a company .20 (200,000 records: .24)   six regiments .23
//	company missing .06, regiment missing .026 in the index   Andersonville .055 and .026
//	a given name as an initial .02 to .06 by book   federal burials .032; Andersonville's .75 is one prison's habit
//	how many units a state sent, and so how many of its men the index has, and numbers up to it   W. F. Fox, Regimental Losses, 1898, counted; of the South, colored troops, regulars, 1898 and 1917 from memory
//	no rank for privates, shields 10 inches wide and 12 from 1903, recessed shields not before 1896 for sure, pointed tops, the general pattern and what it says, blocks for the unknown   V. A. and its historians, and the letter of 1873
//	errors of the order (initials changed about .02, company .022, number .018, letters .012, state .008)   their kinds are common practice, no source; rates invented
//	abbreviations   a list of contractions and common practice; months have 28 days here
//	two books of one man, the Home's and a service's, differ in the surname .09, counted on what is made   .02 within one regiment's book, .27 between two lists of Andersonville's dead; so between
//	a stone has a listed man's surname letter for letter as one of his records has it, weather and all, .91 (messy .85), counted on what is made   invented
//	a listed man's stone tells of no unit .15 (messy .22), counted on what is made; wars of the dead; nations; what the Home asked; kin; mortality (Gompertz, hazard at sixty .02); everything else, and all persons, towns and ships   invented
//
// It shares no code with the program's reading or weighing, nor with the other makers: what it writes is text, as clerks, carvers and volunteers would. That a place or a ship has the name of a real one is chance;
// battlefields and prisons are real.
package haven

import (
	"math/rand/v2"
	"path/filepath"

	"musterstone/testdata/table"
)

// Options say what to make.
type Options struct {
	Seed    uint64
	Records int // rows of all rosters together
	Stones  int // stones and rows of the sexton's register together
	Messy   bool
}

type maker struct {
	*rand.Rand
	messy   bool
	bags    map[string]*bag
	towns   []string // of other states
	places  int      // where companies are raised in each of them
	raising map[string]*company
	raised  map[string]bool
	served  []*man // all soldiers, sailors and nurses
	civil   []*man // their kin in the state who did not serve
	books   [bookCount][]*row
	count   [bookCount]int
	rows    int
}

// Make writes the rosters of the state, the federal index, the navy, the other wars and the Home, stones.csv, register.csv and truth.csv into a folder that is there.
func Make(dir string, opt Options) error {
	all, err := bags()
	if err != nil {
		return err
	}
	m := &maker{Rand: rand.New(rand.NewPCG(opt.Seed, 0x50f7)), messy: opt.Messy, bags: all, raising: map[string]*company{}, raised: map[string]bool{}}
	inmates := min(max(opt.Records*6/100, opt.Stones*55/100), opt.Records*3/10)
	m.populate(opt.Records - inmates)
	m.admit(opt.Records)
	tables := map[string][][]string{}
	for book := range bookCount {
		tables[bookNames[book]] = m.bind(book)
	}
	m.Rand = rand.New(rand.NewPCG(opt.Seed, 0xc37e)) // what is made of the grounds does not move the rosters
	tables["stones.csv"], tables["register.csv"], tables["truth.csv"] = m.walk(opt.Stones)
	for name, rows := range tables {
		if err := table.Write(filepath.Join(dir, name), rows); err != nil {
			return err
		}
	}
	return nil
}

// chance is true at a rate.
func (m *maker) chance(p float64) bool { return m.Float64() < p }

// any is one of several words, any2 one of several numbers.
func (m *maker) any(of ...string) string { return of[m.IntN(len(of))] }
func (m *maker) any2(of ...int) int      { return of[m.IntN(len(of))] }
