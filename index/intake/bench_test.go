package intake_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"musterstone/index/intake"
)

// invented is a roster of n invented men.
func invented(n int) string {
	surnames := []string{"Smith", "Brown", "Holden", "McNeil", "Vandermeer", "Kowalski", "O'Brien", "Schaeffer", "Stone", "Whitcomb", "Tuttle"}
	given := []string{"John", "Wm.", "Geo. W.", "Thomas", "Jas.", "Henry H.", "Saml.", "Chas.", "Patrick", "Jacob"}
	var b strings.Builder
	b.WriteString("id,surname,given,rank_in,company,regiment,state,arm,enlisted,age,residence,remarks\n")
	for i := range n {
		fmt.Fprintf(&b, "m%d,%s%c,%s,%s,%c,%d,Ohio,Inf.,\"Aug. %d, 186%d\",%d,Alder Creek,\"mustered out June %d, 1865, with his company\"\n",
			i, surnames[i%len(surnames)], 'a'+i%26, given[i%len(given)], []string{"Pvt.", "Corp.", "Sergt."}[i%3], 'A'+i%9, 1+i%180, 1+i%28, 1+i%4, 18+i%27, 1+i%28)
	}
	return b.String()
}

// BenchmarkRecords reads a roster of 20,000 rows, the metric being rows a second.
func BenchmarkRecords(b *testing.B) {
	const n = 20000
	dir := b.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "roster-bench.csv"), []byte(invented(n)), 0o644); err != nil {
		b.Fatal(err)
	}
	s, err := intake.Open(dir)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		rows := 0
		for range s.Records(nil) {
			rows++
		}
		if rows != n {
			b.Fatalf("read %d rows, want %d", rows, n)
		}
	}
	b.ReportMetric(float64(n)*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
}
