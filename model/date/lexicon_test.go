package date

import (
	"encoding/csv"
	"strings"
	"testing"
)

// TestWordsTable: every row of the table has a source, and a form as words are looked up: in lower case, without blanks, stops and apostrophes.
func TestWordsTable(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(wordsCSV)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range rows[1:] {
		if form := row[0]; form == "" || form != strings.ToLower(form) || strings.ContainsAny(form, " .,'") || row[3] == "" {
			t.Errorf("words.csv:%d: %q", i+2, row)
		}
	}
	if _, err := readWords(wordsCSV); err != nil {
		t.Error(err)
	}
}

// TestWordsFaults: a row that means nothing here, or stands twice, is told with its line.
func TestWordsFaults(t *testing.T) {
	for _, rows := range []string{"jan,month,first,x", "spring,season,,x", "near,sense,nearby,x", "yr,age-unit,year,x", "old,age,aged,x", "ten,number,x,x", "jan,moon,1,x", "may,month,5,x\nmay,month,5,x"} {
		_, err := readWords("form,kind,value,source\n" + rows + "\n")
		if line := []string{"words.csv:2:", "words.csv:3:"}[strings.Count(rows, "\n")]; err == nil || !strings.HasPrefix(err.Error(), line) {
			t.Errorf("%q: %v, want an error at %s", rows, err, line)
		}
	}
}

// TestMonths: readers of stones know every word for a month that dates do.
func TestMonths(t *testing.T) {
	got := map[string]int{}
	last := ""
	for form, m := range Months() {
		if form <= last {
			t.Errorf("%q behind %q", form, last)
		}
		last, got[form] = form, m
		if d, err := Parse("4 " + form + " 1864"); err != nil || d.From.Month != m {
			t.Errorf("%q: %v, %v, want month %d", form, d, err, m)
		}
	}
	for form, want := range map[string]int{"sept": 9, "mch": 3, "okt": 10, "mai": 5, "xber": 12} {
		if got[form] != want {
			t.Errorf("%s: %d, want %d", form, got[form], want)
		}
	}
}
