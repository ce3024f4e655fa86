package unit

import "testing"

// TestSeveral reads cells of men who served in more than one unit, as service cards, pension lists and state rosters word them: common practice, no source.
func TestSeveral(t *testing.T) {
	for _, tt := range []struct{ cell, want, other string }{
		{"154 Dep. Brig. to May 10/18; Co F 344 M. G. Bn. to disch.", "Company F, 344th Battalion, Machine Gun", "154th Depot Brigade"},
		{"Btry. B 136 F. A. to Oct 2/17; 112 Tn. Hq. to disch.", "Battery B, 136th Field Artillery", ""},
		{"151 Dep. Brig. to June 17/18; Med. Dept. to disch.", "Medical Department", "151st Depot Brigade"},
		{"Co. F 14th Ohio Inf.; K, 12th V. R. C.", "Company F, 14th Ohio Infantry", "Company K, 12th Veteran Reserve Corps"},
		{"Co. I, 35th N. Y. Vols. and Co. B, 3d U. S. Col. Inf.", "Company I, 35th New York Volunteers", "Company B, 3rd US Colored Infantry"},
		{"Co. A, 16 Ohio Inf. & C, 5 U. S. Cav.", "Company A, 16th Ohio Infantry", "Company C, 5th US Cavalry"},
		{"Co. K 3 Inf. Ohio N. G. (Co. K 148 Inf.) to disch.", "Company K, 148th Infantry", "Company K, 3rd Ohio National Guard Infantry"},
		{"Co. A, 8 Ohio Inf.; Co. B, 9 Ohio Inf.; Co. C, 10 Ohio Inf.", "Company A, 8th Ohio Infantry", "Company C, 10th Ohio Infantry"}, // the last is told first
		{"Co. A, 167th Inf. (4th Alabama)", "Company A, 167th Alabama Infantry", ""},
		{"154 DEP. BRIG. TO MAY 10/18; CO F 344 M. G. BN. TO DISCH.", "Company F, 344th Battalion, Machine Gun", "154th Depot Brigade"},
		{"CO. A, 8 OHIO INF. AND CO. B, 9 OHIO INF.", "Company A, 8th Ohio Infantry", "Company B, 9th Ohio Infantry"},
		{"D 5th Mo. S. M. Cav. and Co. G, 10th Mo. Cav. and I 13th V. R. C.", "Company D, 5th Missouri State Militia Cavalry", "Company I, 13th Veteran Reserve Corps"}, // three of them
		{"Co. A, 1st Mich. Engineers and Mechanics and Co. B, 9 Ohio Inf.", "Company A, 1st Michigan Engineers and Mechanics", "Company B, 9th Ohio Infantry"},
		{"A Lisle Co. H. G. and Co. F, 14th Regt. V. R. C.", "Company F, 14th Veteran Reserve Corps", ""}, // the first cannot be told
		{"Co. I, 31st Mo. Vol. Inf. and Co. B, Pacific Home Gds.", "Company I, 31st Missouri Volunteer Infantry", ""},
		{"2d and 5th Wis. Inf.", "5th Wisconsin Infantry", ""},
		{"2d Mo. Cav. (Merrill's Horse)", "2nd Missouri Cavalry", ""}, // one by two names
		{"Co. I, 35th N. Y. Vols.", "Company I, 35th New York Volunteers", ""},
		{"Co. D to disch.", "Company D", ""},
	} {
		u := FromParts(Parts{Unit: tt.cell})
		other := ""
		if o, _, ok := InRemarks(u.Other, &u); ok {
			other = Format(o)
		}
		if got := Format(u); got != tt.want || other != tt.other {
			t.Errorf("%q: %q, other %q, want %q, other %q", tt.cell, got, other, tt.want, tt.other)
		}
		if u.Written != tt.cell {
			t.Errorf("%q is written as %q", tt.cell, u.Written)
		}
	}
}
