package vocab

import (
	"slices"
	"strings"
	"testing"

	"musterstone/model"
)

// stoneForms are the forms of states on stones that the fact base lists (from memory, very sure; the official ones are also in S35).
const stoneForms = `AL ALA|AZ ARIZ,ARIZ TY|AR ARK|CA CAL,CALIF,CALA|CO COL,COLO,COLO TY|CT CONN,CT|DK DAK,DAK TY|DE DEL|DC D C|FL FLA|GA GA|ID IDA,IDAHO|
IL ILL,ILLS,ILLI,ILL'S|IN IND,INDA|IA IOWA,IA|KS KAN,KANS|KY KY|LA LA|ME ME,MAINE|MD MD|MA MASS|MI MICH|MN MINN|MS MISS|MO MO|MT MONT|NE NEB,NEBR|NV NEV|
NH N H|NJ N J|NM N M,N MEX|NY N Y|NC N C,NO CAR|ND N D,NO DAK|OH OHIO,O|OK OKLA,IND TER|OR ORE,OREG|PA PA,PENN,PENNA,PENNSA|RI R I|SC S C,SO CAR|
SD S D,SO DAK|TN TENN,E TENN|TX TEX,TEXAS|UT UTAH|VT VT|VA VA|WA WASH,WASH TY|WV W VA,WEST VA,W V|WI WIS,WISC|WY WYO`

func TestStateForms(t *testing.T) {
	n := 0
	for _, part := range strings.Split(strings.ReplaceAll(stoneForms, "\n", ""), "|") {
		code, list, _ := strings.Cut(part, " ")
		for _, form := range strings.Split(list, ",") {
			n++
			for _, text := range []string{form, strings.ToLower(form), strings.ReplaceAll(form, " ", ". ") + "."} {
				if got, ok := State(text); !ok || string(got) != code {
					t.Errorf("State(%q) = %q, %v; want %s", text, got, ok, code)
				}
			}
		}
	}
	if n != 83 {
		t.Errorf("%d forms tried, want 83", n)
	}
}

// Official forms of the Post Office: those of 1831 and 1874 for Alabama to Maine as a copy of the postal service's history table prints them (S35), and the
// two-letter codes of 1963 (USPS Publication 28).
func TestStatePostOffice(t *testing.T) {
	tests := []struct{ form, want string }{
		{"Al.", "AL"}, {"Ar. T.", "AR"}, {"Ct.", "CT"}, {"De.", "DE"}, {"Fl. T.", "FL"}, {"Ga.", "GA"}, {"Il.", "IL"}, {"Ky.", "KY"}, {"La.", "LA"}, {"Me.", "ME"},
		{"Ala.", "AL"}, {"Ark.", "AR"}, {"Cal.", "CA"}, {"Colo.", "CO"}, {"Conn.", "CT"}, {"Del.", "DE"}, {"Fla.", "FL"}, {"Ill.", "IL"}, {"Ind.", "IN"}, {"Iowa", "IA"},
		{"Kans.", "KS"}, {"AK", "AK"}, {"HI", "HI"}, {"MN", "MN"}, {"mo", "MO"}, {"NE", "NE"}, {"TX", "TX"}, {"VT", "VT"}, {"WY", "WY"}, {"PR", "PR"},
	}
	for _, tt := range tests {
		if got, ok := State(tt.form); !ok || string(got) != tt.want {
			t.Errorf("State(%q) = %q, %v; want %s", tt.form, got, ok, tt.want)
		}
	}
	for _, text := range []string{"", "U.S.C.T.", "Ireland", "INF", "Co. A"} {
		if got, ok := State(text); ok {
			t.Errorf("State(%q) = %q, want none", text, got)
		}
	}
}

// The ambiguous forms that the fact base names: IA was Indiana in the list of 1831 (S35); COL, LA, MISS, IND and VA mean other things besides.
func TestStateFormsAmbiguous(t *testing.T) {
	states := func(text string) (list []string) {
		for _, f := range stateForms()[Key(text)] {
			if !slices.Contains(list, f.Get("state")) {
				list = append(list, f.Get("state"))
			}
		}
		return list
	}
	if got := states("Ia."); !slices.Equal(got, []string{"IA", "IN"}) {
		t.Errorf("IA may be %q, want Iowa, then Indiana", got)
	}
	for form, also := range map[string]string{"COL": "colored", "LA": "light-artillery", "IND": "independent", "MISS": "miss", "MD": "physician", "O": "initial"} {
		ok := false
		for _, f := range stateForms()[Key(form)] {
			ok = ok || slices.Contains(f.List("also"), also) && f.Get("note") != ""
		}
		if !ok {
			t.Errorf("%s: nothing says that it may be %s", form, also)
		}
	}
	if !slices.ContainsFunc(stateForms()[Key("VA")], func(f Row) bool { return strings.Contains(f.Get("note"), "West Virginia") }) {
		t.Error("VA: nothing says that it may be men of West Virginia")
	}
}

func TestStates(t *testing.T) {
	var list []model.State
	for _, r := range Rows("states") {
		list = append(list, model.State(r.Get("code")))
	}
	if len(list) != 56 || !slices.IsSorted(list) {
		t.Errorf("%d states and territories, want 50 states, the District and 5 more, sorted", len(list))
	}
	for _, c := range list {
		name := StateName(c)
		if got, ok := State(name); !ok || got != c {
			t.Errorf("State(%q) = %q, want %s", name, got, c)
		}
		if got, ok := State(string(c)); !ok || got != c {
			t.Errorf("State(%q) = %q", c, got)
		}
	}
	if got := StateName("XX"); got != "" {
		t.Errorf("StateName(XX) = %q", got)
	}
}
