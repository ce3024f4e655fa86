package inscription

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
)

// says reports whether a reading has the line "key: value".
func says(r model.Reading, line string) bool { return slices.Contains(fields(r), line) }

// TestAlternatives: what can be read in two ways is.
func TestAlternatives(t *testing.T) {
	for _, c := range []struct {
		text, line string
		least      float64
	}{
		{"3 IND. BTRY. / OTTO SIEBERT", "of: IN", 0.5},
		{"3 IND. BTRY. / OTTO SIEBERT", "marks: independent", 0.15},
		{"JOHN FOX / 12 I. V. I.", "of: IL", 0.2},
		{"JOHN FOX / 12 I. V. I.", "of: IN", 0.1},
		{"JOHN FOX / 12 I. V. I.", "of: IA", 0.05},
		{"ORD. SERGT. / JOHN FOX / CO. A 3 WIS. INF.", "rank: first sergeant", 0.5},
		{"ORD. SERGT. / JOHN FOX / CO. A 3 WIS. INF.", "rank: ordnance sergeant", 0.02},
	} {
		p := 0.0
		for _, r := range Read(c.text, Context{}) {
			if says(r, c.line) {
				p += r.Probability
			}
		}
		if p < c.least {
			t.Errorf("%s: %q has probability %.3f, want %.2f or more", c.text, c.line, p, c.least)
		}
	}
}

// TestPeriod: what the words and dates beside it are decides what a doubtful form is.
func TestPeriod(t *testing.T) {
	for _, c := range []struct{ text, has, hasNot string }{
		{"JOHN FOX / 2 U. S. S. S. / CO. E", "arm: sharpshooters", "awards: silver-star"},
		{"JOHN FOX / SGT US ARMY / WORLD WAR II / SS", "awards: silver-star", "arm: sharpshooters"},
		{"JOHN FOX / 1 CONN. ART.", "arm: artillery", ""},
		{"JOHN FOX / S2 US NAVY / WORLD WAR II", "rank: seaman second class", ""},
		{"D. H. FOX / CO. D. / D. MAY 3, 1899", "company: D", ""},
		{"JOHN FOX / CO. A 2 COL. CAV.", "of: CO", "marks: colored"},
		{"JOHN FOX / CO. A 1 KANS. COL. INF.", "marks: colored", "of: CO"},
		{"COL. JOHN FOX / 3 WIS. INF.", "rank: colonel", "marks: colored"},
		{"JOHN FOX / 1 LA. INF.", "of: LA", "arm: light-artillery"},
		{"JOHN FOX / 1 ILL. L. A.", "arm: light-artillery", "of: LA"},
		{"JOHN FOX / CO. C 1 N. C. INF. / U. S. A.", "side: union", ""},
		{"JOHN FOX / CO. C 1 N. C. INF. / C. S. A.", "side: confederate", "side: union"},
		{"JOHN FOX / CO. F 3 WIS. CAV. / AE. 22 Y. 2 MO.", "of: WI", "of: MO"},
		{"JOHN FOX / 1861 - 1865", "died: 1865", "conflicts: civil-war"},
		{"JOHN FOX / CO. F 3 WIS. CAV. / 1861 - 1865", "conflicts: civil-war", "died: 1865"},
		{"JAMES FOX / ILL.", "residence: ILL.", "of: IL"},
	} {
		r := Read(c.text, Context{})[0]
		if !says(r, c.has) || c.hasNot != "" && says(r, c.hasNot) {
			t.Errorf("%s\n\treads %s\n\twant %q, not %q", c.text, strings.Join(fields(r), "; "), c.has, c.hasNot)
		}
	}
}

// TestPattern: on a government marker a rank and a state alone tell of service.
func TestPattern(t *testing.T) {
	for _, c := range []struct{ text, has string }{
		{"CAPT. / JOHN FOX / ILL.", "rank: captain"},
		{"JAMES FOX / ILL.", "of: IL"},
		{"CAPT. / JOHN FOX", "rank: captain"},
		{"JOHN FOX / 10TH [---]", "regiment: 10"},
	} {
		if r := Read(c.text, Context{Pattern: "civil-war-1873"})[0]; !says(r, c.has) {
			t.Errorf("%s reads %s, want %q", c.text, strings.Join(fields(r), "; "), c.has)
		}
	}
	if r := Read("CAPT. / JOHN FOX", Context{})[0]; says(r, "rank: captain") {
		t.Error("a title alone was read as a rank")
	}
}

func TestNotes(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"ALEXR. MCNEIL / CO. J / 30 N. Y. INF.", "Company J was not used"},
		{"SAML. REED / CO. K / 79 U. S. C. I.", "Two regiments bore the number 79"},
		{"JOHN FOX / CO. M / 30 N. Y. INF.", "companies A to K"},
		{"CAPT. JOHN FOX / 1830 - 1901", "taken for a title"},
		{"CHARL[---]GIN / CO. F / 31 WIS. INF.", "hide the space between two names: CHARL[---]GIN"},
		{"JOHN FOX / D. 12 MO. 3", "a day and no year: 12 MO. 3"},
		{"JOHN FOX / DIED MAY 4 / AGED 71", "a day and no year: MAY 4"},
		{"JOHN FOX / C.S.A. / CO. B / 54 U.S.C.T.", "name the side Confederate"},
	} {
		r := Read(c.text, Context{})[0]
		if !strings.Contains(strings.Join(r.Notes, " "), c.want) {
			t.Errorf("%s: notes %q, want %q among them", c.text, r.Notes, c.want)
		}
	}
}

// TestBirthFromAge: a birth is worked out from death and age as an interval.
func TestBirthFromAge(t *testing.T) {
	r := Read("JACOB YOST / DIED MAY 4, 1891 / AE. 67 YRS. 3 MS. 4 DS.", Context{})[0]
	born := r.Claim().Person.Born
	want := date.BirthFrom(date.On(1891, 5, 4), r.Claim().Person.Age)
	if born != want || born.From.Year != 1824 || born.To.Year != 1824 {
		t.Errorf("born %s, want %s", born, want)
	}
}

