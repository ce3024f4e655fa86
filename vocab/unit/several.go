package unit

import (
	"strings"

	"musterstone/model"
)

// several parts the cell of a man who served in more than one unit: "154 Dep. Brig. to May 10/18; Co. F 344 M. G. Bn. to disch.", "F, 14 Ohio Inf. and K, 12 V. R. C.". One is the unit that
// he was in at the end, where the cell tells until when he was in each, and else the one that is named first; the others come the last first. Of a cell that names one, or whose parts are
// not units, it is the cell itself, without what tells until when.
func several(cell string) (one string, others []string) {
	written := cell
	cell = joints.Replace(cell)
	if strings.IndexByte(cell, ';') < 0 && strings.IndexByte(cell, '&') < 0 && strings.IndexByte(cell, '(') < 0 && !strings.Contains(cell, " and ") && !strings.Contains(cell, " to ") {
		return written, nil
	}
	var list []string
	timed := false
	for s := range strings.SplitSeq(cell, ";") {
		for _, s := range joined(s) {
			s, until, ok := strings.Cut(s, " to ")
			timed = timed || ok && until != ""
			if s = strings.Trim(s, " ,"); s != "" {
				list = append(list, s)
			}
		}
	}
	whole := func(s string) bool {
		u, ok := Parse(s)
		return ok && isWhole(u)
	}
	units := 0
	for _, s := range list {
		if whole(s) {
			list[units] = s
			units++
		}
	}
	switch {
	case units < 2 && !timed:
		return halfRead(written, cell), nil
	case units == 0:
		return written, nil
	case timed:
		one, list = list[units-1], list[:units-1]
	default:
		one, list = list[0], list[1:units]
	}
	for i := len(list) - 1; i >= 0; i-- {
		others = append(others, list[i])
	}
	return one, others
}

// halfRead is the one unit of a cell that can be told, where the cell has words for another that cannot and would be taken for words of the first: "A Lisle Co. H. G. and Co. F, 14th Regt. V. R. C.". Of any other
// cell it is what was written.
func halfRead(written, cell string) string {
	if _, ok := Parse(cell); ok {
		return written
	}
	for _, between := range []string{";", " and ", " & "} {
		before, after, ok := strings.Cut(cell, between)
		if !ok {
			continue
		}
		for _, s := range []string{before, after} {
			if s = strings.Trim(s, " ,"); s == "" {
				continue
			}
			if u, ok := Parse(s); ok && isWhole(u) {
				return s
			}
		}
	}
	return written
}

// joints are the words between units in a cell of capitals.
var joints = strings.NewReplacer(" TO ", " to ", " AND ", " and ")

// joined parts words at an "and" between two units, or before a unit in brackets: "Co. I, 35th N. Y. Vols. and Co. B, 3d U. S. Col. Inf.", "Co. K 3 Inf. Ohio N. G. (Co. K 148 Inf.)", but not "Engineers
// and Mechanics", "2d and 5th Wis. Inf." or "167th Regiment (4th Alabama) Infantry".
func joined(s string) []string {
	if before, rest, ok := strings.Cut(s, "("); ok {
		within, after, _ := strings.Cut(rest, ")")
		if after = strings.TrimSpace(after); after == "" || strings.HasPrefix(after, "to ") {
			if u, ok := Parse(within); ok && isWhole(u) && u.Arm != "" && !byname(before, u) {
				return []string{before, within + " " + after}
			}
		}
	}
	for _, and := range []string{" and ", " & "} {
		for at := 0; ; {
			k := strings.Index(s[at:], and)
			if k < 0 {
				break
			}
			before, after := s[:at+k], s[at+k+len(and):]
			at += k + len(and)
			u, ok := Parse(before)
			if !ok || !isWhole(u) {
				continue
			}
			rest := joined(after)
			if v, ok := Parse(rest[0]); ok && isWhole(v) {
				return append([]string{before}, rest...)
			}
		}
	}
	return []string{s}
}

// byname reports whether a unit is named before by its number: "2d Mo. Cav. (Merrill's Horse)".
func byname(before string, u model.Unit) bool {
	v, _ := Parse(before)
	return u.Name != "" && u.SameRegiment(v)
}

// isWhole reports whether a unit can be told from others by itself: it has a number or is of a body, and its arm or whose it is are told.
func isWhole(u model.Unit) bool {
	return u.Kind != model.Ship && (u.Number > 0 || u.Name != "" || u.Body != "" && u.Body != model.BodyRegulars || u.Arm != "" && u.State == "" && u.Company == "") && (u.Arm != "" || u.Kind != "" || u.State != "" || u.Body != "" || u.Name != "")
}

// toldBeside words other units as remarks would tell them.
func toldBeside(others []string) string {
	if len(others) == 0 {
		return ""
	}
	return "trans. from " + strings.Join(others, "; trans. from ")
}
