package demo

import (
	"encoding/csv"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// table reads a file of the survey as rows of column to cell, by the cell of its first column.
func table(t *testing.T, name string, comma rune) map[string]map[string]string {
	t.Helper()
	f, err := Files().Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma = comma
	all, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	rows := map[string]map[string]string{}
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, c := range cells {
			row[all[0][i]] = c
		}
		if rows[cells[0]] != nil {
			t.Errorf("%s: id %s stands twice", name, cells[0])
		}
		rows[cells[0]] = row
	}
	return rows
}

func TestCounts(t *testing.T) {
	grounds := map[string]int{}
	for _, s := range table(t, "stones.csv", ',') {
		grounds[s["cemetery"]]++
	}
	want := map[string]int{"Old Mill Cemetery": 27, "Prairie Rest Cemetery": 24, "St. Boniface Churchyard": 13}
	for g, n := range want {
		if grounds[g] != n {
			t.Errorf("%s has %d stones, want %d", g, grounds[g], n)
		}
	}
	if len(grounds) != len(want) {
		t.Errorf("burial grounds %v", grounds)
	}
	if n := len(table(t, "register.csv", ',')); n != 5 {
		t.Errorf("%d register rows", n)
	}
	if a, b := len(table(t, "roster-union.csv", ',')), len(table(t, "roster-county.csv", ';')); a != 260 || b != 141 {
		t.Errorf("rosters of %d and %d men, want 260 and 141", a, b)
	}
	if n := len(table(t, Truth, ',')); n != 49 {
		t.Errorf("%d true links, want 49", n)
	}
}

