package main

import (
	"syscall"
	"testing"

	"musterstone/testdata/county"
)

// processor is how many seconds of processor time the process has used.
func processor(b *testing.B) float64 {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return float64(u.Utime.Sec+u.Stime.Sec) + float64(u.Utime.Usec+u.Stime.Usec)/1e6
}

// BenchmarkMachines links 2,000 stones to 100,000 records on one machine as the ordinary program does, and with the pipeline on Prism, looks that they propose the
// same, and says what each took of the processors.
func BenchmarkMachines(b *testing.B) {
	for b.Loop() {
		opt := defaults()
		opt.Survey, opt.Out, opt.Rounds = b.TempDir(), b.TempDir(), 60
		if err := county.Make(opt.Survey, county.Options{Seed: 3, Records: 100_000, Stones: 2000}); err != nil {
			b.Fatal(err)
		}
		begin := processor(b)
		want := onOneMachine(b, opt.Survey)
		one := processor(b)
		got, counted := onBeam(b, opt)
		many := processor(b)
		if len(got) != len(want) {
			b.Fatalf("%d proposals, want %d", len(got), len(want))
		}
		for i := range want {
			if d := differ(&want[i], &got[i]); d != "" {
				b.Errorf("stone %s: one machine and many differ: %s", want[i].Stone, d)
			}
		}
		b.ReportMetric(one-begin, "one-processor-s")
		b.ReportMetric(many-one, "prism-processor-s")
		b.ReportMetric((many-one)/(one-begin), "times")
		for _, c := range counted {
			b.Logf("%-70s %12d", c.name, c.n)
		}
	}
}
