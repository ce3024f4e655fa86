package intake

import "testing"

// TestPrivateTwins: a column of a graph that is named without a prefix is private under every property that says the same, the one of schema.org that begins with https too.
func TestPrivateTwins(t *testing.T) {
	for _, property := range []string{"https://w3id.org/musterstone/vocab#surname", "http://schema.org/familyName", "https://schema.org/familyName", "http://xmlns.com/foaf/0.1/familyName"} {
		dir := folder(t, map[string]string{
			"roster.ttl": "@prefix ms: <https://w3id.org/musterstone/vocab#> .\n<https://data.example.org/r1> a ms:ServiceRecord ; <" + property + `> "Quorn" ; ms:company "D" .` + "\n",
			MetadataFile: `{"@context": "http://www.w3.org/ns/csvw", "tables": [{"url": "roster.ttl", "tableSchema": {"columns": [{"titles": "surname", "ms:private": true}]}}]}`,
		})
		s, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for r := range s.Records(nil) {
			for _, c := range r.Written {
				if private := s.Private("roster.ttl", c.Column); private != (c.Value == "Quorn") {
					t.Errorf("%s: %s %q is private: %v", property, c.Column, c.Value, private)
				}
				if c.Value == "Quorn" {
					n++
				}
			}
		}
		if n != 1 {
			t.Errorf("%s: %d surnames are read", property, n)
		}
	}
}
