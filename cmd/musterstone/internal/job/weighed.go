package job

import (
	"bufio"
	"encoding/binary"
	"encoding/json"
	"errors"
	"hash/crc32"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"

	"musterstone/index"
	"musterstone/index/intake"
	"musterstone/link"
	"musterstone/model"
)

// What a whole run read on the stones, and what these weigh against the rosters, is kept beside the index: neither hangs on decisions, nor on the precision, so that a run after new
// ones begins where the stones are weighed. It is good for the very inputs and program, and for nothing else.
//
// The file is the stones as they are packed, what each weighs, as it came, where each of these is, then a table as JSON, and its end as in kept answers.
const weighedFile = "weighed.bin"

type weighedTable struct {
	Key        string
	Complaints []model.Complaint // of the stones' tables
	Blocks     []weighedBlock
	Places     keptPart
}

// weighedBlock is a block of packed stones.
type weighedBlock struct {
	keptPart
	Ends []uint32
}

// keptPart is a part of a file.
type keptPart struct {
	At  int64
	Len int
	Sum uint32 // CRC-32
}

func partOf(at int64, b []byte) keptPart { return keptPart{at, len(b), crc32.ChecksumIEEE(b)} }

// read reads the part, which must lie before end, into room where it fits.
func (p keptPart) read(f *os.File, end int64, room []byte) ([]byte, error) {
	if p.Len < 0 || p.At < 0 || p.At > end || int64(p.Len) > end-p.At {
		return nil, errKept
	}
	if cap(room) < p.Len {
		room = make([]byte, p.Len)
	}
	room = room[:p.Len]
	if _, err := f.ReadAt(room, p.At); err != nil || crc32.ChecksumIEEE(room) != p.Sum {
		return nil, errKept
	}
	return room, nil
}

// keptPlace is how long a keptPart is among the places.
const keptPlace = 8 + 4 + 4

func (p keptPart) append(b []byte) []byte {
	b = binary.LittleEndian.AppendUint64(b, uint64(p.At))
	return binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32(b, uint32(p.Len)), p.Sum)
}

func placeAt(b []byte, i int) keptPart {
	b = b[i*keptPlace:]
	return keptPart{int64(binary.LittleEndian.Uint64(b)), int(binary.LittleEndian.Uint32(b[8:])), binary.LittleEndian.Uint32(b[12:])}
}

// A weighedRun is what the last whole run kept.
type weighedRun struct {
	f      *os.File
	table  weighedTable
	places []byte
	end    int64 // where the table begins
	// damaged is set where what a stone weighs is not as it was written.
	damaged atomic.Bool
}

func (j *Job) weighedPath() string {
	return filepath.Join(j.Survey.Dir, index.DerivedFolder, weighedFile)
}

// weighedKey tells the stones and rosters of one run, and its program, from another's.
func (j *Job) weighedKey() (string, error) {
	digests, err := j.Digests()
	if err != nil {
		return "", err
	}
	return inputsDigest(j.opts.Program, digests) + " " + build(), nil
}

// openWeighed takes the stones of the last whole run as they were packed, and gives what they weigh; nil where there is none of these very inputs, or it is not as it was written.
func (j *Job) openWeighed() *weighedRun {
	if j.packed != nil || j.read || j.index != nil {
		return nil
	}
	defer j.stage("reading what was weighed")()
	r, err := openWeighed(j.weighedPath())
	if err != nil {
		return nil // before the digests are made, which take their time where nothing is kept
	}
	key, err := j.weighedKey()
	if err == nil && r.table.Key != key {
		err = errKept
	}
	var p *packed
	if err == nil {
		p, err = r.packed()
	}
	if err != nil {
		r.Close()
		return nil
	}
	j.packed = p
	for _, c := range r.table.Complaints {
		j.complain(c)
	}
	return r
}

func openWeighed(path string) (r *weighedRun, err error) {
	r = new(weighedRun)
	if r.f, err = os.Open(path); err != nil {
		return nil, err
	}
	b, end, err := readTable(r.f)
	if err == nil && json.Unmarshal(b, &r.table) != nil {
		err = errKept
	}
	if err == nil {
		r.end = end
		r.places, err = r.table.Places.read(r.f, end, nil)
	}
	stones := 0
	for _, block := range r.table.Blocks {
		stones += len(block.Ends)
	}
	if err != nil || len(r.places) != stones*keptPlace {
		r.Close()
		return nil, errKept
	}
	return r, nil
}

// packed reads the packed stones.
func (r *weighedRun) packed() (*packed, error) {
	p := newPacked()
	p.blocks = make([]packedBlock, len(r.table.Blocks))
	var mu sync.Mutex
	var fault error
	InParallel(len(p.blocks), func(k int) {
		err := r.block(k, &p.blocks[k], func(s *model.Subject) {
			mu.Lock()
			defer mu.Unlock()
			p.count(s)
		})
		mu.Lock()
		defer mu.Unlock()
		fault = errors.Join(fault, err)
	})
	return p, fault
}

