package unit

import (
	"testing"

	"musterstone/model"
)

func TestInRemarks(t *testing.T) {
	own := FromParts(Parts{Company: "A", Regiment: "179", Arm: "Infantry", State: "Pennsylvania"})
	for _, tt := range []struct{ remarks, want string }{
		{"Transferred to Co. D, 84th Regiment", "Company D, 84th Pennsylvania Infantry"},
		{"Wounded at Antietam; trans. to Co. K, 5th Mich. Cav., Jan. 3, 1864", "Company K, 5th Michigan Cavalry"},
		{"Transferred to V. R. C. Oct. 13, 1864.", "Veteran Reserve Corps"},
		{"Transferred to Co. G, 12th V. R. C. Oct. 13, '64", "Company G, 12th Veteran Reserve Corps"},
		{"Transf. to Veteran Reserve Corps, April 1, 1864; discharged", "Veteran Reserve Corps"},
		{"Transferred to Company C", "Company C, 179th Pennsylvania Infantry"},
		{"Transferred from Co. B, 12th U. S. Inf. 1862", "Company B, 12th US Infantry"},
		{"Re-enlisted in 1st U. S. Vet. Engineers", "1st US Veteran Engineers"},
		{"formerly 9th Arkansas Infantry (African Descent)", "9th Arkansas Infantry"},
		{"Transferred to general hospital Oct. 1, 1862", ""},
		{"Transferred to the navy", ""},
		{"Transferred to Co. A, 179th Regiment", ""},
		{"Wounded (transferred to Co. D, 84th Regiment)", "Company D, 84th Pennsylvania Infantry"},
		{"Transferred to D", "Company D, 179th Pennsylvania Infantry"},
		{"Prior service, 5th Mo. S. M. Cav.", "5th Missouri State Militia Cavalry"},
		{"Prior service in Co. K, 16th O. V. I.", "Company K, 16th Ohio Volunteer Infantry"},
		{"Also served in Co. A, 3 Mo. Cav.", "Company A, 3rd Missouri Cavalry"},
		{"Prior service, 90 days; drafted", ""},
		{"Also served in 1864", ""},
		{"Formerly of Boston", ""},
		{"Transferred to C. S. Army", ""},
		{"Transferred to U. S. Navy, April 3, 1864", ""},
		{"Transferred to", ""},
		{"Mustered out with company, June 3, 1865", ""},
		{"Died at Nashville, Tenn., Co. D, 84th Regiment", ""},
	} {
		u, text, ok := InRemarks(tt.remarks, &own)
		if again, words, ok2 := InRemarks(text, &own); ok && (!ok2 || words != text || Format(again) != Format(u)) {
			t.Errorf("%q: %q, of its own words %q, %q", tt.remarks, text, words, Format(again))
		}
		got := ""
		if ok {
			got = Format(u)
		}
		if got != tt.want {
			t.Errorf("%q: %q, want %q", tt.remarks, got, tt.want)
		}
	}
	if _, _, ok := InRemarks("Transferred to Co. D", &model.Unit{}); !ok {
		t.Error("a company alone is a unit where the row gives none")
	}
}

func FuzzInRemarks(f *testing.F) {
	f.Add("Transferred to Co. D, 84th Regiment")
	f.Add("trans. to V. R. C. Oct. 13, 1864; formerly 9 Ark.")
	own := FromParts(Parts{Company: "A", Regiment: "179", Arm: "Infantry", State: "Pennsylvania"})
	f.Fuzz(func(t *testing.T, remarks string) {
		u, text, ok := InRemarks(remarks, &own)
		if ok && u.IsZero() {
			t.Errorf("%q: a unit that says nothing", remarks)
		}
		if again, words, ok2 := InRemarks(text, &own); ok && (!ok2 || words != text || Format(again) != Format(u)) {
			t.Errorf("%q: %q %q, of its own words %q %q", remarks, text, Format(u), words, Format(again))
		}
	})
}
