package unmarked

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestReadCemeteries(t *testing.T) {
	text := "\ufeffCemetery,also,State,county,note\nOld Mill Cemetery,Harlan Burying Ground | Mill Yard,Wis.,Alder,x\n,nothing,WI,,\n\nNew Hope,,Nowhere,\n"
	got, told := ReadCemeteries(csv.NewReader(strings.NewReader(text)), "cemeteries.csv")
	want := []Cemetery{{Name: "Old Mill Cemetery", Former: []string{"Harlan Burying Ground", "Mill Yard"}, County: "Alder", State: "WI"}, {Name: "New Hope"}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if len(told) != 2 || told[0].Row != 3 || told[0].Column != "cemetery" || told[1].Column != "state" || told[1].Row != 5 || !strings.Contains(told[1].Text, "Nowhere") {
		t.Errorf("told %v", told)
	}
	if got, told := ReadCemeteries(csv.NewReader(strings.NewReader("name\nx\n")), "c.csv"); got != nil || len(told) != 1 || !strings.Contains(told[0].Text, `no column "cemetery"`) {
		t.Errorf("without a column: %v %v", got, told)
	}
	if _, told := ReadCemeteries(csv.NewReader(strings.NewReader("")), "c.csv"); len(told) != 1 {
		t.Errorf("of an empty file: %v", told)
	}
}

func TestGazetteer(t *testing.T) {
	named := []Cemetery{{Name: "Old Mill Cemetery", County: "Alder", State: "WI"}, {Name: "Old Mill Cemetery", County: "Knox", State: "IL"}, {Name: "Plain"}}
	listed := []Cemetery{{Name: "old mill cemetery", County: "Alder County", Former: []string{"Mill Yard"}}, {Name: "Plain", County: "Alder", State: "WI"}, {Name: "Unwalked", County: "Alder", State: "WI"}}
	want := []Cemetery{{Name: "Old Mill Cemetery", Former: []string{"Mill Yard"}, County: "Alder", State: "WI"}, {Name: "Old Mill Cemetery", County: "Knox", State: "IL"},
		{Name: "Plain", County: "Alder", State: "WI"}, {Name: "Unwalked", County: "Alder", State: "WI"}}
	if diff := cmp.Diff(want, Gazetteer(named, listed)); diff != "" {
		t.Error(diff)
	}
}

func FuzzReadCemeteries(f *testing.F) {
	f.Add("cemetery,also\nOld Mill,\"a|b\"\n")
	f.Add("also\n")
	f.Add("cemetery,state\n\"x\ny,WI\n")
	f.Fuzz(func(t *testing.T, text string) {
		got, told := ReadCemeteries(csv.NewReader(strings.NewReader(text)), "f")
		for _, c := range got {
			if c.Name == "" {
				t.Errorf("a ground without a name: %+v", c)
			}
		}
		for _, c := range told {
			if c.Text == "" || c.Hint == "" {
				t.Errorf("a complaint that does not help: %+v", c)
			}
		}
	})
}
