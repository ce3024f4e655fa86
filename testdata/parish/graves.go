package parish

import (
	"fmt"
	"strconv"
	"strings"
)

var stoneHead = strings.Split("id,cemetery,county,state,row,inscription,top,material,width_in,thickness_in,lettering,device,setting", ",")
var registerHead = strings.Split("id,cemetery,county,state,section,surname,given,rank,company,regiment,arm,body,died,age", ",")

// graves makes the stones and the register's rows: of a hundred, forty-five are of a man of the rosters, a few of them a second one for a man who has one, twenty-five
// of veterans whom the rosters lack, thirty of civilians. One in four is not a stone but a row of the register.
func (m *maker) graves() (stones, register, truth [][]string) {
	stones, register, truth = [][]string{stoneHead}, [][]string{registerHead}, [][]string{{"stone", "record"}}
	order := m.Perm(len(m.men))
	var last *man
	for i := range m.opt.Stones {
		id := fmt.Sprintf("g%d", i+1)
		n := m.IntN(100)
		var p *man
		switch {
		case n < 45 && len(order) > 0:
			p = m.men[order[0]]
			order = order[1:]
			if last != nil && m.IntN(40) == 0 {
				p = last // a second stone: the family's beside the government's
			}
			last = p
			for _, e := range p.rows {
				truth = append(truth, []string{id, e.id})
			}
		default:
			p = m.newMan(nil)
			p.inService = p.inService && n < 70
			if p.died.year < 1866 && !p.inService {
				p.died = m.dayIn(1868 + m.IntN(60))
			}
		}
		switch civilian := n >= 70; {
		case civilian:
			stones = append(stones, m.privateStone(id, p, false))
		case m.IntN(4) == 0:
			register = append(register, m.registerRow(id, p))
		case m.often(.7, .6):
			stones = append(stones, m.governmentStone(id, p))
		default:
			stones = append(stones, m.privateStone(id, p, m.often(.75, .6)))
		}
	}
	return stones, register, truth
}

// engraved is a given name as on a stone or in a register: whole, short, an initial, or the second name that he went by.
func (m *maker) engraved(p *man) string {
	given, second := p.given, p.second
	switch n := m.IntN(100); {
	case n < 4 && second != "":
		return second // he went by it
	case n < 6 && second != "":
		return second[:1] + ". " + given[:1] + "." // exchanged
	case n < 22 && short[given] != nil:
		given = short[given][0]
	case n < 28 && short[given] != nil:
		given = short[given][len(short[given])-1]
	case n < 36 || m.opt.Messy && n < 46:
		given = given[:1] + "."
	}
	if second != "" && m.IntN(3) > 0 {
		given += " " + second[:1] + "."
	}
	return given
}

func (m *maker) fullName(p *man) string {
	n := m.engraved(p) + " " + m.worn(p.surname)
	if p.suffix != "" && m.IntN(3) > 0 {
		n += " " + p.suffix
	}
	return strings.ToUpper(n)
}

// place is where the stone stands: four in ten of the men lie in another state than the one whose regiment they served in.
func (m *maker) place(id string, p *man, head []string) (map[string]string, func() []string) {
	state := "WI"
	if p.state == "Minnesota" && m.IntN(3) == 0 {
		state = "MN"
	}
	row := map[string]string{"id": id, "cemetery": p.grave, "county": "Kettle", "state": state}
	return row, func() []string {
		out := make([]string, len(head))
		for i, h := range head {
			out[i] = row[h]
		}
		return out
	}
}

func (m *maker) governmentStone(id string, p *man) []string {
	row, done := m.place(id, p, stoneHead)
	var lines []string
	who := m.fullName(p)
	rank := map[string][]string{"Corporal": {"CORP'L", "CORP."}, "Sergeant": {"SERG'T", "SERGT."}, "First Sergeant": {"1ST SERG'T"}, "Second Lieutenant": {"2D LIEUT."}, "First Lieutenant": {"LIEUT."}, "Captain": {"CAPT."}, "Musician": {"MUSC'N"}}[p.rankOut]
	if rank != nil && m.IntN(8) > 0 {
		who = m.oneOf(rank...) + " " + who
	}
	lines = append(lines, who)
	lines = append(lines, m.unit(p)...)
	if m.IntN(5) == 0 {
		lines = append(lines, strings.ToUpper("Died "+written(p.died)))
	}
	row["inscription"] = strings.Join(lines, " / ")
	row["top"], row["material"], row["device"], row["lettering"], row["setting"] = "slightly rounded", "marble", "recessed shield", "raised", "upright"
	row["width_in"], row["thickness_in"] = m.oneOf("10", "10.25", "12", ""), m.oneOf("4", "")
	return done()
}

