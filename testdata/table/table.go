// Package table writes the tables of invented surveys.
package table

import (
	"encoding/csv"
	"os"
)

// Write writes rows, the header first, as CSV into a file of their own.
func Write(path string, rows [][]string) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := csv.NewWriter(f).WriteAll(rows); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
