package vocab

import (
	"strings"
	"unicode/utf8"
)

// DotBelow is the combining mark by which the Leiden conventions mark an unclear letter.
const DotBelow = '\u0323'

// Unclear reports whether a letter is one that a writing program has joined to that mark.
func Unclear(r rune) bool { return r >= 0x1e00 && strings.ContainsRune(dotted, r) }

// PlainLetters gives the small letters a to z that an accented Latin letter or a ligature is drawn with: "e" for "É", "ss" for "ß". It knows the letters
// of the European languages, and those with a dot below.
func PlainLetters(r rune) (string, bool) {
	if i := strings.IndexRune(accented, r); i >= 0 {
		n := utf8.RuneCountInString(accented[:i])
		return plain[n : n+1], true
	}
	switch r {
	case 'ß', 'ẞ':
		return "ss", true
	case 'æ', 'Æ':
		return "ae", true
	case 'œ', 'Œ':
		return "oe", true
	case 'þ', 'Þ':
		return "th", true
	case 'ð', 'Ð':
		return "d", true
	}
	return "", false
}

// accented and plain go letter by letter; dotted are those with a dot below.
const (
	accented = "àáâãäåāăąçćĉċčďđèéêëēĕėęěĝğġģĥħìíîïĩīĭįıĵķĺļľŀłñńņňŉòóôõöøōŏőŕŗřśŝşšţťŧùúûüũūŭůűųŵýÿŷźżž" +
		"ÀÁÂÃÄÅĀĂĄÇĆĈĊČĎĐÈÉÊËĒĔĖĘĚĜĞĠĢĤĦÌÍÎÏĨĪĬĮİĴĶĹĻĽĿŁÑŃŅŇÒÓÔÕÖØŌŎŐŔŖŘŚŜŞŠŢŤŦÙÚÛÜŨŪŬŮŰŲŴÝŸŶŹŻŽſ" +
		"șțȘȚ" + dotted
	dotted = "ạḅḍẹḥịḳḷṃṇọṛṣṭụṿẉỵẓẠḄḌẸḤỊḲḶṂṆỌṚṢṬỤṾẈỴẒ"
	plain  = "aaaaaaaaacccccddeeeeeeeeegggghhiiiiiiiiijklllllnnnnnooooooooorrrsssstttuuuuuuuuuuwyyyzzz" +
		"aaaaaaaaacccccddeeeeeeeeegggghhiiiiiiiiijklllllnnnnooooooooorrrsssstttuuuuuuuuuuwyyyzzzs" +
		"stst" + "abdehiklmnorstuvwyzabdehiklmnorstuvwyz"
)
