package main

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/log"
	cdp "github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"musterstone/cmd/musterstone/internal/demo"
	"musterstone/vocab/rdf"
)

// plainHost serves a folder as a host of plain files does, with the content type by the ending of the name (as the IANA's list of media types has it).
func plainHost(dir string) http.Handler {
	types := map[string]string{".ttl": "text/turtle", ".nt": "application/n-triples", ".nq": "application/n-quads", ".jsonld": "application/ld+json", ".html": "text/html; charset=utf-8", ".css": "text/css"}
	files := http.FileServer(http.Dir(dir))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if t := types[path.Ext(r.URL.Path)]; t != "" {
			w.Header().Set("Content-Type", t)
		}
		files.ServeHTTP(w, r)
	})
}

// sitePage is what the browser makes of a page: every address as it resolved it, the places in it, and its alternates.
type sitePage struct {
	Links      []string    `json:"links"`
	IDs        []string    `json:"ids"`
	Alternates [][2]string `json:"alternates"` // address and media type
	Canonical  string      `json:"canonical"`
	Schema     []string    `json:"schema"` // the context and type of each piece of JSON-LD in the page; "" where it is no JSON
	Wide       int         `json:"wide"`   // how wide it is, in pixels of the style sheet
}

const readSitePage = `(() => {
	const all = s => [...document.querySelectorAll(s)]
	const schema = all('script[type="application/ld+json"]').map(e => { try { const x = JSON.parse(e.textContent); return x["@context"] + " " + x["@type"] } catch { return "" } })
	const canonical = document.querySelector('link[rel=canonical]')
	return {links: all('[href]').map(e => e.href).concat(all('[src]').map(e => e.src)), ids: all('[id]').map(e => e.id),
		alternates: all('link[rel=alternate]').map(e => [e.href, e.type]), canonical: canonical ? canonical.href : "", schema,
		wide: document.documentElement.scrollWidth}
})()`

// fetchAll has the browser fetch addresses, and gives the status and content type of each.
const fetchAll = `(async list => {
	const out = []
	for (const u of list) { const r = await fetch(u); await r.arrayBuffer(); out.push(r.status + " " + r.headers.get("content-type")) }
	return out
})`

