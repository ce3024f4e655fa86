package rdf

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"musterstone/model"
)

// manyRecords gives n invented records of soldiers.
func manyRecords(n int) func(func(*model.Record) bool) {
	return func(yield func(*model.Record) bool) {
		for i := range n {
			name := fmt.Sprintf("Holden%d, John", i%5000)
			id := fmt.Sprintf("r%07d", i)
			c := model.Claim{
				Person:  model.Person{Name: model.Name{Surname: fmt.Sprintf("Holden%d", i%5000), Given: "John", Written: name}},
				Service: model.Service{Rank: "private", Side: model.Union, Branch: "army", Conflicts: []model.ConflictCode{"civil-war"}, Unit: model.Unit{State: "WI", Number: i%200 + 1, Arm: "infantry", Company: string(rune('A' + i%9)), Written: fmt.Sprintf("Co. %c, %d Wis. Inf.", 'A'+i%9, i%200+1)}},
			}
			r := &model.Record{ID: model.RecordID(id), Source: model.Source{File: "roster.csv", Row: i + 2}, Written: []model.Cell{{Column: "id", Value: id}, {Column: "name", Value: name}, {Column: "unit", Value: c.Service.Unit.Written}, {Column: "rank", Value: "Pvt."}}, Claim: c}
			if !yield(r) {
				return
			}
		}
	}
}

func BenchmarkPublish(b *testing.B) {
	triples := 0
	for b.Loop() {
		sum, err := Publish(filepath.Join(b.TempDir(), "out"), Dataset{Base: "https://data.example.org/", Year: 2025, Records: manyRecords(50000)})
		if err != nil {
			b.Fatal(err)
		}
		triples += sum.Triples
	}
	b.ReportMetric(float64(triples)/b.Elapsed().Seconds(), "triples/s")
}

