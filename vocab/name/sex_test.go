package name

import "testing"

func TestSexOf(t *testing.T) {
	for given, want := range map[string]Sex{
		"mary": Woman, "emma": Woman, "john": Man, "william": Man,
		"friedrich": Man, // for frederick
		"francis":   EitherSex, "frances": EitherSex, "marion": EitherSex, "jean": EitherSex, "leslie": EitherSex, "willie": EitherSex,
		"beverly": EitherSex, // a man's then, but rare
		"carroll": Man, "andrea": EitherSex, "zzyzx": EitherSex, "m": EitherSex, "mar?": EitherSex, "": EitherSex,
	} {
		if got := SexOf(given); got != want {
			t.Errorf("SexOf(%q) = %d, want %d", given, got, want)
		}
	}
}
