package vocab

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"musterstone/model"
)

// rankForms are the forms on stones that the fact base lists (from memory, but S5 for the private without rank, S50 for AMM, S50a for ADJT, S9
// for the Army Nurse Corps), and the forms of rosters.
const rankForms = `private: PVT,PRIV,PRIVT,Priv.,Private,Privates
private first class: 1 CL PVT,PVT 1 CL,PFC,PVT 1CL,Pvt. 1st class,PRIV 1 CL
musician: MUS,MUSN,Mus.,Musician
drummer: DRUM,DRUMR
fifer: FIFER
bugler: BUG,BUGLR,BUGLER
trumpeter: TRMPTR
artificer: ARTIF,ARTFR
farrier: FARR,FARRIER
blacksmith: BLKSM
saddler: SADLR,SADDLER
wagoner: WAGR,WAG,Wagoner
cook: COOK
mechanic: MECH
corporal: CORPL,CORP,CPL,Corp.
sergeant: SERGT,SERG,SGT,Serg.,Sergt.,Sergeants,3D SERGT
first sergeant: 1 SERGT,1ST SERGT,1SGT,1ST SGT,1/SGT,1st Ser.,First Sergeant,ORD SERGT
quartermaster sergeant: Q M SERGT,QM SGT,Q. M. Serg't,Q. M. S.,Quartermaster-sergeant
commissary sergeant: COM SERGT,Com. Sergt.,Com. Ser.,Commissary-sergeant
color sergeant: COLR SERGT,COLOR SGT
sergeant major: SERGT MAJ,SGT MAJ,Sergeant-major
hospital steward: HOSP STEWD,H S,Hosp. Steward,Hos. St'd.
technician third grade: TEC 3
technician fourth grade: TEC 4
technician fifth grade: TEC 5
staff sergeant: S SGT,S/SGT
technical sergeant: T SGT
master sergeant: M SGT
sergeant first class: SFC
specialist fourth class: SP4,SPEC 4
specialist fifth class: SP5
specialist sixth class: SP6
second lieutenant: 2 LIEUT,2 LT,2D LT,2/LT,2d Lieut.,2nd Lt
first lieutenant: 1 LIEUT,1 LT,1ST LT,1st Lieut.,1/LT
lieutenant: LIEUT
captain: CAPT,CPT
major: MAJ
lieutenant colonel: LT COL,LIEUT COL,LTC
colonel: COL
brigadier general: BRIG GEN,BG
major general: MAJ GEN,MG
adjutant: ADJT,Adjt.
quartermaster: Q M,R. Q. M.
surgeon: SURG
assistant surgeon: ASST SURG,As. Sur.
chaplain: CHAPL,CH (CAPT)
landsman: LANDS,LDS
ordinary seaman: ORD SEA
seaman: SEA
boy: BOY
first class boy: 1 CL BOY
seaman second class: S2C,SEA 2,S2
seaman first class: S1C
fireman first class: 1 CL FIRE,F1C
coal heaver: COAL HVR
coal passer: C PASS
water tender: WT
acting ensign: ACT ENS
acting master: ACT MAST
acting master's mate: A M M,ACT MAST MATE
mate: MATE
gunner's mate: G MATE,GM1
ensign: ENS
yeoman (female): YEO (F),YEO F
nurse: NURSE,ANC,NURSE ANC,NNC
contract surgeon: CONT SURG
scout: SCOUT
teamster: TEAMSTER
citizen: CIT
employee of the quartermaster department: EMPL Q M D`

func TestRankForms(t *testing.T) {
	for _, line := range strings.Split(rankForms, "\n") {
		want, list, _ := strings.Cut(line, ": ")
		for _, form := range strings.Split(list, ",") {
			for _, text := range []string{form, strings.ToLower(form), strings.ReplaceAll(form, " ", ". ")} {
				if got, ok := Rank(text); !ok || string(got) != want {
					t.Errorf("Rank(%q) = %q, %v; want %q", text, got, ok, want)
				}
			}
		}
		if got, ok := Rank(want); !ok || string(got) != want {
			t.Errorf("Rank(%q) = %q, %v; want itself", want, got, ok)
		}
		if _, ok := RankOf(model.Rank(want)); !ok {
			t.Errorf("no row for %q", want)
		}
	}
	// A misspelling in the agency's burial data is not guessed at; nor are other words.
	for _, text := range []string{"PVVT", "", "US ARMY", "Co. A", "INF"} {
		if got, ok := Rank(text); ok {
			t.Errorf("Rank(%q) = %q, want none", text, got)
		}
	}
}

// meanings are all the meanings of a form as a rank, in the order of the table.
func meanings(text string) (list []RankForm) {
	for _, f := range AllRankForms() {
		if Key(f.Form) == Key(text) {
			list = append(list, f)
		}
	}
	return list
}

// TestRankFormsAmbiguous: what a form means most often stands first.
func TestRankFormsAmbiguous(t *testing.T) {
	for form, want := range map[string][]model.Rank{
		"ORD SERGT": {"first sergeant", "ordnance sergeant"},
		"H S":       {"hospital steward", "horseshoer"},
		"STEWD":     {"hospital steward", "ship's steward"},
		"O S":       {"first sergeant", "ordinary seaman"},
	} {
		var got []model.Rank
		for _, f := range meanings(form) {
			got = append(got, f.Rank)
		}
		if !slices.Equal(got, want) {
			t.Errorf("forms of rank %q: %q, want %q", form, got, want)
		}
	}
	if f := meanings("S2"); len(f) != 1 || f[0].From != 1918 || f[0].Note == "" {
		t.Errorf("S2 is not bound to the navy and its years: %+v", f)
	}
}

