package index

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"musterstone/model"
)

// tables are the files of the records folder beside the records themselves.
type tables struct {
	roll            *roll
	shared          shared
	starts          []uint64
	sounds, soundex soundOrder
	parts           []partMade
	maps            []mapped // in which rows, postings and starts lie
}

// lists is how the tables without rows are written.
type lists struct {
	Shared                   shared
	Surnames, Givens, Places []string
	Sounds, Soundex          []string
	Wars                     []string
	Units                    []model.Unit
	Parts                    []partMade
	Rows                     int
}

func (t *tables) lists() *lists {
	r := t.roll
	l := &lists{Shared: t.shared, Surnames: r.surnames, Givens: r.givens, Places: r.places, Units: r.units,
		Sounds: t.sounds.key, Soundex: t.soundex.key, Parts: t.parts, Rows: len(r.rows)}
	for _, w := range r.wars {
		l.Wars = append(l.Wars, string(w))
	}
	return l
}

// write writes the files of the tables, of which l are the lists.
func (t *tables) write(l *lists, folder string) error {
	r := t.roll
	// Most of the time goes into finding room for the bytes, which the system does for each file by itself.
	var ofLists, ofStarts error
	var others sync.WaitGroup
	others.Go(func() {
		ofLists = writeLists(filepath.Join(folder, tablesName), *l)
		ofStarts = writeNumbers(filepath.Join(folder, startsName), bytesOf(t.starts))
	})
	err := writeNumbers(filepath.Join(folder, rowsName), bytesOf(r.heads), bytesOf(r.unitHeads), bytesOf(r.ids), bytesOf(r.rows), bytesOf(r.byUnit), bytesOf(r.first), bytesOf(r.unitAt), bytesOf(r.ofGiven),
		bytesOf(t.sounds.order), bytesOf(t.soundex.order))
	others.Wait()
	return cmp.Or(err, ofLists, ofStarts)
}

// writeNumbers writes lists of numbers one after the other.
func writeNumbers(path string, lists ...[]byte) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	for _, b := range lists {
		if _, err := f.Write(b); err != nil {
			f.Close()
			return err
		}
	}
	return f.Close()
}

// readTables reads what write has written. Its numbers lie in mapped files, which are to be closed when none of them is used any more.
func readTables(folder string) (t tables, err error) {
	var l lists
	if err := readLists(filepath.Join(folder, tablesName), &l); err != nil {
		return t, err
	}
	if t, err = l.mapped(folder); err == nil && !t.sound() {
		err = errDamaged
	}
	if err != nil {
		t.close()
	}
	return t, err
}

// mapped gives the tables of which l are the lists; their numbers lie in the mapped files of the folder.
func (l *lists) mapped(folder string) (t tables, err error) {
	for _, name := range [...]string{rowsName, startsName} {
		m, err := mapFile(filepath.Join(folder, name))
		if err != nil {
			t.close()
			return tables{}, err
		}
		t.maps = append(t.maps, m)
	}
	r := &roll{surnames: l.Surnames, givens: l.Givens, places: l.Places, units: l.Units, men: l.Rows}
	for _, w := range l.Wars {
		r.wars = append(r.wars, model.ConflictCode(w))
	}
	rest := t.maps[0].bytes
	take := func(n, size int) []byte {
		if n < 0 || n > len(rest)/size {
			err = errDamaged
			return nil
		}
		b := rest[:n*size]
		rest = rest[n*size:]
		return b
	}
	r.heads, r.unitHeads, r.ids = viewOf[head](take(l.Rows, 8)), viewOf[head](take(l.Rows, 8)), viewOf[uint64](take(l.Rows, 8))
	r.rows, r.byUnit = viewOf[row](take(l.Rows, rowBytes)), viewOf[uint32](take(l.Rows, 4))
	r.first, r.unitAt, r.ofGiven = viewOf[uint32](take(len(l.Surnames)+1, 4)), viewOf[uint32](take(len(l.Units)+1, 4)), viewOf[uint32](take(len(l.Givens), 4))
	t.sounds, t.soundex = soundOrder{key: l.Sounds}, soundOrder{key: l.Soundex}
	t.sounds.order, t.soundex.order = viewOf[uint32](take(len(l.Surnames), 4)), viewOf[uint32](take(len(l.Surnames), 4))
	t.starts = viewOf[uint64](t.maps[1].bytes)
	if err != nil || len(rest) > 0 {
		t.close()
		return tables{}, errDamaged
	}
	r.ofSurname, r.ofUnit = differences(r.first), differences(r.unitAt)
	r.run()
	t.roll, t.shared, t.parts = r, l.Shared, l.Parts
	return t, nil
}

// sound reports whether the tables hang together.
func (t *tables) sound() bool {
	r := t.roll
	return len(t.sounds.order) == len(r.surnames) && r.sound() && t.sounds.sound(len(r.surnames)) && t.soundex.sound(len(r.surnames)) &&
		!slices.ContainsFunc(t.parts, func(p partMade) bool { return p.From < 0 || p.To < p.From || p.To > len(r.rows) })
}

// wholeTables reports whether the tables of a folder can be read and hold all that was there to read.
func wholeTables(folder string) bool {
	t, err := readTables(folder)
	t.close()
	return err == nil && !t.unread()
}

// unread reports whether the disk failed when one of the parts was read.
func (t *tables) unread() bool {
	return slices.ContainsFunc(t.parts, func(p partMade) bool { return p.unread() })
}

func (t *tables) close() {
	for i := range t.maps {
		t.maps[i].close()
	}
	t.maps = nil
}

// differences are what each number of a growing list is less than the next.
func differences(at []uint32) []uint32 {
	if len(at) == 0 {
		return nil
	}
	list := make([]uint32, len(at)-1)
	for i := range list {
		list[i] = at[i+1] - at[i]
	}
	return list
}

// writeLists writes a struct of lists to a new file, readLists reads it.
func writeLists(path string, l any) error {
	return os.WriteFile(path, newCodec(l).encode(nil, l, nil), 0o644)
}

func readLists(path string, into any) error {
	b, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	return codec{}.decode(string(b), into, nil)
}

// steps are the differences of a list of growing numbers, and running is that list again.
func steps(starts []uint64) []int64 {
	list := make([]int64, len(starts))
	last := uint64(0)
	for i, s := range starts {
		list[i], last = int64(s-last), s
	}
	return list
}

func running(steps []int64) []uint64 {
	list := make([]uint64, len(steps))
	sum := int64(0)
	for i, s := range steps {
		sum += s
		list[i] = uint64(sum)
	}
	return list
}
