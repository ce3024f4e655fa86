package job

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync/atomic"

	"musterstone/index"
	"musterstone/model"
)

// What a whole run answered is kept beside the index, so that a question about one stone or one burial ground is answered at once, and with what the whole run said: a
// stone's answer hangs on all others, by what is learned from them and by the men whom they claim. Asked again of all, it prints the same.
//
// The file is the answers, those of a stretch one after the other as JSON and then in words, then a table of them as JSON, then where the table begins, how long it is and its checksum. It is good for the very inputs,
// decisions, precision and program of that run, and for nothing else. A run that prints JSON keeps no words but those that cannot be made of the JSON: to word ten thousand answers of which one may be
// asked for took a thirtieth of it.
const keptFile = "answers.bin"

// mostKept is the most that is kept, in bytes; a run with more is not. It is less in tests alone.
var mostKept int64 = 2 << 30

// Answer is what a run says of one stone.
type Answer struct {
	Stone    model.StoneID `json:"stone"`
	Cemetery string        `json:"cemetery"`
	JSON     []byte        `json:"-"` // the proposal as it is printed
	Text     []byte        `json:"-"` // the same in words, or, of a brief run, the words that are not in the JSON
	// Proposed and Confirmed count its candidates that are so.
	Proposed  int `json:"proposed"`
	Confirmed int `json:"confirmed"`
}

type keptTable struct {
	keptHead
	Answers []keptAnswer
}

type keptHead struct {
	Key        string
	Complaints []model.Complaint // but for those that opening the survey comes to each time
	// Next are the stones to be asked about first, where the run that printed them has looked for them.
	Next   []model.StoneID `json:",omitempty"`
	Sought bool            `json:",omitempty"`
	Brief  bool            `json:",omitempty"` // see Keep
}

type keptAnswer struct {
	Answer
	At         int64  `json:"at"`      // of the JSON
	TextAt     int64  `json:"text_at"` // of the words
	JSON, Text int    // lengths
	Sum        uint32 `json:"sum"` // CRC-32 of both
}

// key tells one run from another; asked is what askedOf gave when it began.
func (j *Job) key(asked string) (string, error) {
	digests, err := j.Digests()
	if err != nil {
		return "", err
	}
	return inputsDigest(j.opts.Program, digests) + " " + asked, nil
}

// askedOf tells runs of the same files from each other: by their decisions, their precision and the program.
func (j *Job) askedOf(precision float64) (string, error) {
	decisions, err := os.ReadFile(j.LedgerPath())
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("read the decisions: %w", err)
	}
	sum := sha256.Sum256(decisions)
	return fmt.Sprintf("%s %v %s", hex.EncodeToString(sum[:]), precision, build()), nil
}

// build tells the program's own file from another of the same version: its size and when it was written.
func build() string {
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	k, err := look(path)
	if err != nil {
		return ""
	}
	return fmt.Sprint(k.Size, k.Changed.UnixNano())
}

// A Keeper writes down the answers of a whole run as they are made. The nil Keeper keeps nothing.
type Keeper struct {
	j       *Job
	asked   string
	brief   bool
	answers []byte // the table's, as JSON, parted by commas
	next    []model.StoneID
	sought  bool
	f       *os.File
	w       *bufio.Writer
	at      int64
	err     error
}

// Keep begins to keep the answers of a whole run at the precision given, brief where their words are not whole; nil where that cannot be: then the next question takes a whole run too.
func (j *Job) Keep(precision float64, brief bool) *Keeper {
	asked, err := j.askedOf(precision)
	if err != nil {
		return nil
	}
	return &Keeper{j: j, asked: asked, brief: brief}
}

// open makes the file when there is something to keep: before the first run on a survey there is no folder for it.
func (k *Keeper) open() {
	if k.f == nil && k.err == nil {
		if k.f, k.err = unnamed(k.j.keptPath()); k.err == nil {
			k.w = bufio.NewWriterSize(k.f, 1<<18)
		}
	}
}

