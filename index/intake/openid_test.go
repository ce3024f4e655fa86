package intake

import "testing"

// TestOpenID: an id that the metadata make of columns tells what is private where one of those is, or where the row had to be named by its cells.
func TestOpenID(t *testing.T) {
	for _, c := range []struct {
		name, about, private string
		open                 bool
	}{
		{"of an open column", "#g{num}", "phone", true},
		{"of a private column, by its title", "#g{num}", "num", false},
		{"of a private column, by its name", "#g{number}", "num", false},
		{"of the row's number", "#g{_row}", "phone", true},
		{"by no metadata", "", "phone", false},
		{"of a column that may be blank", "#{blank}", "phone", false},
	} {
		about := ""
		if c.about != "" {
			about = `"aboutUrl": "` + c.about + `", `
		}
		column := func(title, name string) string {
			private := ""
			if title == c.private {
				private = `, "ms:private": true`
			}
			return `{"titles": "` + title + `", "name": "` + name + `"` + private + `}`
		}
		dir := folder(t, map[string]string{
			"stones.csv": "num,blank,phone,inscription\n7,,555,ORRIN PELTRY\n",
			MetadataFile: `{"@context": "http://www.w3.org/ns/csvw", "tables": [{"url": "stones.csv", "tableSchema": {` + about + `"columns": [` + column("num", "number") + ", " + column("phone", "phone") + `]}}]}`,
		})
		s, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for stone := range s.Stones(nil) {
			n++
			if got := s.Tables[0].OpenID(string(stone.ID)); got != c.open {
				t.Errorf("%s: %q is open: %v, want %v", c.name, stone.ID, got, c.open)
			}
		}
		if n != 1 {
			t.Errorf("%s: %d stones", c.name, n)
		}
	}
}
