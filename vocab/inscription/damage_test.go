package inscription

import (
	"strings"
	"testing"
)

// TestDamage: what is left of damaged words tells what a person would make of it. Cases that begin with "> " stand on a government marker.
func TestDamage(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		// Lines of a unit that have lost their number and more in one gap.
		{"> J. FOX / [......] / [---]NF.", "name: J Fox; surname: Fox; arm: infantry"},
		{"> JOHN FOX / [.....]D. BATTY.", "name: John Fox; surname: Fox; kind: battery; arm: light-artillery"},
		{"> JOHN FOX / [---]OL. INF.", "name: John Fox; surname: Fox; arm: infantry; marks: volunteers"},
		{"JOHN FOX / CO. D[---]. INF.", "name: John Fox; surname: Fox; company: D; arm: infantry"},
		{"JOHN FOX / CO. H[---]INF.", "name: John Fox; surname: Fox; company: H; arm: infantry"},
		{"JOHN FOX / CO[---]NF.", "name: John Fox; surname: Fox; company: ?; arm: infantry"},
		{"JOHN FOX / CO[---]D. INF.", "name: John Fox; surname: Fox; company: ?; arm: infantry"},
		{"JOHN FOX / CO. [......]D. CAV.", "name: John Fox; surname: Fox; company: ?; arm: cavalry"},
		{"JOHN FOX / CO. [......] INDA. INF.", "name: John Fox; surname: Fox; company: ?; of: IN; arm: infantry"},
		{"JOHN FOX / CO [---]H IND INF", "name: John Fox; surname: Fox; company: ?; of: IN; arm: infantry"},
		{"JOHN FOX / CO. A [---] INF.", "name: John Fox; surname: Fox; company: A; arm: infantry"},
		{"JOHN FOX / CO. A [---]NF", "name: John Fox; surname: Fox; company: A; arm: infantry"},
		{"JOHN FOX / CO C / [.....]S INF", "name: John Fox; surname: Fox; company: C; arm: infantry"},
		{"JOHN FOX / CO. B [..]INDA VOL INF", "name: John Fox; surname: Fox; company: B; of: IN; arm: infantry; marks: volunteers"},
		{"JOHN FOX / CO D / [...]EX CAV", "name: John Fox; surname: Fox; company: D; of: TX; arm: cavalry"},
		{"JOHN FOX / CO. A 4[---]F.", "name: John Fox; surname: Fox; company: A; regiment-lost: 4*; arm: infantry"},
		{"JOHN FOX / 1[---]TTY.", "name: John Fox; surname: Fox; regiment-lost: 1*; kind: battery; arm: light-artillery"},
		{"JOHN FOX / CO. A 72[.....]A. INF.", "name: John Fox; surname: Fox; company: A; regiment-lost: 72*; arm: infantry"},
		{"JOHN FOX / CO. C 13[---].", "name: John Fox; surname: Fox; company: C; regiment-lost: 13*"},
		{"JOHN FOX / CO. K / 89 [.....]NF", "name: John Fox; surname: Fox; company: K; regiment: 89; arm: infantry"},
		{"JOHN FOX / CO. A [---]D[---]", "name: John Fox; surname: Fox; company: A"},
		{"JOHN FOX / 16TH IND[---].", "name: John Fox; surname: Fox; regiment: 16; of: IN"},
		{"> JOHN FOX / 13 IN[......] A.", "name: John Fox; surname: Fox; regiment: 13; of: IN; arm: artillery"},
		{"> JOHN FOX / 1 [......]. A.", "name: John Fox; surname: Fox; regiment: 1; arm: artillery"},
		{"> JOHN FOX / 8 INDA. BAT[....]", "name: John Fox; surname: Fox; regiment: 8; kind: battery; of: IN; arm: light-artillery"},
		{"JOHN FOX / CO A / 10 U S CO[....]F", "name: John Fox; surname: Fox; company: A; regiment: 10; of: usct; side: union; conflicts: civil-war"},
		{"JOHN FOX / CO A / 18 U S [---]", "name: John Fox; surname: Fox; company: A; regiment: 18; of: us"},
		{"JOHN FOX / OO K / 142 REGT IND INF", "name: John Fox; surname: Fox; company: K; regiment: 142; of: IN; arm: infantry"},
		{"JOHN FOX / CO. H / 38[.]H IOWA INF.", "name: John Fox; surname: Fox; company: H; regiment: 38; of: IA; arm: infantry"},
		{"JOHN FOX / CO. H / 4[.]ST IND. INF.", "name: John Fox; surname: Fox; company: H; regiment: 41; of: IN; arm: infantry"},
		{"JOHN FOX / CO. H / 41[.]T IND. INF.", "name: John Fox; surname: Fox; company: H; regiment: 41; of: IN; arm: infantry"},
		// Dates told only in part, or with a figure misread.
		{"E. WARD / [---] 1893 / D[......], 1970", "name: E Ward; surname: Ward; born: 1893; died: 1970"},
		{"JOHN FOX / S[---]1843 / AU[---]1904", "name: John Fox; surname: Fox; born: 1843; died: 1904-08"},
		{"JAS. FOX / D[...] / NOV. 15[....]82", "name: James Fox; surname: Fox; died: 1682/1982"},
		{"JOHN FOX / 183[---]91", "name: John Fox; surname: Fox; born: 183X; died: 1891"},
		{"JOHN FOX / 1[---]888", "name: John Fox; surname: Fox; born: 1793/1872; died: 1888"},
		{"JOHN FOX / [---] - 1868", "name: John Fox; surname: Fox; died: 1868"},
		{"JOHN FOX / 825 - 1877", "name: John Fox; surname: Fox; born: 1825; died: 1877"},
		{"JOHN FOX / 31 - 1891", "name: John Fox; surname: Fox; born: 1831; died: 1891"},
		{"JOHN FOX / 1828 - 187", "name: John Fox; surname: Fox; born: 1828; died: 187X"},
		{"JOHN FOX / 1833 - 1683", "name: John Fox; surname: Fox; born: 1833; died: 1883"},
		{"JOHN FOX / JUNE 77, 1841 / FEB. 9, 1919", "name: John Fox; surname: Fox; born: 1841-06; died: 1919-02-09"},
		{"JOHN FOX / DIED SEPT. 78, 1902", "name: John Fox; surname: Fox; died: 1902-09"},
		{"JOHN FOX / APRIL 19, 1892 / OCT 27, 1062", "name: John Fox; surname: Fox; born: 1892-04-19; died: 1962-10-27"},
		{"JOHN FOX / FEB. 14, 824 / MAY 5, 1890", "name: John Fox; surname: Fox; born: 1824-02-14; died: 1890-05-05"},
		{"JOHN BOYD / FEB. 6, [....] / DEC. 2[---] / CO. B 34 IND. INF.", "name: John Boyd; surname: Boyd; company: B; regiment: 34; of: IN; arm: infantry"},
		{"JOHN FOX / DEC. 24[---] / AGED 40 YEARS", "name: John Fox; surname: Fox; age: AGED 40 YEARS"},
		{"> INDIANA / JOHN FOX / PVT 152 INF / [.....]3 1923", "name: John Fox; surname: Fox; rank: private; regiment: 152; arm: infantry; home: IN; died: 1923"},
		{"JOHN FOX / 1840 - 1900 / AT[---]", "name: John Fox; surname: Fox; born: 1840; died: 1900"},
	} {
		ctx := Context{}
		text, government := strings.CutPrefix(c.text, "> ")
		if government {
			ctx.Pattern = "civil-war-1873"
		}
		if _, _, wrong := compare(strings.Split(c.want, "; "), Read(text, ctx)[0]); len(wrong) > 0 {
			t.Errorf("%s\n\t%s", c.text, strings.Join(wrong, "\n\t"))
		}
	}
}