// TestSiteInBrowser walks the pages of the demo's publication in Chromium: every address on them, as the browser resolves it, leads somewhere, to the place in
// the page that it names; every name under the base that the data have leads to its page; alternates are what they are said to be; no page is wider than a phone; nothing comes from
// elsewhere, and the console is silent. Some pages of each kind are opened, more with MUSTERSTONE_OUTSIDE=1, and every address is fetched.
func TestSiteInBrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("walks many pages")
	}
	chromium := outside(t, "chromium")
	most := 3 // pages of a kind
	if os.Getenv("MUSTERSTONE_OUTSIDE") == "1" {
		most = 12
	}
	survey, out := filepath.Join(t.TempDir(), "alder"), filepath.Join(t.TempDir(), "out")
	if err := demo.Lay(survey); err != nil {
		t.Fatal(err)
	}
	mux := http.NewServeMux()
	server := httptest.NewServer(mux)
	defer server.Close()
	base := server.URL + "/alder/"
	metadata := filepath.Join(survey, "csv-metadata.json")
	text, err := os.ReadFile(metadata)
	if err != nil {
		t.Fatal(err)
	}
	const was = `"https://example.org/alder-county/"`
	if !bytes.Contains(text, []byte(was)) {
		t.Fatalf("the demo's metadata have no base %s", was)
	}
	if err := os.WriteFile(metadata, bytes.ReplaceAll(text, []byte(was), fmt.Appendf(nil, "%q", base)), 0o666); err != nil {
		t.Fatal(err)
	}
	command(t, "decide", "--survey", survey, "--stone", "OM-01", "--record", "U020", "--as", "confirmed", "--by", "Ann Novak", "--because", "same company")
	command(t, "decide", "--survey", survey, "--stone", "OM-02", "--as", "none", "--by", "Ann Novak")
	command(t, "publish", "--survey", survey, "--jsonld", out)
	mux.Handle("/alder/", http.StripPrefix("/alder/", plainHost(out)))

	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.WSURLReadTimeout(time.Minute))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	defer stop()
	ctx, cancel := chromedp.NewContext(alloc)
	defer cancel()
	ctx, done := context.WithTimeout(ctx, 5*time.Minute)
	defer done()
	var faults []string
	chromedp.ListenTarget(ctx, func(ev any) {
		if e, ok := ev.(*log.EventEntryAdded); ok && !strings.HasSuffix(e.Entry.URL, "/favicon.ico") {
			faults = append(faults, e.Entry.Text+" "+e.Entry.URL)
		}
	})
	run := func(actions ...chromedp.Action) {
		t.Helper()
		if err := chromedp.Run(ctx, actions...); err != nil {
			t.Fatal(err)
		}
	}
	const phone = 390
	run(log.Enable(), chromedp.EmulateViewport(phone, 844, chromedp.EmulateMobile))

	// The names that the data have, beside the addresses that the pages have; where each was met first.
	from := map[string]string{}
	names := 0
	for tr, err := range rdf.Described(out) {
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []rdf.Term{tr.Subj, tr.Pred, tr.Obj} {
			if iri, ok := x.(rdf.IRI); ok && strings.HasPrefix(iri.String(), base) && from[iri.String()] == "" {
				from[iri.String()] = "the data, at " + tr.Subj.String()
				names++
			}
		}
	}
	ids := map[string][]string{} // of pages opened
	kinds := map[string]int{}
	opened := map[string]bool{}
	queue := []string{base, base + "vocabulary.html"}
	for len(queue) > 0 {
		address := queue[0]
		queue = queue[1:]
		if opened[address] {
			continue
		}
		opened[address] = true
		kind, _, _ := strings.Cut(strings.TrimPrefix(address, base+"id/"), "-")
		if kinds[kind]++; kinds[kind] > most {
			continue
		}
		var p sitePage
		run(chromedp.Navigate(address), chromedp.WaitReady("main"), chromedp.Evaluate(readSitePage, &p))
		ids[address] = p.IDs
		if p.Wide > phone {
			t.Errorf("%s: %d pixels wide on a phone of %d", address, p.Wide, phone)
		}
		for _, a := range p.Alternates {
			if from[a[0]] == "" {
				from[a[0]] = address
			}
			if want := map[string]string{".ttl": "text/turtle", ".jsonld": "application/ld+json"}[path.Ext(a[0])]; a[1] != want {
				t.Errorf("%s: alternate %s is said to be %q", address, a[0], a[1])
			}
		}
		if strings.Contains(address, "/id/") {
			if len(p.Alternates) != 2 || p.Canonical+"/index.html" != address || from[p.Canonical] == "" {
				t.Errorf("%s: %d alternates, canonical %s", address, len(p.Alternates), p.Canonical)
			}
			if kind == "marker" && !slices.Equal(p.Schema, []string{"https://schema.org CreativeWork"}) || kind == "person" && !slices.Equal(p.Schema, []string{"https://schema.org Person"}) {
				t.Errorf("%s: JSON-LD in the page: %q", address, p.Schema)
			}
		}
		for _, l := range p.Links {
			if !strings.HasPrefix(l, base) {
				if !strings.HasPrefix(l, "https://") && !strings.HasPrefix(l, "http://") {
					t.Errorf("%s: a link to %s", address, l)
				}
				continue
			}
			if from[l] == "" {
				from[l] = address
			}
			if page, _, _ := strings.Cut(l, "#"); strings.HasSuffix(page, ".html") {
				queue = append(queue, page)
			}
		}
	}

	// Every address, without its place in the page, once.
	var addresses []string
	for a := range from {
		page, _, _ := strings.Cut(a, "#")
		addresses = append(addresses, page)
	}
	slices.Sort(addresses)
	addresses = slices.Compact(addresses)
	types := map[string]string{".ttl": "text/turtle", ".jsonld": "application/ld+json", ".nt": "application/n-triples", ".nq": "application/n-quads", ".html": "text/html; charset=utf-8", "": "text/html; charset=utf-8"}
	for part := range slices.Chunk(addresses, 100) {
		var got []string
		script := fmt.Sprintf("%s(%s)", fetchAll, strings.ReplaceAll(fmt.Sprintf("%q", part), `" "`, `","`))
		run(chromedp.Evaluate(script, &got, func(p *cdp.EvaluateParams) *cdp.EvaluateParams { return p.WithAwaitPromise(true) }))
		for i, a := range part {
			ext := path.Ext(a)
			want, known := types[ext]
			if strings.Contains(a, "/column/") && ext != ".html" && ext != ".ttl" && ext != ".jsonld" {
				want, known = types[""], true // the folder of a file's columns
			}
			if !strings.HasPrefix(got[i], "200 ") || known && got[i] != "200 "+want {
				t.Errorf("%s is %s", a, got[i])
			}
		}
	}
	// Places in pages that were opened.
	places := 0
	for a, where := range from {
		page, place, has := strings.Cut(a, "#")
		if !has {
			continue
		}
		if !strings.HasSuffix(page, ".html") {
			page += "/index.html"
		}
		have, open := ids[page]
		if !open {
			continue
		}
		places++
		// A name of a column holds percent signs, which a browser decodes or takes as they are.
		if !slices.Contains(have, place) {
			var found bool
			run(chromedp.Navigate(a), chromedp.Evaluate("document.querySelector(':target') !== null", &found))
			if !found {
				t.Errorf("%s, in %s: there is no such place", a, where)
			}
		}
	}
	for _, f := range faults {
		t.Errorf("the console: %s", f)
	}
	t.Logf("%d pages opened, %d addresses fetched, %d places found, %d names in the data", len(ids), len(addresses), places, names)
	if len(ids) < 15 || len(addresses) < 500 || places < 50 || names < 1000 {
		t.Errorf("%d pages, %d addresses, %d places and %d names are too few to tell", len(ids), len(addresses), places, names)
	}
}

