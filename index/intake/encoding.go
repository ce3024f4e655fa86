package intake

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// encodings are the names that a dialect may give, in lower case without hyphens and underscores, and how such a file is read; nil
// is UTF-8. Names as in the WHATWG Encoding Standard, which reads "iso-8859-1" and "us-ascii" as windows-1252.
var encodings = map[string]encoding.Encoding{
	"utf8":          nil,
	"unicode11utf8": nil,
	"windows1252":   charmap.Windows1252,
	"cp1252":        charmap.Windows1252,
	"iso88591":      charmap.Windows1252,
	"latin1":        charmap.Windows1252,
	"usascii":       charmap.Windows1252,
	"ascii":         charmap.Windows1252,
	"windows1250":   charmap.Windows1250,
	"iso88592":      charmap.ISO8859_2,
	"iso885915":     charmap.ISO8859_15,
	"macintosh":     charmap.Macintosh,
	"macroman":      charmap.Macintosh,
	"ibm437":        charmap.CodePage437,
	"cp437":         charmap.CodePage437,
	"ibm850":        charmap.CodePage850,
	"cp850":         charmap.CodePage850,
	"utf16":         unicode.UTF16(unicode.LittleEndian, unicode.UseBOM),
	"utf16le":       unicode.UTF16(unicode.LittleEndian, unicode.UseBOM),
	"utf16be":       unicode.UTF16(unicode.BigEndian, unicode.UseBOM),
}

// lookEncoding finds an encoding by its name.
func lookEncoding(name string) (encoding.Encoding, bool) {
	e, ok := encodings[strings.NewReplacer("-", "", "_", "", " ", "").Replace(strings.ToLower(name))]
	return e, ok
}

// Byte order marks.
var (
	bomUTF8    = []byte{0xEF, 0xBB, 0xBF}
	bomUTF16LE = []byte{0xFF, 0xFE}
	bomUTF16BE = []byte{0xFE, 0xFF}
)

// errUTF16 is told of UTF-16 without a byte order mark.
var errUTF16 = errors.New("the file seems to be UTF-16 without a byte order mark")

// decode gives the file's text as UTF-8. A byte order mark decides over what the dialect says; without either the bytes are
// taken as UTF-8, and each row that is not is told of when it comes.
func decode(r io.Reader, name string) (io.Reader, error) {
	b := bufio.NewReaderSize(r, 4<<10)
	head, err := b.Peek(2 << 10)
	if err != nil && err != io.EOF && !errors.Is(err, bufio.ErrBufferFull) {
		return nil, err
	}
	switch {
	case bytes.HasPrefix(head, bomUTF8):
		if _, err := b.Discard(len(bomUTF8)); err != nil {
			return nil, err
		}
		return b, nil
	case bytes.HasPrefix(head, bomUTF16LE), bytes.HasPrefix(head, bomUTF16BE):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Reader(b), nil
	}
	if name == "" {
		if manyNULs(head) {
			return nil, errUTF16
		}
		return b, nil
	}
	e, ok := lookEncoding(name)
	if !ok {
		return nil, fmt.Errorf("unknown encoding %q", name)
	}
	if e == nil {
		return b, nil
	}
	return e.NewDecoder().Reader(b), nil
}

// manyNULs reports whether every second byte is NUL or nearly so: Latin text in UTF-16.
func manyNULs(head []byte) bool {
	if len(head) < 8 {
		return false
	}
	var even, odd int
	for i, b := range head {
		if b == 0 {
			if i%2 == 0 {
				even++
			} else {
				odd++
			}
		}
	}
	half := len(head) / 2
	return even > half*8/10 && odd == 0 || odd > half*8/10 && even == 0
}
