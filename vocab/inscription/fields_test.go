package inscription

import (
	"fmt"
	"strings"

	"musterstone/model"
)

// fields lists what a reading says, one "key: value" a line, in a fixed order. The first person's keys stand bare; those of the others begin
// with "2.", "3.", …
func fields(r model.Reading) []string {
	var out []string
	put := func(key, value string) {
		if value != "" {
			out = append(out, key+": "+value)
		}
	}
	for i, p := range r.People {
		pre := ""
		if i > 0 {
			pre = fmt.Sprintf("%d.", i+1)
		}
		n, s, u := p.Person.Name, p.Service, p.Service.Unit
		put(pre+"name", n.String())
		put(pre+"surname", n.Surname)
		put(pre+"or", strings.Join(n.GivenOr, ", "))
		put(pre+"relation", p.Person.Relation)
		rank := string(s.Rank)
		if s.Brevet {
			rank = "brevet " + rank
		}
		put(pre+"rank", rank)
		put(pre+"company", u.Company)
		if u.Number != 0 {
			put(pre+"regiment", fmt.Sprint(u.Number))
		}
		put(pre+"regiment-lost", u.NumberLost)
		put(pre+"kind", string(u.Kind))
		put(pre+"unit", u.Name)
		put(pre+"of", u.Designation())
		put(pre+"arm", string(u.Arm))
		if u.Division != 0 {
			put(pre+"division", fmt.Sprint(u.Division))
		}
		put(pre+"marks", strings.Join(u.Marks, " "))
		put(pre+"home", string(p.Home))
		put(pre+"branch", string(s.Branch))
		put(pre+"side", string(s.Side))
		var wars []string
		for _, c := range s.Conflicts {
			wars = append(wars, string(c))
		}
		put(pre+"conflicts", strings.Join(wars, " "))
		put(pre+"awards", strings.Join(s.Awards, " "))
		put(pre+"born", p.Person.Born.EDTF)
		put(pre+"died", p.Person.Died.EDTF)
		put(pre+"age", p.Person.Age.Written)
		put(pre+"birthplace", p.Person.Birthplace)
		put(pre+"residence", p.Person.Residence)
		put(pre+"death-place", p.Person.DeathPlace)
		put(pre+"enlisted", s.Enlisted.EDTF)
		put(pre+"mustered-in", s.MusteredIn.EDTF)
		put(pre+"mustered-out", s.MusteredOut.EDTF)
	}
	put("society", strings.Join(r.Society, " "))
	put("grave", r.GraveNumber)
	if r.Unknown {
		put("unknown", "yes")
	}
	if r.Memorial {
		put("memorial", "yes")
	}
	put("unread", strings.Join(r.Unread, " "))
	return out
}
