// Package haven (comment to come)
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
	towns   []string
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
