package index

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"musterstone/model"
)

// TestWeakTies: where more men have the stone's names, or nearly, than there are candidates, its man is among these by what else is known.
func TestWeakTies(t *testing.T) {
	const crowd = 80 // more than a stone has candidates
	var none [2]model.ConflictCode
	for _, test := range []struct {
		what  string
		stone model.Claim
		man   string
		rest  string                // the men who would leave no place for him; %d is a number
		wars  [2]model.ConflictCode // his, and theirs
	}{
		{"men of the Veteran Reserve Corps stand with their regiments", claim("John Larkin", "Co. B, 9th V. R. C.", 0), "Larkin, John | Co. F, 31st Wis. Inf.", "Larkin, J. | Co. B, %dth V. R. C.", none},
		{"too young for that war", claim("John Larkin", "", 1896), "Larkin, John | Co. C, 339th Wis. Inf.", "Larkin, John | Co. F, %dth Wis. Inf.", [2]model.ConflictCode{"world-war-i", "civil-war"}},
		{"initials the other way round", claim("A. J. Larkin", "", 0), "Larkin, John A. | Co. F, 31st Wis. Inf.", "Larkin, Zadok | Co. B, %dth Wis. Inf.", none},
		{"a given name that is none", claim("Priedrich Larkin", "", 0), "Larkin, Frederick | Co. F, 31st Wis. Inf.", "Larkin, Zadok | Co. B, %dth Wis. Inf.", none},
		{"a surname rendered in English", claim("August Zimmermann", "", 0), "Carpenter, August | Co. F, 31st Wis. Inf.", "Zimmermann, Zadok | Co. B, %dth Wis. Inf.", none},
		{"one given name alone", claim("John Larkin", "", 0), "Larkin, John | Co. F, 31st Wis. Inf.", "Larkin, John Q. | Co. B, %dth Wis. Inf.", none},
	} {
		var records []*model.Record
		add := func(line string, war model.ConflictCode) {
			r := man(fmt.Sprintf("R%d | %s", len(records), line))
			if war != "" {
				r.Service.Conflicts = []model.ConflictCode{war}
			}
			records = append(records, r)
		}
		for i := range crowd {
			add(fmt.Sprintf(test.rest, 5+i), test.wars[1])
		}
		add(test.man, test.wars[0])
		x := open(t, t.TempDir(), inputs(records, "a"))
		found, err := x.Candidates(context.Background(), subject("S", test.stone), 0)
		if err != nil {
			t.Fatal(err)
		}
		if id := model.RecordID(fmt.Sprintf("R%d", crowd)); !slices.Contains(ids(found), id) {
			t.Errorf("%s: %s is not among the %d candidates", test.what, test.man, len(found))
		}
	}
}
