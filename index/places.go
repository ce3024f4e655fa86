package index

import (
	"context"
	"fmt"

	"musterstone/model"
)

// Places gives the candidates for a stone as Candidates does, but as the numbers of the records: their places in the order of the input, from 0.
func (x *Index) Places(ctx context.Context, s *model.Subject, limit int) ([]uint32, error) {
	all, err := x.best(ctx, s, limit)
	if err != nil {
		return nil, err
	}
	places := make([]uint32, len(all))
	for i, f := range all {
		places[i] = f.at()
	}
	return places, nil
}

// At is the record of that number.
func (x *Index) At(n uint32) (*model.Record, error) {
	if int(n) >= x.Len() {
		return nil, fmt.Errorf("there are %d records, and none with the number %d", x.Len(), n)
	}
	return x.record(int(n))
}

// Folder is where the files of the records lie, among them those that Inputs.Beside has made.
func (x *Index) Folder() string { return x.folder }
