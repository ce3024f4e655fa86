package vocab

import (
	"fmt"
	"reflect"
	"strings"
	"unicode"
)

// Weights fills the fields of a struct, each a float32 or a float64, from a table whose columns are "weight", "value", "means" and "source": the field SecondRank is the
// weight "second-rank". It panics where a weight is missing, unknown or there twice, which the tests find.
func Weights(table string, into any) {
	v := reflect.ValueOf(into).Elem()
	value := map[string]float64{}
	rows := Rows(table)
	for _, r := range rows {
		value[r.Get("weight")] = r.Float("value")
	}
	if len(rows) != v.NumField() {
		panic(fmt.Sprintf("table %s has %d weights, want %d", table, len(rows), v.NumField()))
	}
	for i := range v.NumField() {
		name := parted(v.Type().Field(i).Name)
		x, ok := value[name]
		if !ok {
			panic("table " + table + " has no weight " + name)
		}
		v.Field(i).SetFloat(x)
	}
}

// parted is a field's name as a table writes it: "SecondRank" is "second-rank".
func parted(name string) string {
	var b strings.Builder
	for i, r := range name {
		if i > 0 && unicode.IsUpper(r) {
			b.WriteByte('-')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}
