package intake_test

import "testing"

// TestCentury: a year of two digits is of the century in which another date of the row puts it; where none does it is told, and not known. Cells as service cards and registers of homes have them: common practice, no source.
func TestCentury(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "roster-a.csv", []byte("id,surname,given,born,enlisted,mustered_out,died\n1,Abel,John,1844,\"Aug. 14, '62\",5/9/65,\n2,Bell,John,\"Dec. 13, 1895\",June 3/18,May 6/19,\n"+
		"3,Cole,John,,\"Aug. 14, '62\",,4/2/1911\n4,Dunn,John,3/4/94,Nov 2/1917,,\n5,Eck,John,,Apr 5/18,,\n6,Fay,John,,,May 1865,2/4/97\n"))
	_, records, complaints := read(t, dir)
	if len(complaints) != 1 {
		t.Errorf("complaints %q, want one, of row 6", complaints)
	}
	for i, want := range [][4]string{{"1844", "1862-08-14", "1865-05-09", ""}, {"1895-12-13", "1918-06-03", "1919-05-06", ""}, {"", "1862-08-14", "", "1911-04-02"}, {"1894-03-04", "1917-11-02", "", ""}, {}, {"", "", "1865-05", "1897-02-04"}} {
		r := records[i]
		if got := [4]string{r.Person.Born.EDTF, r.Service.Enlisted.EDTF, r.Service.MusteredOut.EDTF, r.Person.Died.EDTF}; got != want {
			t.Errorf("%s: born, enlisted, mustered out, died %q, want %q", r.ID, got, want)
		}
	}
}
