package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/model"
	"musterstone/testdata/county"
)

// decided makes a survey with known truth and decides about some of its proposals, by chance but the same each time.
func decided(t *testing.T, seed uint64, messy bool) string {
	t.Helper()
	dir := t.TempDir()
	if err := county.Make(dir, county.Options{Seed: seed, Records: 120, Stones: 25, Messy: messy}); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(dir, "truth.csv")); err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(seed, 8))
	for line := range strings.Lines(command(t, "propose", "--survey", dir, "--json")) {
		var p model.Proposal
		if err := json.Unmarshal([]byte(line), &p); err != nil {
			t.Fatal(err)
		}
		if len(p.Candidates) == 0 || random.IntN(3) == 0 {
			continue
		}
		as := []string{"confirmed", "refused"}[random.IntN(2)]
		command(t, "decide", "--survey", dir, "--stone", string(p.Stone), "--record", string(p.Candidates[0].Record), "--as", as, "--by", "Ann Novak", "--because", `"same" company, & <b>`)
	}
	return dir
}

// inside is what a survey holds.
type inside struct {
	stones    []*model.Stone
	records   []*model.Record
	decisions []model.Decision
}

func open(t *testing.T, dir string) inside {
	t.Helper()
	j, err := job.Open(dir, job.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	l, err := j.Ledger()
	if err != nil {
		t.Fatal(err)
	}
	in := inside{stones: j.Stones(), decisions: l.Decisions()}
	for r := range j.Survey.Records(nil) {
		in.records = append(in.records, r)
	}
	slices.SortFunc(in.stones, func(a, b *model.Stone) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(in.records, func(a, b *model.Record) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(in.decisions, func(a, b model.Decision) int { return cmp.Compare(a.ID, b.ID) })
	return in
}

// TestRoundTrip: a survey that is made of a publication holds the same stones, records and decisions as the survey that was published, and publishes the
// same data again.
func TestRoundTrip(t *testing.T) {
	seeds := []uint64{1, 2, 3, 4}
	if testing.Short() {
		seeds = seeds[:1]
	}
	for _, seed := range seeds {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			dir := decided(t, seed, seed%2 == 0)
			out, back, again := filepath.Join(t.TempDir(), "out"), filepath.Join(t.TempDir(), "back"), filepath.Join(t.TempDir(), "again")
			command(t, "publish", "--survey", dir, "--site=false", out)
			command(t, "begin", "--from", out, back)
			want, got := open(t, dir), open(t, back)
			if len(want.stones) != 25 || len(want.records) < 100 || len(want.decisions) < 3 {
				t.Fatalf("the survey has %d stones, %d records, %d decisions", len(want.stones), len(want.records), len(want.decisions))
			}
			// Who recorded a stone did not agree to be named.
			unnamed := cmpopts.IgnoreFields(model.Stone{}, "Recorder")
			cells := gocmp.FilterPath(func(p gocmp.Path) bool {
				return p.Last().String() == ".Written" && strings.Contains(p.GoString(), "Stone")
			}, gocmp.Transformer("cells", func(c []model.Cell) []model.Cell {
				return slices.DeleteFunc(slices.Clone(c), func(c model.Cell) bool { return c.Column == "recorder" })
			}))
			if diff := gocmp.Diff(want.stones, got.stones, unnamed, cells, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("stones (-want +got):\n%s", diff)
			}
			if diff := gocmp.Diff(want.records, got.records); diff != "" {
				t.Errorf("records (-want +got):\n%s", diff)
			}
			if diff := gocmp.Diff(want.decisions, got.decisions, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("decisions (-want +got):\n%s", diff)
			}
			command(t, "check", "--survey", back)
			a, b := command(t, "propose", "--survey", dir, "--json"), command(t, "propose", "--survey", back, "--json")
			if a != b {
				t.Error("the survey made of the publication proposes otherwise")
			}
			command(t, "publish", "--survey", back, "--site=false", again)
			one, two := lines(t, filepath.Join(out, "dataset.nt")), lines(t, filepath.Join(again, "dataset.nt"))
			for _, l := range one {
				// The files have other digests: the tables were written anew.
				if _, found := slices.BinarySearch(two, l); !found && !strings.Contains(l, "#sha256>") && !strings.Contains(l, "/id/run-") {
					t.Errorf("not published again: %s", l)
					break
				}
			}
		})
	}
}

func lines(t *testing.T, path string) []string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return strings.SplitAfter(strings.TrimSpace(string(text)), "\n")
}
