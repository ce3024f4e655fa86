package room

import (
	"slices"
	"testing"
	"unsafe"
)

func TestMore(t *testing.T) {
	var list []int
	grown := 0
	for i := range 5000 {
		if next := More(list); cap(next) != cap(list) {
			if grown++; len(list) > 0 && cap(next) < 2*cap(list) {
				t.Fatalf("a full list of %d has room for %d, less than twice as many", cap(list), cap(next))
			}
		}
		list = append(More(list), i)
	}
	for i, n := range list {
		if i != n {
			t.Fatalf("element %d is %d", i, n)
		}
	}
	if grown > 14 {
		t.Errorf("room was made %d times for 5000 elements", grown)
	}
	if got := More(make([]int, 3, 4)); len(got) != 3 || cap(got) != 4 {
		t.Errorf("a list of 3 with room for 4 became one of %d with room for %d", len(got), cap(got))
	}
}

func TestFor(t *testing.T) {
	for _, n := range []int{0, 1, 1000, 400_000} {
		list := make([]int32, n)
		for i := range list {
			list[i] = int32(i)
		}
		more := For(list, n/2+1)
		if !slices.Equal(more, list) || cap(more) < n+n/2+1 {
			t.Fatalf("%d elements, with room for %d more: they are others, or there is room for %d", n, n/2+1, cap(more))
		}
		if again := For(more, n/2+1); unsafe.SliceData(again) != unsafe.SliceData(more) {
			t.Errorf("%d elements with room for more were copied", n)
		}
	}
}
