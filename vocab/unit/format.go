package unit

import (
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
)

// bodyWords are the names of bodies before an arm and where no arm is given.
var bodyWords = map[model.Body][2]string{
	model.BodyUSCT:      {"US Colored", "US Colored Troops"},
	model.BodyVRC:       {"Veteran Reserve Corps", "Veteran Reserve Corps"},
	model.BodyRegulars:  {"US", "US"},
	"corps-d-afrique":   {"Corps d'Afrique", "Corps d'Afrique"},
	"indian-home-guard": {"Indian Home Guard", "Indian Home Guard"},
	"confederate":       {"Confederate", "Confederate"},
	"philippine-scouts": {"Philippine Scouts", "Philippine Scouts"},
}

// markWords are the trade's words for marks, in the order they stand in before the arm.
var markWords = []struct{ mark, words string }{
	{"potomac-home-brigade", "Potomac Home Brigade"}, {"provisional", "Provisional"}, {"consolidated", "Consolidated"}, {"state-militia", "State Militia"}, {"enrolled-militia", "Enrolled Militia"},
	{"militia", "Militia"}, {"national-guard", "National Guard"}, {"native-guard", "Native Guard"}, {"home-guard", "Home Guard"},
	{"state-troops", "State Troops"}, {"state-guard", "State Guard"}, {"emergency", "Emergency"}, {"line", "Line"}, {"reserves", "Reserves"},
	{"colored", "Colored"}, {"veteran", "Veteran"}, {"volunteers", "Volunteers"}, {"mounted", "Mounted"},
}

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
		w := bodyWords[u.Body]
		if arm != "" {
			add(&rest, w[0])
		} else {
			add(&rest, w[1])
		}
	}
	for _, m := range markWords {
		if u.HasMark(m.mark) && !(m.mark == "colored" && u.Body == model.BodyUSCT) {
			add(&rest, m.words)
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

func armWords(u model.Unit) string {
	if u.Arm == "" {
		return ""
	}
	switch {
	case u.Arm == "air-service" && u.HasMark("squadron"):
		return "Aero Squadron"
	case u.HasMark("field-hospital"):
		return "Field Hospital"
	case u.HasMark("base-hospital"):
		return "Base Hospital"
	case u.HasMark("evacuation-hospital"):
		return "Evac Hosp"
	case u.HasMark("detachment"):
		return "Medical Detachment"
	}
	for _, r := range vocab.Rows("arms") {
		if r.Get("code") == string(u.Arm) {
			return r.Get("name")
		}
	}
	return string(u.Arm)
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
	return itoa(n) + suffix
}
