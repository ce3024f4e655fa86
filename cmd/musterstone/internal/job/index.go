package job

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strings"
	"sync"

	"musterstone/index"
	"musterstone/index/intake"
	"musterstone/model"
)

// Index opens the index of the survey's records, and builds it where it is not there or its inputs have changed.
func (j *Job) Index(ctx context.Context) (*index.Index, error) {
	if j.index != nil {
		return j.index, nil
	}
	digests, err := j.Digests()
	if err != nil {
		return nil, err
	}
	stones := j.eachStone()
	digestOfGraves := sync.OnceValue(func() string {
		if j.packing != nil {
			j.packing.graves = nil
			j.packStones()
		}
		return inputsDigest(j.opts.Program, j.graveDigests(digests))
	})
	if j.packing != nil {
		j.packing.graves = digestOfGraves
	} else {
		digestOfGraves()
	}
	defer j.stage("opening or building the index")()
	var parts []index.Part
	for _, r := range j.Survey.Rosters() {
		of := map[string]string{intake.MetadataFile: digests[intake.MetadataFile], r.File: digests[r.File]}
		parts = append(parts, index.Part{File: r.File, Digest: inputsDigest(j.opts.Program, of), Batches: r.Batches(), Keep: r.Keep, Told: r.Told})
	}
	about := j.Survey.RecordsAbout()
	if j.packing == nil { // else it counts the stones
		bound(building(about), j.packed.len(), len(j.stones))
	}
	x, err := index.Open(ctx, j.Survey.Dir, index.Inputs{
		Rosters: inputsDigest(j.opts.Program, j.rosterDigests(digests)),
		Graves:  digestOfGraves,
		Parts:   parts,
		About:   about,
		Stones:  stones,
		Beside:  j.packBeside,
		Found:   j.readBeside(),
	}, index.Options{Progress: func(stage string, done, total int) { j.opts.Progress("indexing "+stage, done, total) }})
	if err != nil {
		return nil, fmt.Errorf("open the index of %s: %w", j.Survey.Dir, err)
	}
	for _, c := range x.Complaints() {
		j.complain(c)
	}
	for _, n := range x.Notes {
		j.opts.Note(n)
	}
	j.index = x
	j.keepDigests()
	return x, nil
}

// graveDigests are the digests of the files that the stones are made of, as far as they could be read.
func (j *Job) graveDigests(digests map[string]string) map[string]string {
	graves := map[string]string{intake.MetadataFile: digests[intake.MetadataFile]}
	for _, t := range j.Survey.Tables {
		if t.Kind != intake.Roster {
			graves[t.File] = digests[t.File]
		}
	}
	for _, c := range j.Complaints() {
		if _, ok := graves[c.File]; ok && c.Unread { // what is made without it is not what is made of the whole files, nor of others that broke off elsewhere
			graves[""] += fmt.Sprintf("without what the disk did not give: %s after row %d; ", c.File, c.Row)
		}
	}
	return graves
}

// rosterDigests are the digests of the files that the index of records is made of.
func (j *Job) rosterDigests(digests map[string]string) map[string]string {
	rosters := map[string]string{intake.MetadataFile: digests[intake.MetadataFile]}
	for _, t := range j.Survey.Tables {
		if t.Kind == intake.Roster {
			rosters[t.File] = digests[t.File]
		}
	}
	return rosters
}

// eachStone gives the stones, which it reads first where nothing has, for what is wrong with them.
func (j *Job) eachStone() iter.Seq[*model.Stone] {
	if j.packed == nil && j.packing == nil || j.read {
		return slices.Values(j.Stones())
	}
	return j.Survey.Stones(func(model.Complaint) {}) // told when they were packed
}

// Close gives back what the job holds open.
func (j *Job) Close() error {
	if j.index == nil {
		return nil
	}
	return j.index.Close()
}

// inputsDigest is one digest for all the files and the program that understands them.
func inputsDigest(program string, digests map[string]string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "musterstone %s\n", program)
	for _, file := range slices.Sorted(maps.Keys(digests)) {
		fmt.Fprintf(&b, "%s %s\n", digests[file], file)
	}
	sum := sha256.Sum256([]byte(b.String()))
	return hex.EncodeToString(sum[:])
}
