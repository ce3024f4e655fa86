package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"musterstone/index/intake"
	"musterstone/model"
	"musterstone/vocab/inscription"
	"musterstone/vocab/marker"
)

// table opens one table of a survey, as a survey of its own.
func table(dir string, number int64) (*intake.Survey, error) {
	s, err := openSurvey(dir)
	if err != nil {
		return nil, err
	}
	if int(number) >= len(s.Tables) {
		return nil, fmt.Errorf("the survey %s has %d tables here, and more where the run was started: every worker must see the same folder", dir, len(s.Tables))
	}
	s.Tables = s.Tables[number : number+1]
	return s, nil
}

// openSurvey opens a survey; tables that cannot be read are left out, as on one machine.
func openSurvey(dir string) (*intake.Survey, error) {
	s, err := intake.Open(dir)
	var faults *intake.Faults
	if err != nil && !(errors.As(err, &faults) && s != nil && len(s.Tables) > 0) {
		return nil, err
	}
	return s, nil
}

// complain counts what is amiss with rows; the ordinary program's check tells it row by row.
func complain(ctx context.Context) func(model.Complaint) {
	return func(c model.Complaint) {
		beam.NewCounter(namespace, "complaints").Inc(ctx, 1)
		if c.Fatal {
			beam.NewCounter(namespace, "rows left out").Inc(ctx, 1)
		}
	}
}

// readRecords reads a roster and gives its records in blocks.
type readRecords struct {
	Survey string
	Size   int // records in a block
}

func (fn *readRecords) ProcessElement(ctx context.Context, number int64, emit func([]byte)) error {
	s, err := table(fn.Survey, number)
	if err != nil {
		return err
	}
	var b recordBlock
	send := func() error {
		out, err := pack(b)
		if err != nil {
			return err
		}
		tell(ctx, "1 records read", len(b.Records), len(out))
		emit(out)
		b = recordBlock{}
		return nil
	}
	row := 0
	for r := range s.Records(complain(ctx)) {
		bare := *r
		bare.Written = nil // no field is weighed by the cells as such
		b.Places, b.Records = append(b.Places, placeOf(number, row)), append(b.Records, bare)
		row++
		if len(b.Records) == fn.Size {
			if err := send(); err != nil {
				return err
			}
		}
	}
	if len(b.Records) > 0 {
		return send()
	}
	return nil
}

// readStones reads a table of stones and gives its rows in blocks.
type readStones struct {
	Survey string
	Size   int // stones in a block
}

func (fn *readStones) ProcessElement(ctx context.Context, number int64, emit func([]byte)) error {
	s, err := table(fn.Survey, number)
	if err != nil {
		return err
	}
	b := stoneBlock{Block: blockOf(number, 0)}
	send := func() error {
		out, err := pack(b)
		if err != nil {
			return err
		}
		tell(ctx, "2 stones read", len(b.Subjects), len(out))
		emit(out)
		b = stoneBlock{Block: b.Block + 1}
		return nil
	}
	row := 0
	for stone := range s.Stones(complain(ctx)) {
		b.Places, b.Subjects = append(b.Places, placeOf(number, row)), append(b.Subjects, &model.Subject{Stone: stone})
		row++
		if len(b.Subjects) == fn.Size {
			if err := send(); err != nil {
				return err
			}
		}
	}
	if len(b.Subjects) > 0 {
		return send()
	}
	return nil
}

// readInscriptions reads what stands on the stones of a block.
type readInscriptions struct{}

func (readInscriptions) ProcessElement(ctx context.Context, in []byte, emit func([]byte)) error {
	var b stoneBlock
	if err := unpack(in, &b); err != nil {
		return err
	}
	for _, s := range b.Subjects {
		s.Readings = inscription.ReadStone(s.Stone)
		s.Implies = marker.Imply(s.Stone, s.Reading())
	}
	out, err := pack(b)
	if err != nil {
		return err
	}
	tell(ctx, "3 inscriptions read", len(b.Subjects), len(out))
	emit(out)
	return nil
}

// idsOf gives digests of the ids of a block, each to the bucket where those of all tables meet.
type idsOf struct {
	Stones  bool
	Buckets int
}

// idBlock is digests of the ids of one table.
type idBlock struct {
	Table int
	IDs   []uint64
}

func (fn *idsOf) ProcessElement(ctx context.Context, in []byte, emit func(int64, []byte)) error {
	var ids []uint64
	var places []int
	if fn.Stones {
		var b stoneBlock
		if err := unpack(in, &b); err != nil {
			return err
		}
		places = b.Places
		for _, s := range b.Subjects {
			ids = append(ids, digest(string(s.Stone.ID)))
		}
	} else {
		var b recordBlock
		if err := unpack(in, &b); err != nil {
			return err
		}
		places = b.Places
		for i := range b.Records {
			ids = append(ids, digest(string(b.Records[i].ID)))
		}
	}
	buckets := make([]idBlock, fn.Buckets)
	for i, id := range ids {
		b := &buckets[id%uint64(fn.Buckets)]
		b.Table, b.IDs = places[i]>>rowBits, append(b.IDs, id)
	}
	for n, b := range buckets {
		if len(b.IDs) == 0 {
			continue
		}
		out, err := pack(b)
		if err != nil {
			return err
		}
		tell(ctx, "ids compared", len(b.IDs), len(out))
		emit(int64(n), out)
	}
	return nil
}

// checkIDs fails where two tables give one id: on one machine the later row would be left out.
type checkIDs struct{ Survey string }

func (fn *checkIDs) ProcessElement(_ int64, next func(*[]byte) bool, _ func([]byte)) error {
	tables := map[uint64]int{}
	var in []byte
	for next(&in) {
		var b idBlock
		if err := unpack(in, &b); err != nil {
			return err
		}
		for _, id := range b.IDs {
			if first, ok := tables[id]; ok && first != b.Table {
				s, err := openSurvey(fn.Survey)
				if err != nil {
					return err
				}
				return fmt.Errorf("the tables %s and %s of the survey give the same id to two rows; musterstone check tells which: make the ids differ", s.Tables[first].File, s.Tables[b.Table].File)
			}
			tables[id] = b.Table
		}
	}
	return nil
}
