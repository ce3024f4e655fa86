package job

import (
	"fmt"
	"strings"
	"sync"
	"sync/atomic"

	"musterstone/index"
	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/vocab/inscription"
	"musterstone/vocab/marker"
)

// packed are the stones of the survey with what was read on them, a few hundred bytes each: what linking needs of a stone, which a whole run over very many asks for twice. The cells
// as they stood, the tokens of the readings and the reasons for the pattern are not among it.
type packed struct {
	blocks    []packedBlock
	n         int
	registers map[model.StoneID]bool // those that are rows of a burial register
	surnames  []string               // as Linker.Surnames has them; none where the stones were kept of an earlier run, which weighs nothing
	moves     *weigh.Moves
}

// packedBlock is blockStones stones, one after the other.
type packedBlock struct {
	data string
	ends []uint32
}

const blockStones = 512

// len is how many stones there are; none where they were not packed.
func (p *packed) len() int {
	if p == nil {
		return 0
	}
	return p.n
}

// at is the stone at a place.
func (p *packed) at(i int) *model.Subject {
	b, k, from := &p.blocks[i/blockStones], i%blockStones, uint32(0)
	if k > 0 {
		from = b.ends[k-1]
	}
	s := new(model.Subject)
	if err := index.ReadPlain(b.data[from:b.ends[k]], s); err != nil {
		panic(fmt.Sprintf("job: packed stone %d: %v", i, err)) // it was written by this run
	}
	return s
}

// packStones reads the stones and packs them, once; or waits until those that are being packed are.
func (j *Job) packStones() *packed {
	if j.packed != nil {
		return j.packed
	}
	defer j.stage("reading inscriptions")()
	if j.packing != nil {
		return j.endPacking()
	}
	p := newPacker(func(n int) {
		bound(0, n, len(j.stones))
		j.opts.Progress("reading inscriptions", n, 0)
	})
	switch {
	case j.subjects != nil:
		for _, s := range j.subjects {
			p.add(s)
		}
	case j.read:
		for _, s := range j.stones {
			p.add(&model.Subject{Stone: s})
		}
	default:
		for s := range j.Survey.Stones(j.complain) {
			p.add(&model.Subject{Stone: s})
		}
	}
	j.packed = p.finish()
	return j.packed
}

// packing is the stones on their way into a packer while the index is opened or built.
type packing struct {
	packer     *packer
	complaints []model.Complaint
	told       chan int      // how many are packed, now and then
	graves     func() string // where it is not nil, a digest that hangs on the complaints
	stop       atomic.Bool
	gate       sync.RWMutex // locked while the cores have other work
}

// beginPacking begins to read and pack the stones: beside the opening of the index, or beside what one core does before and after the rosters are read, which takes both. What it gives
// ends that where it was not waited for.
func (j *Job) beginPacking() (end func()) {
	if j.packed != nil || j.read || j.index != nil {
		return func() {}
	}
	about := j.Survey.RecordsAbout()
	bound(building(about), 0, 0)
	p := &packing{told: make(chan int, 1)}
	p.packer = newPacker(func(n int) {
		bound(building(about), n, 0)
		select {
		case p.told <- n:
		default:
		}
	})
	p.packer.before = func() { p.gate.RLock(); defer p.gate.RUnlock() } // waits
	j.packing = p
	go func() {
		defer close(p.told)
		for s := range j.Survey.Stones(func(c model.Complaint) { p.complaints = append(p.complaints, c) }) {
			if p.stop.Load() {
				return
			}
			p.packer.add(&model.Subject{Stone: s})
		}
		p.packer.finish()
	}()
	return func() {
		p.stop.Store(true)
		for range p.told {
		}
		if j.packing == p {
			j.packing = nil
		}
	}
}

// endPacking waits for the stones that are being packed.
func (j *Job) endPacking() *packed {
	p := j.packing
	for n := range p.told {
		j.opts.Progress("reading inscriptions", n, 0)
	}
	for _, c := range p.complaints {
		j.complain(c)
	}
	j.packing, j.packed = nil, p.packer.p
	if p.graves != nil {
		p.graves()
	}
	return j.packed
}

// A packer packs stones as they come by.
type packer struct {
	p      *packed
	block  []*model.Subject
	texts  [][]byte
	packed func(n int) // hears how many are packed
	before func()      // where it is not nil, called before a stone is read, by several goroutines
}

func newPacker(packed func(n int)) *packer {
	return &packer{p: newPacked(), block: make([]*model.Subject, 0, blockStones), texts: make([][]byte, blockStones), packed: packed}
}

func newPacked() *packed {
	return &packed{registers: map[model.StoneID]bool{}, moves: weigh.CountMoves(nil)}
}

// count counts one more stone.
func (p *packed) count(s *model.Subject) {
	p.n++
	p.moves.Add(s)
	if s.Stone.Register != nil {
		p.registers[s.Stone.ID] = true
	}
}

// add packs a stone, which is read where it was not.
func (p *packer) add(s *model.Subject) {
	if p.block = append(p.block, s); len(p.block) == blockStones {
		p.flush()
	}
}

// finish packs what is left.
func (p *packer) finish() *packed {
	if len(p.block) > 0 {
		p.flush()
	}
	return p.p
}

func (p *packer) flush() {
	InParallel(len(p.block), func(k int) {
		if p.before != nil {
			p.before()
		}
		s := p.block[k]
		if s.Readings == nil {
			s.Readings = inscription.ReadStone(s.Stone)
			s.Implies = marker.Briefly(s.Stone, s.Reading())
		}
		p.texts[k] = index.AppendPlain(p.texts[k][:0], *trimmed(s))
	})
	b := packedBlock{ends: make([]uint32, 0, len(p.block))}
	size := 0
	for k := range p.block {
		size += len(p.texts[k])
	}
	var data strings.Builder
	data.Grow(size)
	to := p.p
	for k, s := range p.block {
		data.Write(p.texts[k])
		b.ends = append(b.ends, uint32(data.Len()))
		to.count(s)
		to.surnames = append(to.surnames, strings.Clone(s.Reading().Claim().Person.Name.Surname))
	}
	b.data = data.String()
	to.blocks = append(to.blocks, b)
	p.block = p.block[:0]
	p.packed(to.n)
}

// trimmed is a stone with what linking needs of it.
func trimmed(s *model.Subject) *model.Subject {
	stone := *s.Stone
	stone.Written, stone.Marker.Inscription = nil, ""
	out := &model.Subject{Stone: &stone, Readings: make([]model.Reading, len(s.Readings)), Implies: s.Implies}
	for i, r := range s.Readings {
		r.Tokens = nil
		out.Readings[i] = r
	}
	out.Implies.Because, out.Implies.Contradictions, out.Implies.Next = nil, nil, ""
	return out
}
