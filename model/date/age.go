package date

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// IsZero reports whether no age was given.
func (a Age) IsZero() bool { return !a.Known }

// String gives the age as it was understood: "22 y 3 m 4 d"; "" for the zero Age.
func (a Age) String() string {
	if !a.Known {
		return ""
	}
	var parts []string
	if a.Years != 0 || !a.HasMonths && !a.HasDays {
		parts = append(parts, fmt.Sprintf("%d y", a.Years))
	}
	if a.HasMonths && (a.Months != 0 || !a.HasDays) {
		parts = append(parts, fmt.Sprintf("%d m", a.Months))
	}
	if a.HasDays {
		parts = append(parts, fmt.Sprintf("%d d", a.Days))
	}
	s := strings.Join(parts, " ")
	if a.Approximate {
		s = "about " + s
	}
	return s
}

// MarshalJSON gives the age as String does.
func (a Age) MarshalJSON() ([]byte, error) { return json.Marshal(a.String()) }

// UnmarshalJSON reads what ParseAge reads. Written stays empty; "" and null give the zero Age.
func (a *Age) UnmarshalJSON(b []byte) error {
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return fmt.Errorf("read age %s: %w (want a string such as \"22 y 3 m\")", b, err)
	}
	read, err := ParseAge(s)
	if err != nil {
		return err
	}
	read.Written = ""
	*a = read
	return nil
}

// maxAge is the greatest age in years that is believed.
const maxAge = 130

// ParseAge reads an age as stones and rosters word it: "AE. 67 Yrs.", "22 Ys. 3 Ms. 4 Ds.", "aged 23", "19", "17 6/12", "22-3-4",
// "in the 67th year of his age" (66), "3 weeks", "twenty-three years". Twelfths are months and halves about six months: common practice, no source.
// A choice ("21 or 22") is read as the first, about; so are weeks and "infant" (0). What is empty or not known ("unk.", "999") gives
// the zero Age, with Written kept, and no error.
func ParseAge(s string) (Age, error) {
	a := Age{Written: s}
	if len(s) > maxLength {
		return a, fmt.Errorf("read age %q...: %d bytes are more than any age takes", s[:40], len(s))
	}
	t := strings.TrimSpace(s)
	if notKnown(t) && strings.Trim(t, "0. ") != "" || t == "" || t == "999" || t == "000" {
		return a, nil
	}
	err := a.read(strings.NewReplacer("\u00bd", " 1/2", "\u00bc", " 1/4", "\u00be", " 3/4", "\u00e6", "ae", "\u00c6", "ae").Replace(t))
	if err != nil {
		return Age{Written: s}, fmt.Errorf("read age %q: %w", s, err)
	}
	a.Known = true
	return a, nil
}