// onAPhone is a browser with a phone's screen, 360 pixels wide and 740 high, for a minute.
func onAPhone(t *testing.T) context.Context {
	chromium := outside(t, "chromium")
	allocator, end := chromedp.NewExecAllocator(t.Context(), append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.NoSandbox)...)
	t.Cleanup(end)
	tab, endTab := chromedp.NewContext(allocator)
	t.Cleanup(endTab)
	ctx, cancel := context.WithTimeout(tab, time.Minute)
	t.Cleanup(cancel)
	if err := chromedp.Run(ctx, chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile)); err != nil {
		t.Fatal(err)
	}
	return ctx
}

// TestGuideOnAPhone: on a phone's screen the field guide is one column, in letters and drawings that can be made out, and no wider than the screen.
func TestGuideOnAPhone(t *testing.T) {
	ctx := onAPhone(t)
	file := filepath.Join(t.TempDir(), "guide.html")
	if err := os.WriteFile(file, []byte(command(t, "patterns", "--html")), 0o666); err != nil {
		t.Fatal(err)
	}
	var is struct{ Wide, Text, Drawing, Columns float64 }
	if err := chromedp.Run(ctx, chromedp.Navigate("file://"+file), chromedp.Evaluate(`(() => {
		const style = s => getComputedStyle(document.querySelector(s))
		return {wide: document.documentElement.scrollWidth, text: parseFloat(style("section p.e").fontSize), drawing: document.querySelector("figure svg").getBoundingClientRect().width,
			columns: parseFloat(style(".steps").columnCount) || 1}
	})()`, &is)); err != nil {
		t.Fatal(err)
	}
	if is.Wide > 360 || is.Text < 16 || is.Drawing < 90 || is.Columns != 1 {
		t.Errorf("%g pixels wide, letters of %g, drawings of %g, columns %g; want at most 360, at least 16 and 90, and 1", is.Wide, is.Text, is.Drawing, is.Columns)
	}
}

// TestPaperOnAPhone: the report and a dossier, made to be printed, are no wider than a phone either.
func TestPaperOnAPhone(t *testing.T) {
	ctx := onAPhone(t)
	dir := t.TempDir()
	survey := filepath.Join(dir, "alder")
	if err := demo.Lay(survey); err != nil {
		t.Fatal(err)
	}
	command(t, "unmarked", "--survey", survey, "--as", "html", "--out", filepath.Join(dir, "report.html"))
	command(t, "dossier", "--survey", survey, "--stone", "OM-14", filepath.Join(dir, "bardwell"))
	for _, page := range []string{"report.html", filepath.Join("bardwell", "dossier.html")} {
		var wide, tall int
		if err := chromedp.Run(ctx, chromedp.Navigate("file://"+filepath.Join(dir, page)),
			chromedp.Evaluate("document.documentElement.scrollWidth", &wide), chromedp.Evaluate("document.documentElement.scrollHeight", &tall)); err != nil {
			t.Fatal(err)
		}
		if wide > 360 || tall < 740 {
			t.Errorf("%s is %d pixels wide on a phone of 360, and %d high", page, wide, tall)
		}
	}
}
