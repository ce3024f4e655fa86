package main

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/link/assess"
	"musterstone/model"
)

func (a *app) assessCommand() *cli.Command {
	return &cli.Command{
		Name:      "assess",
		Usage:     "precision, recall and calibration of the proposals against a table of true links",
		UsageText: "musterstone assess [--survey FOLDER] [--json] [--precision 0.98] TRUTH.csv",
		Description: "TRUTH.csv has the columns stone and record. A stone that is not in it counts as having no record; a stone with the record ? is\n" +
			"left out. Decisions of the ledger are not used: the program is measured as it is without help. Writes nothing.\n\nExample: musterstone assess --survey alder alder/truth.csv",
		Flags: []cli.Flag{surveyFlag(), jsonFlag(), precisionFlag()},
		Action: func(c *cli.Context) error {
			if c.Args().Len() != 1 {
				return &usageError{text: "assess takes one table of true links", hint: "for example: musterstone assess --survey alder truth.csv"}
			}
			p, err := precision(c)
			if err != nil {
				return err
			}
			j, err := a.open(c)
			if err != nil {
				return err
			}
			defer j.Close()
			truth, err := readTruth(c.Args().First(), j)
			if err != nil {
				return err
			}
			proposals, err := j.ProposeUnhelped(c.Context, p)
			if err != nil {
				return err
			}
			r := assess.Assess(proposals, truth)
			if c.Bool("json") {
				err = json.NewEncoder(a.out).Encode(r)
			} else {
				err = printReport(a.out, r)
			}
			if err != nil {
				return err
			}
			return a.finish(j, false)
		},
	}
}

// readTruth reads a table of true links; every stone in it must be one of the survey's.
func readTruth(path string, j *job.Job) (assess.Truth, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, &job.Refused{Err: fmt.Errorf("read the true links: %w", err)}
	}
	defer f.Close()
	in := bufio.NewReader(f)
	if bom, _ := in.Peek(3); string(bom) == "\ufeff" {
		in.Discard(3)
	}
	r := csv.NewReader(in)
	header, err := r.Read()
	if err != nil {
		return nil, &job.Refused{Err: fmt.Errorf("read the header of %s: %w; want the columns stone and record", path, err)}
	}
	stone, record := -1, -1
	for i, h := range header {
		switch strings.ToLower(strings.TrimSpace(h)) {
		case "stone":
			stone = i
		case "record":
			record = i
		}
	}
	if stone < 0 || record < 0 {
		return nil, &job.Refused{Text: fmt.Sprintf("%s: the columns are %q; want stone and record", path, header)}
	}
	known := map[model.StoneID]bool{}
	for _, s := range j.Stones() {
		known[s.ID] = true
	}
	truth := assess.Truth{}
	for row := 2; ; row++ {
		cells, err := r.Read()
		if err == io.EOF {
			return truth, nil
		}
		if errors.Is(err, csv.ErrFieldCount) || err != nil {
			return nil, &job.Refused{Err: fmt.Errorf("%s:%d: %w", path, row, err)}
		}
		id := model.StoneID(cells[stone])
		if !known[id] {
			return nil, &job.Refused{Text: fmt.Sprintf("%s:%d: column \"stone\": there is no stone %q in the survey", path, row, id)}
		}
		if cells[record] != "" {
			truth[id] = append(truth[id], model.RecordID(cells[record]))
		}
	}
}

func printReport(w io.Writer, r assess.Report) error {
	rate := func(x assess.Rate) string {
		if x.Of == 0 {
			return "none to count"
		}
		return fmt.Sprintf("%.3f  (%d of %d; 95%% interval %.3f to %.3f)", x.Value(), x.Hits, x.Of, x.Low, x.High)
	}
	columns(w, "", [][]string{
		{"stones", fmt.Sprintf("%d, of which %d have a true record", r.Stones, r.Links)},
		{"precision of what is proposed", rate(r.Precision)},
		{"recall of what is proposed", rate(r.Recall)},
		{"the true record stands first", rate(r.First)},
		{"… among the first five", rate(r.Five)},
		{"… among the candidates", rate(r.Found)},
		{"calibration error", fmt.Sprintf("%.3f  (Brier %.3f, log loss %.3f bits)", r.ECE, r.Brier, r.LogLoss)},
		{"expected without the truth", fmt.Sprintf("precision %.3f, recall %.3f", r.ExpectedPrecision, r.ExpectedRecall)},
	})
	if len(r.Errors) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nnot as the truth has it:")
	var rows [][]string
	for _, e := range r.Errors {
		trues := make([]string, len(e.True))
		for i, t := range e.True {
			trues[i] = string(t)
		}
		is := "true: " + strings.Join(trues, ", ")
		if len(trues) == 0 {
			is = "true: none"
		}
		proposed := ""
		if e.Proposed != "" {
			proposed = "proposed: " + string(e.Proposed)
		}
		rows = append(rows, []string{string(e.Stone), e.Kind, is, proposed})
	}
	columns(w, "  ", rows)
	return nil
}
