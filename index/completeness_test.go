package index

import (
	"context"
	"math"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
)

// scanAll is the oracle of Candidates: it scores every record by the same measure, with surnames compared letter by letter one by one.
func (x *Index) scanAll(t testing.TB, s *model.Subject, limit int) []model.RecordID {
	best := map[uint32]int32{}
	for _, c := range people(s) {
		m := new(measure)
		if err := x.measure(m, s, c.claim); err != nil {
			t.Fatal(err)
		}
		var a alike
		p := m.pattern
		readable := !strings.ContainsAny(p, "?*")
		sound, soundex := name.Sound(p), name.Soundex(p)
		_, exact := x.roll.surnameNumber(p)
		for i, n := range x.roll.surnames {
			n32 := uint32(i)
			if n == "" || m.blank {
				continue
			}
			switch d := distance(p, n, 3); {
			case d == 0:
				a.exact = append(a.exact, n32)
			case d == 1:
				a.near1 = append(a.near1, n32)
			case d == 2 && len(p) > 3:
				a.near2 = append(a.near2, n32)
			case readable && slices.ContainsFunc(name.Renderings(p), func(r name.Rendering) bool { return r.Name == n }):
				a.rendered = append(a.rendered, n32)
			case readable && sound == x.names.sounds.key[i]:
				a.sound = append(a.sound, n32)
			case readable && soundex == x.names.soundex.key[i]:
				a.soundex = append(a.soundex, n32)
			case d == 3 && len(p) > 7 && !exact:
				a.far = append(a.far, n32)
			}
		}
		bits := map[uint32]int16{}
		for _, h := range x.scorer.hits(&a) {
			bits[h.surname] = h.bits
		}
		x.scoreRows(best, m, bits, c.cost, func(*row) bool { return true })
	}
	var ids []model.RecordID
	for _, f := range bestRows(best, limit) {
		r, err := x.record(int(f.at()))
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, r.ID)
	}
	return ids
}

// scoreRows scores every row of one of the surnames, of which there are the bits, or that is within reach, and keeps each record's best score.
func (x *Index) scoreRows(best map[uint32]int32, m *measure, bits map[uint32]int16, cost int32, within func(*row) bool) {
	for i := range x.roll.rows {
		w := &x.roll.rows[i]
		score := cost + int32(m.given[w.given]) + int32(m.unit.bits[w.unit]) + m.more(w)
		if b, ok := bits[w.surname]; ok {
			score += int32(b)
		} else if !within(w) {
			continue
		} else if told := w.otherName(); told != otherNone && slices.Contains(m.units, w.unit) {
			score += max(m.otherSurname(w.surname, math.MinInt32/2), otherNames[told]-int32(m.given[w.given]))
		} else {
			score += m.otherSurname(w.surname, math.MinInt32/2)
		}
		if old, ok := best[w.at]; !ok || score > old {
			best[w.at] = score
		}
	}
}

// bestRows are the limit records of the best scores.
func bestRows(best map[uint32]int32, limit int) []found {
	var all []found
	for at, score := range best {
		all = append(all, newFound(at, score))
	}
	slices.Sort(all)
	return all[:min(limit, len(all))]
}

// against counts for how many of so many stones of a survey's men the true man is among the first ten by the index, and by scoring every record.
func (x *Index) against(t testing.TB, c *county, n, stones int, worn float64) (byIndex, byScan int) {
	var subjects []*model.Subject
	var men []model.RecordID
	all := newCounty(c.seed, len(c.surnames))
	for i := range n {
		r := all.record(i)
		if i%(n/stones) == 0 && len(subjects) < stones {
			subjects, men = append(subjects, newCounty(uint64(i)+1, 1).stone(i, r, worn)), append(men, r.ID)
		}
	}
	var mu sync.Mutex
	var group sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for k := range workers {
		group.Go(func() {
			for i := k; i < len(subjects); i += workers {
				found, err := x.Candidates(context.Background(), subjects[i], 10)
				if err != nil {
					t.Error(err)
					return
				}
				a, b := slices.Contains(ids(found), men[i]), slices.Contains(x.scanAll(t, subjects[i], 10), men[i])
				mu.Lock()
				byIndex, byScan = byIndex+truth(a), byScan+truth(b)
				mu.Unlock()
			}
		})
	}
	group.Wait()
	return byIndex, byScan
}

