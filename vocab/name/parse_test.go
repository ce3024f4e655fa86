package name

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// The first block are the names of invented inscriptions with their readings in the fact base of marker conventions; the rest are
// ways in which rosters and stones write names (common practice).
func TestParse(t *testing.T) {
	tests := []struct {
		in                            string
		surname, given, middle, extra string // extra: suffix, then the other given names, parted by "|"; behind "=" the words that tell another name
	}{
		{"JNO. T. HOLDEN", "Holden", "John", "T", "|Jonathan"},
		{"WM. A. PRUITT", "Pruitt", "William", "A", ""},
		{"ABERNATHY, JOHN R. 1,970,001", "Abernathy", "John", "R", ""}, // the number of a man, behind his name
		{"Abernathy, John 2 083 557", "Abernathy", "John", "", ""},
		{"Abernathy, John R., Jr. 12345", "Abernathy", "John", "R", "Jr"},
		{"Abernathy, John R., No. 1970001.", "Abernathy", "John", "R", ""},
		{"John R. Abernathy, 1,970,001", "Abernathy", "John", "R", ""},
		{"Abernathy, Juno 1970001", "Abernathy", "Juno", "", ""},
		{"Abernathy, John 2d", "Abernathy", "John", "", "2d"},
		{"GEO. W. LANTZ", "Lantz", "George", "W", ""},
		{"BENJ. CROWLE", "Crowle", "Benjamin", "", ""},
		{"CHAS. E. DODD", "Dodd", "Charles", "E", ""},
		{"MICHL. QUINN", "Quinn", "Michael", "", ""},
		{"OTTO SIEBERT", "Siebert", "Otto", "", ""},
		{"THOS. KANE", "Kane", "Thomas", "", ""},
		{"HY. S. VOGEL", "Vogel", "Henry", "S", ""},
		{"DANL. FOX", "Fox", "Daniel", "", ""},
		{"SAML. REED", "Reed", "Samuel", "", ""},
		{"ANDW. MOORE", "Moore", "Andrew", "", ""},
		{"ISAAC BELL", "Bell", "Isaac", "", ""},
		{"PATK. BYRNE", "Byrne", "Patrick", "", ""},
		{"ROBT. SEAL", "Seal", "Robert", "", ""},
		{"FREDK. KOHL", "Kohl", "Frederick", "", ""},
		{"ALEXR. MCNEIL", "McNeil", "Alexander", "", ""},
		{"EDWD. PYKE", "Pyke", "Edward", "", ""},
		{"JAS. TOLLIVER", "Tolliver", "James", "", ""},
		{"NATHL. COBB", "Cobb", "Nathaniel", "", ""},
		{"THEO. BARTH", "Barth", "Theodore", "", "|Theophilus|Theodosius"},
		{"HENRY ARTHUR TELFORD", "Telford", "Henry", "Arthur", ""},
		{"JOS. PELTIER", "Peltier", "Joseph", "", "|Joshua|Josiah"},
		{"E. L. MABRY", "Mabry", "E", "L", ""},
		{"ALBT. HART", "Hart", "Albert", "", ""},
		{"ROY F. BECHTEL", "Bechtel", "Roy", "F", ""},
		{"A. J. TRELL", "Trell", "A", "J", ""},
		{"ALF. HARMS", "Harms", "Alfred", "", ""},
		{"GEORGIANA FITCH", "Fitch", "Georgiana", "", ""},
		{"LINDA K OHARE", "Ohare", "Linda", "K", ""},

		{"Smith, John A., Jr.", "Smith", "John", "A", "Jr"},
		{"Smith, Jr., John A.", "Smith", "John", "A", "Jr"},
		{"SMITH, JOHN A", "Smith", "John", "A", ""},
		{"John A. Smith Jr", "Smith", "John", "A", "Jr"},
		{"John Smith, Jr.", "Smith", "John", "", "Jr"},
		{"J.W. SMITH III", "Smith", "J", "W", "III"},
		{"Smith, Thos. 2d", "Smith", "Thomas", "", "2d"},
		{"Smith, Thomas, 2nd", "Smith", "Thomas", "", "2d"},
		{"Smith, Jr.", "Smith", "", "", "Jr"},
		{"JOHN SMITH, ESQ.", "Smith", "John", "", ""},
		{"Smith, John, M.D.", "Smith", "John", "", ""},
		{"John Smith, M.D.", "Smith", "John", "", ""},
		{"Smith, M. D.", "Smith", "M", "D", ""},
		{"Smith, A. M., Jr.", "Smith", "A", "M", "Jr"},
		{"SMITH, A. B.", "Smith", "A", "B", ""},
		{"VAN BUREN, A. B.", "Van Buren", "A", "B", ""},
		{"Rev. John Smith", "Smith", "John", "", ""},
		{"Smith, Rev. John", "Smith", "John", "", ""},
		{"MRS. MARY SMITH", "Smith", "Mary", "", ""},
		{"Dr. Hon. Wm. Smith", "Smith", "William", "", ""},
		{"Guthrie J", "Guthrie", "J", "", ""},
		{"Smith J W", "Smith", "J", "W", ""},
		{"HALL WILL E", "Hall", "Will", "E", ""},
		{"WM. H.", "", "William", "H", ""},
		{"John H.", "", "John", "H", ""},
		{"SMITH, JW", "Smith", "J", "W", ""},
		{"SMITH, WM", "Smith", "William", "", ""},
		{"SMITH, ED", "Smith", "Ed", "", ""},
		{"SMITH, FRED", "Smith", "Fred", "", ""},
		{"SMITH, FRED.", "Smith", "Frederick", "", "|Alfred"},
		{"SMITH, JOHN WM.", "Smith", "John", "William", ""},
		{"SMITH, JOHN JNO.", "Smith", "John", "John", ""},
		{"Smith", "Smith", "", "", ""},
		{"SMITH", "Smith", "", "", ""},
		{"john smith", "Smith", "John", "", ""},

		{"JOHN VAN BUREN", "Van Buren", "John", "", ""},
		{"VAN BUREN, JOHN", "Van Buren", "John", "", ""},
		{"Van Buren", "Van Buren", "", "", ""},
		{"LUDWIG VON DER HEIDE", "Von Der Heide", "Ludwig", "", ""},
		{"Juan De La Cruz", "De La Cruz", "Juan", "", ""},
		{"JEAN ST. CLAIR", "St Clair", "Jean", "", ""},
		{"MC NEIL, JOHN", "McNeil", "John", "", ""},
		{"John Mc Neil", "McNeil", "John", "", ""},
		{"MACDONALD, D.", "MacDonald", "D", "", ""},
		{"MACKEY, D.", "Mackey", "D", "", ""},
		{"DeWitt C. Smith", "Smith", "DeWitt", "C", ""},
		{"DE WITT C. SMITH", "Smith", "De Witt", "C", ""},
		{"JAS. O'HARE", "O'Hare", "James", "", ""},
		{"JAS. O' HARE", "O'Hare", "James", "", ""},
		{"Thos. D'Arcy", "D'Arcy", "Thomas", "", ""},
		{"SMITH-JONES, A. B.", "Smith-Jones", "A", "B", ""},
		{"GARCIA LOPEZ, JUAN", "Garcia Lopez", "Juan", "", ""},
		{"John “Jack” Smith Jr.", "Smith", "John", "", "Jr|Jack"},
		{"Mary (Jones) Smith", "Smith", "Mary", "Jones", ""},
		{"A(nthony) Smith", "Smith", "Anthony", "", ""},
		{"(John Smith)", "Smith", "John", "", ""},
		{"“Jack” Smith", "Smith", "Jack", "", ""},
		{"Smith or Smyth, John", "Smith", "John", "", "=alias Smyth"},
		{"SMITH OR SCHMIDT, JOHN", "Smith", "John", "", "=alias Schmidt"},
		{"Smith alias Brown, John", "Smith", "John", "", "=alias Brown"},
		{"SMITH (ALIAS BROWN), JOHN", "Smith", "John", "", "=alias Brown"},
		{"Mc Donald alias Mc Dowell, Peter", "McDonald", "Peter", "", "=alias Peter Mc Dowell"},
		{"Smith alias de la Cruz, Juan", "Smith", "Juan", "", "=alias Juan De La Cruz"},
		{"Van Horn or Horn, Peter", "Van Horn", "Peter", "", "=alias Horn"},
		{"John Smith (alias Brown)", "Smith", "John", "", "=alias Brown"},
		{"JOHN SMITH ALIAS JAS. BROWN", "Smith", "John", "", "=alias Jas. Brown"},
		{"Smith, John, correct name Schmidt", "Smith", "John", "", "=alias Schmidt"},
		{"Brown, John, alias Braun, Johann", "Brown", "John", "", "=alias Johann Braun"},
		{"Brown, John, alias Jack", "Brown", "John", "", ""},
		{"Smith, John or Jonathan", "Smith", "John", "", "|Jonathan"},
		{"JOHN HALL (HULL?)", "Hall", "John", "", ""},
		{"JNO. B. (or R.) TODD", "Todd", "John", "B", "|Jonathan"},
		{"Hall, Louis (Lewis?)", "Hall", "Louis", "", "|Lewis"},
		{"A. B. SMITH (or SMYTH?)", "Smith", "A", "B", ""},
		{"Smith, John or Jonathan", "Smith", "John", "", "|Jonathan"},
		{"JOHN OR JONATHAN SMITH", "Smith", "John", "", "|Jonathan"},

		{"W[..]LIAM SM[I]TH", "Sm[i]th", "W[..]liam", "", ""},
		{"[---]SON, JOHN", "[---]son", "John", "", ""},
		{"[- - -] SMITH", "Smith", "[- - -]", "", ""},
		{"S[. .]TH, J.", "S[. .]th", "J", "", ""},
		{"SM\u0323ITH, JOHN", "Sm\u0323ith", "John", "", ""},
		{"ROB[T]. SMITH", "Smith", "Robert", "", ""},
		{"SMITH (?), JOHN", "Smith", "John", "", ""},
		{"", "", "", "", ""},
		{" , ", "", "", "", ""},
		{"...", "...", "", "", ""},
	}
	for _, tt := range tests {
		want := model.Name{Surname: tt.surname, Given: tt.given, Middle: tt.middle, Written: tt.in}
		extra, tells, _ := strings.Cut(tt.extra, "=")
		suffix, others, _ := strings.Cut(extra, "|")
		want.Other = tells
		want.Suffix = suffix
		if others != "" {
			want.GivenOr = strings.Split(others, "|")
		}
		if diff := cmp.Diff(want, Parse(tt.in)); diff != "" {
			t.Errorf("Parse(%q): %s", tt.in, diff)
		}
	}
}

