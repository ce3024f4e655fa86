package name

import (
	"slices"
	"testing"

	"github.com/antzucaro/matchr"
)

// Worked examples of the National Archives, of its rule sheet and its older guide (S36, S36c, nara-soundex), and others that are quoted with it.
func TestSoundex(t *testing.T) {
	tests := []struct{ name, want string }{
		{"Washington", "W252"}, {"Lee", "L000"}, {"Gutierrez", "G362"}, {"Pfister", "P236"}, {"Jackson", "J250"}, {"Tymczak", "T522"}, {"VanDeusen", "V532"}, {"Deusen", "D250"},
		{"Kuhne", "K500"}, {"Ebell", "E140"}, {"Ebelson", "E142"}, {"Kelly", "K400"}, {"Buerck", "B620"}, {"Lloyd", "L300"}, {"Schaefer", "S160"}, {"Johnson", "J525"},
		{"Ashcraft", "A261"},                     // by the H and W rule
		{"Clausen", "C425"}, {"Klausen", "K425"}, // by the rule
		{"Van Deusen", "V532"}, {"O'Brien", "O165"}, {"", ""}, {"[..]son", ""}, {"Lee?", "L000"},
	}
	for _, tt := range tests {
		if got := Soundex(tt.name); got != tt.want {
			t.Errorf("Soundex(%q) = %q, want %q", tt.name, got, tt.want)
		}
	}
}

// TestSoundexAgainst sets the code beside an implementation by others, on all the surnames of the census table.
func TestSoundexAgainst(t *testing.T) {
	for name := range surnameShares().of {
		if got, want := Soundex(name), matchr.Soundex(name); got != want {
			t.Errorf("Soundex(%q) = %s, another implementation has %s", name, got, want)
		}
	}
}

// Spellings that clerks gave to one surname. Gillespie and O'Conner are of one man each in a printed prison list of 1881 and in the roster of his regiment; the
// others are common practice.
var soundAlike = [][2]string{
	{"Gillespie", "Gilsby"}, {"Connor", "O'Conner"}, {"Connor", "OCONNER"}, {"Sweeny", "Swaney"}, {"Plunkett", "Plunket"}, {"Hurly", "Hurley"}, {"Walden", "Waldon"}, {"Lope", "Lape"},
	{"Schmidt", "Smith"}, {"Schmidt", "Schmitt"}, {"Schaefer", "Shafer"}, {"Clausen", "Klausen"}, {"Knight", "Night"}, {"Pfeiffer", "Fifer"}, {"Meyer", "Myers"}, {"Maier", "Meyer"},
	{"Reed", "Reid"}, {"Stephens", "Stevens"}, {"Phillips", "Fillips"}, {"McGee", "Magee"}, {"McKee", "Mackie"}, {"Callaghan", "Callahan"}, {"Daugherty", "Doherty"}, {"Hoffman", "Huffman"},
	{"Schneider", "Snyder"}, {"Jaeger", "Yeager"}, {"Vogel", "Fogel"}, {"Zimmerman", "Simmerman"}, {"Dixon", "Dickson"}, {"Thompson", "Tomson"}, {"Johnson", "Johnston"}, {"Pearce", "Pierce"},
	{"Clark", "Clarke"}, {"Brown", "Browne"}, {"Rhodes", "Roads"}, {"Wright", "Right"}, {"Hughes", "Hews"}, {"Hayes", "Hays"}, {"Neal", "Neill"}, {"McNeil", "MacNeal"}, {"Burke", "Bourke"},
	{"Fischer", "Fisher"}, {"Busch", "Bush"}, {"Kramer", "Cramer"}, {"Krause", "Crouse"}, {"Wagner", "Waggoner"}, {"Schultz", "Sholtz"}, {"Davis", "Davies"}, {"Reynolds", "Runnels"},
	{"Castle", "Cassel"}, {"Bachman", "Backman"}, {"O'Brien", "Obryan"}, {"OBRIEN", "BRYAN"}, {"Sullivan", "O'Sullivan"}, {"Jung", "Young"}, {"Quinn", "Kwin"}, {"Twichell", "Twitchell"}, {"Lamb", "Lamm"},
}

func TestSound(t *testing.T) {
	for _, p := range soundAlike {
		if a, b := Sound(p[0]), Sound(p[1]); a != b || a == "" {
			t.Errorf("Sound(%q) = %q, Sound(%q) = %q, want the same", p[0], a, p[1], b)
		}
	}
	// Names that nobody takes for each other; and pairs of the same prison list that only the eye took for each other, which a key for the ear may part.
	for _, p := range [][2]string{{"Smith", "Jones"}, {"Barker", "Parker"}, {"Brown", "Green"}, {"Williams", "Wilson"}, {"Harris", "Morris"}, {"Dean", "Teel"}, {"Shaw", "Law"}, {"Currell", "Cunell"}} {
		if Sound(p[0]) == Sound(p[1]) {
			t.Errorf("%s and %s sound alike: %q", p[0], p[1], Sound(p[0]))
		}
	}
	for _, s := range []string{"", "?mith", "[---]son"} {
		if got := Sound(s); got != "" {
			t.Errorf("Sound(%q) = %q, want none", s, got)
		}
	}
}

// TestSoundSelects holds the key to be finer than Soundex on the commonest surnames: fewer people share one.
func TestSoundSelects(t *testing.T) {
	block := func(key func(string) string) float64 {
		sums := map[string]float64{}
		for name, p := range surnameShares().of {
			sums[key(name)] += p
		}
		total := 0.0
		for _, p := range sums {
			total += p * p
		}
		return total
	}
	ours, soundex := block(Sound), block(Soundex)
	t.Logf("two people share a key by chance: Sound %.5f, Soundex %.5f", ours, soundex)
	if ours > soundex*1.05 {
		t.Errorf("two people share a key by chance %.5f of the time, Soundex %.5f", ours, soundex)
	}
}

func TestRenderings(t *testing.T) {
	has := func(name, other string, translated bool) bool {
		return slices.Contains(Renderings(name), Rendering{other, translated})
	}
	// Koch/Cook, Zimmermann/Carpenter, Schmidt/Smith, Müller/Miller: the fact base (from memory, very sure).
	if !has("koch", "cook", true) || !has("cook", "koch", true) || !has("zimmermann", "carpenter", true) || !has("schmidt", "smith", false) || !has(Fold("Müller"), "miller", false) {
		t.Error("a rendering of the fact base is missing")
	}
	if got := Renderings("nosuchname"); got != nil {
		t.Errorf("Renderings(nosuchname) = %v", got)
	}
}