// Every kind of case that the survey was made for is there.
func TestCases(t *testing.T) {
	stones, register := table(t, "stones.csv", ','), table(t, "register.csv", ',')
	union, county := table(t, "roster-union.csv", ','), table(t, "roster-county.csv", ';')
	truth := table(t, Truth, ',')
	record := func(id string) string { // surname, given
		if r := union[id]; r != nil {
			return r["surname"] + ", " + r["given"]
		}
		if r := county[id]; r != nil {
			return r["Family name"] + ", " + r["Christian names"]
		}
		return ""
	}
	tests := []struct {
		name, stone string
		has         string // words of the inscription
		column      string // and a cell of the stone's row
		cell        string
		man         string // the true record's man; "" where there is none
	}{
		{"abbreviated given name", "OM-01", "JNO. A. HARKNESS", "device", "recessed shield", "Harkness, John A."},
		{"homonym of one regiment", "OM-02", "WM. BAKER / CO. F / 31", "width_in", "10", "Baker, William"},
		{"homonym of another", "OM-03", "WM. BAKER / CO. K / 44", "width_in", "12", "Baker, William"},
		{"brother", "OM-04", "SAML. TILLOTSON", "", "", "Tillotson, Samuel"},
		{"brother", "OM-05", "SYLVANUS TILLOTSON", "", "", "Tillotson, Sylvanus"},
		{"diminutive", "OM-06", "HARRY GUNDERSON", "device", "none", "Gunderson, Henry"},
		{"worn name", "OM-07", "W[..]LIAM PE[...]SON", "device", "recessed shield", "Pederson, William"},
		{"later-ordered stone", "OM-08", "CIVIL WAR / MAY 2 1891", "width_in", "13", "Aldous, Thomas R."},
		{"private stone with a unit", "OM-09", "CO. B 3D WIS. CAV.", "device", "none", "Whitcomb, Ezra P."},
		{"plain private stone of a soldier", "OM-10", "ORRIN D. SKEELS / BORN", "material", "granite", "Skeels, Orrin D."},
		{"civilian with a soldier's name", "OM-11", "WILLIAM BAKER / DIED / SEPT. 9, 1858", "material", "slate", ""},
		{"civilian with a soldier's name", "OM-12", "JOHN MILLER / 1871 - 1934", "", "", ""},
		{"family stone", "OM-14", "LEWIS K. / CO. F 31 WIS. VOL. INF. / 1842 - 1911 / HIS WIFE", "", "", "Bardwell, Lewis K."},
		{"unknown block", "OM-15", "17", "setting", "block", ""},
		{"unknown soldier", "OM-16", "UNKNOWN / U. S. SOLDIER", "", "", ""},
		{"US Colored Troops", "OM-17", "29 U. S. C. INF.", "", "", "Pettiford, Isaac"},
		{"society flag holder only", "OM-18", "JAS. MURPHY", "motifs", "GAR star holder", ""},
		{"veteran in no roster", "OM-19", "152 N. Y. INF.", "device", "recessed shield", ""},
		{"damaged date", "OM-20", "BORN FEB. 12, 184[.]", "condition", "flaking", "Fentress, Amos L."},
		{"rank alone", "OM-21", "CAPT. JOSIAH T. MERRIAM", "device", "none", "Merriam, Josiah T."},
		{"cenotaph", "OM-25", "IN MEMORY OF / HIRAM B. STODDARD", "", "", "Stoddard, Hiram B."},
		{"two stones of one man, the government's", "OM-26", "ALVAH S. DUNTON", "device", "recessed shield", "Dunton, Alvah S."},
		{"two stones of one man, the private one", "OM-27", "ALVAH S. DUNTON / 1838 - 1909", "device", "none", "Dunton, Alvah S."},
		{"Spanish-American stone", "PR-01", "SP. AM. WAR", "device", "recessed shield", "Knudson, Elmer J."},
		{"Confederate stone, initials only", "PR-03", "J. B. LATIMER / CO. D / 4 ALA. INF. / C. S. A.", "top", "pointed", "Latimer, James B."},
		{"World War I General stone", "PR-04", "PVT 127 INF 32 DIV / AUG 3 1932", "emblem", "latin cross", "Steinbach, Roy F."},
		{"General stone of a veteran in no roster", "PR-06", "IOWA / LLOYD M. VANCE", "", "", ""},
		{"bronze", "PR-07", "TEC 5 US ARMY", "material", "bronze", ""},
		{"flat granite", "PR-08", "KOREA", "setting", "flush", ""},
		{"regular", "PR-09", "14 U. S. INF.", "", "", "Devlin, Patrick"},
		{"navy", "PR-10", "LANDS. / EDWD. RIORDAN / U. S. NAVY", "", "", "Riordan, Edward"},
		{"military motif alone", "PR-12", "CHARLES A. PRENTISS / 1841 - 1919", "motifs", "crossed cannon", "Prentiss, Charles A."},
		{"wrong regiment cut", "PR-19", "CO. K / 41 WIS. INF.", "", "", "Colvin, Andrew J."},
		{"re-issued shield stone", "PR-20", "HORACE M. DELANO", "thickness_in", "3", "Delano, Horace M."},
		{"diminutive and clipped unit", "PR-21", "FRED W. ENGEL", "", "", "Engel, Frederick W."},
		{"spelling by sound", "PR-22", "PETER OLESON", "", "", "Olson, Peter"},
		{"homonym told by his middle letter", "PR-24", "WM. H. SMITH", "", "", "Smith, William H."},
		{"German stone", "SB-01", "JOHANN SCHMITT / GEB. 4 MAI 1839", "", "", "Schmitt, John"},
		{"plain private stone with a date of death", "SB-08", "GEST. 7 FEB. 1894", "", "", "Vollrath, August"},
		{"a man who changed his regiment", "SB-10", "12 V. R. C.", "", "", "Thelen, Nicholas"},
		{"iron cross of a woman", "SB-11", "KATHARINA WEBER", "material", "iron", ""},
		{"half lost", "SB-12", "[---]MANN / CO. [.] / 1 WIS. H. A.", "", "", "Hartmann, Bernard"},
		{"private stone of a veteran in no roster", "SB-13", "24TH WIS. INF.", "device", "none", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := stones[tt.stone]
			if s == nil || !strings.Contains(s["inscription"], tt.has) {
				t.Fatalf("stone %s is %q, want %q in it", tt.stone, s["inscription"], tt.has)
			}
			if tt.column != "" && s[tt.column] != tt.cell {
				t.Errorf("%s is %q, want %q", tt.column, s[tt.column], tt.cell)
			}
			if man := record(truth[tt.stone]["record"]); man != tt.man {
				t.Errorf("the true man of %s is %q, want %q", tt.stone, man, tt.man)
			}
		})
	}
	for _, tt := range []struct{ name, record, man, column, words string }{
		{"buried here by the remarks, no stone", "U002", "Ames, Chester L.", "remarks", "Buried in Old Mill Cem."},
		{"buried here, no stone", "U100", "Halvorson, Ole", "buried", "Prairie Rest Cem., Alder Co."},
		{"buried here, no stone", "U173", "Shea, Dennis", "buried", "St. Boniface Ch. Yd., Alder Co., Wis."},
		{"buried here, no stone", "W-125", "Tate, Reuben", "Burial", "Old Mill Cem., Alder Co."},
		{"buried here, no stone", "W-096", "Raasch, Emil", "Burial", "Prairie Rest"},
		{"a ground of like name in another county", "U201", "Judd, Loren", "buried", "Old Mill Cem., Knox Co., Ill."},
		{"a ground of like name in another state", "W-064", "Lund, Nels", "Burial", "Prairie Rest Cem., Stearns Co., Minn."},
		{"a creek, not a ground", "U232", "Gage, Silas W.", "remarks", "near Old Mill Creek"},
		{"buried here, and a stone", "U020", "Harkness, John A.", "buried", "Old Mill Cem., Alder Co."},
	} {
		row := union[tt.record]
		if row == nil {
			row = county[tt.record]
		}
		if record(tt.record) != tt.man || !strings.Contains(row[tt.column], tt.words) {
			t.Errorf("%s: %s is %s, %s %q", tt.name, tt.record, record(tt.record), tt.column, row[tt.column])
		}
		stone := false
		for id, l := range truth {
			stone = stone || l["record"] == tt.record && stones[id] != nil
		}
		if stone != (tt.man == "Harkness, John A.") {
			t.Errorf("%s: %s has a stone: %v", tt.name, tt.record, stone)
		}
	}
	if r := register["REG-01"]; r["surname"] != "Hoyt" || record(truth["REG-01"]["record"]) != "Hoyt, Nathan C." {
		t.Errorf("register row without a stone: %v", r)
	}
	for s, l := range truth {
		if stones[s] == nil && register[s] == nil || record(l["record"]) == "" {
			t.Errorf("true link %s to %s: one of them is not there", s, l["record"])
		}
	}
}

