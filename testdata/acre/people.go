package acre

import (
	"fmt"
	"math"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// soldier is one of the dead.
type soldier struct {
	surname, given, second  string
	war                     string // "civil", "spain", "world"
	company, state, arm     string
	number                  int
	colored, sailor         bool
	ship, rank              string
	born, joined, left, end day
	esteem                  float64 // how well he is remembered; 1 where all are alike
}

type day struct{ y, m, d int }

func (d day) date() date.Date { return date.On(d.y, d.m, d.d) }

var (
	family = strings.Fields("Shaeffer Musser Lichty Brubaker Stauffer Kreider Hershey Rohrer Groff Herr Weaver Martin Good Snavely Bowman Kauffman Zook Yoder Hess Landis Eby Witmer Brandt Rutter Skiles Galbraith McIlvain Patton Ewing Linn Dougherty Gallagher McCoy Bell Gibson Harris Jackson Turner Freeman Dorsey Boyer Koch Fry Stone Wolf Long Myers Reed Kerr Pyle Mendenhall Passmore Coates Pusey Darlington Lukens Heston Ambler Custer Detweiler Fetterolf Gotwals Hunsicker Isenberg Jacoby Keyser Longacre Moyer Nyce Oberholtzer Pennypacker Rittenhouse Saylor Tyson Umstead Vanderslice Wismer")
	first  = strings.Fields("John William Jacob George Samuel Henry Joseph David Abraham Isaac Christian Daniel Peter Martin Benjamin James Thomas Charles Levi Reuben Elias Emanuel Franklin Harrison Tobias Amos Cyrus Josephus Ephraim Nathaniel Washington Alexander Lloyd Elwood Milton Jesse Caleb Adam Simon Uriah")
	brief  = map[string]string{"John": "Jno.", "William": "Wm.", "George": "Geo.", "Samuel": "Sam'l", "Joseph": "Jos.", "Daniel": "Dan'l", "Benjamin": "Benj.", "James": "Jas.", "Thomas": "Thos.", "Charles": "Chas.", "Alexander": "Alex.", "Franklin": "Frank"}
	ships  = strings.Fields("Juniata Tuscarora Conemaugh Kittatinny")
)

// pick draws from a list of which the first are the commonest.
func (s *sexton) pick(list []string) string {
	x := s.Float64()
	return list[int(math.Pow(x, 1.7)*float64(len(list)))]
}

func (s *sexton) man() *soldier {
	m := &soldier{surname: s.pick(family), given: s.pick(first), esteem: math.Exp(1.2 * s.NormFloat64()), state: "Pa.", arm: "Inf.", rank: "Private"}
	if s.IntN(5) < 3 {
		m.second = string("ABCDEFGHJKLMRSTW"[s.IntN(16)])
	}
	m.company = string("ABCDEFGHIK"[s.IntN(10)])
	m.rank = []string{"Private", "Private", "Private", "Private", "Private", "Corporal", "Sergeant", "1st Lieut."}[s.IntN(8)]
	switch x := s.IntN(20); {
	case x < 15:
		m.war = "civil"
		m.number = 23 + s.IntN(190)
		y := 1861 + s.IntN(4)
		m.joined = day{y, 1 + s.IntN(12), 1 + s.IntN(28)}
		m.left = day{min(1865, y+1+s.IntN(3)), 6, 1 + s.IntN(28)}
		m.born = day{y - 18 - s.IntN(22), 1 + s.IntN(12), 1 + s.IntN(28)}
		m.end = day{1867 + s.IntN(60), 1 + s.IntN(12), 1 + s.IntN(28)}
		switch s.IntN(12) {
		case 0:
			m.colored, m.number, m.state = true, 3+s.IntN(40), "U.S.C.T."
		case 1:
			m.arm, m.number = "Cav.", 1+s.IntN(20)
		case 2:
			m.state = []string{"Md.", "N. J.", "Ohio", "Del."}[s.IntN(4)]
			m.number = 1 + s.IntN(60)
		case 3:
			m.sailor, m.ship, m.rank = true, ships[s.IntN(len(ships))], "Seaman"
		}
	case x < 17:
		m.war, m.number, m.company = "spain", []int{4, 8, 9, 12}[s.IntN(4)], string("ABCDEFGHIKLM"[s.IntN(12)])
		m.joined, m.left = day{1898, 5, 1 + s.IntN(28)}, day{1898, 11, 1 + s.IntN(28)}
		m.born = day{1898 - 18 - s.IntN(16), 1 + s.IntN(12), 1 + s.IntN(28)}
		m.end = day{1905 + s.IntN(50), 1 + s.IntN(12), 1 + s.IntN(28)}
	default:
		m.war, m.number, m.company = "world", []int{109, 110, 111, 112, 316}[s.IntN(5)], string("ABCDEFGHIKLM"[s.IntN(12)])
		m.joined, m.left = day{1917 + s.IntN(2), 5 + s.IntN(4), 1 + s.IntN(28)}, day{1919, 5, 1 + s.IntN(28)}
		m.born = day{1917 - 19 - s.IntN(12), 1 + s.IntN(12), 1 + s.IntN(28)}
		m.end = day{1921 + s.IntN(45), 1 + s.IntN(12), 1 + s.IntN(28)}
	}
	return m
}

// wording is how a roster words a burial in a ground.
func (s *sexton) wording(g Ground) string {
	if g.Former != "" && s.IntN(5) == 0 {
		return []string{g.Former, strings.Replace(g.Former, "Burying Ground", "Bur. Gd.", 1), "bur. " + g.Former + ", Calder Co."}[s.IntN(3)]
	}
	short := strings.NewReplacer("Mount", "Mt.", "Cemetery", "Cem'y", "Burying Ground", "Bury. Gr.").Replace(g.Name)
	core := strings.NewReplacer(" Cemetery", "", " Burying Ground", "", "Mount", "Mt.").Replace(g.Name)
	graveyard := strings.NewReplacer("Cemetery", "graveyard", "Burying Ground", "burial ground", "Mount", "Mt.").Replace(g.Name)
	where := []string{"", "", ", Calder County", ", Calder Co., Pa.", ", Pa."}[s.IntN(5)]
	switch s.IntN(7) {
	case 0:
		return short + where
	case 1:
		return g.Name + where
	case 2:
		return "Interred in " + g.Name + where
	case 3:
		return "bur. at " + core + where
	case 4:
		return graveyard + where
	case 5:
		return fmt.Sprintf("Died at home %s; buried %s%s", s.month(), short, where)
	}
	return strings.ToLower(g.Name) + strings.ToLower(where)
}

func (s *sexton) month() string {
	return []string{"in March", "in June", "Sept. 9", "Nov. 22", "New Year's Day"}[s.IntN(5)]
}

// end is a roster's remark that tells nothing of a grave.
func (s *sexton) end() string {
	return []string{"", "", "", "M.O. with company", "Disch. on surgeon's certificate", "Captured; paroled", "Vet. vol.", "Absent sick at muster out"}[s.IntN(8)]
}

// enrol writes the man's record by the habits of the list that has him.
func (s *sexton) enrol(m *soldier, buried, remark string) model.RecordID {
	id := model.RecordID(fmt.Sprintf("m%05d", len(s.Records)+1))
	r := &model.Record{ID: id, Source: model.Source{File: "roster-state.csv"}}
	surname, given := m.surname, m.given
	if s.IntN(12) == 0 {
		surname = s.spell(surname)
	}
	post := buried != "" && m.war == "civil" && s.Float64() < s.post/2
	switch {
	case s.IntN(8) == 0:
		given = given[:1] + "."
	case s.IntN(6) == 0 && brief[given] != "":
		given = brief[given]
	}
	if m.second != "" && s.IntN(3) > 0 {
		given += " " + m.second + "."
	}
	r.Person.Name = name.FromParts(surname, given)
	switch {
	case m.sailor:
		r.Service.Unit, r.Service.Branch = unit.FromParts(unit.Parts{Unit: "U.S.S. " + m.ship}), "navy"
	case m.colored:
		r.Service.Unit = unit.FromParts(unit.Parts{Unit: fmt.Sprintf("Co. %s, %s U.S.C.T.", m.company, unit.Ordinal(m.number))})
	default:
		r.Service.Unit = unit.FromParts(unit.Parts{Company: m.company, Regiment: unit.Ordinal(m.number), Arm: m.arm, State: m.state})
	}
	r.Service.Rank = map[string]model.Rank{"Private": "private", "Corporal": "corporal", "Sergeant": "sergeant", "1st Lieut.": "first lieutenant", "Seaman": "seaman"}[m.rank]
	switch m.war {
	case "civil":
		r.Service.Side, r.Service.Conflicts = model.Union, []model.ConflictCode{"civil-war"}
	case "spain":
		r.Service.Conflicts, r.Source.File = []model.ConflictCode{"spanish-american-war"}, "honor-roll.csv"
	case "world":
		r.Service.Conflicts, r.Source.File = []model.ConflictCode{"world-war-i"}, "honor-roll.csv"
	}
	if post {
		r.Source.File = "post-roster.csv"
		r.Service.Unit.Company = ""
	}
	if s.IntN(4) > 0 {
		r.Service.MusteredIn = m.joined.date()
	}
	if s.IntN(3) == 0 {
		r.Service.MusteredOut = m.left.date()
	}
	if s.IntN(2) == 0 {
		if age, err := date.ParseAge(fmt.Sprint(m.joined.y - m.born.y + s.IntN(2) - s.IntN(2))); err == nil {
			r.Person.Age = age
		}
	}
	switch {
	case post || m.war != "civil" && s.IntN(2) == 0:
		r.Person.Died = m.end.date()
	case s.IntN(6) == 0:
		r.Person.Died = date.Year(m.end.y)
	}
	if s.IntN(3) == 0 {
		r.Person.Residence = "Calder Co."
	}
	r.Service.Remarks = remark
	if strings.Contains(buried, ";") || strings.HasPrefix(buried, "Interred") || strings.HasPrefix(buried, "Body") || strings.HasPrefix(buried, "killed") {
		r.Service.Remarks = strings.TrimPrefix(remark+"; "+buried, "; ")
	} else {
		r.Person.Buried = buried
	}
	s.Records = append(s.Records, r)
	key := m.surname + ", " + m.given
	if s.names[key] == nil {
		s.names[key] = &[2]string{m.surname, m.given}
		s.order = append(s.order, key)
	}
	return id
}

// spell spells a surname as another clerk would.
func (s *sexton) spell(n string) string {
	for _, c := range [][2]string{{"aeff", "aff"}, {"uff", "off"}, {"ey", "y"}, {"sch", "sh"}, {"ss", "s"}, {"ht", "t"}, {"er", "or"}, {"olt", "old"}, {"Mc", "Mac"}, {"ou", "o"}, {"k", "ck"}, {"oy", "oi"}, {"n", "nn"}, {"l", "ll"}} {
		if strings.Contains(n, c[0]) && s.IntN(2) == 0 {
			return strings.Replace(n, c[0], c[1], 1)
		}
	}
	return n
}
