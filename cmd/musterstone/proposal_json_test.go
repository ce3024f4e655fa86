package main

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"musterstone/model"
)

// filled sets every field of a value, lists with two elements; at random it leaves some as they are.
func filled(r *rand.Rand, v reflect.Value, whole bool) {
	if !whole && r.IntN(4) == 0 {
		return
	}
	switch v.Kind() {
	case reflect.String:
		texts := []string{"Baker", "Bikor", "Bakor", "O\"Neil\\", "W[..]liam <b>&", "Müller\u2028", "a\tb\x01\x7f", "\xff", "𝄞"}
		v.SetString(texts[r.IntN(len(texts))])
	case reflect.Float64:
		numbers := []float64{1e-7, -3.5e-21, 1e-6, 1e21, 123456.789, math.Copysign(0, -1), 5e-324, r.NormFloat64(), math.Exp2(200 * r.NormFloat64())}
		v.SetFloat(numbers[r.IntN(len(numbers))])
	case reflect.Int:
		v.SetInt(int64(1 + r.IntN(1000)))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		filled(r, v.Elem(), whole)
	case reflect.Slice:
		n := r.IntN(3)
		if whole {
			n = 2
		}
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			filled(r, v.Index(i), whole)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			filled(r, v.Field(i), whole)
		}
	}
}

// TestProposalLine: the line is what encoding/json prints, whatever is in the proposal: a field that the model gains is missed here first.
func TestProposalLine(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var w jsonWriter // one for all, as in a run: it remembers numbers
	for i := range 2000 {
		var p model.Proposal
		filled(r, reflect.ValueOf(&p).Elem(), i < 50)
		var want bytes.Buffer
		if err := jsonLines(&want, []*model.Proposal{&p}); err != nil {
			t.Fatal(err)
		}
		w.b = w.b[:0]
		err := w.proposal(&p)
		got := w.b
		if err != nil || !bytes.Equal(got, want.Bytes()) {
			t.Fatalf("error %v\ngot  %swant %s", err, got, want.Bytes())
		}
		if !json.Valid(got) {
			t.Fatalf("no JSON: %s", got)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1)} {
		if err := new(jsonWriter).proposal(&model.Proposal{None: x}); err == nil {
			t.Errorf("%v is printed", x)
		}
	}
}

// TestText: a text of any length with any byte at any place is what encoding/json makes of it.
func TestText(t *testing.T) {
	for length := 1; length <= 18; length++ {
		for at := range length {
			for c := range 256 {
				b := bytes.Repeat([]byte("o"), length)
				b[at] = byte(c)
				var w jsonWriter
				w.text(string(b))
				var want bytes.Buffer
				enc := json.NewEncoder(&want)
				enc.SetEscapeHTML(false)
				if err := enc.Encode(string(b)); err != nil {
					t.Fatal(err)
				}
				if got := bytes.TrimSuffix(want.Bytes(), []byte("\n")); w.err != nil || !bytes.Equal(w.b, got) {
					t.Fatalf("%q: %s, want %s", b, w.b, got)
				}
			}
		}
	}
}
