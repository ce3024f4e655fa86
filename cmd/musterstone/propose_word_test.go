package main

import (
	"strings"
	"testing"

	"musterstone/cmd/musterstone/internal/job"
)

// TestWord: a kept answer in brief is worded whole or not at all, and no sign in it reaches the screen that would act there.
func TestWord(t *testing.T) {
	const one = `{"stone":"S\u001b1","none":0.1,"candidates":[{"record":"r\u001b","probability":0.9,"bits":4,"proposed":true,"decided":"con\u001b[2Jfirmed\u202e","evidence":[{"field":"f\u001b","level":"l\u001b","bits":4,"stone":"a\u001b","record":"b\u001b","why":"w\u001b"}],"namesakes":{"name":"n\u001b","men":2,"company":"c\u001b"}}],"notes":["x\u001b"],"would_change":["y\u001b"]}`
	for _, c := range []struct {
		name, json, text string
		ok               bool
	}{
		{"as it should be", one, "head\x1b\nwho\x1b\n", true},
		{"a line too few", one, "head\n", false},
		{"a line too many", one, "head\nwho\nwho\n", false},
		{"no JSON", one[1:], "head\nwho\n", false},
		{"more than JSON", one + "}", "head\nwho\n", false},
		{"behind whom nobody is", strings.Replace(one, `"notes"`, `"runner_up":{"record":"r2","behind":1,"by":[]},"notes"`, 1), "head\nwho\n", false},
		{"none", `{"stone":"S1","none":1,"candidates":[]}`, "head\n", true},
		{"nothing", ``, ``, false},
	} {
		a := job.Answer{JSON: []byte(c.json), Text: []byte(c.text)}
		if ok := word(&a); ok != c.ok {
			t.Errorf("%s: worded %v", c.name, ok)
		}
		for line := range strings.SplitSeq(string(a.Text), "\n") {
			if c.ok && plain(line) != line {
				t.Errorf("%s: %q", c.name, line)
			}
		}
	}
}
