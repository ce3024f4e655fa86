package desk

import (
	"bufio"
	"context"
	"fmt"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"musterstone/cmd/musterstone/internal/job"
)

// The test binary is its own desk: with DESK_FOLDER set it serves that survey at DESK_LISTEN, so that it can be killed.
func TestMain(m *testing.M) {
	if dir := os.Getenv("DESK_FOLDER"); dir != "" {
		if err := serveAlone(dir, os.Getenv("DESK_LISTEN")); err != nil {
			fmt.Println("error:", err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

func serveAlone(dir, listen string) error {
	j, err := job.Open(dir, job.Options{Program: "test"})
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", listen)
	if err != nil {
		return err
	}
	d, err := New(context.Background(), j, Options{Program: "test", Hosts: Hosts(l.Addr())})
	if err != nil {
		return err
	}
	fmt.Println(l.Addr())
	return d.Serve(context.Background(), l)
}

// process is a desk in a process of its own.
type process struct {
	cmd  *exec.Cmd
	addr string
}

func startProcess(t *testing.T, dir, listen string) *process {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "DESK_FOLDER="+dir, "DESK_LISTEN="+listen)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	p := &process{cmd: c}
	t.Cleanup(p.kill)
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || strings.HasPrefix(line, "error") {
		t.Fatalf("the desk did not start: %v %s", err, line)
	}
	p.addr = strings.TrimSpace(line)
	return p
}

// kill ends the process at once, as a power cut would.
func (p *process) kill() {
	p.cmd.Process.Kill()
	p.cmd.Wait()
}

// chromium is where the browser is; the test is skipped where there is none, unless outside checks are mandatory.
func chromium(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser is slow to start")
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("MUSTERSTONE_OUTSIDE") == "1" {
		t.Fatal("chromium is not installed, and outside checks are mandatory")
	}
	t.Skip("chromium is not installed")
	return ""
}

// tab is a tab of a real browser.
type tab struct {
	t    *testing.T
	ctx  context.Context
	base string

	mu      sync.Mutex
	foreign []string // requests to other hosts
	faults  []string // what the browser's console complains of
}

// openBrowserTab starts a browser and gives its first tab.
func openBrowserTab(t *testing.T, base string) *tab {
	t.Helper()
	profile, err := os.MkdirTemp("", "desk-browser")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(profile) }) // a browser that is still closing may hold on to some of it
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium(t)), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.UserDataDir(profile), chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-sync", true), chromedp.WSURLReadTimeout(60*time.Second))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(func() {
		chromedp.Cancel(ctx)
		cancel()
	})
	ctx, cancelTime := context.WithTimeout(ctx, 3*time.Minute)
	t.Cleanup(cancelTime)
	b := &tab{t: t, ctx: ctx, base: base}
	b.listen()
	return b
}

// another opens another tab of the same browser.
func (b *tab) another() *tab {
	ctx, cancel := chromedp.NewContext(b.ctx)
	b.t.Cleanup(cancel)
	n := &tab{t: b.t, ctx: ctx, base: b.base}
	n.listen()
	return n
}

func (b *tab) listen() {
	chromedp.ListenTarget(b.ctx, func(ev any) {
		b.mu.Lock()
		defer b.mu.Unlock()
		switch e := ev.(type) {
		case *network.EventRequestWillBeSent:
			if u := e.Request.URL; !strings.HasPrefix(u, b.base+"/") && !strings.HasPrefix(u, "data:") { // the browser's own page of errors has data
				b.foreign = append(b.foreign, u)
			}
		case *log.EventEntryAdded:
			if e.Entry.Level == log.LevelError && !strings.Contains(e.Entry.Text, "ERR_CONNECTION") && !strings.Contains(e.Entry.Text, "403 (Forbidden)") {
				b.faults = append(b.faults, e.Entry.Text+" "+e.Entry.URL)
			}
		}
	})
	b.run(network.Enable(), log.Enable())
}

