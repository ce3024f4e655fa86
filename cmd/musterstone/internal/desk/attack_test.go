package desk

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// attack sends a request that no page of the desk would and wants it refused.
type attack struct {
	name   string
	method string
	path   string
	host   string
	header map[string]string
	body   string
	want   int
}

// TestAttacks: nothing of this list may write a decision.
func TestAttacks(t *testing.T) {
	dir := survey(t)
	d := openDesk(t, dir, Options{})
	b := serve(t, d).as("Ann")
	token := tokenIn.FindStringSubmatch(b.get("/who", http.StatusOK))[1]
	good := url.Values{"token": {token}, "stone": {"M-1"}, "confirm": {"r1"}}.Encode()
	base, _ := url.Parse(b.base)
	port := base.Port()
	form := map[string]string{"Content-Type": "application/x-www-form-urlencoded"}
	with := func(more ...string) map[string]string {
		h := map[string]string{}
		for k, v := range form {
			h[k] = v
		}
		for i := 0; i < len(more); i += 2 {
			h[more[i]] = more[i+1]
		}
		return h
	}
	attacks := []attack{
		{"a post from another site, by Origin", "POST", "/decide", "", with("Origin", "https://evil.example"), good, 403},
		{"a post from another site, by Sec-Fetch-Site", "POST", "/decide", "", with("Sec-Fetch-Site", "cross-site"), good, 403},
		{"a post from another port of this machine", "POST", "/decide", "", with("Origin", "http://127.0.0.1:1"), good, 403},
		{"a post from a page without an origin", "POST", "/decide", "", with("Origin", "null"), good, 403},
		{"a name that was bound to this machine since", "GET", "/stone?id=M-1", "evil.example:" + port, nil, "", 421},
		{"the same, posting", "POST", "/decide", "evil.example:" + port, with("Origin", "http://evil.example:"+port), good, 421},
		{"another port in Host", "GET", "/", "127.0.0.1:1", nil, "", 421},
		{"no port in Host", "GET", "/", "127.0.0.1", nil, "", 421},
		{"no token", "POST", "/decide", "", form, url.Values{"stone": {"M-1"}, "confirm": {"r1"}}.Encode(), 403},
		{"a token of another session", "POST", "/decide", "", form, url.Values{"token": {d.guard.token("0123456789abcdef0123456789abcdef")}, "stone": {"M-1"}, "confirm": {"r1"}}.Encode(), 403},
		{"a token in the address", "POST", "/decide?token=" + token, "", form, url.Values{"stone": {"M-1"}, "confirm": {"r1"}}.Encode(), 403},
		{"a decision by GET", "GET", "/decide?" + good, "", nil, "", 404},
		{"a decision by HEAD", "HEAD", "/decide?" + good, "", nil, "", 404},
		{"a decision by PUT", "PUT", "/decide", "", form, good, 405},
		{"a decision by DELETE", "DELETE", "/undo", "", form, good, 405},
		{"a form of another kind", "POST", "/decide", "", map[string]string{"Content-Type": "text/plain"}, good, 403},
		{"a form in parts", "POST", "/decide", "", map[string]string{"Content-Type": "multipart/form-data; boundary=x"}, "--x\r\nContent-Disposition: form-data; name=\"token\"\r\n\r\n" + token + "\r\n--x--\r\n", 403},
		{"an oversized form", "POST", "/decide", "", form, good + "&because=" + strings.Repeat("x", maxForm), 413},
		{"a reason longer than any", "POST", "/decide", "", form, good + "&because=" + strings.Repeat("x", maxReason+1), 413},
		{"an oversized address", "GET", "/find?q=" + strings.Repeat("x", 10<<10), "", nil, "", 414},
		{"a path up", "GET", "/../../etc/passwd", "", nil, "", 307},
		{"a path up, encoded", "GET", "/%2e%2e/%2e%2e/etc/passwd", "", nil, "", 404},
		{"the ledger by its name", "GET", "/decisions.jsonl", "", nil, "", 404},
		{"a page's source", "GET", "/page/layout.html", "", nil, "", 404},
		{"a photograph outside the survey", "GET", "/photo?stone=" + url.QueryEscape(`M-5"><script>alert(1)</script>`), "", nil, "", 404},
		{"a photograph of no stone", "GET", "/photo?stone=" + url.QueryEscape("../m1.png"), "", nil, "", 404},
		{"a decision on another's behalf", "POST", "/undo", "", form, url.Values{"token": {token}, "decision": {"20260101T000000Z-0000000000"}}.Encode(), 404},
	}
	for _, a := range attacks {
		t.Run(a.name, func(t *testing.T) {
			r, err := http.NewRequest(a.method, b.base+a.path, strings.NewReader(a.body))
			if err != nil {
				t.Fatal(err)
			}
			if a.host != "" {
				r.Host = a.host
			}
			for k, v := range a.header {
				r.Header.Set(k, v)
			}
			client := b.Client
			client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
			res, err := client.Do(r)
			if err != nil {
				t.Fatal(err)
			}
			data, _ := io.ReadAll(res.Body)
			res.Body.Close()
			if res.StatusCode != a.want {
				t.Errorf("status %d, want %d: %s", res.StatusCode, a.want, shortened(string(data)))
			}
			if bytes.Contains(data, []byte("root:")) {
				t.Error("a file of the machine was served")
			}
			if n := len(decisions(t, dir)); n != 0 {
				t.Fatalf("%d decisions were written", n)
			}
		})
	}
	// and the same form from the desk's own page goes through
	r, _ := http.NewRequest("POST", b.base+"/decide", strings.NewReader(good))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", b.base)
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	res, err := b.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	b.read(res, "/decide", http.StatusOK)
	if n := len(decisions(t, dir)); n != 1 {
		t.Errorf("%d decisions from the desk's own page, want 1", n)
	}
}

