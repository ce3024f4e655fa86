package intake

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/unit"
)

// civilWarYear stands for the middle of the civil war, where a side is given and no war.
const civilWarYear = 1863

// claim reads what a row says of a person and his service, into a zero Claim: of a roster, or of a burial register.
func (r *reading) claim(c *model.Claim) {
	near := r.nearYear()
	p := &c.Person
	p.Name, _ = r.name()
	died := r.date(tDied, near)
	p.Born, p.Died, p.Age = r.date(tBorn, near).date, died.date, r.age()
	p.Birthplace, p.Residence, p.DeathPlace, p.Buried = r.terms[tBirthplace], r.terms[tResidence], r.terms[tDeathPlace], r.terms[tBuried]
	s := &c.Service
	r.service(s)
	enlisted, in, out := r.date(tEnlisted, near), r.date(tMusteredIn, near), r.date(tMusteredOut, near)
	s.Enlisted, s.MusteredIn, s.MusteredOut = enlisted.date, in.date, out.date
	s.Remarks = r.terms[tRemarks]
	s.Conflicts = r.conflicts(s, &p.Born, enlisted, in, out, died)
}

// name reads the person's name, from its parts where the table has them, else whole; plain says that surname and given names come to the same beside others.
func (r *reading) name() (n model.Name, plain bool) {
	p := nameParts{surname: r.terms[tSurname], given: r.terms[tGiven]}
	if p.surname == "" && p.given == "" {
		p.whole = r.terms[tName]
	}
	if suffix := r.terms[tSuffix]; suffix != "" {
		if p.whole != "" {
			p.whole += ", " + suffix
		} else {
			p.given = strings.TrimSpace(p.given + " " + suffix)
		}
	}
	if p == (nameParts{}) {
		return model.Name{}, false
	}
	n, plain = r.memory.name(p)
	return n, plain && r.terms[tSuffix] == ""
}

// nearYear is a year near which the row's dates lie, for years of two digits; 0 where nothing tells.
func (r *reading) nearYear() int {
	if text := r.terms[tConflict]; text != "" {
		for _, code := range r.memory.conflicts(text).codes {
			if c, ok := vocab.Conflict(code); ok {
				return c.From.Year
			}
		}
	}
	if r.terms[tSide] != "" {
		return civilWarYear
	}
	return 0
}

// lifeYears are the dates of a life by which the century of another is told, each with how many years before or after it a man served. House judgement.
var lifeYears = [...]struct {
	term   term
	served int
}{{tBorn, 25}, {tEnlisted, 0}, {tMusteredIn, 0}, {tMusteredOut, 0}, {tDied, -35}}

// lifeYear is a decade near which a date of a row lies that names no war, by another of its dates that has its century: who was born in 1844 enlisted on "Aug. 14, '62" in 1862. 0 where none has.
func (r *reading) lifeYear(of term) int {
	for _, l := range lifeYears {
		if l.term == of || r.terms[l.term] == "" {
			continue
		}
		d := r.memory.date(r.terms[l.term], 0)
		if d.problem != nil || d.date.From.IsZero() {
			continue
		}
		year := d.date.From.Year + l.served
		if of == tBorn {
			year -= 25
		} else if of == tDied {
			year += 35
		}
		return year / 10 * 10
	}
	return 0
}

// notDated stands for a date that says nothing that is understood. It lies in no war.
var notDated = &dated{looked: true}

// date reads a date; it is good until the next of the same is read.
func (r *reading) date(t term, near int) *dated {
	text := r.terms[t]
	if text == "" {
		return notDated
	}
	d := r.memory.date(text, near)
	if d.problem == nil {
		return d
	}
	if near == 0 && errors.Is(d.problem, date.ErrCentury) {
		if near := r.lifeYear(t); near != 0 {
			if d := r.memory.date(text, near); d.problem == nil {
				r.byLife = true
				return d
			}
		}
	}
	switch {
	case errors.Is(d.problem, date.ErrCentury):
		r.tell(t, fmt.Sprintf("%q has a year of two digits, and nothing says of which century", text),
			"write four digits, or say which war the table is of, by a column conflict or a virtual one in "+MetadataFile)
	case errors.Is(d.problem, date.ErrNoYear):
		r.tell(t, fmt.Sprintf("%q gives no year", text), "write the year; the words are kept")
	default:
		if d, ok := r.serial(t, text); ok {
			return &dated{date: d}
		}
		r.tell(t, fmt.Sprintf("%q is not understood as a date", text), "write it as Aug. 9, 1864, or 1864-08-09, or abt. 1841; the words are kept")
	}
	return notDated
}

