package date

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// wordsCSV has the words that stand in dates and ages on stones and rosters: a form in lower case, without stops and apostrophes; its kind; what it stands for there.
//
// The forms of months with a number ("7ber" is September) count as the Romans did, from March.
//
//go:embed words.csv
var wordsCSV string

// meaning is all that one word can stand for.
type meaning struct {
	month   int   // 1 to 12; 0 where it is no month's
	season  int   // the EDTF code of a season; 0 where it is none's
	sense   sense // what it says of the date beside it
	ageUnit byte  // what it counts: 'y', 'm', 'w', 'd', 'h'; 0 where it is no unit of an age
	ageWord ageWord
	number  int  // where it is a numeral
	numeral bool // up to nineteen, or a round ten
	unknown bool // by itself it says that nothing is known
}

// sense is what a word says of the date beside it.
type sense int

const (
	noSense sense = iota
	filler
	approximately
	uncertainly
	before
	after
	notAfter
	notBefore
	inBetween
	and
)

var senses = map[string]sense{
	"nothing": filler, "about": approximately, "perhaps": uncertainly, "before": before, "after": after, "by": notAfter, "from": notBefore, "between": inBetween, "and": and,
}

// ageWord is what a word of an age says that is no unit.
type ageWord int

const (
	noAgeWord ageWord = iota
	ageFiller
	infant
	stillborn
)

var ageWords = map[string]ageWord{"nothing": ageFiller, "infant": infant, "stillborn": stillborn}

// lexicon has the meaning of each word of the table.
var lexicon = sync.OnceValue(func() map[string]meaning {
	words, err := readWords(wordsCSV)
	if err != nil {
		panic(err) // the table is part of the program
	}
	return words
})

// readWords reads the table of words.
func readWords(text string) (map[string]meaning, error) {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("read the words of dates: %w", err)
	}
	words := map[string]meaning{}
	for i, row := range rows[1:] {
		form, kind, value := row[0], row[1], row[2]
		m := words[form]
		was, known := m, true
		switch kind {
		case "month":
			m.month, err = strconv.Atoi(value)
		case "season":
			m.season, err = strconv.Atoi(value)
		case "sense":
			m.sense, known = senses[value]
		case "age-unit":
			if known = len(value) == 1; known {
				m.ageUnit = value[0]
			}
		case "age":
			m.ageWord, known = ageWords[value]
		case "number":
			m.numeral = true
			m.number, err = strconv.Atoi(value)
		case "unknown":
			m.unknown = true
		default:
			known = false
		}
		if err != nil || !known || m == was {
			return nil, fmt.Errorf("words.csv:%d: %q is no %s of a kind that is known, or stands twice", i+2, form, kind)
		}
		words[form] = m
	}
	return words, nil
}

// month gives the number of a month by any of the names and abbreviations that rosters and stones print; 0 if it is none.
func month(w string) int { return lexicon()[w].month }

// Months are the names and abbreviations of months that rosters and stones print, in lower case, without stops, sorted; with 1 to 12.
func Months() iter.Seq2[string, int] {
	return func(yield func(string, int) bool) {
		for _, w := range slices.Sorted(maps.Keys(lexicon())) {
			if m := month(w); m > 0 && !yield(w, m) {
				return
			}
		}
	}
}

// seasonCode gives the EDTF code of a season's name; 0 if it is none.
func seasonCode(w string) int { return lexicon()[w].season }

func senseOf(w string) sense { return lexicon()[w].sense }

// numeral is the number that a word is; -1 where it is none.
func numeral(w string) int {
	if m := lexicon()[w]; m.numeral {
		return m.number
	}
	return -1
}

// ageUnit tells what a word counts: 'y', 'm', 'w', 'd', 'h'; 0 if it is none.
func ageUnit(w string) byte { return lexicon()[w].ageUnit }