// TestOracle holds the first ten candidates among 100,000 records against every record scored: within half a point, which is half a stone here.
func TestOracle(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	const n, stones = 100_000, 100
	c := newCounty(1, surnamesFor(n))
	x := open(t, t.TempDir(), Inputs{Rosters: "a", Records: generated(1, len(c.surnames), n)})
	byIndex, byScan := x.against(t, c, n, stones, .05)
	t.Logf("of %d stones, the true man is among the first ten of %d by the index, of %d where all records are scored", stones, byIndex, byScan)
	if byIndex < byScan || byScan < stones*8/10 {
		t.Errorf("of %d stones: by the index %d, where every record is scored %d", stones, byIndex, byScan)
	}
}

// BenchmarkOracle is TestOracle with MUSTERSTONE_RECORDS records and 400 stones; it says what it found in points of a hundred stones.
func BenchmarkOracle(b *testing.B) {
	n, _ := strconv.Atoi(os.Getenv("MUSTERSTONE_RECORDS"))
	if n == 0 {
		b.Skip("set MUSTERSTONE_RECORDS=1000000")
	}
	c := newCounty(1, surnamesFor(n))
	x := open(b, b.TempDir(), Inputs{Rosters: "a", Records: generated(1, len(c.surnames), n)})
	for b.Loop() {
		const stones = 400
		byIndex, byScan := x.against(b, c, n, stones, .05)
		b.ReportMetric(100*float64(byIndex)/stones, "index@10")
		b.ReportMetric(100*float64(byScan)/stones, "scan@10")
		if byScan-byIndex > stones/200 {
			b.Errorf("of %d stones: by the index %d, where every record is scored %d", stones, byIndex, byScan)
		}
	}
}

// surnamesFor is how many distinct surnames so many men have.
func surnamesFor(n int) int { return min(120_000, n/8+4000) }

func ids(records []*model.Record) []model.RecordID {
	list := make([]model.RecordID, len(records))
	for i, r := range records {
		list[i] = r.ID
	}
	return list
}

// TestCompleteness counts for how many damaged stones the true man is among the candidates, and holds that against every record scored.
func TestCompleteness(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	c := newCounty(7, 8000)
	records := c.roster(20000)
	x := open(t, t.TempDir(), inputs(records, "a"))
	for _, test := range []struct {
		worn   float64
		within float64 // least share of the true men among the 50
		ten    float64 // and among the 10
	}{{0, .995, .98}, {.03, .99, .97}, {.08, .99, .95}} {
		const stones, scanned = 600, 60
		var at50, at10, scan50, index50 int
		for i := range stones {
			r := records[c.rng.IntN(len(records))]
			s := c.stone(i, r, test.worn)
			found, err := x.Candidates(context.Background(), s, 50)
			if err != nil {
				t.Fatal(err)
			}
			got := ids(found)
			k := slices.Index(got, r.ID)
			if k >= 0 {
				at50++
			} else if testing.Verbose() {
				t.Logf("worn %v: %s %v not among the candidates of %v", test.worn, r.ID, r.Person.Name, s.Readings[0].People[0])
			}
			if k >= 0 && k < 10 {
				at10++
			}
			if i < scanned {
				if k >= 0 {
					index50++
				}
				if slices.Contains(x.scanAll(t, s, 50), r.ID) {
					scan50++
				}
			}
		}
		t.Logf("worn %.2f: %.1f%% among 50, %.1f%% among 10; of the first %d, index %d, every record scored %d",
			test.worn, 100*float64(at50)/stones, 100*float64(at10)/stones, scanned, index50, scan50)
		if float64(at50) < test.within*stones || float64(at10) < test.ten*stones {
			t.Errorf("worn %.2f: %d of %d among 50 and %d among 10; want %.1f%% and %.1f%%", test.worn, at50, stones, at10, 100*test.within, 100*test.ten)
		}
		if index50 < scan50-1 {
			t.Errorf("worn %.2f: %d of %d among 50, but %d where every record is scored", test.worn, index50, scanned, scan50)
		}
	}
}

