package vocab

import (
	"fmt"
	"strings"
	"sync"

	"musterstone/model"
)

// labelTables names, for each kind of code, the table and the columns that hold its words.
var labelTables = map[string][3]string{
	"conflict": {"conflicts", "code", "name"},
	"branch":   {"branches", "code", "name"},
	"side":     {"sides", "code", "name"},
	"body":     {"bodies", "code", "name"},
	"arm":      {"arms", "code", "name"},
	"state":    {"states", "code", "name"},
	"mark":     {"unit-marks", "code", "name"},
	"pattern":  {"patterns", "code", "name"},
	"service":  {"service-classes", "code", "label"},
}

var labels = sync.OnceValue(func() map[[2]string]string {
	m := map[[2]string]string{}
	for _, r := range Rows("labels") {
		m[[2]string{r.Get("kind"), r.Get("code")}] = r.Get("label")
	}
	for kind, t := range labelTables {
		for _, r := range Rows(t[0]) {
			m[[2]string{kind, r.Get(t[1])}] = r.Get(t[2])
		}
	}
	return m
})

// Label gives the trade's words for a code: Label("conflict", "civil-war") is "Civil War", Label("arm", "heavy-artillery") is
// "Heavy Artillery", Label("service", "civil-war/union") is "Union service in the Civil War". The kinds are conflict, branch, side, body, arm,
// state, rank, pattern, service, and those of the table labels.csv. A code without words of its own is
// given with blanks for hyphens.
func Label(kind, code string) string {
	if s, ok := labels()[[2]string{kind, code}]; ok {
		return s
	}
	switch kind {
	case "service":
		if war, side, ok := strings.Cut(code, "/"); ok {
			return Label("conflict", war) + ", " + Label("side", side)
		}
		if _, ok := Conflict(model.ConflictCode(code)); ok {
			return Label("conflict", code)
		}
	case "rank":
		return code
	}
	return strings.ReplaceAll(code, "-", " ")
}

// Percent is a probability in whole percent, with "over 99%" and "under 1%" at the ends: no link is certain.
func Percent(p float64) string {
	switch {
	case p >= 0.995:
		return "over 99%"
	case p < 0.005:
		return "under 1%"
	}
	return fmt.Sprintf("%.0f%%", 100*p)
}
