package unit

import "musterstone/vocab/words"

// numberWords are the words of ordinals as rosters write regiments out.
var numberWords = map[string]int{
	"FIRST": 1, "SECOND": 2, "THIRD": 3, "FOURTH": 4, "FIFTH": 5, "SIXTH": 6, "SEVENTH": 7, "EIGHTH": 8, "NINTH": 9, "TENTH": 10,
	"ELEVENTH": 11, "TWELFTH": 12, "THIRTEENTH": 13, "FOURTEENTH": 14, "FIFTEENTH": 15, "SIXTEENTH": 16, "SEVENTEENTH": 17,
	"EIGHTEENTH": 18, "NINETEENTH": 19, "TWENTIETH": 20, "THIRTIETH": 30, "FORTIETH": 40, "FIFTIETH": 50, "SIXTIETH": 60, "SEVENTIETH": 70,
	"EIGHTIETH": 80, "NINETIETH": 90, "HUNDREDTH": 100,
}

var tensWords = map[string]int{"TWENTY": 20, "THIRTY": 30, "FORTY": 40, "FIFTY": 50, "SIXTY": 60, "SEVENTY": 70, "EIGHTY": 80, "NINETY": 90}

// numberAt reads the number that starts at word i: its value and the word after it. Bare numbers above 4999 are none of a unit's.
func numberAt(t *words.Text, i int) (n, to int) {
	w := &t.Words[i]
	if w.Num > 0 && w.Num < 5000 {
		return w.Num, i + 1
	}
	if w.Has(words.Digits) {
		return 0, i
	}
	sum, k := 0, i
	if key := t.Key(k); (key == "ONE" || key == "A") && k+1 < len(t.Words) && (t.Key(k+1) == "HUNDRED" || t.Key(k+1) == "HUNDREDTH") {
		if t.Key(k+1) == "HUNDREDTH" {
			return 100, k + 2
		}
		sum, k = 100, k+2
		if k < len(t.Words) && t.Key(k) == "AND" {
			k++
		}
	}
	if k < len(t.Words) {
		if tens, ok := tensWords[t.Key(k)]; ok && k+1 < len(t.Words) {
			if ones := numberWords[t.Key(k+1)]; ones > 0 && ones < 10 {
				return sum + tens + ones, k + 2
			}
			return 0, i
		}
		if ones, ok := numberWords[t.Key(k)]; ok {
			return sum + ones, k + 1
		}
	}
	return 0, i
}
