package job

import (
	"fmt"
	"io"
	"time"
)

// Timing is how long a stage took, by the clock and in processor time of all cores.
type Timing struct {
	Stage     string
	Wall, CPU time.Duration
}

// timings are the stages that a job has been through.
type timings struct {
	start   time.Time
	list    []Timing
	running string
	since   time.Time
	used    time.Duration
}

// begin ends the stage that runs, and begins one; "" begins none.
func (t *timings) begin(stage string) {
	now := time.Now()
	used, _ := processor()
	if t.running != "" {
		t.add(Timing{t.running, now.Sub(t.since), used - t.used})
	}
	t.running, t.since, t.used = stage, now, used
}

// add puts a stage that has run before together with itself.
func (t *timings) add(one Timing) {
	for i := range t.list {
		if t.list[i].Stage == one.Stage {
			t.list[i].Wall += one.Wall
			t.list[i].CPU += one.CPU
			return
		}
	}
	t.list = append(t.list, one)
}

// stage begins a stage; what it returns ends it and goes on with the one that it broke off.
func (j *Job) stage(name string) func() {
	outer := j.timings.running
	j.timings.begin(name)
	return func() { j.timings.begin(outer) }
}

// Stage begins a stage of the caller's own, such as printing; what it returns ends it.
func (j *Job) Stage(name string) func() { return j.stage(name) }

// WriteTimings prints how long each stage took so far, in the order in which they first began, and what memory was taken from the system.
func (j *Job) WriteTimings(w io.Writer) {
	t := j.timings
	t.begin("")
	sum := Timing{Stage: "other"}
	all, peak := processor()
	sum.Wall, sum.CPU = time.Since(t.start), all
	fmt.Fprintf(w, "%-36s %9s %12s\n", "stage", "seconds", "processor s")
	for _, one := range t.list {
		fmt.Fprintf(w, "%-36s %9.3f %12.3f\n", one.Stage, one.Wall.Seconds(), one.CPU.Seconds())
		sum.Wall -= one.Wall
		sum.CPU -= one.CPU
	}
	fmt.Fprintf(w, "%-36s %9.3f %12.3f\n", sum.Stage, max(0, sum.Wall.Seconds()), max(0, sum.CPU.Seconds()))
	fmt.Fprintf(w, "%-36s %9.3f %12.3f\n", "in all", time.Since(t.start).Seconds(), all.Seconds())
	if peak > 0 {
		fmt.Fprintf(w, "memory taken from the system: %d MB\n", peak>>20)
	}
}
