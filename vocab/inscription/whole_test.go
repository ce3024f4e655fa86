package inscription

import (
	"strings"
	"testing"
)

// TestWhole: what is told of damaged stones is not told of whole ones that look like them. The inscriptions are of this program's making.
func TestWhole(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		// An initial that touches a rank is no raised letter of it; but one that completes it is.
		{"SERGT.T.J.HOLT / CO. D / 12 WIS. INF.", "name: T J Holt; surname: Holt; rank: sergeant; company: D; regiment: 12; of: WI; arm: infantry"},
		{"CAPT.L.HOLT / CO. D / 12 WIS. INF.", "name: L Holt; surname: Holt; rank: captain; company: D; regiment: 12; of: WI; arm: infantry"},
		{"SERG.T JOHN HOLT / CO. D / 12 WIS. INF.", "name: John Holt; surname: Holt; rank: sergeant; company: D; regiment: 12; of: WI; arm: infantry"},
		// A rank above a regiment's number and state on a line of their own is that of its soldier.
		{"CAPT. JOHN HOLT / 4 VT. MILITIA / DIED 1814", "name: John Holt; surname: Holt; rank: captain; regiment: 4; of: VT; marks: militia; died: 1814"},
		{"CAPT. JOHN HOLT / 53D WIS.", "name: John Holt; surname: Holt; rank: captain; regiment: 53; of: WI"},
		// Regulars have died before the regiments of a state were numbered, and drummers at twelve.
		{"JOHN HOLT / CO. C 4 U. S. INF. / DIED 1832", "name: John Holt; surname: Holt; company: C; regiment: 4; of: us; arm: infantry; died: 1832"},
		{"CLARENCE HOLT / DRUMMER / CO. D 13 N. Y. INF. / 1849 - 1861", "name: Clarence Holt; surname: Holt; rank: drummer; company: D; regiment: 13; of: NY; arm: infantry; born: 1849; died: 1861"},
	} {
		if _, _, wrong := compare(strings.Split(c.want, "; "), Read(c.text, Context{})[0]); len(wrong) > 0 {
			t.Errorf("%s\n\t%s", c.text, strings.Join(wrong, "\n\t"))
		}
	}
}
