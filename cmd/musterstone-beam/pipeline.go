package main

import (
	"fmt"
	"path/filepath"
	"reflect"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"musterstone/index/intake"
	"musterstone/link"
	"musterstone/link/ledger"
)

// options say what to link and how to part the work.
type options struct {
	Survey, Out string
	Precision   float64

	BlockRecords int // records in a block as read
	BlockStones  int // stones in a block
	Shard        int // records in a shard, of one kind of key
	Buckets      int // parts of ids, claims and components
	Component    int // the most stones that may contend with each other
	Rounds       int // of the fit
	FileStones   int // stones in a file of proposals
}

func defaults() options {
	return options{Precision: link.DefaultPrecision, BlockRecords: 10_000, BlockStones: 1000, Shard: 50_000, Buckets: 64, Component: 100_000, Rounds: link.MostRounds, FileStones: 100_000}
}

// The engine knows by name, on every worker, what may be sent to one.
func init() {
	for _, t := range []reflect.Type{
		reflect.TypeFor[readRecords](), reflect.TypeFor[readStones](), reflect.TypeFor[readInscriptions](), reflect.TypeFor[idsOf](), reflect.TypeFor[checkIDs](),
		reflect.TypeFor[countRecords](), reflect.TypeFor[countMoves](), reflect.TypeFor[partKnown](), reflect.TypeFor[dealRecords](), reflect.TypeFor[dealStones](), reflect.TypeFor[search](), reflect.TypeFor[numberStones](),
		reflect.TypeFor[weighStones](), reflect.TypeFor[countPatterns](), reflect.TypeFor[addPatterns](), reflect.TypeFor[beginFit](), reflect.TypeFor[countCases](), reflect.TypeFor[addSums](), reflect.TypeFor[nextFit](), reflect.TypeFor[claimsOf](),
		reflect.TypeFor[contenders](), reflect.TypeFor[joinForests](), reflect.TypeFor[partComponents](), reflect.TypeFor[settleComponents](),
		reflect.TypeFor[findCut](), reflect.TypeFor[finish](), reflect.TypeFor[writeProposals](),
	} {
		beam.RegisterType(t)
	}
	beam.RegisterCoder(reflect.TypeFor[known](), writeKnown, readKnown)
	beam.RegisterCoder(reflect.TypeFor[moves](), writeMoves, readMoves)
	beam.RegisterCoder(reflect.TypeFor[patterns](), writePatterns, readPatterns)
	beam.RegisterCoder(reflect.TypeFor[sums](), writeRound, readRound)
	beam.RegisterCoder(reflect.TypeFor[trees](), writeTrees, readTrees)
	beam.RegisterCoder(reflect.TypeFor[picks](), writePicks, readPicks)
}

// build makes the pipeline: the same run as the ordinary program's, from the files of a survey to files of proposals.
func build(s beam.Scope, opt options) error {
	for _, folder := range []*string{&opt.Survey, &opt.Out} {
		abs, err := filepath.Abs(*folder)
		if err != nil {
			return fmt.Errorf("find folder %s: %w", *folder, err)
		}
		*folder = abs
	}
	survey, err := openSurvey(opt.Survey)
	if err != nil {
		return err
	}
	var rosters, graves []int64
	for i, t := range survey.Tables {
		if t.Kind == intake.Roster {
			rosters = append(rosters, int64(i))
		} else {
			graves = append(graves, int64(i))
		}
	}
	if len(rosters) == 0 || len(graves) == 0 {
		return fmt.Errorf("the survey %s has %d rosters and %d tables of stones: there is nothing to link", opt.Survey, len(rosters), len(graves))
	}

	l, err := ledger.Open(filepath.Join(opt.Survey, ledger.FileName))
	if err != nil {
		return err
	}
	if n := len(l.Decisions()); n > 0 {
		return fmt.Errorf("the ledger of the survey %s holds %d decisions, and this program makes proposals without any: link the survey in a folder without %s, or with musterstone propose", opt.Survey, n, ledger.FileName)
	}

	records := beam.Reshuffle(s, beam.ParDo(s.Scope("read rosters"), &readRecords{Survey: opt.Survey, Size: opt.BlockRecords},
		beam.Reshuffle(s, beam.CreateList(s, rosters))))
	rows := beam.Reshuffle(s, beam.ParDo(s.Scope("read stones"), &readStones{Survey: opt.Survey, Size: opt.BlockStones},
		beam.Reshuffle(s, beam.CreateList(s, graves))))
	check(s, records, len(rosters), &idsOf{Buckets: opt.Buckets}, opt)
	check(s, rows, len(graves), &idsOf{Stones: true, Buckets: opt.Buckets}, opt)
	subjects := beam.ParDo(s.Scope("read inscriptions"), &readInscriptions{}, rows)

	count := s.Scope("count")
	counted := beam.Combine(count, &countRecords{}, records)
	moved := beam.Combine(count, &countMoves{}, subjects)

	totals, counts, size := beam.ParDo3(count, &partKnown{}, counted, beam.SideInput{Input: moved})

	find := s.Scope("find")
	known := beam.SideInput{Input: totals}
	dealt := beam.ParDo(find, &dealRecords{parting{Size: opt.Shard}}, records, known)
	sought := beam.ParDo(find, &dealStones{parting{Size: opt.Shard}}, subjects, known)
	candidates := beam.ParDo(find, &search{parting{Size: opt.Shard}}, beam.CoGroupByKey(find, dealt, sought), known)

	weighing := s.Scope("weigh")
	byBlock := beam.ParDo(weighing, &numberStones{}, subjects)
	weighed, cases := beam.ParDo2(weighing, &weighStones{}, beam.CoGroupByKey(weighing, byBlock, candidates), beam.SideInput{Input: counts}, beam.SideInput{Input: moved})

	fit := fitRounds(s, cases, opt.Rounds)
	propose(s, settleStones(s, weighed, size, fit, opt), counts, opt)
	return nil
}

// check looks that no two tables give one id.
func check(s beam.Scope, blocks beam.PCollection, tables int, ids *idsOf, opt options) {
	if tables < 2 {
		return // within a table the reading looks after it
	}
	s = s.Scope("check ids")
	beam.ParDo(s, &checkIDs{Survey: opt.Survey}, beam.GroupByKey(s, beam.ParDo(s, ids, blocks)))
}

// numberStones gives a block of stones under its number.
type numberStones struct{}

func (numberStones) ProcessElement(in []byte, emit func(int64, []byte)) error {
	var b stoneBlock
	if err := unpack(in, &b); err != nil {
		return err
	}
	emit(b.Block, in)
	return nil
}
