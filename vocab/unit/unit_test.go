package unit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
	"musterstone/vocab"
)

// show is a unit on one line: "company F, 31 WI infantry [volunteers]".
func show(u model.Unit) string {
	var b strings.Builder
	if u.Company != "" {
		fmt.Fprintf(&b, "company %s ", u.Company)
	}
	if u.Number != 0 {
		fmt.Fprintf(&b, "%d ", u.Number)
	}
	for _, s := range []string{string(u.Kind), u.Designation(), string(u.Arm), u.Name} {
		if s != "" {
			b.WriteString(s + " ")
		}
	}
	if u.Division != 0 {
		fmt.Fprintf(&b, "division %d ", u.Division)
	}
	if len(u.Marks) > 0 {
		b.WriteString("[" + strings.Join(u.Marks, " ") + "]")
	}
	return strings.TrimSpace(b.String())
}

// The wordings are those of the published conventions: abbreviations of S6, S50a and S37a in sources.csv, naming rules by common practice.
func TestParse(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Co. F, 31st Wis. Inf.", "company F 31 WI infantry"},
		{"31ST REG'T WIS. VOLS.", "31 WI [volunteers]"},
		{"47 ILLS. INF.", "47 IL infantry"},
		{"CO. F\n47 ILLS. INF.", "company F 47 IL infantry"},
		{"BTRY B 1 ILL L A", "company B 1 IL light-artillery"},
		{"3 IND. BTRY. WIS. L. A.", "3 battery WI light-artillery [independent]"},
		{"3 IND. BTRY.", "3 battery IN light-artillery"},
		{"79 U.S.C.I.", "79 usct infantry"},
		{"5 U. S. C. HVY. ART.", "5 usct heavy-artillery"},
		{"12 V.R.C.", "12 vrc"},
		{"2 BATTN V R C", "2 battalion vrc"},
		{"2 U.S.S.S.", "2 us sharpshooters"},
		{"1 E. TENN. INF.", "1 TN infantry [east]"},
		{"4 MO. S. M. CAV.", "4 MO cavalry [state-militia]"},
		{"4 BN. / N. C. INF.", "4 battalion NC infantry"},
		{"COBBS LEGION GA. CAV.", "legion GA cavalry Cobb's Legion"},
		{"CO. A DOBBS LEGION", "company A legion Dobb's Legion"},
		{"1 U. S. R. C. / MO. INF.", "1 MO infantry [reserves]"}, // Missouri's United States Reserve Corps of 1861: Dyer 1908
		{"3rd U. S. Reserve Corps, Missouri Infantry", "3 MO infantry [reserves]"},
		{"3 Mo. U. S. R. C.", "3 MO [reserves]"},
		{"18th Enrolled Mo. Militia", "18 MO [enrolled-militia]"},
		{"41 Enr. Mo. Mil.", "41 MO [enrolled-militia]"},
		{"CO. B / 41 E. MO. MIL.", "company B 41 MO [enrolled-militia]"},
		{"Co. E, 3d Cav. 7th Div. M. S. G.", "company E 3 MO cavalry division 7 [state-guard]"},
		{"2 CAV. / MO. ST. GD.", "2 MO cavalry [state-guard]"},
		{"HARLAN'S / INDPT. BTRY. / MO. L. A.", "legion MO light-artillery Harlan's Battery"}, // over lines
		{"HARLAN'S / BATTY. / MO. L. A.", "legion MO light-artillery Harlan's Battery"},
		{"Harlan's Bat. Mo. Lt. Art.", "legion MO light-artillery Harlan's Battery"},
		{"Harlan's Batt'y Mo. L. A.", "legion MO light-artillery Harlan's Battery"},
		{"HARLAN'S BATT. KY. CAV.", "battalion KY cavalry Harlan's Battalion"}, // and no battery
		{"Co. I, Harlan's Regt. Mo. Cav.", "company I designated MO cavalry Harlan's Command"},
		{"Harlan's Mo. Mtd. Vols.", "designated MO Harlan's Command [mounted volunteers]"},
		{"MERRILL'S HORSE / MO. CAV.", "2 MO cavalry Merrill's Horse"}, // a regiment of a number
		{"HAWKINS ZOUAVES", "9 NY infantry Hawkins' Zouaves"},
		{"CO B 31 BN US GUARDS", "company B 31 battalion United States Guards"},
		{"484 MOTOR TRANS CO", "484 transportation"},
		{"148 INF 37 DIV", "148 infantry division 37"},
		{"801 PION INF", "801 pioneer-infantry"},
		{"155 DEPOT BRIG", "155 depot"},
		{"1 Kans. Col. Inf.", "1 KS infantry [colored]"},
		{"2 COL. CAV.", "2 CO cavalry"},
		{"Member of Co. E, 3rd Wis. Cavalry", "company E 3 WI cavalry"},
		{"124th O. V. I.", "124 OH infantry [volunteers]"},
		{"124th Ohio Infantry", "124 OH infantry"},
		{"124 O", "124 OH"},
		{"One Hundred and Twenty-fourth Ohio Infantry", "124 OH infantry"},
		{"117th Engineer Regiment, Co. A", "company A 117 engineers"},
		{"9 U. S. INF.", "9 us infantry"},
		{"51 IOWA VOL. INF.", "51 IA infantry [volunteers]"},
		{"U. S. VOLS.", "us [volunteers]"},
		{"150 N. Y. NATL. GD.", "150 NY [national-guard]"},
		{"339 FA 88 DIV", "339 field-artillery division 88"},
		{"CO D 313 MG BN 80 DIV", "company D 313 battalion machine-gun division 80"},
		{"HQ CO 148 INF", "company HQ 148 infantry"},
		{"U. S. S. HARROW", "ship Harrow"},
		{"U.S.S. Silver Lake", "ship Silver Lake"},
		{"7 LA. INF.", "7 LA infantry"},
		{"1 LA. L. A.", "1 LA light-artillery"},
		{"8TH BATT'Y OHIO L. ART.", "8 battery OH light-artillery"},
		{"3 BATT MASS CAV", "3 battalion MA cavalry"},
		{"Troop C, 1st U. S. Cavalry", "company C 1 us cavalry"},
		{"1 MICH ENGRS & MECH", "1 MI engineers-and-mechanics"},
		{"10 Penna. Reserves", "10 PA infantry [reserves]"},
		{"1 ARK. INF. A. D.", "1 AR infantry [african-descent]"},
		{"3d Corps d'Afrique", "3 corps-d-afrique"},
		{"2 Indian Home Guard", "2 indian-home-guard"},
		{"Co. [.] 31 Wis. Inf.", "company ? 31 WI infantry"},
		{"CO. F 31 W[.]S. INF.", "company F 31 WI infantry"},
		{"INFANTRY, 124 OHIO", "124 OH infantry"},
		{"5 CO 155 DEPOT BRIG", "company 5 155 depot"},
		{"Q. M. C.", "staff quartermaster Quartermaster Corps"},
		{"166 Inf", "166 infantry"},
		{"CAV 2 MO S M CO G", "company G 2 MO cavalry [state-militia]"},
		{"16 KY. CAV. CO. B", "company B 16 KY cavalry"},
		{"CO. I, 5TH P. R. V. C.", "company I 5 PA infantry [reserves volunteers]"},
		{"TROOP L 6 US CAV", "company L 6 us cavalry"},
		{"1 U S VET VOLS", "1 us [veteran volunteers]"},
		{"11 ME. INF.", "11 ME infantry"}, {"3 MD. CAV.", "3 MD cavalry"}, {"6 W. VA. INF.", "6 WV infantry"},
	} {
		u, ok := Parse(c.text)
		if got := show(u); got != c.want || !ok {
			t.Errorf("Parse(%q) = %s (ok %v), want %s", c.text, got, ok, c.want)
		}
	}
}