// age reads an age.
func (r *reading) age() date.Age {
	text := r.terms[tAge]
	if text == "" {
		return date.Age{}
	}
	a := r.memory.age(text)
	if a.problem != nil {
		r.tell(tAge, fmt.Sprintf("%q is not understood as an age", text), "write it in years: 22, or 22 y 3 m 4 d")
		return date.Age{}
	}
	return a.age
}

// rank reads a rank, and whether it is a brevet. Of a cell that holds more than a rank, rest is what follows it, or all of it.
func (r *reading) rank(t term) (rank model.Rank, brevet bool, rest string) {
	text := r.terms[t]
	if text == "" {
		return "", false, ""
	}
	if rank, ok := r.memory.rank(text); ok {
		return rank, false, ""
	}
	if rest, ok := vocab.Brevet(text); ok {
		if rank, ok := r.memory.rank(rest); ok {
			return rank, true, ""
		}
	}
	for i := len(text) - 1; i > 1; i-- { // "CPL CO D 1ST RI CAV", "Pvt. 1st class. 33 5th St."
		if c := text[i]; c == ' ' || c == ',' {
			rank, ok := r.memory.rank(strings.TrimRight(text[:i], " ,"))
			if !ok {
				continue
			}
			rest := strings.Trim(text[i:], " ,")
			if _, two := r.memory.rank(rest); two && c == ' ' && text[i-1] != ',' {
				break // "Mech. Sgt." is neither
			}
			return rank, false, rest
		}
	}
	return "", false, text
}

// ranks reads the ranks at entry and at the end. Where a register has put more than the rank into its cell, what follows the rank is
// given, for the unit.
func (r *reading) ranks(s *model.Service) (more string) {
	var rest string
	s.Rank, s.Brevet, more = r.rank(tRank)
	s.RankOut, _, rest = r.rank(tRankOut)
	switch {
	case s.RankOut == "" && rest != "":
		r.tell(tRankOut, fmt.Sprintf("%q is not known as a rank", rest), "look at its spelling; the words are kept")
	case rest != "":
		r.tell(tRankOut, fmt.Sprintf("%q was read as the rank %s; %q is not understood", r.terms[tRankOut], s.RankOut, rest), "the words are kept")
	}
	return more
}

// rankRest takes what stood in the rank's cell beside or in place of the rank: a unit, a branch, a side.
func (r *reading) rankRest(s *model.Service, rest string, p *unit.Parts) {
	if rest == "" {
		return
	}
	told := fmt.Sprintf("%q is not known as a rank", rest)
	if s.Rank != "" {
		told = fmt.Sprintf("%q was read as the rank %s; %q is more than a rank", r.terms[tRank], s.Rank, rest)
	}
	u, isUnit := unit.Parse(rest)
	side, isSide := r.memory.side(rest)
	isSide = isSide && side == model.Confederate
	branch, isBranch := r.memory.branch(rest)
	switch {
	case (isSide || isBranch) && (s.Side == "" || !isSide || s.Side == side) && (s.Branch == "" || !isBranch || s.Branch == branch):
		if isSide {
			s.Side = side
		}
		if isBranch {
			s.Branch = branch
		}
		r.tell(tRank, told+"; it was read as a branch of service", "look whether the cells of the row slipped")
	case isUnit && p.Unit == "" && len(rest) > 2 && u.Number != 0 && (u.Company != "" || u.Arm != "" || u.State != "" || u.Body != ""):
		p.Unit = rest
		r.tell(tRank, told+"; it was read as the unit", "put it under unit")
	default:
		r.tell(tRank, told, "look at its spelling; the words are kept")
	}
}

// service reads rank, unit, branch and side.
func (r *reading) service(s *model.Service) {
	more := r.ranks(s)
	p := unit.Parts{
		Company: r.terms[tCompany], Regiment: r.terms[tRegiment], Unit: r.terms[tUnit], Arm: r.terms[tArm],
		State: r.terms[tUnitState], Side: r.terms[tSide],
	}
	r.branch(s, &p)
	if text := r.terms[tSide]; text != "" {
		side, ok := r.memory.side(text)
		if ok {
			s.Side = side
		} else {
			r.tell(tSide, fmt.Sprintf("%q is not known as a side", text), "write union or confederate")
		}
	}
	r.rankRest(s, more, &p)
	if p.Company == "" && p.Regiment == "" && p.Unit == "" && p.Arm == "" && p.State == "" {
		return
	}
	s.Unit = *r.memory.unit(p)
	r.understoodUnit(p, s)
}

