package link

import (
	"reflect"
	"strings"
	"testing"
)

// TestPartIsWhole: everything that a weighed stone holds is written, but for what only lasts while it is weighed, stands for rows, or follows from the subject.
func TestPartIsWhole(t *testing.T) {
	left := map[string]bool{"rows": true, "views": true, "stone": true, "register": true}
	wire := reflect.TypeFor[weighedOnWire]()
	for _, f := range reflect.VisibleFields(reflect.TypeFor[weighed]()) {
		if _, ok := wire.FieldByName(strings.ToUpper(f.Name[:1]) + f.Name[1:]); !ok && !left[f.Name] {
			t.Errorf("weighed.%s is not written: add it to weighedOnWire, MarshalBinary and UnmarshalBinary", f.Name)
		}
	}
}

// TestPartReadsDamage: bytes that are no part are told.
func TestPartReadsDamage(t *testing.T) {
	p := &Part{places: []int{3}, all: []weighed{{subject: subject("s", "John Doe", ""), standing: Standing{Veteran: .5}}}}
	b, err := p.MarshalBinary()
	if err != nil {
		t.Fatal(err)
	}
	got := &Part{}
	if err := got.UnmarshalBinary(b); err != nil || got.Len() != 1 || got.Place(0) != 3 || got.all[0].standing.Veteran != .5 {
		t.Errorf("%+v, %v", got, err)
	}
	if err := got.UnmarshalBinary(b[:len(b)/2]); err == nil {
		t.Error("half a part is read")
	}
}
