package desk

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"testing"
	"time"

	"musterstone/testdata/county"
)

// BenchmarkPages measures the pages of a survey of 5,000 stones and 200,000 records: the median time on the server, and the bytes.
//
//	go test -run '^$' -bench Pages -benchtime 200x ./cmd/musterstone/internal/desk
func BenchmarkPages(b *testing.B) {
	dir := b.TempDir()
	if err := county.Make(dir, county.Options{Seed: 3, Records: 200_000, Stones: 5_000}); err != nil {
		b.Fatal(err)
	}
	start := time.Now()
	d := openDesk(b, dir, Options{Hosts: []string{"desk.test"}})
	b.Logf("opened in %v, of which the weighing took %v", time.Since(start), d.took)
	handler := d.Handler()
	session := "0123456789abcdef0123456789abcdef"
	ask := func(method, path string, form url.Values) *httptest.ResponseRecorder {
		r := httptest.NewRequest(method, path, nil)
		r.PostForm, r.Form = form, form
		r.Host = "desk.test"
		r.AddCookie(&http.Cookie{Name: sessionCookie, Value: session})
		r.AddCookie(&http.Cookie{Name: reviewerCookie, Value: "Ann"})
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, r)
		return w
	}
	queue := slices.Clone(d.standings().queue)
	ask("GET", "/find?q=miller", nil) // the first search builds the index of words
	stone := func(i int) string { return string(d.subjects[queue[i%len(queue)]].Stone.ID) }
	for _, page := range []struct {
		name string
		path func(i int) string
	}{
		{"stone", func(i int) string { return "/stone?id=" + stone(i) }},
		{"stone-all", func(i int) string { return "/stone?all=1&id=" + stone(i) }},
		{"find", func(i int) string { return "/find?q=miller" }},
		{"list", func(i int) string { return "/find?state=open" }},
		{"plan", func(i int) string { return "/plan" }},
		{"pulse", func(i int) string { return "/pulse?stone=" + stone(i) }},
	} {
		b.Run(page.name, func(b *testing.B) {
			var times []time.Duration
			most, i := 0, 0
			for b.Loop() {
				start := time.Now()
				w := ask("GET", page.path(i), nil)
				times = append(times, time.Since(start))
				if w.Code != http.StatusOK {
					b.Fatalf("%s: status %d", page.path(i), w.Code)
				}
				most = max(most, w.Body.Len())
				i++
			}
			slices.Sort(times)
			b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, "ms-median")
			b.ReportMetric(float64(times[len(times)*99/100].Microseconds())/1000, "ms-p99")
			b.ReportMetric(float64(most), "bytes-most")
		})
	}
	// Deciding, and the page after it, while the stones are weighed anew in the background.
	b.Run("decide", func(b *testing.B) {
		var times []time.Duration
		i := 0
		for b.Loop() {
			id := d.subjects[queue[i%len(queue)]].Stone.ID
			r, _ := d.current()
			start := time.Now()
			w := ask("POST", "/decide", url.Values{"token": {d.guard.token(session)}, "stone": {string(id)}, "confirm": {string(r.proposals[queue[i%len(queue)]].Candidates[0].Record)}})
			next := ask("GET", w.Header().Get("Location"), nil)
			times = append(times, time.Since(start))
			if w.Code != http.StatusSeeOther || next.Code != http.StatusOK {
				b.Fatalf("status %d, then %d: %s", w.Code, next.Code, next.Body)
			}
			i++
		}
		slices.Sort(times)
		b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, "ms-median")
		b.ReportMetric(float64(times[len(times)*99/100].Microseconds())/1000, "ms-p99")
	})
}
