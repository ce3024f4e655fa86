package inscription

import (
	"strings"
	"syscall"
	"testing"
	"time"

	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// tiles reports what is wrong with a reading's tokens, "" where they tile the text.
func tiles(text string, r model.Reading) string {
	end := 0
	for _, t := range r.Tokens {
		if t.From != end || t.To <= t.From {
			return "token " + t.Field + " does not follow on the one before"
		}
		end = t.To
		if n := len(r.People); n > 0 && t.Person >= n || t.Person < 0 {
			return "token " + t.Field + " speaks of nobody"
		}
	}
	if end != len(text) {
		return "the tokens end before the text"
	}
	return ""
}

func allCases(t *testing.T) []inscriptionCase {
	return corpus(t, "*/*.txt")
}

func TestTokensTile(t *testing.T) {
	for _, c := range allCases(t) {
		sum := 0.0
		for _, r := range Read(c.text, Context{}) {
			if wrong := tiles(c.text, r); wrong != "" {
				t.Errorf("%s: %s: %s", c.where, c.text, wrong)
			}
			sum += r.Probability
		}
		if sum < 0.999999 || sum > 1.000001 {
			t.Errorf("%s: the probabilities sum to %v", c.where, sum)
		}
	}
}

// said is what a reading says, letter case and blanks apart.
func said(r model.Reading) string {
	var out []string
	for _, l := range fields(r) {
		k, v, _ := strings.Cut(l, ": ")
		switch k[strings.LastIndexByte(k, '.')+1:] {
		case "name", "surname":
			v = name.Fold(v)
		case "birthplace", "death-place", "residence", "age", "unread":
			v = words.Split(v).Letters()
		}
		out = append(out, k+": "+v)
	}
	return strings.Join(out, "; ")
}

// TestLetterCaseAndBlanks: neither capitals nor blanks change what is read.
func TestLetterCaseAndBlanks(t *testing.T) {
	spaced := strings.NewReplacer(". ", ".   ", ", ", " ,  ", " / ", "   /  ")
	for _, c := range allCases(t) {
		want := said(Read(c.text, Context{})[0])
		for _, text := range []string{strings.ToUpper(c.text), strings.ToLower(c.text), spaced.Replace(c.text), strings.ReplaceAll(c.text, " / ", "\n"),
			strings.ReplaceAll(c.text, " / ", "\r\n")} {
			if got := said(Read(text, Context{})[0]); got != want {
				t.Errorf("%s: %q\n\t%s\n\twant %s", c.where, text, got, want)
			}
		}
	}
}

// TestLeftOut: what is not given is told, and is little.
func TestLeftOut(t *testing.T) {
	all, sum, most := 0, 0.0, 0.0
	for _, c := range allCases(t) {
		all++
		for i, r := range Read(c.text, Context{}) {
			if i > 0 && r.LeftOut != 0 || r.LeftOut < 0 {
				t.Errorf("%s: reading %d leaves %v out", c.where, i, r.LeftOut)
			}
			sum, most = sum+r.LeftOut, max(most, r.LeftOut)
			if r.LeftOut > 0.1 {
				t.Errorf("%s: %.3f left out: %s", c.where, r.LeftOut, c.text)
			}
		}
	}
	if most == 0 {
		t.Error("nothing is ever left out, which cannot be")
	}
	t.Logf("left out: %.4f in the mean, %.4f at most, of %d inscriptions", sum/float64(all), most, all)
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"CORPL / JNO. T. HOLDEN / CO. F / 47 ILLS. INF.", "[..] U S S", "AGED", "CO", "AE. 67 Y", "1840 -", "BORN IN", "& & &", "VAN", "WIFE OF",
		"IN THE 67TH YEAR OF HIS", "18[.]4", "[[", "\n\n / ", "MAY THE", "NO", "GRAVE NO", "BVT"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		readings := Read(text, Context{})
		sum := 0.0
		for _, r := range readings {
			if wrong := tiles(text, r); wrong != "" {
				t.Fatalf("%q: %s", text, wrong)
			}
			sum += r.Probability
		}
		if sum < 0.9999 || sum > 1.0001 {
			t.Fatalf("%q: the probabilities sum to %v", text, sum)
		}
	})
}

// BenchmarkRead reads parts of the corpus in turn. The figure that counts is inscriptions a second of processor time.
func BenchmarkRead(b *testing.B) {
	for _, part := range []struct{ name, pattern string }{
		{"shield", "*/recessed-shield-stones.txt"}, {"general", "*/general-stones-of-the-first-world-war.txt"}, {"modern", "*/modern-government-markers.txt"},
		{"private", "*/private-stones-*.txt"}, {"civilian", "civilian/*.txt"}, {"all", "*/*.txt"},
	} {
		b.Run(part.name, func(b *testing.B) {
			cases := corpus(b, part.pattern)
			b.ReportAllocs()
			Read(cases[0].text, Context{})
			start := cpu()
			i := 0
			for b.Loop() {
				Read(cases[i%len(cases)].text, Context{})
				i++
			}
			b.ReportMetric(float64(b.N)/(cpu()-start).Seconds(), "inscriptions/core-s")
		})
	}
}

// cpu is the processor time that this process has used: the machine may be shared.
func cpu() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
