package main

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/model"
	"musterstone/vocab/rdf"
)

func (a *app) publishCommand() *cli.Command {
	return &cli.Command{
		Name:      "publish",
		Usage:     "write the dataset as Turtle, with vocabulary, shapes and description",
		UsageText: "musterstone publish [--survey FOLDER] [--json] OUT",
		Description: "Writes into the folder OUT: dataset.ttl and the same as sorted N-Triples, vocabulary.ttl, shapes.ttl, about.ttl and a README.\n" +
			"A proposal is published as a proposal; only what a person confirmed is published as a link. Columns marked private in the metadata\n" +
			"stay at home, and so does everybody who may be living. An earlier publication in OUT is replaced whole, or not at all.\n\nExample: musterstone publish --survey alder alder-2026",
		Flags: []cli.Flag{surveyFlag(), jsonFlag()},
		Action: func(c *cli.Context) error {
			if c.Args().Len() != 1 {
				return &usageError{text: "publish takes one folder to write into", hint: "for example: musterstone publish --survey alder alder-published"}
			}
			j, err := a.open(c)
			if err != nil {
				return err
			}
			defer j.Close()
			out := c.Args().First()
			if same, err := sameFolder(out, j.Survey.Dir); err != nil || same {
				if err != nil {
					return err
				}
				return &job.Refused{Text: fmt.Sprintf("publish %s: this is the survey itself; give another folder, one in it will do", out)}
			}
			proposals, err := j.Propose(c.Context, 0)
			if err != nil {
				return err
			}
			findings, err := j.Unmarked(c.Context, proposals)
			if err != nil {
				return err
			}
			summary, err := a.publish(c.Context, j, out, proposals, findings)
			if err != nil {
				return err
			}
			if c.Bool("json") {
				if err := json.NewEncoder(a.out).Encode(summary); err != nil {
					return err
				}
				return a.finish(j, false)
			}
			rows := [][]string{
				{"stones", fmt.Sprint(summary.Stones)}, {"records", fmt.Sprint(summary.Records)}, {"confirmed links", fmt.Sprint(summary.Links)},
				{"triples", fmt.Sprint(summary.Triples)}, {"SHA-256 of dataset.nt", summary.Digest},
			}
			for _, h := range summary.Held {
				rows = append(rows, []string{"held back", fmt.Sprintf("%d %s: %s", h.N, h.What, h.Why)})
			}
			columns(a.out, "", rows)
			for _, n := range summary.Notes {
				fmt.Fprintf(a.out, "note: %s\n", plain(n))
			}
			fmt.Fprintf(a.out, "written: %s in %s\n", strings.Join(summary.Files, ", "), plain(out))
			return a.finish(j, false)
		},
	}
}

// placeholderBase is the base IRI of a survey whose metadata give none; example.org is set aside for such use (RFC 2606).
const placeholderBase = "https://example.org/survey/"

func (a *app) publish(ctx context.Context, j *job.Job, out string, proposals []model.Proposal, findings []model.Finding) (rdf.Summary, error) {
	x, err := j.Index(ctx)
	if err != nil {
		return rdf.Summary{}, err
	}
	l, err := j.Ledger()
	if err != nil {
		return rdf.Summary{}, err
	}
	digests, err := j.Digests()
	if err != nil {
		return rdf.Summary{}, err
	}
	base := j.Survey.Base
	if base == "" {
		base = placeholderBase
		a.note("the metadata give the data no base IRI; " + base + " stands in for it: set \"base\" in csv-metadata.json before others use the publication")
	}
	if !strings.HasSuffix(base, "/") && !strings.HasSuffix(base, "#") {
		base += "/"
	}
	var private []string
	for _, t := range j.Survey.Tables {
		for _, col := range t.Columns {
			if col.Private {
				private = append(private, col.Name)
			}
		}
	}
	summary, err := rdf.Publish(out, rdf.Dataset{
		Base: base, Title: j.Survey.Title, Licence: j.Survey.Licence, Publisher: j.Survey.Publisher,
		Year: a.now().Year(), Program: "Musterstone " + version, Inputs: digests,
		Subjects: slices.Values(j.Subjects()), Records: x.Records(ctx), Proposals: proposals, Decisions: l.Decisions(), Findings: findings, Private: private,
	})
	if err != nil {
		return summary, err
	}
	return summary, x.Err()
}

// sameFolder reports whether two paths name one folder.
func sameFolder(a, b string) (bool, error) {
	x, err := filepath.Abs(a)
	if err != nil {
		return false, fmt.Errorf("find folder %s: %w", a, err)
	}
	y, err := filepath.Abs(b)
	if err != nil {
		return false, fmt.Errorf("find folder %s: %w", b, err)
	}
	return x == y, nil
}