// TestTokensTell: each token remembers the letters it came from, and whom it speaks of.
func TestTokensTell(t *testing.T) {
	text := "MARY / WIFE OF / SERGT. JNO. FOX / CO. F, 47 ILLS. INF."
	r := Read(text, Context{})[0]
	var got []string
	for _, k := range r.Tokens {
		if k.Field != "" {
			got = append(got, fmt.Sprintf("%s=%s@%d", k.Field, text[k.From:k.To], k.Person))
		}
	}
	want := "given=MARY@1 relation=WIFE OF@1 rank=SERGT@0 given=JNO@0 surname=FOX@0 company=CO. F@0 regiment=47@0 state=ILLS@0 arm=INF@0"
	if g := strings.Join(got, " "); g != want {
		t.Errorf("tokens %s\n\twant %s", g, want)
	}
}

func TestReadStone(t *testing.T) {
	claim := model.Claim{Service: model.Service{Rank: "private"}}
	claim.Person.Name.Surname = "Fox"
	got := ReadStone(&model.Stone{Register: &claim})
	if len(got) != 1 || got[0].Probability != 1 || got[0].Claim().Person.Name.Surname != "Fox" {
		t.Errorf("a register's row reads %+v", got)
	}
	for _, tt := range []struct{ cell, own, other string }{
		{"Smith alias Kolb, Peter J.", "Peter J Smith", "Peter J Kolb"},
		{"Smith, Peter, alias Otto Kolb, Jr.", "Peter Smith", "Otto Kolb"},
	} {
		claim := model.Claim{Person: model.Person{Name: name.Parse(tt.cell)}, Service: model.Service{Rank: "private"}}
		got := ReadStone(&model.Stone{Register: &claim})
		if len(got) != 2 || got[0].Probability+got[1].Probability != 1 || got[0].Claim().Person.Name.String() != tt.own || got[1].Claim().Person.Name.String() != tt.other || got[1].Claim().Service.Rank != "private" {
			t.Errorf("a register's row of %q reads %+v", tt.cell, got)
		}
	}
	for _, tt := range []struct{ words, own, other string }{
		{"JOSIAH B. FENN (alias Joseph Finn) / CO. C / 8 WIS. INF.", "Josiah B Fenn", "Joseph Finn"},
		{"JOHN KOLB / SERVED AS OTTO SMITH / CO. F 31 WIS. INF.", "John Kolb", "Otto Smith"},
		{"JOHN SMITH / ALIAS KOLB / CO. F 31 WIS. INF.", "John Smith", "John Kolb"},
	} {
		got := ReadStone(&model.Stone{Marker: model.Marker{Inscription: tt.words}})
		if len(got) < 2 || math.Abs(got[0].Probability-got[1].Probability) > 1e-9 || got[0].Claim().Person.Name.String() != tt.own || got[1].Claim().Person.Name.String() != tt.other || got[0].Claim().Service.Unit.Company != got[1].Claim().Service.Unit.Company {
			t.Errorf("%s reads %+v", tt.words, got)
		}
	}
	s := &model.Stone{}
	s.Marker.Inscription = "CAPT. / JOHN FOX"
	s.Marker.Device = "recessed shield"
	if r := ReadStone(s)[0]; !says(r, "rank: captain") {
		t.Errorf("a shield stone reads %q", fields(r))
	}
	if got := ReadStone(&model.Stone{}); len(got) != 1 || len(got[0].People) != 0 {
		t.Errorf("a blank stone reads %+v", got)
	}
}

func TestGuide(t *testing.T) {
	lines := strings.Split(Guide(), "\n")
	if len(lines) > 66 {
		t.Errorf("the guide has %d lines, want one page", len(lines))
	}
	for _, l := range lines {
		if n := len([]rune(l)); n > 120 {
			t.Errorf("a line of the guide has %d characters: %s", n, l)
		}
	}
}

// TestGuideInReadme: the README prints the guide, four blanks in.
func TestGuideInReadme(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var want strings.Builder
	for line := range strings.Lines(strings.TrimRight(Guide(), "\n")) {
		if line != "\n" {
			want.WriteString("    ")
		}
		want.WriteString(line)
	}
	if !strings.Contains(string(readme), want.String()) {
		t.Error("the guide in README.md differs from guide.txt")
	}
}

func ExampleRead() {
	for _, r := range Read("3 IND. BTRY. / OTTO SIEBERT", Context{}) {
		u := r.Claim().Service.Unit
		fmt.Printf("%.1f %s, %d %s %s %v\n", r.Probability, r.Claim().Person.Name, u.Number, u.Kind, u.State, u.Marks)
	}
	// Output:
	// 0.7 Otto Siebert, 3 battery IN []
	// 0.3 Otto Siebert, 3 battery  [independent]
}

// TestImplied: what a unit's name alone tells of branch, side and war.
func TestImplied(t *testing.T) {
	for _, c := range []struct{ text, says, hasNot string }{
		{"SEA. / JOHN FOX / U. S. S. HARROW", "branch: navy", "side: union"},
		{"SEA. / JOHN FOX / C. S. GUNBOAT HARROW", "side: confederate", ""},
		{"SEA. / JOHN FOX / C. S. S. HARROW", "side: confederate", ""},
		{"SEA. / JOHN FOX / U. S. R. C. HARROW", "branch: revenue-cutter", ""},
		{"SEA. / JOHN FOX / U. S. C. G. C. HARROW", "branch: coast-guard", ""},
		{"JOHN FOX / CO. B 5 U. S. C. T.", "conflicts: civil-war", ""},
		{"PVT. JOHN FOX / CO. B 801 PION. INF.", "conflicts: world-war-i", ""},
		{"JOHN FOX / 155 DEPOT BRIG.", "conflicts: world-war-i", ""},
		{"JOHN FOX / CO. C 1 ALA. CAV. / U. S. A.", "side: union", ""},
		{"JOHN FOX / CO. C 1 OHIO CAV. / U. S. A.", "of: OH", "side: union"},
	} {
		r := Read(c.text, Context{})[0]
		if !says(r, c.says) || c.hasNot != "" && says(r, c.hasNot) {
			t.Errorf("%s\n\treads %s\n\twant %q, not %q", c.text, strings.Join(fields(r), "; "), c.says, c.hasNot)
		}
	}
}

