package vocab

import (
	"strings"
	"testing"
	"unicode"
)

func TestPlainLetters(t *testing.T) {
	if a, p := len([]rune(accented)), len(plain); a != p {
		t.Fatalf("%d accented letters go with %d plain ones", a, p)
	}
	for _, r := range accented + "ßæœþð" {
		small, _ := PlainLetters(unicode.ToLower(r))
		if got, ok := PlainLetters(r); !ok || got != small && r != 'İ' {
			t.Errorf("%c is %q, its small letter %q", r, got, small)
		}
	}
	for _, r := range dotted {
		if plain, ok := PlainLetters(r); !ok || !Unclear(r) {
			t.Errorf("%c is %q, unclear %v", r, plain, Unclear(r))
		}
	}
	for _, r := range "aÅṅ" {
		if Unclear(r) {
			t.Errorf("%c is unclear", r)
		}
	}
	for in, want := range map[string]string{
		"àâäāą": "aaaaa", "çćč": "ccc", "ďđ": "dd", "éěę": "eee", "ğģ": "gg", "íĭį": "iii", "ķ": "k", "łľ": "ll", "ñňń": "nnn", "öőø": "ooo", "řŕ": "rr", "šşśș": "ssss",
		"ťţț": "ttt", "üűů": "uuu", "ŵ": "w", "ýÿŷ": "yyy", "žźż": "zzz", "ß": "ss", "Œ": "oe", "ẠḄḌẸḤỊḲḶṂṆỌṚṢṬỤṾẈỴẒ": "abdehiklmnorstuvwyz",
	} {
		var got strings.Builder
		for _, r := range in {
			s, _ := PlainLetters(r)
			got.WriteString(s)
		}
		if got.String() != want {
			t.Errorf("%s is %s, want %s", in, got.String(), want)
		}
	}
	for _, r := range "aZ1 Ж" {
		if s, ok := PlainLetters(r); ok {
			t.Errorf("%c is %q", r, s)
		}
	}
}
