package weigh

import (
	"syscall"
	"testing"
	"time"

	"musterstone/model"
)

// cpu is the processor time that the process has used: on a machine that others use too it says more than the clock.
func cpu() time.Duration {
	var u syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkPair is the whole comparison and weight of a stone and a record, one core: packed rows; the records themselves; and records with their evidence spelled, as is
// done for the best ten. Goal: 20 million packed pairs a second.
func BenchmarkPair(b *testing.B) {
	records, subjects := made(7, 4096, 64)
	for i, r := range records { // as rosters of one war have it, in which few men are told to have had another name or unit
		r.Service.Conflicts, r.Service.Side = []model.ConflictCode{"civil-war"}, "union"
		if i%16 > 0 {
			r.Service.Remarks = ""
		}
	}
	columns := pack(records)
	w := NewPacked(columns.Counts(), CountMoves(subjects), columns)
	var stones []*Stone
	for _, s := range subjects {
		stones = append(stones, w.Stone(s, s.Reading().Claim()))
	}
	var l Lines
	sum := 0.0
	for _, f := range []struct {
		name string
		pair func(v *Stone, i int)
	}{
		{"Packed", func(v *Stone, i int) { v.Row(uint32(i), &l) }},
		{"Record", func(v *Stone, i int) { v.Record(records[i], &l) }},
		{"Spelled", func(v *Stone, i int) { l.Bits, _ = v.Against(records[i]) }},
	} {
		b.Run(f.name, func(b *testing.B) {
			b.ReportAllocs()
			n, before := 0, cpu()
			for b.Loop() {
				v := stones[n%len(stones)]
				for i := range 1024 {
					f.pair(v, (n*1024+i)%len(records))
					sum += l.Bits
				}
				n++
			}
			b.ReportMetric(float64(n)*1024/b.Elapsed().Seconds()/1e6, "Mpairs/s")
			b.ReportMetric(float64(n)*1024/(cpu()-before).Seconds()/1e6, "Mpairs/cpu-s")
		})
	}
	if sum == 0 {
		b.Fatal("nothing weighs anything")
	}
}