// TestRareShapes: shapes that were once read wrongly.
func TestRareShapes(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"JOHN FOX / CO. B 12 WIS. I[---]", "name: John Fox; surname: Fox; company: B; regiment: 12; of: WI; arm: infantry"},
		{"GRAVE 8,411", "grave: 8411; unknown: yes"},
		{"MARY FOX / 1LT USAF NC / VIETNAM", "name: Mary Fox; surname: Fox; rank: first lieutenant; kind: staff; unit: Air Force Nurse Corps; branch: air-force; conflicts: vietnam"},
		{"HENRY ABT / 1840 - 1901", "name: Henry Abt; surname: Abt; born: 1840; died: 1901"},
		{"HENRY FOX / ABT 1840 - 1901", "name: Henry Fox; surname: Fox; born: 1840~; died: 1901"},
		{"TROOPER / JOHN FOX / 10 U. S. CAV.", "name: John Fox; surname: Fox; rank: private; regiment: 10; of: us; arm: cavalry"},
		{"JOHN FOX / STATE TROOPER / 1840 - 1901", "name: John Fox; surname: Fox; born: 1840; died: 1901"},
		{"JOHN FOX / CAPT. BELL'S / ILL. MIL. / BLACK HAWK WAR", "name: John Fox; surname: Fox; kind: designated; unit: Captain Bell's Company; of: IL; marks: militia; conflicts: indian-wars"},
		{"JOHN FOX / CAPT. BELL'S ILL. MIL.", "name: John Fox; surname: Fox; kind: designated; unit: Captain Bell's Company; of: IL; marks: militia"},
		{"COL. JOHN FOX / COMMANDED THE 36TH WIS. / AT COLD HARBOR / DIED 1888", "name: John Fox; surname: Fox; rank: colonel; regiment: 36; of: WI; conflicts: civil-war; died: 1888"},
		{"MARY FOX / HOSPITAL MATRON / 1861-1865 / 1830 - 1901", "name: Mary Fox; surname: Fox; rank: matron; conflicts: civil-war; born: 1830; died: 1901"},
		{"JOHN FOX / DIED FEB. 30, 1880", "name: John Fox; surname: Fox; died: 1880; unread: FEB 30"},
		{"JOHN FOX / DIED AT ANDERSONVILLE", "name: John Fox; surname: Fox; conflicts: civil-war; death-place: ANDERSONVILLE"},
		{"JOHN FOX / DIED AT LIBBY PRISON / AUG. 9, 1864", "name: John Fox; surname: Fox; conflicts: civil-war; died: 1864-08-09; death-place: LIBBY PRISON"},
		{"JOHN FOX / DIED AT SALISBURY / 1900", "name: John Fox; surname: Fox; died: 1900; death-place: SALISBURY"},
		{"JOSIAH COFFIN / D. 12 MO. 3 / AGED 71", "name: Josiah Coffin; surname: Coffin; age: AGED 71"},
		{"JOHN FOX / CO. F 31 WIS. INF. / D. 12 MO. 3", "name: John Fox; surname: Fox; company: F; regiment: 31; of: WI; arm: infantry"},
		{"JOHN FOX / CO. D 12 MO. INF.", "name: John Fox; surname: Fox; company: D; regiment: 12; of: MO; arm: infantry"},
		{"JOHN FOX / BORN MAY 4 / 1840", "name: John Fox; surname: Fox; born: 1840-05-04"},
		{"JOHN FOX / DIED JANRY 3D 1799", "name: John Fox; surname: Fox; died: 1799-01-03"},
		{"MARY FOX / HOSPITAL MATRON 1861-1865", "name: Mary Fox; surname: Fox; rank: matron; conflicts: civil-war"},
		{"SUSANNA / WIFE OF / GEORGE BRUBAKER / A SOLDIER OF THE LATE WAR / DIED 1862 / AGED 41 YEARS",
			"name: George Brubaker; surname: Brubaker; conflicts: civil-war; 2.name: Susanna Brubaker; 2.surname: Brubaker; 2.relation: wife; 2.born: 1820-01-02/1821-12-31; 2.died: 1862; 2.age: AGED 41 YEARS"},
		{"INFANT DAUGHTER OF / JACOB & ROSA FOX / DIED 1843", "name: Fox; surname: Fox; relation: daughter; died: 1843; 2.name: Jacob Fox; 2.surname: Fox; 2.relation: father; 3.name: Rosa Fox; 3.surname: Fox; 3.relation: mother"},
		{"WIFE OF / JOHN FOX / DIED 1860", "name: Fox; surname: Fox; relation: wife; died: 1860; 2.name: John Fox; 2.surname: Fox; 2.relation: husband"},
		{"MARY / WIF[....] / T. L. FOX / 1899 - 1970", "name: Mary Fox; surname: Fox; born: 1899; died: 1970; relation: wife; 2.name: T L Fox; 2.surname: Fox; 2.relation: husband"},
		{"MARY / WIFE [---] / JOHN FOX / CO. F 31 WIS. INF.", "name: John Fox; surname: Fox; company: F; regiment: 31; of: WI; arm: infantry; 2.name: Mary Fox; 2.surname: Fox; 2.relation: wife"},
		{"WIL[...] / HOLDEN / 1840 - 1901", "name: Wil[...] Holden; surname: Holden; born: 1840; died: 1901"},
		{"GEOR[..] / KORNMEYER / 1840 - 1901", "name: Geor[..] Kornmeyer; surname: Kornmeyer; born: 1840; died: 1901"},
		{"PETER[...] / TORSTEIN 1840 - 1907", "name: Torstein Peter[...]; surname: Peter[...]; born: 1840; died: 1907"},
		{"OL[...] / TORSTEIN 1840 - 1907", "name: Torstein Ol[...]; surname: Ol[...]; born: 1840; died: 1907"},
		{"WIL[...] / 1840 - 1901", "name: Wil[...]; surname: Wil[...]; born: 1840; died: 1901"},
		{"CHARL[---]GIN / CO. F / 31 WIS. INF.", "name: Charl[---] [---]gin; surname: [---]gin; company: F; regiment: 31; of: WI; arm: infantry"},
		{"GEO[.....]EHMANN / CO. B / 12 ILL. INF.", "name: Geo[---] [---]ehmann; surname: [---]ehmann; company: B; regiment: 12; of: IL; arm: infantry"},
		{"JOHN / HEN[---]SON / CO. F / 31 WIS. INF.", "name: John Hen[---]son; surname: Hen[---]son; company: F; regiment: 31; of: WI; arm: infantry"},
		{"HOLD[---]SON / CO. F / 31 WIS. INF.", "name: Hold[---]son; surname: Hold[---]son; company: F; regiment: 31; of: WI; arm: infantry"},
		{"JOHN FOX / CO. F / 115 IND[......]", "name: John Fox; surname: Fox; company: F; regiment: 115; of: IN"},
		{"JOHN FOX / CO. F / 76 I[......]", "name: John Fox; surname: Fox; company: F; regiment: 76"},
		{"JOHN FOX / CO. F / 16 [---]Y.", "name: John Fox; surname: Fox; company: F; regiment: 16"},
		{"JOHN FOX / CO. F / 10TH [---]", "name: John Fox; surname: Fox; company: F; regiment: 10"},
		{"JOHN FOX / CO. F / 33 [..]D. I[..]", "name: John Fox; surname: Fox; company: F; regiment: 33; of: IN; arm: infantry"},
		{"JOHN FOX / 10TH [---]", "name: John Fox; surname: Fox; unread: *"},
		{"JOHN FOX / DIED MAY 16 [---]", "name: John Fox; surname: Fox"},
		{"JOHN FOX / DIED / FEB. 18, [....] / AGED 9 YRS.", "name: John Fox; surname: Fox; age: AGED 9 YRS"},
		{"PEASE / JACOB MOORE 1851 - 1910 / JULIA M. 1860 - 1937",
			"name: Jacob Moore Pease; surname: Pease; born: 1851; died: 1910; 2.name: Julia M Pease; 2.surname: Pease; 2.born: 1860; 2.died: 1937"},
		{"GATES / ELBRIDGE GEORGE / 1836 - 1880", "name: Elbridge George Gates; surname: Gates; born: 1836; died: 1880"},
		{"JONES / J[.]MES 1843 - 1882 / NANCY HIS WI[.]E 1854 - 1889",
			"name: J[.]mes Jones; surname: Jones; born: 1843; died: 1882; 2.name: Nancy Jones; 2.surname: Jones; 2.relation: wife; 2.born: 1854; 2.died: 1889"},
		{"SUTTON / [.]RANCIS D. / 1817 - 1895", "name: [.]rancis D Sutton; surname: Sutton; born: 1817; died: 1895"},
		{"ERICKSON / PED[.]R 1838 - 1907", "name: Ped[.]r Erickson; surname: Erickson; born: 1838; died: 1907"},
		{"FERGUSON / [...] 1837 - 1894", "name: [...] Ferguson; surname: Ferguson; born: 1837; died: 1894"},
		{"SKINNER / THEOD[.]RE N 1841 - 1919 / AMELIA HIS WIFE 1849 - 1926",
			"name: Theod[.]re N Skinner; surname: Skinner; born: 1841; died: 1919; 2.name: Amelia Skinner; 2.surname: Skinner; 2.relation: wife; 2.born: 1849; 2.died: 1926"},
		{"TULLER / NICHOLHS J. / 1836 - 1899", "name: Nicholhs J Tuller; surname: Tuller; born: 1836; died: 1899"},
		{"CAMERON / J. S. / 1837 - 1883 / DA[.]ID N. / 1868 - 1886",
			"name: J S Cameron; surname: Cameron; born: 1837; died: 1883; 2.name: Da[.]id N Cameron; 2.surname: Cameron; 2.born: 1868; 2.died: 1886"},
		{"BLACKMONT / [....]ST SMITH 1838 - 1909 / BRIDGET 1838 - 1920",
			"name: [....]st Smith Blackmont; surname: Blackmont; born: 1838; died: 1909; 2.name: Bridget Blackmont; 2.surname: Blackmont; 2.born: 1838; 2.died: 1920"},
		{"OLSON / O 1838 - 1896", "name: O Olson; surname: Olson; born: 1838; died: 1896"},
		{"SNYDER / CHARLES J. 1837 - 1902 / ANN HI5 WIFE 1845 - 1925",
			"name: Charles J Snyder; surname: Snyder; born: 1837; died: 1902; 2.name: Ann Snyder; 2.surname: Snyder; 2.relation: wife; 2.born: 1845; 2.died: 1925"},
		{"SNYDER / CHARLES J. 1837 - 1902 / ANN HIS WIFF 1845 - 1925",
			"name: Charles J Snyder; surname: Snyder; born: 1837; died: 1902; 2.name: Ann Snyder; 2.surname: Snyder; 2.relation: wife; 2.born: 1845; 2.died: 1925"},
		{"INDIANA / JOHN C FOX / PYT US ARMY / WCRLD WAR I / JAN 14 1894 FEB 10 1970",
			"name: John C Fox; surname: Fox; rank: private; home: IN; branch: army; conflicts: world-war-i; born: 1894-01-14; died: 1970-02-10"},
		{"JOHN FOX / CO. H / 126 OHIO TNFTY.", "name: John Fox; surname: Fox; company: H; regiment: 126; of: OH; arm: infantry"},
		{"H4NS TULLER / 1833 - 1919", "name: H4ns Tuller; surname: Tuller; born: 1833; died: 1919"},
		{"HARV[---]URRYA / C. G / 2 MICH. CAV.", "name: Harv[---] [---]urrya; surname: [---]urrya; company: G; regiment: 2; of: MI; arm: cavalry"},
		{"JOHN FOX / C G / 34 MICH INF", "name: John Fox; surname: Fox; company: G; regiment: 34; of: MI; arm: infantry"},
		{"JOHN FOX / C[---] / 46 U. S. [---]", "name: John Fox; surname: Fox; company: ?; regiment: 46; of: usct; side: union; conflicts: civil-war"},
		{"JOHN FOX / CO. [..] / 41 IND[---].", "name: John Fox; surname: Fox; company: ?; regiment: 41; of: IN"},
		{"JOHN FOX / [.]O A / [....]WIS HVY ART", "name: John Fox; surname: Fox; company: A; of: WI; arm: heavy-artillery"},
		{"JOHN FOX / CO. B / 13 MIC[..] INF", "name: John Fox; surname: Fox; company: B; regiment: 13; of: MI; arm: infantry"},
		{"[....]POTTER / CO. D / 62 OHIO INFTY", "name: [---] [---]potter; surname: [---]potter; company: D; regiment: 62; of: OH; arm: infantry"},
		{"[---]MAN / CO. H / [---] MICH. INF.", "name: [---] [---]man; surname: [---]man; company: H; of: MI; arm: infantry"},
		{"MORTON / GEORGE HART 1829 - 1905 / AMELIA J 1831 - 1897",
			"name: George Hart Morton; surname: Morton; born: 1829; died: 1905; 2.name: Amelia J Morton; 2.surname: Morton; 2.born: 1831; 2.died: 1897"},
		{"BARNSTON / ENOS EVANS 1822 - 1912 / EMMA 1827 - 1906",
			"name: Enos Evans Barnston; surname: Barnston; born: 1822; died: 1912; 2.name: Emma Barnston; 2.surname: Barnston; 2.born: 1827; 2.died: 1906"},
		{"JAS[.] CRAWFORD / DIED / JUNE 9, 1872", "name: James Crawford; surname: Crawford; died: 1872-06-09"},
		{"P[.]TK. O'REILLY / CO. K / 11 MO. INF.", "name: Patrick O'Reilly; surname: O'Reilly; company: K; regiment: 11; of: MO; arm: infantry"},
		{"JOHN FOX / GO. G / 6 U. S. C. I.", "name: John Fox; surname: Fox; company: G; regiment: 6; of: usct; arm: infantry; side: union; conflicts: civil-war"},
		{"JOHN FOX / [....]A / 126 IND. INF.", "name: John Fox; surname: Fox; company: A; regiment: 126; of: IN; arm: infantry"},
		{"JOHN FOX / [...]G / [....]LLS INF", "name: John Fox; surname: Fox; company: G; of: IL; arm: infantry"},
		{"JOHN FOX / CO. E / 41S[.] IND. INF.", "name: John Fox; surname: Fox; company: E; regiment: 41; of: IN; arm: infantry"},
		{"WIFE OF / LOUIS MARCUS DRAIYER / DIED / SEPT. 2, 1914",
			"name: Draiyer; surname: Draiyer; relation: wife; died: 1914-09-02; 2.name: Louis Marcus Draiyer; 2.surname: Draiyer; 2.relation: husband"},
		{"A. SHESHSLEY, JR. / APR. 23, 1842 / [---]", "name: A Sheshsley Jr; surname: Sheshsley; born: 1842-04-23"},
		{"JOHN FOX / 1885 [---]1", "name: John Fox; surname: Fox; born: 1885; unread: [---]1"},
		{"JOHN FOX / DIED APR. 23, 1842 / [---]", "name: John Fox; surname: Fox; died: 1842-04-23"},
		{"JOHN FOX / CO. F 31 WIS. INF. / OCT. 7, 1904 / [---]", "name: John Fox; surname: Fox; company: F; regiment: 31; of: WI; arm: infantry; died: 1904-10-07"},
		{"JOHN SOLDIER / CO. D 12 WIS. INF.", "name: John Soldier; surname: Soldier; company: D; regiment: 12; of: WI; arm: infantry"},
		{"SERGT. J. T. SOLDIER / CO. D 12 WIS. INF.", "rank: sergeant; name: J T Soldier; surname: Soldier; company: D; regiment: 12; of: WI; arm: infantry"},
		{"HENRY WARS / 12TH WIS. INF.", "name: Henry Wars; surname: Wars; regiment: 12; of: WI; arm: infantry"},
		{"FOX / JOHN SOLDIER / CO. D 12 WIS. INF.", "name: John Fox; surname: Fox; company: D; regiment: 12; of: WI; arm: infantry"},
		{"JOHN SMITH SOLDIER / CO. D 12 WIS. INF.", "name: John Smith; surname: Smith; company: D; regiment: 12; of: WI; arm: infantry"},
		{"A SOLDIER / 12TH WIS. INF.", "regiment: 12; of: WI; arm: infantry"},
		{"JOHN FOX / 1830 - 1901 / SOLDIER 1862-1865", "name: John Fox; surname: Fox; born: 1830; died: 1901; enlisted: 1862; mustered-out: 1865"},
		{"JOHN FOX / A SOLDIER / 1862-1865", "name: John Fox; surname: Fox; enlisted: 1862; mustered-out: 1865"},
		{"JOHN FOX / SOLDIER / 1840-1865", "name: John Fox; surname: Fox; born: 1840; died: 1865"},
		{"HY[.] FOX / CO. B 12 WIS. INF.", "name: Henry Fox; surname: Fox; company: B; regiment: 12; of: WI; arm: infantry"},
		{"JOHN FOX / BORN SEPT. 6, 184[---] / DIED JULY 17, 1899", "name: John Fox; surname: Fox; born: 184X; died: 1899-07-17"},
		{"JOHN FOX / O[...] 6, 1845 / MAR 23, 1930", "name: John Fox; surname: Fox; born: 1845; died: 1930-03-23"},
		{"RABOLT / BENJAMIN BROWN / 1838 - 1908", "name: Benjamin Brown Rabolt; surname: Rabolt; born: 1838; died: 1908"},
		{"WILLIAM / HENRY HOLDEN / CO. F / 31 WIS. INF.", "name: William Henry Holden; surname: Holden; company: F; regiment: 31; of: WI; arm: infantry"},
		{"JOHN FOX / CO. F / 12[.....] INF.", "name: John Fox; surname: Fox; company: F; regiment-lost: 12*; arm: infantry"},
		{"JOHN FOX / CO. F 13[---].", "name: John Fox; surname: Fox; company: F; regiment-lost: 13*"},
		{"JACOB FOX / DIED MAY 22, 1869 / AGED [.]7 Y. 3 M. 18 D.", "name: Jacob Fox; surname: Fox; died: 1869-05-22; age: AGED [.]7 Y. 3 M. 18 D"},
		{"HY. FOX / DIED / SEPT. 1, 1884 / AGED [---]. 4 M. 27 D.", "name: Henry Fox; surname: Fox; died: 1884-09-01; age: 4 M. 27 D; unread: AGED"},
		{"JACOB FOX / DIED MAY 22, 1869 / AGED 3 M. 18 D.", "name: Jacob Fox; surname: Fox; born: 1869-02-03/1869-02-05; died: 1869-05-22; age: AGED 3 M. 18 D"},
		{"HAYES / A 1842 - 1896", "name: A Hayes; surname: Hayes; born: 1842; died: 1896"},
		{"MARY FOX / NURSE / 1861-1865", "name: Mary Fox; surname: Fox; rank: nurse; conflicts: civil-war"},
		{"JOHN FOX / TEAMSTER 1862-1865", "name: John Fox; surname: Fox; rank: teamster; enlisted: 1862; mustered-out: 1865"},
		{"JOHN FOX / TEAMSTER / 1862-1865", "name: John Fox; surname: Fox; rank: teamster; enlisted: 1862; mustered-out: 1865"},
		{"JOHN FOX / 1841 - 1899 / SURGEON 1862-1865", "name: John Fox; surname: Fox; rank: surgeon; enlisted: 1862; mustered-out: 1865; born: 1841; died: 1899"},
		{"MARY FOX / NURSE 1862-1864 / 1830 - 1901", "name: Mary Fox; surname: Fox; rank: nurse; enlisted: 1862; mustered-out: 1864; born: 1830; died: 1901"},
		{"JOHN FOX / CLERK 1862-1865", "name: John Fox; surname: Fox; born: 1862; died: 1865"},
		{"JOHN FOX / MECHANIC 1943-1945", "name: John Fox; surname: Fox; born: 1943; died: 1945"},
		{"MARY FOX / 1861-1865", "name: Mary Fox; surname: Fox; born: 1861; died: 1865"},
		{"JOHN FOX / WO3 US ARMY / VIETNAM", "name: John Fox; surname: Fox; rank: chief warrant officer; branch: army; conflicts: vietnam"},
		{"JOHN FOX / CW5 / US ARMY / VIETNAM", "name: John Fox; surname: Fox; rank: chief warrant officer; branch: army; conflicts: vietnam"},
		{"JOHN FOX / WO1 US ARMY / KOREA", "name: John Fox; surname: Fox; rank: warrant officer; branch: army; conflicts: korea"},
		{"JOHN WO[..] / CO. B / 12 WIS. INF.", "name: John Wo??; surname: Wo??; company: B; regiment: 12; of: WI; arm: infantry"},
		{"JOHN FOX / 1861 - 1865 / G. A. R.", "name: John Fox; surname: Fox; conflicts: civil-war; society: G.A.R."},
		{"JOHN FOX / U. V. L. / 1861 - 1865 / 1830 - 1901", "name: John Fox; surname: Fox; conflicts: civil-war; born: 1830; died: 1901; society: U.V.L."},
		{"JOHN FOX / S. U. V. / 1861 - 1865", "name: John Fox; surname: Fox; born: 1861; died: 1865; society: S.U.V."},
	} {
		if _, _, wrong := compare(strings.Split(c.want, "; "), Read(c.text, Context{})[0]); len(wrong) > 0 {
			t.Errorf("%s\n\t%s", c.text, strings.Join(wrong, "\n\t"))
		}
	}
}

