package unmarked_test

import (
	"context"
	"math"
	"os"
	"runtime"
	"slices"
	"strconv"
	"sync"
	"testing"

	"musterstone/link"
	"musterstone/link/unmarked"
	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/vocab/inscription"
	"musterstone/vocab/marker"
)

// worked runs reading, implying and linking on a made ground: everything but the tables and the index.
func worked(t testing.TB, stones []*model.Stone, records []*model.Record) unmarked.Input {
	t.Helper()
	var subjects []*model.Subject
	for _, s := range stones {
		sub := &model.Subject{Stone: s, Readings: inscription.ReadStone(s)}
		sub.Implies = marker.Imply(s, sub.Reading())
		subjects = append(subjects, sub)
	}
	counts := weigh.Count(slices.Values(records))
	l := &link.Linker{Finder: &link.Scan{Records: records, Counts: counts}, Counts: counts}
	proposals, err := l.Propose(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	return unmarked.Input{Subjects: subjects, Proposals: proposals, Records: slices.Values(records)}
}

// seeds is how many grounds the tests make: few as a rule, for they take a second each; MUSTERSTONE_SEEDS says otherwise.
func seeds(t *testing.T, few int) int {
	if testing.Short() {
		return max(4, few/4)
	}
	if n, err := strconv.Atoi(os.Getenv("MUSTERSTONE_SEEDS")); err == nil {
		return n
	}
	return few
}

// each makes what stands for each of n seeds, on all cores, and adds it one at a time.
func each(first, n int, made func(seed int) (add func())) {
	var mu sync.Mutex
	var group sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for seed := range next {
				add := made(seed)
				mu.Lock()
				add()
				mu.Unlock()
			}
		})
	}
	for seed := range n {
		next <- first + seed
	}
	close(next)
	group.Wait()
}

// A truth is what a ground was made of. K is what a stone or a record can be in it.
type truth[K comparable] struct {
	of       map[string]K // by the id of a stone or a record
	twins    map[model.RecordID]model.StoneID
	buried   K   // a man of a roster whom no stone names
	veterans []K // those who lie there without a government marker
	unmarked int // how many they are
}

// A measure is what the findings and the estimate come to, over all the grounds that were added.
type measure[K comparable] struct {
	hit, of     map[K]int
	wrong       map[K]int
	right, told int // of the findings of one half or more
	bins        [10]struct{ n, p, right float64 }
	all, held   int // grounds, and those whose interval holds the truth
	low, high   int // grounds with the truth below and above it
	unestimated int
}

func newMeasure[K comparable]() *measure[K] {
	return &measure[K]{hit: map[K]int{}, of: map[K]int{}, wrong: map[K]int{}}
}

// add measures one ground. A finding is right if it is of a veteran who lies there without a government marker.
func (m *measure[K]) add(g truth[K], in unmarked.Input) {
	in.Least = 0.02
	have := map[string]bool{}
	for _, x := range unmarked.Find(in) {
		if !unmarked.NoMarker(x.Kind) {
			continue
		}
		id := string(x.Stone)
		if id == "" {
			id = string(x.Record)
		}
		kind := g.of[id]
		ok := slices.Contains(g.veterans, kind)
		b := &m.bins[min(9, int(x.Probability*10))]
		b.n++
		b.p += x.Probability
		if ok {
			b.right++
		}
		if x.Probability < 0.5 {
			continue
		}
		m.told++
		if ok {
			m.right++
		} else {
			m.wrong[kind]++
		}
		have[id] = true
		if x.Stone != "" && x.Record != "" {
			have[string(x.Record)] = true
		}
	}
	for id, kind := range g.of {
		if slices.Contains(g.veterans, kind) {
			m.of[kind]++
			if have[id] || kind == g.buried && have[string(g.twins[model.RecordID(id)])] {
				m.hit[kind]++
			}
		}
	}
	res := unmarked.Count(unmarked.Men(in), "", 0.9)
	m.all++
	switch {
	case !res.Estimated:
		m.unestimated++
	case g.unmarked < res.From:
		m.low++
	case g.unmarked > res.To:
		m.high++
	default:
		m.held++
	}
}

func (m *measure[K]) precision() float64    { return float64(m.right) / float64(m.told) }
func (m *measure[K]) recall(kind K) float64 { return float64(m.hit[kind]) / float64(m.of[kind]) }

func (m *measure[K]) calibration() (ece float64) {
	all := 0.0
	for _, b := range m.bins {
		all += b.n
	}
	for _, b := range m.bins {
		ece += math.Abs(b.p-b.right) / all
	}
	return ece
}

func (m *measure[K]) log(t *testing.T, kinds []K) {
	for i, b := range m.bins {
		if b.n > 0 {
			t.Logf("%d%%: %.0f findings, mean %.3f, right %.3f", 10*i, b.n, b.p/b.n, b.right/b.n)
		}
	}
	t.Logf("precision %.4f of %d; wrong %v", m.precision(), m.told, m.wrong)
	for _, k := range kinds {
		t.Logf("recall of %v: %.4f of %d", k, m.recall(k), m.of[k])
	}
	t.Logf("calibration error %.4f; the interval holds the truth in %d of %d, the truth below it %d times, above it %d times", m.calibration(), m.held, m.all, m.low, m.high)
}
