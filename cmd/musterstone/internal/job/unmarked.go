package job

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"musterstone/index/intake"
	"musterstone/link/unmarked"
	"musterstone/model"
	"musterstone/vocab/rdf"
)

// UnmarkedInput is what the veterans with no government marker are found from, with the survey's table of cemeteries where it has one.
func (j *Job) UnmarkedInput(ctx context.Context, proposals []model.Proposal) (unmarked.Input, error) {
	x, err := j.Index(ctx)
	if err != nil {
		return unmarked.Input{}, err
	}
	l, err := j.Follow(ctx)
	if err != nil {
		return unmarked.Input{}, err
	}
	grounds, err := j.Cemeteries()
	if err != nil {
		return unmarked.Input{}, err
	}
	year := j.opts.Year
	return unmarked.Input{Subjects: about(j.Subjects(), proposals), Proposals: proposals, Records: x.Records(ctx), Decisions: l.State(), Cemeteries: grounds,
		LivingRecord: func(r *model.Record) bool { return rdf.LivingInRecord(r, year) }, LivingStone: func(s *model.Subject) bool { return rdf.LivingOnStone(s, year) }}, nil
}

// about are subjects as they speak of the men of their proposals.
func about(subjects []*model.Subject, proposals []model.Proposal) []*model.Subject {
	men := map[model.StoneID]*model.Candidate{}
	for i := range proposals {
		if c := proposals[i].Man(); c != nil && c.Person > 0 {
			men[proposals[i].Stone] = c
		}
	}
	if len(men) == 0 {
		return subjects
	}
	out := make([]*model.Subject, len(subjects))
	for i, s := range subjects {
		out[i] = s.About(men[s.Stone.ID])
	}
	return out
}

// Cemeteries are the burial grounds that the stones name, with the former names and further grounds of the table cemeteries.csv, where the survey has one.
func (j *Job) Cemeteries() ([]unmarked.Cemetery, error) {
	grounds := unmarked.Cemeteries(j.Subjects())
	listed, err := j.listed()
	if err != nil {
		return nil, err
	}
	return unmarked.Gazetteer(grounds, listed), nil
}

// listed reads the table cemeteries.csv; nil where there is none.
func (j *Job) listed() ([]unmarked.Cemetery, error) {
	if err := intake.Within(j.Survey.Dir, intake.Cemeteries); err != nil {
		return nil, fmt.Errorf("read the survey's cemeteries: %s: %w", intake.Cemeteries, err)
	}
	f, err := os.Open(filepath.Join(j.Survey.Dir, intake.Cemeteries))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("read the survey's cemeteries: %w", err)
	}
	defer f.Close()
	listed, complaints := unmarked.ReadCemeteries(intake.Beside(f), intake.Cemeteries)
	for _, c := range complaints {
		j.complain(c)
	}
	return listed, nil
}