// TestRelations: every relation of the table is one that stones tell of, and the other way round but for those that are only somebody's relative.
func TestRelations(t *testing.T) {
	told := map[string]bool{}
	for _, r := range vocab.Rows("stone-words") {
		if k := r.Get("kind"); k == "relation" || k == "relation-of" {
			told[r.Get("code")] = true
		}
	}
	for code, r := range relations() {
		if !told[code] || !told[r.other[0]] || !told[r.other[1]] {
			t.Errorf("%s: no stone tells of one who is that, or of %q", code, r.other)
		}
	}
	for _, c := range []struct {
		code  string
		which int
		want  string
	}{{"wife", 0, "husband"}, {"son", 0, "father"}, {"son", 1, "mother"}, {"brother", 0, "relative"}} {
		if got := inverse(c.code, c.which); got != c.want {
			t.Errorf("%s of %d: %q, want %q", c.code, c.which, got, c.want)
		}
	}
}

// TestDatesAsMade: the dates of a reading are those that package date makes.
func TestDatesAsMade(t *testing.T) {
	r := Read("JOHN FOX / BORN MAY 4, 1840 / DIED 1912", Context{})[0]
	born, died := r.Claim().Person.Born, r.Claim().Person.Died
	wantBorn, wantDied := date.On(1840, 5, 4), date.Year(1912)
	wantBorn.Written, wantDied.Written = "MAY 4, 1840", "1912"
	if born != wantBorn || died != wantDied {
		t.Errorf("read %+v and %+v, want %+v and %+v", born, died, wantBorn, wantDied)
	}
}

