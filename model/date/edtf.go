package date

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// ParseEDTF reads a date in the Extended Date/Time Format: levels 0 and 1 whole, and of level 2 what an interval can hold.
// A date-time is read down to its day, as written, whatever its time zone. The date's EDTF is always of level 0 or 1: level 2 is written as the
// interval or the whole date that it comes to. A set ("[1667,1668]", "{1960,1961}") comes to the interval from its first to its last day; a
// qualified part ("2004-06~-11") qualifies the whole. Written is s.
//
// EDTF does not say which months a season has. Here they are wide enough for the calendar's and for the sun's seasons, and the
// winter of a year may be the one that ends in it or the one that begins in it: a house choice.
//
// Source: Extended Date/Time Format (EDTF) Specification, Library of Congress, 4 February 2019.
func ParseEDTF(s string) (Date, error) {
	if len(s) > maxLength {
		return Date{}, fmt.Errorf("read EDTF date %q...: %d bytes are more than any date takes", s[:40], len(s))
	}
	t := strings.TrimSpace(s)
	d, err := parseEDTF(t)
	if err != nil {
		return Date{}, fmt.Errorf("read EDTF date %q: %w", s, err)
	}
	d.Written = s
	return d, nil
}

// maxLength is how many bytes a date or an age may have: more is no date, but text in the wrong column.
const maxLength = 200

func parseEDTF(t string) (Date, error) {
	switch {
	case t == "":
		return Date{}, errors.New("it is empty")
	case t[0] == '[' || t[0] == '{':
		return parseSet(t)
	case strings.Contains(t, "/"):
		return parseInterval(t)
	}
	return parseSide(t)
}

// parseInterval reads "from/to", where a side may be ".." (open) or empty (not known).
func parseInterval(t string) (Date, error) {
	a, b, _ := strings.Cut(t, "/")
	if strings.Contains(b, "/") {
		return Date{}, errors.New("more than one \"/\"")
	}
	side := func(s string) (Date, error) {
		switch {
		case s == "" || s == "..":
			return Date{EDTF: s}, nil
		case strings.ContainsAny(s, "[]{},"):
			return Date{}, fmt.Errorf("a set cannot stand in an interval: %q", s)
		}
		return parseSide(s)
	}
	from, err := side(a)
	if err != nil {
		return Date{}, err
	}
	to, err := side(b)
	if err != nil {
		return Date{}, err
	}
	if !from.From.IsZero() && !to.To.IsZero() && to.To.Before(from.From) {
		return Date{}, fmt.Errorf("it ends (%s) before it begins (%s)", b, a)
	}
	return Date{
		EDTF: sideText(from, from.From) + "/" + sideText(to, to.To), From: from.From, To: to.To,
		Approximate: from.Approximate || to.Approximate, Uncertain: from.Uncertain || to.Uncertain,
	}, nil
}

// sideText writes one side of an interval. Unspecified digits, seasons and spans, which level 1 does not allow there, become the bound that counts.
func sideText(d Date, bound Day) string {
	m := mark(d.Approximate, d.Uncertain)
	bare := strings.TrimSuffix(d.EDTF, m)
	season := len(bare) >= 7 && bare[len(bare)-3] == '-' && bare[len(bare)-2:] >= "21" && d.From != d.To
	if !season && !strings.ContainsAny(d.EDTF, "/X") || bound.IsZero() {
		return d.EDTF
	}
	switch {
	case d.From.Month == 1 && d.From.Day == 1 && d.To.Month == 12 && d.To.Day == 31:
		return yearText(bound.Year) + m
	case d.From.Day == 1 && d.To.lastOfMonth():
		return bound.String()[:len(bound.String())-3] + m
	}
	return bound.String() + m
}

