package job

import (
	"testing"

	"musterstone/index"
	"musterstone/model"
	"musterstone/testdata/county"
)

// BenchmarkPacked is what a stone costs to be read, to be packed, and to be had again.
func BenchmarkPacked(b *testing.B) {
	dir := b.TempDir()
	if err := county.Make(dir, county.Options{Seed: 1, Records: 2000, Stones: 512}); err != nil {
		b.Fatal(err)
	}
	j, err := Open(dir, Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer j.Close()
	stones, packed := j.Stones(), j.packStones()
	var subjects []*model.Subject
	for _, s := range stones {
		subjects = append(subjects, Subject(s))
	}
	b.Run("read", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			Subject(stones[i%len(stones)])
		}
	})
	b.Run("pack", func(b *testing.B) {
		var buf []byte
		for i := 0; b.Loop(); i++ {
			buf = index.AppendPlain(buf[:0], *trimmed(subjects[i%len(subjects)]))
		}
		b.ReportMetric(float64(len(packed.blocks[0].data))/float64(packed.n), "bytes/stone")
	})
	b.Run("have", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			packed.at(i % packed.n)
		}
	})
}