func (b *tab) run(actions ...chromedp.Action) {
	b.t.Helper()
	if err := chromedp.Run(b.ctx, actions...); err != nil {
		b.t.Fatal(err)
	}
}

// open goes to a page and waits until its keys are awake.
func (b *tab) open(path string) {
	b.t.Helper()
	b.run(chromedp.Navigate(b.base + path))
	b.awake()
}

// look goes to a page without waiting for its keys.
func (b *tab) look(path string) {
	b.t.Helper()
	b.run(chromedp.Navigate(b.base+path), chromedp.WaitReady("main"))
}

func (b *tab) awake() {
	b.t.Helper()
	b.run(chromedp.WaitReady("main"), chromedp.Sleep(350*time.Millisecond))
}

// press presses keys, one after the other; a longer word is typed. A single letter goes down as a keyboard sends it, so that a page can keep it from
// being typed.
func (b *tab) press(keys ...string) {
	b.t.Helper()
	for _, k := range keys {
		if len(k) == 1 && k > " " && k <= "~" {
			b.run(input.DispatchKeyEvent(input.KeyDown).WithKey(k).WithText(k), input.DispatchKeyEvent(input.KeyUp).WithKey(k))
			continue
		}
		b.run(chromedp.KeyEvent(k))
	}
}

// sees waits until the page says something.
func (b *tab) sees(texts ...string) {
	b.t.Helper()
	for _, text := range texts {
		var body string
		for start := time.Now(); ; {
			// while the page changes there is no body to ask
			if err := chromedp.Run(b.ctx, chromedp.Evaluate(`document.body ? document.body.innerText : ""`, &body)); err == nil && strings.Contains(body, text) {
				break
			}
			if time.Since(start) > 8*time.Second {
				b.t.Fatalf("the page does not say %q:\n%s", text, body)
			}
			time.Sleep(50 * time.Millisecond)
		}
	}
	b.awake()
}

func (b *tab) eval(js string) string {
	b.t.Helper()
	var out string
	b.run(chromedp.Evaluate("String("+js+")", &out))
	return out
}

// tabTo presses Tab until what has the focus answers to the selector.
func (b *tab) tabTo(selector string) {
	b.t.Helper()
	for range 80 {
		if b.eval(fmt.Sprintf("document.activeElement.matches(%q)", selector)) == "true" {
			return
		}
		b.press(kb.Tab)
	}
	b.t.Fatalf("Tab does not come to %s", selector)
}

