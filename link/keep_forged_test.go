package link

import (
	"math"
	"testing"

	"musterstone/link/weigh"
)

// TestKeptForged: what fits its sums and was never written so is not read: rows and levels that are not there, more lines than a row has, numbers that are none, bytes left over.
func TestKeptForged(t *testing.T) {
	l, _ := keptSurvey(t)
	level := weigh.LevelNumber("surname", "same")
	write := func(change func(r *row, w *weighed, k *keeper)) []byte {
		var k keeper
		k.begin()
		k.weighed.Add(level, 3)
		r, w := row{bits: 3, n: 1}, weighed{stone: "s", rows: &rows{list: make([]row, 1)}}
		change(&r, &w, &k)
		k.add(&r)
		return k.end(&w)
	}
	if err := l.readStone(write(func(*row, *weighed, *keeper) {}), new(weighed)); err != nil {
		t.Fatalf("a stone as it is written: %v", err)
	}
	for name, change := range map[string]func(r *row, w *weighed, k *keeper){
		"a row beyond the last":     func(r *row, _ *weighed, _ *keeper) { r.number = uint32(l.Columns.Len()) },
		"a file beyond the last":    func(r *row, _ *weighed, _ *keeper) { r.file = uint16(len(l.Columns.Files())) },
		"a view below none":         func(r *row, _ *weighed, _ *keeper) { r.view = noView - 1 },
		"no lines":                  func(r *row, _ *weighed, _ *keeper) { r.n = 0 },
		"bits that are no number":   func(r *row, _ *weighed, _ *keeper) { r.bits = math.NaN() },
		"bits without end":          func(r *row, _ *weighed, _ *keeper) { r.bits = math.Inf(-1) },
		"more rows than there are":  func(_ *row, w *weighed, _ *keeper) { w.rows.list = make([]row, 2) },
		"fewer rows than there are": func(_ *row, w *weighed, _ *keeper) { w.rows.list = nil },
		"a share above 1":           func(_ *row, w *weighed, _ *keeper) { w.share = 1.5 },
		"a share that is no number": func(_ *row, w *weighed, _ *keeper) { w.standing.Veteran = math.NaN() },
		"kin of whom there is none": func(_ *row, _ *weighed, k *keeper) { k.weighed = weigh.Lines{}; k.weighed.Add(kinLevel, 2) },
		"a level that is none":      func(_ *row, _ *weighed, k *keeper) { k.weighed = weigh.Lines{}; k.weighed.Add(255, 2) },
		"a line without end":        func(_ *row, _ *weighed, k *keeper) { k.weighed = weigh.Lines{}; k.weighed.Add(level, math.Inf(1)) },
		"no room for one line more": func(r *row, _ *weighed, k *keeper) {
			for r.n < weigh.MostLines {
				k.weighed.Add(level, 1)
				r.n++
			}
		},
	} {
		if err := l.readStone(write(change), new(weighed)); err == nil {
			t.Errorf("%s is read", name)
		}
	}
}