// Add keeps the answers of the next stones, which stand one after the other in a list of JSON and one of words.
func (k *Keeper) Add(answers []Answer, asJSON, inWords []byte) {
	if k == nil {
		return
	}
	if k.open(); k.err != nil {
		return
	}
	at, textAt := k.at, k.at+int64(len(asJSON))
	for i := range answers {
		a := &answers[i]
		kept := keptAnswer{Answer: *a, At: at, TextAt: textAt, JSON: len(a.JSON), Text: len(a.Text), Sum: crc32.Update(crc32.ChecksumIEEE(a.JSON), crc32.IEEETable, a.Text)}
		kept.Answer.JSON, kept.Answer.Text = nil, nil // they stand in the file
		at, textAt = at+int64(len(a.JSON)), textAt+int64(len(a.Text))
		b, err := json.Marshal(kept) // now, while the next stones are still being worked on
		if err != nil {
			k.err = err
			return
		}
		if len(k.answers) > 0 {
			k.answers = append(k.answers, ',')
		}
		k.answers = append(k.answers, b...)
	}
	k.w.Write(asJSON)
	_, k.err = k.w.Write(inWords)
	if k.at = textAt; k.at > mostKept {
		k.err = errors.New("too much to keep")
	}
}

// Ask keeps which stones are to be asked about first.
func (k *Keeper) Ask(next []model.StoneID) {
	if k != nil {
		k.next, k.sought = next, true
	}
}

// Close puts what was kept in the place of what was kept before, or, where the run was not whole, leaves that as it was.
func (k *Keeper) Close(whole bool) {
	if k == nil || k.f == nil {
		return
	}
	defer os.Remove(k.f.Name()) // where it has not got its name
	key, ofKey := k.j.key(k.asked)
	b, err := json.Marshal(keptHead{key, k.j.complaints[k.j.opening:], k.next, k.sought, k.brief})
	b = append(append(append(bytes.TrimSuffix(b, []byte("}")), `,"Answers":[`...), k.answers...), "]}"...)
	writeTable(k.w, k.at, b)
	if err := errors.Join(k.err, ofKey, err, k.w.Flush(), k.f.Close()); err == nil && whole && k.j.keepable() {
		os.Rename(k.f.Name(), k.j.keptPath())
	}
}

func (j *Job) keptPath() string {
	return filepath.Join(j.Survey.Dir, index.DerivedFolder, keptFile)
}

// keptEnd is how long the end of the file is.
const keptEnd = 20

// Kept gives what the last whole run answered of the stone of that id, or of the stones of that burial ground, letter case apart. Ok is false where there is no such
// run of these very inputs, decisions and precision, or one of the answers is not as it was written or does not pass fit, which may alter it: whoever hands a folder over can make the sums fit.
func (j *Job) Kept(precision float64, only string, fit func(a *Answer, brief bool) bool) (answers []Answer, ok bool) {
	defer j.stage("looking up kept answers")()
	f, table, at, err := j.openKept(precision)
	if err != nil {
		return nil, false
	}
	defer f.Close()
	meant := Gather[*keptAnswer](only)
	for i := range table.Answers {
		k := &table.Answers[i]
		meant.Add(k.Stone, k.Cemetery, k)
	}
	for _, k := range meant.All() {
		a, err := k.read(f, at)
		if err != nil || !fit(&a, table.Brief) {
			return nil, false
		}
		answers = append(answers, a)
	}
	for _, c := range table.Complaints {
		j.complain(c)
	}
	return answers, true
}

// openKept opens what the last whole run kept, where that is of these very inputs, decisions and precision; at is where the answers end.
func (j *Job) openKept(precision float64) (f *os.File, table *keptTable, at int64, err error) {
	f, err = os.Open(j.keptPath())
	if err != nil {
		return nil, nil, 0, err // before the digests are made, which take their time where nothing is kept
	}
	defer func() {
		if err != nil {
			f.Close()
		}
	}()
	asked, err := j.askedOf(precision)
	if err != nil {
		return nil, nil, 0, err
	}
	key, err := j.key(asked)
	if err != nil {
		return nil, nil, 0, err
	}
	quoted, err := json.Marshal(key)
	if err != nil {
		return nil, nil, 0, err
	}
	b, at, err := readTable(f)
	if err != nil {
		return nil, nil, 0, err
	}
	table = new(keptTable)
	if !bytes.HasPrefix(b, append([]byte(`{"Key":`), quoted...)) || json.Unmarshal(b, table) != nil {
		return nil, nil, 0, errKept
	}
	return f, table, at, nil
}

