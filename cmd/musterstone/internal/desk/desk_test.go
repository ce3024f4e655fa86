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

func told(t *testing.T, page string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if !strings.Contains(page, w) {
			t.Errorf("the page does not say %q:\n%s", w, shortened(page))
		}
	}
}

func TestAsksForTheNameOnce(t *testing.T) {
	b := serve(t, openDesk(t, survey(t), Options{}))
	told(t, b.get("/", http.StatusOK), "Who decides?")
	b.post("/who", http.StatusUnprocessableEntity, url.Values{"name": {" \u202e "}})
	b.as("Ann Novak")
	page := b.get("/", http.StatusOK)
	if !strings.HasPrefix(b.last, "/stone?id=") {
		t.Errorf("came to %s", b.last)
	}
	told(t, page, "Ann Novak", "left to decide of")
	for _, back := range []string{"//evil.example/", "https://evil.example/", `/\evil.example`, "javascript:alert(1)"} {
		b.post("/who", http.StatusOK, url.Values{"name": {"Ann Novak"}, "back": {back}})
		if strings.Contains(b.last, "evil") || !strings.HasPrefix(b.last, "/stone") {
			t.Errorf("back to %q came to %s", back, b.last)
		}
	}
}

// TestAnEvening goes through what a person does, without a script.
func TestAnEvening(t *testing.T) {
	dir := survey(t)
	d := openDesk(t, dir, Options{})
	b := serve(t, d).as("Ann Novak")

	page := b.get("/stone?id=M-1", http.StatusOK)
	told(t, page, "Samuel Tillotson", `data-says="given name: Samuel"`, "What the design implies", "/photo?stone=M-1", "<svg", "The years", "same surname", "bits",
		`name="confirm" value="r1"`, `name="refuse" value="r1"`, `value="unsure"`, `value="none"`, "Deciding this bears on")

	// confirm, with a reason; the other stone that claims the man hears of it
	page = b.post("/decide", http.StatusOK, url.Values{"stone": {"M-1"}, "confirm": {"r1"}, "because": {"same company\r\nsame man"}})
	told(t, page, "Stone M-1: confirmed record r1.", "bears on M-4", "Undo")
	ds := decisions(t, dir)
	if len(ds) != 1 || ds[0].Because != "same company\nsame man" || ds[0].Seen == nil || ds[0].Seen.Man == "" || len(ds[0].Seen.Inputs) == 0 || ds[0].Seen.Program != "test" {
		t.Fatalf("decisions: %+v", ds)
	}
	told(t, b.get("/stone?id=M-4", http.StatusOK), "confirmed for stone <a href=\"/stone?id=M-1\">")

	// refuse: a stone with another candidate stays, and the refusal shows
	page = b.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "refuse": {"r2"}})
	told(t, page, "Stone M-2: refused record r2.")
	told(t, b.get("/stone?id=M-2", http.StatusOK), `card refused`)

	// undo, twice: the latest first
	undo := regexp.MustCompile(`name="decision" value="([^"]+)"`)
	for _, want := range []string{"M-2", "M-1"} {
		m := undo.FindStringSubmatch(b.get("/stone?id=M-3", http.StatusOK))
		page = b.post("/undo", http.StatusOK, url.Values{"decision": {m[1]}})
		told(t, page, "Taken back, on stone "+want)
	}
	if s := d.standings(); s.kinds[0] != toDecide || s.kinds[1] != toDecide {
		t.Errorf("after undoing all: %v", s.kinds)
	}

	// not sure, and back to it; none of these; undoing that brings not sure back
	b.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "whole": {"unsure"}})
	told(t, b.get("/find?state=unsure", http.StatusOK), "Left unsure", "M-2", "Left unsure (1)")
	b.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "whole": {"none"}, "because": {"wrong war"}})
	if k := d.standings().kinds[1]; k != nobody {
		t.Errorf("after none of these: %s", k)
	}
	m := undo.FindStringSubmatch(b.get("/stone?id=M-2", http.StatusOK))
	b.post("/undo", http.StatusOK, url.Values{"decision": {m[1]}})
	if k := d.standings().kinds[1]; k != leftOpen {
		t.Errorf("after undoing none of these: %s", k)
	}

	// a note
	told(t, b.post("/note", http.StatusOK, url.Values{"stone": {"M-2"}, "text": {"lichen over the <regiment>"}}), "lichen over the &lt;regiment&gt;")
	b.post("/note", http.StatusBadRequest, url.Values{"stone": {"M-2"}, "text": {"  "}})

	// find a record that was not proposed, set it beside the stone, and confirm it
	page = b.get("/find?kind=record&for=M-3&q=ostby", http.StatusOK)
	told(t, page, "<mark>Ostby</mark>", "/stone?id=M-3&amp;with=r4")
	page = b.get("/stone?id=M-3&with=r4", http.StatusOK)
	told(t, page, "brought by you", `name="confirm" value="r4"`)
	b.post("/decide", http.StatusOK, url.Values{"stone": {"M-3"}, "confirm": {"r4"}, "because": {"family bible"}})
	told(t, b.get("/stone?id=M-3", http.StatusOK), "man found", "confirmed record r4", "family bible")
	told(t, b.get("/record?id=r4", http.StatusOK), "Nels Ostby", "confirmed for this record")

	// what cannot be decided is refused and changes nothing
	n := len(decisions(t, dir))
	for _, form := range []url.Values{
		{"stone": {"M-9"}, "confirm": {"r1"}}, {"stone": {"M-1"}, "confirm": {"r99"}}, {"stone": {"M-1"}}, {"stone": {"M-1"}, "whole": {"withdrawn"}},
	} {
		status := http.StatusBadRequest
		if form.Get("stone") == "M-9" {
			status = http.StatusNotFound
		}
		b.post("/decide", status, form)
	}
	if got := len(decisions(t, dir)); got != n {
		t.Errorf("%d decisions after faulty forms, want %d", got, n)
	}
}

// TestSeveralPeople: two browsers, two names, one stone.
func TestSeveralPeople(t *testing.T) {
	dir := survey(t)
	d := openDesk(t, dir, Options{})
	ann := serve(t, d).as("Ann Novak")
	bob := newBrowser(t, ann.base).as("Bob Ødegård")
	ann.post("/decide", http.StatusOK, url.Values{"stone": {"M-1"}, "confirm": {"r1"}})
	page := bob.post("/decide", http.StatusOK, url.Values{"stone": {"M-1"}, "refuse": {"r1"}})
	told(t, page, "disputed")
	page = ann.get("/stone?id=M-1", http.StatusOK)
	told(t, page, "Ann Novak</b> confirmed record r1", "Bob Ødegård</b> refused record r1", "People decided differently")
	// one cannot take back what is the other's
	id := decisions(t, dir)[0].ID
	told(t, bob.post("/undo", http.StatusConflict, url.Values{"decision": {id}}), "Ann Novak")
	// two men for a stone that names one
	ann.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "confirm": {"r2"}})
	bob.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "confirm": {"r3"}})
	if k := d.standings().kinds[1]; k != disputed {
		t.Errorf("two men for one stone stand as %s", k)
	}
}

// TestAnotherProgram: a decision that another program writes is seen at the next request, and by the pulse of an open page.
func TestAnotherProgram(t *testing.T) {
	dir := survey(t)
	b := serve(t, openDesk(t, dir, Options{})).as("Ann")
	before := b.get("/pulse?stone=M-1", http.StatusOK)
	l, err := ledger.Open(filepath.Join(dir, ledger.FileName))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := l.Append(model.Decision{By: "Elsewhere", Stone: "M-1", Record: "r1", As: model.Confirmed}); err != nil {
		t.Fatal(err)
	}
	after := b.get("/pulse?stone=M-1", http.StatusOK)
	if before == after {
		t.Error("the pulse does not tell")
	}
	told(t, after, "Elsewhere confirmed record r1")
	told(t, b.get("/stone?id=M-1", http.StatusOK), "Elsewhere</b> confirmed record r1")
}

// TestOverlay: what a decision comes to before a new round is made agrees with the round.
func TestOverlay(t *testing.T) {
	d := openDesk(t, survey(t), Options{})
	old, _ := d.current()
	steps := []model.Decision{
		{By: "Ann", Stone: "M-1", Record: "r1", As: model.Confirmed},
		{By: "Ann", Stone: "M-2", Record: "r2", As: model.Refused},
		{By: "Ann", Stone: "M-1", As: model.NoneOfThese},
	}
	for _, x := range steps {
		if _, err := d.ledger.Append(x); err != nil {
			t.Fatal(err)
		}
		state := d.ledger.State()
		if err := d.makeRound(context.Background()); err != nil {
			t.Fatal(err)
		}
		fresh, _ := d.current()
		for i := range d.subjects {
			p, _ := old.now(i, state)
			sum := p.None
			best := ""
			for _, c := range p.Candidates {
				sum += c.Probability
				if best == "" && c.Decided != "refused" && c.Probability > 0.2 {
					best = string(c.Record)
				}
			}
			if sum < 0.999 || sum > 1.001 {
				t.Errorf("stone %s: the chances sum to %v", p.Stone, sum)
			}
			want := ""
			for _, c := range fresh.proposals[i].Candidates {
				if want == "" && c.Decided != "refused" && c.Probability > 0.2 {
					want = string(c.Record)
				}
			}
			if best != want {
				t.Errorf("after %s on %s: stone %s has %q over it, the new round %q", x.As, x.Stone, p.Stone, best, want)
			}
		}
	}
}

