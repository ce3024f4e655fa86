package rdf

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// TestDecisionsAreKept: what was decided of a stone as a whole goes out and comes back as it was; a note does where the metadata let it.
func TestDecisionsAreKept(t *testing.T) {
	for _, notes := range []bool{false, true} {
		d := sample(t)
		d.PublishNotes = notes
		dir := filepath.Join(t.TempDir(), "out")
		if _, err := Publish(dir, d); err != nil {
			t.Fatal(err)
		}
		b, err := OpenBundle(dir)
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]model.Decision{}
		for _, d := range b.Decisions {
			got[d.ID] = d
		}
		if err := b.Close(); err != nil {
			t.Error(err)
		}
		for _, want := range d.Decisions {
			switch want.ID {
			case "d1": // what it saw of a man who may be living is gone
				want.Seen = &model.Seen{Program: want.Seen.Program, Proposal: &model.Proposal{Stone: "A-1", Candidates: want.Seen.Proposal.Candidates[:1]}}
			case "d5": // its record is held back
				if _, ok := got[want.ID]; ok {
					t.Error("d5 was published")
				}
				continue
			case "d8", "d9":
				if _, ok := got[want.ID]; ok != notes {
					t.Errorf("notes %v: %s was published: %v", notes, want.ID, ok)
				}
				if !notes {
					continue
				}
			}
			if diff := cmp.Diff(want, got[want.ID]); diff != "" {
				t.Errorf("notes %v, decision %s (-made +read back):\n%s", notes, want.ID, diff)
			}
		}
		all, err := readAll(filepath.Join(dir, "dataset.nt"), "")
		if err != nil {
			t.Fatal(err)
		}
		text := show(all)
		m := &mapper{graph: testGraph(d.Base)}
		for _, want := range []string{
			fmt.Sprintf("<%s> <%sverdict> <%sverdict-none> .", m.id("decision", "d6"), MS, MS),
			fmt.Sprintf("<%s> <%sseenNone> \"0.61\"^^<%sdecimal> .", m.id("decision", "d6"), MS, xsd),
			fmt.Sprintf("<%s> <%sverdict> <%sverdict-unsure> .", m.id("decision", "d7"), MS, MS),
			fmt.Sprintf("<%s> <%sstands> \"true\"^^<%sboolean> .", m.id("decision", "d6"), MS, xsd),
			fmt.Sprintf("<%s> <%sstands> \"false\"^^<%sboolean> .", m.id("decision", "d2"), MS, xsd),
			fmt.Sprintf("<%s> <%ssupersedes> <%s> .", m.id("decision", "d3"), MS, m.id("decision", "d2")),
		} {
			if !strings.Contains(text, want) {
				t.Errorf("not published: %s", want)
			}
		}
	}
}

// TestWhatLinks: a link needs somebody who confirms, and nobody who is against.
func TestWhatLinks(t *testing.T) {
	at := time.Date(2025, 11, 22, 12, 0, 0, 0, time.UTC)
	dec := func(id, by string, as model.Verdict, record string) model.Decision {
		at = at.Add(time.Minute)
		return model.Decision{ID: id, At: at, By: by, Stone: "A-1", Record: model.RecordID(record), As: as}
	}
	supersedes := func(d model.Decision, id string) model.Decision { d.Supersedes = id; return d }
	instead := func(d model.Decision, ids ...string) model.Decision { d.Instead = ids; return d }
	for _, c := range []struct {
		name      string
		decisions []model.Decision
		change    func(*Dataset)
		links     int
	}{
		{"confirmed", []model.Decision{dec("a", "V", model.Confirmed, "r1")}, nil, 1},
		{"confirmed by two", []model.Decision{dec("a", "V", model.Confirmed, "r1"), dec("b", "B", model.Confirmed, "r1")}, nil, 1},
		{"disputed", []model.Decision{dec("a", "V", model.Confirmed, "r1"), dec("b", "B", model.Refused, "r1")}, nil, 0},
		{"withdrawn", []model.Decision{dec("a", "V", model.Confirmed, "r1"), supersedes(dec("b", "V", model.Withdrawn, "r1"), "a")}, nil, 0},
		{"another says none", []model.Decision{dec("a", "V", model.Confirmed, "r1"), dec("b", "B", model.NoneOfThese, "")}, nil, 0},
		{"none, but of this one he says otherwise", []model.Decision{dec("a", "V", model.NoneOfThese, ""), dec("b", "V", model.Confirmed, "r1")}, nil, 1},
		{"none sets his own aside", []model.Decision{dec("a", "V", model.Confirmed, "r1"), instead(dec("b", "V", model.NoneOfThese, ""), "a")}, nil, 0},
		{"nobody sets another's aside", []model.Decision{dec("a", "V", model.Confirmed, "r1"), instead(dec("b", "B", model.Unsure, ""), "a")}, nil, 1},
		{"unsure and a note change nothing", []model.Decision{dec("a", "V", model.Confirmed, "r1"), dec("b", "B", model.Unsure, ""), dec("c", "B", model.Noted, "r1")}, nil, 1},
		{"the id is another man's today", []model.Decision{dec("a", "V", model.Confirmed, "r1")}, func(d *Dataset) { d.Astray = map[string]bool{"a": true} }, 0},
		{"the ledger says that it does not stand", []model.Decision{dec("a", "V", model.Confirmed, "r1")}, func(d *Dataset) { d.Stands = map[string]bool{} }, 0},
	} {
		d := sample(t)
		d.Decisions, d.Proposals = c.decisions, nil
		if c.change != nil {
			c.change(&d)
		}
		sum, err := Try(d)
		if err != nil {
			t.Fatal(err)
		}
		if sum.Links != c.links || sum.Persons != c.links || sum.Classes["Decision"] != len(c.decisions)-len(slices.DeleteFunc(slices.Clone(c.decisions), func(d model.Decision) bool { return d.As != model.Noted })) {
			t.Errorf("%s: %d links, %d persons, %d decisions", c.name, sum.Links, sum.Persons, sum.Classes["Decision"])
		}
	}
}
