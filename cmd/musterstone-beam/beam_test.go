package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	_ "github.com/apache/beam/sdks/v2/go/pkg/beam/runners/prism"

	"musterstone/index"
	"musterstone/link"
	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/testdata/county"
	"musterstone/testdata/parish"
	"musterstone/vocab/inscription"
	"musterstone/vocab/marker"
)

func TestMain(m *testing.M) {
	beam.Init()
	os.Exit(m.Run())
}

// onOneMachine makes the proposals as the ordinary program does.
func onOneMachine(t testing.TB, dir string) []model.Proposal {
	t.Helper()
	survey, err := openSurvey(dir)
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	x, err := index.Open(ctx, t.TempDir(), index.Inputs{Rosters: "made", Records: survey.Records(nil)}, index.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	var subjects []*model.Subject
	for s := range survey.Stones(nil) {
		sub := &model.Subject{Stone: s, Readings: inscription.ReadStone(s)}
		sub.Implies = marker.Imply(s, sub.Reading())
		subjects = append(subjects, sub)
	}
	packer := weigh.NewPacker()
	for r := range x.Records(ctx) {
		packer.Add(r)
	}
	columns := packer.Columns()
	l := &link.Linker{Columns: columns, Rows: x.Places, Counts: columns.Counts()}
	proposals, err := l.Propose(ctx, subjects)
	if err != nil {
		t.Fatal(err)
	}
	return proposals
}

// onBeam makes them with the pipeline, on Prism.
func onBeam(t testing.TB, opt options) ([]model.Proposal, []counter) {
	t.Helper()
	p, s := beam.NewPipelineWithRoot()
	if err := build(s, opt); err != nil {
		t.Fatal(err)
	}
	result, err := beam.Run(context.Background(), "prism", p)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(opt.Out, "*"))
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(files)
	var out []model.Proposal
	for _, name := range files {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(f)
		lines.Buffer(nil, 1<<24)
		for lines.Scan() {
			var p model.Proposal
			if err := json.Unmarshal(lines.Bytes(), &p); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			out = append(out, p)
		}
		if err := lines.Err(); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
	return out, counters(result)
}

// differ says where two proposals differ, or "": records, states, evidence and words must be the same, probabilities and bits to 1e-9.
func differ(a, b *model.Proposal) string {
	const most = 1e-9
	near := func(x, y float64) bool { return math.Abs(x-y) <= most*max(1, math.Abs(x)) }
	if a.Stone != b.Stone || len(a.Candidates) != len(b.Candidates) {
		return fmt.Sprintf("stone %s has %d candidates, and %s %d", a.Stone, len(a.Candidates), b.Stone, len(b.Candidates))
	}
	alike := func(e, f model.Evidence) bool {
		bits := near(e.Bits, f.Bits)
		e.Bits, f.Bits = 0, 0
		return bits && e == f
	}
	if !near(a.None, b.None) {
		return fmt.Sprintf("none: %v and %v", a.None, b.None)
	}
	for i := range a.Candidates {
		c, d := a.Candidates[i], b.Candidates[i]
		if c.Record != d.Record || c.Proposed != d.Proposed || c.Decided != d.Decided || c.Second != d.Second || c.SameAs != d.SameAs || !near(c.Probability, d.Probability) || !near(c.Bits, d.Bits) {
			return fmt.Sprintf("candidate %d: %+v and %+v", i, c, d)
		}
		if !slices.EqualFunc(c.Evidence, d.Evidence, alike) {
			return fmt.Sprintf("candidate %d: %+v and %+v", i, c.Evidence, d.Evidence)
		}
		if (c.Namesakes == nil) != (d.Namesakes == nil) || c.Namesakes != nil && *c.Namesakes != *d.Namesakes {
			return fmt.Sprintf("candidate %d: namesakes %+v and %+v", i, c.Namesakes, d.Namesakes)
		}
	}
	if r, s := a.RunnerUp, b.RunnerUp; (r == nil) != (s == nil) || r != nil && (r.Record != s.Record || !near(r.Behind, s.Behind) || !slices.EqualFunc(r.By, s.By, alike)) {
		return fmt.Sprintf("runners-up %+v and %+v", r, s)
	}
	if !slices.Equal(a.Notes, b.Notes) || !slices.Equal(a.WouldChange, b.WouldChange) {
		return fmt.Sprintf("notes %q and %q; would change %q and %q", a.Notes, b.Notes, a.WouldChange, b.WouldChange)
	}
	return ""
}

// TestSame: the pipeline proposes what the ordinary run does, with blocks so small that surnames are split, components reach over blocks and files over tables.
func TestSame(t *testing.T) {
	for _, tt := range []struct {
		name string
		make func(dir string) error
	}{
		{"county", func(dir string) error {
			return county.Make(dir, county.Options{Seed: 1, Records: 5000, Stones: 200, Messy: true})
		}},
		{"parish", func(dir string) error {
			return parish.Make(dir, parish.Options{Seed: 2, Records: 5000, Stones: 200})
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			opt := defaults()
			opt.Survey, opt.Out = t.TempDir(), t.TempDir()
			opt.BlockRecords, opt.BlockStones, opt.Shard, opt.Buckets, opt.FileStones, opt.Rounds = 700, 30, 120, 5, 64, 60
			if err := tt.make(opt.Survey); err != nil {
				t.Fatal(err)
			}
			want := onOneMachine(t, opt.Survey)
			got, counted := onBeam(t, opt)
			for _, c := range counted {
				t.Logf("%-60s %10d", c.name, c.n)
			}
			if len(got) != len(want) {
				t.Fatalf("%d proposals, want %d", len(got), len(want))
			}
			proposed := 0
			for i := range want {
				if d := differ(&want[i], &got[i]); d != "" {
					t.Errorf("stone %s: one machine and many differ: %s", want[i].Stone, d)
				}
				for _, c := range want[i].Candidates {
					if c.Proposed {
						proposed++
					}
				}
			}
			if proposed < 50 {
				t.Errorf("only %d links are proposed: the case shows little", proposed)
			}
		})
	}
}
