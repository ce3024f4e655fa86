package unit

import (
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/words"
)

// otherWords are the words behind which a roster's remarks name another unit of the man, in small letters, and for each first letter of them a bit for the second.
var otherWords = sync.OnceValue(func() (o struct {
	list  []string
	heads [32]uint32
}) {
	for _, r := range vocab.Rows("other-unit-words") {
		w := r.Get("word")
		o.list = append(o.list, w)
		o.heads[w[0]&31] |= 1 << (w[1] & 31)
	}
	return o
})

// longestOther is how many words of remarks a unit may have. House judgement.
const longestOther = 9

// InRemarks finds another unit of a roster's man that its remarks name: "Transferred to Co. D, 84th Regiment", "Trans. to V. R. C. Oct. 13, 1864". What the remark leaves out of the state, the number and the arm is that of his
// own unit, but for a body of troops of its own. Text are the words that say so, of which InRemarks makes the same again. ok is false where they name none, or say no more than the row itself.
func InRemarks(remarks string, own *model.Unit) (u model.Unit, text string, ok bool) {
	o := otherWords()
	begins := true
	for i := 0; i+1 < len(remarks); i++ {
		c := remarks[i]
		if begins && o.heads[c&31]>>(remarks[i+1]&31)&1 != 0 {
			for _, w := range o.list {
				if n := len(w); len(remarks) > i+n && remarks[i+n] == ' ' && strings.EqualFold(remarks[i:i+n], w) {
					if u, text, ok = otherUnit(remarks[i+n+1:], own); ok {
						return u, remarks[i:i+n+1] + text, true
					}
					break
				}
			}
		}
		begins = c == ' ' || c == ';' || c == ','
	}
	return model.Unit{}, "", false
}

// otherUnit reads the unit with which a text begins, and gives its words.
func otherUnit(text string, own *model.Unit) (u model.Unit, written string, other bool) {
	if end := strings.IndexAny(text, ";:()"); end >= 0 {
		text = text[:end]
	}
	fields := strings.Fields(text)
	if len(fields) > longestOther {
		fields = fields[:longestOther]
	}
	for k, f := range fields {
		if k > 0 && datesOf(f) {
			fields = fields[:k]
			break
		}
	}
	for ; len(fields) > 0; fields = fields[:len(fields)-1] {
		written := strings.TrimRight(strings.Join(fields, " "), ",. ")
		u, ok := Parse(written)
		if !ok || u.Kind == model.Ship || u.Company == "" && u.Number == 0 && u.Body == "" {
			continue
		}
		if u.Body == "" && u.State == "" {
			u.Body, u.State = own.Body, own.State
			if u.Number == 0 {
				u.Number, u.Kind = own.Number, own.Kind
			}
			if u.Arm == "" {
				u.Arm = own.Arm
			}
		}
		same := u.Company == "" || u.Company == own.Company
		return u, written, !(same && u.Body == own.Body && u.State == own.State && u.Number == own.Number && u.Arm == own.Arm)
	}
	return model.Unit{}, "", false
}

// monthNames are the words of months.
var monthNames = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for w := range date.Months() {
		m[strings.ToUpper(w)] = true
	}
	return m
})

// datesOf reports whether a word of remarks begins a date: a month, a year.
func datesOf(word string) bool {
	if letters := words.Letters(word); monthNames()[letters] {
		return true
	}
	digits := 0
	for k := range len(word) {
		if word[k] >= '0' && word[k] <= '9' {
			digits++
		}
	}
	return digits == 4 || word[0] == '\''
}
