package ferry

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
)

// dice are all chance of one part of a survey.
type dice struct{ *rand.Rand }

func newDice(seed, part uint64) dice { return dice{rand.New(rand.NewPCG(seed, 0xfe44<<16|part))} }

// is says yes with a chance.
func (d dice) is(chance float64) bool { return d.Float64() < chance }

// from is a whole number from low to high, both among them.
func (d dice) from(low, high int) int { return low + d.IntN(high-low+1) }

// about is a whole number that scatters about a mean.
func (d dice) about(mean, spread float64) int { return int(math.Round(mean + spread*d.NormFloat64())) }

// of is one of the list.
func of[T any](d dice, list ...T) T { return list[d.IntN(len(list))] }

// shares is a list of things of which each is drawn as often as its weight says.
type shares[T any] struct {
	things []T
	upto   []float64
}

func (s *shares[T]) add(thing T, weight float64) {
	if n := len(s.upto); n > 0 {
		weight += s.upto[n-1]
	}
	s.things, s.upto = append(s.things, thing), append(s.upto, weight)
}

func (s *shares[T]) draw(d dice) T {
	x := d.Float64() * s.upto[len(s.upto)-1]
	low, high := 0, len(s.upto)-1
	for low < high {
		if mid := (low + high) / 2; s.upto[mid] <= x {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return s.things[low]
}

// day is a day, or a month or a year where the rest is naught.
type day struct{ y, m, d int }

var (
	monthNames = [...]string{"", "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}
	monthShort = [...]string{"", "Jan.", "Feb.", "Mar.", "Apr.", "May", "June", "July", "Aug.", "Sept.", "Oct.", "Nov.", "Dec."}
	monthDays  = [...]int{0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
)

// number counts days well enough to put days in order and to go from one to another.
func (t day) number() int { return t.y*365 + (t.m-1)*30 + t.d }

func (t day) after(other day) bool { return t.number() > other.number() }

// plus is so many days later, thirty to a month.
func (t day) plus(days int) day {
	n := t.y*365 + min((t.m-1)*30+t.d, 364) + days
	y, rest := n/365, n%365
	m := min(rest/30, 11)
	return day{y, m + 1, max(1, min(rest-m*30, monthDays[m+1]))}
}

// years is how many whole years lie between.
func (t day) years(later day) int {
	n := later.y - t.y
	if later.m < t.m || later.m == t.m && later.d < t.d {
		n--
	}
	return n
}

func (d dice) dayOf(y int) day {
	m := d.from(1, 12)
	return day{y, m, d.from(1, monthDays[m])}
}

// write writes a day as a hand does.
func (t day) write(how string) string {
	if t.y == 0 {
		return ""
	}
	if t.m == 0 {
		return fmt.Sprint(t.y)
	}
	switch how {
	case "full":
		return fmt.Sprintf("%s %d, %d", monthNames[t.m], t.d, t.y)
	case "short":
		return fmt.Sprintf("%s %d, %d", monthShort[t.m], t.d, t.y)
	case "tick":
		return fmt.Sprintf("%s %d, '%02d", monthShort[t.m], t.d, t.y%100)
	case "slash":
		return fmt.Sprintf("%d/%d/%d", t.m, t.d, t.y)
	case "first":
		return fmt.Sprintf("%d %s %d", t.d, monthShort[t.m], t.y)
	case "bare":
		return fmt.Sprintf("%.3s %d %d", monthNames[t.m], t.d, t.y)
	case "year first":
		return fmt.Sprintf("%d %.3s. %d", t.y, monthNames[t.m], t.d)
	case "month":
		return fmt.Sprintf("%s %d", monthNames[t.m], t.y)
	}
	return fmt.Sprintf("%d-%02d-%02d", t.y, t.m, t.d)
}

// ordinal is 1st, 2d, 3d or, where it is new, 2nd and 3rd.
func ordinal(n int, old bool) string {
	switch {
	case n%100/10 == 1:
	case n%10 == 1:
		return strconv.Itoa(n) + "st"
	case n%10 == 2 && old, n%10 == 3 && old:
		return strconv.Itoa(n) + "d"
	case n%10 == 2:
		return strconv.Itoa(n) + "nd"
	case n%10 == 3:
		return strconv.Itoa(n) + "rd"
	}
	return strconv.Itoa(n) + "th"
}