// TestEveningByKeyboard is an evening's work in a real browser, from the keyboard alone.
func TestEveningByKeyboard(t *testing.T) {
	chromium(t)
	dir := survey(t)
	p := startProcess(t, dir, "127.0.0.1:0")
	b := openBrowserTab(t, "http://"+p.addr)

	// a name, once
	b.open("/")
	b.tabTo("#name")
	b.press("Ann Novak", kb.Enter)
	b.sees("Ann Novak", "left to decide of")

	// words that gave a field are marked with it when one of them has the focus, or the pointer over it
	b.open("/stone?id=M-1")
	b.tabTo(".inscription .w")
	marked := `[...document.querySelectorAll(".reading .w, .reading .f")].filter(e => getComputedStyle(e).backgroundColor !== "rgba(0, 0, 0, 0)").map(e => e.textContent.trim().split(/\s+/)[0]).join(" ")`
	if got := b.eval(marked); got != "SAML given" {
		t.Errorf("with the focus on the first word these are marked: %q", got)
	}
	b.run(chromedp.Evaluate(`document.activeElement.blur()`, nil))
	var at []float64
	b.run(chromedp.Evaluate(`(() => { const f = document.querySelector(".fields .g2"); f.scrollIntoView({ block: "center" }); const r = f.getBoundingClientRect(); return [r.x + 5, r.y + 5]; })()`, &at))
	b.run(chromedp.MouseEvent(input.MouseMoved, at[0], at[1]), chromedp.Sleep(100*time.Millisecond))
	if got := b.eval(marked); got != "TILLOTSON surnameTillotsonTILLOTSON" {
		t.Errorf("with the pointer on the surname these are marked: %q", got)
	}
	b.open("/")

	// confirm the surest, undo, and do it again with a reason
	first := b.eval(`document.body.dataset.stone`)
	b.press("c")
	b.sees("Stone " + first + ": confirmed record")
	b.press("z")
	b.sees("Taken back, on stone " + first)
	b.press("b")
	b.press("crisp", kb.Escape)
	b.press("c")
	b.sees("Stone " + first + ": confirmed record")
	if d := decisions(t, dir); d[len(d)-1].Because != "crisp" {
		t.Errorf("the reason is lost: %+v", d[len(d)-1])
	}

	// refuse, not sure, none of these
	b.open("/stone?id=M-2")
	b.press("r")
	b.sees("Stone M-2: refused record")
	b.open("/stone?id=M-2")
	b.press("s")
	b.sees("Stone M-2: not sure")
	b.press("u")
	b.sees("Left unsure", "M-2")
	b.tabTo(`a[href="/stone?id=M-2"]`)
	b.press(kb.Enter)
	b.sees("left unsure")
	b.press("n")
	b.sees("Stone M-2: none of the records")

	// a note
	b.open("/stone?id=M-3")
	b.press("m")
	b.press("broken at the foot", kb.Tab, kb.Enter)
	b.sees("Noted on stone M-3", "broken at the foot")

	// search, and propose a record that the program did not
	b.press("/")
	b.sees("Looking for a record for stone M-3")
	b.press("ostby", kb.Enter)
	b.sees("Set beside stone M-3")
	b.tabTo("a.bring")
	b.press(kb.Enter)
	b.sees("brought by you")
	b.press("c")
	b.sees("Stone M-3: confirmed record r4")

	// a number chooses a card
	b.open("/stone?id=M-2&all=1")
	b.press("2")
	if got := b.eval(`document.activeElement.dataset.n`); got != "2" {
		t.Errorf("the key 2 chose card %s", got)
	}
	record := b.eval(`document.activeElement.querySelector("button[name=confirm]").value`)
	b.press("c")
	b.sees("Stone M-2: confirmed record " + record)

	// two tabs: what one decides, the other hears, and a key held down or typed into a box decides nothing
	other := b.another()
	b.open("/stone?id=M-1")
	other.open("/stone?id=M-1")
	n := len(decisions(t, dir))
	other.press("b")
	other.press("czrsn", kb.Escape)
	if got := len(decisions(t, dir)); got != n {
		t.Errorf("typing a reason decided something: %d decisions, want %d", got, n)
	}
	other.press("n")
	other.sees("none of the records")
	b.run(chromedp.Evaluate(`document.dispatchEvent(new Event("visibilitychange"))`, nil), chromedp.Evaluate(`window.dispatchEvent(new Event("visibilitychange"))`, nil))
	b.sees("Meanwhile, elsewhere: Ann Novak holds that none of the records is his")

	// a reload in the middle, of the page that a decision led to, decides nothing again
	other.press("z")
	other.sees("Taken back")
	n = len(decisions(t, dir))
	other.run(chromedp.Reload())
	other.awake()
	if got := len(decisions(t, dir)); got != n {
		t.Errorf("a reload wrote a decision: %d, want %d", got, n)
	}

	// the desk is killed, and opened anew at the same address: everything is there, and a page from before can still be sent
	b.open("/stone?id=M-4")
	want := decisions(t, dir)
	p.kill()
	b.press("c")
	time.Sleep(300 * time.Millisecond)
	startProcess(t, dir, p.addr)
	got := decisions(t, dir)
	if len(got) != len(want) {
		t.Fatalf("%d decisions after the kill, want %d", len(got), len(want))
	}
	b.open("/stone?id=M-4")
	b.run(chromedp.Evaluate(`document.querySelector("#decision input[name=token]").value = "0".repeat(64)`, nil)) // as on a page from before
	b.press("b")
	b.press("seen at the grave", kb.Escape)
	b.press("s")
	b.sees("Not sent yet", "seen at the grave")
	b.tabTo("main button")
	b.press(kb.Enter)
	b.sees("Stone M-4: not sure")
	if d := decisions(t, dir); d[len(d)-1].Because != "seen at the grave" || len(d) != len(want)+1 {
		t.Errorf("after the restart: %d decisions, the last %+v", len(d), d[len(d)-1])
	}
	for _, x := range []*tab{b, other} {
		x.mu.Lock()
		if len(x.foreign) > 0 {
			t.Errorf("requests to other hosts: %v", x.foreign)
		}
		if len(x.faults) > 0 {
			t.Errorf("the browser complains: %v", x.faults)
		}
		x.mu.Unlock()
	}
}

