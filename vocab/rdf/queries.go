package rdf

import (
	"embed"
	"io/fs"
	"os"
	"path/filepath"
)

// queries are questions that go with every publication.
//
//go:embed queries/*.rq
var queries embed.FS

func writeQueries(dir string) error {
	names, err := fs.Glob(queries, "queries/*.rq")
	if err != nil {
		return err
	}
	if err := os.Mkdir(filepath.Join(dir, "queries"), 0o777); err != nil {
		return err
	}
	for _, name := range names {
		text, err := queries.ReadFile(name)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), text, 0o666); err != nil {
			return err
		}
	}
	return nil
}
