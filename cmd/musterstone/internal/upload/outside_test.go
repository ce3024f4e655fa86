package upload

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestRealStore puts a graph in many chunks into a store of others (virtuoso-t of Debian's virtuoso-opensource-7-bin, on loopback only) and asks it how much
// it has. It takes half a minute, and runs only where MUSTERSTONE_OUTSIDE=1 asks for checks against programs of others.
func TestRealStore(t *testing.T) {
	if os.Getenv("MUSTERSTONE_OUTSIDE") != "1" {
		t.Skip("MUSTERSTONE_OUTSIDE is not 1")
	}
	server, err := exec.LookPath("virtuoso-t")
	if err != nil {
		t.Fatalf("virtuoso-opensource-7-bin is not installed: %v", err)
	}
	dir, web, sql := t.TempDir(), port(t), port(t)
	ini := fmt.Sprintf(`[Database]
DatabaseFile = %[1]s/v.db
ErrorLogFile = %[1]s/v.log
TransactionFile = %[1]s/v.trx
xa_persistent_file = %[1]s/v.pxa
LockFile = %[1]s/v.lck
[TempDatabase]
DatabaseFile = %[1]s/t.db
TransactionFile = %[1]s/t.trx
[Parameters]
ServerPort = 127.0.0.1:%[3]d
NumberOfBuffers = 10000
[HTTPServer]
ServerPort = 127.0.0.1:%[2]d
ServerRoot = %[1]s
`, dir, web, sql)
	if err := os.WriteFile(filepath.Join(dir, "v.ini"), []byte(ini), 0o666); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(server, "+configfile", filepath.Join(dir, "v.ini"), "+foreground")
	cmd.Dir = dir
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() {
		cmd.Process.Kill()
		cmd.Wait()
	}()
	base := fmt.Sprintf("http://127.0.0.1:%d", web)
	await(t, base+"/sparql")
	grant := exec.Command("isql-vt", fmt.Sprintf("127.0.0.1:%d", sql), "dba", "dba", `exec=GRANT SPARQL_UPDATE TO "SPARQL"; DB.DBA.RDF_DEFAULT_USER_PERMS_SET ('nobody', 7);`)
	if out, err := grant.CombinedOutput(); err != nil {
		t.Fatalf("allow the store to be written to: %v\n%s", err, out)
	}
	files, want := folder(t, 2000)
	u := &Uploader{To: base + "/sparql-graph-crud", Chunk: 10000}
	for range 2 { // the second run finds nothing to do
		if _, err := u.Run(context.Background(), files, graphs, Read(files)); err != nil {
			t.Fatal(err)
		}
	}
	count := func() string {
		q := url.Values{"query": {"SELECT (COUNT(*) AS ?n) WHERE { GRAPH <" + name + "> { ?s ?p ?o } }"}, "format": {"text/csv"}}
		r, err := http.Get(base + "/sparql?" + q.Encode())
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		text, err := io.ReadAll(r.Body)
		if err != nil {
			t.Fatal(err)
		}
		_, n, _ := strings.Cut(string(text), "\n")
		return strings.TrimSpace(n)
	}
	if got := count(); got != fmt.Sprint(strings.Count(want, "\n")) {
		t.Errorf("the store has %s triples of %d", got, strings.Count(want, "\n"))
	}
	// A new publication replaces the old one's graph.
	if err := os.WriteFile(filepath.Join(files, "dataset.nt"), []byte("<http://a.example/s> <http://a.example/p> \"new\" .\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := u.Run(context.Background(), files, graphs, Read(files)); err != nil {
		t.Fatal(err)
	}
	if got := count(); got != "1" {
		t.Errorf("after a new publication the store has %s triples of 1", got)
	}
}

// port is one that is free on loopback.
func port(t *testing.T) int {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port
}

// await waits until a server answers.
func await(t *testing.T, address string) {
	t.Helper()
	for range 120 {
		if r, err := http.Get(address); err == nil {
			r.Body.Close()
			return
		}
		time.Sleep(500 * time.Millisecond)
	}
	t.Fatalf("%s does not answer", address)
}