// TestWithoutScript: the same forms and links do it with the script switched off.
func TestWithoutScript(t *testing.T) {
	chromium(t)
	dir := survey(t)
	p := startProcess(t, dir, "127.0.0.1:0")
	b := openBrowserTab(t, "http://"+p.addr)
	b.run(emulation.SetScriptExecutionDisabled(true))
	b.open("/")
	b.run(chromedp.SendKeys("#name", "Ann Novak"+kb.Enter), chromedp.WaitVisible(".card"), chromedp.Click(`.card button[name=confirm]`), chromedp.WaitVisible("#undo"))
	if n := len(decisions(t, dir)); n != 1 {
		t.Fatalf("%d decisions by one click, want 1", n)
	}
	b.run(chromedp.Click("#undo"), chromedp.Sleep(500*time.Millisecond))
	if d := decisions(t, dir); len(d) != 2 || d[1].As != "withdrawn" {
		t.Errorf("after undoing by a click: %+v", d)
	}
	for _, whole := range []string{"unsure", "none"} {
		b.open("/stone?id=M-2")
		b.run(chromedp.Click(`button[value=`+whole+`]`), chromedp.Sleep(400*time.Millisecond))
	}
	b.open("/stone?id=M-4")
	b.run(chromedp.Click(`.card button[name=refuse]`), chromedp.Sleep(400*time.Millisecond))
	if n := len(decisions(t, dir)); n != 5 {
		t.Errorf("%d decisions, want 5", n)
	}
}

// pagesToLookAt are the pages that the checks of the next tests go through.
var pagesToLookAt = []string{"/who", "/stone?id=M-1", "/stone?id=M-2&all=1", "/stone?id=M-3&with=r4", "/record?id=r1", "/find?q=tillotson", "/find?kind=record&for=M-3&q=ostby", "/find?state=unsure",
	"/plan?cemetery=Old+Mill+Cemetery", "/keys", "/stand", "/nothing-there", "/stone?id=" + url.QueryEscape(`M-5"><script>alert(1)</script>`)}

// screens are the widths and themes; 640 points at a double scale is a screen of 1280 at 200% zoom.
var screens = []struct {
	name          string
	width, height int64
	scale         float64
	theme         string
}{
	{"wide light", 1280, 900, 1, "light"}, {"wide dark", 1280, 900, 1, "dark"}, {"tablet light", 820, 1100, 1, "light"}, {"phone light", 390, 800, 2, "light"}, {"phone dark", 390, 800, 2, "dark"},
	{"200% zoom", 640, 450, 2, "light"}, {"narrowest", 320, 640, 2, "light"},
}

func (b *tab) screen(width, height int64, scale float64, theme string) {
	b.t.Helper()
	b.run(emulation.SetDeviceMetricsOverride(width, height, scale, false),
		emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: theme}}))
}