// TestHostileCells: whatever stands in a cell stands on the page as text.
func TestHostileCells(t *testing.T) {
	dir := survey(t)
	b := serve(t, openDesk(t, dir, Options{})).as(`Ann "><script>alert(8)</script>`)
	stone := `M-5"><script>alert(1)</script>`
	record := `r"><script>alert(6)</script>`
	b.post("/decide", http.StatusOK, url.Values{"stone": {stone}, "confirm": {record}, "because": {"<script>alert(9)</script>"}})
	b.post("/note", http.StatusOK, url.Values{"stone": {stone}, "text": {"</textarea><script>alert(10)</script>"}})
	for _, path := range []string{
		"/stone?id=" + url.QueryEscape(stone), "/stone?all=1&id=" + url.QueryEscape(stone), "/record?id=" + url.QueryEscape(record),
		"/find?q=cole", "/find?q=" + url.QueryEscape(`"<script>alert(11)</script>`), "/find?state=open", "/plan?cemetery=" + url.QueryEscape(`Hill <b onmouseover="alert(2)">Yard`),
		"/plan?section=%3Cscript%3E", "/pulse?stone=" + url.QueryEscape(stone), "/keys", "/stand", "/who",
	} {
		page := b.get(path, http.StatusOK)
		if strings.HasPrefix(path, "/pulse") {
			if strings.Contains(page, "<script") {
				t.Errorf("%s has markup: %s", path, page)
			}
			continue
		}
		rest := strings.Replace(page, "<script src=\"/desk.js?v="+fileVersion("desk.js")+"\" defer></script>", "", 1)
		for _, bad := range []string{"<script", "onerror=a", "ONERROR=ALERT(3)>", "onload=alert", "<b onmouseover", "<IMG", "</textarea><s", " style=\"", "href=\"javascript:"} {
			if i := strings.Index(rest, bad); i >= 0 {
				if bad == "ONERROR=ALERT(3)>" || bad == "onload=alert" || bad == "onerror=a" {
					// as text it may stand; as an attribute it would follow an open "<"
					if open := strings.LastIndex(rest[:i], "<"); open < strings.LastIndex(rest[:i], ">") {
						continue
					}
				}
				t.Errorf("%s has %q: %s", path, bad, rest[max(0, i-80):min(len(rest), i+80)])
			}
		}
	}
}

// TestHeaders: every answer says what a page may do.
func TestHeaders(t *testing.T) {
	b := serve(t, openDesk(t, survey(t), Options{})).as("Ann")
	for _, path := range []string{"/stone?id=M-1", "/desk.css", "/desk.js", "/nothing", "/pulse", "/photo?stone=M-1"} {
		r, err := b.Client.Get(b.base + path)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		csp := r.Header.Get("Content-Security-Policy")
		if !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") || r.Header.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: headers %v", path, r.Header)
		}
		for _, c := range r.Cookies() {
			if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode {
				t.Errorf("%s: cookie %v", path, c)
			}
		}
	}
}

