package index

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"musterstone/model"
)

func smallStones() []*model.Stone {
	a := &model.Stone{ID: "S1", Place: model.Place{Cemetery: "Oak Hill Cemetery", County: "Dane", State: "WI"}}
	a.Marker.Inscription = "JNO. T. HOLDEN\nCO. F\n31 WIS. INF."
	a.Written = []model.Cell{{Column: "id", Value: "S1"}, {Column: "cemetery", Value: "Oak Hill Cemetery"}, {Column: "inscription", Value: a.Marker.Inscription}}
	b := &model.Stone{ID: "S2", Place: model.Place{Cemetery: "Friends Burying Ground", County: "Rock", State: "WI"}}
	b.Register = new(model.Claim)
	*b.Register = claim("Silas Abernethy", "Co. F, 31st Wis. Inf.", 1842)
	b.Written = []model.Cell{{Column: "id", Value: "S2"}, {Column: "name", Value: "Silas Abernethy"}, {Column: "cemetery", Value: "Friends Burying Ground"}}
	return []*model.Stone{a, b}
}

func findIndex(t testing.TB) *Index {
	in := inputs(smallRecords(), "small")
	in.Graves, in.Stones = digest("stones"), slices.Values(smallStones())
	return open(t, t.TempDir(), in)
}

// TestFind asks questions and compares the hits, with what stands out in [ ].
func TestFind(t *testing.T) {
	x := findIndex(t)
	for _, test := range []struct {
		question string
		opt      FindOptions
		want     string // hits in order, or for a set of equal ones sorted: "R1: name=[Holden], John T."
	}{
		{"quackenbush", FindOptions{}, "R11: name=[Quackenbush], Peter"},
		{"QUACKENBUSH peter", FindOptions{}, "R11: name=[Quackenbush], [Peter]"},
		{"quackenbush smith", FindOptions{}, ""},
		{"quack*", FindOptions{}, "R11: name=[Quackenbush], Peter"},
		{"qu?ckenbush", FindOptions{}, "R11: name=[Quackenbush], Peter"},
		{`"oak hill" james`, FindOptions{}, "R2: name=Holden, [James] buried=[Oak Hill] Cemetery"},
		{"place:oak", FindOptions{}, "R2: buried=[Oak] Hill Cemetery; S1: cemetery=[Oak] Hill Cemetery"},
		{"place:dane", FindOptions{}, "S1:"},
		{"name:oak", FindOptions{}, ""},
		{"abernethy", FindOptions{Kind: "stone"}, "S2: name=Silas [Abernethy]"},
		{"abernethy", FindOptions{Kind: "record"}, "R15: name=[Abernethy], Silas"},
		{`unit:"115th N.Y. Inf."`, FindOptions{}, "R11: unit=Co. I, [115th N.Y. Inf].; "},
		{"name:holdrin", FindOptions{}, "R4: name=[Holdren], John"},
		{"mcneill", FindOptions{}, "R12: name=[McNeil], Hugh"},
		{`"31st wis"`, FindOptions{Kind: "stone"}, "S1: inscription=JNO. T. HOLDEN / CO. F / [31 WIS]. INF.; S2:"},
		{"obrien", FindOptions{Limit: 1}, "R13: name=[O'Brien], Patrick"},
		{"zebulon", FindOptions{}, ""},
	} {
		r, err := x.Find(context.Background(), test.question, test.opt)
		if err != nil {
			t.Errorf("%s: %v", test.question, err)
			continue
		}
		var got []string
		for _, h := range r.Hits {
			got = append(got, strings.TrimSpace(h.ID+": "+cellsOf(h)))
			if h.Line == "" || h.Score <= 0 {
				t.Errorf("%s: hit %s has line %q and score %v", test.question, h.ID, h.Line, h.Score)
			}
			if (h.Kind == "record") != (h.Record != nil) || (h.Kind == "stone") != (h.Stone != nil) {
				t.Errorf("%s: hit %s of kind %s", test.question, h.ID, h.Kind)
			}
		}
		var want []string
		for w := range strings.SplitSeq(test.want, ";") {
			if w = strings.TrimSpace(w); w != "" {
				want = append(want, w)
			}
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n got %q\nwant %q", test.question, got, want)
		}
	}
	// The very name comes before a short form, and that before a spelling of the same sound.
	r, err := x.Find(context.Background(), "name:harry", FindOptions{})
	if err != nil || len(r.Hits) != 2 || r.Hits[0].ID != "R10" || r.Hits[1].ID != "R9" {
		t.Errorf("name:harry: %+v, error %v", r.Hits, err)
	}
	r, err = x.Find(context.Background(), "smith", FindOptions{})
	if err != nil || len(r.Hits) < 3 || r.Total < 3 || r.Hits[0].ID != "R5" || r.Hits[1].ID != "R6" {
		t.Errorf("smith: %+v, error %v", r.Hits, err)
	}
	if r, err = x.Find(context.Background(), "abernothy", FindOptions{}); err != nil || r.Total == 0 {
		t.Errorf("abernothy: %+v, error %v", r, err)
	}
	if r, err = x.Find(context.Background(), "qackenbush", FindOptions{}); err != nil || !r.Near && r.Total == 0 {
		t.Errorf("qackenbush: %+v, error %v", r, err)
	}
}

