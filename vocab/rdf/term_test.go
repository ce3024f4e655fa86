package rdf

import (
	"strings"
	"testing"
)

func TestNewIRI(t *testing.T) {
	for _, s := range []string{
		"https://data.example.org/id/marker-a", "urn:isbn:0451450523", "http://a/%C3%BC?q=1#f", "http://例え.example/ü", "http://[2001:db8::1]/x", "mailto:a@b.example", "http://a/?\ue000", "x:",
	} {
		if got, err := NewIRI(s); err != nil || got.String() != s {
			t.Errorf("%q: %v, %v", s, got, err)
		}
	}
	for _, s := range []string{
		"", "a/b", "//a/b", ":x", "1x:y", "http://a/ b", "http://a/<", "http://a/>", `http://a/"`, "http://a/{x}", "http://a/|", "http://a/^", "http://a/`", `http://a/\`, "http://a/%", "http://a/%4", "http://a/%zz",
		"http://a/\n", "http://a/\x00", "http://a/\u0080", "http://a/\ue000", "http://a/#a#b", "http://a/\xff", "http://a/\ufdd0", "http://a/\U0001ffff", "http://a/[x]", "http://a/?q=[x]",
	} {
		if got, err := NewIRI(s); err == nil {
			t.Errorf("%q was taken as %v", s, got)
		}
	}
}

// TestCheckLang has tags from RFC 5646 appendix A (memory-sure), and what its section 2.1 does not allow.
func TestCheckLang(t *testing.T) {
	for _, tag := range []string{"de", "zh-Hant", "zh-cmn-Hans-CN", "sr-Latn-RS", "sl-rozaj", "de-CH-1901", "de-CH-x-phonebk", "az-Arab-x-AZE-derbend", "x-whatever", "en-GB-oed"} {
		l, err := langLiteral("text", tag)
		if checked := checkLang(tag); checked != nil || err != nil || l.Lang() != tag {
			t.Errorf("%q: %v, %v, %v", tag, l, err, checked)
		}
	}
	for _, tag := range []string{"", "-", "en-", "-en", "en--US", "1en", "e1", "en_US", "en US", "abcdefghi", "en-abcdefghi", "ü"} {
		if checkLang(tag) == nil {
			t.Errorf("%q was taken", tag)
		}
	}
}

func TestCheckLexical(t *testing.T) {
	for _, c := range []struct{ datatype, good, bad string }{
		{xsd + "integer", "0 -1 +12 007", "|1.0|abt|1 |--1|+"},
		{xsd + "nonNegativeInteger", "0 12", "-1|x|"},
		{xsd + "decimal", "0 -1.5 .5 5. +0.25", "|.|1e3|NaN|1,5|-"},
		{xsd + "boolean", "true false 1 0", "|yes|TRUE|2"},
		{xsd + "date", "1864-08-09 2024-02-29 2000-02-29 -0044-03-15 1864-08-09Z 1864-08-09+05:30 12024-01-01 1864-08-09-14:00", "|1864-8-9|1864-02-30|1900-02-29|1864-13-01|1864-00-10|1864-08-09T00:00:00|864-08-09|01864-08-09|1864-08-09+15:00|1864-08-09+14:01"},
		{xsd + "gYear", "1864 -0044 12024 1864Z", "|864|abt 1864|18640101x|+1864"},
		{xsd + "dateTime", "2025-11-22T16:40:00Z 2025-11-22T24:00:00 2025-11-22T24:00:00.0Z 2025-11-22T16:40:00.25+01:00", "|2025-11-22|2025-11-22T25:00:00|2025-11-22T24:00:01|2025-11-22T24:00:00.1|2025-11-22T16:40|2025-11-22T16:60:00|2025-11-22T16:40:00.Z|2025-11-22 16:40:00"},
		{xsd + "anyURI", "https://a.example/x urn:x:y", "|relative|http://a b"},
		{xsd + "hexBinary", "0a 0A1b", "a|xy|0a "},
		{EDTF, "1864-08-09 1862/1863 1841~ 186X ../1880 {1862,1863}", "|abt. 1841|1862 1863"},
		{xsd + "double", "", "1.5|1e0"},
		{xsd + "float", "", "1.5"},
		{rdfns + "langString", "", "x"},
		{"http://a.example/any", "x", ""},
	} {
		for _, s := range strings.Fields(c.good) {
			if err := CheckLexical(s, c.datatype); err != nil {
				t.Errorf("%v", err)
			}
		}
		if c.bad == "" {
			continue
		}
		for _, s := range strings.Split(c.bad, "|") {
			if s == "" && (c.datatype == xsd+"double" || strings.HasSuffix(c.datatype, "hexBinary")) {
				continue
			}
			if err := CheckLexical(s, c.datatype); err == nil {
				t.Errorf("%q was taken as %s", s, c.datatype)
			}
		}
	}
}

func TestClean(t *testing.T) {
	for _, c := range []struct {
		in, want string
		dropped  int
	}{
		{"", "", 0},
		{"plain\ttext\r\nof two lines", "plain\ttext\r\nof two lines", 0},
		{"ü 墓 \U0001FAA6", "ü 墓 \U0001FAA6", 0},
		{"a\x00b\x1bc\x7fd", "abcd", 3},
		{"a\u0085b\u009fc", "abc", 2},
		{"a\xffb\xc3", "ab", 2},
		{"a\ufffeb\U0001ffffc\ufdd0d", "abcd", 3},
		{"\ufffd stays", "\ufffd stays", 0},
		{"a\u0323 marked letter", "a\u0323 marked letter", 0},
	} {
		got, n := Clean(c.in)
		if got != c.want || n != c.dropped {
			t.Errorf("Clean(%q) = %q, %d; want %q, %d", c.in, got, n, c.want, c.dropped)
		}
		if _, err := NewLiteral(c.in); (err == nil) != (c.dropped == 0) {
			t.Errorf("NewLiteral(%q): %v", c.in, err)
		}
	}
}

// TestResolve has the examples of RFC 3986 sections 5.4.1 and 5.4.2, which the W3C suite for Turtle repeats (memory-sure).
func TestResolve(t *testing.T) {
	const base = "http://a/b/c/d;p?q"
	for _, c := range [][2]string{
		{"g:h", "g:h"}, {"g", "http://a/b/c/g"}, {"./g", "http://a/b/c/g"}, {"g/", "http://a/b/c/g/"}, {"/g", "http://a/g"}, {"//g", "http://g"}, {"?y", "http://a/b/c/d;p?y"},
		{"g?y", "http://a/b/c/g?y"}, {"#s", "http://a/b/c/d;p?q#s"}, {"g#s", "http://a/b/c/g#s"}, {";x", "http://a/b/c/;x"}, {"", "http://a/b/c/d;p?q"}, {".", "http://a/b/c/"}, {"..", "http://a/b/"},
		{"../g", "http://a/b/g"}, {"../..", "http://a/"}, {"../../g", "http://a/g"}, {"../../../g", "http://a/g"}, {"/./g", "http://a/g"}, {"/../g", "http://a/g"}, {"g.", "http://a/b/c/g."}, {"..g", "http://a/b/c/..g"},
		{"g;x=1/../y", "http://a/b/c/y"}, {"g?y/../x", "http://a/b/c/g?y/../x"}, {"http:g", "http:g"},
	} {
		if got := resolve(base, c[0]); got != c[1] {
			t.Errorf("%q: %s, want %s", c[0], got, c[1])
		}
	}
}
