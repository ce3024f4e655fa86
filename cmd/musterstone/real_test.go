package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"musterstone/model"
)

// openData lays a survey of open data into a new folder: the named data files of ../shared, and the metadata files of testdata/real, joined. It skips where the
// data are absent.
func openData(t *testing.T, files []string, metadata ...string) string {
	t.Helper()
	dir := t.TempDir()
	for _, f := range files {
		from, err := filepath.Abs(filepath.Join("../../../shared/data", f))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := os.Stat(from); err != nil {
			t.Skipf("the open data are not here: %v", err)
		}
		copyFile(t, from, filepath.Join(dir, filepath.Base(f)))
	}
	var all map[string]any
	for _, m := range metadata {
		text, err := os.ReadFile(filepath.Join("../../testdata/real", m))
		if err != nil {
			t.Fatal(err)
		}
		var one map[string]any
		if err := json.Unmarshal(text, &one); err != nil {
			t.Fatal(err)
		}
		if all == nil {
			all = one
			continue
		}
		all["tables"] = append(all["tables"].([]any), one["tables"].([]any)...)
	}
	text, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "csv-metadata.json"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// proposed runs propose on a survey and gives the proposals.
func proposed(t *testing.T, dir string) []model.Proposal {
	t.Helper()
	var ps []model.Proposal
	for line := range strings.Lines(command(t, "propose", "--json", "--survey", dir)) {
		var p model.Proposal
		if err := json.Unmarshal([]byte(line), &p); err != nil {
			t.Fatalf("propose printed %q: %v", line, err)
		}
		ps = append(ps, p)
	}
	return ps
}

// TestRealRollOfHonor links one regiment's roll of honor to its own roster (G. W. Lewis, 124th Ohio, Project Gutenberg 52223), with the pairs that were
// matched by hand as truth. It is an easy case: one book, so that almost every pair should be found.
func TestRealRollOfHonor(t *testing.T) {
	dir := openData(t, []string{"rosters/oh124_roster.csv", "rosters/oh124_roll_of_honor_burials.csv"}, "oh124.json")
	f, err := os.Open("../../../shared/data/truth/oh124_roster_to_burial_pairs.csv")
	if err != nil {
		t.Skipf("the open data are not here: %v", err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, h := range rows[0] {
		column[h] = i
	}
	truth := map[model.StoneID]model.RecordID{}
	for _, r := range rows[1:] {
		truth[model.StoneID("roll-"+r[column["roll_src_line"]])] = model.RecordID("roster-" + r[column["roster_src_line"]])
	}
	right, wrong := 0, 0
	for _, p := range proposed(t, dir) {
		for _, c := range p.Candidates {
			if c.Proposed && truth[p.Stone] == c.Record {
				right++
			} else if c.Proposed {
				wrong++
				t.Logf("stone %s: proposed %s, the pairs have %s", p.Stone, c.Record, truth[p.Stone])
			}
		}
	}
	t.Logf("%d of %d pairs proposed, %d wrong", right, len(truth), wrong)
	if len(truth) != 197 || right < 190 || wrong > 2 {
		t.Errorf("%d right and %d wrong of %d pairs", right, wrong, len(truth))
	}
}

// TestRealAndersonville links 12,413 graves of a printed list of 1881 (Project Gutenberg 71609) to 6,456 men of six regiments (Project Gutenberg 65589, 52223,
// 50687, 50422, 51250, 52399). Nearly none of the graves is of a man in the rosters; hundreds share a name with one. The rosters'
// remarks tell where a man died, which linking does not look at: the truth from another source.
func TestRealAndersonville(t *testing.T) {
	if testing.Short() {
		t.Skip("twelve thousand graves take some seconds")
	}
	dir := openData(t, []string{"andersonville/andersonville_graves_1881.csv", "rosters/six_regiments.csv"}, "andersonville.json", "six_regiments.json")
	f, err := os.Open(filepath.Join(dir, "six_regiments.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	remarks := map[model.RecordID]string{}
	for _, r := range rows[1:] {
		remarks[model.RecordID(r[0])] = r[len(r)-1]
	}
	all, confirmed := 0, 0
	ps := proposed(t, dir)
	for _, p := range ps {
		for _, c := range p.Candidates {
			if !c.Proposed {
				continue
			}
			all++
			if strings.Contains(remarks[c.Record], "Andersonville") {
				confirmed++
			} else {
				t.Logf("stone %s, record %s (%.3f): the roster does not say Andersonville but %q", p.Stone, c.Record, c.Probability, remarks[c.Record])
			}
		}
	}
	t.Logf("%d proposals; the rosters say of %d that the man died there", all, confirmed)
	if len(ps) != 12413 || all < 25 || float64(confirmed) < 0.9*float64(all) {
		t.Errorf("%d proposals for %d graves, of which the rosters bear out %d", all, len(ps), confirmed)
	}
}

// TestRealNamesakes sets 4,971 federal burials, which give no unit (US Department of Veterans Affairs, 2015 and 2017), beside the six regiments. Nearly all who share
// a name are namesakes: hardly anything may be proposed.
func TestRealNamesakes(t *testing.T) {
	if testing.Short() {
		t.Skip("five thousand burials take some seconds")
	}
	dir := openData(t, []string{"va_burials/va_burials_to_ww1.csv", "rosters/six_regiments.csv"}, "va_burials.json", "six_regiments.json")
	n := 0
	ps := proposed(t, dir)
	for _, p := range ps {
		for _, c := range p.Candidates {
			if c.Proposed {
				n++
				t.Logf("%s %s %.3f %+v", p.Stone, c.Record, c.Probability, c.Evidence)
			}
		}
	}
	t.Logf("%d proposals for %d burials", n, len(ps))
	if len(ps) < 4900 || n > 25 {
		t.Errorf("%d proposals for %d burials of which nearly none is a man of the rosters", n, len(ps))
	}
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	b, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, b, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}