// benchText is about 120,000 triples in both formats.
func benchText(b *testing.B) (nt, turtle []byte, n int) {
	b.Helper()
	var sum Summary
	d := Dataset{Base: "https://data.example.org/", Year: 2025, Records: manyRecords(5000)}
	m, err := build(&d, b.TempDir(), &sum)
	if err != nil {
		b.Fatal(err)
	}
	defer m.sort.Close()
	var lines, blocks bytes.Buffer
	w := NewTurtleWriter(&blocks, "", m.prefixes(m.ownPrefixes()...))
	for line := range m.sort.lines() {
		n++
		lines.Write(line)
		if err := w.writeLine(line); err != nil {
			b.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		b.Fatal(err)
	}
	return lines.Bytes(), blocks.Bytes(), n
}

func BenchmarkReadNTriples(b *testing.B) {
	nt, _, n := benchText(b)
	b.SetBytes(int64(len(nt)))
	for b.Loop() {
		for _, err := range ReadNTriples(bytes.NewReader(nt), "x") {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(n*b.N)/b.Elapsed().Seconds(), "triples/s")
}

func BenchmarkReadTurtle(b *testing.B) {
	_, turtle, n := benchText(b)
	b.SetBytes(int64(len(turtle)))
	for b.Loop() {
		for _, err := range ReadTurtle(bytes.NewReader(turtle), TurtleOptions{Name: "x"}) {
			if err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(n*b.N)/b.Elapsed().Seconds(), "triples/s")
}

func BenchmarkWriteTurtle(b *testing.B) {
	nt, _, n := benchText(b)
	lines := bytes.SplitAfter(bytes.TrimSuffix(nt, []byte("\n")), []byte("\n"))
	lines[len(lines)-1] = append(lines[len(lines)-1], '\n')
	for b.Loop() {
		w := NewTurtleWriter(io.Discard, "", append(prefixes(), Prefix{"id", "https://data.example.org/id/"}))
		for _, line := range lines {
			if err := w.writeLine(line); err != nil {
				b.Fatal(err)
			}
		}
		if err := w.Close(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(n*b.N)/b.Elapsed().Seconds(), "triples/s")
}

func BenchmarkVocabulary(b *testing.B) {
	for b.Loop() {
		g := newGraph("")
		g.vocabulary()
		if err := g.sort.writeTurtle(NewTurtleWriter(io.Discard, "", g.prefixes())); err != nil {
			b.Fatal(err)
		}
	}
}

// manyStones gives n invented stones, each read as one of the men of manyRecords.
func manyStones(n int) func(func(*model.Subject) bool) {
	return func(yield func(*model.Subject) bool) {
		for i := range n {
			id := fmt.Sprintf("s%06d", i)
			text := fmt.Sprintf("JOHN HOLDEN%d\nCO. %c\n%d WIS. INF.", i%5000, 'A'+i%9, i%200+1)
			c := model.Claim{
				Person:  model.Person{Name: model.Name{Surname: fmt.Sprintf("Holden%d", i%5000), Given: "John", Written: fmt.Sprintf("JOHN HOLDEN%d", i%5000)}},
				Service: model.Service{Unit: model.Unit{State: "WI", Number: i%200 + 1, Arm: "infantry", Company: string(rune('A' + i%9))}},
			}
			s := &model.Stone{
				ID: model.StoneID(id), Source: model.Source{File: "stones.csv", Row: i + 2}, Place: model.Place{Cemetery: fmt.Sprintf("Ground %d", i%50), County: "Dane", State: "WI", Row: fmt.Sprint(i % 40), Plot: fmt.Sprint(i)},
				Written: []model.Cell{{Column: "id", Value: id}, {Column: "inscription", Value: text}}, Marker: model.Marker{Inscription: text, Top: "rounded", Material: "white marble", Width: 12, Thickness: 4},
			}
			sub := &model.Subject{Stone: s, Readings: []model.Reading{{People: []model.Claim{c}, Probability: 1}}, Implies: model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: "civil-war-1903", Probability: 0.97}, {Code: "not-government", Probability: 0.03}}}}
			if !yield(sub) {
				return
			}
		}
	}
}

// BenchmarkLarge takes 50,000 stones and 1,000,000 records from values to sorted N-Triples and Turtle. Beside the rate it tells the CPU time of a million
// triples and the most memory that the process ever had from the system (Linux), and the same of rapper, where it is installed, reading the
// N-Triples: a yardstick for a machine that others use too. Run it alone, once: go test -run - -bench Large -benchtime 1x ./vocab/rdf
func BenchmarkLarge(b *testing.B) {
	triples := 0
	var took, cpu float64
	nt := ""
	for b.Loop() {
		dir := b.TempDir()
		start, used := time.Now(), cpuSeconds()
		d := Dataset{Base: "https://data.example.org/", Year: 2025, Records: manyRecords(1_000_000), Subjects: manyStones(50_000)}
		var sum Summary
		m, err := build(&d, dir, &sum)
		if err != nil {
			b.Fatal(err)
		}
		w, err := m.writeGraph(dir, "dataset", m.sort)
		if err != nil {
			b.Fatal(err)
		}
		if err := m.Close(); err != nil {
			b.Fatal(err)
		}
		took, cpu = took+time.Since(start).Seconds(), cpu+cpuSeconds()-used
		triples += w.triples
		nt = filepath.Join(dir, "dataset.nt")
	}
	b.ReportMetric(float64(triples)/took, "triples/s")
	b.ReportMetric(cpu/float64(triples)*1e6, "cpu-s/Mtriple")
	if status, err := os.ReadFile("/proc/self/status"); err == nil {
		var kb float64
		if _, rest, ok := strings.Cut(string(status), "VmHWM:"); ok {
			fmt.Sscan(rest, &kb)
			b.ReportMetric(kb/1024, "peak-MB")
		}
	}
	path, err := exec.LookPath("rapper")
	if err != nil {
		return
	}
	start := time.Now()
	cmd := exec.Command(path, "-q", "-c", "-i", "ntriples", nt)
	if out, err := cmd.CombinedOutput(); err != nil {
		b.Fatalf("rapper: %v: %s", err, out)
	}
	each := float64(triples) / float64(b.N)
	b.ReportMetric(each/time.Since(start).Seconds(), "rapper-triples/s")
	b.ReportMetric((cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime()).Seconds()/each*1e6, "rapper-cpu-s/Mtriple")
}

// cpuSeconds is the CPU time of this process so far, as Linux tells it in hundredths of a second; 0 elsewhere.
func cpuSeconds() float64 {
	stat, err := os.ReadFile("/proc/self/stat")
	if err != nil {
		return 0
	}
	// After the name in brackets come the state and the others; user and system time are the 14th and 15th field of all.
	fields := strings.Fields(string(stat[bytes.LastIndexByte(stat, ')')+1:]))
	var user, system float64
	fmt.Sscan(fields[11], &user)
	fmt.Sscan(fields[12], &system)
	return (user + system) / 100
}
