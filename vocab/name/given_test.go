package name

import (
	"math"
	"slices"
	"strings"
	"testing"

	"musterstone/vocab"
)

// stoneForms are the abbreviations of the fact base, from a wiki appendix of abbreviations (S51), an article on the South before 1900 (S51b) and memory; all the names that one
// may stand for, "/" between them. Louis and Kate, which it lists too, are names of their own.
const stoneForms = `ABM Abraham,ABRM Abraham,ALBT Albert,ALEX Alexander,ALEXR Alexander,ALF Alfred,ALFD Alfred,ANDW Andrew,ANT Anthony,ANTHY Anthony,ARCHD Archibald,AUG Augustus/August,
AUST Austin,BARTW Bartholomew,BENJ Benjamin,BENJN Benjamin,CALVN Calvin,CHAS Charles,CHRISTN Christian,CHRIS Christopher/Christian,CLEMT Clement,CORNS Cornelius,DANL Daniel,
DAVD David,EBEN Ebenezer,EBENR Ebenezer,EDW Edward,EDWD Edward,EDM Edmund,EDMD Edmund,ELIJ Elijah,EZEKL Ezekiel,FREDK Frederick,GABL Gabriel,GEO George,GILBT Gilbert,HERBT Herbert,
HY Henry,HENY Henry,HOR Horace,ISR Israel,JAS James,JER Jeremiah,JEREMH Jeremiah,JNO John/Jonathan,JOS Joseph/Joshua/Josiah,JONA Jonathan,JONATHN Jonathan,KATH Katherine,LAWCE Lawrence,
LEOND Leonard,LEWS Lewis,MARTN Martin,MATTW Matthew,MICHL Michael,MOS Moses,NATHL Nathaniel,NEHEMH Nehemiah,NATHN Nathan,FRANCS Francis/Frank,GUST Gustave,NICH Nicholas,NICHS Nicholas,
PATK Patrick,PETR Peter,PHIL Philip,PHILP Philip,RICHD Richard,ROBT Robert,RUFS Rufus,SAML Samuel,SOLN Solomon,SOL Solomon,STEPHN Stephen,SYLV Sylvester/Sylvanus,THEO Theodore/Theophilus/Theodosius,
THEOP Theophilus,THOS Thomas,TIMY Timothy,VALE Valentine,WM William,WALT Walter,WALTR Walter,WASHN Washington,WILBR Wilbur,ZACH Zachariah,XR Christopher,XPHER Christopher,XPER Christopher,
MARGT Margaret,GREENB Greenberry,FR Francis/Frank,FRED Frederick,OLIV Oliver`

// expand gives the given names that an abbreviation stands for, likeliest first.
func expand(text string) []Form { return abbreviations()[Fold(text)] }

func TestAbbreviations(t *testing.T) {
	for _, item := range strings.Split(strings.ReplaceAll(stoneForms, "\n", ""), ",") {
		form, names, _ := strings.Cut(item, " ")
		for _, text := range []string{form, form + ".", strings.ToLower(form)} {
			var got []string
			sum := 0.0
			for _, f := range expand(text) {
				got = append(got, f.Name)
				sum += f.P
			}
			if math.Abs(sum-1) > 1e-9 {
				t.Errorf("the shares of %q sum to %g", text, sum)
			}
			for i, want := range strings.Split(names, "/") {
				if i == 0 && (len(got) == 0 || got[0] != want) || !slices.Contains(got, want) {
					t.Errorf("expand(%q) = %q, want %s", text, got, names)
				}
			}
		}
	}
	for _, text := range []string{"John", "Louis", "Kate", "Smith", "", "J", "W[..]M", "A"} {
		if got := expand(text); got != nil {
			t.Errorf("expand(%q) = %v, want nil", text, got)
		}
	}
}

