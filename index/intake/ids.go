package intake

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"iter"
	"path"
	"strconv"
	"strings"

	"musterstone/index/texts"
	"musterstone/model"
)

// An idBook holds the ids that were given, and where. The zero book is empty and ready.
type idBook struct {
	ids    texts.Book // with the rows in which they stand
	tables []*Table   // the tables, each with the number of ids that were given before it
	from   []int
	hashes []uint32 // room for those that are asked for

	counted map[string]count // by the ids that many rows had in common
}

// A count is the next by which rows of one id are told apart, and the table in which all of them so far stand; nil where they stand in several.
type count struct {
	next  int
	table *Table
}

// manyAlike is from which count on it is kept: to go through the counts of a hundred thousand rows that are all alike, for each of them, would take hours.
const manyAlike = 16

// ask asks memory for where ids of these hashes belong.
func (b *idBook) ask(list []made) {
	b.hashes = b.hashes[:0]
	for i := range list {
		b.hashes = append(b.hashes, list[i].hash)
	}
	b.ids.Ask(b.hashes)
}

// take enters an id. Where it was given before, taken is set and first says where.
func (b *idBook) take(id string, hash uint32, at place) (first place, taken bool) {
	n, known := b.ids.Enter(id, hash, uint32(at.row))
	if known {
		return b.place(n), true
	}
	if k := len(b.tables); k == 0 || b.tables[k-1] != at.table {
		b.tables, b.from = append(b.tables, at.table), append(b.from, n)
	}
	return place{}, false
}

// derive enters an id that was made from the cells, with a count where it was given before; crossed says that another table had given it.
func (b *idBook) derive(id string, at place) (unique string, crossed bool) {
	n := 1
	if c, ok := b.counted[id]; ok {
		n, crossed = c.next, c.table != at.table
	}
	for ; ; n++ {
		unique = id
		if n > 1 {
			unique = fmt.Sprintf("%s-%d", id, n)
		}
		first, taken := b.take(unique, texts.Hash(unique), at)
		if !taken {
			break
		}
		crossed = crossed || first.table != at.table
	}
	if n >= manyAlike {
		c := count{next: n + 1, table: at.table}
		if crossed {
			c.table = nil
		}
		if b.counted == nil {
			b.counted = map[string]count{}
		}
		b.counted[id] = c
	}
	return unique, crossed
}

// all enters the ids of a table with their rows, or none of them where one was given before or, as whole tells in the end, some are missing.
func (b *idBook) all(t *Table, ids iter.Seq2[string, int], whole func() bool) bool {
	before, tables := b.ids.Len(), len(b.tables)
	for id, row := range ids {
		if _, taken := b.take(id, texts.Hash(id), place{t, row}); taken {
			b.cut(before, tables)
			return false
		}
	}
	if !whole() {
		b.cut(before, tables)
		return false
	}
	return true
}

// cut forgets all but so many ids, of so many tables.
func (b *idBook) cut(ids, tables int) {
	b.ids.Cut(ids)
	b.tables, b.from = b.tables[:tables], b.from[:tables]
}

func (b *idBook) place(n int) place {
	k := len(b.from) - 1
	for k > 0 && b.from[k] > n {
		k--
	}
	return place{b.tables[k], int(b.ids.Note(n))}
}

// place is where an id was given; row is 0 in a graph.
type place struct {
	table *Table
	row   int
}

func (p place) String() string {
	if p.row == 0 {
		return p.table.File
	}
	return p.table.File + ":" + strconv.Itoa(p.row)
}

// id is the row's id: the one in the file, or one derived from its cells.
func (r *reading) id() (id string, derived bool) {
	given := r.terms[tID]
	if b := &r.table.bound; b.about != nil {
		given = strings.TrimLeft(b.about.fill(r.values, r.row, r.first), "#/")
	}
	if given == "" {
		from := r.written
		if r.numbering != nil && !r.table.graph {
			from = r.kept(len(r.cells))
		}
		if r.subject != "" {
			from = []model.Cell{{Column: "@id", Value: r.subject}}
		}
		return derivedID(r.table.File, from), true
	}
	if r.numbering == nil {
		given = strings.Clone(given)
	}
	return given, false
}

// idLetters are the letters of derived ids: RFC 4648 base32 in lower case.
var idLetters = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// derivedID makes an id from a file's name and what its row holds, so that it stays the same when rows or empty columns come and go: the
// file's stem and 40 bits of SHA-256. The same row twice has the same, and gets a count.
func derivedID(file string, cells []model.Cell) string {
	buf := append(make([]byte, 0, 512), path.Base(file)...)
	for _, c := range cells {
		buf = append(buf, 0x1E)
		buf = append(buf, c.Column...)
		buf = append(buf, 0x1F)
		buf = append(buf, strings.TrimSpace(c.Value)...)
	}
	sum := sha256.Sum256(buf)
	return stem(file) + "-" + idLetters.EncodeToString(sum[:5])
}

// stem is a file's name without folder and ending, in lower case letters, digits and hyphens.
func stem(file string) string {
	base := strings.ToLower(path.Base(file))
	base = strings.TrimSuffix(base, path.Ext(base))
	var b strings.Builder
	for _, r := range base {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	if s := strings.Trim(b.String(), "-"); s != "" {
		return s
	}
	return "row"
}

// OpenID reports whether the metadata make an id of the table's rows ("aboutUrl") of columns none of which is private, so that it tells nothing that is.
func (t *Table) OpenID(id string) bool {
	about := t.bound.about
	if about == nil || isDerived(t.File, id) {
		return false
	}
	for _, p := range about.parts {
		if p.text == "" && p.column >= 0 && p.column < len(t.Columns) && t.Columns[p.column].Private {
			return false
		}
	}
	return true
}

// isDerived reports whether an id of a table looks like one that was made from a row's cells.
func isDerived(file, id string) bool {
	rest, ok := strings.CutPrefix(id, stem(file)+"-")
	return ok && len(rest) >= 8 && strings.Trim(rest[:8], "abcdefghijklmnopqrstuvwxyz234567") == "" && (len(rest) == 8 || rest[8] == '-')
}
