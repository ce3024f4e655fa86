package rdf

import (
	"fmt"
	"strconv"
	"strings"

	"musterstone/model/date"
)

// CheckLexical holds a lexical form to its datatype. Known are xsd:integer, nonNegativeInteger, decimal, boolean, date, gYear, dateTime and
// anyURI (XML Schema 1.1 part 2, the lexical mappings), xsd:hexBinary, xsd:string, EDTF (Library of Congress, 2019: its characters
// only; package date knows the rest) and geo:wktLiteral (not empty). xsd:double and xsd:float are refused, because no figure of this program is one. A
// datatype that is not known is taken as it comes.
func CheckLexical(lexical, datatype string) error {
	ok := true
	switch datatype {
	case xsd + "integer":
		ok = isInteger(lexical)
	case xsd + "nonNegativeInteger":
		ok = isInteger(lexical) && lexical[0] != '-'
	case xsd + "decimal":
		ok = isDecimal(lexical)
	case xsd + "boolean":
		ok = lexical == "true" || lexical == "false" || lexical == "1" || lexical == "0"
	case xsd + "date":
		ok = isDate(lexical)
	case xsd + "gYear":
		ok = isGYear(lexical)
	case xsd + "dateTime":
		ok = isDateTime(lexical)
	case xsd + "anyURI":
		return checkIRI(lexical)
	case xsd + "hexBinary":
		ok = len(lexical)%2 == 0 && all(lexical, isHex)
	case EDTF:
		ok = lexical != "" && all(lexical, isEDTFChar)
	case geo + "wktLiteral":
		ok = strings.TrimSpace(lexical) != ""
	case xsd + "double", xsd + "float":
		return fmt.Errorf("%q: binary floating point (%s) is not published; make it xsd:decimal", lexical, datatype)
	case rdfns + "langString":
		return fmt.Errorf("%q: a text in a language needs its language tag", lexical)
	}
	if !ok {
		return fmt.Errorf("%s is not a value of %s", shorten(lexical), datatype)
	}
	return nil
}

func all(s string, f func(byte) bool) bool {
	for i := 0; i < len(s); i++ {
		if !f(s[i]) {
			return false
		}
	}
	return true
}

func isDigits(s string) bool { return s != "" && all(s, isDigit) }

func unsigned(s string) string {
	if s != "" && (s[0] == '+' || s[0] == '-') {
		return s[1:]
	}
	return s
}

func isInteger(s string) bool { return isDigits(unsigned(s)) }

func isDecimal(s string) bool {
	whole, frac, point := strings.Cut(unsigned(s), ".")
	if !point {
		return isDigits(whole)
	}
	return (whole != "" || frac != "") && all(whole, isDigit) && all(frac, isDigit)
}

func isEDTFChar(c byte) bool {
	return isDigit(c) || isLetter(c) || strings.IndexByte("-+:./?~%,{}[]", c) >= 0
}

// cutYear takes a year of four or more digits, without needless zeros, off the front.
func cutYear(s string) (year int, rest string, ok bool) {
	t := strings.TrimPrefix(s, "-")
	n := 0
	for n < len(t) && isDigit(t[n]) {
		n++
	}
	if n < 4 || n > 9 || n > 4 && t[0] == '0' {
		return 0, "", false
	}
	year, err := strconv.Atoi(t[:n])
	if err != nil {
		return 0, "", false
	}
	if len(t) < len(s) {
		year = -year
	}
	return year, t[n:], true
}

func isZone(s string) bool {
	if s == "" || s == "Z" {
		return true
	}
	if len(s) != 6 || s[0] != '+' && s[0] != '-' || s[3] != ':' || !isDigits(s[1:3]) || !isDigits(s[4:]) {
		return false
	}
	return s[1:3] < "14" && s[4:] <= "59" || s[1:] == "14:00"
}

func isGYear(s string) bool {
	_, rest, ok := cutYear(s)
	return ok && isZone(rest)
}

// cutDate takes a calendar date of the proleptic Gregorian calendar off the front.
func cutDate(s string) (rest string, ok bool) {
	year, rest, ok := cutYear(s)
	if !ok || len(rest) < 6 || rest[0] != '-' || rest[3] != '-' || !isDigits(rest[1:3]) || !isDigits(rest[4:6]) {
		return "", false
	}
	month, _ := strconv.Atoi(rest[1:3])
	day, _ := strconv.Atoi(rest[4:6])
	if !(date.Day{Year: year, Month: month, Day: day}).Valid() {
		return "", false
	}
	return rest[6:], true
}

func isDate(s string) bool {
	rest, ok := cutDate(s)
	return ok && isZone(rest)
}

func isDateTime(s string) bool {
	rest, ok := cutDate(s)
	if !ok || len(rest) < 9 || rest[0] != 'T' || rest[3] != ':' || rest[6] != ':' {
		return false
	}
	h, m, sec, tail := rest[1:3], rest[4:6], rest[7:9], rest[9:]
	if !isDigits(h) || !isDigits(m) || !isDigits(sec) || m > "59" || sec > "59" {
		return false
	}
	zeroFraction := true
	if strings.HasPrefix(tail, ".") {
		n := 1
		for n < len(tail) && isDigit(tail[n]) {
			zeroFraction = zeroFraction && tail[n] == '0'
			n++
		}
		if n == 1 {
			return false
		}
		tail = tail[n:]
	}
	return isZone(tail) && (h <= "23" || h == "24" && m == "00" && sec == "00" && zeroFraction)
}
