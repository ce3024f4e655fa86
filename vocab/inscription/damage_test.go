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
		{"NELSON FOX / APRIL 9, 1640 / OCT 30, 1910", "name: Nelson Fox; surname: Fox; born: 1840; died: 1910-10-30"},
		{"JOHN FOX / 18[---]84", "name: John Fox; surname: Fox; born: 1800/1868; died: 1884"},
		{"ERNST COOK / DIED / AUG. 23, 1871 / AE. 45 Y'RS 2 M'5 1 D'S", "name: Ernst Cook; surname: Cook; born: 1826-05-24/1826-06-23; died: 1871-08-23; age: AE. 45 Y'RS 2 M'; unread: 5"},
		// Figures that stand for letters.
		{"WILLIAM 5COTT / CO. B / 3D KAN. INF.", "name: William Scott; surname: Scott; company: B; regiment: 3; of: KS; arm: infantry"},
		{"JOHN 5MI[---] / CO. A / 36TH ILL. INFTY.", "name: John Smi[---]; surname: Smi[---]; company: A; regiment: 36; of: IL; arm: infantry"},
		{"DENNIS 8OYLE / 1840 - 1901", "name: Dennis Boyle; surname: Boyle; born: 1840; died: 1901"},
		{"JO5 STARB / CO G / 18TH KY INF", "name: Joseph Starb; surname: Starb; or: Joshua, Josiah; company: G; regiment: 18; of: KY; arm: infantry"},
		{"JOHN FOX / CO. B / 5WIS. INF.", "name: John Fox; surname: Fox; company: B; regiment: 5; of: WI; arm: infantry"},
		// Relations, bodies and states of which a letter is misread or lost.
		{"MUELLER / JOHN 1847 - 1941 / ELLA [.]IS WIFE 1884 - 1954",
			"name: John Mueller; surname: Mueller; born: 1847; died: 1941; 2.name: Ella Mueller; 2.surname: Mueller; 2.relation: wife; 2.born: 1884; 2.died: 1954"},
		{"HAUGEN / JACOB 1836 - 1898 / MARTHA HIB WIFE 1842 - 1896",
			"name: Jacob Haugen; surname: Haugen; born: 1836; died: 1898; 2.name: Martha Haugen; 2.surname: Haugen; 2.relation: wife; 2.born: 1842; 2.died: 1896"},
		{"HALL / W. / 1839 - 1904 / PHEBE M. / [---] WIFE / 1840 - 1899",
			"name: W Hall; surname: Hall; born: 1839; died: 1904; 2.name: Phebe M Hall; 2.surname: Hall; 2.relation: wife; 2.born: 1840; 2.died: 1899"},
		{"J. HILL / CO. F / 136TH V. S. C. T.", "name: J Hill; surname: Hill; company: F; regiment: 136; of: usct; side: union; conflicts: civil-war"},
		{"OTTO SNYDER / 1837-1930 / U. B. S. / LODESTAR", "name: Otto Snyder; surname: Snyder; kind: ship; unit: Lodestar; branch: navy; born: 1837; died: 1930"},
		{"JOHN FOX / 15 MIS INF", "name: John Fox; surname: Fox; regiment: 15; of: WI; arm: infantry"},
		{"JOHN FOX / 9 TA. INF.", "name: John Fox; surname: Fox; regiment: 9; of: IA; arm: infantry"},
		{"COAL HVR. JONATHAN J. PATTERSON / U. S. S. / LODESTAR", "name: Jonathan J Patterson; surname: Patterson; rank: coal heaver; kind: ship; unit: Lodestar; branch: navy"},
		// Surnames that are words, and those that head a family's stone.
		{"STEPHEN M. CHURCH / OCT. 26, 1829 / DEC. 20, 1910", "name: Stephen M Church; surname: Church; born: 1829-10-26; died: 1910-12-20"},
		{"BURNELOCKS / G. CLAPP 1826 - 1871 / MARGARET HIS WIFE 1826 - 1860",
			"name: G Clapp Burnelocks; surname: Burnelocks; born: 1826; died: 1871; 2.name: Margaret Burnelocks; 2.surname: Burnelocks; 2.relation: wife; 2.born: 1826; 2.died: 1860"},
		{"DEAN / ENOS HAYES 1829-1912 / HIS WIFE MARY 1827-1908",
			"name: Enos Hayes Dean; surname: Dean; born: 1829; died: 1912; 2.name: Mary Dean; 2.surname: Dean; 2.relation: wife; 2.born: 1827; 2.died: 1908"},
		{"LONG / HENRY 1838 -[.....]", "name: Henry Long; surname: Long; born: 1838"},
		// Names of which a gap hides more than letters.
		{"> [.......]H. FOX / CO. B 12 IND. INF.", "name: [---] H Fox; surname: Fox; company: B; regiment: 12; of: IN; arm: infantry"},
		{"> MICH[.......] BECKER / 13 IND. L. A.", "name: Mich[---] Becker; surname: Becker; regiment: 13; of: IN; arm: light-artillery"},
		{"J[.....]O'CONNELL / DIED FEB. 27, 1884", "name: J[---] [---]o'connell; surname: [---]o'connell; died: 1884-02-27"},
		{"> SERGT / FRAN[....]N / CO. L 16 INF.", "name: Fran[---] [---]n; surname: [---]n; rank: sergeant; company: L; regiment: 16; arm: infantry"},
		{"> THOS[..]VOMER / CO. A / 70 IND. INF.", "name: Thomas Vomer; surname: Vomer; company: A; regiment: 70; of: IN; arm: infantry"},
		{"> SERG. / [.....]REEMAN / CO E / 41 IND INF", "name: [---] [---]reeman; surname: [---]reeman; rank: sergeant; company: E; regiment: 41; of: IN; arm: infantry"},
		// What is left of whole lines and of labels.
		{"INDIANA / JOHN FOX / PVT CO C 151 INF / WORLD W[....]", "name: John Fox; surname: Fox; rank: private; company: C; regiment: 151; arm: infantry; home: IN; conflicts: world-war-i"},
		{"JOHN FOX / CO. B 161 IND. INF. / SP [.....]R", "name: John Fox; surname: Fox; company: B; regiment: 161; of: IN; arm: infantry; conflicts: spanish-american-war"},
		{"JOHN FOX / CO. B 161 IND. INF. / WAR WI[.....]AIN", "name: John Fox; surname: Fox; company: B; regiment: 161; of: IN; arm: infantry; conflicts: spanish-american-war"},
		{"I[.]DIAMA / JOHN FOX / PVT CO C 151 INF / WORLD WAR I", "name: John Fox; surname: Fox; rank: private; company: C; regiment: 151; arm: infantry; home: IN; conflicts: world-war-i"},
		{"INDIANA / JOHN FOX / PVT [.]O G 151 INF / WORLD WAR I", "name: John Fox; surname: Fox; rank: private; company: G; regiment: 151; arm: infantry; home: IN; conflicts: world-war-i"},
		{"HIER RUHI / ADAM FUCHS / GEB. 13. AUG. 1827 / GEST. 11. JAN. 1894", "name: Adam Fuchs; surname: Fuchs; born: 1827-08-13; died: 1894-01-11"},
		{"[...]R RUHT / ADAM FUCHS / GEB. 13. AUG. 1827", "name: Adam Fuchs; surname: Fuchs; born: 1827-08-13"},
		{"C. KELLY / DIED JAN. 14, 1934 / A SOLDIER OF 1861 [.] 1865", "name: C Kelly; surname: Kelly; died: 1934-01-14; enlisted: 1861; mustered-out: 1865"},
		{"ANDREW FOX / BO[.]H JUNE 14, 1844 / OIED APRIL 16, 1899", "name: Andrew Fox; surname: Fox; born: 1844-06-14; died: 1899-04-16"},
		{"EDWO. MURPHY / CO. G / 36 ARK. INF.", "name: Edward Murphy; surname: Murphy; company: G; regiment: 36; of: AR; arm: infantry"},
		{"JOHN FOX / CO. G / 157 OHIO IN[.]'Y", "name: John Fox; surname: Fox; company: G; regiment: 157; of: OH; arm: infantry"},
		{"MILLER / [.]OHN 1833 - 1904", "name: [.]ohn Miller; surname: Miller; born: 1833; died: 1904"},
		{"JOHN FOX / SEPY. 11, 1844 / NOV. 17, 1905", "name: John Fox; surname: Fox; born: 1844-09-11; died: 1905-11-17"},
		{"JOHN FOX / DIEB MARCH 24, 1921", "name: John Fox; surname: Fox; died: 1921-03-24"},
		{"JOHN FOX / BORN 1842 / DIED JUNE 22, 1684", "name: John Fox; surname: Fox; born: 1842; died: 1884"},
		{"CONNER / JOHN R. / 1840 - 1912 / ZELVINA R. / 1842 - 1890",
			"name: John R Conner; surname: Conner; born: 1840; died: 1912; 2.name: Zelvina R Conner; 2.surname: Conner; 2.born: 1842; 2.died: 1890"},
		{"CHURCH / STEPHEN M. / 1829 - 1910 / HIS WIFE MARGARET / 1836 - 1912",
			"name: Stephen M Church; surname: Church; born: 1829; died: 1910; 2.name: Margaret Church; 2.surname: Church; 2.relation: wife; 2.born: 1836; 2.died: 1912"},
		{"SCHNEIDER / J P / 1832 - 1902 / LYDIA S / HIS WIFE / [---]",
			"name: J P Schneider; surname: Schneider; born: 1832; died: 1902; 2.name: Lydia S Schneider; 2.surname: Schneider; 2.relation: wife"},
		{"> PETER ERICKSON / 3 ILLS", "name: Peter Erickson; surname: Erickson; regiment: 3; of: IL"},
		{"JOHN FOX / CO B / 110 U S OOL INF", "name: John Fox; surname: Fox; company: B; regiment: 110; of: usct; arm: infantry; side: union; conflicts: civil-war"},
		{"> HENRY FOX / 16 U S G T", "name: Henry Fox; surname: Fox; regiment: 16; of: usct; side: union; conflicts: civil-war"},
		{"JOHN FOX / CO. M / 7 IND. [.]. A.", "name: John Fox; surname: Fox; company: M; regiment: 7; of: IN; arm: artillery"},
		{"> CALVI[---]SS / CO. D[---].", "name: Calvi[---] [---]ss; surname: [---]ss; company: D"},
		{"EDW4RD MCLAUGHLIN / CO. D / 28 OHIO INF.", "name: Edw4rd McLaughlin; surname: McLaughlin; company: D; regiment: 28; of: OH; arm: infantry"},
		{"> CCRP WILLIAM BURN / CO F 45 IA INF", "name: William Burn; surname: Burn; rank: corporal; company: F; regiment: 45; of: IA; arm: infantry"},
		{"W[......]ERLS / S[---]1843 / AU[---]1904", "name: W[---] [---]erls; surname: [---]erls; born: 1843; died: 1904-08"},
		{"> CHAS J FOX / INDIANA / PVT 335 INF / JUNE 74 1878 FEB 20 1952", "name: Chas J Fox; surname: Fox; rank: private; regiment: 335; arm: infantry; home: IN; born: 1878-06; died: 1952-02-20"},
		{"JOHN FOX / DIED AT CORINTH, MISS. / APR [---]863", "name: John Fox; surname: Fox; died: 1863-04; death-place: CORINTH, MISS."},
		{"GEORGE AUSTIN / 1844 [..]1909", "name: George Austin; surname: Austin; born: 1844; died: 1909"},
		{"JOHN FOX / [---]4 - 1899", "name: John Fox; surname: Fox; born: 1804/1874; died: 1899"},
		{"> HY. D. FOX / 1 IND. L. [..]", "name: Henry D Fox; surname: Fox; regiment: 1; of: IN; arm: light-artillery"},
		{"JOHN FOX / CO. B / 70 REGT. IN[.....]NF.", "name: John Fox; surname: Fox; company: B; regiment: 70; of: IN; arm: infantry"},
		{"JOHN FOX / A MEMBER OF CO. B 27T[......] VOL. INF.", "name: John Fox; surname: Fox; company: B; regiment: 27; arm: infantry; marks: volunteers"},
		{"JOHN FOX / DIED NOV. 10, 1881 / AGED 37 Y. 10 [.....]D. / CO. A 70 IND. INF.",
			"name: John Fox; surname: Fox; company: A; regiment: 70; of: IN; arm: infantry; born: 1843-11-11/1844-11-10; died: 1881-11-10; age: AGED 37 Y; unread: 10 [.....]D"},
		{"SAMUEL FOX / SON CF / W. & M. FOX", "name: Samuel Fox; surname: Fox; relation: son; 2.name: W Fox; 2.surname: Fox; 2.relation: father; 3.name: M Fox; 3.surname: Fox; 3.relation: mother"},
		{"RYAN / BERNARD / 1844 - 1913 / HIS WIFE EMMA / 1852 - 1910",
			"name: Bernard Ryan; surname: Ryan; born: 1844; died: 1913; 2.name: Emma Ryan; 2.surname: Ryan; 2.relation: wife; 2.born: 1852; 2.died: 1910"},
		{"INFANT SCN OF / A. & R. LEHMANN / 1887 - 1888",
			"name: Lehmann; surname: Lehmann; relation: son; born: 1887; died: 1888; 2.name: A Lehmann; 2.surname: Lehmann; 2.relation: father; 3.name: R Lehmann; 3.surname: Lehmann; 3.relation: mother"},
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

// TestPartedByGap: where a gap may hide a space and an initial, the name is given both ways.
func TestPartedByGap(t *testing.T) {
	for _, c := range []struct{ text, line string }{
		{"WILLIAM F[......]P / CO. A 13 IND. CAV.", "name: William F [---]p"},
		{"P. W[..]KENNEY / 1833 - 1884", "name: P W Kenney"},
		{"[.....]S THODER / CO. B 70 IND. INF.", "name: [---] S Thoder"},
		{"AUGUST [......]FENBERGER / CO. C 70 IND. INF.", "name: August [---]fenberger"},
	} {
		both := [2]float64{}
		for _, r := range Read(c.text, Context{}) {
			if says(r, c.line) {
				both[0] += r.Probability
			} else {
				both[1] += r.Probability
			}
		}
		if both[0] < .15 || both[1] < .15 {
			t.Errorf("%s: %q has probability %.2f, other readings %.2f", c.text, c.line, both[0], both[1])
		}
	}
}
