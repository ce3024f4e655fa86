package index

import (
	"context"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strconv"
	"testing"
	"time"

	"musterstone/model"
	"musterstone/vocab/name"
)

// BenchmarkBuild indexes 20,000 records, generated beforehand, into a new folder.
func BenchmarkBuild(b *testing.B) {
	records := newCounty(1, 8000).roster(20000)
	b.ReportAllocs()
	for b.Loop() {
		x, err := Open(context.Background(), b.TempDir(), inputs(records, "a"), Options{})
		if err != nil {
			b.Fatal(err)
		}
		x.Close()
	}
}

// BenchmarkReopen opens the index of 20,000 records again.
func BenchmarkReopen(b *testing.B) {
	dir := b.TempDir()
	in := inputs(newCounty(1, 8000).roster(20000), "a")
	open(b, dir, in)
	for b.Loop() {
		x, err := Open(context.Background(), dir, in, Options{})
		if err != nil || x.Built {
			b.Fatal(err, x.Built)
		}
		x.Close()
	}
}

// BenchmarkCandidates looks up 50 candidates for each of 1,000 damaged stones among 20,000 records; one op is one stone.
func BenchmarkCandidates(b *testing.B) {
	c := newCounty(1, 8000)
	records := c.roster(20000)
	x := open(b, b.TempDir(), inputs(records, "a"))
	var stones []*model.Subject
	for i := range 1000 {
		stones = append(stones, c.stone(i, records[c.rng.IntN(len(records))], .03))
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if _, err := x.Candidates(context.Background(), stones[i%len(stones)], 50); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// BenchmarkFind asks a small question of the index of words over 20,000 records.
func BenchmarkFind(b *testing.B) {
	c := newCounty(1, 8000)
	records := c.roster(20000)
	x := open(b, b.TempDir(), inputs(records, "a"))
	if _, err := x.Find(context.Background(), "john", FindOptions{}); err != nil {
		b.Fatal(err)
	}
	i := 0
	for b.Loop() {
		n := records[i*37%len(records)].Person.Name
		if _, err := x.Find(context.Background(), n.Surname+" "+n.Given, FindOptions{}); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// BenchmarkMillion runs once, with MUSTERSTONE_RECORDS set to a number of records: it builds, reopens, and looks up 2,000 stones.
func BenchmarkMillion(b *testing.B) {
	n, _ := strconv.Atoi(os.Getenv("MUSTERSTONE_RECORDS"))
	if n == 0 {
		b.Skip("set MUSTERSTONE_RECORDS=1000000")
	}
	surnames := surnamesFor(n)
	for b.Loop() {
		dir := b.TempDir()
		in := Inputs{Rosters: "a", Records: generated(1, surnames, n)}
		start := time.Now()
		open(b, dir, in).Close()
		built := time.Since(start)
		start = time.Now()
		x := open(b, dir, in)
		opened := time.Since(start)
		c := newCounty(1, surnames)
		var stones []*model.Subject
		for i := range n {
			r := c.record(i)
			if i%(n/2000) == 0 {
				stones = append(stones, newCounty(uint64(i), 1).stone(i, r, .03))
			}
		}
		start = time.Now()
		for _, s := range stones {
			if _, err := x.Candidates(context.Background(), s, 50); err != nil {
				b.Fatal(err)
			}
		}
		took := time.Since(start)
		if os.Getenv("MUSTERSTONE_WORDS") != "" {
			findOften(b, x, c)
		}
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		fmt.Printf("%d records: build %v, open %v, %d stones %v (%.0f a second), heap %d MB, from the system %d MB\n",
			n, built, opened, len(stones), took, float64(len(stones))/took.Seconds(), m.HeapAlloc>>20, m.Sys>>20)
	}
}

// findOften builds the index of words and asks for a thousand men by surname and given name, surname alone, and state and company.
func findOften(b *testing.B, x *Index, c *county) {
	start := time.Now()
	if _, err := x.Find(context.Background(), "john", FindOptions{}); err != nil {
		b.Fatal(err)
	}
	fmt.Printf("index of words: %v\n", time.Since(start))
	var times []time.Duration
	for i := range 999 {
		s := c.surnames[c.zipf.Uint64()]
		q := [...]string{s + " " + c.pick(givens), s, s + " unit:oh"}[i%3]
		start := time.Now()
		if _, err := x.Find(context.Background(), q, FindOptions{}); err != nil {
			b.Fatal(err)
		}
		times = append(times, time.Since(start))
	}
	slices.Sort(times)
	fmt.Printf("find: half within %v, 99 of 100 within %v\n", times[len(times)/2], times[len(times)*99/100])
}

// BenchmarkNear looks up names within some edits among so many; one op is one name.
func BenchmarkNear(b *testing.B) {
	for _, size := range []int{5000, 50000, 150000} {
		c := newCounty(1, size)
		r := &roll{surnames: slices.Sorted(slices.Values(c.surnames))}
		n := newNames(r, newSoundOrder(r.surnames, name.Sound), soundOrder{})
		for edits := 1; edits <= 3; edits++ {
			b.Run(fmt.Sprintf("surnames=%d/edits=%d", size, edits), func(b *testing.B) {
				i := 0
				for b.Loop() {
					n.scan(newSpellingPattern(c.surnames[i*17%size]), edits, func(uint32, int) {})
					i++
				}
			})
		}
	}
}