// block reads a block of packed stones, and calls each for every one.
func (r *weighedRun) block(k int, block *packedBlock, each func(*model.Subject)) error {
	kept := &r.table.Blocks[k]
	if n := len(kept.Ends); n > blockStones || n < blockStones && k < len(r.table.Blocks)-1 {
		return errKept
	}
	data, err := kept.read(r.f, r.end, nil)
	if err != nil {
		return err
	}
	block.data, block.ends = string(data), kept.Ends
	from := uint32(0)
	for _, end := range kept.Ends {
		if end < from || int(end) > len(data) {
			return errKept
		}
		s := new(model.Subject)
		if err := index.ReadPlain(block.data[from:end], s); err != nil || s.Stone == nil {
			return errKept
		}
		each(s)
		from = end
	}
	return nil
}

// stone reads what stone i weighs.
func (r *weighedRun) stone(i int, room []byte) ([]byte, error) {
	b, err := placeAt(r.places, i).read(r.f, r.end, room)
	if err != nil {
		r.damaged.Store(true)
	}
	return b, err
}

// forget removes what was kept where it was found damaged, so that the next run keeps it anew.
func (r *weighedRun) forget() {
	if r != nil && r.damaged.Load() {
		os.Remove(r.f.Name())
	}
}

// use has the linker take what was weighed, or, where there is none, keep what it weighs. The keeper is nil where nothing is kept.
func (r *weighedRun) use(j *Job, l *link.Linker, p *packed) *weighedKeeper {
	if r != nil {
		l.Kept = r.stone
		return nil
	}
	key, err := j.weighedKey()
	if err != nil {
		return nil
	}
	f, err := unnamed(j.weighedPath())
	if err != nil {
		return nil
	}
	k := &weighedKeeper{j: j, f: f, w: bufio.NewWriterSize(f, 1<<18), places: make([]byte, p.n*keptPlace), table: weighedTable{Key: key}}
	for _, block := range p.blocks {
		k.table.Blocks = append(k.table.Blocks, weighedBlock{k.write([]byte(block.data)), block.ends})
	}
	l.Keep, l.Again = k.stone, k.again
	return k
}

// Close closes the file.
func (r *weighedRun) Close() {
	if r != nil {
		r.f.Close()
	}
}

// A weighedKeeper writes down what a run weighs. The nil keeper keeps nothing.
type weighedKeeper struct {
	j      *Job
	f      *os.File
	mu     sync.Mutex // of what follows
	w      *bufio.Writer
	at     int64
	places []byte
	table  weighedTable

	written sync.Once // to the file, for again
}

func (k *weighedKeeper) write(b []byte) keptPart {
	p := partOf(k.at, b)
	k.w.Write(b) // what goes wrong shows when it is flushed
	k.at += int64(len(b))
	return p
}

// stone keeps what stone i weighs.
func (k *weighedKeeper) stone(i int, weighed []byte) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.write(weighed).append(k.places[:i*keptPlace])
}

// again reads what was kept of stone i, once all are.
func (k *weighedKeeper) again(i int, room []byte) ([]byte, error) {
	k.written.Do(func() { k.w.Flush() })
	return placeAt(k.places, i).read(k.f, k.at, room)
}

// Close puts what was kept in the place of what was kept before, or, where the run was not whole, leaves that as it was.
func (k *weighedKeeper) Close(whole bool) {
	if k == nil {
		return
	}
	defer os.Remove(k.f.Name()) // where it has not got its name
	k.table.Places = k.write(k.places)
	k.table.Complaints = k.j.ofStones()
	b, err := json.Marshal(k.table)
	writeTable(k.w, k.at, b)
	if err := errors.Join(err, k.w.Flush(), k.f.Close()); err == nil && whole && k.at <= mostKept && k.j.keepable() {
		os.Rename(k.f.Name(), k.j.weighedPath())
	}
}

// ofStones are the complaints about the tables of stones.
func (j *Job) ofStones() (list []model.Complaint) {
	stones := map[string]bool{}
	for _, t := range j.Survey.Tables {
		stones[t.File] = t.Kind != intake.Roster
	}
	for _, c := range j.complaints {
		if stones[c.File] {
			list = append(list, c)
		}
	}
	return list
}

// wholeWeighed looks at what was kept.
func wholeWeighed(path string) error {
	if _, err := os.Stat(path); err != nil {
		return err
	}
	r, err := openWeighed(path)
	if err != nil {
		return err
	}
	defer r.Close()
	if _, err := r.packed(); err != nil {
		return err
	}
	var room []byte
	for i := range len(r.places) / keptPlace {
		if room, err = r.stone(i, room); err != nil {
			return err
		}
	}
	return nil
}