func TestParseNothing(t *testing.T) {
	for _, s := range []string{"", "   ", "unknown", "F & S", "---", "[---]", "Smith"} {
		if u, ok := Parse(s); ok {
			t.Errorf("Parse(%q) = %s, want not understood", s, show(u))
		}
	}
}

func TestFromParts(t *testing.T) {
	for _, c := range []struct {
		parts Parts
		want  string
	}{
		{Parts{Company: "F", Regiment: "124", State: "OHIO", Arm: "INFANTRY"}, "company F 124 OH infantry"},
		{Parts{Company: "F", Regiment: "124th", State: "OHIO", Branch: "INFANTRY"}, "company F 124 OH infantry"},
		{Parts{Regiment: "124th O. V. I.", Company: "B"}, "company B 124 OH infantry [volunteers]"},
		{Parts{Unit: "Co. F, 31st Wis. Inf."}, "company F 31 WI infantry"},
		{Parts{Company: "L", Regiment: "1", State: "ALABAMA", Arm: "Cav"}, "company L 1 AL cavalry"},
		{Parts{Regiment: "3", State: "usct", Arm: "H A"}, "3 usct heavy-artillery"},
		{Parts{Regiment: "79", State: "US Colored Troops", Arm: "infantry"}, "79 usct infantry"},
		{Parts{Regiment: "2", State: "US", Arm: "S S", Company: "E"}, "company E 2 us sharpshooters"},
		{Parts{Regiment: "1", State: "IN", Arm: "Bat"}, "1 IN light-artillery"},
		{Parts{Regiment: "4", State: "MO", Arm: "State Militia Cavalry"}, "4 MO cavalry [state-militia]"},
		{Parts{Regiment: "5", State: "CO"}, "5 CO"},
		{Parts{Company: "F & S", Regiment: "9", State: "Mich."}, "9 MI"},
		{Parts{Company: "Unassigned", Regiment: "9", State: "Mich."}, "9 MI"},
		{Parts{Unit: "117th Engineer Regiment", Company: "A"}, "company A 117 engineers"},
		{Parts{Regiment: "12", State: "vrc", Company: "K"}, "company K 12 vrc"},
		{Parts{Regiment: "7", State: "PA", Arm: "C"}, "7 PA cavalry"},
		{Parts{Regiment: "7", State: "PA", Arm: "heavy-artillery"}, "7 PA heavy-artillery"},
		{Parts{}, ""},
	} {
		if got := show(FromParts(c.parts)); got != c.want {
			t.Errorf("FromParts(%+v) = %s, want %s", c.parts, got, c.want)
		}
	}
}

