package index

import (
	"os"
	"unsafe"

	"github.com/blevesearch/mmap-go"
)

// A mapped file is a derived file whose bytes are read where they lie: the system holds in memory what is used of it, and gives that back when memory is
// short.
type mapped struct {
	bytes []byte // not to be written to, nor used after close
	m     mmap.MMap
}

func mapFile(path string) (mapped, error) {
	f, err := os.Open(path)
	if err != nil {
		return mapped{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || info.Size() == 0 {
		return mapped{}, err // nothing can be mapped of an empty file
	}
	m, err := mmap.Map(f, mmap.RDONLY, 0)
	if err != nil {
		return mapped{}, &os.PathError{Op: "map", Path: path, Err: err}
	}
	return mapped{bytes: m, m: m}, nil
}

func (m *mapped) close() error {
	if m.m == nil {
		return nil
	}
	m.bytes = nil
	return m.m.Unmap()
}

// Numbers of whole rows and postings lie in derived files as they lie in memory on little-endian machines: all that Go runs on today but s390x and
// some kinds of mips and ppc64, where derived files are of no use to another kind of machine, but of the same use to their own.

// viewOf gives the bytes as a list, where they lie; bytes must begin at a multiple of eight bytes in a mapped file or a list of numbers.
func viewOf[T uint32 | uint64 | head | row](b []byte) []T {
	var one T
	if len(b) == 0 {
		return nil
	}
	return unsafe.Slice((*T)(unsafe.Pointer(unsafe.SliceData(b))), len(b)/int(unsafe.Sizeof(one)))
}

// bytesOf gives a list as bytes, where they lie.
func bytesOf[T uint32 | uint64 | head | row](list []T) []byte {
	var one T
	if len(list) == 0 {
		return nil
	}
	return unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(list))), len(list)*int(unsafe.Sizeof(one)))
}
