package rdf

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// idLength is how many characters of base 32 an IRI carries: 100 bits, so that among 50 million things a clash has a chance of about
// 1 in 10^15 (n² / 2^101). One that happens all the same stops the publication.
const idLength = 20

var lowerBase32 = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// digest names a thing by what it is called in its source: the first characters of the SHA-256 of kind and keys, parted by NUL, in Unicode's
// normal form C. No name stands in it, and it stays the same where a row moves or a typing error is mended.
func digest(kind string, keys ...string) string {
	sum := hashKeys(kind, keys...)
	return lowerBase32.EncodeToString(sum[:])[:idLength]
}

// shortKey is what of a hash goes into an IRI: its first 100 bits.
type shortKey [13]byte

func hashKeys(kind string, keys ...string) shortKey {
	var buf [256]byte
	b := append(buf[:0], kind...)
	for _, k := range keys {
		b = append(b, 0)
		b = norm.NFC.AppendString(b, k)
	}
	sum := sha256.Sum256(b)
	short := shortKey(sum[:13])
	short[12] &= 0xF0
	return short
}

// slug makes a readable name of lower-case letters, digits and single hyphens. Letters that are not ASCII are written without their marks where
// they have any, and left out otherwise.
func slug(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFKD.String(strings.ToLower(s)) {
		switch {
		case r < 0x80 && (isLetter(byte(r)) || isDigit(byte(r))):
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(r)
		case r == '\'' || r == '’' || r == '.' || unicode.Is(unicode.Mn, r):
		default:
			gap = true
		}
	}
	return b.String()
}

// CheckBase holds a base IRI to what published IRIs need: absolute, no query or fragment, ending in a slash.
func CheckBase(base string) (string, error) {
	if base == "" {
		return "", fmt.Errorf("the survey has no base IRI; set one that you control, ending in a slash, such as https://data.example.org/graves/")
	}
	if err := checkIRI(base); err != nil {
		return "", fmt.Errorf("base: %w", err)
	}
	if strings.ContainsAny(base, "?#") {
		return "", fmt.Errorf("base IRI %q must have neither ? nor #", base)
	}
	if !strings.HasSuffix(base, "/") {
		base += "/"
	}
	return base, nil
}

// percent encodes what is not unreserved in RFC 3986 section 2.3, byte by byte.
func percent(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if c := s[i]; isLetter(c) || isDigit(c) || strings.IndexByte("-._~", c) >= 0 {
			b.WriteByte(c)
		} else {
			fmt.Fprintf(&b, "%%%02X", c)
		}
	}
	return b.String()
}
