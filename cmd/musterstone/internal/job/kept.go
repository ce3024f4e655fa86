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

	"musterstone/index"
	"musterstone/model"
)

// What a whole run answered is kept beside the index, so that a question about one stone or one burial ground is answered at once, and with what the whole run said: a
// stone's answer hangs on all others, by what is learned from them and by the men whom they claim.
//
// The file is the answers, those of a stretch one after the other as JSON and then in words, then a table of them as JSON, then where the table begins, how long it is and its checksum. It is good for the very inputs,
// decisions, precision and program of that run, and for nothing else.
const keptFile = "answers.bin"

// mostKept is the most that is kept; a run with more is not.
const mostKept = 2 << 30

// Answer is what a run says of one stone.
type Answer struct {
	Stone    model.StoneID `json:"stone"`
	Cemetery string        `json:"cemetery"`
	JSON     []byte        `json:"-"` // the proposal as it is printed
	Text     []byte        `json:"-"` // the same in words
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
	Complaints []model.Complaint
}

type keptAnswer struct {
	Answer
	At         int64  `json:"at"`      // of the JSON
	TextAt     int64  `json:"text_at"` // of the words
	JSON, Text int    // lengths
	Sum        uint32 `json:"sum"` // CRC-32 of both
}

// key tells one run from another.
func (j *Job) key(precision float64) (string, error) {
	digests, err := j.Digests()
	if err != nil {
		return "", err
	}
	decisions, err := os.ReadFile(j.LedgerPath())
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("read the decisions: %w", err)
	}
	sum := sha256.Sum256(decisions)
	return fmt.Sprintf("%s %s %v", inputsDigest(j.opts.Program, digests), hex.EncodeToString(sum[:]), precision), nil
}

// A Keeper writes down the answers of a whole run as they are made. The nil Keeper keeps nothing.
type Keeper struct {
	j       *Job
	key     string
	answers []byte // the table's, as JSON, parted by commas
	f       *os.File
	w       *bufio.Writer
	at      int64
	err     error
}

// Keep begins to keep the answers of a whole run at the precision given; nil where that cannot be: then the next question takes a whole run too.
func (j *Job) Keep(precision float64) *Keeper {
	key, err := j.key(precision)
	if err != nil {
		return nil
	}
	f, err := unnamed(j.keptPath())
	if err != nil {
		return nil
	}
	return &Keeper{j: j, key: key, f: f, w: bufio.NewWriterSize(f, 1<<18)}
}

// Add keeps the answers of the next stones, which stand one after the other in a list of JSON and one of words.
func (k *Keeper) Add(answers []Answer, asJSON, inWords []byte) {
	if k == nil || k.err != nil {
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

// Close puts what was kept in the place of what was kept before, or, where the run was not whole, leaves that as it was.
func (k *Keeper) Close(whole bool) {
	if k == nil {
		return
	}
	defer os.Remove(k.f.Name()) // where it has not got its name
	b, err := json.Marshal(keptHead{k.key, k.j.complaints})
	b = append(append(append(b[:len(b)-1], `,"Answers":[`...), k.answers...), "]}"...)
	k.w.Write(b)
	end := binary.LittleEndian.AppendUint64(nil, uint64(k.at))
	end = binary.LittleEndian.AppendUint64(end, uint64(len(b)))
	end = binary.LittleEndian.AppendUint32(end, crc32.ChecksumIEEE(b))
	k.w.Write(end)
	if err := errors.Join(k.err, err, k.w.Flush(), k.f.Close()); err == nil && whole && !k.j.Unread() {
		os.Rename(k.f.Name(), k.j.keptPath())
	}
}

func (j *Job) keptPath() string {
	return filepath.Join(j.Survey.Dir, index.DerivedFolder, keptFile)
}

// keptEnd is how long the end of the file is.
const keptEnd = 20

// Kept gives what the last whole run answered of the stone of that id, or of the stones of that burial ground, letter case apart. Ok is false where there is no such
// run of these very inputs, decisions and precision.
func (j *Job) Kept(precision float64, only string) (answers []Answer, ok bool) {
	defer j.stage("looking up kept answers")()
	key, err := j.key(precision)
	if err != nil {
		return nil, false
	}
	f, err := os.Open(j.keptPath())
	if err != nil {
		return nil, false
	}
	defer f.Close()
	b, at, err := readTable(f)
	if err != nil {
		return nil, false
	}
	quoted, err := json.Marshal(key)
	if err != nil || !bytes.HasPrefix(b, append([]byte(`{"Key":`), quoted...)) {
		return nil, false
	}
	var table keptTable
	if json.Unmarshal(b, &table) != nil {
		return nil, false
	}
	meant := Gather[*keptAnswer](only)
	for i := range table.Answers {
		k := &table.Answers[i]
		meant.Add(k.Stone, k.Cemetery, k)
	}
	for _, k := range meant.All() {
		a, err := k.read(f, at)
		if err != nil {
			return nil, false
		}
		answers = append(answers, a)
	}
	for _, c := range table.Complaints {
		j.complain(c)
	}
	return answers, true
}

var errKept = errors.New("is not as it was written")

// readTable reads the bytes of the table at the end of kept answers, and where it begins.
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

// read reads one answer; at is where the answers end.
func (k *keptAnswer) read(f *os.File, at int64) (Answer, error) {
	a := k.Answer
	part := func(from int64, n int) ([]byte, error) {
		if n < 0 || from < 0 || from > at || int64(n) > at-from {
			return nil, errKept
		}
		b := make([]byte, n)
		if _, err := f.ReadAt(b, from); err != nil && err != io.EOF {
			return nil, err
		}
		return b, nil
	}
	var err, ofText error
	a.JSON, err = part(k.At, k.JSON)
	a.Text, ofText = part(k.TextAt, k.Text)
	if err := errors.Join(err, ofText); err != nil {
		return a, err
	}
	if crc32.Update(crc32.ChecksumIEEE(a.JSON), crc32.IEEETable, a.Text) != k.Sum || !json.Valid(a.JSON) { // whoever hands a folder over can make the sum fit
		return a, errKept
	}
	return a, nil
}
