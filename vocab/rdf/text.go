package rdf

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Clean makes text from outside fit for a literal: bytes that are not UTF-8, control characters (C0 without tab, line feed and
// carriage return; DEL; C1) and noncharacters are dropped. It says how many it dropped; 0 means that the text is as it was.
func Clean(s string) (text string, dropped int) {
	if checkText(s) == nil {
		return s, 0
	}
	var b strings.Builder
	b.Grow(len(s))
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError && n == 1 || !allowedRune(r) {
			dropped++
		} else {
			b.WriteString(s[i : i+n])
		}
		i += n
	}
	return b.String(), dropped
}

// allowedRune reports whether a character may stand in a published literal.
func allowedRune(r rune) bool {
	switch {
	case r == '\t' || r == '\n' || r == '\r':
		return true
	case r < 0x20 || r >= 0x7F && r <= 0x9F:
		return false
	case r >= 0xFDD0 && r <= 0xFDEF || r&0xFFFE == 0xFFFE:
		return false
	}
	return true
}

func checkText(s string) error {
	plain := true
	for i := 0; i < len(s); i++ {
		if c := s[i]; c < 0x20 || c >= 0x7F {
			plain = false
			break
		}
	}
	if plain {
		return nil
	}
	for i, r := range s {
		if r == utf8.RuneError {
			if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
				return fmt.Errorf("text %s is not UTF-8 at byte %d", shorten(s), i)
			}
		}
		if !allowedRune(r) {
			return fmt.Errorf("text %s: character %U at byte %d is not allowed", shorten(s), r, i)
		}
	}
	return nil
}

// shorten quotes a text for an error message, cut after 60 characters.
func shorten(s string) string {
	n := 0
	for i := range s {
		if n++; n > 60 {
			return fmt.Sprintf("%q and more", s[:i])
		}
	}
	return fmt.Sprintf("%q", s)
}
