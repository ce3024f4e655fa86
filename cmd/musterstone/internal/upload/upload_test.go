package upload

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// store is a graph store in memory, which answers as its faults say.
type store struct {
	mu     sync.Mutex
	graphs map[string]string
	faults []int // status of the next answers; 0 for a good one
	asked  int
}

func (s *store) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.asked++
	if len(s.faults) > 0 {
		status := s.faults[0]
		s.faults = s.faults[1:]
		if status != 0 {
			w.Header().Set("Retry-After", "7")
			http.Error(w, "not now", status)
			return
		}
	}
	body, err := io.ReadAll(r.Body)
	if err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	graph := r.URL.Query().Get("graph")
	switch r.Method {
	case http.MethodPut:
		s.graphs[graph] = string(body)
		w.WriteHeader(http.StatusCreated)
	case http.MethodPost:
		s.graphs[graph] += string(body)
		w.WriteHeader(http.StatusNoContent)
	default:
		http.Error(w, "no", http.StatusMethodNotAllowed)
	}
}

// folder is a publication of so many triples.
func folder(t *testing.T, lines int) (dir, text string) {
	t.Helper()
	dir = t.TempDir()
	var b strings.Builder
	for i := range lines {
		fmt.Fprintf(&b, "<http://a.example/%d> <http://a.example/p> \"x\" .\n", i)
	}
	if err := os.WriteFile(filepath.Join(dir, "dataset.nt"), []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	return dir, b.String()
}

const name = "http://a.example/dataset"

var graphs = []Graph{{File: "dataset.nt", Name: name}}

func TestRun(t *testing.T) {
	dir, want := folder(t, 100)
	s := &store{graphs: map[string]string{name: "what was there before"}, faults: []int{503, 0, 429, 500, 0}}
	server := httptest.NewServer(s)
	defer server.Close()
	var waits []time.Duration
	u := &Uploader{To: server.URL + "/data?x=1", Chunk: 1000, Wait: func(_ context.Context, d time.Duration) error { waits = append(waits, d); return nil }}
	n, err := u.Run(context.Background(), dir, graphs, Manifest{})
	if err != nil {
		t.Fatal(err)
	}
	if s.graphs[name] != want || n != int64(len(want)) || len(waits) != 3 || waits[0] != 7*time.Second {
		t.Errorf("%d bytes arrived and %d were sent, of %d; waits %v", len(s.graphs[name]), n, len(want), waits)
	}
	// All is there: the next run sends nothing.
	asked := s.asked
	if n, err := u.Run(context.Background(), dir, graphs, Read(dir)); err != nil || n != 0 || s.asked != asked {
		t.Errorf("a second run sent %d bytes in %d requests: %v", n, s.asked-asked, err)
	}
}

// TestResume: a run that broke off goes on where it stopped, unless the data or the store are others.
func TestResume(t *testing.T) {
	dir, want := folder(t, 100)
	s := &store{graphs: map[string]string{}, faults: []int{0, 0, 403}}
	server := httptest.NewServer(s)
	defer server.Close()
	u := &Uploader{To: server.URL, Chunk: 1000}
	first, err := u.Run(context.Background(), dir, graphs, Manifest{})
	if err == nil || !strings.Contains(err.Error(), "403") || !strings.Contains(err.Error(), "goes on there") {
		t.Fatalf("%v", err)
	}
	m := Read(dir)
	if m.Graphs[0].Sent != first || first == 0 || m.Graphs[0].Done {
		t.Errorf("the manifest: %+v", m)
	}
	rest, err := u.Run(context.Background(), dir, graphs, m)
	if err != nil || s.graphs[name] != want || first+rest != int64(len(want)) {
		t.Errorf("after %d and %d bytes %d of %d are there: %v", first, rest, len(s.graphs[name]), len(want), err)
	}
	if err := os.WriteFile(filepath.Join(dir, "dataset.nt"), []byte("<http://a.example/s> <http://a.example/p> \"new\" .\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := u.Run(context.Background(), dir, graphs, Read(dir)); err != nil || strings.Contains(s.graphs[name], "\"x\"") {
		t.Errorf("other data were added to the old: %v", err)
	}
}

func TestRefusals(t *testing.T) {
	dir, _ := folder(t, 1)
	for _, to := range []string{"", "store", "ftp://a.example/", "http://"} {
		if _, err := (&Uploader{To: to}).Run(context.Background(), dir, graphs, Manifest{}); err == nil || !strings.Contains(err.Error(), "no address") {
			t.Errorf("%q: %v", to, err)
		}
	}
	// A password stands in no message and no manifest.
	server := httptest.NewServer(http.NotFoundHandler())
	at, err := url.Parse(server.URL)
	if err != nil {
		t.Fatal(err)
	}
	at.User = url.UserPassword("ann", "secret")
	_, err = (&Uploader{To: at.String()}).Run(context.Background(), dir, graphs, Manifest{})
	if err == nil || strings.Contains(err.Error(), "secret") {
		t.Errorf("%v", err)
	}
	server.Close()
	noWait := func(context.Context, time.Duration) error { return nil }
	_, err = (&Uploader{To: at.String(), Wait: noWait}).Run(context.Background(), dir, graphs, Manifest{})
	if err == nil || strings.Contains(err.Error(), "secret") || !strings.Contains(err.Error(), "given up after 6 tries") {
		t.Errorf("%v", err)
	}
	if text, err := os.ReadFile(filepath.Join(dir, ManifestFile)); err != nil || strings.Contains(string(text), "secret") {
		t.Errorf("%s %v", text, err)
	}
	if _, err := (&Uploader{To: at.String()}).Run(context.Background(), t.TempDir(), graphs, Manifest{}); err == nil || !strings.Contains(err.Error(), "publish again") {
		t.Errorf("a folder without a publication: %v", err)
	}
}

// TestAdvice: each kind of refusal says what to do, at once where no other try would better it; a wait that is broken off ends the run.
func TestAdvice(t *testing.T) {
	for status, want := range map[int]string{401: "name and password", 403: "name and password", 404: "Graph Store Protocol", 405: "Graph Store Protocol", 400: "400 Bad Request: not now", 507: "make room"} {
		dir, _ := folder(t, 1)
		s := &store{graphs: map[string]string{}}
		for range tries {
			s.faults = append(s.faults, status)
		}
		server := httptest.NewServer(s)
		noWait := func(context.Context, time.Duration) error { return nil }
		_, err := (&Uploader{To: server.URL, Wait: noWait}).Run(context.Background(), dir, graphs, Manifest{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("status %d: %v, want %q", status, err, want)
		}
		if asked := map[bool]int{true: tries, false: 1}[status >= 500]; s.asked != asked {
			t.Errorf("status %d: asked %d times, want %d", status, s.asked, asked)
		}
		server.Close()
	}
	dir, _ := folder(t, 1)
	s := &store{graphs: map[string]string{}, faults: []int{503}}
	server := httptest.NewServer(s)
	defer server.Close()
	ctx, cancel := context.WithCancel(context.Background())
	_, err := (&Uploader{To: server.URL, Wait: func(ctx context.Context, d time.Duration) error { cancel(); return pause(ctx, d) }}).Run(ctx, dir, graphs, Manifest{})
	if !errors.Is(err, context.Canceled) || s.asked != 1 {
		t.Errorf("broken off while it waited: %v after %d requests", err, s.asked)
	}
}

// TestNextChunk: whatever the limit, and however long lines are, a file is parted between lines and nothing of it is lost or sent twice.
func TestNextChunk(t *testing.T) {
	for _, text := range []string{"", "a\n", "a", "one\ntwo\nthree\n", "short\n" + strings.Repeat("long ", 20) + "\nshort\n" + strings.Repeat("x", 33), strings.Repeat("\n", 9)} {
		path := filepath.Join(t.TempDir(), "dataset.nt")
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		for limit := 1; limit < len(text)+3; limit++ {
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			got := ""
			for {
				chunk, err := nextChunk(f, limit)
				if err != nil {
					t.Fatal(err)
				}
				if len(chunk) == 0 {
					break
				}
				if got += string(chunk); len(got) < len(text) && chunk[len(chunk)-1] != '\n' {
					t.Errorf("%q by %d: a chunk ends within a line: %q", text, limit, chunk)
				}
			}
			f.Close()
			if got != text {
				t.Errorf("%q by %d: %q", text, limit, got)
			}
		}
	}
}
