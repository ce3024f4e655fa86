package weigh

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"musterstone/model"
	"musterstone/vocab/name"
)

// TestOtherName weighs a stone against men of other names of whose records the name or the remarks tell of another.
func TestOtherName(t *testing.T) {
	var records []*model.Record
	add := func(surname, given, remarks string) *model.Record {
		r := &model.Record{ID: model.RecordID(fmt.Sprint(len(records))), Claim: model.Claim{Person: model.Person{Name: name.FromParts(surname, given)}, Service: model.Service{Remarks: remarks}}}
		records = append(records, r)
		return r
	}
	for range 30 {
		add("Smith", "John", "")
		add("Adams", "Henry", "")
	}
	same := add("Kirby", "Henry", "")
	plain := add("Adams", "John", "Mustered out with company")
	told := add("Adams", "John", "Alias on some rolls")
	toldSame := add("Adams", "Henry", "Alias on some rolls")
	named := add("Adams", "John", "Alias Henry Kirby")
	surname := add("Adams", "Henry", "Alias Kirby")
	other := add("Adams", "John", "Alias Peter Doyle")
	inName := add("Adams alias Kirby", "Henry", "Alias Peter Doyle")
	substitute := add("Adams", "John", "Substitute")
	both := add("Kirby", "Henry", "Alias on some rolls")
	uncounted := add("Adams", "Henry", "Alias Quackenbush")
	w := New(Count(slices.Values(records)), nil)
	s := &model.Subject{Stone: &model.Stone{ID: "s"}, Readings: []model.Reading{{Probability: 1, People: []model.Claim{{Person: model.Person{Name: name.FromParts("Kirby", "Henry")}}}}}}
	v := w.Person(s, &s.Readings[0].People[0])
	weigh := func(r *model.Record) (surname, given model.Evidence) {
		_, list := v.Against(r)
		for _, e := range list {
			switch e.Field {
			case "surname":
				surname = e
			case "given":
				given = e
			}
		}
		return surname, given
	}
	// A name that no row has is still that of the man of whom it is told, and weighs as much as such a name does.
	of, quackenbush := &model.Subject{Stone: &model.Stone{ID: "t"}}, model.Claim{Person: model.Person{Name: name.FromParts("Quackenbush", "Henry")}}
	rare := w.Stone(of, quackenbush)
	if _, list := rare.Against(uncounted); list[0].Level != "by other name" || list[0].Bits < 5 || list[0].Record != "Quackenbush" {
		t.Errorf("a name that no row has: %+v", list[0])
	}
	bearer := add("Quackenbush", "Otto", "")
	_, one := New(Count(slices.Values(records)), nil).Stone(of, quackenbush).Against(bearer)
	if _, list := rare.Against(uncounted); one[0].Level != "same" || math.Abs(list[0].Bits-(one[0].Bits-1)) > .1 {
		t.Errorf("a name that no row has: %+v, want a bit less than %+v, that of one man", list[0], one[0])
	}
	lost := w.Stone(&model.Subject{Stone: &model.Stone{ID: "u"}}, model.Claim{Person: model.Person{Name: name.FromParts("Quack[..]bush", "Henry")}})
	if _, list := lost.Against(uncounted); list[0].Level != "by other name" || list[0].Bits < 5 {
		t.Errorf("a name that no row has, of which letters are lost: %+v", list[0])
	}
	sameSurname, sameGiven := weigh(same)
	for _, tt := range []struct {
		of                            string
		r                             *model.Record
		surname, given                string
		surnameBits, givenBits        float64
		recordSurname, recordGiven, y string
	}{
		{"no remark of it", plain, "different", "different", math.NaN(), math.NaN(), "Adams", "John", ""},
		{"another name told", told, "another name", "another name", -1, -1, "Adams", "John", "the record tells: Alias"},
		{"another name told, given name kept", toldSame, "another name", "same", -1, sameGiven.Bits, "Adams", "Henry", "the record tells: Alias"},
		{"the stone's name told", named, "by other name", "same", sameSurname.Bits - 1, sameGiven.Bits, "Kirby", "Henry", "the record tells: Alias Henry Kirby"},
		{"the stone's surname told", surname, "by other name", "same", sameSurname.Bits - 1, sameGiven.Bits, "Kirby", "Henry", "the record tells: Alias Kirby"},
		{"the stone's surname in the name's cell", inName, "by other name", "same", sameSurname.Bits - 1, sameGiven.Bits, "Kirby", "Henry", "the record tells: alias Kirby"},
		{"a third name told", other, "different", "different", math.NaN(), math.NaN(), "Adams", "John", ""},
		{"a substitute", substitute, "substitute", "another name", math.Log2(.05), -1, "Adams", "John", "the record tells: Substitute"},
		{"the name on the stone, and another told", both, "same", "same", sameSurname.Bits, sameGiven.Bits, "Kirby", "Henry", sameSurname.Why},
	} {
		s, g := weigh(tt.r)
		if s.Level != tt.surname || g.Level != tt.given || !math.IsNaN(tt.surnameBits) && (math.Abs(s.Bits-tt.surnameBits) > 1e-12 || math.Abs(g.Bits-tt.givenBits) > 1e-12) {
			t.Errorf("%s: surname %q %.3f, given name %q %.3f, want %q %.3f, %q %.3f", tt.of, s.Level, s.Bits, g.Level, g.Bits, tt.surname, tt.surnameBits, tt.given, tt.givenBits)
		}
		if s.Record != tt.recordSurname || g.Record != tt.recordGiven || s.Why != tt.y {
			t.Errorf("%s: told as %q %q (%s), want %q %q (%s)", tt.of, s.Record, g.Record, s.Why, tt.recordSurname, tt.recordGiven, tt.y)
		}
	}
}
