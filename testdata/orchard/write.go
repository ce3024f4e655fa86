package orchard

import (
	"fmt"
	"strings"
)

// asked is how a name is written down.
type asked struct {
	given, middle, surname string
}

// slips are what becomes of a surname written by ear or by habit, tried in turn.
var slips = [][2]string{
	{"Mc", "Mac"}, {"O'", "O"}, {"ck", "k"}, {"ie", "ei"}, {"ll", "l"}, {"nn", "n"}, {"tt", "t"}, {"ph", "f"}, {"ough", "uff"}, {"au", "aw"}, {"oo", "u"}, {"ea", "ee"}, {"ee", "ea"},
	{"er", "ar"}, {"son", "sen"}, {"dt", "tt"}, {"sch", "sh"}, {"ts", "tz"}, {"ai", "ay"}, {"ay", "ey"}, {"Th", "T"}, {"Wh", "W"}, {"Cr", "Kr"}, {"Cl", "Kl"}, {"ey", "y"}, {"y", "ie"},
	{"mann", "man"}, {"man", "mann"}, {"ham", "um"}, {"ou", "ow"}, {"i", "y"}, {"c", "k"}, {"w", "wh"}, {"m", "mm"}, {"l", "ll"}, {"t", "tt"}, {"r", "rr"}, {"e", "a"}, {"a", "o"}, {"n", "nd"},
}

// byEar writes a surname as a clerk heard it.
func byEar(d dice, name string) string {
	if d.chance(.2) {
		if s, ok := strings.CutSuffix(name, "s"); ok {
			return s
		} else if s, ok := strings.CutSuffix(name, "e"); ok {
			return s
		}
		return name + d.of("s", "e", "s")
	}
	for range 12 {
		s := slips[d.IntN(len(slips))]
		if at := strings.Index(name[1:], s[0]); at >= 0 && s[0][0] >= 'a' {
			return name[:1+at] + s[1] + name[1+at+len(s[0]):]
		} else if strings.HasPrefix(name, s[0]) {
			return s[1] + name[len(s[0]):]
		}
	}
	return name + "e"
}

// hasty is one letter of a name misread or miswritten: left out, doubled, or taken for another.
func hasty(d dice, name string) string {
	if len(name) < 4 {
		return name
	}
	at := d.between(1, len(name)-2)
	switch d.IntN(3) {
	case 0:
		return name[:at] + name[at+1:]
	case 1:
		return name[:at] + name[at+1:at+2] + name[at:at+1] + name[at+2:]
	}
	return name[:at] + d.of("n", "u", "e", "a", "r", "s", "l", "t", "o") + name[at+1:]
}

// habits are how a book's or a stone's names go, each the chance of it.
type habits struct {
	initials, short, familiar, middleDropped, middleFull, ear, hasty, there, middleFirst float64
}

// name writes a man's name down by some habits.
func (d dice) name(t *tables, m *man, h habits) asked {
	a := asked{m.given, "", m.surname}
	if m.thereSurname != "" && d.chance(h.there) {
		a.surname = m.thereSurname
	}
	if m.thereGiven != "" && d.chance(h.there) {
		a.given = m.thereGiven
	}
	if d.chance(h.ear) {
		a.surname = byEar(d, a.surname)
	}
	if d.chance(h.hasty) {
		a.surname = hasty(d, a.surname)
	}
	if m.middle != "" && !d.chance(h.middleDropped) {
		if a.middle = m.middle[:1] + "."; d.chance(h.middleFull) {
			a.middle = m.middle
		}
	}
	f := t.forms[a.given]
	switch at := d.Float64(); {
	case at < h.initials:
		a.given = a.given[:1] + "."
	case at < h.initials+h.short && f.short != "":
		a.given = d.one(f.short)
	case at < h.initials+h.short+h.familiar && f.familiar != "":
		a.given = d.one(f.familiar)
	case at > 1-h.middleFirst && m.middle != "": // he went by his middle name
		a.given, a.middle = a.given[:1]+".", m.middle
	}
	return a
}

// first is the given names together.
func (a asked) first() string { return strings.TrimSpace(a.given + " " + a.middle) }

var months = strings.Fields("January February March April May June July August September October November December")
var shorts = strings.Fields("Jan. Feb. Mch. Apr. May June July Aug. Sept. Oct. Nov. Dec.")
var threes = strings.Fields("Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec")

