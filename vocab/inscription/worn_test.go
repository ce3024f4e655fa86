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
		// A name and the years of a life on both sides of a gap, below a heading of which letters, or all, are lost.
		{"Har[---] / Frederick J[---]25-1902 / HIS WIFE ELLEN 1824-1880", "name: Frederick J* Har[---]; surname: Har[---]; born: 1825; died: 1902; 2.name: Ellen Har[---]; 2.surname: Har[---]; 2.born: 1824; 2.died: 1880; 2.relation: wife"},
		{"[....]DALE / JA[---]44-1930 / HIS WIFE 1846-1928", "name: Ja[---] [....]dale; surname: [....]dale; born: 1844; died: 1930; 2.born: 1846; 2.died: 1928; 2.relation: wife"},
		{"[---] / FRANKLIN 1848-1911 / HIS WIFE EDITH 1849-1933", "name: Franklin [---]; surname: [---]; born: 1848; died: 1911; 2.name: Edith [---]; 2.surname: [---]; 2.born: 1849; 2.died: 1933; 2.relation: wife"},
		{"[---] / FRANKLIN SMITH 1848-1911", "name: Franklin Smith; surname: Smith; born: 1848; died: 1911"},
		{"JOH[..] / SMITH 1848-1911", "name: Johannes Smith; surname: Smith; born: 1848; died: 1911"},
		{"FALK / CHARLES 1841-1896 / SARAH A. 18401895", "name: Charles Falk; surname: Falk; born: 1841; died: 1896; 2.name: Sarah A Falk; 2.surname: Falk; 2.born: 1840; 2.died: 1895"},
		{"> DAVID HART / [...] 24, 1822 / S 27, 1910 / 1 MICH INF", "name: David Hart; surname: Hart; born: 1822; died: 1910-09-27; regiment: 1; of: MI; arm: infantry"},
		{"> CHARLE[---]AYLOR / JR / CO C / 5 MICH INF", "name: Charle[---] [---]aylor Jr; surname: [---]aylor; company: C; regiment: 5; of: MI; arm: infantry"},
		{"> ABN[---]RWICK / CO. C / 31 MICH INF", "name: Abn[---] [---]rwick; surname: [---]rwick; company: C; regiment: 31; of: MI; arm: infantry"},
		{"> C[---]S D / HOLCOTT / CO H / 9 MICH INF", "name: C[---]s D Holcott; surname: Holcott; company: H; regiment: 9; of: MI; arm: infantry"},
		// Ranks above the name.
		{"> 219 / [...]DS. / WILBUR S. / HART / U.S. NAVY", "name: Wilbur S Hart; surname: Hart; rank: landsman; branch: navy; grave: 219"},
		{"> O[..] SEA / PETER HART / U.S.S. SANDPIPER", "name: Peter Hart; surname: Hart; rank: ordinary seaman; kind: ship; unit: Sandpiper; branch: navy"},
		{"> 1 [.]L FIRE / JOHN McLAREN / U.S. NAVY", "name: John McLaren; surname: McLaren; rank: fireman; branch: navy"},
		{"[...]PL / ADAM KRANIN / CO G / 21 N.Y INF", "name: Adam Kranin; surname: Kranin; rank: corporal; company: G; regiment: 21; of: NY; arm: infantry"},
		{"> 1044 / SERG.T / HENRY SMITH / CO. H 30 MICH. INF.", "name: Henry Smith; surname: Smith; rank: sergeant; company: H; regiment: 30; of: MI; arm: infantry; grave: 1044"},
		{"> HENRY T SMITH / CO. H 30 MICH. INF.", "name: Henry T Smith; surname: Smith; company: H; regiment: 30; of: MI; arm: infantry"},
		{"> 2139 / HENRY HART / CO CH CAV", "name: Henry Hart; surname: Hart; grave: 2139; unread: CO; of: MI; arm: cavalry"},
		{"SOLDIER / 1862-1865", "enlisted: 1862; mustered-out: 1865"},
		{"ORVILLE HART / MICHIGAN / LANDS US N[...] / NOV 17 1895 MAY 28 1949", "name: Orville Hart; surname: Hart; home: MI; rank: landsman; branch: navy; born: 1895-11-17; died: 1949-05-28"},
		{"> FREDERIC / THO[..]SON / BTRY A / 1 MICH LA", "name: Frederic Tho[..]son; surname: Tho[..]son; company: A; regiment: 1; of: MI; arm: light-artillery"},
		{"> STEPH[---]ARDE[.] / CO G [---]D INF", "name: Steph[---] [---]arde[.]; surname: [---]arde[.]; company: G; arm: infantry"},
		{"ANDREW HOOVER / HERWORTH / CO I 8 MICH CAV", "name: Andrew Hoover Herworth; surname: Herworth; company: I; regiment: 8; of: MI; arm: cavalry"},
		{"> [.]NO. SNYDER / CO. B / 8 MICH. INF.", "name: John Snyder; surname: Snyder; company: B; regiment: 8; of: MI; arm: infantry; or: Jonathan"},
		{"T[---] / GEORGE [---]1891 / HIS WIFE MARTHA B. 1836-1878", "name: George T[---]; surname: T[---]; died: 1891; 2.name: Martha B T[---]; 2.surname: T[---]; 2.born: 1836; 2.died: 1878; 2.relation: wife"},
		{"FRED ELLIS / 21, 1843 / NOV 13, 1870", "name: Fred Ellis; surname: Ellis; born: 1843; died: 1870-11-13"},
		{"NANCY / CONSOR OF / ADDISON STANG / DIED SEPT. 25, 1867", "name: Nancy Stang; surname: Stang; died: 1867-09-25; relation: wife; 2.name: Addison Stang; 2.surname: Stang; 2.relation: husband"},
		{"LANDS / CHARLES HART / U.S. [....]", "name: Charles Hart; surname: Hart; rank: landsman; branch: navy"},
		{"> [.]EO J CLAY / CO A 31 MICH INF", "name: [.]eo J Clay; surname: Clay; company: A; regiment: 31; of: MI; arm: infantry"},
		{"GEORGE QUIN / DIED / AUG 23, 1878 / AGED 56 YRS 5 [.]O 8 DS", "name: George Quin; surname: Quin; born: 1822-03-14/1822-03-16; died: 1878-08-23; age: AGED 56 YRS 5 [.]O 8 DS"},
		{"> HENDRI[---]DERAAD / CO D / 1 MICH INF", "name: Hendri[---] [---]deraad; surname: [---]deraad; company: D; regiment: 1; of: MI; arm: infantry"},
		{"SNOW / JACO[---]RLES 1832-1910", "name: Jaco[---] Snow; surname: Snow; born: 1832; died: 1910"},
		{"> 1 S[---] / WM. MOORE / 6 MICH. INF.", "name: William Moore; surname: Moore; rank: first sergeant; regiment: 6; of: MI; arm: infantry"},
		{"THOMPSON / HEN[....] / OCT 6, 1840 / JAN 10, 1925", "name: Hen[---] Thompson; surname: Thompson; born: 1840-10-06; died: 1925-01-10"},
		{"> 45 / [..]OS. BECK / [---] / 142 ILLS. INF.", "name: Thomas Beck; surname: Beck; regiment: 142; of: IL; arm: infantry; grave: 45"},
		{"> [.]M. WALD / CO. G, / 21 MICH. INF.", "name: William Wald; surname: Wald; company: G; regiment: 21; of: MI; arm: infantry"},
		// Companies.
		{"> CHARLES OAKES / COO B / [---]", "name: Charles Oakes; surname: Oakes; company: B"},
		{"> ABRAM J. R[...] / BAT[....] / 1 ILL. LT. ART.", "name: Abram J R[...]; surname: R[...]; regiment: 1; of: IL; arm: light-artillery; unread: *"},
		{"> WM NEUERT / CO I ICH INF", "name: William Neuert; surname: Neuert; company: I; of: MI; arm: infantry"},
		{"> LEWIS SKINNER / 181 N.[..] INF.", "name: Lewis Skinner; surname: Skinner; regiment: 181; arm: infantry"},
		{"GEORGE LATTON / CO E [..] MIC[---]F", "name: George Latton; surname: Latton; company: E; regiment-lost: ??; of: MI; arm: infantry"},
		{"JAS HART / C[---] 17 MICH INF", "name: James Hart; surname: Hart; regiment: 17; of: MI; arm: infantry; company: ?"},
		{"J[---]ELSON / C[---] WIS INF", "name: J[---]elson; surname: J[---]elson; of: WI; arm: infantry; company: ?"},
		{"> HENRY KING / CO I 9 CH INF", "name: Henry King; surname: King; company: I; regiment: 9; of: MI; arm: infantry"},
		{"[..] J MORRISON / CO I / [---]", "name: [..] J Morrison; surname: Morrison; company: I"},
		{"> JAMES BREW / C / 34 MICH INF", "name: James Brew; surname: Brew; company: C; regiment: 34; of: MI; arm: infantry"},
		{"> MICHAEL HART / F [..] MICH INF", "name: Michael Hart; surname: Hart; company: F; regiment-lost: ??; of: MI; arm: infantry"},
		{"> JACOB LAMB / C US CAV", "name: Jacob Lamb; surname: Lamb; company: C; of: us; arm: cavalry"},
		{"JOHN HALL / A / 1840-1900", "name: John Hall; surname: Hall; born: 1840; died: 1900"},
		{"FREDERICK J WENDEL / COO B / 8 MICH INF", "name: Frederick J Wendel; surname: Wendel; company: B; regiment: 8; of: MI; arm: infantry"},
		{"> LUKE HOLM / [...] F / [---]", "name: Luke Holm; surname: Holm; company: F"},
		// Regiments.
		{"> WILLIAM HART / CO K / 7 [.]S INF", "name: William Hart; surname: Hart; company: K; regiment: 7; of: us; arm: infantry"},
		{"> LEWIS BROOK / BTRY K / 15 U.[---]TY.", "name: Lewis Brook; surname: Brook; company: K; regiment: 15; of: us; arm: artillery"},
		{"> JOHN HART / BATT D [---] LA", "name: John Hart; surname: Hart; company: D; arm: light-artillery"},
		{"> JOHN HART / BATTY I 1 M[....] L.A", "name: John Hart; surname: Hart; company: I; regiment: 1; arm: light-artillery"},
		{"MICHIGAN / JOHN HART / PVT CO F 126 INF [.]3 [.]IV / NOVEMBER 6 1938", "name: John Hart; surname: Hart; home: MI; rank: private; company: F; regiment: 126; arm: infantry; died: 1938-11-06"},
		{"> JAMES TODD / CO. D[.] / 31 MICH. INF.", "name: James Todd; surname: Todd; company: D; regiment: 31; of: MI; arm: infantry"},
		{"> TUNGREN PAVOK / CO E, / [---]", "name: Tungren Pavok; surname: Pavok; company: E"},
		{"> CH[---] RED[...] / CO [---] MICH [...]", "name: Ch[---] Red[...]; surname: Red[...]; company: ?; of: MI"},
		// Forms that have lost a letter without a mark.
		{"> ERGT / SAML HEINING / CO K / 29 MICH INF", "name: Samuel Heining; surname: Heining; rank: sergeant; company: K; regiment: 29; of: MI; arm: infantry"},
		{"> SEGT JOHN HOYD / CO A / 3 MICH CAV", "name: John Hoyd; surname: Hoyd; rank: sergeant; company: A; regiment: 3; of: MI; arm: cavalry"},
		{"JENS ORDE / 1840 - 1901", "name: Jens Orde; surname: Orde; born: 1840; died: 1901"},
		{">> JOHN TODD / MICHIGAN / PVT U.S. ARY / APR 8 1879", "name: John Todd; surname: Todd; rank: private; home: MI; branch: army; died: 1879-04-08"},
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
		// Letters and figures that only their place tells: endings of ordinals, initials, arms, ranks.
		{"> JOHN FOX / CO. B / 43RB GA INFTY", "name: John Fox; surname: Fox; company: B; regiment: 43; of: GA; arm: infantry"},
		{"> JOHN FOX / CO. B / 97TN IND INF", "name: John Fox; surname: Fox; company: B; regiment: 97; of: IN; arm: infantry"},
		{"> JOHN FOX / CO. B / 7TX CAV", "name: John Fox; surname: Fox; company: B; regiment: 7; of: TX; arm: cavalry"},
		{"> JOHN FOX / CO. B / 62O OHIO INF'Y", "name: John Fox; surname: Fox; company: B; regiment: 62; of: OH; arm: infantry"},
		{"> JOHN FOX / CO. B / 382[.]D INF", "name: John Fox; surname: Fox; company: B; regiment: 382; arm: infantry"},
		{"> JOHN FOX / CO. B / 27 WIS 1NF.", "name: John Fox; surname: Fox; company: B; regiment: 27; of: WI; arm: infantry"},
		{"> JOHN FOX / CO. K / 82 U. [.]. C. INF.", "name: John Fox; surname: Fox; company: K; regiment: 82; of: usct; arm: infantry; side: union; conflicts: civil-war"},
		{"> JOHN FOX / CO. K / [...]U. S. C. T.", "name: John Fox; surname: Fox; company: K; of: usct; side: union; conflicts: civil-war"},
		{"> JOHN FOX / CO. K / 5 [.]. R. C.", "name: John Fox; surname: Fox; company: K; regiment: 5; of: vrc; side: union; conflicts: civil-war"},
		{"> JOHN FOX / CO. K / 7 W. [.]A. INF.", "name: John Fox; surname: Fox; company: K; regiment: 7; of: WV; arm: infantry"},
		{"> JOHN FOX / CO. K / 7 VA. CAV. / C. 5. A.", "name: John Fox; surname: Fox; company: K; regiment: 7; of: VA; arm: cavalry; side: confederate; conflicts: civil-war"},
		{"> JOHN FOX / CO. B / 38 IA. IHF.", "name: John Fox; surname: Fox; company: B; regiment: 38; of: IA; arm: infantry"},
		{"> JOHN FOX / CO. B / 13 INDA. CHV.", "name: John Fox; surname: Fox; company: B; regiment: 13; of: IN; arm: cavalry"},
		{"> JOHN FOX / CO. A / 13 IND. BAV.", "name: John Fox; surname: Fox; company: A; regiment: 13; of: IN; unread: BAV"}, // CAV. or BAT.
		{"> JOHN FOX / CO. H / 33 NO. INF'Y", "name: John Fox; surname: Fox; company: H; regiment: 33; of: MO; arm: infantry"},
		{"> JOHN FOX / CO. H / 3 MC. CAV.", "name: John Fox; surname: Fox; company: H; regiment: 3; of: MO; arm: cavalry"},
		{"> JOHN FOX / CO. H / 97 IELS INF", "name: John Fox; surname: Fox; company: H; regiment: 97; of: IL; arm: infantry"},
		{"> JOHN FOX / CO. H / 16 KT I[---]", "name: John Fox; surname: Fox; company: H; regiment: 16; of: KY; arm: infantry"},
		{"> JOHN FOX / CO. H / 14 N. Y. IN[...]", "name: John Fox; surname: Fox; company: H; regiment: 14; of: NY; arm: infantry"},
		{"> JOHN FOX / 13 IND. L. H.", "name: John Fox; surname: Fox; regiment: 13; of: IN; arm: light-artillery"},
		{"> NUS. / FREDK. W. JOHNSON / CO. I / 5TH WIS. INF.", "name: Frederick W Johnson; surname: Johnson; rank: musician; company: I; regiment: 5; of: WI; arm: infantry"},
		{"> CAPY. FRANCIS CAMPBELL / CO. E / 9 KANS. INF.", "name: Francis Campbell; surname: Campbell; rank: captain; company: E; regiment: 9; of: KS; arm: infantry"},
		{"> WAOR J O MANNING / CO C / 129 IND INF", "name: J O Manning; surname: Manning; rank: wagoner; company: C; regiment: 129; of: IN; arm: infantry"},
		{"> COAL HVR JOHN LOWELLOOKS / U S S / MONOCLE", "name: John Lowellooks; surname: Lowellooks; rank: coal heaver; kind: ship; unit: Monocle; branch: navy"},
		{"> SYLVESTER NATHAN CHAPIN / CO. A 89 IND. INF.", "name: Sylvester Nathan Chapin; surname: Chapin; company: A; regiment: 89; of: IN; arm: infantry"},
		// Companies and numbers that a gap has joined or broken, or that stand on lines of their own.
		{"> JOHN FOX / OO. A 157 INDA. INF.", "name: John Fox; surname: Fox; company: A; regiment: 157; of: IN; arm: infantry"},
		{"> JOHN FOX / CO[....]31 IND. INF.", "name: John Fox; surname: Fox; company: ?; regiment-lost: *31; of: IN; arm: infantry"},
		{"> JOHN FOX / CO. [..]43D IND. INF.", "name: John Fox; surname: Fox; company: ?; regiment-lost: *43; of: IN; arm: infantry"},
		{"> JOHN FOX / [.....]70 INDA INF", "name: John Fox; surname: Fox; regiment-lost: *70; of: IN; arm: infantry"},
		{"> D. W. OSGOODBY / [..]TH ME. VOLS.", "name: D W Osgoodby; surname: Osgoodby; regiment-lost: *; of: ME; marks: volunteers"},
		{">> INDIANA / GEORGE FOX / P[...]CO G 152 INF / WORLD WAR / MAR 3 1899 NOV 8 1966", "name: George Fox; surname: Fox; company: G; regiment: 152; arm: infantry; home: IN; conflicts: world-war-i; born: 1899-03-03; died: 1966-11-08"},
		{"JOHN FOX / CO. B / 345", "name: John Fox; surname: Fox; company: B; regiment: 345"},
		{"JOHN FOX / BATT B / 348TH / WORLD WAR", "name: John Fox; surname: Fox; company: B; regiment: 348; arm: artillery; conflicts: world-war-i"},
		{"EBEN WYMAN / 1827 - 1878 / 46 GA. / C. S. A.", "name: Eben Wyman; surname: Wyman; regiment: 46; of: GA; side: confederate; conflicts: civil-war; born: 1827; died: 1878"},
		{"LEONARD TURLBURK / DIED AUG 13, 1868 / 53D WIS.", "name: Leonard Turlburk; surname: Turlburk; regiment: 53; of: WI; died: 1868-08-13"},
		{"JOHN FOX / 33 I[---] / DIED JUL[---]895", "name: John Fox; surname: Fox; regiment: 33; died: 1895-07"},
		{"> THEO. B. RAWLIN[..] / CO. M, / 2 MASS. HY. AR[...]", "name: Theodore B Rawlin[..]; surname: Rawlin[..]; company: M; regiment: 2; of: MA; arm: heavy-artillery"},
		{"> H. C. TREMAINE / 3 N.J. CA[.]. / CO. [.]", "name: H C Tremaine; surname: Tremaine; company: ?; regiment: 3; of: NJ; arm: cavalry"},
		{"> FARRIER / M. DUNPHY / TR. F 7 U.S. C[..]", "name: M Dunphy; surname: Dunphy; rank: farrier; company: F; regiment: 7; of: us; arm: cavalry"},
		// Wars of which letters of the line are misread.
		{"JOHN FOX / CO K 7 MO. INF. / 5P. AM. WAR", "name: John Fox; surname: Fox; company: K; regiment: 7; of: MO; arm: infantry; conflicts: spanish-american-war"},
		{"JOHN FOX / CO K 7 MO. INF. / SPANISH AMERLCAN WAR", "name: John Fox; surname: Fox; company: K; regiment: 7; of: MO; arm: infantry; conflicts: spanish-american-war"},
		{"JOHN FOX / PVT 307 INF / WORLD WHR / 1890 1940", "name: John Fox; surname: Fox; rank: private; regiment: 307; arm: infantry; conflicts: world-war-i; born: 1890; died: 1940"},
		{"JOHN FOX / PVT 307 INF / WORLD WAR 11 / 1910 1970", "name: John Fox; surname: Fox; rank: private; regiment: 307; arm: infantry; conflicts: world-war-ii; born: 1910; died: 1970"},
		// Names on two lines, below headings, and with their end lost.
		{"> Pete[---] / [---] / 10TH [---]", "name: Pete[---] [---]; surname: [---]; regiment: 10"},
		{"> JONATHAN G / CHURCH / CO F 41ST IND INF", "name: Jonathan G Church; surname: Church; company: F; regiment: 41; of: IN; arm: infantry"},
		{"> [....]OTHY M / [..]LLIVAN / CO B 34 INDA INF", "name: [....]othy M [..]llivan; surname: [..]llivan; company: B; regiment: 34; of: IN; arm: infantry"},
		{"GRANT / JAS. / 1832 - 1884 / CO. B 56 IND. INF. / PHILIPPINA / 1834 - 1893 / MARTHA / 1859 - 1885", "name: James Grant; surname: Grant; company: B; regiment: 56; of: IN; arm: infantry; born: 1832; died: 1884; 2.name: Philippina Grant; 2.surname: Grant; 2.born: 1834; 2.died: 1893; 3.name: Martha Grant; 3.surname: Grant; 3.born: 1859; 3.died: 1885"},
		{"WHIPPLE / GEORGE / 1829 - 1901 / CO. K 34 IND. INF. / HIS WIFF LOUISA S. / 1834 - 1896", "name: George Whipple; surname: Whipple; company: K; regiment: 34; of: IN; arm: infantry; born: 1829; died: 1901; 2.name: Louisa S Whipple; 2.surname: Whipple; 2.relation: wife; 2.born: 1834; 2.died: 1896"},
		{"THE / HOLLIS / FAMILY / JOHN 1840 - 1912 / MARY 1842 - 1920", "name: John Hollis; surname: Hollis; born: 1840; died: 1912; 2.name: Mary Hollis; 2.surname: Hollis; 2.born: 1842; 2.died: 1920"},
		{"ANDREW HILL / DIED JAN. 25, 1878 / A NEM[.]ER OF 1 INDA. BATTY.", "name: Andrew Hill; surname: Hill; regiment: 1; kind: battery; of: IN; arm: light-artillery; died: 1878-01-25"},
		{"MOTHER / ELIZA J. / WIFE OF / CAPT. N. B. COWLES / 1ST CONN. H.A. / D. MAY 1[.] 1871", "name: N B Cowles; surname: Cowles; rank: captain; regiment: 1; of: CT; arm: heavy-artillery; 2.name: Eliza J Cowles; 2.surname: Cowles; 2.relation: mother; 2.died: 1871-05-10/1871-05-19"},
		{"SON[.] OF / A. & R. MINOT / WILLARD / CO. G 2 VT. / D. AUG. 1862 / AE. 19", "name: Willard Minot; surname: Minot; relation: son; company: G; regiment: 2; of: VT; born: 1842-08-02/1843-08-31; died: 1862-08; age: AE. 19; 2.name: A Minot; 2.surname: Minot; 2.relation: father; 3.name: R Minot; 3.surname: Minot; 3.relation: mother"},
		// Dates and ages.
		{"JOHN FOX / HUG. 23, 1837 / APR 4, 1899", "name: John Fox; surname: Fox; born: 1837-08-23; died: 1899-04-04"},
		{">> INDIANA / JNO UHLHORN / CPL 335 INF / OCT 8 1878 NOV [...]953", "name: John Uhlhorn; surname: Uhlhorn; rank: corporal; regiment: 335; arm: infantry; home: IN; born: 1878-10-08; died: 1953-11"},
		{">> INDIANA / JNO UHLHORN / CPL 335 INF / OCT 15 1899 MAR [......]1", "name: John Uhlhorn; surname: Uhlhorn; rank: corporal; regiment: 335; arm: infantry; home: IN; born: 1899-10-15"},
		{">> NEBRASKA / CHARLES W JOYCE / PVT 308 INF 77 DIV / JAN 30 1882 DEC 20 4944", "name: Charles W Joyce; surname: Joyce; rank: private; regiment: 308; arm: infantry; division: 77; home: NE; born: 1882-01-30; died: 1944-12-20"},
		{"EBEN FOX / SEPT 2[....]881 / AGED 56 Y 3 M 14 D", "name: Eben Fox; surname: Fox; born: 1825-05-16/1825-06-17; died: 1881-09; age: AGED 56 Y 3 M 14 D"},
		{"JOHN FOX / KILLED / MAY 16[.] 1863 / AGED 20 YEARS", "name: John Fox; surname: Fox; born: 1842-05-17/1843-05-16; died: 1863-05-16; age: AGED 20 YEARS"},
		{"JAMES R. HOLT / BORN / AUG. 1O, 1839 / DIED / JAN. 2I, 1911", "name: James R Holt; surname: Holt; born: 1839-08-10; died: 1911-01-21"},
		{"JAMES H. BELL / 1843 - 1[---] / CO. A 13 INDA. CAV.", "name: James H Bell; surname: Bell; company: A; regiment: 13; of: IN; arm: cavalry; born: 1843"},
		{"JOHN FOX / BORN APRIL 12, 1039 / DIED MAY 24, 1894", "name: John Fox; surname: Fox; born: 1839; died: 1894-05-24"},
		{"REUBEN EASTRIDGE / DIED / SEPT. 22, 1893 / ENLISTED APR. 25, 1864 / DISCH[..]ED NOV. 12, 1865", "name: Reuben Eastridge; surname: Eastridge; died: 1893-09-22; enlisted: 1864-04-25; mustered-out: 1865-11-12"},
		{"JOHN FOX / DIED MAY 4, 1880 / AGED 34 V. 8 M. 12 D.", "name: John Fox; surname: Fox; born: 1845-08-21/1845-08-24; died: 1880-05-04; age: AGED 34 V. 8 M. 12 D"},
		{"JOHN FOX / DIED MAY 4, 1880 / AE. 44 Y'RS 8 M'B 19 D'S", "name: John Fox; surname: Fox; born: 1835-08-14/1835-08-17; died: 1880-05-04; age: AE. 44 Y'RS 8 M'B 19 D'S"},
		{"JOHN FOX / DIED MAY 4, 1880 / AGED 49 Y'RS 1 [.]'S 19 D'S", "name: John Fox; surname: Fox; born: 1831-03-14/1831-03-17; died: 1880-05-04; age: AGED 49 Y'RS 1 [.]'S 19 D'S"},
		{"JOHN FOX / DIED MAY 4, 1880 / AE 3[.] Y'RS 5 M'S 21 D'S", "name: John Fox; surname: Fox; died: 1880-05-04; age: AE 3[.] Y'RS 5 M'S 21 D'S"},
		{"ASA H. PINGREE / 6TH VT. INF. / WOUNDED AT SAVAGE STATION / JUNE 29, 1862 / DIED JULY 4, 1862", "name: Asa H Pingree; surname: Pingree; regiment: 6; of: VT; arm: infantry; conflicts: civil-war; died: 1862-07-04"},
		// Years that do not go with the service.
		{"NED HARRIS / 153 ILLS. INF'Y / DIED NOV. 4, 1804 / AGED 22 YEARS", "name: Ned Harris; surname: Harris; regiment: 153; of: IL; arm: infantry; born: 1841-01-02/1872-12-31; died: 1864/1894; age: AGED 22 YEARS"},
		{">> INDIANA / JAS SCHWARZ / PVT 335 INF / WORLD WAR I / OCT 17 1804 MAR 10 1981", "name: James Schwarz; surname: Schwarz; rank: private; regiment: 335; arm: infantry; home: IN; conflicts: world-war-i; born: 1894-10-17; died: 1981-03-10"},
		{">> OTIS W. GRIMES / GEORGIA / STM2 USNR / WORLD WAR / JUNE 5 1924 OCT 2 1966", "name: Otis W Grimes; surname: Grimes; rank: steward's mate; home: GA; branch: navy; conflicts: world-war-i; born: 1924-06-05; died: 1966-10-02"},
		{">> NEBRASKA / FRANCIS A SCHWARZ / PVT 329 FA / WORLD WAR I / AUG 30 1[.]47", "name: Francis A Schwarz; surname: Schwarz; rank: private; regiment: 329; arm: field-artillery; home: NE; conflicts: world-war-i; died: 1947"},
		{"GEORGE ACKER / 1880 - 1885 / A MEMBER OF CO. D 97TH INDA. INF.", "name: George Acker; surname: Acker; company: D; regiment: 97; of: IN; arm: infantry; born: 1830/1860; died: 1885"},
		// Words that have lost a letter, or have another for it, where few can stand.
		{">> PAUL M TODD / MINNESOA / PFC CO C 120 / MG BN 32 DIV / JAN 28 1898 / MAR 10 1966", "name: Paul M Todd; surname: Todd; rank: private first class; company: C; regiment: 120; kind: battalion; arm: machine-gun; division: 32; home: MN; born: 1898-01-28; died: 1966-03-10"},
		{">> WISCOHSIN / EDWARD TODD / PVT 127 INF / WORLD WAR I / JANUARY 15 1949", "name: Edward Todd; surname: Todd; rank: private; regiment: 127; arm: infantry; home: WI; conflicts: world-war-i; died: 1949-01-15"},
		{">> OHIO / ANTON D TODD / SGT US AMY / WORLD WAR I / MAY 7 1979", "name: Anton D Todd; surname: Todd; rank: sergeant; home: OH; branch: army; conflicts: world-war-i; died: 1979-05-07"},
		{">> OHIO / ANTON D TODD / SEAMAN US NAYV / WORLD WAR I / MAY 7 1979", "name: Anton D Todd; surname: Todd; rank: seaman; home: OH; branch: navy; conflicts: world-war-i; died: 1979-05-07"},
		{"> SERGT. / JOHN TODD / CO. C 16 WIS. NF.", "name: John Todd; surname: Todd; rank: sergeant; company: C; regiment: 16; of: WI; arm: infantry"},
		{"ERNST TODD / 8TH WISC. BTTERY", "name: Ernst Todd; surname: Todd; regiment: 8; kind: battery; of: WI; arm: light-artillery"},
		{"> CHAR. PRUITT / CO. E / 9 IOWA INF.", "name: Charles Pruitt; surname: Pruitt; company: E; regiment: 9; of: IA; arm: infantry"},
		// A soldier's trade cut short before his name, and a surname.
		{"WAGR. JOHN NICHOLSON / DIED DECEMBER 29, 1904", "name: John Nicholson; surname: Nicholson; rank: wagoner; died: 1904-12-29"},
		{"MUS. J. NICHOLSON / 1840 - 1904", "name: J Nicholson; surname: Nicholson; rank: musician; born: 1840; died: 1904"},
		// Societies and places.
		{"WM. H. TURPIN / 1841 - 1914 / MEMBER OF / GEN. LYON P[...] NO. 11 G.A.R.", "name: William H Turpin; surname: Turpin; born: 1841; died: 1914; society: G.A.R."},
		{"J. W. BECKLEY / CO. E 21 KY. INF. / G. A. [.] / 1838-1902", "name: J W Beckley; surname: Beckley; company: E; regiment: 21; of: KY; arm: infantry; born: 1838; died: 1902; society: G.A.R."},
		{"PATRICK BYRNE / CO. A 41 IND. INF. / KILLED AT MISSIONARY RIDGE / NOV. 26, 1863", "name: Patrick Byrne; surname: Byrne; company: A; regiment: 41; of: IN; arm: infantry; conflicts: civil-war; died: 1863-11-26; death-place: MISSIONARY RIDGE"},
		// Single letters misread or lost, and the years of a couple.
		{"> JOHN FOX / CO. G / 3 TEX. CAV. / C. S. 4.", "name: John Fox; surname: Fox; company: G; regiment: 3; of: TX; arm: cavalry; side: confederate; conflicts: civil-war"},
		{"JOHN FOX / CO. G 13 IND. CAV. / [.]. A. R.", "name: John Fox; surname: Fox; company: G; regiment: 13; of: IN; arm: cavalry; society: G.A.R."},
		{"> JOHN FOX / CO. 4 / 129 OHIO INF.", "name: John Fox; surname: Fox; company: A; regiment: 129; of: OH; arm: infantry"},
		{"JOHN FOX / LATE OF CQ K / 145 ILLS INF", "name: John Fox; surname: Fox; company: K; regiment: 145; of: IL; arm: infantry"},
		{"JOHN FOX 1838 - 1906 / BRIDGET HIS MIFE 1847 - 1879", "name: John Fox; surname: Fox; born: 1838; died: 1906; 2.name: Bridget Fox; 2.surname: Fox; 2.relation: wife; 2.born: 1847; 2.died: 1879"},
		{"SIMPSON / HERBERT G / 1898 - 1952 / HIS W[....]ELLEN / 1899 - 1968", "name: Herbert G Simpson; surname: Simpson; born: 1898; died: 1952; 2.relation: wife; 2.born: 1899; 2.died: 1968"},
		{">> INDIANA / RALPH FOX / PVI CO G 151 INF / NOV 11 1893 NOV 1 1961", "name: Ralph Fox; surname: Fox; rank: private; company: G; regiment: 151; arm: infantry; home: IN; born: 1893-11-11; died: 1961-11-01"},
		{">> FRED R HAYES / INDIANA / PVI US ARMY / WORLD WAR I / DEC 24 1895 APR 10 1969", "name: Fred R Hayes; surname: Hayes; rank: private; home: IN; branch: army; conflicts: world-war-i; born: 1895-12-24; died: 1969-04-10"},
		{"EVERLBY / WILLIAM 1891 - 1902 / AMELIA HIS WIFE 1843 - 1916", "name: William Everlby; surname: Everlby; born: 1821/1861; died: 1902; 2.name: Amelia Everlby; 2.surname: Everlby; 2.relation: wife; 2.born: 1843; 2.died: 1916"},
		{"TRENEER / JAMES 1855-1868 / HIS WIFE MARIA 1862-1921", "name: James Treneer; surname: Treneer; born: 1855; died: 1878/1898; 2.name: Maria Treneer; 2.surname: Treneer; 2.relation: wife; 2.born: 1862; 2.died: 1921"},
		{"MASON / CHARLES S. 1888 - 1909 / SARAH HIS WIFE 1842 - 1877", "name: Charles S Mason; surname: Mason; born: 1818/1858; died: 1909; 2.name: Sarah Mason; 2.surname: Mason; 2.relation: wife; 2.born: 1842; 2.died: 1877"},
	} {
		checkRead(t, c.text, c.want)
	}
}

// checkRead reads an inscription, "> " before those of government markers and ">> " before General stones, and compares the first reading.
func checkRead(t *testing.T, marked, want string) {
	t.Helper()
	ctx := Context{}
	text, general := strings.CutPrefix(marked, ">> ")
	if general {
		ctx.Pattern = "general-1922"
	}
	text, government := strings.CutPrefix(text, "> ")
	if government {
		ctx.Pattern = "civil-war-1873"
	}
	if _, _, wrong := compare(strings.Split(want, "; "), Read(text, ctx)[0]); len(wrong) > 0 {
		t.Errorf("%s\n\t%s", marked, strings.Join(wrong, "\n\t"))
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
