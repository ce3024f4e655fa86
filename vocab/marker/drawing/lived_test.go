package drawing

import (
	"testing"

	"musterstone/model"
	"musterstone/model/date"
)

func TestLived(t *testing.T) {
	year := func(y int) date.Date { return date.On(y, 6, 1) }
	record := &model.Record{ID: "r1"}
	record.Person.Born, record.Person.Died = year(1841), year(1864)
	record.Service.Enlisted, record.Service.Conflicts = year(1862), []model.ConflictCode{"civil-war"}

	silent, taken := Lived(model.Claim{}, record)
	if p, s := silent.Person, silent.Service; !taken || p.Born != year(1841) || p.Died != year(1864) || s.Enlisted != year(1862) || len(s.Conflicts) != 1 {
		t.Errorf("of a silent stone: %+v, taken %v", silent, taken)
	}
	if silent.Service.MusteredOut != year(1864) {
		t.Errorf("he died two years after he enlisted, and left the service %v", silent.Service.MusteredOut)
	}

	var stone model.Claim
	stone.Person.Died, stone.Person.Age = year(1865), date.Age{Years: 22, Known: true}
	stone.Service.Enlisted, stone.Service.MusteredIn, stone.Service.MusteredOut, stone.Service.Conflicts = year(1861), year(1861), year(1863), []model.ConflictCode{"mexican-war"}
	told, taken := Lived(stone, record)
	if taken || !told.Person.Born.IsZero() || told.Person.Died != year(1865) || told.Service.Enlisted != year(1861) || told.Service.MusteredOut != year(1863) || told.Service.Conflicts[0] != "mexican-war" {
		t.Errorf("the stone's word does not go first: %+v, taken %v", told, taken)
	}

	record.Person.Died = year(1901)
	if old, _ := Lived(model.Claim{}, record); !old.Service.MusteredOut.IsZero() {
		t.Errorf("a man who died old left the service %v", old.Service.MusteredOut)
	}
}
