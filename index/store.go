package index

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"unsafe"
)

// A store is a file of values of one type, each with a checksum, and where each begins.
//
// The file is the values one after the other; each is its encoding followed by the four bytes of its CRC-32C.
type store struct {
	codec  codec
	words  *lexicon
	starts []uint64 // where each value begins; one more than there are values
	file   *os.File // nil where the whole is in memory
	whole  string
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// A storeWriter appends values to a new store.
type storeWriter struct {
	codec  codec
	words  *lexicon
	starts []uint64
	at     uint64
	file   *os.File
	buf    *bufio.Writer
	one    []byte
}

func createStore(path string, c codec) (*storeWriter, error) {
	f, err := os.Create(path)
	if err != nil {
		return nil, err
	}
	return &storeWriter{codec: c, words: newLexicon(), file: f, buf: bufio.NewWriterSize(f, 1<<18)}, nil
}

func (w *storeWriter) add(v any) error {
	w.one = w.codec.encode(w.one[:0], v, w.words)
	w.one = binary.LittleEndian.AppendUint32(w.one, crc32.Checksum(w.one, castagnoli))
	w.starts = append(w.starts, w.at)
	w.at += uint64(len(w.one))
	_, err := w.buf.Write(w.one)
	return err
}

// close writes what is left.
func (w *storeWriter) close() error {
	w.starts = append(w.starts, w.at)
	return errors.Join(w.buf.Flush(), w.file.Close())
}

// openStore opens the file for reading, and takes it into memory where it has no more than memory bytes.
func openStore(path string, c codec, words []string, starts []uint64, memory int64) (*store, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, err
	}
	if len(starts) == 0 || uint64(info.Size()) != starts[len(starts)-1] {
		f.Close()
		return nil, errDamaged
	}
	s := &store{codec: c, words: &lexicon{words: words}, starts: starts, file: f}
	if info.Size() <= memory {
		data := make([]byte, info.Size())
		_, err := io.ReadFull(f, data)
		f.Close()
		s.file = nil
		if err != nil {
			return nil, err
		}
		s.whole = unsafe.String(unsafe.SliceData(data), len(data)) // data is not written to again
	}
	return s, nil
}

func (s *store) len() int { return len(s.starts) - 1 }

// read decodes value i into what into points to.
func (s *store) read(i int, into any) error {
	from, to := s.starts[i], s.starts[i+1]
	if to < from+4 {
		return errDamaged
	}
	var data string
	if s.file == nil {
		if to > uint64(len(s.whole)) {
			return errDamaged
		}
		data = s.whole[from:to]
	} else {
		b := make([]byte, to-from)
		if _, err := s.file.ReadAt(b, int64(from)); err != nil {
			return fmt.Errorf("read %s: %w", s.file.Name(), err)
		}
		data = unsafe.String(unsafe.SliceData(b), len(b)) // b is not written to again
	}
	body, sum := data[:len(data)-4], data[len(data)-4:]
	if crc32.Checksum(unsafe.Slice(unsafe.StringData(body), len(body)), castagnoli) != binary.LittleEndian.Uint32([]byte(sum)) {
		return errDamaged
	}
	return s.codec.decode(body, into, s.words)
}

func (s *store) close() error {
	if s.file == nil {
		return nil
	}
	return s.file.Close()
}
