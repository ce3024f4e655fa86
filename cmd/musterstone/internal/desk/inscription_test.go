package desk

import (
	"testing"

	"musterstone/model"
)

// TestUnderstoodInWords: what the words of a stone gave is told in words, never by its code.
func TestUnderstoodInWords(t *testing.T) {
	var c model.Claim
	c.Home = "WI"
	c.Service = model.Service{Unit: model.Unit{State: "OH", Body: "usct", Arm: "heavy-artillery"}, Branch: "marine-corps", Side: "confederate", Conflicts: []model.ConflictCode{"civil-war", "indian-wars"}}
	for field, want := range map[string]string{
		"home": "Wisconsin", "state": "Ohio", "body": "US Colored Troops", "arm": "Heavy Artillery", "branch": "Marine Corps", "side": "Confederate", "conflict": "Civil War, Indian Wars",
	} {
		if got := understood(c, field); got != want {
			t.Errorf("%s: %q, want %q", field, got, want)
		}
		if got := understood(model.Claim{}, field); got != "" {
			t.Errorf("%s of nothing: %q", field, got)
		}
	}
}