// Short names that the fact base names as those that most often hide a match (from memory, very sure), and others of common practice.
func TestRoots(t *testing.T) {
	tests := []struct{ given, root string }{
		{"Frank", "francis"}, {"Frank", "franklin"}, {"Hank", "henry"}, {"Harry", "henry"}, {"Harry", "harold"}, {"Jack", "john"}, {"Bill", "william"}, {"Billy", "william"},
		{"Dick", "richard"}, {"Ned", "edward"}, {"Ted", "edward"}, {"Sandy", "alexander"}, {"Alex", "alexander"}, {"Sam", "samuel"}, {"Charley", "charles"}, {"Fred", "frederick"},
		{"Fred", "alfred"}, {"Lew", "lewis"}, {"Wash", "washington"}, {"Wat", "walter"}, {"Eph", "ephraim"}, {"Zeke", "ezekiel"}, {"Nat", "nathaniel"}, {"Gus", "augustus"}, {"Steve", "stephen"},
		{"Molly", "mary"}, {"Polly", "mary"}, {"Bessie", "elizabeth"}, {"Eliza", "elizabeth"}, {"Kate", "catherine"}, {"Katherine", "catherine"}, {"Sally", "sarah"}, {"Peggy", "margaret"},
		{"Friedrich", "frederick"}, {"Johann", "john"}, {"Wilhelm", "william"}, {"Heinrich", "henry"}, {"Wm.", "william"}, {"Jno", "jonathan"}, {"HARRY", "henry"},
	}
	for _, tt := range tests {
		if !slices.ContainsFunc(Roots(tt.given), func(f Form) bool { return f.Name == tt.root && f.P > 0 }) {
			t.Errorf("Roots(%q) = %v, want %s among them", tt.given, Roots(tt.given), tt.root)
		}
	}
	if got, want := Roots("harry"), []Form{{"henry", .6}, {"harold", .2}, {"harry", .2}}; len(got) != 3 || got[0] != want[0] || math.Abs(got[2].P-.2) > 1e-9 {
		t.Errorf("Roots(harry) = %v, want %v", got, want)
	}
	if got := Roots("John"); !slices.Equal(got, []Form{{"john", 1}}) {
		t.Errorf("Roots(John) = %v", got)
	}
	if got := Roots(""); got != nil {
		t.Errorf("Roots of nothing = %v", got)
	}
	for k := range givenRoots() {
		sum, self := 0.0, false
		for _, f := range Roots(k) {
			sum += f.P
			self = self || f.Name == k
		}
		if math.Abs(sum-1) > 1e-9 || !self {
			t.Errorf("Roots(%q) = %v: sums to %g, itself among them: %v", k, Roots(k), sum, self)
		}
	}
}

// TestTables holds the tables of this package to their form.
func TestTables(t *testing.T) {
	for _, r := range vocab.Rows("given-abbreviations") {
		form, long := r.Get("form"), r.Get("name")
		if form != strings.ToUpper(form) || strings.ToLower(form) != Fold(form) || long != ordinary(strings.ToUpper(long)) {
			t.Errorf("%s: %q, %q", r.Where(), form, long)
		}
		if form[0] != long[0] && form[0] != 'X' && r.Float("p") > 0.5 {
			t.Errorf("%s: %q does not begin like %q", r.Where(), form, long)
		}
	}
	for _, r := range vocab.Rows("given-roots") {
		if f := r.Get("form"); f != Fold(f) || r.Get("root") != Fold(r.Get("root")) || f == r.Get("root") {
			t.Errorf("%s: %q, %q", r.Where(), f, r.Get("root"))
		}
		if p := r.Float("p"); p <= 0 || p > 0.95 {
			t.Errorf("%s: share %g", r.Where(), p)
		}
	}
	for _, r := range vocab.Rows("name-words") {
		if w := r.Get("word"); w != strings.ToLower(w) || (r.Get("value") != "") != (r.Get("role") == "suffix") {
			t.Errorf("%s: %q", r.Where(), w)
		}
	}
	for _, r := range vocab.Rows("worn-glyphs") {
		if g, x := r.Get("glyphs"), r.Float("likeness"); len(g) != 2 || g != strings.ToUpper(g) || x <= 0 || x >= 1 {
			t.Errorf("%s: %q %g", r.Where(), g, x)
		}
	}
	for _, r := range vocab.Rows("surname-sounds") {
		if l := r.Get("letters"); l != Fold(l) || l == "" || !slices.Contains([]string{"start", "any", "end"}, r.Get("where")) {
			t.Errorf("%s: %q %q", r.Where(), l, r.Get("where"))
		}
		if strings.Trim(r.Get("key"), "abdfghjklmnprstwx") != "" && r.Get("key") != "-" && r.Get("key") != "^" {
			t.Errorf("%s: key %q", r.Where(), r.Get("key"))
		}
	}
}