// unit is the unit as carved, with the mistakes of the carver and of the reader.
func (m *maker) unit(p *man) []string {
	number, company := strconv.Itoa(p.regiment), p.company
	if m.often(.02, .05) {
		i := m.IntN(len(number))
		b := []byte(number)
		b[i] = map[byte]byte{'1': '7', '2': '7', '3': '8', '4': '1', '5': '6', '6': '5', '7': '1', '8': '3', '9': '0', '0': '6'}[b[i]]
		if number = strings.TrimLeft(string(b), "0"); number == "" {
			number = "1"
		}
	}
	if m.often(.02, .05) {
		company = map[string]string{"C": "G", "G": "C", "E": "F", "F": "E", "H": "K", "K": "H", "D": "B", "B": "D", "I": "F", "A": "H"}[company]
	}
	arm := map[string][]string{"Infantry": {"INF.", "INF'Y", "VOL. INF.", "REG'T INF."}, "Cavalry": {"CAV.", "CAV'Y"}}[p.arm]
	regiment := number + " " + strings.ToUpper(stateShort[p.state]) + " " + m.oneOf(arm...)
	if p.arm == "Infantry" && m.IntN(10) == 0 {
		regiment = number + " " + strings.ToUpper(stateShort[p.state]) + " VOLS."
	}
	if m.often(.08, .15) {
		return []string{regiment}
	}
	if m.IntN(3) == 0 {
		return []string{"CO. " + company + ", " + regiment}
	}
	return []string{"CO. " + company, regiment}
}

func (m *maker) privateStone(id string, p *man, service bool) []string {
	row, done := m.place(id, p, stoneHead)
	var lines []string
	if m.IntN(6) == 0 {
		lines = append(lines, "IN MEMORY OF")
	}
	lines = append(lines, m.fullName(p))
	if service {
		lines = append(lines, m.unit(p)...)
	}
	born, died := p.born, p.died
	if m.often(.12, .2) {
		born.year += m.IntN(3) - 1
	}
	if m.often(.03, .06) {
		died.year += m.IntN(3) - 1
	}
	switch m.IntN(4) {
	case 0:
		lines = append(lines, "BORN "+strings.ToUpper(written(born)), "DIED "+strings.ToUpper(written(died)))
	case 1:
		age := died.year - born.year
		if died.month < born.month || died.month == born.month && died.date < born.date {
			age--
		}
		lines = append(lines, "DIED", strings.ToUpper(written(died)), fmt.Sprintf("AGED %d YRS.", age))
	default:
		lines = append(lines, fmt.Sprintf("%d - %d", born.year, died.year))
	}
	if service && m.IntN(3) == 0 {
		lines = append(lines, "G. A. R.")
	}
	if m.IntN(6) == 0 {
		lines = append(lines, m.oneOf("AT REST", "GONE BUT NOT FORGOTTEN", "FATHER"))
	}
	row["inscription"] = strings.Join(lines, " / ")
	row["top"], row["material"], row["lettering"] = m.oneOf("pointed", "square", "rounded", "oval"), m.oneOf("marble", "granite", "zinc", "sandstone"), "incised"
	row["width_in"] = strconv.Itoa(14 + m.IntN(22))
	return done()
}

func (m *maker) registerRow(id string, p *man) []string {
	row, done := m.place(id, p, registerHead)
	row["section"] = m.oneOf("A", "B", "C")
	row["surname"], row["given"] = m.worn(p.surname), m.engraved(p)
	if p.rankOut != "Private" || m.IntN(2) == 0 {
		row["rank"] = map[string]string{"Private": "Pvt.", "Corporal": "Corp.", "Sergeant": "Sgt.", "First Sergeant": "1st Sgt.", "Captain": "Capt."}[p.rankOut]
	}
	if m.IntN(10) > 0 {
		row["company"], row["regiment"], row["body"], row["arm"] = p.company, strconv.Itoa(p.regiment), p.state, p.arm
	}
	if m.IntN(3) > 0 {
		row["died"] = written(p.died)
		if m.IntN(2) == 0 {
			row["age"] = strconv.Itoa(p.died.year - p.born.year - m.IntN(2))
		}
	}
	return done()
}

var looksLike = map[byte]string{'c': "eo", 'e': "c", 'g': "q", 'h': "b", 'b': "h", 'i': "l", 'l': "it", 'm': "nw", 'n': "um", 'o': "ae", 'a': "o", 'r': "k", 's': "z", 't': "f", 'u': "nv", 'v': "u", 'w': "m", 'd': "o", 'k': "r", 'p': "r"}

// worn damages a surname letter by letter: taken for another, lost and marked so, doubtful, dropped, or doubled.
func (m *maker) worn(s string) string {
	var b strings.Builder
	for i := range len(s) {
		c := s[i]
		if m.Float64() >= m.damage {
			b.WriteByte(c)
			continue
		}
		low := c | 0x20
		switch n := m.IntN(10); {
		case n < 5 && looksLike[low] != "":
			alike := looksLike[low]
			b.WriteByte(alike[m.IntN(len(alike))] - (low - c))
		case n < 8:
			b.WriteString("[.]")
		case n < 9 && i > 0:
		default:
			b.WriteByte(c)
			b.WriteByte(low)
		}
	}
	return b.String()
}
