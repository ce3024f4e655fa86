package inscription

import (
	"fmt"
	"strings"
	"testing"

	"musterstone/model"
)

// TestWorn: stones that a person reads at sight although a letter, a point or a word of them is gone. "> " stands before those of government markers, ">> " before General stones.
func TestWorn(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		// The W of W. VA. is no week of an age.
		{"A. BURKE / AGED 62 YEARS / 8 W. VA. INF.", "name: A Burke; surname: Burke; age: AGED 62 YEARS; regiment: 8; of: WV; arm: infantry"},
		{"A. BURKE / AGED 62 YEARS / 3 W. 2 D.", "name: A Burke; surname: Burke; age: AGED 62 YEARS / 3 W. 2 D"},
		{"A. BURKE / AE. 61 Y. / 3 M & 2 D.", "name: A Burke; surname: Burke; age: AE. 61 Y. / 3 M & 2 D"},
		{"J. McGRATH / DIED 1888 / AE. 4[.] Y'RS", "name: J McGrath; surname: McGrath; died: 1888; age: AE. 4[.] Y'RS"},
		{"JOHN FOX / DIED MAY 4, 1880 / AGE[---]8 YRS 4 MOS 29 DS", "name: John Fox; surname: Fox; died: 1880-05-04; age: AGE[---]8 YRS 4 MOS 29 DS"},
		{"JOHN FOX / DIED MAY 4, 1880 / AGED 6I YRS.", "name: John Fox; surname: Fox; born: 1818-05-05/1819-05-04; died: 1880-05-04; age: AGED 6I YRS"},
		{"HENRY WARD / DIED 1889 / AGED 7[.]", "name: Henry Ward; surname: Ward; died: 1889; age: AGED 7[.]"},
		{"JOHN S. KIDD / A PIONEER OF 1849", "name: John S Kidd; surname: Kidd; unread: 1849"},
		// Numbers of graves, and years.
		{"> 255[.] / JOS. A. LISLE / 23 N.Y. INF.", "name: Joseph A Lisle; surname: Lisle; regiment: 23; of: NY; arm: infantry; grave: 255?"},
		{"40[.] / EBEN TODD / CO. D / 48 WISC. INF.", "name: Eben Todd; surname: Todd; company: D; regiment: 48; of: WI; arm: infantry; grave: 40?"},
		{"> [..]5 / JOS. A. LISLE / 23 N.Y. INF.", "name: Joseph A Lisle; surname: Lisle; regiment: 23; of: NY; arm: infantry; grave: ??5"},
		{"R. H. DREW / 1839 [....] 1911", "name: R H Drew; surname: Drew; born: 1839; died: 1911"},
		{"LOUIS LEBLANC / NÉ A / MONTREAL / 1843 / DÉCÉDÉ 1901", "name: Louis Leblanc; surname: Leblanc; born: 1843; died: 1901; birthplace: MONTREAL"},
		// Companies.
		{"> JAMES TODD / CO. D[.] / 31 MICH. INF.", "name: James Todd; surname: Todd; company: D; regiment: 31; of: MI; arm: infantry"},
		{"> TUNGREN PAVOK / CO E, / [---]", "name: Tungren Pavok; surname: Pavok; company: E"},
		{"> CH[---] RED[...] / CO [---] MICH [...]", "name: Ch[---] Red[...]; surname: Red[...]; company: ?; of: MI"},
		// Forms that have lost a letter without a mark.
		{"> ERGT / SAML HEINING / CO K / 29 MICH INF", "name: Samuel Heining; surname: Heining; rank: sergeant; company: K; regiment: 29; of: MI; arm: infantry"},
		{"> SEGT JOHN HOYD / CO A / 3 MICH CAV", "name: John Hoyd; surname: Hoyd; rank: sergeant; company: A; regiment: 3; of: MI; arm: cavalry"},
		{"JENS ORDE / 1840 - 1901", "name: Jens Orde; surname: Orde; born: 1840; died: 1901"},
		{">> JOHN TODD / MICHIGAN / PVT U.S. ARY / APR 8 1879", "name: John Todd; surname: Todd; rank: private; home: MI; of: us; branch: army; died: 1879-04-08"},
		{"> COPRL / AUGUST C TODD / CO I / 15 MICH INF", "name: August C Todd; surname: Todd; rank: corporal; company: I; regiment: 15; of: MI; arm: infantry"},
		{"> M. TANVENA / CO. K / 19 MICH. INFF.", "name: M Tanvena; surname: Tanvena; company: K; regiment: 19; of: MI; arm: infantry"},
		{"> W. LANGLER / CO K 8 MICH IFN", "name: W Langler; surname: Langler; company: K; regiment: 8; of: MI; arm: infantry"},
		{"> F BLUM / 2 MIC CAV", "name: F Blum; surname: Blum; regiment: 2; of: MI; arm: cavalry"},
		{"> F BLUM / 2 MICCH CAV", "name: F Blum; surname: Blum; regiment: 2; of: MI; arm: cavalry"},
		{">> Lewis H Roy / Michiggan / Pvt 33 Mich Inf", "name: Lewis H Roy; surname: Roy; rank: private; regiment: 33; of: MI; arm: infantry; home: MI"},
		{">> Mcihigan / William J Todd / Pvt 33 Inf", "name: William J Todd; surname: Todd; rank: private; regiment: 33; arm: infantry; home: MI"},
		// Companies without their blank or with one too many, and arms of which one letter is left.
		{"> ALEXANDER MCCABE / C OA / 7 MICH INF", "name: Alexander McCabe; surname: McCabe; company: A; regiment: 7; of: MI; arm: infantry"},
		{"> ISAAC FOSTER / C.O K, / 9 MICH INF", "name: Isaac Foster; surname: Foster; company: K; regiment: 9; of: MI; arm: infantry"},
		{"> AUGUST EICHHAWS / COG / 101 NY INF", "name: August Eichhaws; surname: Eichhaws; company: G; regiment: 101; of: NY; arm: infantry"},
		{"> WILLIAM TODD / C A 11 MICH CAV", "name: William Todd; surname: Todd; company: A; regiment: 11; of: MI; arm: cavalry"},
		{"> F BLUM / CO K 20 MICH [..]F", "name: F Blum; surname: Blum; company: K; regiment: 20; of: MI; arm: infantry"},
		{"> F BLUM / CO K 20 MICH [..]V", "name: F Blum; surname: Blum; company: K; regiment: 20; of: MI; arm: cavalry"},
		{"> F BLUM / CO K / 10 MICH I", "name: F Blum; surname: Blum; company: K; regiment: 10; of: MI; arm: infantry"},
		{"> F BLUM / CO K / 7 MICH. IN.F", "name: F Blum; surname: Blum; company: K; regiment: 7; of: MI; arm: infantry"},
		// Forms whose last word is worn away behind its first letter.
		{"QM. / JAMES P. REARDON / U.S.N. / SP. AM. W[..]", "name: James P Reardon; surname: Reardon; rank: quartermaster; branch: navy; conflicts: spanish-american-war"},
		{"CORP. ADOLPH TODD / 13TH MINN. INF. / PHILIPPINE INSURR[......]", "name: Adolph Todd; surname: Todd; rank: corporal; regiment: 13; of: MN; arm: infantry; conflicts: philippine-war"},
		{"> JOS. TALLCHIEF / CO. C / 3 INDIAN HOME G[....]", "name: Joseph Tallchief; surname: Tallchief; company: C; regiment: 3; of: indian-home-guard; side: union; conflicts: civil-war"},
		{"> W. R. ASHCOMBE / 11 KY. C[..]", "name: W R Ashcombe; surname: Ashcombe; regiment: 11; of: KY; arm: cavalry"},
		// Names over two lines, and below headings.
		{"> AMOS SMITH / SHELGRAV / CO B / 32 MICH INF", "name: Amos Smith Shelgrav; surname: Shelgrav; company: B; regiment: 32; of: MI; arm: infantry"},
		{"> WILLIAM SS. / HARTYER / CO. K / 29 MICH. INF.", "name: William S S Hartyer; surname: Hartyer; company: K; regiment: 29; of: MI; arm: infantry"},
		{"> JOHN TATE / MUSICIAN / CO B 7 WIS INF", "name: John Tate; surname: Tate; rank: musician; company: B; regiment: 7; of: WI; arm: infantry"},
		{"VAN HEIDE / JACOB FREDERICK / CO. G 8 MICH. CAV.", "name: Jacob Frederick Van Heide; surname: Van Heide; company: G; regiment: 8; of: MI; arm: cavalry"},
		{"VAN DER MEER / JACOB 1843-1921 / MARIA 1850 - 1930", "name: Jacob Van Der Meer; surname: Van Der Meer; born: 1843; died: 1921; 2.name: Maria Van Der Meer; 2.surname: Van Der Meer; 2.born: 1850; 2.died: 1930"},
		{"DUFFY / CLARENCE FRANK 1896-1928 / CORNELIA M 1894-1981", "name: Clarence Frank Duffy; surname: Duffy; born: 1896; died: 1928; 2.name: Cornelia M Duffy; 2.surname: Duffy; 2.born: 1894; 2.died: 1981"},
		{"LEHNIG / WILLIAM ARCHIE 1869-1945 / CORNELIA 1870-1944", "name: William Archie Lehnig; surname: Lehnig; born: 1869; died: 1945; 2.name: Cornelia Lehnig; 2.surname: Lehnig; 2.born: 1870; 2.died: 1944"},
		{">> OREGON / SGT. 162 INF. / MARCH 3, 1931", "rank: sergeant; regiment: 162; arm: infantry; home: OR; died: 1931-03-03"},
		{"> SADDL[..] / MILES COREY / CO. L / 2 N.Y. CAV.", "name: Miles Corey; surname: Corey; rank: saddler; company: L; regiment: 2; of: NY; arm: cavalry"},
		{">> JOHN A. KEMP / NORTH CAR[.....] / PVT / 124 INF 4[.] DIV", "name: John A Kemp; surname: Kemp; rank: private; regiment: 124; arm: infantry; home: NC"},
		{"> JOHN FOX / 1 OHIO CAV. / SP. AM. [...]", "name: John Fox; surname: Fox; regiment: 1; of: OH; arm: cavalry; conflicts: spanish-american-war"},
		{"> JOHN FOX / CO. A 3 U[.]S. INF.", "name: John Fox; surname: Fox; company: A; regiment: 3; of: us; arm: infantry"},
		// Ranks, arms and ships.
		{">> LOUIS FOX / OHIO / [---] CLASS / 22 ENGINEERS / MAY 2, 1931", "name: Louis Fox; surname: Fox; regiment: 22; arm: engineers; home: OH; died: 1931-05-02; unread: CLASS"},
		{">> ALBERT OLSON / MINNESOTA / 2 LIEUT / AIR SERV[...] / JANUARY 7, 1933", "name: Albert Olson; surname: Olson; rank: second lieutenant; arm: air-service; home: MN; died: 1933-01-07"},
		{">> ALBERT OLSON / MINNESOTA / SGT / TANK CORPS / JANUARY 7, 1933", "name: Albert Olson; surname: Olson; rank: sergeant; arm: tank-corps; home: MN; died: 1933-01-07"},
		{">> ARTHUR LEE BELL / TEXAS / MUS. 2 CL. / 369 INF. 93 DI[.] / JUNE 5, 1929", "name: Arthur Lee Bell; surname: Bell; rank: musician second class; regiment: 369; arm: infantry; division: 93; home: TX; conflicts: world-war-i; died: 1929-06-05"},
		{"CAPT. AND BVT. MAJOR / EDMUND RICE DOW / 19TH MASS. VOL. INF.", "name: Edmund Rice Dow; surname: Dow; rank: captain; regiment: 19; of: MA; arm: infantry; marks: volunteers"},
		{"LUTHER P. WEEKS / DROWNED FROM THE / U.S.S. MONITOR / DEC. 31, 1862", "name: Luther P Weeks; surname: Weeks; kind: ship; unit: Monitor; branch: navy; died: 1862-12-31"},
		// Relations.
		{"FATHER / JOHN B. LEE / 1839-1911 / MOTHER / SARAH LEE / 1843-1920 / CO. G 4 WIS. CAV.", "name: John B Lee; surname: Lee; company: G; regiment: 4; of: WI; arm: cavalry; born: 1839; died: 1911; 2.name: Sarah Lee; 2.surname: Lee; 2.relation: mother; 2.born: 1843; 2.died: 1920"},
		{"HENRY TODD 1844-1930 / HIS WI[---]E 1846-1928", "name: Henry Todd; surname: Todd; born: 1844; died: 1930; 2.relation: wife; 2.born: 1846; 2.died: 1928"},
		{"ANNA / WI[...] OF / LARS P SEFERSON / 1838 - 1918", "name: Anna Seferson; surname: Seferson; relation: wife; born: 1838; died: 1918; 2.name: Lars P Seferson; 2.surname: Seferson; 2.relation: husband"},
		{"MARY / [....] OF / MARTIN & J. HARTWEN / DIED 1869", "name: Mary Hartwen; surname: Hartwen; relation: child; died: 1869; 2.name: Martin Hartwen; 2.surname: Hartwen; 2.relation: father; 3.name: J Hartwen; 3.surname: Hartwen; 3.relation: mother"},
		{"WIFE OF / LOUIS M. DRAIYER / DIED / SEPT. 2, 1914", "name: Draiyer; surname: Draiyer; relation: wife; died: 1914-09-02; 2.name: Louis M Draiyer; 2.surname: Draiyer; 2.relation: husband"},
		{"> WI[---] DAVIS / CO E / 79 N.Y. INF.", "name: Wi[---] Davis; surname: Davis; company: E; regiment: 79; of: NY; arm: infantry"},
		// No place is told by two letters of it.
		{"CARL / JOHN [---]AN / JUNE 17, 1897", "name: Carl John [---]an; surname: [---]an; died: 1897-06-17"},
		{"W. J. POOLE / PARKER'S BATTERY / C. S. A.", "name: W J Poole; surname: Poole; kind: legion; unit: Parker's Battery; arm: artillery; side: confederate; conflicts: civil-war"},
		{"T. P. GAGE / CHAPL'N 21 IA. INF.", "name: T P Gage; surname: Gage; rank: chaplain; regiment: 21; of: IA; arm: infantry"},
		{"S. WRIGHT / 1842 - 1921 / A SOLDIER OF THE UNION", "name: S Wright; surname: Wright; side: union; conflicts: civil-war; born: 1842; died: 1921"},
	} {
		ctx := Context{}
		text, general := strings.CutPrefix(c.text, ">> ")
		if general {
			ctx.Pattern = "general-1922"
		}
		text, government := strings.CutPrefix(text, "> ")
		if government {
			ctx.Pattern = "civil-war-1873"
		}
		if _, _, wrong := compare(strings.Split(c.want, "; "), Read(text, ctx)[0]); len(wrong) > 0 {
			t.Errorf("%s\n\t%s", c.text, strings.Join(wrong, "\n\t"))
		}
	}
}

