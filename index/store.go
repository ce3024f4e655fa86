package index

import (
	"bufio"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"os"
	"unsafe"
)

// A store is a file of values of one type, each with a checksum, and where each begins.
//
// The file is the values one after the other; each is its encoding followed by the four bytes of its CRC-32C.
type store struct {
	starts []uint64 // where each value begins; one more than there are values
	file   mapped
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// A storeWriter appends values to a new store.
type storeWriter struct {
	starts []uint64
	at     uint64
	file   *os.File
	buf    *bufio.Writer
	one    []byte
}

func createStore(path string) (*storeWriter, error) {
	f, err := os.Create(path)
	if err != nil {
		return nil, err
	}
	return &storeWriter{file: f, buf: bufio.NewWriterSize(f, 1<<18)}, nil
}

// add writes a value, whose encoding put appends to what it is given.
func (w *storeWriter) add(put func([]byte) []byte) error {
	w.one = put(w.one[:0])
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

// openStore opens the file for reading.
func openStore(path string, starts []uint64) (*store, error) {
	m, err := mapFile(path)
	if err != nil {
		return nil, err
	}
	if len(starts) == 0 || uint64(len(m.bytes)) != starts[len(starts)-1] {
		m.close()
		return nil, errDamaged
	}
	return &store{starts: starts, file: m}, nil
}

func (s *store) len() int { return len(s.starts) - 1 }

// read gives the encoding of value i, as a text of its own.
func (s *store) read(i int) (string, error) {
	from, to := s.starts[i], s.starts[i+1]
	if to < from+4 || to > uint64(len(s.file.bytes)) {
		return "", errDamaged
	}
	b := append([]byte(nil), s.file.bytes[from:to]...)
	body := b[:len(b)-4]
	if crc32.Checksum(body, castagnoli) != binary.LittleEndian.Uint32(b[len(body):]) {
		return "", errDamaged
	}
	return unsafe.String(unsafe.SliceData(body), len(body)), nil // b is not written to again
}

func (s *store) close() error { return s.file.close() }
