package unit

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// bodyWords are the names of bodies of troops before an arm and where no arm is given.
var bodyWords = sync.OnceValue(func() map[model.Body][2]string {
	m := map[model.Body][2]string{}
	for _, r := range vocab.Rows("bodies") {
		m[model.Body(r.Get("code"))] = [2]string{r.Get("before_arm"), r.Get("in_unit")}
	}
	return m
})

// drawnFrom are the bodies of troops that had their men from regiments.
var drawnFrom = sync.OnceValue(func() map[model.Body]bool {
	m := map[model.Body]bool{}
	for _, r := range vocab.Rows("bodies") {
		m[model.Body(r.Get("code"))] = r.Get("drawn_from") == "regiments"
	}
	return m
})

// Transferred reports whether the unit is of a body that had its men from regiments, in which they stand on most rosters: the Veteran Reserve Corps.
func Transferred(u model.Unit) bool { return drawnFrom()[u.Body] }

// markRow is a row of unit-marks.csv.
type markRow struct {
	code, name string
	place      int    // among the marks before the arm, 0 for those that do not stand there
	troops     bool   // makes a body of troops of its state's name
	forArm     string // the words that stand for the arm where the unit has the mark
	beforeArm  string // the words before an arm, where they are not the name: "Wisconsin Volunteer Infantry"
}

// marks are the rows, those that stand before the arm first and in that order.
var marks = sync.OnceValue(func() []markRow {
	var all []markRow
	for _, r := range vocab.Rows("unit-marks") {
		all = append(all, markRow{r.Get("code"), r.Get("name"), r.Int("place"), r.Get("troops") == "yes", r.Get("for_arm"), r.Get("before_arm")})
	}
	slices.SortStableFunc(all, func(a, b markRow) int { return cmp.Compare(uint(a.place-1), uint(b.place-1)) })
	return all
})

// Format gives a unit in the trade's words: "Company F, 31st Wisconsin Infantry", "3rd Independent Battery, Wisconsin Light Artillery", "USS
// Harrow". Parse reads it back.
func Format(u model.Unit) string {
	if u.Kind == model.Ship {
		return strings.TrimSpace("USS " + u.Name)
	}
	var parts []string
	if u.Company != "" {
		parts = append(parts, companyWords(u))
	}
	if u.Kind == model.Staff || u.Kind == model.Designated || u.Kind == model.Legion {
		parts = append(parts, u.Name)
		if u.Number != 0 || u.State != "" || u.Body != "" || u.Kind == model.Legion && !namedArm(u) {
			u.Kind = ""
		} else {
			u.Arm = ""
		}
	}
	parts = append(parts, regimentWords(u)...)
	if u.Division != 0 {
		parts = append(parts, Ordinal(u.Division)+" Division")
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ", ")
}

// namedArm reports whether the table gives the named unit its arm, so that the arm need not be said.
func namedArm(u model.Unit) bool {
	for _, r := range vocab.Rows("units-named") {
		if r.Get("name") == u.Name && r.Get("arm") == string(u.Arm) {
			return true
		}
	}
	return u.Arm == ""
}

// companyWords are the words of a company; a letter of the artillery is a battery.
func companyWords(u model.Unit) string {
	switch u.Company {
	case "HQ":
		return "Headquarters Company"
	case "Supply":
		return "Supply Company"
	case "MG":
		return "Machine Gun Company"
	case "Service", "Cannon", "Antitank", "Howitzer":
		return u.Company + " Company"
	case "?":
		return "Company [.]"
	}
	switch u.Arm {
	case "artillery", "light-artillery", "field-artillery":
		if len(u.Company) == 1 && (u.Company[0] > '9') {
			return "Battery " + u.Company
		}
	}
	return "Company " + u.Company
}

// regimentWords are the words of the unit without its company: one part, or two where a numbered battery or battalion stands apart.
func regimentWords(u model.Unit) []string {
	var first, rest []string
	add := func(to *[]string, s string) {
		if s != "" {
			*to = append(*to, s)
		}
	}
	if u.Number != 0 {
		add(&first, Ordinal(u.Number))
	} else if u.NumberLost != "" {
		add(&first, lostDigits(u.NumberLost))
	}
	if u.HasMark("independent") {
		add(&first, "Independent")
	}
	if u.HasMark("squadron") && u.Arm != "air-service" {
		add(&first, "Squadron")
	}
	apart := true
	switch u.Kind {
	case model.Battalion:
		add(&first, "Battalion")
	case model.Battery:
		add(&first, "Battery")
	case model.Depot:
		add(&first, "Depot Brigade")
	default:
		apart = u.HasMark("independent") && u.Number == 0
	}
	arm := armWords(u)
	switch {
	case u.HasMark("east") && u.State == "TN":
		add(&rest, "East Tennessee")
	case u.State != "":
		add(&rest, vocab.StateName(u.State))
	case u.Body != "":
		w := bodyWords()[u.Body]
		if arm != "" {
			add(&rest, w[0])
		} else {
			add(&rest, w[1])
		}
	}
	for _, m := range marks() {
		if m.place > 0 && u.HasMark(m.code) && !(m.code == "colored" && u.Body == model.BodyUSCT) {
			if arm != "" {
				add(&rest, cmp.Or(m.beforeArm, m.name))
			} else {
				add(&rest, m.name)
			}
		}
	}
	if u.Kind == model.Battery && u.Arm == "light-artillery" && len(rest) == 0 {
		arm = ""
	}
	add(&rest, arm)
	if u.HasMark("african-descent") {
		add(&rest, "African Descent")
	}
	if apart {
		return []string{strings.Join(first, " "), strings.Join(rest, " ")}
	}
	return []string{strings.Join(append(first, rest...), " ")}
}

// armWords are the words of an arm, or of what stands for it.
func armWords(u model.Unit) string {
	if u.Arm == "" {
		return ""
	}
	if u.Arm == "air-service" && u.HasMark("squadron") {
		return "Aero Squadron"
	}
	for _, m := range marks() {
		if m.forArm != "" && u.HasMark(m.code) {
			return m.forArm
		}
	}
	return cmp.Or(arms()[u.Arm].name, string(u.Arm))
}

// lostDigits is what is left of a number with Leiden marks for its lost digits: "1[.]4".
func lostDigits(left string) string {
	var b strings.Builder
	for i := 0; i < len(left); i++ {
		switch left[i] {
		case '*':
			b.WriteString("[---]")
		case '?':
			n := 1
			for i+1 < len(left) && left[i+1] == '?' {
				i, n = i+1, n+1
			}
			b.WriteString("[" + strings.Repeat(".", n) + "]")
		default:
			b.WriteByte(left[i])
		}
	}
	return b.String()
}

// Ordinal is a number as an ordinal: 31 is "31st".
func Ordinal(n int) string {
	suffix := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			suffix = "st"
		case 2:
			suffix = "nd"
		case 3:
			suffix = "rd"
		}
	}
	return strconv.Itoa(n) + suffix
}
