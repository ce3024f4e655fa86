package main

import (
	"encoding/json"
	"path/filepath"
	"testing"

	"musterstone/link/assess"
	"musterstone/testdata/county"
)

// TestMadeSurveys assesses made surveys of a size for every day: what is proposed must be right, and most of what can be found must be proposed.
func TestMadeSurveys(t *testing.T) {
	for _, tt := range []struct {
		name              string
		messy             bool
		precision, recall float64
	}{
		{"clean", false, 0.97, 0.90},
		{"messy", true, 0.96, 0.80},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			if err := county.Make(dir, county.Options{Seed: 7, Records: 4000, Stones: 400, Messy: tt.messy}); err != nil {
				t.Fatal(err)
			}
			var r assess.Report
			if err := json.Unmarshal([]byte(command(t, "assess", "--json", "--survey", dir, filepath.Join(dir, "truth.csv"))), &r); err != nil {
				t.Fatal(err)
			}
			t.Logf("precision %.3f, recall %.3f, calibration error %.3f, true record found %.3f", r.Precision.Value(), r.Recall.Value(), r.ECE, r.Found.Value())
			if r.Precision.Value() < tt.precision || r.Recall.Value() < tt.recall {
				t.Errorf("precision %.3f and recall %.3f, want at least %.2f and %.2f", r.Precision.Value(), r.Recall.Value(), tt.precision, tt.recall)
			}
			if r.Found.Value() < 0.99 {
				t.Errorf("the true record is among the candidates of %.3f of the stones, want 0.99", r.Found.Value())
			}
		})
	}
}