// TestLoneNumber: a number alone is a year where it may be one, a grave's number on a block or where it may not; the other reading is given too.
func TestLoneNumber(t *testing.T) {
	for _, c := range []struct{ text, setting, grave, died string }{
		{"1880", "", "", "1880"}, {"1880", "block", "1880", ""}, {"2208", "", "2208", ""}, {"41", "", "41", ""},
	} {
		r := ReadStone(&model.Stone{Marker: model.Marker{Inscription: c.text, Setting: c.setting}})
		if got := r[0].GraveNumber; got != c.grave {
			t.Errorf("%s on %q: grave %q, want %q", c.text, c.setting, got, c.grave)
		}
		if got := r[0].Claim().Person.Died.EDTF; got != c.died {
			t.Errorf("%s on %q: died %q, want %q", c.text, c.setting, got, c.died)
		}
		if c.text == "1880" && len(r) < 2 {
			t.Errorf("%s on %q: one reading, want both", c.text, c.setting)
		}
	}
}

// TestToldInNotes: what has no field of its own is told in a note, and neither mixed into a field nor left unread.
func TestToldInNotes(t *testing.T) {
	for _, c := range []struct{ text, name, unit, note string }{
		{"JOHN FOX / CO. B 12 WIS. INF. & CO. C 1 WIS. CAV.", "John Fox", "12 WI infantry", "He served in a second unit too: CO. C 1 WIS. CAV"},
		{"JOHN FOX / CO. B 12 WIS. INF. / TRANSFERRED TO V. R. C.", "John Fox", "12 WI infantry", "He served in a second unit too: V. R. C"},
		{"PETER GREEN ALIAS PETER SAVAGE / CO. I 33 U. S. C. T.", "Peter Green", "33 usct ", "He is named PETER SAVAGE too"},
		{"J. M. COE or COX / CO. D 42 WIS.", "J M Coe", "42 WI ", "it may be COX"},
	} {
		r := Read(c.text, Context{})[0]
		u := r.Claim().Service.Unit
		if got := r.Claim().Person.Name.String(); got != c.name || len(r.People) != 1 || len(r.Unread) != 0 {
			t.Errorf("%s: %q, %d people, unread %q", c.text, got, len(r.People), r.Unread)
		}
		if got := fmt.Sprintf("%d %s %s", u.Number, u.Designation(), u.Arm); got != c.unit {
			t.Errorf("%s: unit %q, want %q", c.text, got, c.unit)
		}
		if !strings.Contains(strings.Join(r.Notes, " "), c.note) {
			t.Errorf("%s: notes %q, want %q", c.text, r.Notes, c.note)
		}
	}
}

