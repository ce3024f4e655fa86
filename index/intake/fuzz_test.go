package intake_test

import (
	"os"
	"path/filepath"
	"testing"

	"musterstone/index/intake"
	"musterstone/model"
)

// FuzzSurvey reads whatever bytes as metadata, as stones and as a roster. Nothing may panic, every complaint says where, and every row is
// read, or told of, or blank.
func FuzzSurvey(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "real", "*.json"))
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b, []byte("id,inscription\n1,X\n"), []byte("id,surname\n1,Smith\n"))
	}
	f.Add([]byte(""), []byte("id,inscription,width_in,latitude,longitude\n1,\"A\nB\",12 1/2,40,-80\n"), []byte("name;unit;enlisted;age\nSmith, John;Co. F, 31st Wis. Inf.;Aug. 9, '62;22\n"))
	f.Add([]byte(`{"tables":[{"url":"roster.csv","dialect":{"header":false,"delimiter":"\t","encoding":"utf-16"},"tableSchema":{"columns":[{"name":"surname"},{"virtual":true,"propertyUrl":"ms:died","ms:value":"{surname}/x"}]}}]}`),
		[]byte("\xff\xfei\x00d\x00"), []byte("\xfe\xff\x00a\x00,\x00b\x00\n"))
	f.Fuzz(func(t *testing.T, metadata, stones, roster []byte) {
		dir := t.TempDir()
		write(t, dir, "stones.csv", stones)
		write(t, dir, "roster.csv", roster)
		if len(metadata) > 0 {
			write(t, dir, intake.MetadataFile, metadata)
		}
		s, err := intake.Open(dir)
		if err != nil && err.Error() == "" {
			t.Error("an error without words")
		}
		if s != nil {
			s.Check(func(c model.Complaint) {
				if c.File == "" || c.Text == "" {
					t.Errorf("a complaint that does not say where or what: %+v", c)
				}
			})
			ids := map[model.RecordID]bool{}
			for r := range s.Records(nil) {
				if r.ID == "" || ids[r.ID] {
					t.Errorf("the id %q is empty or was given before", r.ID)
				}
				ids[r.ID] = true
			}
			if _, err := s.Digests(); err != nil {
				t.Errorf("digests: %v", err)
			}
		}
		if _, _, err := intake.Guess(dir); err != nil {
			t.Errorf("guess: %v", err)
		}
	})
}
