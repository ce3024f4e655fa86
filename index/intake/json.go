package intake

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// node is an object of a metadata file and where it stands there.
type node struct {
	m    map[string]any
	path string
}

// at is the JSON path of a member.
func (n node) at(key string) string {
	p := n.path
	if p == "" {
		p = "$"
	}
	if strings.ContainsAny(key, ":@ ") {
		return fmt.Sprintf("%s[%q]", p, key)
	}
	return p + "." + key
}

// parseJSON reads one JSON value and tells a fault with line and column, both counted from 1 in bytes.
func parseJSON(b []byte) (any, error) {
	b = bytes.TrimPrefix(b, bomUTF8)
	d := json.NewDecoder(bytes.NewReader(b))
	var v any
	err := d.Decode(&v)
	if err == nil {
		var more any
		if end := d.Decode(&more); end != io.EOF {
			err = errors.New("something follows the end of the object")
		} else {
			return v, nil
		}
	}
	offset := int(d.InputOffset())
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &syntax):
		offset = int(syntax.Offset) - 1
	case err == io.EOF:
		return nil, fmt.Errorf("%s:1:1: the file is empty; run begin anew, or delete it", MetadataFile)
	case err == io.ErrUnexpectedEOF:
		offset = len(b)
		err = errors.New("the file ends in the middle of a value")
	}
	offset = max(0, min(offset, len(b)))
	before := b[:offset]
	line := bytes.Count(before, []byte("\n")) + 1
	column := offset - (bytes.LastIndexByte(before, '\n') + 1) + 1
	return nil, fmt.Errorf("%s:%d:%d: not JSON: %v; mend it there", MetadataFile, line, column, err)
}

// kindOf names a JSON value's type.
func kindOf(v any) string {
	switch v.(type) {
	case nil:
		return "null"
	case bool:
		return "true or false"
	case float64:
		return "a number"
	case string:
		return "a text"
	case []any:
		return "a list"
	default:
		return "an object"
	}
}

// text is a member that is a text.
func (r *metadataReader) text(n node, key string) (string, bool) {
	v, ok := n.m[key]
	if !ok || v == nil {
		return "", false
	}
	s, ok := v.(string)
	if !ok {
		r.complain(n.at(key), "it is "+kindOf(v)+", not a text", "write one text in quotes", false)
	}
	return s, ok
}

// flag is a member that is true or false; false where it is left out.
func (r *metadataReader) flag(n node, key string) bool {
	v, ok := n.m[key]
	if !ok {
		return false
	}
	b, ok := v.(bool)
	if !ok {
		r.complain(n.at(key), "it is "+kindOf(v)+", not true or false", "write true or false, without quotes", false)
	}
	return b
}

// count is a member that is a whole number from 0; 0 where it is left out.
func (r *metadataReader) count(n node, key string) int {
	v, ok := n.m[key]
	if !ok {
		return 0
	}
	x, ok := v.(float64)
	if !ok || x < 0 || x != float64(int(x)) || x > 1e6 {
		r.complain(n.at(key), "it is not a whole number from 0", "write one without quotes", true)
		return 0
	}
	return int(x)
}

// object is a member that is an object. Objects that stand in files of their own, named by a text, are not looked for.
func (r *metadataReader) object(n node, key string) (map[string]any, bool) {
	v, ok := n.m[key]
	if !ok || v == nil {
		return nil, false
	}
	o, ok := v.(map[string]any)
	if !ok {
		r.complain(n.at(key), "it is "+kindOf(v)+", not an object", "write it out here; nothing is fetched from elsewhere", true)
	}
	return o, ok
}

// texts are a text, a list of texts, or either by language, in a fixed order.
func (r *metadataReader) texts(v any, at string) []string {
	switch v := v.(type) {
	case nil:
		return nil
	case string:
		return []string{v}
	case []any:
		var out []string
		for _, x := range v {
			if s, ok := x.(string); ok {
				out = append(out, s)
			} else {
				r.complain(at, "the list holds "+kindOf(x)+", not texts alone", "write texts in quotes", false)
			}
		}
		return out
	case map[string]any:
		var out []string
		for _, lang := range slices.Sorted(maps.Keys(v)) {
			out = append(out, r.texts(v[lang], at)...)
		}
		return out
	}
	r.complain(at, "it is "+kindOf(v)+", not a text or a list of texts", `write "…" or ["…", "…"]`, false)
	return nil
}