// The names repeat as names do: many of a few, few of many.
func TestNamesRepeat(t *testing.T) {
	surnames, full := map[string]int{}, map[string]int{}
	n := 0
	add := func(surname, given string) {
		surnames[surname]++
		full[surname+", "+strings.Fields(given)[0]]++
		n++
	}
	for _, r := range table(t, "roster-union.csv", ',') {
		add(r["surname"], r["given"])
	}
	for _, r := range table(t, "roster-county.csv", ';') {
		add(r["Family name"], r["Christian names"])
	}
	var counts []int
	shared := 0
	for _, c := range surnames {
		counts = append(counts, c)
	}
	for _, c := range full {
		if c > 1 {
			shared += c
		}
	}
	slices.Sort(counts)
	slices.Reverse(counts)
	if top := counts[0] + counts[1] + counts[2] + counts[3] + counts[4]; top < n/10 || len(counts) < n/4 {
		t.Errorf("the five commonest surnames are %d of %d men, with %d surnames in all", top, n, len(counts))
	}
	if shared < 40 {
		t.Errorf("only %d men share their name with another", shared)
	}
}

// The metadata file describes every table, column by column, in the order of the file.
func TestMetadata(t *testing.T) {
	data, err := fs.ReadFile(Files(), "csv-metadata.json")
	if err != nil {
		t.Fatal(err)
	}
	var group struct {
		Tables []struct {
			URL         string
			Dialect     struct{ Delimiter string }
			TableSchema struct {
				PrimaryKey string
				Columns    []struct {
					Name, Titles, PropertyURL, ValueURL string
					Virtual                             bool
				}
			}
		}
	}
	if err := json.Unmarshal(data, &group); err != nil {
		t.Fatal(err)
	}
	var described []string
	for _, table := range group.Tables {
		described = append(described, table.URL)
		head, err := fs.ReadFile(Files(), table.URL)
		if err != nil {
			t.Fatal(err)
		}
		delimiter := table.Dialect.Delimiter
		if delimiter == "" {
			delimiter = ","
		}
		first, _, _ := strings.Cut(string(head), "\n")
		var titles []string
		names := map[string]bool{}
		for i, c := range table.TableSchema.Columns {
			if names[c.Name] {
				t.Errorf("%s: column name %q twice", table.URL, c.Name)
			}
			names[c.Name] = true
			if c.PropertyURL == "" {
				t.Errorf("%s: column %q has no property", table.URL, c.Name)
			}
			if c.Virtual {
				if i != len(table.TableSchema.Columns)-1 || c.PropertyURL != "rdf:type" || c.ValueURL == "" {
					t.Errorf("%s: virtual column %v", table.URL, c)
				}
				continue
			}
			titles = append(titles, c.Titles)
		}
		if got := strings.Split(first, delimiter); !slices.Equal(got, titles) {
			t.Errorf("%s: columns %v, described as %v", table.URL, got, titles)
		}
		if !names[table.TableSchema.PrimaryKey] {
			t.Errorf("%s: primary key %q is no column", table.URL, table.TableSchema.PrimaryKey)
		}
	}
	if want := []string{"stones.csv", "register.csv", "roster-union.csv", "roster-county.csv"}; !slices.Equal(described, want) {
		t.Errorf("described are %v, want %v", described, want)
	}
}

func TestLay(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	if err := Lay(dir); err != nil {
		t.Fatal(err)
	}
	want, err := fs.ReadFile(Files(), "stones.csv")
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join(dir, "stones.csv"))
	if err != nil || string(got) != string(want) {
		t.Errorf("stones.csv was not written as it is (%v)", err)
	}
	if text, err := os.ReadFile(filepath.Join(dir, "README.txt")); err != nil || !strings.Contains(string(text), "Everything in this folder is invented") {
		t.Errorf("README.txt: %v", err)
	}
	if err := os.Remove(filepath.Join(dir, "stones.csv")); err != nil {
		t.Fatal(err)
	}
	if err := Lay(dir); err == nil || !strings.Contains(err.Error(), "not empty") {
		t.Errorf("laid over a folder with files: %v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "stones.csv")); !os.IsNotExist(err) {
		t.Error("a refused Lay wrote something")
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Lay(file); err == nil {
		t.Error("laid over a file")
	}
}
