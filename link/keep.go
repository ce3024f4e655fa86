package link

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"sync"

	"musterstone/link/weigh"
	"musterstone/model"
)

// What a stone weighs against its rows is kept as numbers one behind the other: what the stone says by itself, the lines of evidence that occur with it, each once, and the rows, each
// with the numbers of its lines. A run that reads it neither searches nor weighs, and spells from the lines.

var errKept = errors.New("what was kept of an earlier weighing is not as it was written")

// A keeper writes down what one goroutine weighs.
type keeper struct {
	b       []byte
	rows    []byte
	lines   []byte
	n       int         // lines
	last    [256]uint16 // of each level, the line written last, plus 1
	before  []uint16    // of each line, the one of its level written before, plus 1
	bits    []float64   // of each line
	weighed weigh.Lines // the row's under the reading that speaks most for it
}

// begin begins a stone.
func (k *keeper) begin() {
	k.rows, k.lines, k.n, k.before, k.bits = k.rows[:0], k.lines[:0], 0, k.before[:0], k.bits[:0]
	clear(k.last[:])
}

// add adds a row, with the lines that were set in weighed.
func (k *keeper) add(r *row) {
	b := binary.LittleEndian.AppendUint32(k.rows, r.number)
	b = binary.LittleEndian.AppendUint64(b, math.Float64bits(r.bits))
	b = binary.AppendUvarint(append(b, byte(r.view), r.n), uint64(r.file))
	for level, bits := range k.weighed.All() {
		b = binary.AppendUvarint(b, uint64(k.line(level, bits)))
	}
	k.rows = b
}

// line is the number of a line.
func (k *keeper) line(level uint8, bits float64) uint16 {
	for n := k.last[level]; n > 0; n = k.before[n-1] {
		if k.bits[n-1] == bits {
			return n - 1
		}
	}
	k.lines = binary.LittleEndian.AppendUint64(append(k.lines, level), math.Float64bits(bits))
	k.before, k.bits = append(k.before, k.last[level]), append(k.bits, bits)
	k.n++
	k.last[level] = uint16(k.n)
	return uint16(k.n - 1)
}

const (
	keptRegister = 1 << iota
	keptPlain
	keptUnlisted
	keptStrange
	keptRegisterRow
	keptMention
)

// end gives the stone in bytes that last until the next one ends.
func (k *keeper) end(w *weighed) []byte {
	s, flags := &w.standing, byte(0)
	for i, is := range [...]bool{w.register, s.Plain, s.Unlisted, s.Strange, s.Register, s.Mention} {
		if is {
			flags |= keptRegister << i
		}
	}
	b := append(k.b[:0], flags)
	number := func(x float64) { b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x)) }
	text := func(s string) { b = append(binary.AppendUvarint(b, uint64(len(s))), s...) }
	text(string(w.stone))
	text(w.regiment)
	number(w.share)
	b = binary.AppendUvarint(b, uint64(w.company))
	number(s.Veteran)
	b = binary.AppendUvarint(b, uint64(s.Near))
	for _, lean := range [...]*weigh.Leaning{&s.Surname, &s.Given} {
		for _, x := range lean {
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(x))
		}
	}
	b = binary.AppendUvarint(b, uint64(max(0, s.Born)))
	number(s.BornShare)
	b = binary.AppendUvarint(b, uint64(len(w.kin)))
	for _, kin := range w.kin {
		number(kin.Share)
		b = append(binary.AppendUvarint(b, uint64(kin.Men)), byte(kin.view), kin.level)
	}
	b = append(binary.AppendUvarint(b, uint64(k.n)), k.lines...)
	b = append(binary.AppendUvarint(b, uint64(len(w.rows.list))), k.rows...)
	k.b = b
	return b
}

// A keptReader reads what a keeper has written. After the first fault it gives zeros.
type keptReader struct {
	b     []byte
	fault bool
}

func (r *keptReader) take(n int) []byte {
	if n > len(r.b) {
		r.fault, r.b = true, nil
	}
	if r.fault {
		return make([]byte, n)
	}
	b := r.b[:n]
	r.b = r.b[n:]
	return b
}

// share is a number from 0 to 1.
func (r *keptReader) share() float64 {
	x := math.Float64frombits(binary.LittleEndian.Uint64(r.take(8)))
	if !(x >= 0 && x <= 1) {
		r.fault = true
	}
	return x
}

// count is a whole number of at most most.
func (r *keptReader) count(most int) int {
	x, n := binary.Uvarint(r.b)
	if n <= 0 || x > uint64(most) {
		r.fault = true
		return 0
	}
	r.b = r.b[n:]
	return int(x)
}

func (r *keptReader) text() string { return string(r.take(r.count(len(r.b)))) }

const (
	keptLine = 1 + 8     // the length of a line
	keptRow  = 4 + 8 + 2 // the length of what stands first in a row: its number, bits, view and how many lines it has
	mostBits = 1e4       // no weight comes near
)

func lineBits(line []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(line[1:])) }

