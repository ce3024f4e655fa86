package index

import (
	"os"
	"path/filepath"

	"musterstone/model"
)

// tables are the files of the records folder beside the records themselves.
type tables struct {
	roll            *roll
	words           []string
	starts          []uint64
	sounds, soundex soundOrder
	complaints      []model.Complaint
}

// lists is how the tables without rows are written.
type lists struct {
	Words, Surnames, Givens, Places []string
	Sounds, Soundex                 []string
	Wars                            []string
	Units                           []model.Unit
	Starts                          []int64
	Complaints                      []model.Complaint
}

func (t tables) write(folder string) error {
	l := lists{Words: t.words, Surnames: t.roll.surnames, Givens: t.roll.givens, Places: t.roll.places, Units: t.roll.units,
		Sounds: t.sounds.key, Soundex: t.soundex.key, Complaints: t.complaints}
	for _, w := range t.roll.wars {
		l.Wars = append(l.Wars, string(w))
	}
	l.Starts = steps(t.starts)
	if err := writeLists(filepath.Join(folder, tablesName), l); err != nil {
		return err
	}
	b := make([]byte, 0, len(t.roll.rows)*rowBytes)
	for i := range t.roll.rows {
		b = t.roll.rows[i].append(b)
	}
	return os.WriteFile(filepath.Join(folder, rowsName), b, 0o644)
}

func readTables(folder string) (t tables, err error) {
	var l lists
	if err := readLists(filepath.Join(folder, tablesName), &l); err != nil {
		return t, err
	}
	b, err := os.ReadFile(filepath.Join(folder, rowsName))
	if err != nil {
		return t, err
	}
	r := &roll{surnames: l.Surnames, givens: l.Givens, places: l.Places, units: l.Units, rows: make([]row, len(b)/rowBytes)}
	for _, w := range l.Wars {
		r.wars = append(r.wars, model.ConflictCode(w))
	}
	for i := range r.rows {
		r.rows[i] = rowFrom(b[i*rowBytes:])
	}
	if !r.sound() || len(l.Sounds) != len(l.Surnames) || len(l.Soundex) != len(l.Surnames) {
		return t, errDamaged
	}
	r.post()
	t.starts = running(l.Starts)
	t.roll, t.words, t.complaints = r, l.Words, l.Complaints
	t.sounds, t.soundex = soundOrder{key: l.Sounds, order: make([]uint32, len(l.Sounds))}, soundOrder{key: l.Soundex, order: make([]uint32, len(l.Soundex))}
	for i := range l.Sounds {
		t.sounds.order[i], t.soundex.order[i] = uint32(i), uint32(i)
	}
	t.sounds.sort()
	t.soundex.sort()
	return t, nil
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
