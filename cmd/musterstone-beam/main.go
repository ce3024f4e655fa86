// Command musterstone-beam links the stones of a survey to the records of its rosters as musterstone does, as an Apache Beam pipeline, for surveys
// that one machine cannot hold. It runs on any runner of Beam, and without one on the Prism runner that is built in.
//
//	musterstone-beam --survey FOLDER --out FOLDER
//
// The survey's folder must be seen by every worker under the same name, and so must the folder for the proposals, which are written as musterstone propose --json
// prints them, into files that are in the order of the stones when taken in the order of their names.
package main

import (
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"slices"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/core/metrics"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"
)

func main() {
	opt := defaults()
	flag.StringVar(&opt.Survey, "survey", "", "the `folder` of the survey, seen by every worker under this name")
	flag.StringVar(&opt.Out, "out", "", "the `folder` for the proposals, seen by every worker under this name")
	flag.Float64Var(&opt.Precision, "precision", opt.Precision, "share of the proposed links that shall be right")
	flag.IntVar(&opt.BlockRecords, "block-records", opt.BlockRecords, "records in a block as read")
	flag.IntVar(&opt.BlockStones, "block-stones", opt.BlockStones, "stones in a block")
	flag.IntVar(&opt.Shard, "shard", opt.Shard, "records in a shard, in which candidates are looked for")
	flag.IntVar(&opt.Buckets, "buckets", opt.Buckets, "parts into which claims and components are dealt")
	flag.IntVar(&opt.Component, "component", opt.Component, "the most stones that may contend with each other for records, which one worker must hold")
	flag.IntVar(&opt.Rounds, "rounds", opt.Rounds, "the most rounds of the fit")
	flag.IntVar(&opt.FileStones, "file-stones", opt.FileStones, "stones in a file of proposals")
	timings := flag.Bool("timings", false, "print to standard error what each stage has sent on")
	flag.Parse()
	beam.Init()
	if err := run(context.Background(), opt, *timings); err != nil {
		fmt.Fprintln(os.Stderr, "musterstone-beam:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, opt options, timings bool) error {
	if opt.Survey == "" || opt.Out == "" {
		return errors.New("name the survey with --survey and the folder for the proposals with --out")
	}
	if err := os.MkdirAll(opt.Out, 0o755); err != nil {
		return fmt.Errorf("make the folder for the proposals: %w", err)
	}
	p, s := beam.NewPipelineWithRoot()
	if err := build(s, opt); err != nil {
		return err
	}
	result, err := beamx.RunWithMetrics(ctx, p)
	if err != nil {
		return fmt.Errorf("link the survey %s: %w", opt.Survey, err)
	}
	if timings {
		printCounters(result)
	}
	return nil
}

// printCounters prints what the stages counted.
func printCounters(result beam.PipelineResult) {
	for _, c := range counters(result) {
		fmt.Fprintf(os.Stderr, "%-60s %15d\n", c.name, c.n)
	}
}

type counter struct {
	name string
	n    int64
}

// counters are what the stages counted, by name.
func counters(result beam.PipelineResult) []counter {
	sum := map[string]int64{}
	found := result.Metrics().Query(func(r metrics.SingleResult) bool { return r.Namespace() == namespace })
	for _, c := range found.Counters() {
		sum[c.Name()] += max(c.Committed, c.Attempted)
	}
	for _, d := range found.Distributions() {
		sum[d.Name()] = max(sum[d.Name()], d.Committed.Max, d.Attempted.Max)
	}
	var out []counter
	for name, n := range sum {
		out = append(out, counter{name, n})
	}
	slices.SortFunc(out, func(a, b counter) int { return cmp.Compare(a.name, b.name) })
	return out
}
