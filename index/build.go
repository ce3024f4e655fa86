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
	"musterstone/vocab/remarks"
)

// parts are the parts of the inputs; where they are not given in parts, one of no digest that is all of them.
func (in *Inputs) parts() []Part {
	if in.Parts != nil {
		return in.Parts
	}
	return []Part{{Batches: func(yield func(*same.Batch) bool) {
		if in.Records == nil {
			return
		}
		collector := same.NewCollector()
		var list []*model.Record
		for r := range in.Records {
			if n := len(list); n == stretch || n > 0 && list[0].Source.File != r.Source.File {
				if !yield(collector.Take(list)) {
					return
				}
				list = list[:0]
			}
			list = append(list, r)
		}
		if len(list) > 0 {
			yield(collector.Take(list))
		}
	}}}
}

// tablesMade are the tables of records that were indexed, as they were written.
type tablesMade struct {
	lists   *lists
	names   *names
	records int // of which some have several rows
}

// buildRecords writes the files of the records into a folder.
func (x *Index) buildRecords(ctx context.Context, s *shelf, folder string) (made tablesMade, err error) {
	w, err := createStore(filepath.Join(folder, recordsName), x.in.About)
	if err != nil {
		return made, err
	}
	beside := Beside{
		Add:    func(*same.Batch, []*remarks.Told) error { return nil },
		Keep:   func(string, int, int) (bool, error) { return true, nil },
		Finish: func() error { return nil },
	}
	if x.in.Beside != nil {
		if beside, err = x.in.Beside(folder); err != nil {
			w.close()
			return made, err
		}
	}
	b := recordsBuilder{x: x, shared: newSharer(), store: w, beside: beside}
	b.roller = b.shared.roller
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
		made, err = b.tables(folder, parts)
	}
	finishing.Wait()
	return made, cmp.Or(err, other)
}

// tables writes the files beside the records themselves.
func (b *recordsBuilder) tables(folder string, parts []partMade) (made tablesMade, err error) {
	x := b.x
	x.progress("records", b.roller.n, b.roller.n)
	roll, rank := &b.roller.roll, b.roller.sortSurnames()
	x.progress("surnames", 0, len(roll.surnames))
	t := tables{roll: roll, shared: b.shared.lists(), starts: b.store.starts, parts: parts}
	var others sync.WaitGroup
	others.Go(func() {
		b.roller.sortRows(rank)
		roll.sortIDs()
	})
	t.sounds, t.soundex = newSoundOrder(roll.surnames, name.Sound), newSoundOrder(roll.surnames, name.Soundex)
	made.names = newNames(roll, t.sounds, t.soundex)
	others.Wait()
	made.lists = t.lists()
	made.records = b.roller.n
	err = t.write(made.lists, folder)
	x.progress("surnames", len(roll.surnames), len(roll.surnames))
	return made, err
}

// A recordsBuilder packs records.
type recordsBuilder struct {
	x      *Index
	shared *sharer
	roller *sharedRoller
	store  *storeWriter
	beside Beside
	told   remarks.Memory

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
func (b *recordsBuilder) pack(ctx context.Context, batches iter.Seq[*same.Batch]) error {
	for batch := range batches {
		var packed error
		var both sync.WaitGroup
		told := b.told.Rows(batch) // once for both
		both.Go(func() { packed = b.batch(batch, told) })
		beside := b.beside.Add(batch, told)
		both.Wait()
		if err := cmp.Or(packed, beside, ctx.Err()); err != nil {
			return err
		}
		b.x.progress("records", b.roller.n, max(b.x.in.About, b.roller.n))
	}
	return nil
}

// batch packs some hundred records, one step for all of them after the other: what a step looks up lies far apart in memory, and for one record after the next it need not be waited for.
func (b *recordsBuilder) batch(batch *same.Batch, told []*remarks.Told) error {
	of, file := b.shared.reader(batch), b.shared.file(batch.File)
	of.ask(batch.Rows)
	b.numbers = b.numbers[:0]
	for _, r := range batch.Rows {
		b.numbers = append(b.numbers, b.shared.share(batch, of, r, file))
	}
	for i, r := range batch.Rows {
		b.roller.add(&b.numbers[i], r.ID, told[i])
	}
	for i, r := range batch.Rows {
		if err := b.store.add(func(to []byte) []byte { return b.shared.put(to, batch, of, r, &b.numbers[i]) }); err != nil {
			return err
		}
	}
	return nil
}
