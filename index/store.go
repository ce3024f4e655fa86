package index

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"os"
	"strings"
	"unsafe"

	"musterstone/model/room"
)

// A store is a file of values of one type, each with a checksum, and where each begins.
//
// The file is the values one after the other; each is its encoding followed by the four bytes of its CRC-32C.
type store struct {
	starts []uint64 // where each value begins; one more than there are values
	file   *os.File
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// A storeWriter appends values to a new store.
type storeWriter struct {
	starts []uint64
	at     uint64
	file   *os.File
	buf    []byte // what is not yet in the file
	about  int    // how many values may come
}

// createStore begins a store of about so many values.
func createStore(path string, about int) (*storeWriter, error) {
	f, err := os.Create(path)
	if err != nil {
		return nil, err
	}
	return &storeWriter{file: f, about: about}, nil
}

// storeBlock is how much is written at a time.
const storeBlock = 1 << 18

// add writes a value, whose encoding put appends to what it is given.
func (w *storeWriter) add(put func([]byte) []byte) error {
	from := len(w.buf)
	w.buf = put(w.buf)
	w.buf = binary.LittleEndian.AppendUint32(w.buf, crc32.Checksum(w.buf[from:], castagnoli))
	if n := len(w.starts); n == cap(w.starts) && n > w.about/16 && n < w.about { // an append makes room for a quarter more, and copies a long list often
		w.starts = room.For(w.starts, w.about+w.about/16-n+1)
	}
	w.starts = append(w.starts, w.at)
	w.at += uint64(len(w.buf) - from)
	if len(w.buf) < storeBlock {
		return nil
	}
	return w.flush()
}

func (w *storeWriter) flush() error {
	_, err := w.file.Write(w.buf)
	w.buf = w.buf[:0]
	return err
}

// close writes what is left.
func (w *storeWriter) close() error {
	w.starts = append(w.starts, w.at)
	return errors.Join(w.flush(), w.file.Close())
}

// openStore opens the file for reading.
func openStore(path string, starts []uint64) (*store, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && (len(starts) == 0 || uint64(info.Size()) != starts[len(starts)-1]) {
		err = errDamaged
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return &store{starts: starts, file: f}, nil
}

func (s *store) len() int { return len(s.starts) - 1 }

// read gives the encoding of value i, as a text of its own.
func (s *store) read(i int) (string, error) {
	from, to := s.starts[i], s.starts[i+1]
	if to < from+4 || to > s.starts[s.len()] {
		return "", errDamaged
	}
	b := make([]byte, to-from)
	if _, err := s.file.ReadAt(b, int64(from)); err != nil {
		return "", err
	}
	return checked(b)
}

// checked takes the checksum off an encoding, which is not to be written to any more.
func checked(b []byte) (string, error) {
	body := b[:len(b)-4]
	if crc32.Checksum(body, castagnoli) != binary.LittleEndian.Uint32(b[len(body):]) {
		return "", errDamaged
	}
	return unsafe.String(unsafe.SliceData(body), len(body)), nil
}

// A storeReader reads values that follow each other, a stretch of the file at a time. It is for one goroutine.
type storeReader struct {
	store    *store
	from, to int // the values in buf
	buf      []byte
}

// stretch is how many records or stones are read, and gone on with, at a time.
const stretch = 256

// read is store.read.
func (r *storeReader) read(i int) (string, error) {
	data, err := r.look(i)
	return strings.Clone(data), err
}

// look is read, but what it gives is good only until the next value is asked for.
func (r *storeReader) look(i int) (string, error) {
	s := r.store
	if i < r.from || i >= r.to {
		r.from, r.to = i, i
		end := min(i+stretch, s.len())
		from, to := s.starts[i], s.starts[end]
		if to < from || to-from > 64<<20 {
			return s.read(i)
		}
		if uint64(cap(r.buf)) < to-from {
			r.buf = make([]byte, to-from)
		}
		r.buf = r.buf[:to-from]
		if _, err := s.file.ReadAt(r.buf, int64(from)); err != nil {
			return "", err
		}
		r.to = end
	}
	base := s.starts[r.from]
	from, to := s.starts[i]-base, s.starts[i+1]-base
	if from > to || to-from < 4 || to > uint64(len(r.buf)) {
		return "", errDamaged
	}
	return checked(r.buf[from:to])
}

func (s *store) close() error { return s.file.Close() }
