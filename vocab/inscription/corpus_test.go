package inscription

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/name"
)

// inscriptionCase is one inscription of the corpus with what it says. A value of "*" stands for any value that is not empty.
type inscriptionCase struct {
	where, text string
	want        []string
}

// corpus reads the files of a folder of testdata; testdata/README.md describes their form.
func corpus(t testing.TB, pattern string) []inscriptionCase {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("testdata", pattern))
	if err != nil || len(files) == 0 {
		t.Fatalf("no files %s", pattern)
	}
	var all []inscriptionCase
	for _, file := range files {
		f, err := os.Open(file)
		if err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(f)
		source := false
		for n := 1; lines.Scan(); n++ {
			l := lines.Text()
			switch {
			case strings.HasPrefix(l, "family: "):
			case strings.HasPrefix(l, "source: "):
				for _, k := range strings.Fields(l)[1:] {
					if _, _, ok := vocab.Source(k); !ok {
						t.Errorf("%s:%d: unknown source %q", file, n, k)
					}
					source = true
				}
			case strings.HasPrefix(l, "> "):
				all = append(all, inscriptionCase{where: fmt.Sprintf("%s:%d", file, n), text: l[2:]})
			case l != "":
				c := &all[len(all)-1]
				c.want = append(c.want, l)
			}
		}
		if !source {
			t.Errorf("%s names no source", file)
		}
		f.Close()
	}
	return all
}

// tally counts fields and stones that came out right.
type tally struct {
	fields, rightFields, stones, rightStones int
}

// compare sets the best reading beside what was wanted. Names are compared by their letters alone; "or" is compared only where it is wanted.
func compare(want []string, r model.Reading) (right, all int, wrong []string) {
	got := map[string]string{}
	var order []string
	for _, l := range fields(r) {
		k, v, _ := strings.Cut(l, ": ")
		if got[k] == "" {
			order = append(order, k)
		}
		got[k] = v
	}
	seen := map[string]bool{}
	for _, l := range want {
		k, v, _ := strings.Cut(l, ": ")
		seen[k] = true
		all++
		g := got[k]
		bare := k[strings.LastIndexByte(k, '.')+1:]
		switch {
		case strings.TrimRight(g, ".") == strings.TrimRight(v, "."), v == "*" && g != "":
			right++
		case (bare == "name" || bare == "surname") && name.Fold(g) == name.Fold(v) && g != "":
			right++
		default:
			wrong = append(wrong, fmt.Sprintf("%s is %q, want %q", k, g, v))
		}
	}
	for _, k := range order {
		if bare := k[strings.LastIndexByte(k, '.')+1:]; seen[k] || bare == "or" {
			continue
		}
		all++
		wrong = append(wrong, fmt.Sprintf("%s is %q, want nothing", k, got[k]))
	}
	return right, all, wrong
}

// measure reads a part of the corpus. It prints what went wrong where -v is given.
func measure(t *testing.T, pattern string) tally {
	var sum tally
	for _, c := range corpus(t, pattern) {
		readings := Read(c.text, Context{})
		right, all, wrong := compare(c.want, readings[0])
		sum.fields += all
		sum.rightFields += right
		sum.stones++
		if len(wrong) == 0 {
			sum.rightStones++
		} else {
			t.Logf("%s: %s\n\t%s", c.where, c.text, strings.Join(wrong, "\n\t"))
		}
	}
	return sum
}

func (s tally) check(t *testing.T, part string) {
	f, w := float64(s.rightFields)/float64(s.fields), float64(s.rightStones)/float64(s.stones)
	t.Logf("%s: %d of %d fields (%.4f), %d of %d stones whole (%.4f)", part, s.rightFields, s.fields, f, s.rightStones, s.stones, w)
	if f < 0.98 {
		t.Errorf("%s: %.4f of the fields are right, want 0.98 or more", part, f)
	}
	if w < 0.93 {
		t.Errorf("%s: %.4f of the stones are right as a whole, want 0.93 or more", part, w)
	}
}

func TestTuningCorpus(t *testing.T) { measure(t, "tuning/*.txt").check(t, "tuning part") }

// The held-out part was written before the grammar was tuned, and is not tuned on.
func TestHeldOutCorpus(t *testing.T) { measure(t, "held-out/*.txt").check(t, "held-out part") }

// TestCivilians: a civilian's stone comes out with no service at all.
func TestCivilians(t *testing.T) {
	all := corpus(t, "civilian/*.txt")
	if len(all) < 200 {
		t.Errorf("%d civilian inscriptions, want 200 or more", len(all))
	}
	for _, c := range all {
		for i, r := range Read(c.text, Context{}) {
			for _, p := range r.People {
				if !p.Service.IsZero() && (i == 0 || r.Probability > 0.4) {
					t.Errorf("%s: %s\n\t%.2f %s", c.where, c.text, r.Probability, strings.Join(fields(r), "; "))
				}
			}
		}
	}
}
