package index

import (
	"cmp"
	"context"
	"iter"
	"path/filepath"
	"sync"

	"musterstone/model"
	"musterstone/model/same"
	"musterstone/vocab/name"
)

// parts are the parts of the inputs; where they are not given in parts, one of no digest that is all of them.
func (in *Inputs) parts() []Part {
	if in.Parts != nil {
		return in.Parts
	}
	return []Part{{Batches: func(yield func([]*model.Record, []same.Marks) bool) {
		if in.Records == nil {
			return
		}
		var batch []*model.Record
		for r := range in.Records {
			if batch = append(batch, r); len(batch) == stretch {
				if !yield(batch, nil) {
					return
				}
				batch = batch[:0]
			}
		}
		if len(batch) > 0 {
			yield(batch, nil)
		}
	}}}
}

// buildRecords writes the files of the records into a folder.
func (x *Index) buildRecords(ctx context.Context, s *shelf, folder string) (int, error) {
	w, err := createStore(filepath.Join(folder, recordsName))
	if err != nil {
		return 0, err
	}
	beside := Beside{
		Add:    func(*model.Record, *same.Marks) error { return nil },
		Keep:   func(string, int, int) (bool, error) { return true, nil },
		Finish: func() error { return nil },
	}
	if x.in.Beside != nil {
		if beside, err = x.in.Beside(folder); err != nil {
			w.close()
			return 0, err
		}
	}
	b := recordsBuilder{x: x, shared: newSharer(), store: w, beside: beside}
	b.roller = newSharedRoller(&b.shared.shared)
	parts, err := b.parts(ctx, s)
	if e := w.close(); err == nil {
		err = e
	}
	if err == nil {
		err = ctx.Err()
	}
	var other error
	var finishing sync.WaitGroup
	finishing.Go(func() { other = beside.Finish() })
	if err == nil {
		err = b.tables(folder, parts)
	}
	finishing.Wait()
	if err = cmp.Or(err, other); err != nil {
		return 0, err
	}
	return b.roller.n, nil
}

// tables writes the files beside the records themselves.
func (b *recordsBuilder) tables(folder string, parts []partMade) error {
	x := b.x
	x.progress("records", b.roller.n, b.roller.n)
	b.shared.Words = b.shared.lexicon.book.List()
	roll := b.roller.finish()
	x.progress("surnames", 0, len(roll.surnames))
	var sorting sync.WaitGroup
	sorting.Go(roll.sortIDs)
	t := tables{roll: roll, shared: b.shared.shared, starts: b.store.starts, parts: parts,
		sounds: newSoundOrder(roll.surnames, name.Sound), soundex: newSoundOrder(roll.surnames, name.Soundex)}
	sorting.Wait()
	if err := t.write(folder); err != nil {
		return err
	}
	x.progress("surnames", len(roll.surnames), len(roll.surnames))
	return nil
}

// A recordsBuilder packs records.
type recordsBuilder struct {
	x      *Index
	shared *sharer
	roller *sharedRoller
	store  *storeWriter
	beside Beside

	numbers []sharedNumbers // room for those of a batch
}

// parts packs all parts, those that can be kept out of an earlier index. While one of these is carried over, it is found out whether the next can be.
func (b *recordsBuilder) parts(ctx context.Context, s *shelf) ([]partMade, error) {
	old := earlierIndex(s, &b.x.in)
	defer old.close()
	carry := newCarrier(b, old)
	inputs := b.x.in.parts()
	next := old.begin(inputs)
	defer func() { next() }() // before old is closed
	var list []partMade
	for i := range inputs {
		p := &inputs[i]
		made := partMade{File: p.File, Digest: p.Digest, From: b.roller.n}
		if kept := next(); kept != nil {
			next = old.begin(inputs[i+1:])
			if err := carry.part(ctx, kept); err != nil {
				return nil, err
			}
			made.Alone, made.Complaints = true, kept.Complaints
			b.x.Kept = append(b.x.Kept, p.File)
		} else {
			if err := b.pack(ctx, p.Batches); err != nil {
				return nil, err
			}
			if p.Told != nil {
				made.Complaints, made.Alone = p.Told()
			}
			next = old.begin(inputs[i+1:])
		}
		made.To = b.roller.n
		list = append(list, made)
	}
	return list, nil
}

// pack packs records. Packing and what is made beside share the cores with those who read.
func (b *recordsBuilder) pack(ctx context.Context, batches iter.Seq2[[]*model.Record, []same.Marks]) error {
	for batch, marks := range batches {
		var packed, beside error
		var both sync.WaitGroup
		both.Go(func() { packed = b.batch(batch, marks) })
		for i, rec := range batch {
			if beside = b.beside.Add(rec, marksOf(marks, i)); beside != nil {
				break
			}
		}
		both.Wait()
		if err := cmp.Or(packed, beside, ctx.Err()); err != nil {
			return err
		}
		b.x.progress("records", b.roller.n, max(b.x.in.About, b.roller.n))
	}
	return nil
}

// batch packs some hundred records, one step for all of them after the other: what a step looks up lies far apart in memory, and for one record after the next it need not be waited for.
func (b *recordsBuilder) batch(batch []*model.Record, marks []same.Marks) error {
	b.numbers = b.numbers[:0]
	for i, rec := range batch {
		b.numbers = append(b.numbers, b.shared.share(rec, marksOf(marks, i)))
	}
	for i, rec := range batch {
		b.roller.add(&b.numbers[i], string(rec.ID), rec.Person.Buried, rec.Person.Residence)
	}
	for i, rec := range batch {
		if err := b.store.add(func(to []byte) []byte { return b.shared.put(to, rec, &b.numbers[i]) }); err != nil {
			return err
		}
	}
	return nil
}

// marksOf are the marks of record i of a batch, nil where there are none.
func marksOf(marks []same.Marks, i int) *same.Marks {
	if marks == nil {
		return nil
	}
	return &marks[i]
}
