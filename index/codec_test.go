package index

import (
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// fill sets every field of a value, at any depth, to something that is not zero and not like its neighbours.
func fill(v reflect.Value, n *int) {
	*n++
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprintf("text %d", *n))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(*n) * (1 - 2*int64(*n%2)))
	case reflect.Float64:
		v.SetFloat(float64(*n) / 3)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), n)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(v.Index(0), n)
		fill(v.Index(1), n)
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), n)
		}
	}
}

// TestCodec stores records and stones with every field set, and reads them back equal: from memory and from the file.
func TestCodec(t *testing.T) {
	var records [3]model.Record
	var stones [3]model.Stone
	for i := range 2 { // the third stays zero
		n := 100 * i
		fill(reflect.ValueOf(&records[i]).Elem(), &n)
		fill(reflect.ValueOf(&stones[i]).Elem(), &n)
	}
	records[1].Source.File = records[0].Source.File // a word met twice, and below a third time
	records[1].Person.Name.Given = records[0].Source.File
	for _, memory := range []int64{0, math.MaxInt64} {
		path := filepath.Join(t.TempDir(), "all"+storeSuffix)
		w, err := createStore(path, recordCodec())
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range records {
			if err := w.add(r); err != nil {
				t.Fatal(err)
			}
		}
		if err := w.close(); err != nil {
			t.Fatal(err)
		}
		if len(w.words.words) == 0 {
			t.Error("no word was taken into the lexicon")
		}
		s, err := openStore(path, recordCodec(), w.words.words, w.starts, memory)
		if err != nil {
			t.Fatal(err)
		}
		for i := range records {
			var got model.Record
			if err := s.read(i, &got); err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(records[i], got); d != "" {
				t.Errorf("record %d, memory %d (-stored +read):\n%s", i, memory, d)
			}
		}
		if err := s.close(); err != nil {
			t.Error(err)
		}
	}
	for i := range stones {
		l := newLexicon()
		b := stoneCodec().encode(nil, stones[i], l)
		var got model.Stone
		if err := stoneCodec().decode(string(b), &got, l); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(stones[i], got); d != "" {
			t.Errorf("stone %d (-stored +read):\n%s", i, d)
		}
	}
}

// TestShape tells types apart that differ in one field.
func TestShape(t *testing.T) {
	type a struct{ X, Y string }
	type b struct{ X, Z string }
	type c struct {
		X string
		Y int
	}
	shapes := map[string]any{}
	for _, v := range []any{a{}, b{}, c{}, []a{}, model.Record{}, model.Stone{}} {
		s := newCodec(v).shape()
		if old, ok := shapes[s]; ok {
			t.Errorf("%T and %T have the same shape", old, v)
		}
		shapes[s] = v
		if again := newCodec(v).shape(); again != s {
			t.Errorf("%T has two shapes", v)
		}
	}
}

// TestLexicon takes up words that come again, among very many that do not.
func TestLexicon(t *testing.T) {
	l := newLexicon()
	for i := range 50000 {
		l.find(fmt.Sprintf("id-%d", i))
		for k := range 2 {
			l.find(fmt.Sprintf("often-%d", (i/2+k)%7000))
		}
	}
	seen := map[uint64]bool{}
	for i := range 7000 {
		w := fmt.Sprintf("often-%d", i)
		n := l.find(w)
		if n == 0 || l.words[n-1] != w || seen[n] {
			t.Fatalf("%s has number %d", w, n)
		}
		seen[n] = true
	}
}

// FuzzDecode feeds bytes that no codec wrote: decode may refuse them but not fail otherwise.
func FuzzDecode(f *testing.F) {
	var r model.Record
	n := 0
	fill(reflect.ValueOf(&r).Elem(), &n)
	words := []string{"a", "b"}
	f.Add(recordCodec().encode(nil, r, nil))
	f.Add([]byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x01})
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, b []byte) {
		var got model.Record
		if recordCodec().decode(string(b), &got, &lexicon{words: words}) != nil {
			return
		}
		// What was read can be written and read again.
		again := recordCodec().encode(nil, got, nil)
		var twice model.Record
		if err := recordCodec().decode(string(again), &twice, nil); err != nil {
			t.Fatalf("read %+v, but not what was written of it: %v", got, err)
		}
	})
}