// generated gives a unit of any of the common kinds.
func generated(r *rand.Rand) model.Unit {
	var states []model.State
	for _, r := range vocab.Rows("states") {
		states = append(states, model.State(r.Get("code")))
	}
	u := model.Unit{Number: 1 + r.IntN(199)}
	company := func(letters string) {
		if r.IntN(3) > 0 {
			u.Company = string(letters[r.IntN(len(letters))])
		}
	}
	switch r.IntN(12) {
	case 0, 1, 2, 3:
		u.State = states[r.IntN(len(states))]
		u.Arm = []model.Arm{"infantry", "cavalry", "heavy-artillery", "light-artillery", "mounted-infantry", "sharpshooters", "engineers"}[r.IntN(7)]
		company("ABCDEFGHIK")
		if r.IntN(3) == 0 {
			u.Marks = []string{[]string{"volunteers", "militia", "state-militia", "national-guard", "reserves", "colored", "african-descent", "home-guard"}[r.IntN(8)]}
		}
	case 4:
		u.Body = model.BodyUSCT
		u.Arm = []model.Arm{"infantry", "cavalry", "heavy-artillery", "light-artillery", ""}[r.IntN(5)]
		company("ABCDEFGHIK")
	case 5:
		u.Body = model.BodyVRC
		company("ABCDEFGHIK")
	case 6:
		u.Body = model.BodyRegulars
		u.Arm = []model.Arm{"infantry", "cavalry", "artillery", "sharpshooters"}[r.IntN(4)]
		company("ABCDEFGHIKLM")
	case 7:
		u.Kind, u.Arm = model.Battery, "light-artillery"
		u.State = states[r.IntN(len(states))]
		if r.IntN(2) == 0 {
			u.Marks = []string{"independent"}
		}
	case 8:
		u.Kind, u.State = model.Battalion, states[r.IntN(len(states))]
		u.Arm = []model.Arm{"infantry", "cavalry"}[r.IntN(2)]
		company("ABCDEF")
	case 9:
		u.Arm = []model.Arm{"infantry", "field-artillery", "pioneer-infantry", "engineers"}[r.IntN(4)]
		u.Number += 100
		u.Division = 1 + r.IntN(99)
		company("ABCDEFGHIKLM")
	case 10:
		return model.Unit{Kind: model.Ship, Name: []string{"Harrow", "Silver Lake", "Grebe"}[r.IntN(3)]}
	case 11:
		u.Kind = model.Depot
	}
	return u
}

func TestFormatReadsBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 5000 {
		u := generated(r)
		text := Format(u)
		got, ok := Parse(text)
		got.Written = ""
		if d := cmp.Diff(u, got); d != "" || !ok {
			t.Fatalf("Parse(%q) of %s (ok %v):\n%s", text, show(u), ok, d)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"CO F 31 WIS INF", "Company F, 31st Wisconsin Infantry"},
		{"BTRY B 1 ILL L A", "Battery B, 1st Illinois Light Artillery"},
		{"3 IND BTRY WIS L A", "3rd Independent Battery, Wisconsin Light Artillery"},
		{"79 USCI", "79th US Colored Infantry"},
		{"112 USCT", "112th US Colored Troops"},
		{"12 VRC", "12th Veteran Reserve Corps"},
		{"CO A COBBS LEGION GA CAV", "Company A, Cobb's Legion, Georgia Cavalry"},
		{"148 INF 37 DIV", "148th Infantry, 37th Division"},
		{"U S S HARROW", "USS Harrow"},
		{"1 KANS COL INF", "1st Kansas Colored Infantry"},
		{"4 BN N C INF", "4th Battalion, North Carolina Infantry"},
		{"BELL'S O V CAV", "Bell's Command, Ohio Volunteer Cavalry"},
		{"CO F 31 WIS VOL INF", "Company F, 31st Wisconsin Volunteer Infantry"},
		{"31 WIS VOLS", "31st Wisconsin Volunteers"},
		{"5 PA RES INF", "5th Pennsylvania Reserve Infantry"},
		{"REED'S M S M CAV", "Reed's Command, Missouri State Militia Cavalry"},
		{"1 E SHORE MD INF", "1st Maryland Eastern Shore Infantry"},
		{"316 FIELD HOSP", "316th Field Hospital"},
	} {
		u, _ := Parse(c.text)
		if got := Format(u); got != c.want {
			t.Errorf("Format of %q = %q, want %q", c.text, got, c.want)
		}
	}
}

