// Package unit reads the names of bodies of troops as rosters and stones word them: "Co. F, 31st Wis. Inf.", "BTRY B 1 ILL L A",
// "79 U.S.C.I.", "148 INF 37 DIV". One grammar serves both, and every alternative of a doubtful word ("IND" is Indiana or independent, "LA"
// Louisiana or light artillery, "BATT" battery or battalion) stays open until the rest of the words decides.
//
//	u, ok := unit.Parse("31ST REG'T WIS. VOLS.") // 31st Wisconsin Volunteers
//
// The forms stand in the tables unit-forms.csv, units-named.csv and state-forms.csv; what United States Colored Troops were called before
// stands in usct-redesignations.csv. The grammar works on words in place: Parts says what the words at a place may be of a unit, and a
// State says how they go together, so that the grammar of inscriptions uses the same two.
package unit
