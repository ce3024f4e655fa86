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
	return append(append(corpus(t, "tuning/*.txt"), corpus(t, "held-out/*.txt")...), corpus(t, "civilian/*.txt")...)
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

// BenchmarkReadCorpus reads the whole corpus in turn.
func BenchmarkReadCorpus(b *testing.B) {
	var texts []string
	for _, pattern := range []string{"tuning/*.txt", "held-out/*.txt", "civilian/*.txt"} {
		for _, c := range corpus(b, pattern) {
			texts = append(texts, c.text)
		}
	}
	b.ReportAllocs()
	Read(texts[0], Context{})
	start := cpu()
	i := 0
	for b.Loop() {
		Read(texts[i%len(texts)], Context{})
		i++
	}
	b.ReportMetric(float64(b.N)/(cpu()-start).Seconds(), "inscriptions/core-s")
}

// BenchmarkRead reads eight inscriptions of every kind, longer than most.
func BenchmarkRead(b *testing.B) {
	cases := []string{
		"CORPL / JNO. T. HOLDEN / CO. F / 47 ILLS. INF.",
		"WM. A. PRUITT / CO. C / 9 IND. CAV.",
		"OHIO / ROY F. BECHTEL / PVT 148 INF 37 DIV / AUG 3 1932",
		"HOWARD L COLE / SGT US AIR FORCE / KOREA / 1929 - 1994",
		"Jacob Yost / Member of Co. E, 3rd Wis. Cavalry / Died May 4, 1891, AE. 67 Yrs. 3 Ms. 4 Ds.",
		"JOHN WITHERELL / CO. B 12 WIS. INF. / 1840 - 1912 / HIS WIFE MARY / 1845 - 1920",
		"MARY / WIFE OF / JOHN DODD / DIED MAY 4, 1871 / AGED 31 YRS.",
		"SEA. / LEWIS DORNE / U. S. S. / HARROW",
	}
	b.ReportAllocs()
	Read(cases[0], Context{})
	start := cpu()
	i := 0
	for b.Loop() {
		Read(cases[i%len(cases)], Context{})
		i++
	}
	b.ReportMetric(float64(b.N)/(cpu()-start).Seconds(), "inscriptions/core-s")
}

// cpu is the processor time that this process has used: the machine may be shared.
func cpu() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
