package job

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	"musterstone/link/assess"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
)

// volunteer links as an able volunteer might who writes a short script: by rules alone, without weights. A stone gets the one record of its surname, letter for letter, and of its given name's first letter of which
// nothing else that both give says otherwise: the number of the regiment, the company's letter, the unit's state or body, the year of birth (worked out from the age at enlistment where a roster has no other) to within two. Where no such
// record is left, or more than one, it gets none, but rows of one name in one company of one regiment are one man's, of whom the first is taken; nor does a stone without a whole surname or any letter of a given name, or of which nothing but the name can be compared.
// What stands on the stone it is given as this program reads it, which is more than a short script would get out of it.
type volunteer map[string][]*model.Record // by surname and first letter

func newVolunteer(records []*model.Record) volunteer {
	v := volunteer{}
	for _, r := range records {
		if k := nameKey(r.Person.Name); k != "" {
			v[k] = append(v[k], r)
		}
	}
	return v
}

// nameKey is a surname and the first letter of a given name; "" where either is not known.
func nameKey(n model.Name) string {
	given := name.Fold(n.Given)
	if n.Surname == "" || given == "" || name.Uncertain(n.Surname) || name.Uncertain(n.Given[:1]) {
		return ""
	}
	return name.Fold(n.Surname) + " " + given[:1]
}

// link is the record of a stone that says this and was read as it was; "" where the rules leave none, or several.
func (v volunteer) link(c *model.Claim) model.RecordID {
	var only *model.Record
	for _, r := range v[nameKey(c.Person.Name)] {
		compared, agree := v.agree(c, r)
		if !agree {
			continue
		}
		if compared == 0 || only != nil && !again(only, r) {
			return ""
		}
		only = cmp.Or(only, r)
	}
	if only == nil {
		return ""
	}
	return only.ID
}

// again reports whether two rows, of one surname, are of one given name in one company.
func again(a, b *model.Record) bool {
	u, w := &a.Service.Unit, &b.Service.Unit
	return a.Person.Name.Given == b.Person.Name.Given && u.Number == w.Number && u.Number > 0 && u.Company == w.Company && u.Company != "" && u.State == w.State && u.Body == w.Body
}

// agree reports how much beside the name stone and record both give, and whether all of that agrees.
func (volunteer) agree(c *model.Claim, r *model.Record) (compared int, agree bool) {
	agree = true
	both := func(given, same bool) {
		if given {
			compared++
			agree = agree && same
		}
	}
	mine, theirs := &c.Service.Unit, &r.Service.Unit
	both(mine.Number > 0 && theirs.Number > 0, mine.Number == theirs.Number)
	both(mine.Company != "" && theirs.Company != "", mine.Company == theirs.Company)
	both(mine.State != "" && theirs.State != "", mine.State == theirs.State)
	both(mine.Body != "" && theirs.Body != "", mine.Body == theirs.Body)
	born := c.Person.Born
	if born.IsZero() && !c.Person.Died.IsZero() && c.Person.Age.Known {
		born = date.BirthFrom(c.Person.Died, c.Person.Age)
	}
	listed := r.Birth()
	closed := func(d date.Date) bool { return !d.IsZero() && !d.From.IsZero() && !d.To.IsZero() }
	both(closed(born) && closed(listed), born.From.Year-2 <= listed.To.Year && listed.From.Year-2 <= born.To.Year)
	return compared, agree
}

// TestVolunteer holds the rules to what is said of them.
func TestVolunteer(t *testing.T) {
	rec := func(id, surname, given, company string, number int, state model.State, born int) *model.Record {
		r := &model.Record{ID: model.RecordID(id)}
		r.Person.Name = model.Name{Surname: surname, Given: given}
		r.Service.Unit = model.Unit{Company: company, Number: number, State: state}
		if born > 0 {
			r.Person.Born = date.Year(born)
		}
		return r
	}
	v := newVolunteer([]*model.Record{
		rec("1", "Holden", "John", "F", 31, "WI", 1840), rec("2", "Holden", "James", "F", 44, "WI", 1840), rec("3", "Holden", "Amos", "F", 31, "WI", 1840),
		rec("4", "Kolb", "Peter", "A", 9, "WI", 0), rec("5", "Kolb", "Paul", "B", 9, "WI", 0),
		rec("6", "Lantz", "Otto", "B", 9, "WI", 0), rec("7", "Lantz", "Otto", "B", 9, "WI", 0), rec("8", "Lantz", "Emil", "", 9, "WI", 0), rec("9", "Lantz", "Emil", "", 9, "WI", 0),
	})
	for _, tt := range []struct {
		name  string
		stone *model.Record
		want  model.RecordID
	}{
		{"a regiment decides", rec("", "HOLDEN", "J", "F", 31, "", 0), "1"},
		{"two are left", rec("", "Holden", "J", "F", 0, "WI", 1840), ""},
		{"born two years off", rec("", "Holden", "Amos", "", 0, "", 1842), "3"},
		{"born three years off", rec("", "Holden", "Amos", "", 0, "", 1843), ""},
		{"another company", rec("", "Holden", "Amos", "G", 31, "WI", 1840), ""},
		{"another state", rec("", "Holden", "Amos", "F", 31, "IA", 1840), ""},
		{"a name alone", rec("", "Holden", "Amos", "", 0, "", 0), ""},
		{"another spelling", rec("", "Holdin", "Amos", "F", 31, "WI", 1840), ""},
		{"a lost letter", rec("", "Hold[.]n", "Amos", "F", 31, "WI", 1840), ""},
		{"no given name", rec("", "Holden", "", "F", 31, "WI", 1840), ""},
		{"two rows of one man", rec("", "Lantz", "O", "", 9, "", 0), "6"},
		{"two rows of no company", rec("", "Lantz", "E", "", 9, "", 0), ""},
		{"a company decides", rec("", "Kolb", "P", "B", 0, "", 0), "5"},
	} {
		if got := v.link(&tt.stone.Claim); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// BenchmarkVolunteer links the surveys of BenchmarkQuality, but for those of prairie, as a volunteer would. It tells how hard the makers' surveys are by a measure that is not this program's.
func BenchmarkVolunteer(b *testing.B) {
	for _, maker := range []string{"county", "parish", "valley", "junction", "landing", "haven", "orchard", "quarry", "ferry"} {
		for _, s := range []survey{{records: 20000, stones: 1000}, {records: 20000, stones: 1000, messy: true}, {records: 200000, stones: 1000}} {
			for s.maker, s.seed = maker, 1; s.seed <= 3; s.seed++ {
				b.Run(fmt.Sprint(s), func(b *testing.B) {
					j, truth := s.open(b)
					records := slices.Collect(j.Survey.Records(func(model.Complaint) {}))
					subjects := j.Subjects()
					for b.Loop() {
						v := newVolunteer(records)
						linked, right, links := 0, 0, 0
						for _, sub := range subjects {
							trues := truth[sub.Stone.ID]
							if len(trues) > 0 {
								links++
							}
							claim := sub.Reading().Claim()
							if id := v.link(&claim); id != "" {
								linked++
								if slices.Contains(trues, id) {
									right++
								}
							}
						}
						b.ReportMetric(assess.NewRate(right, linked).Value(), "precision")
						b.ReportMetric(assess.NewRate(right, links).Value(), "recall")
					}
				})
			}
		}
	}
}