func TestFromParts(t *testing.T) {
	tests := []struct {
		surname, given string
		want           model.Name
	}{
		{"SMITH", "JNO. W., JR.", model.Name{Surname: "Smith", Given: "John", Middle: "W", Suffix: "Jr", GivenOr: []string{"Jonathan"}, Written: "SMITH, JNO. W., JR."}},
		{"Smith alias Brown", "John", model.Name{Surname: "Smith", Given: "John", Other: "alias Brown", Written: "Smith alias Brown, John"}},
		{"Smith", "John alias James Brown", model.Name{Surname: "Smith", Given: "John", Other: "alias James Brown", Written: "Smith, John alias James Brown"}},
		{"SMITH OR SCHMIDT", "JOHN", model.Name{Surname: "Smith", Given: "John", Other: "alias Schmidt", Written: "SMITH OR SCHMIDT, JOHN"}},
		{"Smith Jr.", "John", model.Name{Surname: "Smith", Given: "John", Suffix: "Jr", Written: "Smith Jr., John"}},
		{"Smith, Sr", "John", model.Name{Surname: "Smith", Given: "John", Suffix: "Sr", Written: "Smith, Sr, John"}},
		{"Smith", "", model.Name{Surname: "Smith", Written: "Smith"}},
		{"", "John", model.Name{Given: "John", Written: "John"}},
		{"", "", model.Name{}},
		// Rows of a printed roster whose columns slipped: the whole name stands in the surname's cell.
		{"Caleb L. Hudson", "Jr.", model.Name{Surname: "Hudson", Given: "Caleb", Middle: "L", Suffix: "Jr", Written: "Caleb L. Hudson, Jr."}},
		{"HALL WILL E", "JR.", model.Name{Surname: "Hall", Given: "Will", Middle: "E", Suffix: "Jr", Written: "HALL WILL E, JR."}},
		{"VAN BUREN", "", model.Name{Surname: "Van Buren", Written: "VAN BUREN"}},
		{"GARCIA LOPEZ", "", model.Name{Surname: "Garcia Lopez", Written: "GARCIA LOPEZ"}},
	}
	for _, tt := range tests {
		if diff := cmp.Diff(tt.want, FromParts(tt.surname, tt.given)); diff != "" {
			t.Errorf("FromParts(%q, %q): %s", tt.surname, tt.given, diff)
		}
	}
}