// stone reads a stone but for its rows, of which there are so many.
func (r *keptReader) stone(w *weighed) (lines []byte, rows int) {
	s, flags := &w.standing, r.take(1)[0]
	for i, is := range [...]*bool{&w.register, &s.Plain, &s.Unlisted, &s.Strange, &s.Register, &s.Mention} {
		*is = flags&(keptRegister<<i) != 0
	}
	w.stone, w.regiment, w.share, w.company = model.StoneID(r.text()), r.text(), r.share(), r.count(math.MaxInt32)
	s.Veteran, s.Near = r.share(), uint16(r.count(math.MaxUint16))
	for _, lean := range [...]*weigh.Leaning{&s.Surname, &s.Given} {
		for i := range lean {
			lean[i] = math.Float32frombits(binary.LittleEndian.Uint32(r.take(4)))
		}
	}
	s.Born, s.BornShare = r.count(math.MaxInt16), r.share()
	for range r.count(len(r.b)) {
		kin := Kin{Share: r.share(), Men: r.count(math.MaxInt32)}
		kin.view, kin.level = int8(r.take(1)[0]), r.take(1)[0]
		w.kin = append(w.kin, kin)
	}
	lines = r.take(keptLine * r.count(len(r.b)/keptLine))
	return lines, r.count(len(r.b))
}

// row reads a row, and calls each with the places of its lines in the bytes of these.
func (r *keptReader) row(row *row, lines []byte, each func(i, at int)) {
	b := r.take(keptRow)
	row.number, row.bits = binary.LittleEndian.Uint32(b), math.Float64frombits(binary.LittleEndian.Uint64(b[4:]))
	row.view, row.n, row.file = int8(b[12]), b[13], uint16(r.count(math.MaxUint16))
	if row.n >= weigh.MostLines { // one more may come of what others decided
		r.fault, row.n = true, 0
	}
	for i := range int(row.n) {
		at := keptLine * r.count(len(lines)/keptLine)
		if at >= len(lines) {
			r.fault = true
			return
		}
		each(i, at)
	}
}

// weighOrRead gives every subject weighed, as if nobody had decided anything where the candidates are rows: read from what an earlier run kept, or weighed.
func (l *Linker) weighOrRead(ctx context.Context, w *weigh.Weigher, of subjects) ([]weighed, error) {
	if l.Kept != nil && l.Columns != nil {
		if all, err := l.readKept(of.n); err == nil {
			return all, context.Cause(ctx)
		}
		l.Kept = nil
	}
	all, err := l.weighAll(ctx, w, of)
	if l.Keep != nil && l.Columns != nil {
		l.Kept = l.Again
	}
	return all, err
}

// readKept reads n stones from what an earlier run kept. No number in it is trusted.
func (l *Linker) readKept(n int) ([]weighed, error) {
	all := make([]weighed, n)
	var mu sync.Mutex
	var fault error
	inParts(n, func(from, to int) {
		var room []byte
		for i := from; i < to; i++ {
			var err error
			if room, err = l.Kept(i, room); err == nil {
				err = l.readStone(room, &all[i])
			}
			if err != nil {
				mu.Lock()
				fault = err
				mu.Unlock()
				return
			}
		}
	})
	return all, fault
}

func (l *Linker) readStone(b []byte, w *weighed) error {
	r := keptReader{b: b}
	lines, n := r.stone(w)
	for at := 0; at < len(lines); at += keptLine {
		if _, _, ok := weigh.LevelAt(lines[at]); !ok || !(math.Abs(lineBits(lines[at:])) < mostBits) {
			return errKept
		}
	}
	w.rows = &rows{columns: l.Columns, list: make([]row, n)}
	for j := range w.rows.list {
		c := &w.rows.list[j]
		r.row(c, lines, func(i, at int) { c.levels[i] = lines[at] })
		if r.fault || int(c.number) >= l.Columns.Len() || int(c.file) >= len(l.Columns.Files()) || c.view < noView || !(c.bits < mostBits) || c.view != noView && (c.n == 0 || c.bits < -mostBits) || c.kinLacks(w.kin) {
			return errKept
		}
	}
	if r.fault || len(r.b) > 0 {
		return errKept
	}
	return nil
}

// kinLacks reports whether a row has the level of kin, and none of the list is his.
func (c *row) kinLacks(kin []Kin) bool {
	levels := c.levels[:c.n]
	return slices.Contains(levels, kinLevel) && find(kin, c.view, levels) < 0
}

// keptLines are the lines of some of a stone's rows as an earlier run kept them.
type keptLines struct {
	lines []byte
	rows  []keptAt
}

// keptAt is where the row of a number stands.
type keptAt struct {
	number uint32
	b      []byte
}

// newKeptLines finds the rows of these numbers, in room.
func newKeptLines(b []byte, numbers []uint32, room []keptAt) keptLines {
	r := keptReader{b: b}
	var w weighed
	lines, n := r.stone(&w)
	k := keptLines{lines: lines, rows: room[:0]}
	for range n {
		from := r.b
		if len(from) < keptRow {
			break
		}
		if number := binary.LittleEndian.Uint32(from); slices.Contains(numbers, number) {
			k.rows = append(k.rows, keptAt{number, from})
		}
		// What follows the first numbers are as many small ones as the row has lines, and that of the file.
		small := 1 + int(from[keptRow-1])
		for r.b = from[keptRow:]; small > 0 && len(r.b) > 0; r.b = r.b[1:] {
			small -= int(^r.b[0] >> 7)
		}
	}
	return k
}

// of puts the lines of the row of that number together, none where it is not there; ok is false then.
func (k *keptLines) of(number uint32, l *weigh.Lines) (ok bool) {
	*l = weigh.Lines{}
	at := slices.IndexFunc(k.rows, func(row keptAt) bool { return row.number == number })
	if at < 0 {
		return false
	}
	r := keptReader{b: k.rows[at].b}
	var c row
	r.row(&c, k.lines, func(_, at int) { l.Add(k.lines[at], lineBits(k.lines[at:])) })
	if r.fault {
		*l = weigh.Lines{}
	}
	return !r.fault
}
