package main

import (
	"slices"
	"testing"
)

func TestZeros(t *testing.T) {
	known := func(ids ...string) func(string) bool {
		return func(id string) bool { return slices.Contains(ids, id) }
	}
	for _, tt := range []struct {
		id    string
		known []string
		want  string
	}{
		{"7", []string{"007"}, "007"},
		{"007", []string{"7"}, "7"},
		{"7", []string{"7"}, ""},
		{"7", []string{"07", "007"}, ""}, // two
		{"7", []string{"70"}, ""},
		{"M-7", []string{"M-07"}, ""}, // no spreadsheet takes it for a number
		{"0", []string{"000"}, "000"},
		{"", []string{""}, ""},
	} {
		if got, ok := zeros(tt.id, known(tt.known...)); got != tt.want || ok != (tt.want != "") {
			t.Errorf("zeros(%q) among %q = %q, %v, want %q", tt.id, tt.known, got, ok, tt.want)
		}
	}
}
