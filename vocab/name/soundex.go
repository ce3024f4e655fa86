package name

// soundexCode has the National Archives' digit for each letter; "0" for the vowels, which part equal codes, and "-" for H and W, which do not.
const soundexCode = "01230120022455012623010202"

// Soundex is the code of the National Archives for a name as written: the first letter and three digits. H and W between two letters of one
// code do not part them (Ashcraft is A261), and the first letter takes up equal codes that follow it (Pfister is P236). It is "" where the
// first letter is lost; other lost letters are passed over. Prefixes are coded as written: see SoundexBoth.
func Soundex(s string) string {
	f := Fold(s)
	if f == "" || f[0] == '?' || f[0] == '*' {
		return ""
	}
	code := [4]byte{f[0] - 'a' + 'A', '0', '0', '0'}
	last := digit(f[0])
	n := 1
	for i := 1; i < len(f) && n < 4; i++ {
		c := f[i]
		if c == 'h' || c == 'w' {
			continue
		}
		if c == '?' || c == '*' {
			last = '0'
			continue
		}
		d := digit(c)
		if d != '0' && d != last {
			code[n] = d
			n++
		}
		last = d
	}
	return string(code[:])
}

func digit(c byte) byte { return soundexCode[c-'a'] }

// soundexPrefixes are the prefixes that the National Archives' rule sheet has coded both ways; Mc and Mac are none.
var soundexPrefixes = []string{"van", "con", "de", "di", "la", "le", "von", "du"}

// SoundexBoth gives the codes of a name with and without its prefix, as the National Archives advises to look under both: "VanDeusen" is V532 and
// D250. Without a prefix it gives the one code.
func SoundexBoth(s string) []string {
	f := Fold(s)
	code := Soundex(f)
	if code == "" {
		return nil
	}
	codes := []string{code}
	for _, p := range soundexPrefixes {
		if len(f) >= len(p)+4 && f[:len(p)] == p {
			if c := Soundex(f[len(p):]); c != "" && c != code {
				codes = append(codes, c)
			}
		}
	}
	return codes
}
