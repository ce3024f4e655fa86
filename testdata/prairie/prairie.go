// Package prairie makes surveys with known truth of a seventh kind: a county of Nebraska whose old soldiers served in the regiments of other states, came west after the war, and lie among settlers from Europe. The
// program's linking was not run on it while it was written.
//
// What it does that is its own. Households are founded in 21 states; brothers may go to one company, a company draws on three towns, a company's clerk is careful or careless, writes given names by their letters or contracts them, and the rolls
// of some companies are lost (.04). How a clerk wrote a man is one name, the roll's, which every book then copies with slips of its own (capitals and strokes of a round hand taken for each other); what the state's assessors wrote in 1889 is
// heard anew, with the unit from memory. Names are spoilt by ear, nation by nation (German, Irish, Scandinavian, Czech, French, Yankee), and families take American names in a year of their own (Schmidt, Smith), so that a book before that year
// and a stone after it differ; some Norwegians take the name of a farm. A few regulars serve under another name. Whole ages: who is too young says eighteen, who is too old forty-four, and round ones are commoner. A second service, the Reserve
// Corps or another regiment, gives a man rows of two units. Some of 1898 and 1917 are sons and grandsons of old soldiers.
//
// A government's stone is ordered from the roll, under the roll's name or that he went by; from comrades' memory, by ear; or by the family. Contractors slip. Patterns, widths and words follow the year. Wives, children and brothers who did not
// serve lie beside them, with families who have nobody in the war; some stones are of a later war than the rosters, and some of unknown men. Weather: letters go one by one, by stone and age; a streak goes down all lines; a crack through one; the foot
// sinks. Four volunteers write down what is left: in capitals or not, with points or not, counting what is lost or not, guessing more or less.
//
// Not made: registers, cenotaphs, the Navy of 1861, colored regiments of the regulars, nurses, two stones of one man.
//
// Who the rosters lack: men whom no book has (.09), lost rolls, and each row of the others (.05). A stone's records are all rows of its man; no wife, child or brother has any. A messy survey has the same rosters, 2.5 times the weather and slips.
//
// Where it comes from. Surnames and given names with their counts (names.csv): of 1861, regimental histories of 1875 to 1914 (Project Gutenberg 65589, 52223, 50687, 50422, 51250, 52399), Ransom 1881 (Project Gutenberg 71609) and the Civil War's among federal
// burials (Department of Veterans Affairs, export of 2015 and 2017); of 1917, the 42nd Division's, book of 1917; only those that the census of 1990 lists too. Pools "prairie" and "women" are from memory, their weights invented. Shares of ages (eighteen .13),
// deaths in service (.15) and ranks are near those of the regimental histories (.145, .163; corporals .11, sergeants .08). Numbers of regiments: W. F. Fox, Regimental Losses, 1898, counted, some of the last from memory. Which states sent how many here, nations, mortality (Gompertz) and every rate
// of error are invented; kinds of error, contractions and names in America are common practice, no source. Patterns: no rank for a private, shields 10 inches wide, 12 from 1903, pointed tops, the general stone: Department of Veterans Affairs and its historians. Towns are invented; months have 28 days.
package prairie

import (
	"math/rand/v2"
	"path/filepath"

	"musterstone/testdata/table"
)

// Options say what to make.
type Options struct {
	Seed    uint64
	Records int // rows of all rosters together
	Stones  int
	Messy   bool
}

type maker struct {
	*rand.Rand
	messy   bool
	west    float64 // how likely a household comes west
	bags    map[string]*bag
	kin     map[string]*house
	raising map[string]*company
	raised  map[string]bool
	served  []*man
	settled []*house
	rows    int
	books   map[string][][]string
	pools   map[string][]*man
}

// Make writes six rosters, stones.csv and truth.csv into a folder that is there.
func Make(dir string, opt Options) error {
	all, err := bags()
	if err != nil {
		return err
	}
	m := &maker{Rand: rand.New(rand.NewPCG(opt.Seed, 0x9ea1)), messy: opt.Messy, bags: all, kin: map[string]*house{}, raising: map[string]*company{}, raised: map[string]bool{}, books: map[string][][]string{}, pools: map[string][]*man{}}
	m.west = min(.6, max(.08, float64(opt.Stones)/float64(opt.Records+1)))
	m.populate(opt.Records, opt.Stones)
	m.Rand = rand.New(rand.NewPCG(opt.Seed, 0x57e1)) // what is made of the grounds does not move the rosters
	m.books["stones.csv"], m.books["truth.csv"] = m.walk(opt.Stones)
	for name, rows := range m.books {
		if err := table.Write(filepath.Join(dir, name), rows); err != nil {
			return err
		}
	}
	return nil
}

func (m *maker) chance(p float64) bool { return m.Float64() < p }

func (m *maker) any(of ...string) string { return of[m.IntN(len(of))] }

func (m *maker) any3(of ...day) day { return of[m.IntN(len(of))] }