// TestOldDates: dates as stones of the eighteenth and early nineteenth century give them, and Friends' months by number.
func TestOldDates(t *testing.T) {
	for text, want := range map[string]string{
		"AUG. YE 9TH 1821": "1821-08-09", "AUGUST THE 9TH, A. D. 1821": "1821-08-09", "9TH OF AUG. A.D. 1821": "1821-08-09",
		"8 MO. 9, 1821": "1821-08-09", "8TH MO. 9TH 1821": "1821-08-09", "9TH OF 8TH MO. 1821": "1821-08-09",
		"AUG. 9, 1821": "1821-08-09", "1821 AGED 8 MO.": "1821",
	} {
		r := Read("JOSIAH TULLER / DIED "+text, Context{})[0]
		if got := r.Claim().Person.Died.EDTF; got != want || len(r.Unread) != 0 {
			t.Errorf("%s: died %q, want %q; unread %q", text, got, want, r.Unread)
		}
	}
	for _, years := range []string{"1840 -", "1840 - 19", "1840-19", "1840 - 18"} { // the death was never cut
		r := Read("ALBERT SMOCK / "+years+" / CO. A 27TH IND. INF.", Context{})[0]
		if p := r.Claim().Person; p.Born.EDTF != "1840" || !p.Died.IsZero() || len(r.Unread) != 0 {
			t.Errorf("%s: born %q, died %q, unread %q", years, p.Born.EDTF, p.Died.EDTF, r.Unread)
		}
	}
	r := Read("JOSIAH TULLER / DIED 1821 / IN YE 77TH YEAR OF HIS AGE", Context{})[0]
	if got := r.Claim().Person.Age; got.Years != 76 {
		t.Errorf("age %+v, want 76 years past", got)
	}
	for text, want := range map[string]string{
		"AGED 61Y 3M 2D / CO. B 101 PA.": "61 3 2", "AGED 61Y 3M 23D, CO. B 101 PA.": "61 3 23", "AGED 61 Y. 3 M. / 2D WIS. INF.": "61 3 0",
	} {
		r := Read("ADAM SHULL / DIED MAR. 1, 1899 / "+text, Context{})[0]
		if a := r.Claim().Person.Age; fmt.Sprint(a.Years, a.Months, a.Days) != want || len(r.Unread) != 0 || r.Claim().Service.Unit.Number == 0 {
			t.Errorf("%s: age %+v, want %s; unread %q, unit %+v", text, a, want, r.Unread, r.Claim().Service.Unit)
		}
	}
}

