package inscription

import "testing"

// TestHands: stones as written down by recorders who mark what they could not read in ways of their own, by ?, by _, by words in brackets or by dots, and by a mark of doubt: common practice, no source. "> " stands before
// the stones of government markers.
func TestHands(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		// Signs as many as the letters are gaps as those in brackets are.
		{"> CHARL____GIN / CO. D / 11 MASS. INF.", "name: Charl[---] [---]gin; surname: [---]gin; company: D; regiment: 11; of: MA; arm: infantry"},
		{"> SGT. LUK???SDALE / CO. D / 11 MASS. INF.", "name: Luk[---] [---]sdale; surname: [---]sdale; rank: sergeant; company: D; regiment: 11; of: MA; arm: infantry"},
		{"WILLIA____WARDS / 1890 - 1947", "name: Willia[---] [---]wards; surname: [---]wards; born: 1890; died: 1947"},
		{"WILLIA[....]WARDS / 1890 - 1947", "name: Willia[---] [---]wards; surname: [---]wards; born: 1890; died: 1947"},
		{"WIL______ OTIS / 1890 - 1947", "name: Wil[---] Otis; surname: Otis; born: 1890; died: 1947"},
		{"> ROY__AMPBELL / CO. D / 11 MASS. INF.", "name: Roy [.]ampbell; surname: [.]ampbell; company: D; regiment: 11; of: MA; arm: infantry"},
		{"> ROB[..]SON / CO. D / 11 MASS. INF.", "name: Rob[..]son; surname: Rob[..]son; company: D; regiment: 11; of: MA; arm: infantry"}, // ROBINSON: no given name, a point and a space
		{"> CHARL[. . . .]GIN / CO. D / 11 MASS. INF.", "name: Charl[---] [---]gin; surname: [---]gin; company: D; regiment: 11; of: MA; arm: infantry"},
		{"> THOS[. .]VOMER / CO. D / 11 MASS. INF.", "name: Thomas Vomer; surname: Vomer; company: D; regiment: 11; of: MA; arm: infantry"},
		{"JOHN SM[. .]H / 18[. .] - 1902", "name: John Sm[. .]h; surname: Sm[. .]h; born: 18XX; died: 1902"},
		{"> THOS[..]VOMER / CO. D / 11 MASS. INF.", "name: Thomas Vomer; surname: Vomer; company: D; regiment: 11; of: MA; arm: infantry"},
		// A company of which the gap has the space.
		{"> JOHN W. CARVER / COMPA___D / 21 MASS. INF.", "name: John W Carver; surname: Carver; company: D; regiment: 21; of: MA; arm: infantry"},
		{"> JOHN W. CARVER / CO[..]D / 21 MASS. INF.", "name: John W Carver; surname: Carver; company: D; regiment: 21; of: MA; arm: infantry"},
		{"> H. KENRICK / COMPA???D / 2?? MASS. INF.", "name: H Kenrick; surname: Kenrick; company: D; regiment-lost: 2??; of: MA; arm: infantry"},
		// Words of the recorder, and dots, in place of a name.
		{"> T. [illegible] / CO. D / 11 MASS. INF.", "name: T; company: D; regiment: 11; of: MA; arm: infantry"},
		{"> WILLIAM ... / CO. K / 30 MASS. INF.", "name: William [---]; surname: [---]; company: K; regiment: 30; of: MA; arm: infantry"},
		{"[illegible] SCOTT / DIED JAN. 12, 1901", "name: Scott; surname: Scott; died: 1901-01-12"},
		{"[worn] SCOTT (worn) / DIED JAN. 12, 1901", "name: Scott; surname: Scott; died: 1901-01-12"},
		{"> A. [illegible] LORBERG / CO. K / 30 MASS. INF.", "name: A [---] Lorberg; surname: Lorberg; company: K; regiment: 30; of: MA; arm: infantry"},
		{"> NEWTON BRA[..] / COM[......] / 6 MASS. INF.", "name: Newton Bra[..]; surname: Bra[..]; company: ?; regiment: 6; of: MA; arm: infantry"},
		// A war alone on its line below the name is no surname.
		{"NOAH W. WARD / KOREA / 1928 - 1961", "name: Noah W Ward; surname: Ward; conflicts: korea; born: 1928; died: 1961"},
		{"NOAH WARD / VIETNAM / 1938 - 1961", "name: Noah Ward; surname: Ward; conflicts: vietnam; born: 1938; died: 1961"},
		// Hart is a name, and no heavy artillery.
		{"> JOHN HART / 13 IND.", "name: John Hart; surname: Hart; regiment: 13; of: IN"},
		// The Invalid Corps had 24 regiments: from memory, sure.
		{">> MASSACHUSETTS / RONALD J. ROWE / PVT. 143 IN[..] / OCTOBER 13 1945", "name: Ronald J Rowe; surname: Rowe; home: MA; rank: private; regiment: 143; of: IN; died: 1945-10-13"},
		// A doubt about a year is no lost figure.
		{"GEORGE SMITH / 1840? - 1902?", "name: George Smith; surname: Smith; born: 1840; died: 1902"},
		{"GEORGE SMITH / DIED OCT. 3, 1902 ?", "name: George Smith; surname: Smith; died: 1902-10-03"},
		// The months of an age at a worn edge are no regiment of Missouri.
		{"JONATHAN STEWART / DIED NOV. 12, 1857 / AGED 62 YRS. 2 MO[---]", "name: Jonathan Stewart; surname: Stewart; born: 1795-08-13/1795-09-12; died: 1857-11-12; age: AGED 62 YRS. 2 MO[---]"},
		// The class of a rank before the name.
		{"> PVT. 1 CL. HOWARD BEALS / 331 INF.", "name: Howard Beals; surname: Beals; rank: private first class; regiment: 331; arm: infantry"},
		{"> PVT 1CL HOWARD BEALS / CO I 331 INF", "name: Howard Beals; surname: Beals; rank: private first class; company: I; regiment: 331; arm: infantry"},
		{"> SGT. 1CL. HOWARD BEALS / CO. I / 331 INF.", "name: Howard Beals; surname: Beals; rank: sergeant first class; company: I; regiment: 331; arm: infantry"},
		{"> SEA. 2CL. HOWARD BEALS / U.S. NAVY", "name: Howard Beals; surname: Beals; rank: seaman second class; branch: navy"},
	} {
		checkRead(t, c.text, c.want)
	}
}
