package index

import (
	"testing"

	"musterstone/model"
	"musterstone/model/date"
)

// TestRecordWords: what find says of a record puts its dates in words.
func TestRecordWords(t *testing.T) {
	died, err := date.Parse("about Aug. 15, 1863")
	if err != nil {
		t.Fatal(err)
	}
	r := &model.Record{}
	r.Person.Name, r.Person.Died = model.Name{Surname: "Tolliver", Given: "N"}, died
	if got, want := recordWords(r), "Tolliver, N, died about 15 August 1863"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
