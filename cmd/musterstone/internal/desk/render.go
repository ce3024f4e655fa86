package desk

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"strings"
	"sync"
	"time"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/ledger"
	"musterstone/model"
	"musterstone/vocab"
)

//go:embed page
var files embed.FS

// pageNames are the pages; each is laid out by page/layout.html and may use page/parts.html.
var pageNames = []string{"stone", "record", "find", "plan", "keys", "who", "done", "stale", "fault"}

// parsePages parses every page, so that a faulty one shows when the desk is opened.
func parsePages() (map[string]*template.Template, error) {
	pages := map[string]*template.Template{}
	for _, name := range pageNames {
		t, err := template.New("layout.html").Funcs(funcs).ParseFS(files, "page/layout.html", "page/parts.html", "page/"+name+".html")
		if err != nil {
			return nil, fmt.Errorf("parse the page %s: %w", name, err)
		}
		pages[name] = t
	}
	return pages, nil
}

// funcs are what the pages can call.
var funcs = template.FuncMap{
	"percent": vocab.Percent,
	"bits":    func(b float64) string { return strings.Replace(fmt.Sprintf("%+.1f", b), "-", "−", 1) },
	"day":     func(t time.Time) string { return t.Local().Format("2 January 2006, 15:04") },
	"count":   say.Count,
	"field":   say.Field,
	"version": fileVersion,
	"marks":   marks,
	"verdict": verdictWords,
	"minus":   func(a, b int) int { return a - b },
	"maxName": func() int { return maxName }, "maxReason": func() int { return maxReason },
}

// wrong is a request that cannot be answered, with the status and the words that say why.
type wrong struct {
	status int
	text   string
}

func (w *wrong) Error() string { return w.text }

// chrome is what every page shows around its own matter.
type chrome struct {
	Title    string // of the page
	Survey   string
	Here     string // which part of the navigation this is
	Token    string
	Reviewer string
	Keys     bool // keys of single letters are on
	Revision string
	Left     int
	Total    int // that were or are to be decided
	Unsure   int
	Flash    []string
	Undo     *undoable
	Stone    model.StoneID // for the script
	Body     any
}

// undoable is the latest decision of the reviewer that stands.
type undoable struct {
	ID, What string
}

// frame fills in what every page shows.
func (d *Desk) frame(r *http.Request, title, here string, body any) chrome {
	b := d.standings()
	c := chrome{Title: title, Survey: d.title, Here: here, Token: d.guard.token(session(r)), Reviewer: reviewer(r), Keys: keysOn(r), Revision: b.revision,
		Left: b.counts[toDecide], Unsure: b.counts[leftOpen], Body: body}
	c.Total = len(d.subjects) - b.counts[nothing]
	if c.Reviewer != "" {
		if last, ok := d.latest(c.Reviewer); ok {
			c.Undo = &undoable{last.ID, decisionWords(last)}
		}
	}
	return c
}

// render writes a page, whole or not at all.
func (d *Desk) render(w http.ResponseWriter, status int, page string, c chrome) error {
	var b bytes.Buffer
	if err := d.pages[page].Execute(&b, c); err != nil {
		return fmt.Errorf("write the page %s: %w", page, err)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	w.Write(b.Bytes()) // fails only where the browser has gone
	return nil
}

// fail tells an error as a page.
func (d *Desk) fail(w http.ResponseWriter, r *http.Request, err error) {
	status, text := http.StatusInternalServerError, ""
	var bad *wrong
	switch {
	case errors.As(err, &bad):
		status, text = bad.status, bad.text
	case errors.Is(err, ledger.ErrBusy):
		status, text = http.StatusServiceUnavailable, err.Error()
	default:
		text = err.Error()
		d.opts.Note("the page " + r.URL.Path + ": " + text)
	}
	c := chrome{Title: "That did not work", Survey: d.title, Token: d.guard.token(session(r)), Reviewer: reviewer(r), Body: text}
	if err := d.render(w, status, "fault", c); err != nil {
		http.Error(w, text, status)
	}
}

// fileVersion is a digest of an embedded file, so that a browser keeps no old one.
var fileVersion = func() func(string) string {
	var mu sync.Mutex
	known := map[string]string{}
	return func(name string) string {
		mu.Lock()
		defer mu.Unlock()
		if known[name] == "" {
			data, err := files.ReadFile("page/" + name)
			if err != nil {
				return "0"
			}
			sum := sha256.Sum256(data)
			known[name] = hex.EncodeToString(sum[:6])
		}
		return known[name]
	}
}()

// static serves an embedded file.
func static(name, kind string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		data, err := files.ReadFile("page/" + name)
		if err != nil {
			http.Error(w, "no such file", http.StatusNotFound)
			return
		}
		w.Header().Set("Content-Type", kind)
		if r.URL.Query().Get("v") == fileVersion(name) {
			w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
		}
		http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(data))
	}
}
