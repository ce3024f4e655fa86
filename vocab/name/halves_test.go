package name

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestHalves: a name comes to what its halves come to, in one cell and in two, where both say so, and most of these do.
func TestHalves(t *testing.T) {
	families := []string{"Beck", "SMITH", "Mc Neil", "McNEIL", "O'Hare", "Van der Berg", "St. John", "Smith-Jones", "Capt. Hall", "Hall Jr", "Hall Jr.", "Caleb L. Hudson", "John Smith", "A", "A.", ".", "-",
		"Or", "Smith or Smyth", "Alias", "Orr", "Orr Alan", "Smith alias", "Smith A", "Alda", "Smith  Hall", " Hall", "M.D.", "D", "Holden (Hull)", "Müller", "Rev", "De", "la", "Mac", "", "Smith M D", "Hall 2d"}
	givens := []string{"Philip", "John A.", "Jno. B.", "Wm", "WM. H.", "J W", "JW", "M. D.", "M.D.", "MD", "Jr.", "Jr", "John Jr.", "De Witt C", "Fred", "Fred.", "Rev. John", "S. R.", "A", "or John", "Orrin", "Orrin Alfred", "Al", "A. L.", "Albert", "Ordway",
		"John or Jonathan", "alias Hall", "Esq", "Esq.", "2d", "John 2d", "Thos. D. M.D.", "Hen'y", "Mrs.", "D.D.", "", " ", "John ", "-", ".", "X.", "John (Jack)", `John "Jack"`, "Junior", "John Senior", "Capt"}
	both := 0
	for _, f := range families {
		for _, g := range givens {
			both += halves(t, f, g)
		}
	}
	if most := len(families) * len(givens) / 5; both < most {
		t.Errorf("%d names of %d by halves, want %d at least", both, len(families)*len(givens), most)
	}
}

// halves holds a name by its halves to the name whole, and is 1 where it can be read so.
func halves(t *testing.T, family, given string) int {
	t.Helper()
	surname, ok := Family(family)
	got, plain := Given(given)
	if !ok || !plain {
		return 0
	}
	whole := family + ", " + given
	got.Surname, got.Written = surname, whole
	if want := Parse(whole); !cmp.Equal(got, want) {
		t.Errorf("%q by halves is\n%+v, whole\n%+v", whole, got, want)
	}
	if want := FromParts(family, given); !cmp.Equal(got, want) {
		t.Errorf("%q by halves is\n%+v, in two cells\n%+v", whole, got, want)
	}
	return 1
}

func FuzzHalves(f *testing.F) {
	f.Add("Beck", "Philip")
	f.Add("Caleb L. Hudson", "M. D.")
	f.Add("Smith or Smyth", "John")
	f.Fuzz(func(t *testing.T, family, given string) { halves(t, family, given) })
}
