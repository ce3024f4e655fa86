package index

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"reflect"
	"strings"

	"musterstone/index/texts"
)

// A codec writes plain values (structs of strings, numbers, slices and pointers, exported fields only) as short byte strings and
// reads them back equal. It follows the type by reflection, so a field added to the model is stored without a word here, and
// shape tells stores of different types apart.
//
// A struct is a bit mask of its fields that are not zero, and those fields in order. A string is a number of the lexicon, or
// 0, its length and its bytes.
type codec struct {
	root reflect.Type
}

var errDamaged = errors.New("the stored bytes are damaged")

func newCodec(v any) codec { return codec{root: reflect.TypeOf(v)} }

// shape is a digest of the type's structure.
func (c codec) shape() string {
	var b strings.Builder
	var walk func(t reflect.Type, depth int)
	walk = func(t reflect.Type, depth int) {
		if depth > 16 {
			panic("index: type " + t.String() + " is recursive")
		}
		b.WriteString(t.Kind().String())
		switch t.Kind() {
		case reflect.Struct:
			if t.NumField() > 64 {
				panic("index: type " + t.String() + " has more than 64 fields")
			}
			b.WriteString("{")
			for i := range t.NumField() {
				f := t.Field(i)
				if !f.IsExported() {
					panic("index: type " + t.String() + " has the unexported field " + f.Name)
				}
				b.WriteString(f.Name + " ")
				walk(f.Type, depth+1)
				b.WriteString(";")
			}
			b.WriteString("}")
		case reflect.Slice, reflect.Pointer:
			walk(t.Elem(), depth+1)
		case reflect.String, reflect.Bool, reflect.Int, reflect.Int64, reflect.Float64:
		default:
			panic("index: cannot store a value of kind " + t.Kind().String())
		}
	}
	walk(c.root, 0)
	h := fnv.New64a()
	h.Write([]byte(b.String()))
	return fmt.Sprintf("%016x", h.Sum64())
}

// A lexicon holds the strings that were met more than once, so that each is written, and held in memory, once. A nil lexicon has none.
type lexicon struct {
	book texts.Book
	once [1 << 16]uint32 // hashes of strings met once, by their low bits
}

const (
	lexiconWords  = 1 << 18
	lexiconLength = 48 // bytes of the longest word that is worth keeping
)

// number is the number of the word, from 1, or 0. A word met again is taken up.
func (l *lexicon) number(s string) uint64 {
	if l == nil || len(s) > lexiconLength {
		return 0
	}
	h := texts.Hash(s)
	if n, ok := l.book.Find(s, h); ok {
		return uint64(n) + 1
	}
	once := &l.once[(h>>7)%uint32(len(l.once))]
	if *once != h || l.book.Len() >= lexiconWords {
		*once = h
		return 0
	}
	n, _ := l.book.Enter(s, h, 0)
	return uint64(n) + 1
}

// keep is number for a word that is worth keeping, also where it is met for the first time.
func (l *lexicon) keep(s string) uint64 {
	h := texts.Hash(s)
	if n, ok := l.book.Find(s, h); ok || l.book.Len() < lexiconWords && len(s) <= lexiconLength {
		if !ok {
			n, _ = l.book.Enter(s, h, 0)
		}
		return uint64(n) + 1
	}
	return 0
}

// encode appends the value, of the codec's type, to b.
func (c codec) encode(b []byte, v any, l *lexicon) []byte {
	return encode(b, reflect.ValueOf(v), l)
}

func encode(b []byte, v reflect.Value, l *lexicon) []byte {
	switch v.Kind() {
	case reflect.String:
		s := v.String()
		n := l.number(s)
		b = binary.AppendUvarint(b, n)
		if n == 0 {
			b = binary.AppendUvarint(b, uint64(len(s)))
			b = append(b, s...)
		}
	case reflect.Bool:
		// Only fields that are not zero are written: true.
		b = append(b, 1)
	case reflect.Int, reflect.Int64:
		b = binary.AppendVarint(b, v.Int())
	case reflect.Float64:
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v.Float()))
	case reflect.Pointer:
		if v.IsNil() {
			return append(b, 0)
		}
		b = encode(append(b, 1), v.Elem(), l)
	case reflect.Slice:
		b = binary.AppendUvarint(b, uint64(v.Len()))
		for i := range v.Len() {
			b = encode(b, v.Index(i), l)
		}
	case reflect.Struct:
		var mask uint64
		n := v.NumField()
		for i := range n {
			if !isZero(v.Field(i)) {
				mask |= 1 << i
			}
		}
		b = binary.AppendUvarint(b, mask)
		for i := range n {
			if mask&(1<<i) != 0 {
				b = encode(b, v.Field(i), l)
			}
		}
	}
	return b
}

