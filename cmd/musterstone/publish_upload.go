package main

import (
	"context"
	"fmt"
	"strings"

	"musterstone/cmd/musterstone/internal/upload"
)

// upload puts the publication in the folder out into a store: data, proposals, vocabulary and description, each into a graph of its own.
func (a *app) upload(ctx context.Context, out, base, to string, earlier upload.Manifest) error {
	tell := a.progress()
	u := &upload.Uploader{To: to, Progress: func(file string, sent, total int64) { tell("uploading "+file, int(sent), int(total)) }}
	graphs := []upload.Graph{
		{File: "dataset.nt", Name: base + "dataset"},
		{File: "proposals.nt", Name: base + "proposals"},
		{File: "vocabulary.ttl", Name: base + "vocabulary.ttl"},
		{File: "about.ttl", Name: base + "about.ttl"},
	}
	sent, err := u.Run(ctx, out, graphs, earlier)
	if err != nil {
		return fmt.Errorf("publish --to: %w", err)
	}
	var names []string
	for _, g := range graphs {
		names = append(names, "<"+g.Name+">")
	}
	a.note(fmt.Sprintf("the store has taken %d bytes into %s", sent, strings.Join(names, ", ")))
	return nil
}
