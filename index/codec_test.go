package index

import (
	"encoding/binary"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/same"
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

// TestCodec writes stones with every field set, and reads them back equal.
func TestCodec(t *testing.T) {
	for i := range 3 { // the third is zero
		var stone, got model.Stone
		if n := 100 * i; i < 2 {
			fill(reflect.ValueOf(&stone).Elem(), &n)
		}
		l := new(lexicon)
		b := stoneCodec().encode(nil, stone, l)
		if err := stoneCodec().decode(string(b), &got, l.book.List()); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(stone, got); d != "" {
			t.Errorf("stone %d (-stored +read):\n%s", i, d)
		}
	}
}

// leaves gives do every field of a value that has no fields of its own.
func leaves(v reflect.Value, do func(reflect.Value)) {
	if v.Kind() == reflect.Struct {
		for i := range v.NumField() {
			leaves(v.Field(i), do)
		}
		return
	}
	do(v)
}

// TestRecordStore stores records with every field set, with one alone, and with all the same but one; and reads them back equal.
func TestRecordStore(t *testing.T) {
	if strange := strangeFields(); len(strange) > 0 {
		t.Errorf("the model has gained %q: number them in model/same, write and read them in sharecodec.go, then name them in ownFields", strange)
	}
	full := func() *model.Record {
		r, n := new(model.Record), 0
		fill(reflect.ValueOf(r).Elem(), &n)
		return r
	}
	leaf := func(r *model.Record, i int) (v reflect.Value) {
		k := 0
		leaves(reflect.ValueOf(r).Elem(), func(f reflect.Value) {
			if k == i {
				v = f
			}
			k++
		})
		return v
	}
	records := []*model.Record{{}, full(), {}, full()}
	fields := 0
	leaves(reflect.ValueOf(new(model.Record)).Elem(), func(reflect.Value) { fields++ })
	for i := range fields {
		only, other := new(model.Record), full()
		n := 1000 + i
		fill(leaf(only, i), &n)
		n = 2000 + 3*i
		fill(leaf(other, i), &n)
		if f := leaf(other, i); f.Kind() == reflect.Bool {
			f.SetBool(false)
		}
		records = append(records, only, other)
		if leaf(other, i).Kind() == reflect.Slice { // empty, and not nil
			empty := new(model.Record)
			leaf(empty, i).Set(reflect.MakeSlice(leaf(empty, i).Type(), 0, 0))
			if i > 4 { // written cells are not told apart so
				records = append(records, empty)
			}
		}
	}
	// Texts that are cells, with blanks about them, in part, and blank.
	for _, residence := range []string{"Dane Co.", "Dane", "Co.", " "} {
		r := &model.Record{ID: "R", Written: []model.Cell{{Column: "id", Value: "R"}, {Column: "home", Value: "  Dane Co. "}, {Column: "blank", Value: "   "}}}
		r.Person.Residence = residence
		if i := strings.Index(r.Written[1].Value, residence); i >= 0 {
			r.Person.Residence = r.Written[1].Value[i : i+len(residence)]
		}
		r.Service.Remarks = r.Written[0].Value
		records = append(records, r)
	}
	path := filepath.Join(t.TempDir(), "all"+storeSuffix)
	w, err := createStore(path, 0)
	if err != nil {
		t.Fatal(err)
	}
	s, collector := newSharer(), same.NewCollector()
	var numbers []sharedNumbers
	for range 2 { // the second time all is known
		for _, r := range records {
			batch := collector.Take([]*model.Record{r})
			of := s.reader(batch)
			n := s.share(batch, of, batch.Rows[0], s.file(batch.File))
			numbers = append(numbers, n)
			if err := w.add(func(b []byte) []byte { return s.put(b, batch, of, batch.Rows[0], &n) }); err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(r, batch.Record(batch.Rows[0])); d != "" {
				t.Errorf("a record (-given +as its batch has it):\n%s", d)
			}
		}
	}
	if err := w.close(); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(numbers[:len(records)], numbers[len(records):]) {
		t.Error("the same records have other numbers when they come again")
	}
	lists := s.lists()
	if len(lists.Words) == 0 {
		t.Error("no word was taken into the lexicon")
	}
	// The shared values go to a file and come back.
	var back shared
	if err := (codec{}).decode(string(newCodec(lists).encode(nil, lists, nil)), &back, nil); err != nil {
		t.Fatal(err)
	}
	file, err := openStore(path, w.starts)
	if err != nil {
		t.Fatal(err)
	}
	defer file.close()
	stored := storeReader{store: file}
	for i := range 2 * len(records) {
		want := records[i%len(records)]
		var got model.Record
		data, err := file.read(i)
		if again, err2 := stored.read(i); again != data || err2 != nil {
			t.Fatalf("record %d: read in a stretch it is another, error %v", i, err2)
		}
		if err == nil {
			_, err = back.get(data, &got)
		}
		if err != nil {
			t.Fatalf("record %d: %v", i, err)
		}
		if d := cmp.Diff(want, &got); d != "" {
			t.Errorf("record %d (-stored +read):\n%s", i, d)
		}
		for cut := range len(data) {
			var part model.Record
			if _, err := back.get(data[:cut], &part); err == nil {
				t.Fatalf("record %d: the first %d of %d bytes are read without an error", i, cut, len(data))
			}
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
	l := new(lexicon)
	for i := range 50000 {
		l.number(fmt.Sprintf("id-%d", i))
		for k := range 2 {
			l.number(fmt.Sprintf("often-%d", (i/2+k)%7000))
		}
	}
	seen := map[uint64]bool{}
	for i := range 7000 {
		w := fmt.Sprintf("often-%d", i)
		n := l.number(w)
		if n == 0 || l.book.At(int(n)-1) != w || seen[n] {
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
		if recordCodec().decode(string(b), &got, words) != nil {
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

// ownFields are the fields of a record, and of what it is made of, that the functions of this package write and read by name.
var ownFields = map[reflect.Type]string{
	reflect.TypeFor[model.Record]():  " ID Source Written Claim ",
	reflect.TypeFor[model.Claim]():   " Person Service Home ",
	reflect.TypeFor[model.Person]():  " Name Born Died Age Birthplace Residence DeathPlace Buried Relation ",
	reflect.TypeFor[model.Service](): " Rank RankOut Brevet Unit Branch Side Conflicts Enlisted MusteredIn MusteredOut Awards Remarks Written ",
	reflect.TypeFor[model.Name]():    " Surname Given Middle Suffix GivenOr Other Written ",
	reflect.TypeFor[model.Source]():  " File Row Subject ",
	reflect.TypeFor[model.Unit]():    " Body State Number NumberLost Arm Kind Company Name Division Marks Other Written ",
	reflect.TypeFor[model.Cell]():    " Column Value ",
	reflect.TypeFor[date.Date]():     " EDTF From To Approximate Uncertain Written ",
	reflect.TypeFor[date.Day]():      " Year Month Day ",
	reflect.TypeFor[date.Age]():      " Years Months Days HasMonths HasDays Approximate Known Written ",
}

// strangeFields are the fields of ownFields' types that are not named there, because the model has gained them since.
func strangeFields() []string {
	var list []string
	for t, own := range ownFields {
		for i := range t.NumField() {
			if name := t.Field(i).Name; !strings.Contains(own, " "+name+" ") {
				list = append(list, t.String()+"."+name)
			}
		}
	}
	slices.Sort(list)
	return list
}

// TestPairsDamaged: a number of pairs that the bytes behind it cannot hold is damage, and no room is made for it.
func TestPairsDamaged(t *testing.T) {
	for _, n := range []uint64{3, 1 << 40, 1 << 63, 1<<64 - 1} {
		d := recordReader{decoder: decoder{data: string(append(binary.AppendUvarint(nil, n), 0, 0, 0, 0))}}
		if got := d.cellsOf(&columnList{Pairs: true}); got != 0 || !d.bad {
			t.Errorf("%d pairs in four bytes: %d cells, damaged %v", n, got, d.bad)
		}
	}
	d := recordReader{decoder: decoder{data: string([]byte{2, 0, 0, 0, 0})}}
	if got := d.cellsOf(&columnList{Pairs: true}); got != 4 || d.bad {
		t.Errorf("two pairs: %d cells, damaged %v", got, d.bad)
	}
}