// TestRestart: a form of a desk that was closed since is not lost: it can be sent again.
func TestRestart(t *testing.T) {
	dir := survey(t)
	b := serve(t, openDesk(t, dir, Options{})).as("Ann")
	m := tokenIn.FindStringSubmatch(b.get("/stone?id=M-1", http.StatusOK))
	again := serve(t, openDesk(t, dir, Options{}))
	again.Jar = b.Jar
	form := url.Values{"token": {m[1]}, "stone": {"M-1"}, "confirm": {"r1"}, "because": {"as <b>said</b>"}}
	r, err := again.PostForm(again.base+"/decide", form)
	if err != nil {
		t.Fatal(err)
	}
	page := again.read(r, "/decide", http.StatusForbidden)
	told(t, page, "Not sent yet", "as &lt;b&gt;said&lt;/b&gt;", `name="confirm" value="r1"`)
	if n := len(decisions(t, dir)); n != 0 {
		t.Fatalf("%d decisions were written", n)
	}
	form.Set("token", tokenIn.FindStringSubmatch(page)[1])
	if r, err = again.PostForm(again.base+"/decide", form); err != nil {
		t.Fatal(err)
	}
	told(t, again.read(r, "/decide", http.StatusOK), "confirmed record r1")
}

func TestPlan(t *testing.T) {
	b := serve(t, openDesk(t, survey(t), Options{})).as("Ann")
	page := b.get("/plan?cemetery=Old+Mill+Cemetery", http.StatusOK)
	told(t, page, "Section A", "Row 1", "Section B", "By coordinates", "metres", `href="#k-open"`, "to decide")
	// plot 3 of row 1 is empty
	if strings.Count(page, `class="empty"`) != 1 {
		t.Errorf("%d empty plots, want 1", strings.Count(page, `class="empty"`))
	}
}

func TestNatural(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{{"2", "10", -1}, {"A2", "A10", -1}, {"a", "b", -1}, {"10", "10", 0}, {"007", "7", 0}, {"", "1", -1}, {"10a", "10", 1}} {
		if got := natural(tt.a, tt.b); got != tt.want {
			t.Errorf("natural(%q, %q) = %d, want %d", tt.a, tt.b, got, tt.want)
		}
		if got := natural(tt.b, tt.a); got != -tt.want {
			t.Errorf("natural(%q, %q) = %d, want %d", tt.b, tt.a, got, -tt.want)
		}
	}
}

// TestWordsTile: the words of a line are the line, byte for byte.
func TestWordsTile(t *testing.T) {
	for _, text := range []string{"SAML. TILLOTSON\nCO. F\n31 WIS. INF.", "", "JOHN\n\nDOE\r\n1850", "Ø É ẞ\nCO. B", "<script>"} {
		s := &model.Stone{ID: "x"}
		s.Marker.Inscription = text
		sub := job.Subject(s)
		lines, rows := inscriptionWords(s, sub.Reading())
		var got []string
		for _, l := range lines {
			line := ""
			for _, w := range l.Words {
				line += w.Text
				if w.Group > len(rows) {
					t.Errorf("%q: group %d of %d", text, w.Group, len(rows))
				}
			}
			got = append(got, line)
		}
		if want := strings.ReplaceAll(text, "\r", ""); strings.Join(got, "\n") != want {
			t.Errorf("lines %q, want %q", got, want)
		}
	}
}

// TestGoldenPages compares three pages with what they were, drawings and weights apart; UPDATE=1 writes them anew.
func TestGoldenPages(t *testing.T) {
	b := serve(t, openDesk(t, survey(t), Options{})).as("Ann Novak")
	hide := regexp.MustCompile(`(name="token" value="|\?v=)[0-9a-f]+`)
	drawings := regexp.MustCompile(`(?s)<svg xmlns.*?</svg>`)
	weights := regexp.MustCompile(`[+−-]?[0-9]+\.[0-9]+|[0-9]+%|over 99%|under 1%|x="[0-9]+" y="2" width="[0-9]+"`)
	for name, path := range map[string]string{"stone": "/stone?id=M-2", "find": "/find?q=tillotson", "plan": "/plan?cemetery=Old+Mill+Cemetery"} {
		got := hide.ReplaceAllString(b.get(path, http.StatusOK), "${1}-")
		got = weights.ReplaceAllString(drawings.ReplaceAllString(got, "<svg/>"), "#")
		golden := filepath.Join("testdata", name+".html")
		if os.Getenv("UPDATE") == "1" {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			at := 0
			for at < min(len(got), len(want)) && got[at] == want[at] {
				at++
			}
			from := max(0, at-200)
			t.Errorf("%s differs from %s; UPDATE=1 writes it anew\n got …%s\nwant …%s", path, golden, got[from:min(at+200, len(got))], string(want[from:min(at+200, len(want))]))
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
