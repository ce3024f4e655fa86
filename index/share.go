package index

import (
	"math"
	"runtime"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/same"
)

// shared are the values that many records share, each once; a record in the store names them by number. Number 0 is the zero value in each list.
type shared struct {
	Files    []string
	Columns  []columnList    // the columns of the written cells of a record
	Surnames []string        // as the records have them
	Names    []model.Name    // without surname and writing
	Units    []model.Unit    // with company and writing
	Dates    []date.Date     // all of a record's
	Ages     []date.Age      //
	Services []model.Service // without unit, dates and texts
	Words    []string        // of cells and texts
}

// columnList are the names of the columns of a record's cells; or, where Pairs is set, a name stands before each cell of the record itself.
type columnList struct {
	Names []string
	Pairs bool
}

// mostShapes is of how many patterns of filled cells each has a list of its own: a table of many columns that are filled at random has as many patterns as rows. It is less in tests alone.
var mostShapes = 1 << 14

// A sharer numbers the values of records as they come by, in the order in which records first have them, and writes records.
type sharer struct {
	*same.Collector
	roller  *sharedRoller
	files   []string
	lexicon *lexicon
	readers map[int]*renumbered
	pairs   uint32 // see inPairs; 0 where there is none
}

// sharedNumbers are the numbers of one record's values.
type sharedNumbers struct {
	file, columns, surname, name, unit, age, service uint32
	born, died, enlisted, in, out                    uint32
	home, buried                                     uint32 // places of the roll, which the store does not name
}

// renumbered has, by a reader's number of a value, the number here and 1, where a record has had it.
type renumbered struct {
	shapes, surnames, names, units, dates, ages, services, places []uint32
	cells                                                         []uint32 // the number of a word and 1, or noWord
}

// noWord stands for a text that is no word of the lexicon.
const noWord = math.MaxUint32

func newSharer() *sharer {
	s := &sharer{Collector: same.NewCollector(), lexicon: new(lexicon), files: []string{""}, readers: map[int]*renumbered{}}
	s.roller = newSharedRoller(&s.Values)
	s.Trust()
	return s
}

// lists are the values that were numbered.
func (s *sharer) lists() shared {
	l := shared{Files: s.files, Surnames: s.Surnames, Names: s.Names, Units: s.Units, Dates: s.Dates, Ages: s.Ages, Services: s.Services, Words: s.lexicon.book.List()}
	for i := range s.Shapes {
		l.Columns = append(l.Columns, columnList{s.Shapes[i].Columns, i > 0 && uint32(i) == s.pairs})
	}
	return l
}

func (s *sharer) file(f string) uint32 {
	n := slices.Index(s.files, f)
	if n < 0 {
		n = len(s.files)
		s.files = append(s.files, strings.Clone(f))
	}
	return uint32(n)
}

// columns is the number of a list of columns, or, of a new one where there are too many, inPairs.
func (s *sharer) columns(names []string) uint32 {
	shape := same.Shape{Columns: names}
	if len(s.Shapes) < mostShapes {
		return s.Shape(&shape)
	}
	if n, ok := s.KnownShape(&shape); ok {
		return n
	}
	return s.inPairs()
}

// carried is the number of a list whose records come as they were written.
func (s *sharer) carried(list *columnList) uint32 {
	if list.Pairs {
		return s.inPairs()
	}
	return s.Shape(&same.Shape{Columns: list.Names})
}

// inPairs is the number of the list of no columns for records that have the names beside their cells.
func (s *sharer) inPairs() uint32 {
	if s.pairs == 0 {
		s.pairs = uint32(len(s.Shapes))
		s.Shapes = append(s.Shapes, same.Shape{})
	}
	return s.pairs
}

// reader gives the numbers of a reader's values, with room for all that it has now.
func (s *sharer) reader(b *same.Batch) *renumbered {
	of := s.readers[b.Reader]
	if of == nil {
		if len(s.readers) > 0 {
			s.Check() // the first may have had the same values
		}
		of = new(renumbered)
		s.readers[b.Reader] = of
	}
	v := &b.Values
	for _, l := range [...]struct {
		list *[]uint32
		n    int
	}{{&of.shapes, len(v.Shapes)}, {&of.surnames, len(v.Surnames)}, {&of.names, len(v.Names)}, {&of.units, len(v.Units)}, {&of.dates, len(v.Dates)}, {&of.ages, len(v.Ages)},
		{&of.services, len(v.Services)}, {&of.places, len(v.Places)}, {&of.cells, len(v.Cells)}} {
		*l.list = append(*l.list, make([]uint32, l.n-len(*l.list))...)
	}
	return of
}

// ask asks memory for the numbers of rows' values, of which there are many, all at once: they lie far apart, and one after the other each would be waited for.
func (of *renumbered) ask(rows []*same.Row) {
	sum := uint32(0)
	for _, r := range rows {
		sum += of.surnames[r.Surname] + of.units[r.Unit] + of.names[r.Name]
	}
	runtime.KeepAlive(sum)
}

// share numbers the values of a row.
func (s *sharer) share(b *same.Batch, of *renumbered, r *same.Row, file uint32) sharedNumbers {
	v := &b.Values
	if n := &of.shapes[r.Shape]; *n == 0 {
		*n = s.columns(v.Shapes[r.Shape].Columns) + 1
	}
	if n := &of.surnames[r.Surname]; *n == 0 {
		*n = s.Surname(v.Surnames[r.Surname]) + 1
	}
	if n := &of.names[r.Name]; *n == 0 {
		*n = s.Name(&v.Names[r.Name]) + 1
	}
	if n := &of.units[r.Unit]; *n == 0 {
		*n = s.Unit(&v.Units[r.Unit]) + 1
	}
	if n := &of.ages[r.Age]; *n == 0 {
		*n = s.Age(&v.Ages[r.Age]) + 1
	}
	if n := &of.services[r.Service]; *n == 0 {
		*n = s.Service(&v.Services[r.Service]) + 1
	}
	for _, d := range [...]uint32{r.Born, r.Died, r.Enlisted, r.MusteredIn, r.MusteredOut} {
		if n := &of.dates[d]; *n == 0 {
			*n = s.Date(&v.Dates[d]) + 1
		}
	}
	for _, p := range [...]uint32{r.Buried, r.Residence} {
		if n := &of.places[p]; *n == 0 {
			*n = s.roller.placeNumber(v.Places[p]) + 1
		}
	}
	return sharedNumbers{file: file, columns: of.shapes[r.Shape] - 1, surname: of.surnames[r.Surname] - 1, name: of.names[r.Name] - 1, unit: of.units[r.Unit] - 1,
		age: of.ages[r.Age] - 1, service: of.services[r.Service] - 1, born: of.dates[r.Born] - 1, died: of.dates[r.Died] - 1, enlisted: of.dates[r.Enlisted] - 1,
		in: of.dates[r.MusteredIn] - 1, out: of.dates[r.MusteredOut] - 1, home: of.places[r.Residence] - 1, buried: of.places[r.Buried] - 1}
}

// keep is the number of a word that is worth keeping, and 1; or noWord, where there is no room for it.
func (s *sharer) keep(word string) uint32 {
	if n := s.lexicon.keep(word); n > 0 {
		return uint32(n)
	}
	return noWord
}

// sharedShape is a digest of the types whose values are shared and of the record that they make up.
func sharedShape() string { return newCodec(shared{}).shape() + newCodec(model.Record{}).shape() }