// write writes a day in one of many ways; a year alone where no more is known.
func (d day) write(how string) string {
	switch {
	case !d.known():
		return ""
	case d.m == 0:
		return fmt.Sprint(d.y)
	}
	yy := fmt.Sprintf("%02d", d.y%100)
	switch how {
	case "book": // Aug. 14, 1862
		return fmt.Sprintf("%s %d, %d", shorts[d.m-1], d.d, d.y)
	case "plain": // Aug 14 1862
		return fmt.Sprintf("%s %d %d", strings.TrimSuffix(shorts[d.m-1], "."), d.d, d.y)
	case "full": // August 14, 1862
		return fmt.Sprintf("%s %d, %d", months[d.m-1], d.d, d.y)
	case "day first": // 14 Aug 1862
		return fmt.Sprintf("%d %s %d", d.d, threes[d.m-1], d.y)
	case "slashed": // 8/14/1862
		return fmt.Sprintf("%d/%d/%d", d.m, d.d, d.y)
	case "card": // Aug 14/18
		return fmt.Sprintf("%s %d/%s", strings.TrimSuffix(shorts[d.m-1], "."), d.d, yy)
	case "tick": // Aug. 14, '62
		return fmt.Sprintf("%s %d, '%s", shorts[d.m-1], d.d, yy)
	case "year first": // 1907 Mch. 11
		return fmt.Sprintf("%d %s %d", d.y, shorts[d.m-1], d.d)
	case "army": // 03 NOV 1942
		return fmt.Sprintf("%02d %s %d", d.d, strings.ToUpper(threes[d.m-1]), d.y)
	case "iso":
		return fmt.Sprintf("%d-%02d-%02d", d.y, d.m, d.d)
	case "month": // March, 1881
		return fmt.Sprintf("%s, %d", months[d.m-1], d.y)
	}
	panic("no way to write a day is called " + how)
}

// ordinal writes 2d, 14th.
func ordinal(n int) string {
	end := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			end = "st"
		case 2:
			end = "d"
		case 3:
			end = "d"
		}
	}
	return fmt.Sprint(n) + end
}

var ranksShort = map[string]string{
	"private": "Pvt.", "corporal": "Corp.", "sergeant": "Sergt.", "first sergeant": "1st Sergt.", "musician": "Mus.", "wagoner": "Wag.", "second lieutenant": "2d Lieut.", "first lieutenant": "1st Lieut.",
	"captain": "Capt.", "quartermaster sergeant": "Q. M. Sergt.", "commissary sergeant": "Com. Sergt.", "major": "Maj.", "surgeon": "Surg.", "farrier": "Farr.", "hospital steward": "Hosp. Steward", "colonel": "Col.",
	"private first class": "Pvt. 1cl.", "sergeant first class": "Sgt. 1cl.", "cook": "Cook", "mechanic": "Mech.", "bugler": "Bugler", "staff sergeant": "S. Sgt.", "technician fifth grade": "Tec. 5", "technical sergeant": "T. Sgt.",
	"landsman": "Lds.", "seaman": "Sea.", "ordinary seaman": "O. Sea.", "coal heaver": "C. H.", "first class fireman": "1st Cl. Fire.", "boy": "Boy", "seaman second class": "Sea. 2cl.", "seaman first class": "Sea. 1cl.",
	"fireman first class": "Fire. 1cl.", "apprentice seaman": "App. Sea.",
}

var ranksStone = map[string]string{
	"private": "", "corporal": "CORPL.|CORP.|CPL.", "sergeant": "SERGT.|SGT.", "first sergeant": "1 SERGT.|1ST SERGT.", "musician": "MUS.|MUSN.", "wagoner": "WAG.|WAGR.", "second lieutenant": "2 LIEUT.|2D LIEUT.|2 LT.",
	"first lieutenant": "1 LIEUT.|1ST LIEUT.|1 LT.|LIEUT.", "captain": "CAPT.", "quartermaster sergeant": "Q.M. SERGT.", "commissary sergeant": "COM. SERGT.", "major": "MAJ.|MAJOR", "surgeon": "SURG.|SURGEON", "farrier": "FARR.",
	"hospital steward": "HOSP. STEWD.", "colonel": "COL.", "private first class": "PVT. 1CL.|PFC|PVT. 1 CL.", "sergeant first class": "SGT. 1CL.", "cook": "COOK", "mechanic": "MECH.", "bugler": "BUGLER|BGLR.", "staff sergeant": "S SGT",
	"technician fifth grade": "TEC 5", "technical sergeant": "T SGT", "landsman": "LANDS.|LDS.", "seaman": "SEA.|SEAMAN", "ordinary seaman": "ORD. SEA.", "coal heaver": "COAL HVR.", "first class fireman": "1 CL. FIRE.", "boy": "BOY",
	"seaman second class": "SEA. 2CL.|S2", "seaman first class": "SEA. 1CL.|S1", "fireman first class": "FIREMAN 1CL.|F1", "apprentice seaman": "APP. SEA.",
}

