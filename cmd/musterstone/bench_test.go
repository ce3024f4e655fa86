package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"musterstone/testdata/county"
)

// BenchmarkSurvey runs propose on a made survey of 1,000 stones and 20,000 records, from the files to the JSON: cold, with the index to be built, and warm.
func BenchmarkSurvey(b *testing.B) {
	dir := b.TempDir()
	if err := county.Make(dir, county.Options{Seed: 1, Records: 20000, Stones: 1000}); err != nil {
		b.Fatal(err)
	}
	propose := func(b *testing.B) {
		var errs bytes.Buffer
		if code := run(context.Background(), []string{"musterstone", "propose", "--json", "--survey", dir}, nil, io.Discard, &errs); code != 0 {
			b.Fatalf("propose ended with status %d: %s", code, errs.String())
		}
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		b.ReportMetric(float64(m.Sys)/1e6, "MB-sys")
	}
	b.Run("cold", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			if err := os.RemoveAll(filepath.Join(dir, ".musterstone")); err != nil {
				b.Fatal(err)
			}
			b.StartTimer()
			propose(b)
		}
	})
	b.Run("warm", func(b *testing.B) {
		for b.Loop() {
			propose(b)
		}
	})
}
