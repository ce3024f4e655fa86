package desk

import (
	"io"
	"net/http"
	"net/url"
	"path/filepath"
	"strings"
	"testing"

	"musterstone/link/ledger"
)

// FuzzForms posts any body to any of the desk's forms, with a good session: it answers without a fault of its own (status 500 and above), and the ledger stays one
// that is read without a complaint.
func FuzzForms(f *testing.F) {
	for _, body := range []string{
		"stone=M-1&confirm=r1&because=same+company", "stone=M-1&refuse=r2", "stone=M-2&whole=none", "stone=M-2&whole=unsure", "stone=M-1&text=look+again", "name=Bea&back=/plan",
		"decision=20260101T000000Z-0000000000", "stone=%ff&confirm=%00", "back=//evil.example/", "stone=M-1&confirm=r1&confirm=r2;x=%zz", "because=%E2%80%AE%CC%A3&stone=M-1&whole=none",
	} {
		for path := range uint8(len(formPaths)) {
			f.Add(path, body)
		}
	}
	dir := survey(f)
	b := serve(f, openDesk(f, dir, Options{})).as("Ann")
	b.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	token := tokenIn.FindStringSubmatch(b.get("/who", http.StatusOK))[1]
	path := filepath.Join(dir, ledger.FileName)
	f.Fuzz(func(t *testing.T, at uint8, body string) {
		if len(body) > 1<<16 {
			return
		}
		to := formPaths[int(at)%len(formPaths)]
		res, err := b.Post(b.base+to, "application/x-www-form-urlencoded", strings.NewReader("token="+token+"&"+body))
		if err != nil {
			t.Fatal(err)
		}
		page, _ := io.ReadAll(res.Body)
		res.Body.Close()
		if res.StatusCode >= 500 {
			t.Fatalf("%s %q: status %d: %s", to, body, res.StatusCode, shortened(string(page)))
		}
		if to := res.Header.Get("Location"); to != "" {
			if u, err := url.Parse(to); err != nil || u.Host != "" || !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") || strings.HasPrefix(to, `/\`) {
				t.Fatalf("%q leads away, to %q", body, to)
			}
		}
		l, err := ledger.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		if c := l.Complaints(); len(c) > 0 {
			t.Fatalf("%s %q: the ledger has complaints: %v", to, body, c)
		}
	})
}

var formPaths = []string{"/decide", "/note", "/undo", "/who", "/keys"}
