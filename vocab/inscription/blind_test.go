package inscription

import (
	"path/filepath"
	"strings"
	"testing"
)

// blind are the batches that were written before the grammar was tried on any of them; testdata/README.md tells what they gave at first sight.
var blind = []string{"blind-2", "blind-3", "blind-4", "blind-5", "blind-6", "blind-7", "blind-8", "blind-9", "blind-10"}

// TestBlindCorpus reports each batch apart, as it is read now.
func TestBlindCorpus(t *testing.T) {
	for _, batch := range blind {
		t.Run(batch, func(t *testing.T) {
			measure(t, batch+"/stones-*.txt").check(t, batch)
			read := 0
			for _, c := range corpus(t, filepath.Join(batch, "civilians.txt")) {
				if wrong := servesIn(c.text); wrong != "" {
					read++
					t.Logf("%s: %s\n\t%s", c.where, c.text, wrong)
				}
			}
			if read > 0 {
				t.Errorf("%s: service read from %d civilians, want none", batch, read)
			}
			t.Logf("%s: service read from %d civilians", batch, read)
		})
	}
}

// servesIn tells what service a reading of any weight finds, "" for none.
func servesIn(text string) string {
	for i, r := range Read(text, Context{}) {
		for _, p := range r.People {
			if !p.Service.IsZero() && (i == 0 || r.Probability > 0.4) {
				return strings.Join(fields(r), "; ")
			}
		}
	}
	return ""
}
