package link

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"musterstone/link/weigh"
	"musterstone/model"
)

// urn makes stones of men whom the rosters lack, of companies of a hundred men no two of whom share a surname, each borne by one man of five thousand. Of the stones so many in a hundred bear a surname
// of their company by being named like one of it; of the others one in fifty does, by chance.
func urn(named int) *trial {
	t := &trial{Fit: NewFit(), ladder: newLadder(nil), cases: &Cases{Records: 1000, Rosters: []string{""}}}
	for i := range 600 {
		s := Case{Standing: Standing{Veteran: 1}, Company: 100}
		if i%100 < named || i%50 == 49 && i%100 >= named {
			s.Kin = []Kin{{Share: .0002, Men: 1}}
		}
		t.cases.Stones = append(t.cases.Stones, s)
	}
	return t
}

// TestKin: how far men whom the rosters lack are named like their companies comes out where they are and where they are not; where the stones bear the table out it stays.
func TestKin(t *testing.T) {
	table := 100 / (100 + 1/weigh.KinExcess()) // the share of them who are named so by the table
	for _, tt := range []struct {
		named       int
		least, most float64 // of the share learned
	}{{0, 0, .025}, {int(100*table + .5), table - .02, table + .02}, {40, .36, .41}, {80, .73, .81}} {
		f := urn(tt.named)
		f.run(fittedStage)
		if got, _ := f.named(100, nil); got < tt.least || got > tt.most {
			t.Errorf("%d of a hundred are named like one of their company: learned %.3f, want from %.3f to %.3f (Kin %.2f)", tt.named, got, tt.least, tt.most, f.Kin)
		}
	}
}

// TestKinBits: what the urn gives, worked by hand: of a company of a hundred men three bear the surname that one man in a thousand bears. The table's excess is .0017, so a is 588.2; the next man of the company
// bears it with the chance (3 + .5882) / 688.2 = .005214, which is 5.214 times the share. The table's line has it at 2.7 times, whatever the company.
func TestKinBits(t *testing.T) {
	f := NewFit()
	k := Kin{Share: .001, Men: 3}
	if got, want := f.kinBits(100, &k), math.Log2(2.7/5.214); math.Abs(got-want) > .001 {
		t.Errorf("three of a hundred: %.4f bits, want %.4f", got, want)
	}
	f.Kin = 1e-9 // they share nothing with the company
	if got, want := f.kinBits(100, &k), math.Log2(2.7); math.Abs(got-want) > .001 {
		t.Errorf("where strangers share nothing: %.4f bits, want the table's taken back, %.4f", got, want)
	}
}

// TestKinOfCompany: the men of a stone's company and surname are counted by the spelling at which they agree, and stand so in the candidates' evidence, which adds up; weighed as rows and as records they
// come to the same to the bit.
func TestKinOfCompany(t *testing.T) {
	records := company()
	for i, who := range []string{"Tillotson, Enos", "Tillotson, Jared", "Tillottson, Abel"} {
		records = append(records, record(fmt.Sprint("k", i), who, "Co. F, 31st Wis. Inf."))
	}
	records = append(records, record("k9", "Tillotson, Enos", "Co. G, 31st Wis. Inf."))
	packer := weigh.NewPacker()
	for _, r := range records {
		packer.Add(r)
	}
	columns := packer.Columns()
	var subjects []*model.Subject
	for i, r := range records[:120] {
		subjects = append(subjects, subject(fmt.Sprint("s", i), r.Person.Name.Given+" "+r.Person.Name.Surname, r.Service.Unit.Written))
	}
	stranger := subject("x", "Zebulon Tillotson", "Co. F 31 Wis. Inf.")
	subjects = append(subjects, stranger)
	counts := columns.Counts()
	scan := &Scan{Records: records, Counts: counts}
	number := map[model.RecordID]uint32{}
	for i := range records {
		number[columns.ID(uint32(i))] = uint32(i)
	}
	l := &Linker{Columns: columns, Counts: counts, Rows: func(ctx context.Context, s *model.Subject, limit int) ([]uint32, error) {
		found, err := scan.Candidates(ctx, s, limit)
		var rows []uint32
		for _, r := range found {
			rows = append(rows, number[r.ID])
		}
		return rows, err
	}}
	byRows, lesson, err := l.Learn(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	byRecords, other, err := (&Linker{Finder: scan, Counts: counts}).Learn(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	if lesson.Kin != other.Kin || lesson.Kin == 1 {
		t.Errorf("learned %v of rows and %v of records", lesson.Kin, other.Kin)
	}
	told := 0
	for i, p := range byRows {
		for k, c := range p.Candidates {
			d := byRecords[i].Candidates[k]
			if c.Record != d.Record || c.Bits != d.Bits {
				t.Fatalf("stone %s: row %s has %v bits, record %s %v", p.Stone, c.Record, c.Bits, d.Record, d.Bits)
			}
			bits := 0.0
			for n, e := range c.Evidence {
				bits += e.Bits
				if e.Field == "kin" {
					told++
				}
				if e.Bits != d.Evidence[n].Bits {
					t.Errorf("stone %s, %s: %s has %v bits by rows and %v by records", p.Stone, c.Record, e.Field, e.Bits, d.Evidence[n].Bits)
				}
			}
			if bits != c.Bits {
				t.Errorf("stone %s, %s: evidence adds up to %v, bits are %v", p.Stone, c.Record, bits, c.Bits)
			}
		}
	}
	if told < 120 {
		t.Errorf("%d candidates are weighed with their company", told)
	}
	w, err := l.weighOne(context.Background(), l.weigher(listed(subjects)), stranger, 50, nil)
	if err != nil {
		t.Fatal(err)
	}
	if in := 25 + 4; w.company != in || len(w.kin) != 2 || w.kin[0].Men+w.kin[1].Men != 4 || max(w.kin[0].Men, w.kin[1].Men) != 3 {
		t.Errorf("kin %+v in a company of %d, want 3 Tillotsons and a Tillottson among %d", w.kin, w.company, in)
	}
}

// TestKinOfManyParts: a round counted in parts, in any order, comes to the same to the bit.
func TestKinOfManyParts(t *testing.T) {
	whole, parted := urn(30), urn(30)
	r := rand.New(rand.NewPCG(3, 4))
	for i := range whole.cases.Stones {
		v := r.Float64()
		whole.cases.Stones[i].Veteran, parted.cases.Stones[i].Veteran = v, v
	}
	whole.run(fittedStage)
	parted.cases.numberRegiments()
	for parted.Stage < fittedStage {
		sums := newSums()
		for part := range slices.Values([]int{2, 0, 1}) {
			sums.Merge(parted.cases.count(parted.Fit, 0, parted.cases.Stones[part*200:part*200+200]))
		}
		parted.next(parted.ladder, sums)
	}
	if whole.Kin != parted.Kin || whole.Kin == 1 {
		t.Errorf("learned %v in one go and %v in parts", whole.Kin, parted.Kin)
	}
}
