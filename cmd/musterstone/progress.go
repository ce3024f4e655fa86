package main

import (
	"fmt"
	"strings"
	"sync"
	"time"
)

// quiet is how long the program works before it shows how far it is.
const quiet = 2 * time.Second

// progress gives the function that hears how far a stage is. It rewrites one line on stderr, where that is a terminal and the work has
// taken longer than two seconds; elsewhere it shows nothing.
func (a *app) progress() func(stage string, done, total int) {
	if !a.terminal {
		return func(string, int, int) {}
	}
	var mu sync.Mutex
	start, last, width := time.Now(), time.Time{}, 0
	stage, since := "", time.Now()
	return func(s string, done, total int) {
		mu.Lock()
		defer mu.Unlock()
		now := time.Now()
		if s != stage {
			stage, since = s, now
		}
		finished := total > 0 && done >= total
		if now.Sub(start) < quiet || now.Sub(last) < 200*time.Millisecond && !finished {
			return
		}
		last = now
		line := fmt.Sprintf("%s: %d", s, done)
		if total > 0 {
			line = fmt.Sprintf("%s: %d of %d", s, done, total)
			if left := now.Sub(since) * time.Duration(total-done) / time.Duration(max(done, 1)); done > 0 && left > quiet {
				line += fmt.Sprintf(", about %s left", left.Round(time.Second))
			}
		}
		fmt.Fprintf(a.err, "\r%s%s", line, strings.Repeat(" ", max(0, width-len(line))))
		width = len(line)
		if finished {
			fmt.Fprintf(a.err, "\r%s\r", strings.Repeat(" ", width))
			width = 0
		}
	}
}
