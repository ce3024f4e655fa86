package index

import (
	"reflect"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/model/date"
)

// ownFields are the fields of a record, and of what it is made of, that the functions of this package write and read by name.
var ownFields = map[reflect.Type]string{
	reflect.TypeFor[model.Record]():  " ID Source Written Claim ",
	reflect.TypeFor[model.Claim]():   " Person Service Home ",
	reflect.TypeFor[model.Person]():  " Name Born Died Age Birthplace Residence DeathPlace Buried Relation ",
	reflect.TypeFor[model.Service](): " Rank RankOut Brevet Unit Branch Side Conflicts Enlisted MusteredIn MusteredOut Awards Remarks Written ",
	reflect.TypeFor[model.Name]():    " Surname Given Middle Suffix GivenOr Written ",
	reflect.TypeFor[model.Source]():  " File Row Subject ",
	reflect.TypeFor[model.Unit]():    " Body State Number NumberLost Arm Kind Company Name Division Marks Written ",
	reflect.TypeFor[model.Cell]():    " Column Value ",
	reflect.TypeFor[date.Date]():     " EDTF From To Approximate Uncertain Written ",
	reflect.TypeFor[date.Day]():      " Year Month Day ",
	reflect.TypeFor[date.Age]():      " Years Months Days HasMonths HasDays Approximate Known Written ",
}

// strangeFields are the fields of ownFields' types that are not named there, because the model has gained them since.
func strangeFields() []string {
	var list []string
	for t, own := range ownFields {
		for i := range t.NumField() {
			if name := t.Field(i).Name; !strings.Contains(own, " "+name+" ") {
				list = append(list, t.String()+"."+name)
			}
		}
	}
	slices.Sort(list)
	return list
}

// modelGrew is set where there are such: then whole records are written by the codec, which is slower and takes more room, but loses nothing.
var modelGrew = sync.OnceValue(func() bool { return len(strangeFields()) > 0 })
