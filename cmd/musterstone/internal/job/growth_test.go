package job

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"musterstone/link"
)

// growthRun is one run of the whole job, in a process of its own.
type growthRun struct {
	Wall, CPU time.Duration
	Peak      int64 // bytes of memory held at once
	Stages    []Timing
}

// growthSizes are the numbers of records of BenchmarkGrowth; MUSTERSTONE_RECORDS is the largest that is run, without it 100,000.
var growthSizes = []int{10_000, 100_000, 1_000_000, 6_300_000}

// BenchmarkGrowth runs the whole job on surveys of growing rosters, cold and warm, each in a process of its own, and prints time and memory, by stage, with
// the exponent between one size and the next: 1 where twice the records take twice the time.
func BenchmarkGrowth(b *testing.B) {
	most := 100_000
	if n, err := strconv.Atoi(os.Getenv("MUSTERSTONE_RECORDS")); err == nil {
		most = n
	}
	for b.Loop() {
		runs := map[string][]growthRun{}
		var sizes []int
		for _, n := range growthSizes {
			if n > most {
				break
			}
			sizes = append(sizes, n)
			dir := b.TempDir()
			growthChild(b, "make", survey{maker: "county", records: n, stones: min(10_000, n/10), seed: 1}, dir)
			for _, how := range []string{"cold", "warm"} {
				runs[how] = append(runs[how], growthChild(b, "run", survey{}, dir))
				forget(b, dir, weighedFile) // what is warm is the index
			}
			os.RemoveAll(dir)
		}
		for _, how := range []string{"cold", "warm"} {
			fmt.Print(growthTable(how, sizes, runs[how]))
		}
	}
}

// growthChild runs TestGrowthChild in a process of its own: "make" for the survey, "table" for what a peer reads of it, "run" for the job. What makes surveys must not start runs itself:
// the most memory that a process held counts as held by those that it starts.
func growthChild(b *testing.B, what string, s survey, dir string) growthRun {
	b.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestGrowthChild$", "-test.timeout=2h")
	cmd.Env = append(os.Environ(), "MUSTERSTONE_GROWTH="+what, "MUSTERSTONE_GROWTH_DIR="+dir, "MUSTERSTONE_GROWTH_MAKER="+s.maker,
		"MUSTERSTONE_GROWTH_RECORDS="+strconv.Itoa(s.records), "MUSTERSTONE_GROWTH_STONES="+strconv.Itoa(s.stones), "MUSTERSTONE_GROWTH_SEED="+strconv.FormatUint(s.seed, 10))
	cmd.Stderr = os.Stderr
	start := time.Now()
	out, err := cmd.Output()
	if err != nil {
		b.Fatalf("%s %s: %v\n%s", what, dir, err, out)
	}
	r := growthRun{Wall: time.Since(start), CPU: cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()}
	if what == "run" {
		line, _, _ := strings.Cut(string(out), "\n")
		if err := json.Unmarshal([]byte(line), &r); err != nil {
			b.Fatalf("%s: %v", line, err)
		}
	}
	return r
}

// TestGrowthChild is what BenchmarkGrowth starts.
func TestGrowthChild(t *testing.T) {
	what, dir := os.Getenv("MUSTERSTONE_GROWTH"), os.Getenv("MUSTERSTONE_GROWTH_DIR")
	if what == "" {
		t.Skip("for BenchmarkGrowth")
	}
	switch what {
	case "make":
		s := survey{maker: os.Getenv("MUSTERSTONE_GROWTH_MAKER")}
		for name, to := range map[string]any{"RECORDS": &s.records, "STONES": &s.stones, "SEED": &s.seed} {
			if _, err := fmt.Sscan(os.Getenv("MUSTERSTONE_GROWTH_"+name), to); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		if err := s.write(dir); err != nil {
			t.Fatal(err)
		}
		return
	case "table":
		if err := peerTable(dir); err != nil {
			t.Fatal(err)
		}
		return
	}
	j, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	told := 0
	err = j.Each(context.Background(), 0, func(t *link.Told) func() error {
		return func() error {
			told += len(t.Proposals)
			return nil
		}
	})
	if err != nil || told == 0 {
		t.Fatalf("%d proposals, error %v", told, err)
	}
	j.timings.begin("")
	_, peak := processor()
	out, err := json.Marshal(growthRun{Wall: time.Since(j.timings.start), CPU: j.timings.used, Peak: peak, Stages: j.timings.list})
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println(string(out))
}

// growthTable prints the runs of all sizes beside each other, a stage a line.
func growthTable(how string, sizes []int, runs []growthRun) string {
	var b strings.Builder
	line := func(name string, values []float64, form func(float64) string) {
		fmt.Fprintf(&b, "%-34s", name)
		for i, v := range values {
			fmt.Fprintf(&b, " %10s", form(v))
			switch {
			case i == 0:
			case v > 0 && values[i-1] > 0:
				fmt.Fprintf(&b, " (%5.2f)", math.Log(v/values[i-1])/math.Log(float64(sizes[i])/float64(sizes[i-1])))
			default:
				fmt.Fprintf(&b, " (    -)")
			}
		}
		b.WriteByte('\n')
	}
	seconds := func(v float64) string { return fmt.Sprintf("%.2f s", v) }
	of := func(f func(growthRun) float64) (list []float64) {
		for _, r := range runs {
			list = append(list, f(r))
		}
		return list
	}
	records := make([]float64, len(sizes))
	for i, n := range sizes {
		records[i] = float64(n)
	}
	fmt.Fprintf(&b, "\n%s, by the clock, processor time by stage; in brackets the exponent\n", how)
	line("records", records, func(v float64) string { return strconv.Itoa(int(v)) })
	line("all, by the clock", of(func(r growthRun) float64 { return r.Wall.Seconds() }), seconds)
	line("all, processor time", of(func(r growthRun) float64 { return r.CPU.Seconds() }), seconds)
	line("memory at most", of(func(r growthRun) float64 { return float64(r.Peak) }), func(v float64) string { return fmt.Sprintf("%.0f MB", v/1e6) })
	var stages []string
	for _, r := range runs {
		for _, s := range r.Stages {
			if !slices.Contains(stages, s.Stage) {
				stages = append(stages, s.Stage)
			}
		}
	}
	for _, stage := range stages {
		line("  "+stage, of(func(r growthRun) float64 {
			for _, s := range r.Stages {
				if s.Stage == stage {
					return s.CPU.Seconds()
				}
			}
			return 0
		}), seconds)
	}
	return b.String()
}

// TestGrowthTable prints two made-up sizes: ten times the records in ten times the time have the exponent 1.
func TestGrowthTable(t *testing.T) {
	runs := []growthRun{{Wall: time.Second, CPU: 2 * time.Second, Peak: 50e6, Stages: []Timing{{"reading", 0, time.Second}}},
		{Wall: 10 * time.Second, CPU: 200 * time.Second, Peak: 50e6, Stages: []Timing{{"reading", 0, 3 * time.Second}, {"weighing", 0, time.Second}}}}
	got := growthTable("cold", []int{1000, 10000}, runs)
	for _, want := range []string{"all, by the clock                      1.00 s    10.00 s ( 1.00)", "all, processor time                    2.00 s   200.00 s ( 2.00)",
		"memory at most                          50 MB      50 MB ( 0.00)", "  reading                              1.00 s     3.00 s ( 0.48)", "  weighing                             0.00 s     1.00 s (    -)"} {
		if !strings.Contains(got, want) {
			t.Errorf("no line %q in\n%s", want, got)
		}
	}
}