var armsBook = map[string]string{"infantry": "Inf.", "cavalry": "Cav.", "heavy": "H. A.", "line": "line", "militia": "Mil.", "fa": "F. A.", "eng": "Engrs.", "mg": "M. G. Bn.", "depot": "Dep. Brig.", "med": "Med. Dept.", "qmc": "Q. M. C.",
	"aero": "Aero Sq.", "satc": "S. A. T. C.", "sig": "Sig. C.", "cac": "C. A. C.", "train": "Motor Transport C.", "tank": "Tank Bn."}

// book writes a unit as printed rolls do, without its company; own is how the state's adjutant general writes it, which leaves the state to his initials.
func (u unit) book(d dice, t *tables, own bool) string {
	st := t.states[u.state]
	name := d.one(st.book)
	switch {
	case u.num == 0:
		return armsBook[u.arm]
	case u.body == "vrc":
		return ordinal(u.num) + d.of(" V. R. C.", " Vet. Res. Corps", " Regt. V. R. C.")
	case u.body == "usct":
		return ordinal(u.num) + d.of(" U. S. C. T.", " U. S. C. I.", " U. S. Col. Inf.", " U. S. Colored Inf.")
	case u.body == "msm":
		return ordinal(u.num) + d.of(" Cav. M. S. M.", " Mo. S. M. Cav.", " Mo. State Militia Cav.")
	case u.body == "vols":
		return ordinal(u.num) + d.of(" U. S. Vol. Inf.", " U. S. V. Inf.", " Inf. U. S. V.")
	case u.arm == "battery":
		return ordinal(u.num) + d.of(" Batt'y ", " Battery ", " Ind. Batt. ") + name + d.of(" L. A.", " Lt. Art.", " Light Artillery")
	case u.arm == "line":
		return d.of("", ordinal(u.num)+" Regt., ") + name + " line"
	case u.arm == "militia":
		return "Capt. " + u.captain + "'s Co., " + d.of(name+" Militia", ordinal(u.num)+" Regt. "+name+" Mil.")
	case u.state == "": // of the great war
		return d.of(fmt.Sprint(u.num), ordinal(u.num)) + " " + armsBook[u.arm]
	case own && u.arm == "infantry":
		return ordinal(u.num) + " " + st.foot
	case own && u.arm == "cavalry":
		return ordinal(u.num) + " " + st.horse
	case u.arm == "heavy":
		return ordinal(u.num) + " " + name + d.of(" H. A.", " Heavy Art.", " Hvy. Arty.")
	}
	return ordinal(u.num) + " " + name + " " + armsBook[u.arm]
}

var armsStone = map[string]string{"infantry": "INF.", "cavalry": "CAV.", "heavy": "H. ART.|H.A.|HVY. ARTY.", "fa": "F.A.|FIELD ARTY.", "eng": "ENGRS.|ENG.", "mg": "M.G. BN.|MACH. GUN BN.", "depot": "DEPOT BRIG.|DEP. BRIG.", "med": "MED. DEPT.|MEDICAL DEPT.",
	"qmc": "Q.M. CORPS|Q.M.C.", "aero": "AERO SQ.|AERO SQDN.", "satc": "S.A.T.C.", "sig": "SIG. CORPS", "cac": "COAST ARTY. CORPS|C.A.C.", "train": "MTR. TRANS. CORPS", "tank": "TANK BN."}

// stone writes a unit as a stonecutter does, without its company.
func (u unit) stone(d dice, t *tables) string {
	st := d.one(t.states[u.state].stone)
	num := fmt.Sprint(u.num)
	if d.chance(.12) {
		num = strings.ToUpper(ordinal(u.num))
	}
	switch {
	case u.num == 0:
		return d.one(armsStone[u.arm])
	case u.body == "vrc":
		return num + d.of(" V.R.C.", " VET. RES. CORPS")
	case u.body == "usct":
		return num + d.of(" U.S.C.T.", " U.S.C. INF.", " U.S.C.I.", " U.S. COL. INF.")
	case u.body == "msm":
		return num + d.of(" MO. S.M. CAV.", " CAV. M.S.M.")
	case u.body == "vols":
		return num + d.of(" U.S. VOL. INF.", " U.S.V. INF.")
	case u.arm == "battery":
		return num + d.of(" BTRY. ", " BATTY. ", " IND. BTRY. ") + pointed(st) + d.of(" L.A.", " L. ARTY.", " LT. ART.")
	case u.arm == "line":
		return pointed(st) + " LINE"
	case u.arm == "militia":
		return pointed(st) + d.of(" MILITIA", " MIL.")
	case u.state == "":
		return num + " " + d.one(armsStone[u.arm])
	}
	return num + " " + pointed(st) + " " + d.of("", "", "", "", "", "", "VOL. ") + d.one(armsStone[u.arm])
}

// pointed sets the point after a shortened state.
func pointed(st string) string {
	switch st {
	case "OHIO", "IOWA", "MAINE", "TEXAS":
		return st
	case "E.TENN":
		return "E. TENN."
	}
	return st + "."
}