func (a *Age) read(t string) error {
	toks := tokens(joinNumerals(t))
	var seen [256]bool
	year := false // "in his 67th year"
	at := func(i int) token {
		if i < len(toks) {
			return toks[i]
		}
		return token{}
	}
	for i := 0; i < len(toks); {
		k := toks[i]
		n, word := k.num, lexicon()[k.text].ageWord
		switch {
		case k.kind == 'n' && (n < 0 || n > 99999):
			return fmt.Errorf("%s is no age", k.text)
		case k.kind == 'n' && at(i+1).kind == '-' && at(i+2).kind == 'n' && at(i+3).kind == '-' && at(i+4).kind == 'n': // "22-3-4"
			if seen['y'] || len(k.text) > 2 || len(at(i+2).text) > 2 || len(at(i+4).text) > 2 || len(toks) > i+5 && at(i+5).kind != '.' {
				return errors.New("want years, months and days")
			}
			a.Years, a.Months, a.Days, a.HasMonths, a.HasDays = n, at(i+2).num, at(i+4).num, true, true
			seen['y'], seen['m'], seen['d'] = true, true, true
			i += 5
		case k.kind == 'n' && at(i+1).kind == '/' && at(i+2).kind == 'n': // "6/12", "1/2"
			if err := a.fraction(n, at(i+2).num); err != nil {
				return err
			}
			seen['m'] = true
			i += 3
			if ageUnit(at(i).text) == 'y' {
				i++
			}
		case k.kind == 'n' && k.ordinal && !(k.d && ageUnit(at(i+1).text) != 'y'):
			j := i + 1
			if at(j).kind == 'w' && at(j).text != "year" && at(j).text != "yr" {
				return errors.New("an ordinal wants \"year\" after it: in the 67th year")
			}
			if n < 1 || seen['y'] {
				return fmt.Errorf("cannot take %s for the year of a life (want one such year, the 1st or a later)", k.text)
			}
			a.Years, seen['y'], year = n-1, true, true
			i = j + 1
		case k.kind == 'n':
			unit := byte('y')
			j := i + 1
			for at(j).kind == '.' {
				j++
			}
			if u := ageUnit(at(j).text); u != 0 {
				unit = u
				j++
			} else if k.d {
				unit = 'd'
			} else if seen['y'] {
				return fmt.Errorf("%s of what? (want y, m or d after it)", k.text)
			}
			if seen[unit] {
				return fmt.Errorf("%s twice", map[byte]string{'y': "years", 'm': "months", 'w': "weeks", 'd': "days", 'h': "hours"}[unit])
			}
			seen[unit] = true
			switch unit {
			case 'y':
				a.Years = n
			case 'm':
				a.Months, a.HasMonths = n, true
			case 'w':
				a.Days, a.HasMonths, a.HasDays, a.Approximate = a.Days+7*n, true, true, true
			case 'd':
				a.Days, a.HasMonths, a.HasDays = a.Days+n, true, true
			case 'h':
				a.HasMonths, a.HasDays = true, true
			}
			i = j
		case k.text == "or" || k.kind == '-' || k.text == "to": // "21 or 22", "21-22"
			if !seen['y'] || at(i+1).kind != 'n' || seen['m'] || seen['d'] {
				return fmt.Errorf("cannot place %q", k.text)
			}
			a.Approximate = true
			i += 2
		case k.kind == '?' || k.kind == '~' || k.kind == '+' || k.kind == 'w' && (senseOf(k.text) == approximately || senseOf(k.text) == uncertainly):
			a.Approximate = true
			i++
		case k.kind == '.' || k.kind == ',' || k.kind == '&' || word == ageFiller:
			i++
		case word == infant:
			a.Approximate, seen['y'] = true, true
			i++
		case word == stillborn:
			a.HasMonths, a.HasDays, seen['d'] = true, true, true
			i++
		case ageUnit(k.text) == 'y' && year: // "in the 67th year of his age"
			i++
		default:
			return fmt.Errorf("cannot place %q (want a form such as 22 y 3 m 4 d)", k.text)
		}
	}
	return a.check(seen['y'], seen['m'] || seen['d'] || seen['w'] || seen['h'])
}

// fraction takes twelfths as months, and halves and quarters as about so many months.
func (a *Age) fraction(n, of int) error {
	switch {
	case a.HasMonths || n < 0:
		return fmt.Errorf("cannot place %d/%d", n, of)
	case of == 12 && n < 12:
		a.Months, a.HasMonths = n, true
	case (of == 2 || of == 3 || of == 4 || of == 6) && n < of:
		a.Months, a.HasMonths, a.Approximate = 12*n/of, true, true
	case (of == 30 || of == 31) && n < of && a.Years == 0:
		a.Days, a.HasMonths, a.HasDays = n, true, true
	default:
		return fmt.Errorf("%d/%d is no part of a year that is known here (want twelfths)", n, of)
	}
	return nil
}

func (a *Age) check(years, parts bool) error {
	switch {
	case !years && !parts:
		return errors.New("there is no number in it")
	case a.Months > 11 && years:
		return fmt.Errorf("%d months beside years: want at most 11", a.Months)
	case a.Days > 31 && (years || a.Months != 0):
		return fmt.Errorf("%d days beside months or years: want at most 31", a.Days)
	}
	a.Years, a.Months = a.Years+a.Months/12, a.Months%12
	if a.Years > maxAge || a.Days > 366*maxAge {
		return fmt.Errorf("%d years are more than anyone has lived", max(a.Years, a.Days/366))
	}
	return nil
}

// joinNumerals writes the number words up to ninety-nine in figures.
func joinNumerals(t string) string {
	if strings.Trim(strings.ToLower(t), "0123456789 ymds./-,") == "" {
		return t
	}
	words := strings.Fields(strings.ToLower(plainMarks.Replace(t)))
	var out []string
	for i := 0; i < len(words); i++ {
		w := strings.Trim(words[i], ".,")
		n := numeral(w)
		ten, unit, hyphen := strings.Cut(w, "-")
		switch t := numeral(ten); {
		case t < 20:
		case hyphen: // "twenty-three"
			if u := numeral(unit); u >= 1 && u <= 9 {
				n = t + u
			}
		case i+1 < len(words): // "twenty three"
			if u := numeral(strings.Trim(words[i+1], ".,")); u >= 1 && u <= 9 {
				n = t + u
				i++
			}
		}
		if n < 0 {
			out = append(out, words[i])
			continue
		}
		out = append(out, strconv.Itoa(n))
	}
	return strings.Join(out, " ")
}