// TestTitleNote: a rank taken for a title is told, and that nothing else speaks of service only where nothing does.
func TestTitleNote(t *testing.T) {
	for text, want := range map[string]string{
		"GEN. / SAMUEL FOOTE / BREVET BRIG. GEN. U.S. VOLS. / 1829 - 1897": "GEN is taken for a title; it may be a rank.",
		"CAPT. EZRA KNAPP / DIED JUNE 1, 1866 / AGED 71 YRS.":              "CAPT is taken for a title, for nothing else here speaks of service; it may be a rank.",
	} {
		if got := Read(text, Context{})[0].Notes; len(got) != 1 || got[0] != want {
			t.Errorf("%s: notes %q, want %q", text, got, want)
		}
	}
}

// TestBrevetBesideRank: a brevet beside a rank is no rank of the service; alone, or behind a general's title, it is all that is told.
func TestBrevetBesideRank(t *testing.T) {
	for text, want := range map[string]model.Rank{
		"CHARLES W. DREW / CAPT. & BVT. MAJ. / 75 U.S.C. INF.": "captain",
		"CHARLES W. DREW / BVT. MAJ. / 75 U.S.C. INF.":         "major",
		"GEN. SAMUEL FOOTE / BVT. BRIG. GEN. U. S. V.":         "brigadier general",
		"GEN. W. PECK / COLONEL 2ND CONN. INF.":                "colonel",
	} {
		if got := Read(text, Context{})[0].Claim().Service.Rank; got != want {
			t.Errorf("%s: rank %q, want %q", text, got, want)
		}
	}
}