// branch reads the branch of service. Rosters head the column of the arm so too, and then that is what it is read as.
func (r *reading) branch(s *model.Service, p *unit.Parts) {
	text := r.terms[tBranch]
	if text == "" {
		return
	}
	parts := []string{text}
	if _, ok := r.memory.branch(text); !ok && strings.Contains(text, ",") {
		parts = strings.Split(text, ",")
	}
	var branches []model.Branch
	for _, part := range parts {
		part = strings.TrimSpace(part)
		branch, isBranch := r.memory.branch(part)
		isArm := r.memory.isArm(part)
		switch {
		case isBranch:
			branches = append(branches, branch)
			if side, ok := r.memory.side(part); ok && side == model.Confederate && len(parts) == 1 {
				s.Side = side // "Confederate States Army"; "US Army" tells nothing, since it is of every war
			}
		case isArm && p.Arm == "":
			p.Arm = part
		case isArm:
		default:
			r.tell(tBranch, fmt.Sprintf("%q is known neither as a branch of service nor as an arm", part), "write army, navy, marine corps, or infantry, cavalry, artillery")
		}
	}
	if len(branches) == 0 {
		return
	}
	s.Branch = branches[0]
	p.Branch = text
	if len(parts) > 1 && len(branches) > 1 {
		r.tell(tBranch, fmt.Sprintf("%q names more than one branch; the first was taken", text), "the words are kept")
	}
}

// understoodUnit tells of parts of the unit that came to nothing, and takes the branch and side that the unit's body implies.
func (r *reading) understoodUnit(p unit.Parts, s *model.Service) {
	u := s.Unit
	if p.State != "" && u.State == "" && u.Body == "" {
		if branch, ok := r.memory.branch(p.State); ok {
			if s.Branch == "" {
				s.Branch = branch // a list headed "United States Navy"
			}
		} else {
			r.tell(tUnitState, fmt.Sprintf("%q is not known as a state or as a body of troops", p.State), "write a state's name or postal code, or usct, vrc, us")
		}
	}
	if p.Regiment != "" && u.Number == 0 && u.Name == "" {
		r.tell(tRegiment, fmt.Sprintf("%q gives no regiment that is understood", p.Regiment), "write its number, and a unit with a name under unit; the words are kept")
	}
	if branch := r.memory.ofBranch(p.Unit); branch != "" { // "U. S. Navy", "1st Bn., U.S.M.C."
		if s.Branch == "" {
			s.Branch = branch
		}
		if side, ok := r.memory.side(p.Unit); ok && side == model.Confederate && s.Side == "" {
			s.Side = side
		}
	} else if p.Unit != "" && u.Number == 0 && u.Name == "" && u.Company == "" && u.Arm == "" && u.Kind == "" {
		r.tell(tUnit, fmt.Sprintf("%q is not understood as a unit", p.Unit), "write it as Co. F, 31st Wis. Inf.; the words are kept")
	}
	if p.Arm != "" {
		if !r.memory.isArm(p.Arm) && unit.FromParts(unit.Parts{Arm: p.Arm}).Body == "" { // "V. R. C." is a body of troops
			r.tell(tArm, fmt.Sprintf("%q is not known as an arm of service", p.Arm), "write infantry, cavalry, artillery, engineers; the words are kept")
		}
	}
	r.sideOfBody(s)
}

// sideOfBody takes the side of the body of troops where the unit is of one that fought on one side alone. It says more than a word for the side, as on a stone; where they do not agree that is told.
func (r *reading) sideOfBody(s *model.Service) {
	if s.Unit.Body == "" {
		return
	}
	side := vocab.BodySide(s.Unit.Body)
	if side == "" || s.Side == side {
		return
	}
	if s.Side != "" {
		from := tRank
		for _, t := range []term{tSide, tBranch} {
			if was, ok := r.memory.side(r.terms[t]); ok && was == s.Side {
				from = t
				break
			}
		}
		r.tell(from, fmt.Sprintf("%q is the other side than that of the unit: the %s fought for the %s, which was taken", r.terms[from], vocab.Label("body", string(s.Unit.Body)), vocab.Label("side", string(side))),
			"look whether the side or the unit is wrong; the words of both are kept")
	}
	s.Side = side
}

// conflicts are the wars that the row names, or else those that are understood from the man's side and dates.
func (r *reading) conflicts(s *model.Service, born *date.Date, enlisted, in, out, died *dated) []model.ConflictCode {
	if text := r.terms[tConflict]; text != "" {
		w := r.memory.conflicts(text)
		for _, rest := range w.rest {
			r.tell(tConflict, fmt.Sprintf("%q is not known as a war", rest), "write a code such as civil-war, world-war-i; the words are kept")
		}
		if len(w.codes) > 0 {
			return slices.Clone(w.codes)
		}
	}
	dates := [...]*dated{enlisted, in, out, died}
	return slices.Clone(vocab.UnderstoodConflicts(s, born, &died.date, func(i int, _, _ date.Day) []model.ConflictCode { return dates[i].conflictsHolding() }))
}
