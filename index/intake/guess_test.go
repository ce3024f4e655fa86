package intake_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/index/intake"
)

// TestGuess guesses at the folders of testdata/guesses. The wanted text is the metadata, then the notes, then what the folder holds when it is read
// by them. UPDATE=1 writes what is got.
func TestGuess(t *testing.T) {
	files, err := filepath.Glob("testdata/guesses/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no folders: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			const mark = "-- want --\n"
			input, want, _ := strings.Cut(string(b), mark)
			dir := filepath.Join(folder(t, ""), "alder")
			if err := os.Rename(folder(t, input), dir); err != nil {
				t.Fatal(err)
			}
			text, notes, err := intake.Guess(dir)
			if err != nil {
				t.Fatal(err)
			}
			again, _, err := intake.Guess(dir)
			if err != nil || string(again) != string(text) {
				t.Errorf("guessed differently the second time: %v", err)
			}
			if _, err := os.Stat(filepath.Join(dir, intake.MetadataFile)); err == nil {
				t.Error("the guess was written to the folder")
			}
			if text != nil {
				write(t, dir, intake.MetadataFile, text)
			}
			got := string(text) + "\n" + strings.Join(notes, "\n") + "\n\n" + describe(read(t, dir))
			if os.Getenv("UPDATE") != "" {
				if err := os.WriteFile(file, []byte(input+mark+got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("want -, got +:\n%s", diff)
			}
		})
	}
}