// parseSet reads "[a,b..c]" and "{a,b..c}".
func parseSet(t string) (Date, error) {
	closing := map[byte]string{'[': "]", '{': "}"}[t[0]]
	if !strings.HasSuffix(t, closing) || len(t) < 3 {
		return Date{}, fmt.Errorf("a set must end in %q", closing)
	}
	var d Date
	for i, member := range strings.Split(t[1:len(t)-1], ",") {
		member = strings.TrimSpace(member)
		var one Date
		a, b, isRange := strings.Cut(member, "..")
		switch {
		case member == "" || member == "..":
			return Date{}, errors.New("a member of the set is empty")
		case strings.Contains(member, "/"):
			return Date{}, fmt.Errorf("an interval cannot stand in a set: %q", member)
		case isRange:
			side := func(s string) string {
				if s == "" {
					return ".."
				}
				return s
			}
			var err error
			if one, err = parseInterval(side(a) + "/" + side(b)); err != nil {
				return Date{}, err
			}
		default:
			var err error
			if one, err = parseSide(member); err != nil {
				return Date{}, err
			}
		}
		if i == 0 {
			d = one
			continue
		}
		d = d.Union(one)
	}
	// A set that is open on both sides holds every day.
	if d.IsZero() {
		d.EDTF = "../.."
	}
	return d, nil
}

// parseSide reads a date that is no interval and no set.
func parseSide(t string) (Date, error) {
	if day, clock, ok := strings.Cut(t, "T"); ok {
		if err := checkClock(clock); err != nil {
			return Date{}, err
		}
		d, err := parseSide(day)
		if err == nil && (d.From != d.To || d.Approximate || d.Uncertain) {
			err = fmt.Errorf("a time of day needs a whole date before it, not %q", day)
		}
		return d, err
	}
	if t != "" && t[0] == 'Y' || strings.ContainsRune(t, 'S') {
		return parseLongYear(t)
	}
	negative := false
	body, approximate, uncertain := stripMarks(t)
	if strings.HasPrefix(body, "-") {
		negative, body = true, body[1:]
	}
	parts := strings.Split(body, "-")
	if len(parts) > 3 {
		return Date{}, errors.New("more than three parts")
	}
	var plain []string
	for i, part := range parts {
		p, a, u := stripMarks(part)
		approximate, uncertain = approximate || a, uncertain || u
		want := 2
		if i == 0 {
			want = 4
		}
		if len(p) != want || strings.Trim(p, "0123456789X") != "" {
			name := [...]string{"year", "month", "day"}[i]
			return Date{}, fmt.Errorf("%s %q: want %d digits (X for one that is not specified)", name, part, want)
		}
		plain = append(plain, p)
	}
	if negative && plain[0] == "0000" {
		return Date{}, errors.New("there is no year -0000")
	}
	if len(plain) == 2 {
		if season, err := strconv.Atoi(plain[1]); err == nil && season >= 21 && season <= 41 {
			return seasonDate(plain[0], negative, season, approximate, uncertain)
		}
	}
	from, to, err := bounds(plain, negative)
	if err != nil {
		return Date{}, err
	}
	d := Date{From: from, To: to, Approximate: approximate, Uncertain: uncertain}
	sign := ""
	if negative {
		sign = "-"
	}
	if levelOne(plain) {
		d.EDTF = sign + strings.Join(plain, "-") + mark(approximate, uncertain)
	} else {
		d.EDTF = render(from, to, mark(approximate, uncertain))
	}
	return d, nil
}

// stripMarks takes the qualifiers from both ends.
func stripMarks(s string) (bare string, approximate, uncertain bool) {
	set := func(c byte) bool {
		switch c {
		case '~':
			approximate = true
		case '?':
			uncertain = true
		case '%':
			approximate, uncertain = true, true
		default:
			return false
		}
		return true
	}
	if s != "" && set(s[0]) {
		s = s[1:]
	}
	if s != "" && set(s[len(s)-1]) {
		s = s[:len(s)-1]
	}
	return s, approximate, uncertain
}

// levelOne reports whether the unspecified digits stand as level 1 allows: from the right, and in the year at most two.
func levelOne(parts []string) bool {
	year := strings.TrimRight(parts[0], "X")
	if strings.Contains(year, "X") || len(year) < 2 {
		return false
	}
	if len(parts) > 1 && len(year) < 4 {
		return false
	}
	for i, p := range parts[1:] {
		if p != "XX" && strings.Contains(p, "X") {
			return false
		}
		if i == 0 && p == "XX" && len(parts) == 3 && parts[2] != "XX" {
			return false
		}
	}
	return true
}

// fits reports whether n, written with as many digits as the pattern has, matches it.
func fits(pattern string, n int) bool {
	for i := len(pattern) - 1; i >= 0; i-- {
		if c := pattern[i]; c != 'X' && int(c-'0') != n%10 {
			return false
		}
		n /= 10
	}
	return n == 0
}

