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

// mostOther is at how many places of one man's remarks a unit is looked for. House judgement.
const mostOther = 8

// Remarks are the units that a roster's remarks name, each with the words that say so.
type Remarks []remarked

// remarked is a unit as remarks name it, and the words.
type remarked struct {
	unit  model.Unit
	words string
}

// A RemarksReader reads remarks and remembers units that it has met in them: the same transfers come with many dates. The zero one is empty; it is for one goroutine.
type RemarksReader struct{ units map[string]remarked }

const (
	// mostUnits is how many a RemarksReader remembers: after that all are forgotten.
	mostUnits = 1 << 13
	// longestUnit is how many bytes of words it remembers of.
	longestUnit = 100
)

// Read finds the units that remarks name behind words of a transfer: "Transferred to Co. D, 84th Regiment", "Trans. to V. R. C. Oct. 13, 1864".
func (r *RemarksReader) Read(remarks string) (list Remarks) {
	o := otherWords()
	begins, looked := true, 0
	for i := 0; i+1 < len(remarks) && looked < mostOther; i++ {
		c := remarks[i]
		if begins && o.heads[c&31]>>(remarks[i+1]&31)&1 != 0 {
			for _, w := range o.list {
				if n := len(w); len(remarks) > i+n && remarks[i+n] == ' ' && strings.EqualFold(remarks[i:i+n], w) {
					looked++
					rest := remarks[i+n+1:]
					if u := r.unitAt(rest); u.words != "" {
						said := remarks[i : i+n+1]
						if strings.HasPrefix(rest, u.words) {
							said = remarks[i : i+n+1+len(u.words)]
						} else {
							said += u.words
						}
						list = append(list, remarked{u.unit, said})
					}
					break
				}
			}
		}
		begins = strings.IndexByte(" ;,(.:", c) >= 0
	}
	return list
}

// Other is the first of the units that is not the man's own. What the remark leaves out of the state, the number and the arm is that of his own unit, but for a body of troops of its own. Text are
// the words that say so, of which Read makes the same again. ok is false where none is named, or no more is said than in the row itself.
func (r Remarks) Other(own *model.Unit) (u model.Unit, text string, ok bool) {
	for i := range r {
		u := r[i].unit
		if u.Body == "" && u.State == "" {
			u.Body, u.State = own.Body, own.State
			if u.Number == 0 {
				u.Number, u.Kind = own.Number, own.Kind
			}
			if u.Arm == "" && u.Kind != model.Depot {
				u.Arm = own.Arm
			}
		}
		same := u.Company == "" || u.Company == own.Company
		if !(same && u.Body == own.Body && u.State == own.State && u.Number == own.Number && u.Arm == own.Arm) {
			return u, r[i].words, true
		}
	}
	return model.Unit{}, "", false
}

// InRemarks finds another unit of a roster's man that its remarks name: see Other.
func InRemarks(remarks string, own *model.Unit) (u model.Unit, text string, ok bool) {
	return new(RemarksReader).Read(remarks).Other(own)
}

// unitAt is the unit with which a text begins, and its words; without words where none stands there.
func (r *RemarksReader) unitAt(text string) remarked {
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
	end := 0
	for _, f := range fields {
		end += strings.Index(text[end:], f) + len(f)
	}
	text = text[:end]
	u, ok := r.units[text]
	if !ok {
		text = strings.Clone(text)
		u = unitOf(strings.Fields(text))
		if r.units == nil || len(r.units) >= mostUnits {
			r.units = make(map[string]remarked)
		}
		if len(text) <= longestUnit {
			r.units[text] = u
		}
	}
	return u
}

// unitOf is the unit with which words begin: of as many of them as are one together. Before others that are none of it, a letter alone is no company, and U. S. no troops: "C. S. Army", "U. S. Navy".
func unitOf(all []string) remarked {
	for fields := all; len(fields) > 0; fields = fields[:len(fields)-1] {
		written := strings.TrimRight(strings.Join(fields, " "), ",. ")
		u, ok := Parse(written)
		if !ok || u.Kind == model.Ship || u.Company == "" && u.Number == 0 && u.Body == "" {
			continue
		}
		if len(fields) < len(all) && (len(written) == 1 || u.Company == "" && u.Number == 0 && u.Arm == "" && u.Body == model.BodyRegulars) {
			return remarked{}
		}
		return remarked{u, written}
	}
	return remarked{}
}

// monthNames are the words of months, and a bit for each letter with which one begins.
var monthNames = sync.OnceValue(func() (months struct {
	words map[string]bool
	heads uint32
}) {
	months.words = map[string]bool{}
	for w := range date.Months() {
		w = strings.ToUpper(w)
		months.words[w] = true
		months.heads |= 1 << (w[0] & 31)
	}
	return months
})

// datesOf reports whether a word of remarks begins a date: a month, a year.
func datesOf(word string) bool {
	months := monthNames()
	if c := word[0] | 0x20; c < 'a' || c > 'z' || months.heads>>(c&31)&1 != 0 { // of most words the first letter tells
		if months.words[words.Letters(word)] {
			return true
		}
	}
	digits := 0
	for k := range len(word) {
		if word[k] >= '0' && word[k] <= '9' {
			digits++
		}
	}
	return digits == 4 || word[0] == '\''
}
