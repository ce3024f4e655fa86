package main

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"musterstone/model"
)

func TestReadSheet(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		rows       []sheetRow
		wrong      int
		refused    string
	}{
		{"as propose gives it", "as,because,stone,record,chance\nconfirmed,same man,M-1,r1,99%\n,,M-1,,1%\n", []sheetRow{{2, "M-1", "r1", "same man", "", model.Confirmed}}, 0, ""},
		{"with a mark of order", "\ufeffstone,as\nM-1,n\n", []sheetRow{{2, "M-1", "", "", "", model.NoneOfThese}}, 0, ""},
		{"semicolons", "stone;record;as\nM-1;r1;R\n", []sheetRow{{2, "M-1", "r1", "", "", model.Refused}}, 0, ""},
		{"tabs", "Stone\tRecord\tAs\nM-1\tr1\tyes\n", []sheetRow{{2, "M-1", "r1", "", "", model.Confirmed}}, 0, ""},
		{"none in a record's row", "stone,record,as\nM-1,r1,none\n", []sheetRow{{2, "M-1", "", "", "", model.NoneOfThese}}, 0, ""},
		{"a cell over two lines", "stone,as,because\nM-1,s,\"a\nb\"\nM-2,s,\n", []sheetRow{{2, "M-1", "", "a\nb", "", model.Unsure}, {4, "M-2", "", "", "", model.Unsure}}, 0, ""},
		{"neutralised", "stone,as\n'=M-4,s\n", []sheetRow{{2, "=M-4", "", "", "", model.Unsure}}, 0, ""},
		{"short row", "as,stone,record\ns,M-1\n", []sheetRow{{2, "M-1", "", "", "", model.Unsure}}, 0, ""},
		{"an empty note", "as,stone\nnoted,M-1\n", []sheetRow{{2, "M-1", "", "", "", model.Noted}}, 1, ""},
		{"a record's verdict on no record", "as,stone,record\nyes,M-1,\n", []sheetRow{{2, "M-1", "", "", "", model.Confirmed}}, 1, ""},
		{"empty", "", nil, 0, "no header row"},
		{"no such column", "stone,verdict\nM-1,s\n", nil, 0, `no column "as"`},
		{"not text", "stone,as\nM\xff,s\n", nil, 0, "not UTF-8"},
		{"a quote left open", "stone,as\n\"M-1,s\n", nil, 0, "nothing was decided"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rows, wrong, err := readSheet("sheet.csv", strings.NewReader(tt.text))
			if tt.refused != "" {
				if err == nil || !strings.Contains(err.Error(), tt.refused) {
					t.Fatalf("error %v, want %q", err, tt.refused)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if len(wrong) != tt.wrong {
				t.Errorf("complaints: %v", wrong)
			}
			if len(rows) != len(tt.rows) {
				t.Fatalf("rows %+v", rows)
			}
			for i := range rows {
				if rows[i] != tt.rows[i] {
					t.Errorf("row %+v, want %+v", rows[i], tt.rows[i])
				}
			}
		})
	}
}

// FuzzReadSheet: whatever a sheet holds, reading it ends, and each row has a verdict or a complaint.
func FuzzReadSheet(f *testing.F) {
	for _, s := range []string{"as,because,stone,record\nc,x,M-1,r1\n", "stone;as\nM-1;?\n", "\ufeffas,stone\n'=x,\"\n", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, wrong, err := readSheet("f.csv", strings.NewReader(text))
		if err != nil {
			return
		}
		bad := map[int]bool{}
		for _, w := range wrong {
			bad[w.Row] = true
		}
		for _, r := range rows {
			if !bad[r.row] && (r.as == "" || r.stone == "") {
				t.Errorf("row %+v has no complaint", r)
			}
		}
	})
}

// TestSheetComesBack: cells that went out in a sheet come back as they were, through a program that reads and writes CSV.
func TestSheetComesBack(t *testing.T) {
	stones := []string{"=M-1", "+M", "-", "@x", "'=y", "plain", "with, comma", "with \"quotes\"", "ÆØ"}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Write([]string{"as", "stone"})
	for _, s := range stones {
		w.Write([]string{"unsure", neutral(s)})
	}
	w.Flush()
	rows, wrong, err := readSheet("s.csv", &b)
	if err != nil || len(wrong) > 0 {
		t.Fatal(err, wrong)
	}
	for i, r := range rows {
		if r.stone != stones[i] {
			t.Errorf("%q came back as %q", stones[i], r.stone)
		}
	}
}