// TestRuledOut: the best by what rows can be worth at most are those of all looked at closely, in the same order, whatever is lost of a name or not known of a man.
func TestRuledOut(t *testing.T) {
	const most = 6000 // all that can be found, so that none is ruled out
	for seed := range uint64(2) {
		c := newCounty(seed, 300)
		records := c.roster(most)
		for _, r := range records {
			n := &r.Person.Name
			switch c.rng.IntN(9) {
			case 0:
				n.Surname = ""
			case 1:
				if seed > 0 { // else how long surnames are bounds what they can be worth
					n.Surname = leiden(c.wear(n.Surname, .3)) + "[---]"
				}
			case 2:
				if seed > 0 {
					n.Surname = strings.Repeat(n.Surname, 12)
				}
			case 3:
				r.Service.Unit = model.Unit{}
			case 4:
				r.Person.Born, r.Person.Died = date.Date{}, year(1862+c.rng.IntN(60))
			case 5:
				r.Person.Buried = "Old Mill Cem., Alder Co."
			case 6:
				r.Person.Residence = "Alder County"
			case 7:
				r.Service.Conflicts = []model.ConflictCode{"spanish-war"}
			}
			r.Service.Unit.Number %= 6
		}
		x := open(t, t.TempDir(), inputs(records, "a"))
		for i := range 150 {
			s := c.stone(i, c.record(i), .15)
			claim := &s.Readings[0].People[0]
			s.Stone.Place.Cemetery, s.Stone.Place.County = "Old Mill Cemetery", "Alder"
			claim.Person.Died, claim.Service.Side, claim.Service.Conflicts = year(1860+c.rng.IntN(50)), model.Union, []model.ConflictCode{"civil-war"}
			claim.Person.Name.Surname = [...]string{"", "[---]", claim.Person.Name.Surname + "[---]", claim.Person.Name.Surname[:3], claim.Person.Name.Surname, claim.Person.Name.Surname}[c.rng.IntN(6)]
			all, err := x.search(s, claim, most, anyScore)
			if err != nil {
				t.Fatal(err)
			}
			for _, limit := range []int{1, 10, 50} {
				got, err := x.search(s, claim, limit, anyScore)
				if err != nil {
					t.Fatal(err)
				}
				if !slices.Equal(got, all[:min(limit, len(all))]) {
					t.Fatalf("seed %d, %v, limit %d: %v, want %v", seed, claim.Person.Name, limit, got, all[:min(limit, len(all))])
				}
				// Those that are worth a least are the same where that is asked for.
				if len(got) < limit {
					continue
				}
				least, want := got[limit/2].score(), all
				for len(want) > 0 && want[len(want)-1].score() < least {
					want = want[:len(want)-1]
				}
				want = want[:min(limit, len(want))]
				some, err := x.search(s, claim, limit, least)
				if err != nil {
					t.Fatal(err)
				}
				if len(some) < len(want) || !slices.Equal(some[:len(want)], want) {
					t.Fatalf("seed %d, %v, limit %d, at least %d: %v, want first %v", seed, claim.Person.Name, limit, least, some, want)
				}
			}
		}
	}
}

func open(t testing.TB, dir string, in Inputs) *Index {
	t.Helper()
	x, err := Open(context.Background(), dir, in, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { x.Close() })
	return x
}