// TestLivesOfSeveral: where as many lives stand after each other as people before them, each has his own, and the words that told it.
func TestLivesOfSeveral(t *testing.T) {
	for _, c := range []struct {
		text, lives string
		noted       bool
	}{
		{"JOHN TATE / MARY TATE / 1830-1900 / 1835-1910", "John 1830 1900; Mary 1835 1910", false},
		{"MARCUS ABELL / LUCINDA / HIS WIFE / 1841 - 1919 / 1846 - 1902", "Marcus 1841 1919; Lucinda 1846 1902", false},
		{"TATE / JOHN / MARY / INFANT ANN / 1830-1900 / 1835-1910 / 1870-1871", "John 1830 1900; Mary 1835 1910; Ann 1870 1871", false},
		{"JOHN TATE 1830-1900 / MARY 1835-1910", "John 1830 1900; Mary 1835 1910", false},
		{"JOHN TATE 1830-1900 / MARY / 1835-1910 / 1840-1920", "John 1830 1900; Mary 1840 1920", true}, // whose the first of hers is cannot be known
	} {
		r := Read(c.text, Context{})[0]
		var lives []string
		for i, p := range r.People {
			who := p.Person
			lives = append(lives, who.Name.Given+" "+who.Born.EDTF+" "+who.Died.EDTF)
			for _, token := range r.Tokens {
				if token.Person == i && !c.noted && (token.Field == "born" && token.Value != who.Born.EDTF || token.Field == "died" && token.Value != who.Died.EDTF) {
					t.Errorf("%s: %s has the words %q", c.text, who.Name.Given, c.text[token.From:token.To])
				}
			}
		}
		noted := slices.ContainsFunc(r.Notes, func(n string) bool { return strings.Contains(n, "stand twice") })
		if got := strings.Join(lives, "; "); got != c.lives || noted != c.noted {
			t.Errorf("%s: %s, noted %v; want %s, %v", c.text, got, noted, c.lives, c.noted)
		}
	}
}

// TestMention: whether a soldier lies where a stone tells of his service, or is only named on another's.
func TestMention(t *testing.T) {
	for _, tt := range []struct {
		words string
		want  bool
	}{
		{"MARY / WIFE OF / JOHN J. STEIN / CO. A, 128 REGT. IND. INF. / BORN MAY 19, 1850 / DIED DEC. 12, 1916", true},
		{"MARY / WIDOW OF / JOHN STEIN / CO. A 128 IND. INF.", true},
		{"JANE / DAU. OF CAPT. J. HALL / CO. B 27 IND. INF. / 1860 - 1862", true},
		{"PETER LUNDEEN / CO. D 57 ILL. INF. / MARY HIS WIFE / 1844 - 1929", false},
		{"MARY / 1844 - 1929 / WIFE OF / PETER LUNDEEN / CORP. CO. D 57 ILL. INF. / 1840 - 1913", false},
		{"JOHN STEIN / CO. A 128 IND. INF. / HUSBAND OF / MARY / 1840 - 1900", false},
		{"JOHN HALL / SON OF / J. & M. HALL / CO. B 27 IND. INF. / DIED 1862", false},
		{"MARY STEIN / WIFE OF / JOHN J. STEIN / BORN MAY 19, 1850", false},                              // she is the first
		{"INFANT DAUGHTER OF / JACOB & ROSA MUHLSTAEDT / DIED / APR. 15, 1843 / AGED 5 M. 17 D.", false}, // a child without a name is
	} {
		r := Read(strings.ReplaceAll(tt.words, " / ", "\n"), Context{})[0]
		told := slices.ContainsFunc(r.Notes, func(n string) bool { return strings.Contains(n, "only named") })
		if r.Mention != tt.want || told != (tt.want && !r.Claim().Service.IsZero()) {
			t.Errorf("%s: mention %v, told %v, want %v", tt.words, r.Mention, told, tt.want)
		}
	}
}

// TestWornYears: the years of a life of which figures are lost or misread are those that go together.
func TestWornYears(t *testing.T) {
	for _, c := range []struct{ text, born, died string }{
		{"1838 - 19[---]", "1838", "1900/1933"}, // none who is named alone died past 95
		{"1854 192[---]", "1854", "192X"},
		{"1847 - 1[.]95", "1847", "1895"},
		{"1[.]52 - 1930", "1852", "1930"},
		{"1833 - 18[.]4", "1833", "1854/1894"}, // 1834 was a child's death: less likely
		{"18[.]3 - 18[.]8", "1803/1873", "1828/1898"},
		{"[.]839 - 1901", "1839", "1901"},
		{"7839 - 1901", "1839", "1901"},
		{"7839 1901", "1839", "1901"},
		{"1821 - 1671", "1821", "1871"},
		{"1843 - 1830", "1843", "1880"},
		{"1815 - 1804", "1815", "1864/1894"},
		{"1819[.]1877", "1819", "1877"},
		{"183[---]908", "183X", "1908"},
		{"AUG. 4, 1[.]27 / JAN. 7, 1918", "1827", "1918-01-07"},
		{"BORN 1[.]27 / DIED 1918", "1827", "1918"},
		{"1847 [.] 1919", "1847", "1919"},
		{"1840 - 1912", "1840", "1912"},
		{"1861 - 1863", "1861", "1863"},
		{"1840 - [....]", "1840", ""},
		{"18[..] - 1912", "18XX", "1912"},
	} {
		r := Read("JOSIAH TULLER / "+c.text, Context{})[0]
		if p := r.Claim().Person; p.Born.EDTF != c.born || p.Died.EDTF != c.died || len(r.Unread) != 0 {
			t.Errorf("%s: born %q, died %q, unread %q; want %q, %q", c.text, p.Born.EDTF, p.Died.EDTF, r.Unread, c.born, c.died)
		}
	}
	for _, text := range []string{"JOHN FOX / CO. F / 18[---] INF.", "JOHN FOX / CO. F 13[---].", "GRAVE 4841"} { // no years
		if p := Read(text, Context{})[0].Claim().Person; !p.Born.IsZero() || !p.Died.IsZero() {
			t.Errorf("%s: born %q, died %q", text, p.Born.EDTF, p.Died.EDTF)
		}
	}
}