// slackDays is how far an age to the day may be off on either side, beyond what the ways of counting differ: whether the first and the last day
// were both counted, and simple slips. Common practice, no source.
const slackDays = 1

// BirthFrom is when someone was born who was of the age on the day: the interval from the first to the last day that it can be, both
// included. An age in years leaves a year, one in years and months a month, by the calendar: who was 67 on 9 August 1864 was born between 10 August 1796 and
// 9 August 1797. Who was born on 29 February may be a year older on 28 February or on 1 March of other years.
//
// For an age to the day there is no one way to count: forward from the birth or back from the death, months as long as they were or of 30 days
// each. The interval holds them all, and one day more on either side. The Date is Approximate where the age or the day is. Nothing known of either
// gives the zero Date; an open side of the day stays open.
func BirthFrom(on Date, age Age) Date {
	from, to := BirthDays(on, age)
	return between(from, to, on.Approximate || age.Approximate, on.Uncertain)
}

// BirthSpan is BirthFrom without the wording, which takes most of the time.
func BirthSpan(on Date, age Age) (d Date) {
	d.From, d.To = BirthDays(on, age)
	return d
}

// longAgo is a year, and a number of years, after and below which no year of birth comes near one that has no number.
const longAgo = 500

// Before gives the first and the last year in which a man was born who was of the age when one born in the years of newborn was not yet one year old: an age in whole years goes back so many years. It says no of
// other ages, and of times so long ago that years may have no number; BirthSpan knows those.
func (a *Age) Before(newborn [2]int16) (born [2]int16, ok bool) {
	if !a.Known || a.HasMonths || a.HasDays || min(newborn[0], newborn[1]) <= longAgo || a.Years >= longAgo {
		return born, false
	}
	return [2]int16{newborn[0] - int16(a.Years), newborn[1] - int16(a.Years)}, true
}

// BirthDays gives the first and the last day of BirthFrom, zero where open or not known, without the wording, which takes most of the time.
func BirthDays(on Date, age Age) (from, to Day) {
	if on.IsZero() || age.IsZero() {
		return Day{}, Day{}
	}
	months := 12*age.Years + age.Months
	first := func(d Day, months int) Day { return d.addMonths(-months).AddDays(1) }
	last := func(d Day, months int) Day {
		e := d.addMonths(-months)
		if d.lastOfMonth() {
			e.Day = daysIn(e.Year, e.Month)
		}
		return e
	}
	switch {
	case !age.HasMonths && !age.HasDays:
		from, to = first(on.From, months+12), last(on.To, months)
	case !age.HasDays:
		from, to = first(on.From, months+1), last(on.To, months)
	default:
		from, _ = birthDay(on.From, months, age.Days)
		_, to = birthDay(on.To, months, age.Days)
	}
	if on.From.IsZero() {
		from = Day{}
	}
	if on.To.IsZero() {
		to = Day{}
	}
	if !from.IsZero() && !to.IsZero() && to.Before(from) {
		return Day{}, Day{}
	}
	return from, to
}

// birthDay gives the first and the last birthday by the ways of counting months and days back from d, with the slack.
func birthDay(d Day, months, days int) (from, to Day) {
	if d.IsZero() {
		return d, d
	}
	back := d.AddDays(-days)
	monthsFirst := d.addMonths(-months)
	// Months of 30 days, borrowed as in a subtraction on paper.
	thirty := Day{d.Year, d.Month, 1}.addMonths(-months)
	n := d.Day - days
	for n < 1 {
		n += 30
		thirty = thirty.addMonths(-1)
	}
	thirty.Day = min(n, daysIn(thirty.Year, thirty.Month))
	ways := []Day{back.addMonths(-months), monthsFirst.AddDays(-days), thirty}
	if back.lastOfMonth() {
		e := back.addMonths(-months)
		e.Day = daysIn(e.Year, e.Month)
		ways = append(ways, e)
	}
	if back.Day == 1 {
		// Born on a day that the month before has not, and let have the 1st in its stead.
		before := back.AddDays(-1)
		if e := (Day{before.Year, before.Month, 1}).addMonths(-months); daysIn(e.Year, e.Month) > before.Day {
			e.Day = before.Day + 1
			ways = append(ways, e)
		}
	}
	from, to = ways[0], ways[0]
	for _, w := range ways {
		if w.Before(from) {
			from = w
		}
		if to.Before(w) {
			to = w
		}
	}
	return from.AddDays(-slackDays), to.AddDays(slackDays)
}
