package date

import (
	"fmt"
	"strconv"
	"strings"
)

// season gives the first and the last day that a season code can mean in a year.
func season(code, year int) (from, to Day) {
	switch code {
	case 21, 25, 31: // spring; in the south autumn
		return Day{year, 3, 1}, Day{year, 6, 21}
	case 22, 26, 32: // summer; in the south winter
		return Day{year, 6, 1}, Day{year, 9, 23}
	case 23, 27, 29: // autumn; in the south spring
		return Day{year, 9, 1}, Day{year, 12, 22}
	case 24, 28, 30: // winter, in the south summer: that which ends in the year, or that which begins in it
		return Day{year - 1, 12, 1}, Day{year + 1, 3, 20}
	case 33, 34, 35, 36: // quarters
		from = Day{year, 3*(code-33) + 1, 1}
		return from, from.addMonths(3).AddDays(-1)
	case 37, 38, 39: // spans of four months
		from = Day{year, 4*(code-37) + 1, 1}
		return from, from.addMonths(4).AddDays(-1)
	default: // 40, 41: halves
		from = Day{year, 6*(code-40) + 1, 1}
		return from, from.addMonths(6).AddDays(-1)
	}
}

func seasonDate(year string, negative bool, code int, approximate, uncertain bool) (Date, error) {
	years := yearsOf(year, negative, false)
	if len(years) == 0 {
		return Date{}, fmt.Errorf("year %q: no year fits", year)
	}
	from, _ := season(code, years[0])
	_, to := season(code, years[len(years)-1])
	d := Date{From: from, To: to, Approximate: approximate, Uncertain: uncertain}
	if code <= 24 && !strings.Contains(year, "X") {
		d.EDTF = yearText(years[0]) + "-" + strconv.Itoa(code) + mark(approximate, uncertain)
		return d, nil
	}
	d.EDTF = render(from, to, mark(approximate, uncertain))
	return d, nil
}

// maxYear is the greatest year, either way, that a Day is given.
const maxYear = 999_999_999

// parseLongYear reads "Y170000002", and of level 2 "Y-17E7", "Y3388E2S3" and "1950S2".
func parseLongYear(t string) (Date, error) {
	body, approximate, uncertain := stripMarks(t)
	body, digits, significant := strings.Cut(body, "S")
	long := strings.HasPrefix(body, "Y")
	number, exponent, exponential := strings.Cut(strings.TrimPrefix(body, "Y"), "E")
	bare := strings.TrimPrefix(number, "-")
	if bare == "" || strings.Trim(bare, "0123456789") != "" || bare[0] == '0' && len(bare) != 4 {
		return Date{}, fmt.Errorf("year %q: want digits after Y", t)
	}
	if long && !exponential && len(bare) <= 4 {
		return Date{}, fmt.Errorf("year %q: Y is for years of more than four digits; write %s", t, number)
	}
	if !long && (exponential || len(bare) != 4) {
		return Date{}, fmt.Errorf("year %q: want four digits, or Y and more", t)
	}
	tooFar := fmt.Errorf("year %q is beyond %d, the farthest that is kept", t, maxYear)
	y, err := strconv.Atoi(number)
	if err != nil {
		return Date{}, tooFar
	}
	if exponential {
		e, err := strconv.Atoi(exponent)
		if err != nil || e < 0 || strings.Trim(exponent, "0123456789") != "" {
			return Date{}, fmt.Errorf("year %q: want digits after E", t)
		}
		for range min(e, 20) {
			if y > maxYear || y < -maxYear {
				return Date{}, tooFar
			}
			y *= 10
		}
	}
	if y > maxYear || y < -maxYear {
		return Date{}, tooFar
	}
	lo, hi := y, y
	if significant {
		n, err := strconv.Atoi(digits)
		if err != nil || n < 1 || strings.Trim(digits, "0123456789") != "" {
			return Date{}, fmt.Errorf("year %q: want a count of digits after S", t)
		}
		step := 1
		for range len(strings.TrimPrefix(strconv.Itoa(y), "-")) - n {
			step *= 10
		}
		lo = y / step * step
		hi = lo + step - 1
		if y < 0 {
			lo, hi = lo-step+1, lo
		}
	}
	from, to := Day{lo, 1, 1}, Day{hi, 12, 31}
	return Date{EDTF: render(from, to, mark(approximate, uncertain)), From: from, To: to, Approximate: approximate, Uncertain: uncertain}, nil
}
