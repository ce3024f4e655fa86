package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// plain makes a text safe to print as part of a line on a terminal: what could move the cursor, end the line, change colours or turn the direction of
// writing is shown as its code. Whatever comes from files, their names or their cells goes through it.
func plain(s string) string {
	if simple(s) || strings.IndexFunc(s, unsafe) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if unsafe(r) {
			fmt.Fprintf(&b, "\\u%04x", r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// simple reports whether a text is of ASCII's letters, figures and signs alone, as nearly all are.
func simple(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= 0x7f {
			return false
		}
	}
	return true
}

// unsafe reports control characters, the ends of lines and paragraphs, and the marks that turn the direction of writing (Unicode's Bidi_Control).
func unsafe(r rune) bool {
	return unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp, unicode.Bidi_Control) || r == utf8.RuneError
}

// print prints a text that is the result.
func (a *app) print(what, text string) error {
	if _, err := fmt.Fprint(a.out, text); err != nil {
		return fmt.Errorf("print %s: %w", what, err)
	}
	return nil
}

// jsonLines writes one JSON object a line.
func jsonLines[T any](w io.Writer, values []T) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	for _, v := range values {
		if err := enc.Encode(v); err != nil {
			return fmt.Errorf("write JSON: %w", err)
		}
	}
	return nil
}

// columns prints rows with their cells aligned, two blanks between.
func columns(w io.Writer, indent string, rows [][]string) {
	var width []int
	for _, r := range rows {
		for i, c := range r {
			if i == len(width) {
				width = append(width, 0)
			}
			width[i] = max(width[i], utf8.RuneCountInString(plain(c)))
		}
	}
	for _, r := range rows {
		var b strings.Builder
		b.WriteString(indent)
		for i, c := range r {
			c = plain(c)
			b.WriteString(c)
			if i < len(r)-1 {
				b.WriteString(strings.Repeat(" ", width[i]-utf8.RuneCountInString(c)+2))
			}
		}
		fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
	}
}
