package intake_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// describe writes what was read, one line a stone or record, empty fields left out.
func describe(stones []*model.Stone, records []*model.Record, complaints []string) string {
	var b strings.Builder
	for _, c := range complaints {
		b.WriteString(c + "\n")
	}
	add := func(name string, v any) {
		if s := fmt.Sprint(v); s != "" && s != "0" && s != "[]" && s != "<nil>" {
			fmt.Fprintf(&b, " %s=%q", name, s)
		}
	}
	claim := func(c model.Claim) {
		p, s := c.Person, c.Service
		add("name", p.Name)
		add("relation", p.Relation)
		add("born", p.Born)
		add("died", p.Died)
		if !p.Age.IsZero() {
			add("age", p.Age.Years)
		}
		add("rank", s.Rank)
		add("rank_out", s.RankOut)
		if s.Brevet {
			add("brevet", "yes")
		}
		add("company", s.Unit.Company)
		add("number", s.Unit.Number)
		add("of", s.Unit.Designation())
		add("arm", s.Unit.Arm)
		add("branch", s.Branch)
		add("side", s.Side)
		add("conflicts", s.Conflicts)
		add("enlisted", s.Enlisted)
		add("mustered_in", s.MusteredIn)
		add("mustered_out", s.MusteredOut)
		add("birthplace", p.Birthplace)
		add("residence", p.Residence)
		add("death_place", p.DeathPlace)
		add("buried", p.Buried)
		add("remarks", s.Remarks)
	}
	for _, s := range stones {
		fmt.Fprintf(&b, "stone %s %s:%d", s.ID, s.Source.File, s.Source.Row)
		add("cemetery", s.Place.Cemetery)
		add("county", s.Place.County)
		add("state", s.Place.State)
		add("section", s.Place.Section)
		add("row", s.Place.Row)
		add("plot", s.Place.Plot)
		if s.Place.Position != nil {
			add("position", *s.Place.Position)
		}
		m := s.Marker
		add("inscription", m.Inscription)
		add("top", m.Top)
		add("material", m.Material)
		add("lettering", m.Lettering)
		add("device", m.Device)
		add("setting", m.Setting)
		add("emblem", m.Emblem)
		if len(m.Motifs) > 0 {
			add("motifs", strings.Join(m.Motifs, "|"))
		}
		add("width", m.Width)
		add("thickness", m.Thickness)
		add("height", m.Height)
		add("length", m.Length)
		add("recorded", s.Recorded)
		add("notes", s.Notes)
		if s.Register != nil {
			b.WriteString(" register:")
			claim(*s.Register)
		}
		b.WriteString("\n")
	}
	for _, r := range records {
		fmt.Fprintf(&b, "record %s %s:%d", r.ID, r.Source.File, r.Source.Row)
		add("subject", r.Source.Subject)
		claim(r.Claim)
		b.WriteString("\n")
	}
	return b.String()
}

// TestGolden reads the survey folder of each file of testdata/surveys and compares what is told and read with its last section. Run it with UPDATE=1 to
// write what is got, and read the difference.
func TestGolden(t *testing.T) {
	files, err := filepath.Glob("testdata/surveys/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no surveys: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			const mark = "-- want --\n"
			input, want, _ := strings.Cut(string(b), mark)
			got := describe(read(t, folder(t, input)))
			if os.Getenv("UPDATE") != "" {
				if err := os.WriteFile(file, []byte(input+mark+got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("want -, got +:\n%s", diff)
			}
		})
	}
}