func cellsOf(h Hit) string {
	var parts []string
	for _, c := range h.Cells {
		var b strings.Builder
		at := 0
		for _, m := range c.Marks {
			b.WriteString(c.Value[at:m.From] + "[" + c.Value[m.From:m.To] + "]")
			at = m.To
		}
		b.WriteString(c.Value[at:])
		parts = append(parts, c.Column+"="+strings.ReplaceAll(b.String(), "\n", " / "))
	}
	return strings.Join(parts, " ")
}

// TestHostileQuestions asks what nobody should: an error about the question, or an answer, and at once.
func TestHostileQuestions(t *testing.T) {
	x := findIndex(t)
	for _, q := range []string{"", " ", `"`, `""`, "*", "?", "a*", "?a", "***", "name:", "name:*", `name:"`, "::::", "-", "()", "[[[", "\x00", "\xff\xfe", "/.*/", "smith^1000", "smith~2",
		"+smith -john", "a OR b", strings.Repeat("a ", 400), strings.Repeat("x", 5000), strings.Repeat("(", 900), strings.Repeat("?", 40), "s" + strings.Repeat("?", 40),
		strings.Repeat("ab*", 300), `"` + strings.Repeat("a ", 100) + `"`, "sm?th*", `"sm?th john"`, `"john ho*"`, "name:name:smith", "kind:stone", "unit:unit", "éàü", "漢字", "🪦"} {
		r, err := x.Find(context.Background(), q, FindOptions{})
		if err != nil && !ErrQuestion(err) {
			t.Errorf("%.40q: %v", q, err)
		}
		if err == nil {
			for _, h := range r.Hits {
				for _, c := range h.Cells {
					checkMarks(t, c)
				}
			}
		}
	}
	if _, err := x.Find(context.Background(), "smith", FindOptions{Kind: "grave"}); !ErrQuestion(err) {
		t.Errorf("kind grave: %v", err)
	}
	if _, err := x.Find(context.Background(), "smith", FindOptions{From: -5, Limit: 1 << 40}); err != nil {
		t.Errorf("strange limits: %v", err)
	}
}

func checkMarks(t *testing.T, c HitCell) {
	last := 0
	for _, m := range c.Marks {
		if m.From < last || m.To <= m.From || m.To > len(c.Value) {
			t.Errorf("marks %v in %q", c.Marks, c.Value)
			return
		}
		last = m.To
	}
}

// FuzzFind asks anything.
func FuzzFind(f *testing.F) {
	x := findIndex(f)
	for _, q := range []string{"smith", `"31st wis"`, "name:holden place:oak*", "sm?th", "unit:31"} {
		f.Add(q)
	}
	f.Fuzz(func(t *testing.T, q string) {
		r, err := x.Find(context.Background(), q, FindOptions{Limit: 5})
		if err != nil && !ErrQuestion(err) {
			t.Fatal(err)
		}
		for _, h := range r.Hits {
			for _, c := range h.Cells {
				checkMarks(t, c)
			}
		}
	})
}

// TestWordsKept builds the index of words once for all who ask first, keeps it, and builds it again where it was harmed or the stones changed.
func TestWordsKept(t *testing.T) {
	dir := t.TempDir()
	read := 0
	in := inputs(smallRecords(), "small")
	in.Graves, in.Stones = digest("stones"), func(yield func(*model.Stone) bool) {
		read++
		for _, s := range smallStones() {
			if !yield(s) {
				return
			}
		}
	}
	ask := func(x *Index) Results {
		r, err := x.Find(context.Background(), "abernethy", FindOptions{})
		if err != nil || r.Total != 2 {
			t.Errorf("abernethy: %d hits, error %v", r.Total, err)
		}
		return r
	}
	x := open(t, dir, in)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() { ask(x) })
	}
	all.Wait()
	x.Close()
	x = open(t, dir, in)
	if r := ask(x); read != 1 || len(r.Notes) > 0 {
		t.Errorf("the stones were read %d times, notes %q", read, r.Notes)
	}
	x.Close()
	files, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, wordsKind+"-*", wordsFolder, "store", "*.zap"))
	if len(files) == 0 {
		t.Fatal("no file of the index of words")
	}
	if err := os.Truncate(files[0], 100); err != nil {
		t.Fatal(err)
	}
	x = open(t, dir, in)
	if r := ask(x); read != 2 || len(r.Notes) != 1 {
		t.Errorf("after damage: the stones were read %d times, notes %q", read, r.Notes)
	}
	x.Close()
	in.Graves = digest("other stones")
	x = open(t, dir, in)
	if ask(x); x.Built || read != 3 {
		t.Errorf("other stones: records built %v, the stones were read %d times", x.Built, read)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, wordsKind+"-*")); len(left) != 1 {
		t.Errorf("the folder has %q", left)
	}
}
