package main

import (
	"bytes"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"musterstone/model"
)

// fillAny puts values of every sort into a value, some of them empty.
func fillAny(r *rand.Rand, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if r.IntN(4) > 0 {
			v.Set(reflect.New(v.Type().Elem()))
			fillAny(r, v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fillAny(r, v.Field(i))
		}
	case reflect.Slice:
		if n := r.IntN(5); n > 0 {
			v.Set(reflect.MakeSlice(v.Type(), n-1, n-1))
			for i := range n - 1 {
				fillAny(r, v.Index(i))
			}
		}
	case reflect.String:
		texts := []string{"", "Smith", `O"Neil \ <b> & 'x'`, "Müller\u2028", "a\x00b\x7f\n", "\xff\xfe", "20th Maine Infantry"}
		v.SetString(texts[r.IntN(len(texts))])
	case reflect.Float64:
		numbers := []float64{0, math.Copysign(0, -1), 1, -3.25, 1e-6, 9.99e-7, -1e-9, 1e20, 1e21, 3e25, 5e-324, math.MaxFloat64, r.NormFloat64() * 8, r.Float64()}
		v.SetFloat(numbers[r.IntN(len(numbers))])
	case reflect.Int:
		v.SetInt(int64(r.IntN(3) * 100))
	case reflect.Bool:
		v.SetBool(r.IntN(2) == 0)
	default:
		panic("no values of the kind " + v.Kind().String())
	}
}

// TestProposalJSON sets the proposals' own JSON beside that of encoding/json, with every field filled.
func TestProposalJSON(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 3000 {
		var p model.Proposal
		fillAny(r, reflect.ValueOf(&p).Elem())
		var want bytes.Buffer
		if err := jsonLines(&want, []*model.Proposal{&p}); err != nil {
			t.Fatal(err)
		}
		got, err := proposalJSON(&p)
		if err != nil || !bytes.Equal(got, want.Bytes()) {
			t.Fatalf("%v\n got %s\nwant %s", err, got, want.Bytes())
		}
	}
	if _, err := proposalJSON(&model.Proposal{None: math.NaN()}); err == nil {
		t.Error("no error for what is no number")
	}
}