// words is the first of several members that says something: a text, a value with a language, an IRI, or an agent with a name.
func (r *metadataReader) words(n node, keys ...string) string {
	for _, k := range keys {
		if s := plainWords(n.m[k]); s != "" {
			return s
		}
	}
	return ""
}

func plainWords(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case []any:
		for _, x := range v {
			if s := plainWords(x); s != "" {
				return s
			}
		}
	case map[string]any:
		for _, k := range []string{"@value", "schema:name", "foaf:name", "dc:title", "@id", "schema:url"} {
			if s := plainWords(v[k]); s != "" {
				return s
			}
		}
	}
	return ""
}

// base is the base IRI of the survey's own data: "ms:base", or "@base" of the context where it is absolute.
func (r *metadataReader) base(n node) string {
	said, at := "", ""
	if s, ok := r.text(n, "ms:base"); ok {
		said, at = s, n.at("ms:base")
	} else if list, ok := n.m["@context"].([]any); ok {
		for i, x := range list {
			if o, ok := x.(map[string]any); ok {
				c := node{o, fmt.Sprintf("%s[%d]", n.at("@context"), i)}
				if s, ok := r.text(c, "@base"); ok {
					said, at = s, c.at("@base")
				}
			}
		}
	}
	if said == "" {
		return ""
	}
	if !strings.HasPrefix(said, "http://") && !strings.HasPrefix(said, "https://") && !strings.HasPrefix(said, "urn:") {
		r.complain(at, fmt.Sprintf("the base IRI %q is not absolute", said), `write "https://…/"`, false)
		return ""
	}
	return said
}

// saysPrivate reports whether a member is one by which something is kept back, however it is spelt.
func saysPrivate(key string) bool {
	return strings.EqualFold(key[strings.LastIndexAny(key, ":#/")+1:], "private") || strings.EqualFold(key, "suppressOutput")
}

// keptBack reports whether a column, or a table, is to be kept back. What is said of it otherwise than it should be counts all the same, and is told: were it passed over, what somebody wanted to keep to himself would be published.
func (r *metadataReader) keptBack(n node, known ...string) (private bool) {
	for _, k := range slices.Sorted(maps.Keys(n.m)) {
		v := n.m[k]
		if !saysPrivate(k) || v == false || v == nil {
			continue
		}
		private = true
		if v != true {
			r.complain(n.at(k), "it is "+kindOf(v)+", not true or false; it was taken as true", "write true or false, without quotes", false)
		} else if !slices.Contains(known, k) {
			r.complain(n.at(k), "the property is not spelt so; it was taken as "+known[0], fmt.Sprintf("write %q: true", known[0]), false)
		}
	}
	return private
}

// notPrivate refuses what is to be private and cannot be, and reports whether there is any: only columns can, and tables as a whole be left out.
func (r *metadataReader) notPrivate(n node, known ...string) (refused bool) {
	for _, k := range slices.Sorted(maps.Keys(n.m)) {
		if v := n.m[k]; saysPrivate(k) && !slices.Contains(known, k) && v != false && v != nil {
			r.complain(n.at(k), "only a column can be private", `say "ms:private": true of each column that is not to be published, or "suppressOutput": true of the table to leave it out`, true)
			refused = true
		}
	}
	return refused
}

// unknownKeys complains of members without a prefix that are none of the known.
func (r *metadataReader) unknownKeys(n node, known ...string) {
	for _, k := range slices.Sorted(maps.Keys(n.m)) {
		switch {
		case slices.Contains(known, k), strings.Contains(k, ":") && !strings.HasPrefix(k, "ms:"), strings.HasPrefix(k, "@"):
		case slices.Contains([]string{"ms:base", "ms:ditto", "ms:nameRecorders", "ms:publishNotes", "ms:value"}, k), saysPrivate(k):
		default:
			r.complain(n.at(k), "nothing is known of this property; it was passed over", "look at its spelling", false)
		}
	}
}
