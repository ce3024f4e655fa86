package weigh

import (
	"strconv"

	"musterstone/link/compare"
	"musterstone/model"
	"musterstone/vocab/unit"
)

// unitView is a stone's unit and the shares of the rosters' men in as much of it as it gives.
type unitView struct {
	w    *Weigher
	unit model.Unit
	also []model.Unit // other names of the same regiment
}

func (w *Weigher) unitView(u model.Unit) unitView {
	v := unitView{w: w, unit: u}
	if !u.IsZero() && u.Number != 0 {
		v.also = unit.Redesignated(u)
	}
	return v
}

// level is how far two units agree, and the share of the roster's men of whom that holds.
func (v *unitView) level(b model.Unit) (string, float64) {
	a := v.unit
	c := v.w.counts
	des := a.Designation()
	sameDes := des == b.Designation()
	bothDes := des != "" && b.Designation() != ""
	arms := armsAgree(a.Arm, b.Arm)
	numbers := (a.Number != 0 || a.Name != "") && (b.Number != 0 || b.Name != "")
	sameNumber := numbers && unitNumber(a) == unitNumber(b)
	companies := a.Company != "" && b.Company != ""

	switch {
	case sameNumber && arms && bothDes && sameDes:
		reg := v.shareOf("r:" + des + "/" + unitNumber(a) + "/")
		if !companies {
			return "regiment", reg
		}
		co := v.shareOf("c:"+des+"/"+unitNumber(a)+"/", "/"+a.Company)
		if a.Company == b.Company {
			return "company", co
		}
		return "other company", max(reg-co, c.share(0))
	case sameNumber && arms && !bothDes:
		if companies && a.Company == b.Company {
			return "number and company", v.shareOf("nc:"+unitNumber(a)+"/", "/"+a.Company)
		}
		if !companies {
			return "number", v.shareOf("n:" + unitNumber(a) + "/")
		}
	case numbers && v.redesignated(b):
		return "redesignated", v.shareOf("r:" + b.Designation() + "/" + unitNumber(b) + "/")
	case numbers && bothDes && sameDes && arms && (!companies || a.Company == b.Company) && oneDigit(a.Number, b.Number):
		return "one digit", v.digitShare(companies)
	case numbers && bothDes && sameDes && arms:
		return "state and arm", v.shareOf("da:" + des + "/")
	case numbers:
		return "different", 1 - v.shareOf("da:"+des+"/")
	case bothDes && sameDes && arms:
		return "part", v.shareOf("da:" + des + "/")
	case !bothDes && arms && a.Arm != "" && b.Arm != "":
		return "", 0 // the arm alone says next to nothing
	case bothDes && !sameDes:
		return "different", 1 - c.share(float64(c.states.n[des]))
	}
	if bothDes && sameDes {
		return "different", c.share(float64(c.states.n[des]))
	}
	return "", 0
}

// shareOf is the share of the roster's men under a key, whatever arm that agrees with the stone's stands between prefix and suffix.
func (v *unitView) shareOf(prefix string, suffix ...string) float64 {
	end := ""
	if len(suffix) > 0 {
		end = suffix[0]
	}
	n := 0
	for _, arm := range v.w.counts.armList {
		if armsAgree(v.unit.Arm, arm) {
			n += v.w.counts.units.n[prefix+string(arm)+end]
		}
	}
	return v.w.counts.share(float64(n))
}

// digitShare is the share of the roster's men in regiments whose number is one digit off.
func (v *unitView) digitShare(company bool) float64 {
	n := 0.0
	for number := 1; number <= 999; number++ {
		if number == v.unit.Number || !oneDigit(v.unit.Number, number) {
			continue
		}
		u := v.unit
		u.Number = number
		for _, arm := range v.w.counts.armList {
			if !armsAgree(v.unit.Arm, arm) {
				continue
			}
			key := "r:" + u.Designation() + "/" + unitNumber(u) + "/" + string(arm)
			if company {
				key = "c:" + u.Designation() + "/" + unitNumber(u) + "/" + string(arm) + "/" + u.Company
			}
			n += float64(v.w.counts.units.n[key])
		}
	}
	return v.w.counts.share(n)
}

func (v *unitView) redesignated(b model.Unit) bool {
	for _, a := range v.also {
		if a.Number == b.Number && a.Designation() == b.Designation() && armsAgree(a.Arm, b.Arm) {
			return true
		}
	}
	return false
}

// against adds the unit's evidence and returns its level.
func (v *unitView) against(s *sum, r *model.Record) string {
	if v.unit.IsZero() || r.Service.Unit.IsZero() {
		return ""
	}
	level, u := v.level(r.Service.Unit)
	if level == "" {
		return ""
	}
	s.weight("unit", level, start("unit", level).m, u, unit.Format(v.unit), unit.Format(r.Service.Unit), "")
	return level
}

// armsAgree reports whether two arms can be the same: one not given, or artillery of a kind and artillery, or infantry that was mounted.
func armsAgree(a, b model.Arm) bool {
	if a == b || a == "" || b == "" {
		return true
	}
	return armClass(a) == armClass(b) && (a == "artillery" || b == "artillery" || a == "infantry" || b == "infantry")
}

func armClass(a model.Arm) model.Arm {
	switch a {
	case "artillery", "heavy-artillery", "light-artillery", "field-artillery", "coast-artillery":
		return "artillery"
	case "infantry", "mounted-infantry":
		return "infantry"
	}
	return a
}

// oneDigit reports whether two regiment numbers are one digit apart: changed, lost or added, or two exchanged.
func oneDigit(a, b int) bool {
	return a != b && a != 0 && b != 0 && compare.OSA(strconv.Itoa(a), strconv.Itoa(b)) == 1
}

// Regiment is the key of the stone's regiment and the share of the roster's men in it; "" where the stone gives none.
func (v *Stone) Regiment() (key string, share float64) {
	u := v.claim.Service.Unit
	if u.Number == 0 && u.Name == "" || u.Designation() == "" {
		return "", 1
	}
	key = u.Designation() + "/" + unitNumber(u)
	return key + "/" + string(armClass(u.Arm)), v.unit.shareOf("r:" + key + "/")
}

// InRegiment reports whether a level of the field unit says that both are of the stone's regiment.
func InRegiment(level string) bool {
	switch level {
	case "company", "other company", "regiment":
		return true
	}
	return false
}
