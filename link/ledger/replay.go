package ledger

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"musterstone/model"
)

// Entry is a decision and the line of the file that it stands in, counted from 1.
type Entry struct {
	Row int
	model.Decision
}

// Log is what a ledger's bytes say.
type Log struct {
	// Entries are the decisions that count, in the order of the file, each id once.
	Entries []Entry
	// Complaints are about lines that do not count (Fatal) and about what is odd; in the order of the file.
	Complaints []model.Complaint
	// Whole is the length in bytes up to which the file consists of whole lines. What lies behind it was torn off.
	Whole int64

	complain func(model.Complaint)

	last string         // sum of the last line that has one
	rows int            // lines up to Whole
	ids  map[string]int // of Entries, to where each stands there
}

// Replay reads the bytes of a ledger; file is its name, for the complaints. It never fails: whatever can be understood counts,
// and whatever cannot is told.
func Replay(file string, data []byte) *Log {
	g := &Log{ids: map[string]int{}}
	g.complain = model.Bounded(func(c model.Complaint) { g.Complaints = append(g.Complaints, c) })
	g.complainOfChain(file, g.lines(file, data))
	slices.SortStableFunc(g.Complaints, func(a, b model.Complaint) int { return a.Row - b.Row })
	return g
}

const noLineEnd = "the last line has no line end"

// link is what a line says of the line before it.
type link struct {
	row       int
	prev, sum string
}

// lines reads the lines one by one, and gives what each says of the one before it.
func (g *Log) lines(file string, data []byte) []link {
	var links []link
	seen := map[string]int{} // bytes of a line -> the row where it stood first
	complain := func(row int, text, hint string, fatal bool) {
		g.complain(model.Complaint{File: file, Row: row, Text: text, Hint: hint, Fatal: fatal})
	}
	row := 0
	for len(data) > 0 {
		row++
		raw, rest, ended := bytes.Cut(data, []byte("\n"))
		data = rest
		if ended {
			g.rows = row
		}
		if len(bytes.TrimSpace(raw)) == 0 {
			if ended {
				g.Whole += int64(len(raw)) + 1
			} else if len(raw) > 0 {
				complain(row, "blanks without a line end stand last", "they are set aside when the next decision is written", false)
			}
			continue
		}
		if ended {
			g.Whole += int64(len(raw)) + 1
		}
		if first, ok := seen[string(raw)]; ok {
			complain(row, fmt.Sprintf("the same line stands in line %d already", first), "it counts once; nothing need be done", false)
			if !ended {
				g.Whole, g.rows = g.Whole+int64(len(raw)), row
			}
			continue
		}
		seen[string(raw)] = row
		d, prev, sum, f := decode(raw)
		if f != nil && !f.mild {
			if !ended {
				complain(row, fmt.Sprintf("the last line was cut short after %d bytes, while it was written", len(raw)),
					"the decision was never acknowledged and does not count; the bytes are set aside when the next decision is written", true)
				continue
			}
			if parts := split(raw); parts != nil {
				complain(row, fmt.Sprintf("the end of a line is damaged: %d decisions stand in one line; those that are whole count", len(parts)),
					"put the line end back before each \"{\\\"id\\\":\"", false)
				for _, p := range parts {
					if d, prev, sum, f := decode(p); f == nil {
						g.take(file, row, d)
						links = append(links, link{row, prev, sum})
					} else {
						complain(row, f.text, f.hint, true)
					}
				}
				continue
			}
			complain(row, f.text, f.hint, true)
			links = append(links, link{row, prev, sum})
			continue
		}
		if f != nil {
			complain(row, f.text, f.hint, false)
		}
		if !ended {
			// A whole decision that lacks only its line end: the next append puts that in front of its own line.
			g.Whole, g.rows = g.Whole+int64(len(raw)), row
			complain(row, noLineEnd, "it is whole and counts; the end is put in when the next decision is written", false)
		}
		g.take(file, row, d)
		links = append(links, link{row, prev, sum})
	}
	for _, l := range links {
		if l.sum != "" {
			g.last = l.sum
		}
	}
	return links
}

// take lets a decision count, unless another of its id already does.
func (g *Log) take(file string, row int, d model.Decision) {
	at, there := g.ids[d.ID]
	if !there {
		g.ids[d.ID] = len(g.Entries)
		g.Entries = append(g.Entries, Entry{row, d})
		return
	}
	c := model.Complaint{File: file, Row: row, Text: fmt.Sprintf("decision %s stands in line %d already", d.ID, g.Entries[at].Row),
		Hint: "it counts once; nothing need be done"}
	if a, b := text(g.Entries[at].Decision), text(d); a != b {
		c.Text += ", and says something else there"
		c.Hint, c.Fatal = "the first of them counts; make the decision anew if the other was meant", true
	}
	g.complain(c)
}

func text(d model.Decision) string {
	b, err := plain(d)
	if err != nil {
		return err.Error()
	}
	return string(b)
}

// complainOfChain tells of lines whose former line is nowhere in the file. The order of lines means nothing: ledgers merge.
func (g *Log) complainOfChain(file string, links []link) {
	sums := map[string]bool{}
	for _, l := range links {
		sums[l.sum] = true
	}
	for _, l := range links {
		if l.prev != "" && !sums[l.prev] {
			g.complain(model.Complaint{File: file, Row: l.row,
				Text: fmt.Sprintf("the line that stood last when this one was written (checksum %s) is not in the file: it was taken out, or damaged", l.prev),
				Hint: "this line counts; look for the missing one in a copy"})
		}
	}
}

// split parts a line in which several decisions stand, because the line end between them was damaged; nil for any other line.
// A stray byte or two in the place of the line end is left out.
func split(raw []byte) [][]byte {
	const start = `{"id":"`
	var parts [][]byte
	s := string(raw)
	for {
		next := strings.Index(s[min(1, len(s)):], start)
		if next < 0 {
			break
		}
		head := s[:next+1]
		if end := strings.LastIndexByte(head, '}'); end >= 0 && len(head)-end <= 5 {
			parts = append(parts, []byte(head[:end+1]))
		} else {
			return nil
		}
		s = s[next+1:]
	}
	if parts == nil {
		return nil
	}
	return append(parts, []byte(s))
}