// A KeptRun is all that the last whole run printed.
type KeptRun struct {
	// Next are the stones to be asked about first; Sought reports whether the run looked for them.
	Next   []model.StoneID
	Sought bool

	f       *os.File
	at      int64
	answers []keptAnswer
}

// KeptRun gives what the last whole run printed. Ok is false where there is no such run of these very inputs, decisions and precision, or one of its answers is not as it was written
// or does not pass fit, which is asked from several goroutines. The caller closes it.
func (j *Job) KeptRun(precision float64, fit func(a *Answer, brief bool) bool) (run *KeptRun, ok bool) {
	defer j.stage("looking up kept answers")()
	f, table, at, err := j.openKept(precision)
	if err != nil {
		return nil, false
	}
	var unfit atomic.Bool
	InParallel(len(table.Answers), func(i int) {
		if unfit.Load() {
			return
		}
		if a, err := table.Answers[i].read(f, at); err != nil || !fit(&a, table.Brief) {
			unfit.Store(true)
		}
	})
	if unfit.Load() {
		f.Close()
		return nil, false
	}
	for _, c := range table.Complaints {
		j.complain(c)
	}
	return &KeptRun{Next: table.Next, Sought: table.Sought, f: f, at: at, answers: table.Answers}, true
}

// Each gives the answers in the order of the stones, as JSON or in words and not both, until one cannot be read.
func (r *KeptRun) Each(asJSON bool, tell func(*Answer)) error {
	for i := range r.answers {
		k := &r.answers[i]
		a, err := k.Answer, error(nil)
		if asJSON {
			a.JSON, err = k.part(r.f, r.at, k.At, k.JSON)
		} else {
			a.Text, err = k.part(r.f, r.at, k.TextAt, k.Text)
		}
		if err != nil {
			return fmt.Errorf("read the kept answers in %s: %w; run it again", r.f.Name(), err)
		}
		tell(&a)
	}
	return nil
}

// Close closes the file.
func (r *KeptRun) Close() { r.f.Close() }

var errKept = errors.New("is not as it was written")

// writeTable ends a file of kept things with the bytes of their table, which begins at that place; what goes wrong shows when w is flushed.
func writeTable(w *bufio.Writer, at int64, table []byte) {
	w.Write(table)
	end := binary.LittleEndian.AppendUint64(nil, uint64(at))
	end = binary.LittleEndian.AppendUint64(end, uint64(len(table)))
	w.Write(binary.LittleEndian.AppendUint32(end, crc32.ChecksumIEEE(table)))
}

// readTable reads the bytes of the table that writeTable has written, and where it begins.
func readTable(f *os.File) (table []byte, at int64, err error) {
	info, err := f.Stat()
	if err != nil || info.Size() < keptEnd {
		return nil, 0, errKept
	}
	var end [keptEnd]byte
	if _, err := f.ReadAt(end[:], info.Size()-keptEnd); err != nil {
		return nil, 0, errKept
	}
	at, n := int64(binary.LittleEndian.Uint64(end[:])), int64(binary.LittleEndian.Uint64(end[8:]))
	if at < 0 || n < 0 || at+n != info.Size()-keptEnd {
		return nil, 0, errKept
	}
	b := make([]byte, n)
	if _, err := f.ReadAt(b, at); err != nil || crc32.ChecksumIEEE(b) != binary.LittleEndian.Uint32(end[16:]) {
		return nil, 0, errKept
	}
	return b, at, nil
}

// read reads one answer whole; at is where the answers end.
func (k *keptAnswer) read(f *os.File, at int64) (Answer, error) {
	a := k.Answer
	var err, ofText error
	a.JSON, err = k.part(f, at, k.At, k.JSON)
	a.Text, ofText = k.part(f, at, k.TextAt, k.Text)
	if err := errors.Join(err, ofText); err != nil {
		return a, err
	}
	if crc32.Update(crc32.ChecksumIEEE(a.JSON), crc32.IEEETable, a.Text) != k.Sum {
		return a, errKept
	}
	return a, nil
}

// part reads some bytes of the answers, which end at to.
func (k *keptAnswer) part(f *os.File, to, from int64, n int) ([]byte, error) {
	if n < 0 || from < 0 || from > to || int64(n) > to-from {
		return nil, errKept
	}
	b := make([]byte, n)
	if _, err := f.ReadAt(b, from); err != nil && err != io.EOF {
		return nil, err
	}
	return b, nil
}
