package main

import (
	"bytes"
	"context"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/index"
)

// TestCheckDerived damages each file that is kept below the survey, one at a time, and what was published: check says which it is, what is derived goes, and the next run answers as
// before.
func TestCheckDerived(t *testing.T) {
	base := t.TempDir()
	run := func(dir string, args ...string) (status int, out, errs string) {
		var o, e bytes.Buffer
		status = run(context.Background(), append([]string{"musterstone", args[0], "--survey", filepath.Join(dir, "alder")}, args[1:]...), strings.NewReader(""), &o, &e)
		return status, o.String(), e.String()
	}
	alder := filepath.Join(base, "alder")
	if err := os.CopyFS(alder, os.DirFS("internal/demo/survey")); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-time.Minute)
	tables, _ := filepath.Glob(filepath.Join(alder, "*"))
	for _, name := range tables { // else their digests would not be kept
		os.Chtimes(name, old, old)
	}
	published := filepath.Join(base, "out")
	for _, args := range [][]string{{"find", "harkness"}, {"publish", "--site=false", published}, {"propose"}} {
		if status, out, errs := run(base, args...); status != 0 {
			t.Fatalf("%v: status %d\n%s%s", args, status, out, errs)
		}
	}
	_, want, _ := run(base, "propose")
	if status, out, errs := run(base, "check"); status != 0 || strings.Contains(errs, "removed") || !strings.Contains(out, "published in "+published) {
		t.Fatalf("before any damage: status %d\n%s%s", status, out, errs)
	}
	var files []string
	err := filepath.WalkDir(filepath.Join(alder, index.DerivedFolder), func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && d.Name() != "lock" {
			files = append(files, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, path := range files {
		rel, _ := filepath.Rel(filepath.Join(alder, index.DerivedFolder), path)
		thing, _, _ := strings.Cut(filepath.ToSlash(rel), "/")
		seen[filepath.Base(path)] = true
		whole, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if len(whole) == 0 {
			continue
		}
		for _, at := range []int{0, len(whole) / 2, len(whole) - 1} {
			b := bytes.Clone(whole)
			b[at] ^= 0x40
			if err := os.WriteFile(path, b, 0o644); err != nil {
				t.Fatal(err)
			}
			if _, _, errs := run(base, "check"); !strings.Contains(errs, index.DerivedFolder+"/"+thing+": ") || !strings.Contains(errs, "removed, and made again when it is next needed") {
				t.Errorf("%s, byte %d: check says\n%s", rel, at, errs)
			}
			if _, err := os.Stat(path); err == nil {
				t.Errorf("%s, byte %d: it is still there", rel, at)
			}
			if status, out, errs := run(base, "propose"); status != 0 || out != want {
				t.Errorf("%s, byte %d: the next run: status %d\n%s", rel, at, status, errs)
			}
			if thing == "published.json" {
				run(base, "publish", "--site=false", published)
			}
			run(base, "find", "harkness")
		}
	}
	for _, name := range []string{"weigh.bin", "answers.bin", "digests.json", "published.json", "manifest.json"} {
		if !seen[name] {
			t.Errorf("there was no %s to damage: %v", name, files)
		}
	}

	nt := filepath.Join(published, "dataset.nt")
	text, err := os.ReadFile(nt)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(nt, text[:len(text)/2], 0o644); err != nil {
		t.Fatal(err)
	}
	if status, out, _ := run(base, "check"); status != exitProblems || !strings.Contains(out, nt+": it is not what its SHA-256 says; the publication is damaged") {
		t.Errorf("a publication cut short: status %d\n%s", status, out)
	}
	if _, err := os.Stat(nt); err != nil {
		t.Errorf("check removed what was published: %v", err)
	}
	os.RemoveAll(published)
	if status, out, errs := run(base, "check"); status != 0 || strings.Contains(out, "published in") {
		t.Errorf("a publication that is gone: status %d\n%s%s", status, out, errs)
	}
	if status, _, errs := run(base, "publish", "--site=false", published); status != 0 {
		t.Errorf("publishing again: status %d\n%s", status, errs)
	}
}

// TestCheckAside: check names each table that it passed over, and says why, and finds no fault in it; of what is derived and whole it says so in one line.
func TestCheckAside(t *testing.T) {
	const pairs, stones, roster = "stone,record\nM-1,r1\n", "id,cemetery,inscription\nM-1,Old Mill,ORRIN PELTRY / CO. M 73 OHIO CAV.\n", "id,surname,given,died\nr1,Peltry,Orrin,1890\n"
	for _, c := range []struct {
		name, metadata string
		files          map[string]string
		passed         map[string]string // file, and what is said of it
	}{
		{"true links", "", map[string]string{"truth.csv": pairs, "Links.CSV": "Record,why,Stone\nr1,,M-1\n"}, map[string]string{"truth.csv": "set stones beside records", "Links.CSV": "set stones beside records"}},
		{"a graph", "", map[string]string{"notes.ttl": "<http://example.org/a> a <http://example.org/b> .\n"}, map[string]string{"notes.ttl": "does not begin with roster"}},
		{"not listed", `[{"url": "stones.csv"}, {"url": "roster.csv"}]`, map[string]string{"truth.csv": pairs}, map[string]string{"truth.csv": "csv-metadata.json does not list it"}},
		{"left out", `[{"url": "stones.csv"}, {"url": "roster.csv"}, {"url": "roster-b.csv", "suppressOutput": true}]`, map[string]string{"roster-b.csv": roster}, map[string]string{"roster-b.csv": "csv-metadata.json says that it is left out"}},
		{"nothing", "", nil, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			files := map[string]string{"stones.csv": stones, "roster.csv": roster}
			maps.Copy(files, c.files)
			if c.metadata != "" {
				files["csv-metadata.json"] = `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Old Mill", "tables": ` + c.metadata + `}`
			}
			for name, text := range files {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			command(t, "propose", "--survey", dir)
			out := command(t, "check", "--survey", dir)
			if n := strings.Count(out, "passed over"); n != len(c.passed) {
				t.Errorf("%d tables are said to be passed over, want %d", n, len(c.passed))
			}
			for file, why := range c.passed {
				if !slices.ContainsFunc(strings.Split(out, "\n"), func(l string) bool {
					return strings.HasPrefix(l, file+" was passed over: ") && strings.Contains(l, why)
				}) {
					t.Errorf("nothing says of %s that %s", file, why)
				}
			}
			if strings.Count(out, index.DerivedFolder) != 1 || strings.Contains(out, "answers.bin") {
				t.Errorf("what is derived is not told in one line")
			}
			if t.Failed() {
				t.Log(out)
			}
		})
	}
}

// TestCheckOld: an index that is whole, but of earlier rosters, or one of words of earlier stones, is said to be so.
func TestCheckOld(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	const stones, roster = "id,cemetery,inscription\nM-1,Old Mill,ORRIN PELTRY / CO. M 73 OHIO CAV.\n", "id,surname,given,died\nr1,Peltry,Orrin,1890\n"
	write("csv-metadata.json", `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Old Mill", "tables": [{"url": "stones.csv"}, {"url": "roster.csv"}]}`)
	write("stones.csv", stones)
	write("roster.csv", roster)
	command(t, "find", "--survey", dir, "peltry")
	for _, tt := range []struct{ name, text, want string }{
		{"roster.csv", roster, "are whole; they can always be made again"},
		{"stones.csv", stones + "M-2,Old Mill,AMOS HALL / CO. M 73 OHIO CAV.\n", "is whole; that of words is of earlier stones or rosters"},
		{"roster.csv", roster + "r2,Hall,Amos,1891\n", "is whole, but of earlier rosters or of another program; the next run makes it anew"},
	} {
		write(tt.name, tt.text)
		if out := command(t, "check", "--survey", dir); !strings.Contains(out, tt.want) {
			t.Errorf("with another %s, want %q in\n%s", tt.name, tt.want, out)
		}
	}
	command(t, "find", "--survey", dir, "hall")
	if out := command(t, "check", "--survey", dir); !strings.Contains(out, "are whole; they can always be made again") {
		t.Errorf("after looking again:\n%s", out)
	}
}

// TestCheckPhotographs: what the stones name and the folder lacks is told, and is no fault of the survey.
func TestCheckPhotographs(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"stones.csv":     "id,cemetery,inscription,photo\nM-1,Old Mill,O. PELTRY,one.jpg\nM-2,Old Mill,P. OSGOOD,pictures/two.jpg\nM-3,Old Mill,A. QUORN,../three.jpg\nM-4,Old Mill,H. VAIL,\nM-5,Old Mill,J. ORR,https://example.org/5.jpg\n",
		"roster-old.csv": "id,surname,given\nr1,Peltry,Orrin\n", "one.jpg": "",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if out := command(t, "check", "--survey", dir); !strings.Contains(out, `2 of the 3 photographs that stones name are not in the folder: that of stone M-2, "pictures/two.jpg", for one`) {
		t.Errorf("check says\n%s", out)
	}
	if err := os.Mkdir(filepath.Join(dir, "pictures"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "pictures", "two.jpg"), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if out := command(t, "check", "--survey", dir); !strings.Contains(out, `1 of the 3 photographs that stones name is not in the folder: that of stone M-3`) {
		t.Errorf("check says\n%s", out)
	}
}
