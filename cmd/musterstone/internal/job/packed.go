package job

import (
	"fmt"
	"strings"

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

// packStones reads the stones and packs them, once.
func (j *Job) packStones() *packed {
	if j.packed != nil {
		return j.packed
	}
	defer j.stage("reading stones")()
	p := &packed{registers: map[model.StoneID]bool{}, moves: weigh.CountMoves(nil)}
	block := make([]*model.Subject, 0, blockStones)
	texts := make([][]byte, blockStones)
	stage := "reading inscriptions"
	if j.left != nil { // on the same cores
		stage = "reading inscriptions and the index"
	}
	flush := func() {
		defer j.stage(stage)()
		InParallel(len(block), func(k int) {
			s := block[k]
			if s.Readings == nil {
				s.Readings = inscription.ReadStone(s.Stone)
				s.Implies = marker.Briefly(s.Stone, s.Reading())
			}
			texts[k] = index.AppendPlain(texts[k][:0], *trimmed(s))
		})
		b := packedBlock{ends: make([]uint32, 0, len(block))}
		size := 0
		for k := range block {
			size += len(texts[k])
		}
		var data strings.Builder
		data.Grow(size)
		for k, s := range block {
			data.Write(texts[k])
			b.ends = append(b.ends, uint32(data.Len()))
			p.moves.Add(s)
			if s.Stone.Register != nil {
				p.registers[s.Stone.ID] = true
			}
		}
		b.data = data.String()
		p.blocks, p.n = append(p.blocks, b), p.n+len(block)
		block = block[:0]
		bound(j.left.records(), p.n, len(j.stones))
		j.opts.Progress("reading inscriptions", p.n, 0)
	}
	add := func(s *model.Subject) {
		if block = append(block, s); len(block) == blockStones {
			flush()
		}
	}
	switch {
	case j.subjects != nil:
		for _, s := range j.subjects {
			add(s)
		}
	case j.read:
		for _, s := range j.stones {
			add(&model.Subject{Stone: s})
		}
	default:
		for s := range j.Survey.Stones(j.complain) {
			add(&model.Subject{Stone: s})
		}
	}
	if len(block) > 0 {
		flush()
	}
	j.packed = p
	return p
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
