package name

import (
	"testing"

	"musterstone/model"
)

// TestOtherIn reads remarks as clerks wrote them. The wordings are of this program's making; that rosters word it so is common practice, no source.
func TestOtherIn(t *testing.T) {
	for _, tt := range []struct {
		remarks    string
		text       string
		name       model.Name
		substitute bool
	}{
		{remarks: ""},
		{remarks: "Mustered out with company."},
		{remarks: "Alias on some rolls", text: "Alias"},
		{remarks: "Discharged; alias.", text: "alias"},
		{remarks: "Alias Henry Kirby.", text: "Alias Henry Kirby", name: model.Name{Surname: "Kirby", Given: "Henry"}},
		{remarks: "Deserted May 3, 1864; alias Henry J. Kirby, substitute", text: "alias Henry J. Kirby", name: model.Name{Surname: "Kirby", Given: "Henry", Middle: "J"}},
		{remarks: "Alias Wm. Kirby. Mustered out", text: "Alias Wm. Kirby", name: model.Name{Surname: "Kirby", Given: "William"}},
		{remarks: "alias Kirby", text: "alias Kirby", name: model.Name{Surname: "Kirby"}},
		{remarks: "Alias J. Kirby", text: "Alias J. Kirby", name: model.Name{Surname: "Kirby", Given: "J"}},
		{remarks: "Enlisted as Henry Kirby.", text: "Enlisted as Henry Kirby", name: model.Name{Surname: "Kirby", Given: "Henry"}},
		{remarks: "Enlisted as Private."},
		{remarks: "Served as Hospital Steward"},
		{remarks: "Served as John Adams", text: "Served as John Adams", name: model.Name{Surname: "Adams", Given: "John"}},
		{remarks: "served under the name of Henry Kirby", text: "under the name of Henry Kirby", name: model.Name{Surname: "Kirby", Given: "Henry"}},
		{remarks: "True name: Henry Kirby", text: "True name: Henry Kirby", name: model.Name{Surname: "Kirby", Given: "Henry"}},
		{remarks: "Right name is Henry Kirby, of Troy", text: "Right name is Henry Kirby", name: model.Name{Surname: "Kirby", Given: "Henry"}},
		{remarks: "enlisted under an assumed name", text: "under an assumed name"},
		{remarks: "Substitute", text: "Substitute", substitute: true},
		{remarks: "Substitute for Henry Kirby", text: "Substitute", substitute: true},
		{remarks: "Substitute; alias on rolls", text: "alias"},
		{remarks: "subsisted"},
		{remarks: "Drafted; furnished a substitute"},
		{remarks: "Drafted. Substitute furnished; alias on rolls", text: "alias"},
		{remarks: "ENLISTED AS A PRIVATE"},
		{remarks: "Served as A. Kirby", text: "Served as A. Kirby", name: model.Name{Surname: "Kirby", Given: "A"}},
		{remarks: "Served as Major Smith's orderly"},
		{remarks: "Alias Deserter.", text: "Alias"},
		{remarks: "Real name Unknown", text: "Real name"},
		{remarks: "Enlisted as Henry Kirby Sept. 3, 1862", text: "Enlisted as Henry Kirby", name: model.Name{Surname: "Kirby", Given: "Henry"}},
		{remarks: "Alias Henry Kirby Co. B", text: "Alias Henry Kirby", name: model.Name{Surname: "Kirby", Given: "Henry"}},
		{remarks: "alias Henry Kirby Deserted", text: "alias Henry Kirby", name: model.Name{Surname: "Kirby", Given: "Henry"}},
		{remarks: "Malias"},
	} {
		o := OtherIn(tt.remarks)
		if o.Name.GivenOr != nil {
			o.Name.GivenOr = nil
		}
		if o.Text != tt.text || o.Name.Surname != tt.name.Surname || o.Name.Given != tt.name.Given || o.Name.Middle != tt.name.Middle || o.Substitute != tt.substitute {
			t.Errorf("OtherIn(%q) = %+v, want %q %+v %v", tt.remarks, o, tt.text, tt.name, tt.substitute)
		}
		again := OtherIn(o.Text)
		if again.Text != o.Text || again.Name.Surname != o.Name.Surname || again.Name.Given != o.Name.Given || again.Substitute != o.Substitute {
			t.Errorf("OtherIn(%q) = %+v, of its own words %+v", tt.remarks, o, again)
		}
	}
}

func FuzzOtherIn(f *testing.F) {
	f.Add("Deserted May 3, 1864; alias Henry J. Kirby, substitute")
	f.Add("a.k.a. O'Brien")
	f.Fuzz(func(t *testing.T, remarks string) {
		o := OtherIn(remarks)
		if again := OtherIn(o.Text); again.Text != o.Text || again.Name.Surname != o.Name.Surname || again.Name.Given != o.Name.Given || again.Substitute != o.Substitute {
			t.Errorf("OtherIn(%q) = %+v, of its own words %+v", remarks, o, again)
		}
	})
}