// TestSurely: readings of which a person is sure are given with that probability and more.
func TestSurely(t *testing.T) {
	for _, c := range []struct {
		text, want string
		pattern    model.PatternCode
		least      float64
	}{
		{"A. SWARTZ / 1841 / 1913", "name: A Swartz; surname: Swartz; born: 1841; died: 1913", "", 0.88},
		{"O. HARTLMANN / CO. D, 30 ILL. INF. / 1840 - 1914 / G. A. R.", "name: O Hartlmann; surname: Hartlmann; company: D; regiment: 30; of: IL; arm: infantry; born: 1840; died: 1914; society: G.A.R.", "", 0.95},
		{"J. BAIRD / 1835 - 1914 / HANNAH / HIS WIFE", "name: J Baird; surname: Baird; born: 1835; died: 1914; 2.name: Hannah Baird; 2.surname: Baird; 2.relation: wife", "", 0.95},
		{"1ST CL. FIREMAN / JOHN DUGAN / U.S.S. TECUMSEH", "name: John Dugan; surname: Dugan; rank: fireman first class; kind: ship; unit: Tecumseh; branch: navy", "civil-war-1873", 0.95},
		{"JNO. B. BAIRD / CO. B / 36 WIS. INF. / 1887", "name: John B Baird; surname: Baird; company: B; regiment: 36; of: WI; arm: infantry; died: 1887", "civil-war-1873", 0.93},
	} {
		r := Read(c.text, Context{Pattern: c.pattern})[0]
		if _, _, wrong := compare(strings.Split(c.want, "; "), r); len(wrong) > 0 || r.Probability < c.least {
			t.Errorf("%s\n\t%s, want %v; %s", c.text, fmt.Sprintf("%.2f", r.Probability), c.least, strings.Join(wrong, "; "))
		}
	}
}
