package unit

import (
	"slices"
	"strconv"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/words"
)

// Unit puts the parts together.
func Unit(t *words.Text, parts []Part) model.Unit {
	var u model.Unit
	var marks []string
	battery, brigade := false, 0
	for k := range parts {
		p := &parts[k]
		if f := p.Form; f != nil {
			if f.Body != "" {
				u.Body = f.Body
			}
			if f.State != "" && p.Role != RoleNamed {
				u.State = f.State
			}
			if f.State != "" && u.State == "" {
				u.State = f.State
			}
			if f.Arm != "" {
				u.Arm = f.Arm
			}
			if f.Kind != "" && p.Role != RoleCompany && (p.Role == RoleKind || u.Kind == "") {
				u.Kind = f.Kind
			}
			if f.Name != "" && p.Role != RoleCompany && f.word != legionWord {
				u.Name = f.Name
			}
			marks = append(marks, f.Marks...)
			marks = append(marks, eastern(t, p)...)
			battery = battery || f.word == batteryWord && p.Role == RoleCompany
		}
		switch p.Role {
		case RoleNumber:
			if u.Number = p.Num; p.Num == 0 {
				u.NumberLost = t.Key(p.From)
				if left := numberLeft(u.NumberLost); left != "" {
					u.NumberLost = left
				}
				if p.Form == numberFrontLost {
					u.NumberLost = "*" + strings.TrimLeft(u.NumberLost, "?*ABCDEFGHIJKLMNOPQRSTUVWXYZ")
				}
			}
		case RoleFiller:
			if p.Form == brigadeForm {
				brigade = p.Num
			}
		case RoleDivision:
			u.Division = p.Num
		case RoleCompany:
			u.Company = company(p)
		case RoleKind:
			if p.Form == colonelsRegiment {
				name := "Colonel " + possessive(Title(t, p.NameFrom, p.To-1)) + " Regiment"
				if u.Name != "" {
					name = u.Name + ", " + name
				}
				u.Name = name
			}
		case RoleShip:
			u.Name = Title(t, p.NameFrom, p.To)
		case RoleNamed:
			if p.Form == captainsCompany {
				name := "Captain " + possessive(Title(t, p.NameFrom, ownerEnd(t, p))) + " Company"
				if u.Name != "" {
					name += ", " + u.Name
				}
				u.Name = name
			} else if p.Form.word == commanderWord {
				u.Name = commanderName(t, p)
			} else if p.Form.word == legionWord {
				u.Name = possessive(Title(t, p.NameFrom, p.To-1)) + " " + p.Form.Name
			}
		}
	}
	if u.Number == 0 && u.NumberLost == "" && u.Name != "" {
		if r, ok := numberedNames()[u.Name]; ok && (u.State == "" || u.State == r.State) && (u.Arm == "" || u.Arm == r.Arm) && u.Body == "" {
			u.State, u.Arm, u.Number = r.State, r.Arm, r.Number
		}
	}
	switch {
	case u.Arm != "":
	case u.Kind == model.Battery:
		u.Arm = "light-artillery"
	case battery, u.Kind == model.Legion && strings.HasSuffix(u.Name, " Battery"):
		u.Arm = "artillery"
	}
	if (u.Kind == model.Legion || u.Kind == model.Designated && numberedNames()[u.Name].Number == u.Number) && u.Number > 0 && (u.State != "" || u.Body != "") {
		u.Kind = "" // "1 U. S. VOL. CAV. ROUGH RIDERS": a numbered regiment with a byname
	}
	if u.Arm == "band" && brigade > 0 && u.Number == 0 && u.Name == "" {
		u.Kind, u.Name = model.Designated, Ordinal(brigade)+" Brigade Band"
	}
	if u.Body == model.BodyRegulars && slices.Contains(marks, "colored") {
		u.Body = model.BodyUSCT
		marks = slices.DeleteFunc(marks, func(m string) bool { return m == "colored" })
	}
	slices.Sort(marks)
	for _, m := range marks {
		if n := len(u.Marks); n == 0 || u.Marks[n-1] != m {
			u.Marks = append(u.Marks, m)
		}
	}
	return u
}

// numberedNames are the regiments of a number that went by a name besides: "MERRILL'S HORSE" was the 2nd Missouri Cavalry.
var numberedNames = sync.OnceValue(func() map[string]model.Unit {
	m := map[string]model.Unit{}
	for _, r := range vocab.Rows("units-named") {
		if r.Get("number") != "" {
			m[r.Get("name")] = model.Unit{State: model.State(r.Get("state")), Arm: model.Arm(r.Get("arm")), Number: r.Int("number")}
		}
	}
	return m
})

// eastern marks the regiments of East Tennessee, which were Union.
func eastern(t *words.Text, p *Part) []string {
	if p.Role == RoleState && p.Form.State == "TN" && p.To-p.From > 1 && (t.Key(p.From) == "E" || t.Key(p.From) == "EAST") {
		return []string{"east"}
	}
	return nil
}

// capitals are cut into companies' letters, which takes no memory.
const capitals = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// company is how a company is told: its letter, its number or its name.
func company(p *Part) string {
	switch {
	case p.Letter >= 'A' && p.Letter <= 'Z':
		return capitals[p.Letter-'A':][:1]
	case p.Letter != 0:
		return string(rune(p.Letter))
	case p.Num > 0:
		return strconv.Itoa(p.Num)
	case p.Form != nil:
		return p.Form.Name
	}
	return ""
}

// Title is words from to to-1 in ordinary capitals.
func Title(t *words.Text, from, to int) string {
	var b strings.Builder
	for i := from; i < to; i++ {
		if i > from {
			b.WriteByte(' ')
		}
		key := t.Key(i)
		b.WriteByte(key[0])
		b.WriteString(strings.ToLower(key[1:]))
	}
	return b.String()
}

// possessive puts the apostrophe into a name in -s: "Cobbs" is "Cobb's".
func possessive(s string) string {
	if n := len(s); n > 2 && s[n-1] == 's' && s[n-2] != '\'' && s[n-2] != 's' {
		return s[:n-1] + "'s"
	}
	return s
}
