package unmarked

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
)

// ReadCemeteries reads a table of burial grounds: a header row, and the columns
//
//	cemetery  the name that the stones table uses
//	also      former and other names, parted by "|"
//	county, state   of the ground; may be missing where the stones give them
//
// in any order; further columns are passed over. What is amiss with a row is told with its row as a spreadsheet counts, and the row is left out. file stands in the
// complaints.
func ReadCemeteries(in *csv.Reader, file string) ([]Cemetery, []model.Complaint) {
	var out []Cemetery
	var told []model.Complaint
	fault := func(row int, column, text, hint string) {
		told = append(told, model.Complaint{File: file, Row: row, Column: column, Text: text, Hint: hint, Fatal: true})
	}
	in.FieldsPerRecord = -1
	in.TrimLeadingSpace = true
	at := map[string]int{}
	headed := false
	for row := 1; ; row++ {
		cells, err := in.Read()
		if err == nil {
			row, _ = in.FieldPos(0) // blank rows count too
		}
		var broken *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			if !headed {
				fault(0, "", "the file holds no row at all", `the first row must name the columns: cemetery,also,county,state`)
			}
			return out, told
		case errors.As(err, &broken):
			row = broken.StartLine
			fault(row, "", fmt.Sprintf("the row cannot be parted into cells (%v)", broken.Err), "look for a quote mark that is not closed")
			continue
		case err != nil:
			fault(row, "", fmt.Sprintf("the file cannot be read further: %v", err), "look at the disk and at its permissions")
			return out, told
		}
		if !headed {
			headed = true
			for i, c := range cells {
				name := strings.ToLower(strings.TrimSpace(strings.TrimPrefix(c, "\ufeff")))
				if _, ok := at[name]; !ok {
					at[name] = i
				}
			}
			if _, ok := at["cemetery"]; !ok {
				fault(row, "", `there is no column "cemetery"`, `the first row must name the columns: cemetery,also,county,state`)
				return out, told
			}
			continue
		}
		get := func(column string) string {
			if i, ok := at[column]; ok && i < len(cells) {
				return strings.Join(strings.Fields(cells[i]), " ")
			}
			return ""
		}
		c := Cemetery{Name: get("cemetery"), County: get("county")}
		if c.Name == "" {
			if strings.TrimSpace(strings.Join(cells, "")) != "" {
				fault(row, "cemetery", "the row names no cemetery", "give the name that the stones table uses")
			}
			continue
		}
		for _, also := range strings.Split(get("also"), "|") {
			if also = strings.TrimSpace(also); also != "" {
				c.Former = append(c.Former, also)
			}
		}
		if text := get("state"); text != "" {
			s, ok := vocab.State(text)
			if !ok {
				told = append(told, model.Complaint{File: file, Row: row, Column: "state", Text: fmt.Sprintf("%q is no state", text), Hint: "give the postal code or the name"})
			}
			c.State = s
		}
		out = append(out, c)
	}
}

// Gazetteer puts the listed grounds to those that the stones name: a ground of the same name (and county, where both give one) gets the former names, and what it
// lacked of county and state; a ground that no stone names is added, for a roster may bury men in one that nobody has walked yet.
func Gazetteer(named, listed []Cemetery) []Cemetery {
	out := slices.Clone(named)
	for _, l := range listed {
		known := false
		for i := range out {
			g := &out[i]
			if !strings.EqualFold(g.Name, l.Name) || g.County != "" && l.County != "" && !sameCounty(g.County, l.County) {
				continue
			}
			known = true
			g.Former = append(slices.Clone(g.Former), l.Former...)
			if g.County == "" {
				g.County = l.County
			}
			if g.State == "" {
				g.State = l.State
			}
		}
		if !known {
			out = append(out, l)
		}
	}
	return out
}

// sameCounty reports whether two names are one county's, "Alder" and "Alder County", say.
func sameCounty(a, b string) bool { return slices.Equal(countyName(a), countyName(b)) }