// The pairs are those whose rows carry a source that was seen: the Regimental Name Game (S37a), the histories of colored infantry (S37c), the
// 10th Heavy Artillery (S37d).
func TestRedesignated(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"CO K 79 USCI", []string{"company K 7 corps-d-afrique infantry", "company K 1 KS infantry [colored]"}},
		{"1 KANS COL INF", []string{"79 usct infantry"}},
		{"1 KANS INF", nil},
		{"49 USCI", []string{"11 LA infantry [african-descent]"}},
		{"55 USCT", []string{"1 AL infantry [african-descent]"}},
		{"10 USCHA", []string{"1 LA heavy-artillery [african-descent]", "1 corps-d-afrique heavy-artillery", "7 usct heavy-artillery"}},
		{"54 MASS INF", nil},
	} {
		u, _ := Parse(c.text)
		var got []string
		for _, v := range Redesignated(u) {
			got = append(got, show(v))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("Redesignated(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

// TestTablesAgree: what one table names the other has.
func TestTablesAgree(t *testing.T) {
	known := map[string]bool{}
	for _, m := range marks() {
		known[m.code] = true
	}
	for _, r := range vocab.Rows("unit-forms") {
		for _, m := range r.List("mark") {
			if !known[m] {
				t.Errorf("%s: the mark %q is not in unit-marks", r.Where(), m)
			}
		}
		if arm := model.Arm(r.Get("arm")); arm != "" && arms()[arm].name == "" {
			t.Errorf("%s: the arm %q is not in arms", r.Where(), arm)
		}
	}
	forms := map[string]bool{}
	for _, r := range vocab.Rows("unit-forms") {
		forms[r.Get("role")+" "+r.Get("form")] = true
		forms["name "+r.Get("name")], forms["kind "+r.Get("kind")], forms["arm "+r.Get("arm")] = true, true, true
	}
	for _, r := range vocab.Rows("unit-implies") {
		if what, code := r.Get("what"), r.Get("code"); !forms[what+" "+code] && !(what == "mark" && known[code]) {
			t.Errorf("%s: no unit has the %s %q", r.Where(), what, code)
		}
	}
}

func TestIsKind(t *testing.T) {
	for _, c := range []struct {
		arm, of model.Arm
		want    bool
	}{
		{"siege-artillery", "artillery", true}, {"siege-artillery", "heavy-artillery", true}, {"artillery", "siege-artillery", false},
		{"infantry", "infantry", true}, {"", "infantry", false}, {"infantry", "", false},
	} {
		if got := isKind(c.arm, c.of); got != c.want {
			t.Errorf("%q is a kind of %q: %v, want %v", c.arm, c.of, got, c.want)
		}
	}
}

func TestArm(t *testing.T) {
	for _, c := range []struct{ text, arm, marks string }{
		{"Cav", "cavalry", ""}, {"H. A.", "heavy-artillery", ""}, {"S S", "sharpshooters", ""}, {"C", "cavalry", ""}, {"Mil", "", "militia"},
		{"heavy-artillery", "heavy-artillery", ""}, {"Mtd. Inf.", "mounted-infantry", ""}, {"Mounted Infantry", "mounted-infantry", ""}, {"INFANTRY", "infantry", ""},
	} {
		arm, marks, ok := Arm(c.text)
		if string(arm) != c.arm || strings.Join(marks, " ") != c.marks || !ok {
			t.Errorf("Arm(%q) = %q %q %v, want %q %q", c.text, arm, marks, ok, c.arm, c.marks)
		}
	}
	if _, _, ok := Arm("bakery"); ok {
		t.Error("Arm understood \"bakery\"")
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"Co. F, 31st Wis. Inf.", "3 IND BTRY", "U S S X", "[..] USCI", "HQ CO"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		u, _ := Parse(s)
		Format(u)
		Redesignated(u)
		FromParts(Parts{Regiment: s, State: s, Company: s, Arm: s})
	})
}

func ExampleParse() {
	u, _ := Parse("BTRY. B, 1ST ILL. L. A.")
	fmt.Println(Format(u))
	// Output: Battery B, 1st Illinois Light Artillery
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		Parse("Co. F, 31st Wis. Inf.")
	}
}

// TestWordedAs: what arms are worded as stands in the table of arms, and is broader than they are.
func TestWordedAs(t *testing.T) {
	for arm, want := range map[model.Arm]struct {
		as      model.Arm
		generic bool
	}{
		"heavy-artillery": {"artillery", false}, "light-artillery": {"artillery", false}, "artillery": {"artillery", true}, "mounted-infantry": {"infantry", false}, "infantry": {"infantry", true},
		"cavalry": {"cavalry", false}, "sharpshooters": {"sharpshooters", false}, "": {"", false}, "none of the table": {"none of the table", false},
	} {
		if as, generic := WordedAs(arm); as != want.as || generic != want.generic {
			t.Errorf("%s: worded as %s, generic %v; want %s, %v", arm, as, generic, want.as, want.generic)
		}
	}
	for arm := range arms() {
		if as, _ := WordedAs(arm); !isKind(arm, as) {
			t.Errorf("%s is worded as %s, which is not broader", arm, as)
		}
	}
}
