package name

// soundexCode has the National Archives' digit for each letter; "0" for the vowels, which part equal codes, and "-" for H and W, which do not.
const soundexCode = "01230120022455012623010202"

// Soundex is the code of the National Archives for a name as written: the first letter and three digits. H and W between two letters of one
// code do not part them (Ashcraft is A261), and the first letter takes up equal codes that follow it (Pfister is P236). It is "" where the
// first letter is lost; other lost letters are passed over. Prefixes are coded as written.
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
