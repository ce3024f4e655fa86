package desk

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode/utf8"
)

// maxName bounds a name, maxReason a reason or a note, in letters and other characters.
const (
	maxName   = 100
	maxReason = 4000
)

// cleanName makes what was typed a name: one line of printable characters; "" where it is none.
func cleanName(s string) string {
	s = strings.Join(strings.Fields(strings.Map(printable, s)), " ")
	if utf8.RuneCountInString(s) > maxName || strings.ToValidUTF8(s, "") != s {
		return ""
	}
	return s
}

// printable drops control characters and those that turn the direction of writing; line ends stay.
func printable(r rune) rune {
	switch {
	case r == '\n' || r == '\t':
		return r
	case r < ' ' || r >= 0x7f && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069:
		return -1
	}
	return r
}

// words are a reason or a note, tidied.
func words(s string) (string, error) {
	s = strings.TrimSpace(strings.Map(printable, strings.ReplaceAll(strings.ToValidUTF8(s, "?"), "\r\n", "\n")))
	if n := utf8.RuneCountInString(s); n > maxReason {
		return "", &wrong{http.StatusRequestEntityTooLarge, fmt.Sprintf("a reason or a note may be %d letters long, this one is %d; nothing was changed: go back and shorten it", maxReason, n)}
	}
	return s, nil
}

// ownPath lets a form come back only to a page of the desk.
func ownPath(s string) string {
	u, err := url.Parse(s)
	if err != nil || u.Scheme != "" || u.Host != "" || !strings.HasPrefix(s, "/") || strings.HasPrefix(s, "//") || strings.ContainsAny(s, "\\\r\n") {
		return "/"
	}
	return s
}

// stale answers a form whose token is not this session's, as when the desk was opened anew since: nothing is written, and a person can send it
// again from here.
func (d *Desk) stale(w http.ResponseWriter, r *http.Request) {
	type field struct{ Name, Value string }
	var fields []field
	for _, name := range []string{"stone", "confirm", "refuse", "whole", "because", "text", "decision", "name", "back", "keys"} {
		if v := r.PostForm.Get(name); v != "" {
			fields = append(fields, field{name, v})
		}
	}
	path := r.URL.Path
	if !slices.Contains([]string{"/decide", "/undo", "/note", "/who", "/keys"}, path) {
		path = ""
	}
	c := d.frame(r, "Not sent yet", "", struct {
		Path   string
		Fields []field
	}{path, fields})
	if err := d.render(w, http.StatusForbidden, "stale", c); err != nil {
		d.fail(w, r, err)
	}
}
