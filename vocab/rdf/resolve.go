package rdf

import "strings"

// reference is an IRI reference in its five parts (RFC 3986 section 3); the has fields tell an empty part from none.
type reference struct {
	scheme, authority, path, query, fragment       string
	hasScheme, hasAuthority, hasQuery, hasFragment bool
}

func splitReference(s string) (r reference) {
	s, r.fragment, r.hasFragment = strings.Cut(s, "#")
	s, r.query, r.hasQuery = strings.Cut(s, "?")
	if i := strings.IndexByte(s, ':'); i > 0 && isScheme(s[:i]) {
		r.scheme, r.hasScheme, s = s[:i], true, s[i+1:]
	}
	if strings.HasPrefix(s, "//") {
		s = s[2:]
		i := strings.IndexByte(s, '/')
		if i < 0 {
			i = len(s)
		}
		r.authority, r.hasAuthority, s = s[:i], true, s[i:]
	}
	r.path = s
	return r
}

func (r reference) String() string {
	var b strings.Builder
	if r.hasScheme {
		b.WriteString(r.scheme + ":")
	}
	if r.hasAuthority {
		b.WriteString("//" + r.authority)
	}
	b.WriteString(r.path)
	if r.hasQuery {
		b.WriteString("?" + r.query)
	}
	if r.hasFragment {
		b.WriteString("#" + r.fragment)
	}
	return b.String()
}

// resolve makes a reference absolute against an absolute base: RFC 3986 section 5.2.2, strict.
func resolve(base, ref string) string {
	b, r := splitReference(base), splitReference(ref)
	switch {
	case r.hasScheme:
		r.path = removeDots(r.path)
		return r.String()
	case r.hasAuthority:
		r.path = removeDots(r.path)
	default:
		switch {
		case r.path == "":
			r.path = b.path
			if !r.hasQuery {
				r.query, r.hasQuery = b.query, b.hasQuery
			}
		case r.path[0] == '/':
			r.path = removeDots(r.path)
		case b.hasAuthority && b.path == "":
			r.path = removeDots("/" + r.path)
		default:
			r.path = removeDots(b.path[:strings.LastIndexByte(b.path, '/')+1] + r.path)
		}
		r.authority, r.hasAuthority = b.authority, b.hasAuthority
	}
	r.scheme, r.hasScheme = b.scheme, true
	return r.String()
}

// removeDots takes "." and ".." out of a path: RFC 3986 section 5.2.4.
func removeDots(in string) string {
	if !strings.Contains(in, ".") {
		return in
	}
	var out []byte
	pop := func() {
		i := len(out) - 1
		for i >= 0 && out[i] != '/' {
			i--
		}
		out = out[:max(i, 0)]
	}
	for in != "" {
		switch {
		case strings.HasPrefix(in, "../"):
			in = in[3:]
		case strings.HasPrefix(in, "./"):
			in = in[2:]
		case strings.HasPrefix(in, "/./"):
			in = in[2:]
		case in == "/.":
			in = "/"
		case strings.HasPrefix(in, "/../"):
			in = in[3:]
			pop()
		case in == "/..":
			in = "/"
			pop()
		case in == "." || in == "..":
			in = ""
		default:
			i := strings.IndexByte(in[1:], '/') + 1
			if i == 0 {
				i = len(in)
			}
			out = append(out, in[:i]...)
			in = in[i:]
		}
	}
	return string(out)
}
