package desk

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/png"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/link/ledger"
	"musterstone/model"
)

// A small survey, invented: two stones that claim one man, a pair of namesakes, a stone of nobody near, and one whose every cell is hostile.
const stonesCSV = `id,cemetery,county,state,section,row,plot,latitude,longitude,inscription,top,material,width_in,thickness_in,device,lettering,setting,photo,recorder,notes
M-1,Old Mill Cemetery,Alder,WI,A,1,1,43.50008,-87.00994,SAML. TILLOTSON / CO. F / 31 WIS. INF.,rounded,white marble,12,4,recessed shield,raised,upright,m1.png,M. Whelan,
M-2,Old Mill Cemetery,Alder,WI,A,1,2,43.50008,-87.00988,WM. BAKER / CO. K / 44 WIS. INF.,rounded,white marble,12,4,recessed shield,raised,upright,,M. Whelan,
M-3,Old Mill Cemetery,Alder,WI,A,1,4,43.50001,-87.00988,GEORGE HALE / 1801 - 1850,square,marble,20,3,,,upright,,M. Whelan,
M-4,Old Mill Cemetery,Alder,WI,B,2,1,,,S. TILLOTSON / CO. F / 31 WIS. INF.,rounded,white marble,12,4,recessed shield,raised,upright,,M. Whelan,
"M-5""><script>alert(1)</script>","Hill <b onmouseover=""alert(2)"">Yard",Alder,WI,"<i>","'","&",,,"<IMG SRC=X ONERROR=ALERT(3)> / JOHN {{.Token}} COLE / CO. B / 3 WIS. CAV.",rounded,white marble,12,4,recessed shield,raised,upright,../secret.png,"</textarea><script>alert(4)</script>","javascript:alert(5)"
`

const rosterCSV = `id,surname,given,rank_in,company,regiment,arm,state,enlisted,age,remarks
r1,Tillotson,Samuel,Private,F,31,Infantry,Wis.,"Aug. 9, 1862",22,
r2,Baker,William,Private,K,44,Infantry,Wis.,"Oct. 1, 1864",19,
r3,Baker,William,Private,K,48,Infantry,Wis.,"Oct. 2, 1864",24,
r4,Ostby,Nels,Private,F,31,Infantry,Wis.,"Aug. 9, 1862",25,"Died Feb. 3, 1863"
"r""><script>alert(6)</script>",Cole,John,Private,B,3,Cavalry,Wis.,"Aug. 9, 1862",25,"<svg onload=alert(7)>"
`

// moment is the clock of the tests.
var moment = time.Date(2026, 3, 7, 20, 0, 0, 0, time.UTC)

// survey writes the small survey into a new folder.
func survey(t testing.TB) string {
	t.Helper()
	parent := t.TempDir()
	dir := filepath.Join(parent, "alder")
	write := func(path string, data []byte) {
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	write(filepath.Join(dir, "stones.csv"), []byte(stonesCSV))
	write(filepath.Join(dir, "roster-alder.csv"), []byte(rosterCSV))
	write(filepath.Join(dir, "m1.png"), picturePNG(t))
	write(filepath.Join(parent, "secret.png"), picturePNG(t))
	return dir
}

func picturePNG(t testing.TB) []byte {
	img := image.NewGray(image.Rect(0, 0, 60, 90))
	for y := range 90 {
		for x := range 60 {
			img.SetGray(x, y, color.Gray{Y: uint8(120 + x + y/2)})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// openDesk opens a desk on a folder.
func openDesk(t testing.TB, dir string, opts Options) *Desk {
	t.Helper()
	j, err := job.Open(dir, job.Options{Program: "test"})
	if err != nil {
		t.Fatal(err)
	}
	if opts.Clock == nil {
		now := moment
		opts.Clock = func() time.Time { now = now.Add(time.Second); return now }
	}
	opts.Program = "test"
	opts.Note = func(s string) { t.Log("note:", s) }
	d, err := New(context.Background(), j, opts)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close(); j.Close() })
	return d
}

// browser is a client with cookies, which does not follow redirections unless asked.
type browser struct {
	t    testing.TB
	base string
	http.Client
	last string // where the last request ended
}

// serve serves the desk and gives a browser on it.
func serve(t testing.TB, d *Desk) *browser {
	t.Helper()
	s := httptest.NewServer(nil)
	t.Cleanup(s.Close)
	d.guard.hosts = append(d.guard.hosts, Hosts(s.Listener.Addr())...)
	s.Config.Handler = d.Handler()
	return newBrowser(t, s.URL)
}

func newBrowser(t testing.TB, base string) *browser {
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &browser{t: t, base: base, Client: http.Client{Jar: jar, Timeout: 10 * time.Second}}
}

// get fetches a page, wants the status, and gives its text.
func (b *browser) get(path string, status int) string {
	b.t.Helper()
	r, err := b.Client.Get(b.base + path)
	if err != nil {
		b.t.Fatal(err)
	}
	return b.read(r, path, status)
}

func (b *browser) read(r *http.Response, path string, status int) string {
	b.t.Helper()
	defer r.Body.Close()
	data, err := io.ReadAll(r.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	if r.StatusCode != status {
		b.t.Fatalf("%s: status %d, want %d:\n%s", path, r.StatusCode, status, data)
	}
	b.last = r.Request.URL.RequestURI()
	return string(data)
}

var tokenIn = regexp.MustCompile(`name="token" value="([0-9a-f]+)"`)

// post sends a form with the token of the session.
func (b *browser) post(path string, status int, form url.Values) string {
	b.t.Helper()
	m := tokenIn.FindStringSubmatch(b.get("/who", http.StatusOK))
	if m == nil {
		b.t.Fatal("no token on the page")
	}
	form.Set("token", m[1])
	r, err := b.Client.PostForm(b.base+path, form)
	if err != nil {
		b.t.Fatal(err)
	}
	return b.read(r, path, status)
}

// as gives the browser a name.
func (b *browser) as(name string) *browser {
	b.t.Helper()
	b.post("/who", http.StatusOK, url.Values{"name": {name}, "back": {"/plan"}})
	return b
}

func decisions(t testing.TB, dir string) []model.Decision {
	t.Helper()
	l, err := ledger.Open(filepath.Join(dir, ledger.FileName))
	if err != nil {
		t.Fatal(err)
	}
	if l.Complaints() != nil {
		t.Fatalf("the ledger has complaints: %v", l.Complaints())
	}
	var out []model.Decision
	for _, e := range l.Entries() { // in the order in which they were written: two may be of one second
		out = append(out, e.Decision)
	}
	return out
}

// told wants a page to say something.
func told(t *testing.T, page string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if !strings.Contains(page, w) {
			t.Errorf("the page does not say %q:\n%s", w, shortened(page))
		}
	}
}

// shortened is a page without its drawings, and not all of it.
func shortened(page string) string {
	if i := strings.Index(page, "<main"); i >= 0 {
		page = page[i:]
	}
	page = regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(page, "<svg/>")
	return page[:min(len(page), 1500)]
}