// TestParseKeepsLetters makes names of words that no table knows and finds all their letters in the parts.
func TestParseKeepsLetters(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	word := func() string {
		var b strings.Builder
		for range 3 + r.IntN(6) {
			b.WriteByte("bcdfghjklmnpqrstvwxz"[r.IntN(20)])
			b.WriteByte("aeiou"[r.IntN(5)])
		}
		if r.IntN(2) == 0 {
			return strings.ToUpper(b.String())
		}
		return b.String()
	}
	for range 2000 {
		words := []string{word()}
		for range r.IntN(4) {
			words = append(words, word())
		}
		s := strings.Join(words, " ")
		if r.IntN(2) == 0 && len(words) > 1 {
			s = words[0] + ", " + strings.Join(words[1:], " ")
		}
		n := Parse(s)
		got, want := []byte(Fold(n.Given+n.Middle+n.Surname)), []byte(Fold(s))
		slices.Sort(got)
		slices.Sort(want)
		if string(got) != string(want) {
			t.Fatalf("Parse(%q) = %+v loses letters", s, n)
		}
	}
}

// TestLongNames finds a writing that takes longer than its length allows: each of these is as long as a file of thousands of names, and the test would not end.
func TestLongNames(t *testing.T) {
	for _, s := range []string{"[", "(", "{", "<", "\"", "[[", "a ", "a, ", "or ", " or a", "-a", "a-", ".", "o'", "]", "* ", "Jr ", "van ", "é", "…"} {
		long := strings.Repeat(s, 20_000)
		Fold(long)
		Uncertain(long)
		Sound(long)
		Soundex(long)
		if n := Parse(long); n.Written != long {
			t.Errorf("a long row of %q is not kept", s)
		}
		FromParts(long, long)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"Smith, John A., Jr.", "JNO. T. HOLDEN", "W[..]LIAM SM[I]TH", "St. Clair", "(", "\"", "a alias b", " or ", "O' Hare", "Mc", "[", "x, y, z, Jr", "D'", "\xff, a", "De", "Smith or , ,"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		n := Parse(s)
		if n.Written != s {
			t.Errorf("Parse(%q) says that %q was written", s, n.Written)
		}
		for _, p := range []string{n.Surname, n.Given, n.Middle, n.Suffix} {
			if p != strings.TrimSpace(p) || strings.Contains(p, ",") && !strings.ContainsAny(s, "[](){}<>\"“") {
				t.Errorf("Parse(%q) = %+v", s, n)
			}
		}
		if n.Given == "" && (n.Middle != "" || n.GivenOr != nil) {
			t.Errorf("Parse(%q) has names but no first: %+v", s, n)
		}
		if !cmp.Equal(n, Parse(s)) {
			t.Errorf("Parse(%q) is not the same twice", s)
		}
		FromParts(s, s)
		Roots(s)
		Sound(s)
	})
}
