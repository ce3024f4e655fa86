package job

import (
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"musterstone/index"
	"musterstone/index/intake"
)

// goal is a survey with what the whole job may take on it, on two cores that nobody else uses; 0 where nothing is said.
type goal struct {
	makers               []string
	stones, records      int
	cold, warm           float64 // seconds by the clock
	coldPeer, warmPeer   float64 // as parts of what the peer takes
	coldMemory, warmPeak int     // MB
}

var goals = []goal{
	{makers: []string{"county"}, stones: 200, records: 20_000, cold: 1, coldMemory: 200},
	{makers: []string{"county", "parish", "valley", "junction", "landing", "haven"}, stones: 10_000, records: 1_000_000, coldPeer: 1, warmPeer: 0.4, coldMemory: 600, warmPeak: 600},
	{makers: []string{"county"}, stones: 100_000, records: 1_000_000, warm: 25, warmPeak: 1000},
}

// BenchmarkGoals runs the program's own propose on surveys of fixed seeds, JSON and all: cold, warm (with the index, and nothing of the stones), after decisions (stones and rosters
// are as they were, and what they weigh is kept), and again (nothing at all has changed), and sets time and memory beside the goals. The peer is an
// analyst's SQL in an embedded column database, which is no part of this project: MUSTERSTONE_PEER names a program that is given a table of the same roster (see peerTable)
// and whose last line tells "with load SECONDS s". How long that takes hangs on how many men of the roster share names, so each maker's roster has a line. Without -short it
// takes minutes and five gigabytes of room.
func BenchmarkGoals(b *testing.B) {
	for _, g := range goals {
		if testing.Short() && g.records > 100_000 {
			continue
		}
		for _, maker := range g.makers {
			b.Run(fmt.Sprintf("%s/%dx%d", maker, g.stones, g.records), func(b *testing.B) {
				for b.Loop() {
					g.measure(b, maker)
				}
			})
		}
	}
}

func (g goal) measure(b *testing.B, maker string) {
	dir := b.TempDir()
	growthChild(b, "make", survey{maker: maker, records: g.records, stones: g.stones, seed: 1}, dir)
	peer := 0.0
	if program := os.Getenv("MUSTERSTONE_PEER"); program != "" && g.coldPeer > 0 {
		growthChild(b, "table", survey{}, dir)
		var err error
		if peer, err = runPeer(program, dir); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(peer, "peer-s")
	}
	program := buildProgram(b)
	cold := runPropose(b, program, dir)
	forget(b, dir, keptFile) // else it would only print again
	decided := runPropose(b, program, dir)
	forget(b, dir, keptFile, weighedFile)
	warm := runPropose(b, program, dir)
	again := runPropose(b, program, dir)
	b.ReportMetric(cold.Wall.Seconds(), "cold-s")
	b.ReportMetric(warm.Wall.Seconds(), "warm-s")
	b.ReportMetric(cold.CPU.Seconds(), "cold-cpu-s")
	b.ReportMetric(warm.CPU.Seconds(), "warm-cpu-s")
	b.ReportMetric(decided.Wall.Seconds(), "decided-s")
	b.ReportMetric(decided.CPU.Seconds(), "decided-cpu-s")
	b.ReportMetric(again.Wall.Seconds(), "again-s")
	b.ReportMetric(float64(cold.Peak)/1e6, "cold-MB")
	b.ReportMetric(float64(warm.Peak)/1e6, "warm-MB")
	say := func(what string, got, want float64) {
		if want > 0 {
			verdict := "met"
			if got > want {
				verdict = "MISSED"
			}
			fmt.Printf("%s, %d stones, %d records, %s: %.2f, goal %.2f: %s\n", maker, g.stones, g.records, what, got, want, verdict)
		}
	}
	say("cold, seconds", cold.Wall.Seconds(), g.cold)
	say("warm, seconds", warm.Wall.Seconds(), g.warm)
	say("cold, seconds, beside the peer", cold.Wall.Seconds(), g.coldPeer*peer)
	say("warm, seconds, beside the peer", warm.Wall.Seconds(), g.warmPeer*peer)
	say("warm after decisions, seconds, beside the peer", decided.Wall.Seconds(), g.warmPeer*peer)
	say("cold, MB", float64(cold.Peak)/1e6, float64(g.coldMemory))
	say("warm, MB", float64(warm.Peak)/1e6, float64(g.warmPeak))
}

