package intake

import "testing"

// TestDeathIn reads deaths out of remarks as regimental rosters print them; the men and days are invented, the wordings those of the rosters of 1875 to 1914.
func TestDeathIn(t *testing.T) {
	tests := []struct{ remarks, want string }{
		{"Died Aug. 14, 1864, in Rebel Prison at Andersonville, Georgia.", "1864-08-14"},
		{"Prisoner of war. Captured near Rutledge, Tenn., Dec. 15, '63. Died at Andersonville, Ga., July 30, '64.", "1864-07-30"},
		{"bolter, Medford; Aug. 6, '62; Pris.; d. Sept. 14, '64, Andersonville, Ga.", "1864-09-14"},
		{"Died Dec. 3, 1863, at Chattanooga, Tenn., of wounds received Nov. 25, 1863, in battle of Mission Ridge.", "1863-12-03"},
		{"Killed in action at Pickett's Mills, Ga., May 27, 1864.", "1864-05-27"},
		{"Wounded June 2, 1864; died in hospital June, 1864", "1864-06"},
		{"M. O. June 9, '65.", ""},
		{"Transferred to Co. D. Jan. 1, 1863", ""},
		{"Killed a mule; mustered out July 9, 1865", ""},
		{"Sick;\tDIED, at Cairo, Ill., May 3, 1863", "1863-05-03"},
		{"Discharged.\u00a0Died at Cairo, Ill., May 3, 1863", "1863-05-03"},
		{"Discharged for wounds May 3, 1863", ""},
		{"Died 21 Dec. 1862, at Springfield, Mo., of pneumonia.", "1862-12-21"}, // the day first, as army returns have it
		{"Died at Keokuk, Iowa, 18 Dec 1862.", "1862-12-18"},
		{"Died of measles at Jefferson City, Mo., 12/21/1864.", "1864-12-21"}, // figures alone, as later card files have it
		{"Killed in action 3/25/1864", "1864-03-25"},
		{"Died 1862-12-21 at Rolla", "1862-12-21"},
		{"Died at 21 Elm St.; mustered out May 3, 1863", ""},
		{"Died in service with 31 Wis. Inf.", ""},
		{"d. a prisoner", ""},
		{"", ""},
	}
	for _, tt := range tests {
		if got := newMemory().deathIn(tt.remarks, 1863).String(); got != tt.want {
			t.Errorf("%q: died %q, want %q", tt.remarks, got, tt.want)
		}
	}
}