// TestRankSteps holds the ladder to the order of the grades.
func TestRankSteps(t *testing.T) {
	ladder := []model.Rank{"recruit", "private", "private first class", "corporal", "sergeant", "commissary sergeant", "first sergeant", "sergeant major", "cadet",
		"chief warrant officer", "second lieutenant", "first lieutenant", "captain", "major", "lieutenant colonel", "colonel", "brigadier general", "major general", "lieutenant general", "general"}
	last := 0
	for _, rank := range ladder {
		r, ok := RankOf(rank)
		if !ok || r.Step <= last {
			t.Errorf("%s: step %d after %d", rank, r.Step, last)
		}
		last = r.Step
	}
	for _, r := range ranks().rows {
		switch r.Class {
		case "enlisted", "petty-officer", "warrant", "officer", "staff", "general", "civilian":
		default:
			t.Errorf("%s: class %q", r.Rank, r.Class)
		}
		if got, ok := Rank(string(r.Rank)); !ok || got != r.Rank {
			t.Errorf("Rank(%q) = %q, want itself", r.Rank, got)
		}
		if r.Class == "general" != (r.Step >= 17) {
			t.Errorf("%s: class %s with step %d", r.Rank, r.Class, r.Step)
		}
		if r.From != 0 && r.To != 0 && r.From > r.To || string(r.Rank) != strings.ToLower(string(r.Rank)) {
			t.Errorf("%s: %d to %d", r.Rank, r.From, r.To)
		}
		if r.Branch != "" {
			if _, ok := codes("branches", "code")[string(r.Branch)]; !ok {
				t.Errorf("%s: branch %q", r.Rank, r.Branch)
			}
		}
	}
}

// TestRealColumns reads columns of open rosters and burial lists, where they are at hand, and holds the tables to the share that they understand.
func TestRealColumns(t *testing.T) {
	tests := []struct {
		file, column string
		least        float64
		known        func(string) bool
	}{
		{"va_burials/va_burials_to_ww1.csv", "rank", 0.93, func(s string) bool { _, ok := Rank(s); return ok }},
		{"va_burials/va_burials_to_ww1.csv", "branch", 0.98, func(s string) bool { _, ok := Branch(s); return ok }},
		{"va_burials/va_burials_to_ww1.csv", "war", 0.98, func(s string) bool { c, rest := ConflictsOf(s); return c != nil && rest == nil }},
		{"rosters/six_regiments.csv", "rank", 0.99, func(s string) bool { _, ok := Rank(s); return ok }},
		{"rainbow_wwi/rainbow_roster.csv", "rank", 0.995, func(s string) bool { _, ok := Rank(s); return ok }},
		{"andersonville/andersonville_graves_1881.csv", "rank_as_printed", 0.99, func(s string) bool { _, ok := Rank(s); return ok }},
		{"andersonville/andersonville_graves_1881.csv", "state", 0.94, func(s string) bool { _, ok := State(s); return ok }},
	}
	for _, tt := range tests {
		t.Run(tt.file+" "+tt.column, func(t *testing.T) {
			f, err := os.Open("../../shared/data/" + tt.file)
			if err != nil {
				t.Skip("the open data is not at hand")
			}
			defer f.Close()
			rows, err := csv.NewReader(f).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			at := slices.Index(rows[0], tt.column)
			if at < 0 {
				t.Fatalf("no column %q among %q", tt.column, rows[0])
			}
			filled, known := 0, 0
			for _, row := range rows[1:] {
				if row[at] != "" {
					filled++
					if tt.known(row[at]) {
						known++
					}
				}
			}
			share := float64(known) / float64(filled)
			t.Logf("%d of %d understood, %.4f", known, filled, share)
			if share < tt.least {
				t.Errorf("%.4f understood, want %.3f or more", share, tt.least)
			}
		})
	}
}

// TestBrevet: each form of the table, with its point or without, before a rank.
func TestBrevet(t *testing.T) {
	for _, tt := range []struct {
		text, rank string
		ok         bool
	}{
		{"Bvt. Maj.", "Maj.", true}, {"BVT MAJOR GENERAL", "MAJOR GENERAL", true}, {"Brev. Lt. Col.", "Lt. Col.", true}, {"Bt.Capt.", "Capt.", true}, {"brevet Captain", "Captain", true},
		{"Major", "", false}, {"Bvt.", "", false}, {"Brevetted Major", "", false}, {"", "", false},
	} {
		if rank, ok := Brevet(tt.text); rank != tt.rank || ok != tt.ok {
			t.Errorf("%q: %q %v, want %q %v", tt.text, rank, ok, tt.rank, tt.ok)
		}
	}
	for _, r := range Rows("brevet-forms") {
		if rank, ok := Brevet(r.Get("form") + ". Maj."); !ok || rank != "Maj." {
			t.Errorf("%s: %q %v", r.Where(), rank, ok)
		}
	}
}
