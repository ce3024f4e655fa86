package weigh

// kin adds what it is worth less that two men of one company bear one surname than that two men of all do.
func (v *Stone) kin(s *sum) {
	l := start("kin", "brothers in arms")
	s.weight("kin", "brothers in arms", l.m, l.u, "", "", "men of one name enlist together")
}

// kinHome is the chance of a level of the home for two men of one surname in one company: what share of them are kin is told by how much oftener than by chance they
// meet there, and kin live in one county as surely as a man lies in his own.
func kinHome(m, u float64) float64 {
	l := start("kin", "brothers in arms")
	kin := 1 - l.m/l.u
	return kin*m + (1-kin)*u
}