// aDeskToLookAt has a bit of everything on it.
func aDeskToLookAt(t *testing.T) *tab {
	dir := survey(t)
	d := openDesk(t, dir, Options{})
	ann := serve(t, d).as("Ann Novak")
	bob := newBrowser(t, ann.base).as("Bob Lind")
	ann.post("/decide", 200, url.Values{"stone": {"M-1"}, "confirm": {"r1"}, "because": {"same company"}})
	bob.post("/decide", 200, url.Values{"stone": {"M-1"}, "refuse": {"r1"}})
	ann.post("/decide", 200, url.Values{"stone": {"M-2"}, "whole": {"unsure"}})
	ann.post("/note", 200, url.Values{"stone": {"M-2"}, "text": {"look again in low sun"}})
	b := openBrowserTab(t, ann.base)
	b.open("/who")
	b.run(chromedp.SendKeys("#name", "Ann Novak"+kb.Enter), chromedp.WaitVisible("main"))
	b.awake()
	return b
}

// TestPagesHoldStill: on no screen does a page need to be scrolled sideways, nor does anything move after the first paint.
func TestPagesHoldStill(t *testing.T) {
	chromium(t)
	b := aDeskToLookAt(t)
	for _, s := range screens {
		if s.name == "wide dark" || s.name == "phone light" { // a theme moves nothing
			continue
		}
		b.screen(s.width, s.height, s.scale, s.theme)
		for _, path := range pagesToLookAt {
			b.look(path)
			if wide := b.eval(`document.documentElement.scrollWidth - innerWidth`); strings.TrimPrefix(wide, "-") == wide && wide != "0" {
				t.Errorf("%s, %s: %s points too wide: %s", s.name, path, wide, b.eval(`[...document.querySelectorAll("main *")].filter(e => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest(".wide")).slice(0, 3).map(e => e.outerHTML.slice(0, 120))`))
			}
			var shifts []string
			for range 3 { // a browser that is short of processor time paints a page that it still reads: what moves, moves at every look
				shifts = nil
				b.run(chromedp.Evaluate(`new Promise(done => { const n = []; new PerformanceObserver(l => { for (const e of l.getEntries()) n.push(e.value + " at " + e.startTime + ": " + e.sources.map(s => (s.node && s.node.outerHTML || "text").slice(0, 120) + JSON.stringify([s.previousRect, s.currentRect]))); }).observe({ type: "layout-shift", buffered: true }); setTimeout(() => done(n), 200); })`,
					&shifts, awaiting))
				if len(shifts) == 0 {
					break
				}
				b.look(path)
			}
			for _, shift := range shifts {
				t.Errorf("%s, %s: the layout shifts by %v", s.name, path, shift)
			}
		}
	}
}

// TestAccessible runs axe-core over every page in both themes, and on a phone.
func TestAccessible(t *testing.T) {
	chromium(t)
	folder := os.Getenv("MUSTERSTONE_NODE")
	axe, err := os.ReadFile(filepath.Join(folder, "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		if os.Getenv("MUSTERSTONE_OUTSIDE") == "1" {
			t.Fatalf("axe-core is not there, and outside checks are mandatory: %v", err)
		}
		t.Skip("axe-core is not installed; MUSTERSTONE_NODE names the folder with its node_modules")
	}
	b := aDeskToLookAt(t)
	for _, s := range screens {
		if os.Getenv("MUSTERSTONE_OUTSIDE") != "1" && s.name != "wide light" && s.name != "phone dark" { // all of them where it may take long
			continue
		}
		b.screen(s.width, s.height, s.scale, s.theme)
		for _, path := range pagesToLookAt {
			b.look(path)
			b.run(chromedp.Evaluate(`for (const d of document.querySelectorAll("details")) d.open = true`, nil), chromedp.Evaluate(string(axe)+";0", nil))
			var found []string
			b.run(chromedp.Evaluate(`axe.run(document, { resultTypes: ["violations"] }).then(r => r.violations.flatMap(v => v.nodes.map(n => v.id + ": " + n.html.slice(0, 160) + " | " + (n.failureSummary || "").slice(0, 300))))`, &found, awaiting))
			for _, f := range found {
				t.Errorf("%s, %s: %s", s.name, path, f)
			}
		}
	}
}

// awaiting waits for a promise of the page.
func awaiting(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }
