package intake

import (
	"fmt"
	"iter"

	"musterstone/index/texts"
)

// An idBook holds the ids that were given, and where. The zero book is empty and ready.
type idBook struct {
	ids    texts.Book // with the rows in which they stand
	tables []*Table   // the tables, each with the number of ids that were given before it
	from   []int
	hashes []uint32 // room for those that are asked for
}

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
	unique = id
	for n := 2; ; n++ {
		first, taken := b.take(unique, texts.Hash(unique), at)
		if !taken {
			return unique, crossed
		}
		crossed = crossed || first.table != at.table
		unique = fmt.Sprintf("%s-%d", id, n)
	}
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
