package weigh

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"musterstone/model"
)

// TestKeep packs 3,000 records, of which most are taken over from a file in which they stand among others: the file that comes of it is, byte for byte, the one that comes of
// packing all of them anew.
func TestKeep(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	var all []*model.Record
	for i := range 3000 {
		all = append(all, &model.Record{ID: model.RecordID(fmt.Sprint("m", i)), Source: model.Source{File: fmt.Sprintf("roster-%d.csv", i/1000), Row: i}, Claim: madeClaim(r, []string{"Holden", "Tveit", "Moser", "Quackenbush"})})
	}
	dir := t.TempDir()
	file := func(name string, c *Columns) (path string, b []byte) {
		t.Helper()
		path = filepath.Join(dir, name)
		if err := c.WriteFile(path); err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return path, b
	}
	// In the earlier file the third thousand comes first, and the first stops short.
	path, whole := file("earlier", pack(append(append([]*model.Record(nil), all[2000:]...), all[:1500]...)))
	_, want := file("anew", pack(all))

	e, err := OpenEarlier(path)
	if err != nil {
		t.Fatal(err)
	}
	if e.Len() != 2500 {
		t.Fatalf("the earlier file has %d records, want 2500", e.Len())
	}
	p := NewPacker()
	keep := func(from, to int) {
		if err := p.Keep(e, from, to); err != nil {
			t.Fatal(err)
		}
	}
	keep(1000, 2500) // all[:1500]
	for _, rec := range all[1500:2000] {
		p.Add(rec)
	}
	keep(0, 1000)
	if err := e.Close(); err != nil {
		t.Fatal(err)
	}
	if _, got := file("kept", p.Columns()); !bytes.Equal(got, want) {
		t.Error("what was kept makes another file than what was packed anew")
	}

	for _, at := range []int{3, 9, 14, 20, 1000, len(whole) - 5} {
		bad := bytes.Clone(whole)
		bad[at] ^= 4
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		if e, err := OpenEarlier(path); err == nil {
			e.Close()
			t.Errorf("a file whose byte %d was harmed was opened", at)
		}
	}
}
