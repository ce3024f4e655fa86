package site

import (
	"bytes"
	"context"
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/piprate/json-gold/ld"

	"musterstone/vocab/rdf"
)

// missing skips a check whose outside program is not here, unless MUSTERSTONE_OUTSIDE=1 demands it.
func missing(t *testing.T, format string, args ...any) {
	t.Helper()
	if os.Getenv("MUSTERSTONE_OUTSIDE") == "1" {
		t.Fatalf(format, args...)
	}
	t.Skipf(format, args...)
}

// beside are the files of an ending that lie beside the pages.
func beside(t *testing.T, dir, name string) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err == nil && e.Name() == name {
			files = append(files, path)
		}
		return err
	})
	if err != nil || len(files) < 20 {
		t.Fatalf("%d files %s: %v", len(files), name, err)
	}
	return files
}

// said is everything that a publication says, a line of canonical N-Triples each, sorted.
func said(t *testing.T, dir string) []string {
	t.Helper()
	var all []string
	for tr, err := range rdf.Described(dir) {
		all = append(all, canonicalLine(t, tr, err))
	}
	slices.Sort(all)
	return all
}

func canonicalLine(t *testing.T, tr rdf.Triple, err error) string {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	line, err := rdf.AppendTriple(nil, tr)
	if err != nil {
		t.Fatal(err)
	}
	return string(line)
}

// canonical are the lines of what another program printed.
func canonical(t *testing.T, text string) []string {
	t.Helper()
	var all []string
	for tr, err := range rdf.ReadNTriples(strings.NewReader(text), "outside") {
		all = append(all, canonicalLine(t, tr, err))
	}
	slices.Sort(all)
	return all
}

const odd = "Old \"Mill\" \\ Größe\n墓 <b> it's 100% $"

// TestOutsideReaders: rapper and n3 find in the Turtle beside the pages, file by file, what the publication says, each triple once.
func TestOutsideReaders(t *testing.T) {
	dir, _ := publication(t, "https://data.example.org/", odd)
	files, want := beside(t, dir, "index.ttl"), said(t, dir)
	t.Run("rapper", func(t *testing.T) {
		path, err := exec.LookPath("rapper")
		if err != nil {
			missing(t, "rapper (raptor2-utils) is not installed: %v", err)
		}
		var all bytes.Buffer
		for _, f := range files {
			out, err := exec.Command(path, "-q", "-i", "turtle", "-o", "ntriples", f).Output()
			if err != nil {
				t.Fatalf("rapper on %s: %v", f, err)
			}
			all.Write(out)
		}
		if got := canonical(t, all.String()); !slices.Equal(got, want) {
			t.Errorf("rapper reads %d triples, the publication has %d, or others", len(got), len(want))
		}
	})
	t.Run("n3", func(t *testing.T) {
		folder := os.Getenv("MUSTERSTONE_NODE")
		if folder == "" {
			missing(t, "MUSTERSTONE_NODE does not name the folder with node_modules")
		}
		script, err := os.ReadFile(filepath.Join("..", "testdata", "n3.mjs"))
		if err != nil {
			t.Fatal(err)
		}
		ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
		defer cancel()
		cmd := exec.CommandContext(ctx, "node", append([]string{"--input-type=module", "-", files[0], "text/turtle"}, files[1:]...)...)
		cmd.Dir, cmd.Stdin = folder, bytes.NewReader(script)
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("n3: %v", err)
		}
		if got := canonical(t, string(out)); !slices.Equal(got, want) {
			t.Errorf("n3 reads %d triples, the publication has %d, or others", len(got), len(want))
		}
	})
}

// nearContext gives the context of the publication, wherever a page says that it is; nothing is fetched.
type nearContext struct {
	path string
	want string
	t    *testing.T
}

func (n nearContext) LoadDocument(u string) (*ld.RemoteDocument, error) {
	if u != n.want {
		n.t.Errorf("the context is said to be at %s", u)
	}
	text, err := os.ReadFile(n.path)
	if err != nil {
		return nil, err
	}
	var doc any
	err = json.Unmarshal(text, &doc)
	return &ld.RemoteDocument{DocumentURL: u, Document: doc}, err
}

// TestOutsideJSONLD: another processor finds in the JSON-LD beside the pages what the publication says, its context where the site has it.
func TestOutsideJSONLD(t *testing.T) {
	const base = "https://data.example.org/"
	dir, _ := publication(t, base, odd)
	var all strings.Builder
	for _, f := range beside(t, dir, "index.jsonld") {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var doc any
		if err := json.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		rel, err := filepath.Rel(dir, f)
		if err != nil {
			t.Fatal(err)
		}
		opt := ld.NewJsonLdOptions(base + filepath.ToSlash(rel))
		opt.DocumentLoader = nearContext{filepath.Join(dir, "context.jsonld"), base + "context.jsonld", t}
		opt.Format = "application/n-quads"
		out, err := ld.NewJsonLdProcessor().ToRDF(doc, opt)
		if err != nil {
			t.Fatalf("%s: %v", rel, err)
		}
		all.WriteString(out.(string))
	}
	if got, want := canonical(t, all.String()), said(t, dir); !slices.Equal(got, want) {
		t.Errorf("%d triples in the JSON-LD, %d in the publication, or others", len(got), len(want))
	}
}
