package intake

import (
	"slices"
	"testing"

	"musterstone/vocab"
)

// TestColumnNames checks that every name of the table column-names leads to a term in the tables for which it stands, and that none is given twice.
func TestColumnNames(t *testing.T) {
	seen := map[termKey]string{}
	for _, row := range vocab.Rows("column-names") {
		on := row.Get("on")
		if !slices.Contains([]string{"both", "stones", "roster"}, on) {
			t.Errorf("%s: on %q", row.Where(), on)
		}
		for _, records := range []bool{false, true} {
			if on == "stones" && records || on == "roster" && !records {
				continue
			}
			if termNamed(row.Get("term"), records) == noTerm {
				t.Errorf("%s: no term %q where records are %v", row.Where(), row.Get("term"), records)
			}
			key := termKey{plainName(row.Get("form")), records}
			if first, ok := seen[key]; ok {
				t.Errorf("%s: %q stands at %s too", row.Where(), row.Get("form"), first)
			}
			seen[key] = row.Where()
		}
	}
}

// TestObservations checks that each value by which a marker's pattern is told can be written down, and that no writing means two values.
func TestObservations(t *testing.T) {
	for _, row := range vocab.Rows("pattern-looks") {
		feature, value := row.Get("feature"), row.Get("value")
		if len(observationsOf(feature)) == 0 {
			continue // not a coded column
		}
		if !slices.Contains(observationsOf(feature), value) {
			t.Errorf("%s: %s %q is no value of the table observations", row.Where(), feature, value)
		}
	}
	seen := map[string]string{}
	for _, row := range vocab.Rows("observations") {
		for _, s := range append(row.List("also"), row.Get("value")) {
			key := row.Get("feature") + "/" + plainWord(s)
			if first, ok := seen[key]; ok {
				t.Errorf("%s: %q stands at %s too", row.Where(), s, first)
			}
			seen[key] = row.Where()
		}
	}
}

// TestTerms checks that every term has a name, and that names for people agree with the column that they are read from.
func TestTerms(t *testing.T) {
	for x := noTerm + 1; x < termCount; x++ {
		name := termName(x)
		if name == "" {
			t.Errorf("term %d has no name", x)
		}
		if termNamed(name, false) != x && termNamed(name, true) != x && x != tPlaceState {
			t.Errorf("%q leads to another term", name)
		}
	}
	for local := range aliases {
		if termNamed(local, false) != noTerm && termNamed(local, false) != aliases[local] {
			t.Errorf("the alias %q is a column name of another term", local)
		}
	}
}