// forget takes files out of what is kept of a survey.
func forget(b *testing.B, dir string, files ...string) {
	b.Helper()
	for _, file := range files {
		if err := os.Remove(filepath.Join(dir, index.DerivedFolder, file)); err != nil {
			b.Fatal(err)
		}
	}
}

// buildProgram builds the program, and gives where it is.
func buildProgram(b *testing.B) string {
	b.Helper()
	path := filepath.Join(b.TempDir(), "musterstone")
	if out, err := exec.Command("go", "build", "-o", path, "musterstone/cmd/musterstone").CombinedOutput(); err != nil {
		b.Fatalf("build the program: %v\n%s", err, out)
	}
	return path
}

// runPropose makes and prints all proposals of a survey, into a file.
func runPropose(b *testing.B, program, dir string) growthRun {
	b.Helper()
	out, err := os.Create(filepath.Join(b.TempDir(), "proposals.json"))
	if err != nil {
		b.Fatal(err)
	}
	defer out.Close()
	var told strings.Builder
	cmd := exec.Command(program, "propose", "--survey", dir, "--json", "--timings")
	cmd.Stdout, cmd.Stderr = out, &told
	start := time.Now()
	if err := cmd.Run(); err != nil {
		b.Fatalf("propose on %s: %v\n%s", dir, err, told.String())
	}
	r := growthRun{Wall: time.Since(start), CPU: cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()}
	if info, err := out.Stat(); err != nil || info.Size() == 0 {
		b.Fatalf("propose on %s printed nothing: %v", dir, err)
	}
	taken := regexp.MustCompile(`memory taken from the system: ([0-9]+) MB`).FindStringSubmatch(told.String())
	if taken == nil {
		b.Fatalf("propose --timings tells no memory\n%s", told.String())
	}
	mb, err := strconv.ParseInt(taken[1], 10, 64)
	if err != nil {
		b.Fatal(err)
	}
	r.Peak = mb * 1e6
	return r
}

// peerFile lies beside the survey's folder, so that it is no table of the survey.
func peerFile(dir string) string { return filepath.Clean(dir) + "-peer.csv" }

// peerTable writes what an analyst would make of a survey's rosters before a query: one table, a field a column.
func peerTable(dir string) (err error) {
	s, err := intake.Open(dir)
	if err != nil {
		return err
	}
	f, err := os.Create(peerFile(dir))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	w := csv.NewWriter(f)
	w.Write([]string{"id", "surname", "given", "company", "regiment", "state"})
	for r := range s.Records(nil) {
		name, unit := r.Person.Name, r.Service.Unit
		regiment := ""
		if unit.Number > 0 {
			regiment = strconv.Itoa(unit.Number)
		}
		w.Write([]string{string(r.ID), name.Surname, strings.TrimSpace(name.Given + " " + name.Middle), unit.Company, regiment, string(unit.State)})
	}
	w.Flush()
	return w.Error()
}

// runPeer gives the seconds that the peer took on the survey's table.
func runPeer(program, dir string) (seconds float64, err error) {
	defer os.Remove(peerFile(dir))
	out, err := exec.Command(program, peerFile(dir)).CombinedOutput()
	if err != nil {
		return 0, fmt.Errorf("run %s: %w\n%s", program, err, out)
	}
	found := regexp.MustCompile(`with load +([0-9.]+) s`).FindAllSubmatch(out, -1)
	if found == nil {
		return 0, fmt.Errorf("run %s: no line tells \"with load SECONDS s\"\n%s", program, out)
	}
	os.Stdout.Write(out)
	return strconv.ParseFloat(string(found[len(found)-1][1]), 64)
}
