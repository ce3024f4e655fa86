package acre

import (
	"fmt"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// write is a man's name as a stone has it.
func (s *sexton) write(m *soldier) string {
	given := m.given
	switch {
	case s.IntN(7) == 0:
		given = given[:1] + "."
	case s.IntN(4) == 0 && brief[given] != "":
		given = brief[given]
	}
	if m.second != "" && s.IntN(4) > 0 {
		given += " " + m.second + "."
	}
	return given + " " + m.surname
}

// service is the line of a private stone that tells of service.
func (s *sexton) service(m *soldier) string {
	state := strings.ToUpper(m.state)
	ord := strings.ToUpper(unit.Ordinal(m.number))
	rank := map[string]string{"Private": "", "Corporal": "CORP. ", "Sergeant": "SERG'T ", "1st Lieut.": "1ST LIEUT. "}[m.rank]
	switch {
	case m.sailor:
		return []string{"U. S. NAVY", "U.S.S. " + strings.ToUpper(m.ship), "U. S. S. " + strings.ToUpper(m.ship) + "\nU. S. NAVY"}[s.IntN(3)]
	case m.colored:
		return []string{fmt.Sprintf("CO. %s %s U.S.C.T.", m.company, ord), fmt.Sprintf("CO. %s, %s REG. U. S. C. T.", m.company, ord), fmt.Sprintf("LATE OF CO. %s %s U.S.C. INF.", m.company, ord)}[s.IntN(3)]
	case m.war == "spain":
		return []string{fmt.Sprintf("CO. %s %s PA. INF.\nSP. AM. WAR", m.company, ord), fmt.Sprintf("%sCO. %s %s REG'T P. V.\nSPANISH-AMERICAN WAR", rank, m.company, ord), fmt.Sprintf("CO. %s %s PENNA. VOL. INF.", m.company, ord)}[s.IntN(3)]
	case m.war == "world":
		return []string{fmt.Sprintf("CO. %s %s INF.", m.company, ord), fmt.Sprintf("PVT. CO. %s %s INF. 28TH DIV.\nWORLD WAR", m.company, ord), "WORLD WAR VETERAN", fmt.Sprintf("CO. %s %s U. S. INFANTRY\nWORLD WAR I", m.company, ord)}[s.IntN(4)]
	case m.arm == "Cav.":
		return []string{fmt.Sprintf("%sCO. %s %s PA. CAV.", rank, m.company, ord), fmt.Sprintf("TROOP %s %s PENNA. CAVALRY", m.company, ord), fmt.Sprintf("CO. %s, %s REG. PA. VOL. CAV.", m.company, ord)}[s.IntN(3)]
	}
	forms := []string{fmt.Sprintf("%sCO. %s %s %s VOLS.", rank, m.company, ord, state), fmt.Sprintf("%sCO. %s %s %s INF.", rank, m.company, ord, state), fmt.Sprintf("MEMBER OF CO. %s\n%s REG. %s V.", m.company, ord, state),
		fmt.Sprintf("LATE OF CO. %s\n%s REGT. %s VOLUNTEERS", m.company, ord, state), fmt.Sprintf("%s REG. %s VOL. INF.", ord, state), "A SOLDIER OF THE LATE WAR", "A VETERAN OF THE CIVIL WAR"}
	if m.state == "Pa." {
		forms = append(forms, fmt.Sprintf("%sCO. %s %s P. V.", rank, m.company, ord), fmt.Sprintf("CO. %s, %s P. V. I.", m.company, ord))
	}
	return forms[s.IntN(len(forms))]
}

// plainLines are the lines of a stone without service: name, dates, sometimes kin and a verse.
func (s *sexton) plainLines(m *soldier, fell string) []string {
	var lines []string
	if s.IntN(6) == 0 {
		lines = append(lines, strings.ToUpper(m.surname))
	}
	if s.IntN(9) == 0 {
		lines = append(lines, "FATHER")
	}
	lines = append(lines, strings.ToUpper(s.write(m)))
	switch {
	case fell != "":
		lines = append(lines, fell, fmt.Sprintf("%s %d, %d", strings.ToUpper(months[m.end.m-1]), m.end.d, m.end.y))
	case s.IntN(4) == 0:
		lines = append(lines, fmt.Sprintf("%d - %d", m.born.y, m.end.y))
	case s.IntN(3) == 0:
		lines = append(lines, fmt.Sprintf("DIED %s %d, %d", strings.ToUpper(months[m.end.m-1]), m.end.d, m.end.y), fmt.Sprintf("IN THE %s YEAR OF HIS AGE", strings.ToUpper(unit.Ordinal(m.end.y-m.born.y+1))))
	case s.IntN(2) == 0:
		lines = append(lines, fmt.Sprintf("BORN %s %d, %d", strings.ToUpper(months[m.born.m-1]), m.born.d, m.born.y), fmt.Sprintf("DIED %s %d, %d", strings.ToUpper(months[m.end.m-1]), m.end.d, m.end.y))
	default:
		lines = append(lines, fmt.Sprintf("DIED %d", m.end.y), fmt.Sprintf("AGED %d Y. %d M. %d D.", m.end.y-m.born.y, s.IntN(12), s.IntN(30)))
	}
	return lines
}

var months = strings.Fields("Jan. Feb. March April May June July Aug. Sept. Oct. Nov. Dec.")

// slab is a private marker with these lines, some of their letters lost.
func (s *sexton) slab(lines []string) model.Marker {
	if s.IntN(5) == 0 {
		lines = append(lines, []string{"GONE BUT NOT FORGOTTEN", "AT REST", "ASLEEP IN JESUS", "HIS WIFE SARAH\n1844 - 1921", "THE LORD IS MY SHEPHERD"}[s.IntN(5)])
	}
	text := strings.Join(lines, "\n")
	if s.IntN(8) == 0 {
		text = s.wear(text)
	}
	k := model.Marker{Inscription: text, Lettering: "incised", Device: "none", Setting: "upright", Width: model.Inches(14 + s.IntN(26)), Thickness: model.Inches(2 + s.IntN(14)), Height: model.Inches(20 + s.IntN(60))}
	k.Material = []string{"marble", "marble", "granite", "granite", "sandstone", "slate", "zinc"}[s.IntN(7)]
	k.Top = []string{"rounded", "flat", "square", "pointed", "other"}[s.IntN(5)]
	if s.IntN(6) == 0 {
		k.Width, k.Thickness = 0, 0 // nobody measured it
	}
	return k
}

// wear loses two or three letters of a word of the stone.
func (s *sexton) wear(text string) string {
	b := []byte(text)
	at := s.IntN(len(b))
	var out strings.Builder
	lost := 2 + s.IntN(2)
	for i := range b {
		letter := b[i] >= 'A' && b[i] <= 'Z' || b[i] >= '0' && b[i] <= '9'
		if i >= at && lost > 0 && letter {
			if lost--; lost == 0 || i+1 >= len(b) || !(b[i+1] >= 'A' && b[i+1] <= 'Z' || b[i+1] >= '0' && b[i+1] <= '9') {
				lost = 0
				out.WriteString(".]")
			} else {
				if i == at || !strings.HasSuffix(out.String(), ".") || !strings.Contains(out.String(), "[") {
					out.WriteByte('[')
				}
				out.WriteByte('.')
			}
			continue
		}
		out.WriteByte(b[i])
	}
	if strings.Count(out.String(), "[") != strings.Count(out.String(), "]") {
		return text
	}
	return out.String()
}

// private makes a private stone of a man; fell is where he fell, and holder says that a society has set one beside it.
func (s *sexton) private(m *soldier, g Ground, tells bool, fell string, holder bool) model.StoneID {
	lines := s.plainLines(m, fell)
	if tells {
		lines = append(lines, s.service(m))
	}
	k := s.slab(lines)
	if holder {
		k.Motifs = []string{"GAR star holder"}
	}
	return s.set(g, k)
}

// government makes the marker that the government furnished to men of his war.
func (s *sexton) government(m *soldier, g Ground) model.StoneID {
	who := strings.ToUpper(s.write(m))
	k := model.Marker{Top: "rounded", Material: "white marble", Width: 12, Thickness: 4, Height: 24, Lettering: "raised", Device: "recessed shield", Setting: "upright"}
	switch {
	case m.war == "world":
		k = model.Marker{Top: "slightly rounded", Material: "white marble", Width: 13, Thickness: 4, Height: 24, Lettering: "incised", Device: "none", Emblem: "Latin cross", Setting: "upright"}
		k.Inscription = fmt.Sprintf("%s\nPENNSYLVANIA\nPVT. %d INF. 28 DIV.\n%s %d, %d", who, m.number, strings.ToUpper(months[m.end.m-1]), m.end.d, m.end.y)
	case m.sailor:
		k.Inscription = who + "\nU. S. NAVY"
	case m.colored:
		k.Inscription = fmt.Sprintf("%s\nCO. %s\n%d U.S.C.I.", who, m.company, m.number)
	case m.war == "spain":
		k.Inscription = fmt.Sprintf("%s\nCO. %s\n%d PA. INF.\nSP. AM. WAR", who, m.company, m.number)
	default:
		k.Inscription = fmt.Sprintf("%s\nCO. %s\n%d %s %s", who, m.company, m.number, strings.ToUpper(m.state), strings.ToUpper(m.arm))
	}
	return s.set(g, k)
}

// set sets a marker in the next plot of the ground.
func (s *sexton) set(g Ground, k model.Marker) model.StoneID {
	s.used[g.Name]++
	n := s.used[g.Name]
	id := model.StoneID(fmt.Sprintf("x%04d", len(s.Stones)+1))
	place := model.Place{Cemetery: g.Name, County: g.County, State: "PA", Row: fmt.Sprint(1 + n/15), Plot: fmt.Sprint(1 + n%15)}
	s.Stones = append(s.Stones, &model.Stone{ID: id, Source: model.Source{File: "walk.csv", Row: len(s.Stones) + 2}, Place: place, Marker: k})
	return id
}

// row writes the man into the ground's ledger, which gives his regiment, or only his war, and may leave out both.
func (s *sexton) row(m *soldier, g Ground) model.StoneID {
	id := s.set(g, model.Marker{})
	var c model.Claim
	given := m.given
	if m.second != "" && s.IntN(2) == 0 {
		given += " " + m.second + "."
	}
	c.Person.Name = name.FromParts(m.surname, given)
	c.Person.Died = m.end.date()
	if s.IntN(2) == 0 {
		c.Person.Born = date.Year(m.born.y)
	}
	if s.IntN(3) > 0 { // "soldier's lot"
		c.Service.Unit = unit.FromParts(unit.Parts{Regiment: unit.Ordinal(m.number), Arm: m.arm, State: m.state})
		if m.sailor || m.colored {
			c.Service.Unit = model.Unit{}
			c.Service.Conflicts = []model.ConflictCode{"civil-war"}
		}
	}
	stone := s.Stones[len(s.Stones)-1]
	stone.Register, stone.Source.File = &c, "ledger.csv"
	return id
}
