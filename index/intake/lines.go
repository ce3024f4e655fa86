package intake

import (
	"bufio"
	"errors"
	"io"
	"strings"
	"unsafe"
)

// Bounds of what is held of a file at once. No stone and no roster row comes near them.
const (
	maxLine        = 1 << 20  // bytes in one physical line
	maxQuotedLines = 100      // physical lines in one row, by line breaks inside quotes
	maxQuotedBytes = 64 << 10 // bytes in one row of several lines
)

// line is one physical line without its terminator.
type line struct {
	text   string
	number int // counted from 1
	// tooLong is the length in bytes of a line longer than maxLine, whose text was not kept.
	tooLong int64
	own     bool // the text stands by itself, not in the reader's room
}

// lineReader reads physical lines in bounded memory and takes lines back.
type lineReader struct {
	r      *bufio.Reader
	end    byte // '\n', or '\r' in files of that old habit
	number int
	back   []line // given back, last first
	long   []byte // a line that did not fit the buffer of r
	err    error  // what ended the reading, other than the end of the file
	done   bool
	grows  uint8  // how many times more room there is each time it is too little: 2 where it is used again, else none
	text   []byte // room for the text of lines, which may be given from outside
}

func newLineReader(r io.Reader) *lineReader {
	l := &lineReader{r: bufio.NewReaderSize(r, 64<<10), end: '\n'}
	head, _ := l.r.Peek(32 << 10)
	if old := oldLineEnds(head); old {
		l.end = '\r'
	}
	return l
}

// oldLineEnds reports whether lines end with a lone carriage return.
func oldLineEnds(head []byte) bool {
	cr := false
	for i, b := range head {
		switch b {
		case '\n':
			return false
		case '\r':
			if i+1 == len(head) || head[i+1] != '\n' {
				cr = true
			}
		}
	}
	return cr
}

// next gives the next physical line; false at the end, when err says whether it was the end of the file.
func (l *lineReader) next() (line, bool) {
	if n := len(l.back); n > 0 {
		ln := l.back[n-1]
		l.back = l.back[:n-1]
		return ln, true
	}
	if l.done {
		return line{}, false
	}
	l.long = l.long[:0]
	var skipped int64
	for {
		part, err := l.r.ReadSlice(l.end)
		if err == nil && len(l.long) == 0 && skipped == 0 {
			l.number++
			return line{text: l.keep(l.trim(part)), number: l.number}, true
		}
		switch {
		case skipped > 0:
			skipped += int64(len(part))
		case len(l.long)+len(part) > maxLine:
			skipped = int64(len(l.long) + len(part))
			l.long = l.long[:0]
		default:
			l.long = append(l.long, part...)
		}
		if errors.Is(err, bufio.ErrBufferFull) {
			continue
		}
		if err != nil {
			l.done = true
			if err != io.EOF {
				l.err = err
				return line{}, false
			}
			if skipped == 0 && len(l.long) == 0 {
				return line{}, false
			}
		}
		l.number++
		if skipped > 0 {
			return line{number: l.number, tooLong: skipped}, true
		}
		return line{text: string(l.trim(l.long)), number: l.number}, true
	}
}

// giveBack makes lines be read again, in their order, when the room that their texts stood in may be another's.
func (l *lineReader) giveBack(lines []line) {
	for i := len(lines) - 1; i >= 0; i-- {
		if ln := &lines[i]; !ln.own {
			ln.text, ln.own = strings.Clone(ln.text), true
		}
		l.back = append(l.back, lines[i])
	}
}

// textBlock is how many bytes of text are kept together: a cell that is held on to holds on to that much.
const textBlock = 16 << 10

// keep gives the bytes as a text of its own.
func (l *lineReader) keep(b []byte) string {
	if len(b) == 0 {
		return ""
	}
	if cap(l.text)-len(l.text) < len(b) {
		l.text = make([]byte, 0, max(textBlock, len(b), cap(l.text)*int(l.grows)))
	}
	from := len(l.text)
	l.text = append(l.text, b...)
	return unsafe.String(&l.text[from], len(b)) // these bytes are not written to again
}

// trim takes the terminator off.
func (l *lineReader) trim(b []byte) []byte {
	if n := len(b); n > 0 && b[n-1] == l.end {
		b = b[:n-1]
	}
	if n := len(b); l.end == '\n' && n > 0 && b[n-1] == '\r' {
		b = b[:n-1]
	}
	return b
}