// bounds finds the first and the last day that the parts fit.
func bounds(parts []string, negative bool) (from, to Day, err error) {
	month, day := "XX", "XX"
	if len(parts) > 1 {
		month = parts[1]
	}
	if len(parts) > 2 {
		day = parts[2]
	}
	if !slices.ContainsFunc([]int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, func(m int) bool { return fits(month, m) }) {
		if month >= "13" && month <= "99" {
			return from, to, fmt.Errorf("month %q: want 01 to 12, or a season, 21 to 41", month)
		}
		return from, to, fmt.Errorf("month %q: want 01 to 12", month)
	}
	find := func(down bool) Day {
		for _, y := range yearsOf(parts[0], negative, down) {
			for i := range 12 {
				m := i + 1
				if down {
					m = 12 - i
				}
				if !fits(month, m) {
					continue
				}
				n := daysIn(y, m)
				for j := range n {
					d := j + 1
					if down {
						d = n - j
					}
					if fits(day, d) {
						return Day{y, m, d}
					}
				}
			}
		}
		return Day{}
	}
	if from = find(false); from.IsZero() {
		return from, to, noSuchDay(parts[0], month, day)
	}
	return from, find(true), nil
}

// yearsOf lists the years that fit the pattern of four digits, in order of time or, with down, against it.
func yearsOf(pattern string, negative, down bool) []int {
	if !strings.Contains(pattern, "X") {
		y, err := strconv.Atoi(pattern)
		if err != nil {
			return nil
		}
		if negative {
			y = -y
		}
		return []int{y}
	}
	if len(pattern) > 4 {
		return nil
	}
	base, free := 0, make([]int, 0, 4) // the known digits, and what each lost one counts, the last first
	for i, worth := len(pattern)-1, 1; i >= 0; i, worth = i-1, worth*10 {
		switch c := pattern[i]; {
		case c == 'X':
			free = append(free, worth)
		case c < '0' || c > '9':
			return nil
		default:
			base += int(c-'0') * worth
		}
	}
	count := 1
	for range free {
		count *= 10
	}
	years := make([]int, 0, count)
	for i := range count {
		n, y := i, base
		if down != negative {
			n = count - 1 - i
		}
		for _, worth := range free {
			y += n % 10 * worth
			n /= 10
		}
		if negative && y == 0 {
			continue
		}
		if negative {
			y = -y
		}
		years = append(years, y)
	}
	return years
}

func noSuchDay(year, month, day string) error {
	m, _ := strconv.Atoi(month)
	y, yearErr := strconv.Atoi(year)
	d, dayErr := strconv.Atoi(day)
	if m < 1 || m > 12 || yearErr != nil || dayErr != nil {
		return fmt.Errorf("no month has a day %s-%s", month, day)
	}
	return impossible(Day{y, m, d})
}

// impossible says why the calendar has no such day.
func impossible(d Day) error {
	if d.Month == 2 && d.Day == 29 {
		return fmt.Errorf("there is no 29 February %d: it was no leap year", d.Year)
	}
	return fmt.Errorf("there is no %d %s %d: the month has %d days", d.Day, time.Month(d.Month), d.Year, daysIn(d.Year, d.Month))
}

// checkClock checks a time of day, "23:20:30", with or without "Z" or an offset.
func checkClock(s string) error {
	bad := fmt.Errorf("time %q: want hh:mm:ss, then nothing, Z, or an offset such as -04 or +04:30", s)
	number := func(t string, top int) bool {
		n, err := strconv.Atoi(t)
		return len(t) == 2 && err == nil && n >= 0 && n <= top
	}
	if len(s) < 8 || s[2] != ':' || s[5] != ':' || !number(s[:2], 24) || !number(s[3:5], 59) || !number(s[6:8], 60) {
		return bad
	}
	if s[:2] == "24" && s[:8] != "24:00:00" {
		return bad
	}
	rest := s[8:]
	switch {
	case rest == "" || rest == "Z":
		return nil
	case rest[0] != '+' && rest[0] != '-' || len(rest) != 3 && len(rest) != 6:
		return bad
	case !number(rest[1:3], 14) || len(rest) == 6 && (rest[3] != ':' || !number(rest[4:6], 59)):
		return bad
	}
	return nil
}
