// Package room makes room for long lists that grow. Memory that is touched for the first time is dear, since the system has to find and clear each page of it, and so is copying: a list that an
// append makes room for, a quarter more at a time, touches five times the memory that it takes in the end.
package room

import "slices"

// More is the list with room for one more element at least. A full one gets room for as many again.
func More[T any](list []T) []T {
	if len(list) < cap(list) {
		return list
	}
	return slices.Grow(list, max(1, len(list)))
}

// For is the list with room for n more elements, as slices.Grow makes it, but that the room is not touched before it is filled.
func For[T any](list []T, n int) []T {
	if cap(list)-len(list) >= n {
		return list
	}
	return append(make([]T, 0, len(list)+n), list...)
}