// isZero is v.IsZero, quicker for the kinds that occur.
func isZero(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.String:
		return v.Len() == 0
	case reflect.Slice:
		return v.IsNil()
	case reflect.Struct:
		for i := range v.NumField() {
			if !isZero(v.Field(i)) {
				return false
			}
		}
		return true
	}
	return v.IsZero()
}

// decode reads the value into what into points to, which must be the zero value of the codec's type; words are those of the lexicon. Strings share the memory of data.
func (c codec) decode(data string, into any, words []string) error {
	d := decoder{data: data, words: words}
	d.value(reflect.ValueOf(into).Elem())
	if d.bad || len(d.data) != 0 {
		return errDamaged
	}
	return nil
}

type decoder struct {
	data  string
	words []string
	bad   bool
}

func (d *decoder) uvarint() uint64 {
	if len(d.data) > 0 && d.data[0] < 0x80 { // as nearly all are
		x := d.data[0]
		d.data = d.data[1:]
		return uint64(x)
	}
	return d.longUvarint()
}

func (d *decoder) longUvarint() uint64 {
	var x uint64
	for i := range min(len(d.data), binary.MaxVarintLen64) {
		c := d.data[i]
		x |= uint64(c&0x7f) << (7 * i)
		if c < 0x80 {
			d.data = d.data[i+1:]
			return x
		}
	}
	d.bad = true
	return 0
}

func (d *decoder) value(v reflect.Value) {
	if d.bad {
		return
	}
	switch v.Kind() {
	case reflect.String:
		n := d.uvarint()
		if n > 0 {
			if n > uint64(len(d.words)) {
				d.bad = true
				return
			}
			v.SetString(d.words[n-1])
			return
		}
		size := d.uvarint()
		if size > uint64(len(d.data)) {
			d.bad = true
			return
		}
		v.SetString(d.data[:size])
		d.data = d.data[size:]
	case reflect.Bool:
		v.SetBool(d.uvarint() != 0)
	case reflect.Int, reflect.Int64:
		u := d.uvarint()
		x := int64(u >> 1)
		if u&1 != 0 {
			x = ^x
		}
		v.SetInt(x)
	case reflect.Float64:
		if len(d.data) < 8 {
			d.bad = true
			return
		}
		v.SetFloat(math.Float64frombits(binary.LittleEndian.Uint64([]byte(d.data[:8]))))
		d.data = d.data[8:]
	case reflect.Pointer:
		if d.uvarint() == 0 {
			return
		}
		v.Set(reflect.New(v.Type().Elem()))
		d.value(v.Elem())
	case reflect.Slice:
		n := d.uvarint()
		// Every element takes a byte at least.
		if n > uint64(len(d.data)) {
			d.bad = true
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), int(n), int(n)))
		for i := range int(n) {
			d.value(v.Index(i))
		}
	case reflect.Struct:
		mask := d.uvarint()
		n := v.NumField()
		if n < 64 && mask>>n != 0 {
			d.bad = true
			return
		}
		for i := range n {
			if mask&(1<<i) != 0 {
				d.value(v.Field(i))
			}
		}
	}
}

// AppendPlain appends a plain value (a struct of strings, numbers, slices and pointers, exported fields only) to b as a short byte string.
func AppendPlain(b []byte, v any) []byte { return newCodec(v).encode(b, v, nil) }

// ReadPlain reads what AppendPlain wrote into what into points to, which must be the zero value of the same type. Its strings share the memory of data.
func ReadPlain(data string, into any) error { return newCodec(into).decode(data, into, nil) }
