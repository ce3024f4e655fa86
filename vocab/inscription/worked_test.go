package inscription

import (
	"strings"
	"testing"
)

// worked are fifty invented inscriptions with the readings that the trade's conventions give them. Sources: S5 (no rank on a private's shield
// stone), S6 and S50a (abbreviations), S37a (US Colored Troops), S28 (the war with Spain), S3 (General stones: the state is the residence), S7 (IN MEMORY OF), S9 (Revenue
// Cutter Service); given names S51 and S51b. A war is given only where the words name it or can mean no other.
var worked = []struct{ text, want string }{
	{`CORPL / JNO. T. HOLDEN / CO. F / 47 ILLS. INF.`,
		`name: John T Holden; surname: Holden; or: Jonathan; rank: corporal; company: F; regiment: 47; of: IL; arm: infantry`},
	{`WM. A. PRUITT / CO. C / 9 IND. CAV.`,
		`name: William A Pruitt; surname: Pruitt; company: C; regiment: 9; of: IN; arm: cavalry`},
	{`SERGT. / GEO. W. LANTZ / CO. I / 84 PENNA. INF.`,
		`name: George W Lantz; surname: Lantz; rank: sergeant; company: I; regiment: 84; of: PA; arm: infantry`},
	{`1 SERGT. / BENJ. CROWLE / CO. M / 2 MO. CAV.`,
		`name: Benjamin Crowle; surname: Crowle; rank: first sergeant; company: M; regiment: 2; of: MO; arm: cavalry`},
	{`CHAS. E. DODD / BTRY. B / 1 ILL. L. A.`,
		`name: Charles E Dodd; surname: Dodd; company: B; regiment: 1; of: IL; arm: light-artillery`},
	{`MICHL. QUINN / 3 IND. BTRY. / WIS. L. A.`,
		`name: Michael Quinn; surname: Quinn; regiment: 3; kind: battery; of: WI; arm: light-artillery; marks: independent`},
	{`3 IND. BTRY. / OTTO SIEBERT`,
		`name: Otto Siebert; surname: Siebert; regiment: 3; kind: battery; of: IN; arm: light-artillery`},
	{`THOS. KANE / CO. L / 11 PA. CAV.`,
		`name: Thomas Kane; surname: Kane; company: L; regiment: 11; of: PA; arm: cavalry`},
	{`LIEUT. / HY. S. VOGEL / CO. A / 2 MINN. H. A.`,
		`name: Henry S Vogel; surname: Vogel; rank: lieutenant; company: A; regiment: 2; of: MN; arm: heavy-artillery`},
	{`DANL. FOX / CO. B / 5 U. S. C. HVY. ART.`,
		`name: Daniel Fox; surname: Fox; company: B; regiment: 5; of: usct; arm: heavy-artillery; side: union; conflicts: civil-war`},
	{`SAML. REED / CO. K / 79 U. S. C. I.`,
		`name: Samuel Reed; surname: Reed; company: K; regiment: 79; of: usct; arm: infantry; side: union; conflicts: civil-war`},
	{`ANDW. MOORE / CO. D / 1 KANS. COL. INF.`,
		`name: Andrew Moore; surname: Moore; company: D; regiment: 1; of: KS; arm: infantry; marks: colored`},
	{`ISAAC BELL / CO. G / 54 MASS. INF.`,
		`name: Isaac Bell; surname: Bell; company: G; regiment: 54; of: MA; arm: infantry`},
	{`PATK. BYRNE / CO. H / 14 U. S. INF.`,
		`name: Patrick Byrne; surname: Byrne; company: H; regiment: 14; of: us; arm: infantry`},
	{`ROBT. SEAL / 2 U. S. S. S. / CO. E`,
		`name: Robert Seal; surname: Seal; company: E; regiment: 2; of: us; arm: sharpshooters`},
	{`FREDK. KOHL / CO. K / 12 V. R. C.`,
		`name: Frederick Kohl; surname: Kohl; company: K; regiment: 12; of: vrc; side: union; conflicts: civil-war`},
	{`ALEXR. MCNEIL / CO. J / 30 N. Y. INF.`,
		`name: Alexander McNeil; surname: McNeil; company: J; regiment: 30; of: NY; arm: infantry`},
	{`SEA. / LEWIS DORNE / U. S. S. / HARROW`,
		`name: Lewis Dorne; surname: Dorne; rank: seaman; kind: ship; unit: Harrow; branch: navy`},
	{`LANDS. / EDWD. PYKE / U. S. N.`,
		`name: Edward Pyke; surname: Pyke; rank: landsman; branch: navy`},
	{`1742 / UNKNOWN`,
		`grave: 1742; unknown: yes`},
	{`1742`,
		`grave: 1742; unknown: yes`},
	{`CORP. / JAS. TOLLIVER / CO. E / 2 W. VA. CAV.`,
		`name: James Tolliver; surname: Tolliver; rank: corporal; company: E; regiment: 2; of: WV; arm: cavalry`},
	{`NATHL. COBB / CO. C / 1 E. TENN. INF.`,
		`name: Nathaniel Cobb; surname: Cobb; company: C; regiment: 1; of: TN; arm: infantry; marks: east`},
	{`THEO. BARTH / CO. H / 4 MO. S. M. CAV.`,
		`name: Theodore Barth; surname: Barth; or: Theophilus, Theodosius; company: H; regiment: 4; of: MO; arm: cavalry; marks: state-militia`},
	{`HENRY / ARTHUR TELFORD / SP. AM. WAR / CO. L / 9 U. S. INF.`,
		`name: Henry Arthur Telford; surname: Telford; company: L; regiment: 9; of: us; arm: infantry; conflicts: spanish-american-war`},
	{`CORPL. / ELMER KROH / CO. A / 51 IOWA VOL. INF. / SP. AM. WAR`,
		`name: Elmer Kroh; surname: Kroh; rank: corporal; company: A; regiment: 51; of: IA; arm: infantry; marks: volunteers; conflicts: spanish-american-war`},
	{`MUS. / ORVAL JENKS / 21 KANS. INF. / SP. AM. WAR`,
		`name: Orval Jenks; surname: Jenks; rank: musician; regiment: 21; of: KS; arm: infantry; conflicts: spanish-american-war`},
	{`JOS. PELTIER / CO. D / 7 LA. INF. / C. S. A.`,
		`name: Joseph Peltier; surname: Peltier; or: Joshua, Josiah; company: D; regiment: 7; of: LA; arm: infantry; side: confederate; conflicts: civil-war`},
	{`CAPT. / E. L. MABRY / CO. B / 3 ARK. CAV. / C. S. A.`,
		`name: E L Mabry; surname: Mabry; rank: captain; company: B; regiment: 3; of: AR; arm: cavalry; side: confederate; conflicts: civil-war`},
	{`JESSE SNEED / 4 BN. / N. C. INF. / C. S. A.`,
		`name: Jesse Sneed; surname: Sneed; regiment: 4; kind: battalion; of: NC; arm: infantry; side: confederate; conflicts: civil-war`},
	{`ALBT. HART / CO. A / COBBS LEGION / GA. CAV. / C. S. A.`,
		`name: Albert Hart; surname: Hart; company: A; kind: legion; unit: Cobb's Legion; of: GA; arm: cavalry; side: confederate; conflicts: civil-war`},
	{`UNKNOWN / C. S. A.`,
		`side: confederate; conflicts: civil-war; unknown: yes`},
	{`OHIO / ROY F. BECHTEL / PVT 148 INF 37 DIV / AUG 3 1932`,
		`name: Roy F Bechtel; surname: Bechtel; rank: private; regiment: 148; arm: infantry; division: 37; home: OH; conflicts: world-war-i; died: 1932-08-03`},
	{`GEORGIA / ODELL PRICE / PVT 801 PION INF / JAN 9 1941`,
		`name: Odell Price; surname: Price; rank: private; regiment: 801; arm: pioneer-infantry; home: GA; conflicts: world-war-i; died: 1941-01-09`},
	{`IOWA / LLOYD T STAHL / WAG 339 FA 88 DIV`,
		`name: Lloyd T Stahl; surname: Stahl; rank: wagoner; regiment: 339; arm: field-artillery; division: 88; home: IA; conflicts: world-war-i`},
	{`VIRGINIA / ELI CROMER / COOK 155 DEPOT BRIG / DEC 2 1919`,
		`name: Eli Cromer; surname: Cromer; rank: cook; regiment: 155; kind: depot; home: VA; conflicts: world-war-i; died: 1919-12-02`},
	{`MINNESOTA / NILS HAGEN / S2C US NAVY / WORLD WAR II / MAR 7 1919 OCT 4 1958`,
		`name: Nils Hagen; surname: Hagen; rank: seaman second class; home: MN; branch: navy; conflicts: world-war-ii; born: 1919-03-07; died: 1958-10-04`},
	{`TEXAS / RUBEN SALAZAR / TEC 5 US ARMY / WORLD WAR II / PH`,
		`name: Ruben Salazar; surname: Salazar; rank: technician fifth grade; home: TX; branch: army; conflicts: world-war-ii; awards: purple-heart`},
	{`HOWARD L COLE / SGT US AIR FORCE / KOREA / 1929 - 1994`,
		`name: Howard L Cole; surname: Cole; rank: sergeant; branch: air-force; conflicts: korea; born: 1929; died: 1994`},
	{`DELORES M COLE / 1932 - 2001 / HIS WIFE`,
		`name: Delores M Cole; surname: Cole; relation: wife; born: 1932; died: 2001`},
	{`IN MEMORY OF / CLIFTON O RAY / PFC US ARMY / VIETNAM / 1946 1968`,
		`name: Clifton O Ray; surname: Ray; rank: private first class; branch: army; conflicts: vietnam; born: 1946; died: 1968; memorial: yes`},
	{`LINDA K OHARE / CPL US MARINE CORPS / PERSIAN GULF / 1969 2019`,
		`name: Linda K O'Hare; surname: O'Hare; rank: corporal; branch: marine-corps; conflicts: gulf; born: 1969; died: 2019`},
	{`MEDAL OF HONOR / AMOS DRURY / SGT / CO B 3 OHIO CAV`,
		`name: Amos Drury; surname: Drury; rank: sergeant; company: B; regiment: 3; of: OH; arm: cavalry; awards: medal-of-honor`},
	{`JOHN GANTT / WAG / CO A 1 N C INF / U S A`,
		`name: John Gantt; surname: Gantt; rank: wagoner; company: A; regiment: 1; of: NC; arm: infantry; branch: army; side: union; conflicts: civil-war`},
	{`SURG. / A. J. TRELL / 9 MICH. INF.`,
		`name: A J Trell; surname: Trell; rank: surgeon; regiment: 9; of: MI; arm: infantry`},
	{`BVT. BRIG. GEN. / L. O. HARKE / U. S. VOLS.`,
		`name: L O Harke; surname: Harke; rank: brevet brigadier general; of: us; marks: volunteers`},
	{`ALF. HARMS / CO. G / 150 N. Y. NATL. GD.`,
		`name: Alfred Harms; surname: Harms; company: G; regiment: 150; of: NY; marks: national-guard`},
	{`VETERAN / ARMY`,
		`branch: army`},
	{`TRUMAN BOOTH / USRCS / 1878 1914`,
		`name: Truman Booth; surname: Booth; branch: revenue-cutter; born: 1878; died: 1914`},
	{`GEORGIANA FITCH / NURSE / U. S. ARMY / SP. AM. WAR`,
		`name: Georgiana Fitch; surname: Fitch; rank: nurse; branch: army; conflicts: spanish-american-war`},
}

func TestWorkedLines(t *testing.T) {
	if len(worked) != 50 {
		t.Fatalf("%d lines, want 50", len(worked))
	}
	for _, c := range worked {
		r := Read(c.text, Context{})[0]
		if _, _, wrong := compare(strings.Split(c.want, "; "), r); len(wrong) > 0 {
			t.Errorf("%s\n\t%s", c.text, strings.Join(wrong, "\n\t"))
		}
	}
}
