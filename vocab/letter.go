package vocab

import (
	"strings"
	"unicode/utf8"
)

// PlainLetters gives the small letters a to z that an accented Latin letter or a ligature is drawn with: "e" for "É", "ss" for "ß". It knows the letters
// of the European languages, and those with a dot below by which the Leiden conventions mark an unclear letter.
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

// accented and plain go letter by letter.
const (
	accented = "àáâãäåāăąçćĉċčďđèéêëēĕėęěĝğġģĥħìíîïĩīĭįıĵķĺļľŀłñńņňŉòóôõöøōŏőŕŗřśŝşšţťŧùúûüũūŭůűųŵýÿŷźżž" +
		"ÀÁÂÃÄÅĀĂĄÇĆĈĊČĎĐÈÉÊËĒĔĖĘĚĜĞĠĢĤĦÌÍÎÏĨĪĬĮİĴĶĹĻĽĿŁÑŃŅŇÒÓÔÕÖØŌŎŐŔŖŘŚŜŞŠŢŤŦÙÚÛÜŨŪŬŮŰŲŴÝŸŶŹŻŽſ" +
		"ạḅḍẹḥịḳḷṃṇọṛṣṭụṿẉỵẓẠḄḌẸḤỊḲḶṂṆỌṚṢṬỤṾẈỴẒ"
	plain = "aaaaaaaaacccccddeeeeeeeeegggghhiiiiiiiiijklllllnnnnnooooooooorrrsssstttuuuuuuuuuuwyyyzzz" +
		"aaaaaaaaacccccddeeeeeeeeegggghhiiiiiiiiijklllllnnnnooooooooorrrsssstttuuuuuuuuuuwyyyzzzs" +
		"abdehiklmnorstuvwyzabdehiklmnorstuvwyz"
)
