package words

import (
	"strings"
	"testing"
)

func keys(t *Text) string {
	var b strings.Builder
	for i := range t.Words {
		switch {
		case i == 0:
		case t.Words[i].Has(FirstInLine):
			b.WriteString(" / ")
		default:
			b.WriteByte(' ')
		}
		b.WriteString(t.Key(i))
	}
	return b.String()
}

// The Leiden signs: Leiden conventions of 1931-32 and the EpiDoc Guidelines, as far as the package comment names them.
func TestSplit(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"CORPL / JNO. T. HOLDEN / CO. F / 47 ILLS. INF.", "CORPL / JNO T HOLDEN / CO F / 47 ILLS INF"},
		{"47ILLS.INF.", "47 ILLS INF"},
		{"31ST REG'T WIS. VOLS.", "31 REGT WIS VOLS"},
		{"2D LT, 22d, 3rd. 1st 4TH", "2 LT 22 3 1 4"},
		{"U. S. S.\nHARROW", "U S S / HARROW"},
		{"S2C GM1 TEC5", "S 2 C GM 1 TEC 5"},
		{"H4NS J0HN W1LLIAM S1C B3WIS L6TH F47ILLS", "H?NS J?HN W?LLIAM S 1 C B 3 WIS L 6 F 47 ILLS"},
		{"41S[.] 42N[.] REGT", "41 42 REGT"},
		{"O'Hare Lloyd-Jones Müller", "OHARE LLOYD JONES MULLER"},
		{"W[..]LIAM", "W??LIAM"},
		{"W[...]", "W???"},
		{"HOL[---]", "HOL*"},
		{"[- - -] FOX", "* FOX"},
		{"[c. 5]SON [5-7]", "*SON *"},
		{"[JOHN] SM[IT]H", "JOHN SMITH"},
		{"SM[IT?]H", "SMITH"},
		{"SERG(EAN)T", "SERGEANT"},
		{"WIS (U S)", "WIS U S"},
		{"(vac.) JOHN (sic) (?) FOX (or COX)", "* JOHN FOX"},
		{"[illegible] DIED 18[.]4", "* DIED 18?4"},
		{"SỊMON HỌLDEN", "SIMON HOLDEN"},
		{"S<M>ITH SM{M}ITH [[JONES]]", "SMITH SMITH JONES"},
		{"... +++ SM?TH ____ ....", "* ??? SM?TH ???? ????"},
		{"1840? - 1902?", "1840 1902"},
		{"190? 21? 2??", "190? 21? 2??"},
		{"† 1891", "DIED 1891"},
		{"JOHN SMITH? / CO. E? / JN? FOX", "JOHN SMITH / CO E / JN? FOX"},
		{"GRAVE 8,411 / 12,345, 6 / MAY 4,1861 / CO. B,124 OHIO / MAY 9,186[.] / MAY 9,186?", "GRAVE 8411 / 12345 6 / MAY 4 1861 / CO B 124 OHIO / MAY 9 186? / MAY 9 186?"},
		{"4DE MAI 2TEN MAI", "4 MAI 2 MAI"},
		{"JOHN FOX / see photo", "JOHN FOX / *"}, {"JOHN FOX / see photos", "JOHN FOX / *"},
		{"JOHN FOX [see photo of base]", "JOHN FOX *"}, {"JOHN FOX [see photos of base]", "JOHN FOX *"},
		{"top line worn / JOHN FOX / NOT LOST", "* / JOHN FOX / NOT LOST"},
		{"HENRY H--- / JOHN - FOX --- 1840", "HENRY H* / JOHN FOX 1840"},
		{"CO [F or E] / CO F (E?)", "CO F / CO F"},
		{"C0. F / I2 WIS / l2th / S2C 10", "CO F / 12 WIS / 12 / S 2 C 10"},
		{"JOHN FOX (stone leaning)", "JOHN FOX *"},
		{"MARY & JOHN", "MARY AND JOHN"},
		{"1840 - 1912 / 5/4/1891", "1840 1912 / 5 4 1891"},
		{"", ""}, {" / / ", ""}, {"[", ""}, {"A[", "A"},
	} {
		if got := keys(Split(c.text)); got != c.want {
			t.Errorf("Split(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

func TestSpans(t *testing.T) {
	text := "CO.F [31]st W[..]LIAM (Jr.)"
	s := Split(text)
	var got []string
	for i := range s.Words {
		got = append(got, s.Span(i, i+1))
	}
	if g, want := strings.Join(got, "|"), "CO|F|[31]st|W[..]LIAM|Jr"; g != want {
		t.Errorf("words are %q, want %q", g, want)
	}
}

func TestForms(t *testing.T) {
	var f Forms[string]
	for _, w := range []string{"U S C I", "INDA", "IND", "N Y", "W VA", "VA", "SERGT", "SERGEANT"} {
		f.Add(w, w)
	}
	starts := map[string]int32{}
	f.Seal(func(word string, at int32) { starts[word] = at })
	for _, c := range []struct{ text, want string }{
		{"USCI", "U S C I"}, {"U.S.C.I.", "U S C I"}, {"US CI", "U S C I"}, {"IND. A", "IND"}, {"INDA", "INDA"}, {"NY", "N Y"},
		{"W. VA.", "W VA"}, {"WVA", "W VA"}, {"S[..]GT", "SERGT"}, {"SERG[---]", "SERGEANT,SERGT"}, {"S[....]", ""}, {"SERGTS", ""},
	} {
		var got []string
		text := Split(c.text)
		for _, h := range f.Find(nil, text, 0, starts[text.Key(0)]) {
			got = append(got, *f.Value(&h))
		}
		if g := strings.Join(got, ","); g != c.want {
			t.Errorf("forms in %q: %q, want %q", c.text, g, c.want)
		}
	}
}

func FuzzSplit(f *testing.F) {
	for _, s := range []string{"CO. F, 31ST [..] W(ILLIA)M", "[[A]]", "<a>{b}", "\xff[\xc3", "’62 – …"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := Split(text)
		end := 0
		for i := range s.Words {
			w := s.Words[i]
			if w.From < end || w.To <= w.From || w.To > len(text) || s.Key(i) == "" {
				t.Fatalf("word %d of %q is bytes %d to %d after %d, key %q", i, text, w.From, w.To, end, s.Key(i))
			}
			end = w.To
		}
	})
}

// TestParted: one gap that is long enough parts a word.
func TestParted(t *testing.T) {
	for _, c := range [][3]string{{"SM*TH", "SM", "TH"}, {"SM???TH", "SM", "TH"}, {"SM??TH"}, {"*NF", "", "NF"}, {"IND????", "IND", ""}, {"*"}, {"A*B*C"}, {"FOX"}} {
		if front, rest := Parted(c[0]); front != c[1] || rest != c[2] {
			t.Errorf("%s: %q %q, want %q %q", c[0], front, rest, c[1], c[2])
		}
	}
}

// TestFuse: a figure that touches letters becomes one that is lost.
func TestFuse(t *testing.T) {
	for _, c := range [][2]string{{"WILLIAM 5COTT,", "?COTT"}, {"JO5 STARB", "JO?"}} {
		x := Split(c[0])
		for i := range len(x.Words) - 1 {
			if x.Words[i+1].Has(Glued) {
				x.Fuse(i)
				if w := &x.Words[i]; x.Key(i) != c[1] || !w.Has(Lost) || w.Flags&Digits != 0 || w.Has(CommaAfter) != (c[1] == "?COTT") || x.Raw[w.From:w.To] == "" {
					t.Errorf("%s: %s", c[0], x.Key(i))
				}
				break
			}
		}
	}
}