// TestPhotographs: only files of the survey folder that are photographs by their own bytes.
func TestPhotographs(t *testing.T) {
	dir := survey(t)
	d := openDesk(t, dir, Options{})
	write := func(name, data string) string {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
		return name
	}
	link := func(name, to string) string {
		if err := os.Symlink(to, filepath.Join(dir, name)); err != nil {
			t.Skip(err)
		}
		return name
	}
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.png"), 0o644); err != nil {
		t.Log(err)
	}
	big := filepath.Join(dir, "big.png")
	if err := os.WriteFile(big, picturePNG(t), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(big, maxPhoto+1); err != nil {
		t.Fatal(err)
	}
	for name, ok := range map[string]bool{
		"m1.png": true, link("inside.png", "m1.png"): true,
		link("outside.png", "../secret.png"): false, link("absolute.png", filepath.Join(dir, "m1.png")): false, link("etc", "/etc"): false, "etc/passwd": false,
		"../secret.png": false, "/etc/passwd": false, filepath.Join(dir, "m1.png"): false, "stones.csv": false, ".": false, "": false, "nowhere.png": false,
		write("page.png", "<html><script>alert(1)</script>"): false, write("drawing.png", `<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>`): false,
		"pipe.png": false, "big.png": false, "m1.png\x00.txt": false, `..\secret.png`: false,
	} {
		p, err := d.openPhoto(name)
		if (err == nil) != ok {
			t.Errorf("photograph %q: %v, want it shown: %v", name, err, ok)
		}
		if err == nil && (p.kind != "image/png" || p.width != 60 || p.height != 90) {
			t.Errorf("photograph %q: %s, %d by %d", name, p.kind, p.width, p.height)
		}
	}
}

// TestKeyed: where other machines can reach the desk a browser needs a key, which is spent with that.
func TestKeyed(t *testing.T) {
	var keys []string
	dir := survey(t)
	d := openDesk(t, dir, Options{Keyed: true, NewKey: func(path string) { keys = append(keys, path) }})
	b := serve(t, d)
	if len(keys) != 1 {
		t.Fatalf("keys: %v", keys)
	}
	b.get("/", http.StatusForbidden)
	b.get("/photo?stone=M-1", http.StatusForbidden)
	b.get("/?key=00000000000000000000000000000000", http.StatusForbidden)
	b.get(keys[0], http.StatusOK)
	b.get("/plan", http.StatusOK)
	other := newBrowser(t, b.base)
	other.get(keys[0], http.StatusForbidden) // spent
	if len(keys) != 2 || keys[0] == keys[1] {
		t.Fatalf("keys: %v", keys)
	}
	other.get(keys[1], http.StatusOK)
	b.get("/plan", http.StatusOK)
}

func TestHosts(t *testing.T) {
	for _, tt := range []struct {
		addr string
		want []string
	}{
		{"127.0.0.1:8000", []string{"127.0.0.1:8000", "localhost:8000", "[::1]:8000"}},
		{"[::1]:8000", []string{"[::1]:8000", "localhost:8000"}},
		{"192.0.2.7:80", []string{"192.0.2.7:80", "192.0.2.7"}},
	} {
		a, err := net.ResolveTCPAddr("tcp", tt.addr)
		if err != nil {
			t.Fatal(err)
		}
		got := strings.Join(Hosts(a), " ")
		for _, w := range tt.want {
			if !strings.Contains(" "+got+" ", " "+w+" ") {
				t.Errorf("Hosts(%s) = %s, want %s among them", tt.addr, got, w)
			}
		}
		if strings.Contains(tt.addr, "192") && strings.Contains(got, "localhost") {
			t.Errorf("Hosts(%s) = %s", tt.addr, got)
		}
	}
}

// TestSlowClients: those who send a byte now and then, or nothing, are let go and keep nobody else from the desk; and the desk stops while one hangs on.
func TestSlowClients(t *testing.T) {
	if testing.Short() {
		t.Skip("waits for the time limits of the server")
	}
	d := openDesk(t, survey(t), Options{})
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	d.guard.hosts = Hosts(l.Addr())
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- d.Serve(ctx, l) }()
	var slow []net.Conn
	for range 40 {
		c, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		fmt.Fprintf(c, "GET / HTTP/1.1\r\nHost: %s\r\nX-Slow: ", l.Addr())
		slow = append(slow, c)
	}
	go func() {
		for range 100 {
			for _, c := range slow {
				c.Write([]byte("x"))
			}
			time.Sleep(200 * time.Millisecond)
		}
	}()
	start := time.Now()
	b := newBrowser(t, "http://"+l.Addr().String())
	b.get("/who", http.StatusOK)
	if d := time.Since(start); d > 2*time.Second {
		t.Errorf("a page took %v while slow clients hung on", d)
	}
	slow[0].SetReadDeadline(time.Now().Add(headTime + 3*time.Second))
	if _, err := bufio.NewReader(slow[0]).ReadByte(); err == nil {
		// an answer, such as 408, is as good as an end
		t.Log("a slow client was answered")
	} else if os.IsTimeout(err) {
		t.Errorf("a slow client was kept longer than %v", headTime+3*time.Second)
	}
	c, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	stop()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(stopTime + 3*time.Second):
		t.Error("the desk does not stop while a client hangs on")
	}
}
