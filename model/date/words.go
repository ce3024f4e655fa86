package date

import (
	"errors"
	"fmt"
	"strings"
)

// ErrCentury is for a year of two digits, "'62", where nothing says which century: ParseNear can be told.
var ErrCentury = errors.New("a year of two digits: write all four, or say which century the source is of")

// ErrNoYear is for a day or a month without a year.
var ErrNoYear = errors.New("no year is given")

// Parse reads EDTF or period wording, as printed on stones and rosters: "Aug. 9, 1864", "9 Aug 1864", "8/9/1864" (month first, as
// in the United States), "Mch 1863", "1862 or 63", "1862-63", "186-", "abt. 1841", "before 1870", "between 1840 and 1845",
// "winter of 1862-63". Stops, commas, blanks and letter case do not matter.
//
// "before" and "after" leave the day, month or year itself out; "by" and "or before" leave it in. Alternatives become the interval from the
// first to the last. Figures in the order day, month, year are read where the month could not be first (23/8/1864), and marked Uncertain; figures
// parted by full stops, which Germans write with the day first, become the interval that holds both readings.
//
// What is empty or says that it is not known ("unknown", "99/99/9999", "00/00/0000") gives the zero Date, with Written kept, and no error. Parts of zeros or
// nines are left open: "05/00/1864" is May 1864. A day that the calendar has not, a year of two digits (ErrCentury), a date without a year
// (ErrNoYear) and a spreadsheet's day number are errors.
func Parse(s string) (Date, error) { return ParseNear(s, 0) }

// ParseNear is Parse for a source whose dates lie near the year: of the years that a year of two digits can be, it takes the nearest, so that
// "Sept. 1, '62" near 1863 is of 1862. Near 0 it is Parse.
func ParseNear(s string, near int) (Date, error) {
	if len(s) > maxLength {
		return Date{}, fmt.Errorf("read date %q...: %d bytes are more than any date takes", s[:40], len(s))
	}
	t := yearBehindSlash(withoutClock(strings.TrimSpace(s)))
	if notKnown(t) {
		return Date{Written: s}, nil
	}
	d, err := parseWords(t, near)
	if err != nil {
		return Date{}, fmt.Errorf("read date %q: %w", s, err)
	}
	d.Written = s
	return d, nil
}

func parseWords(t string, near int) (Date, error) {
	if err := serial(t); err != nil {
		return Date{}, err
	}
	if whole, frac, ok := strings.Cut(t, "."); ok && len(whole) == 4 && strings.Trim(whole, "0123456789") == "" && frac != "" && strings.Trim(frac, "0") == "" {
		t = whole // "1864.0", a year that went through a table of numbers
	}
	t = placeholders(t)
	if strings.Trim(t, "0123456789-/.,:+~?%XYTZES[]{}") == "" {
		if d, err := parseEDTF(t); err == nil && !yearPair(t) {
			if d.From.Year == 9999 {
				return Date{}, nil
			}
			return d, nil
		}
	}
	p := phrase{toks: tokens(t), near: near}
	return p.read()
}

// placeholders writes the marks for figures that are not known as EDTF or as zeros: "1864-xx-xx" and "186u" (the draft of 2012 had "u"), "xx/xx/1864".
func placeholders(t string) string {
	if strings.Trim(t, "0123456789-xu") == "" && len(t) >= 4 {
		return strings.NewReplacer("x", "X", "u", "X").Replace(t)
	}
	if strings.Trim(strings.ToLower(t), "0123456789/x?-") == "" && strings.Count(t, "/") == 2 {
		return strings.NewReplacer("xx/", "00/", "XX/", "00/", "??/", "00/", "--/", "00/").Replace(t)
	}
	return t
}

// yearPair reports whether "1821-22" and the like, by EDTF a season, are rather two years. Their interval holds the season too.
func yearPair(t string) bool {
	if len(t) != 7 || t[4] != '-' || t[5] != '2' {
		return false
	}
	toks := tokens(t)
	return len(toks) == 3 && toks[0].num%100+1 == toks[2].num
}

// withoutClock takes a time of day from the end: "1864-08-09 00:00:00", "8/9/1864 12:00 AM".
func withoutClock(t string) string {
	colon := strings.IndexByte(t, ':')
	if colon < 0 {
		return t
	}
	blank := strings.LastIndexByte(t[:colon], ' ')
	if blank < 0 || colon-blank > 3 || strings.Trim(strings.ToLower(t[blank:]), "0123456789:.+- apmzutc") != "" {
		return t
	}
	return strings.TrimSpace(t[:blank])
}

// yearBehindSlash parts a year of two or four digits from the day of a month named before it, as service cards have it: "Apr 5/18" is Apr 5, '18, and "Mch. 4/1894" Mch. 4, 1894.
func yearBehindSlash(t string) string {
	slash := strings.LastIndexByte(t, '/')
	if slash < 0 || strings.IndexByte(t, '/') != slash || len(t)-slash != 3 && len(t)-slash != 5 || strings.Trim(t[slash+1:], "0123456789") != "" {
		return t
	}
	named, day, ok := strings.Cut(t[:slash], " ")
	if !ok || month(strings.ToLower(strings.TrimRight(named, ".,"))) == 0 || day == "" || len(day) > 2 || strings.Trim(day, "0123456789") != "" {
		return t
	}
	if len(t)-slash == 3 {
		return t[:slash] + ", '" + t[slash+1:]
	}
	return t[:slash] + ", " + t[slash+1:]
}

// notKnown reports whether the words, or figures of nothing but zeros, nines, dashes and the like, say that nothing is known.
func notKnown(t string) bool {
	if strings.ContainsAny(t, "12345678") {
		return false
	}
	bare := strings.TrimSpace(plainMarks.Replace(strings.ToLower(t)))
	figures := strings.Map(func(r rune) rune {
		if strings.ContainsRune(" /-.,:'", r) {
			return -1
		}
		return r
	}, bare)
	if lexicon()[figures].unknown {
		return true
	}
	return strings.Trim(figures, "0?x") == "" || len(figures) >= 4 && strings.Trim(figures, "9") == ""
}

// serial says what day a spreadsheet's day number would be. It is never read as that day: it may as well be something else.
func serial(t string) error {
	whole, frac, _ := strings.Cut(t, ".")
	if len(whole) != 5 || strings.Trim(whole+frac, "0123456789") != "" {
		return nil
	}
	n := 0
	for _, c := range whole {
		n = n*10 + int(c-'0')
	}
	return fmt.Errorf("it looks like a spreadsheet's day number (%d would be %s): write the date out", n, spreadsheetDay(n))
}

// spreadsheetDay is the day of a spreadsheet's number, from 1 March 1900 on; below that the count has a day that never was.
func spreadsheetDay(n int) Day { return Day{1899, 12, 30}.AddDays(n) }
