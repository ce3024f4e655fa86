package main

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/unmarked"
	"musterstone/model"
)

// writeList writes the work list: by cemetery, section, row and plot, in the order in which one walks.
func writeList(w io.Writer, all *leads) error {
	p := &printer{w: w}
	ground, where := "", "-"
	for i := range all.all {
		l := &all.all[i]
		if l.place.Cemetery != ground || i == 0 {
			ground, where = l.place.Cemetery, "-"
			name := ground
			if name == "" {
				name = "(no cemetery given)"
			}
			if i > 0 {
				p.line("")
			}
			p.line("%s", name)
		}
		if now := rowWords(l); now != where {
			where = now
			p.line("  %s", where)
		}
		plot := ""
		if l.subject != nil && l.place.Plot != "" {
			plot = "plot " + l.place.Plot + ", "
		}
		id := l.what()
		p.line("    [ ] %d. %s%s: %s, %s %s", l.number, plot, id, l.name(), kindWords(l.Kind), percent(l.Probability))
	}
	p.line("")
	p.line("The percentage is how likely a finding is to be so.")
	p.line("%s.", say.Capital(sentence(all.total)))
	if len(all.grounds) > 1 {
		for i, g := range all.grounds {
			p.line("  %s: %s", g, figures(all.counts[i]))
		}
		if all.someFoundOnly() {
			p.line("- %s", foundOnly)
		}
	}
	for _, t := range slices.Concat(all.assumptions(), unmarked.Cautions(), all.held()) {
		p.line("- %s", t)
	}
	return p.err
}

// rowWords is the part of the ground, without the plot.
func rowWords(l *lead) string {
	if l.subject == nil {
		return "place in the ground not known"
	}
	var parts []string
	for _, x := range [][2]string{{"section", l.place.Section}, {"row", l.place.Row}} {
		if x[1] != "" {
			parts = append(parts, x[0]+" "+x[1])
		}
	}
	if len(parts) == 0 {
		return "section and row not given"
	}
	return strings.Join(parts, ", ")
}

// printer writes lines made safe for a terminal, and keeps the first error.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.w, plain(fmt.Sprintf(format, args...)))
	}
}

// leadColumns are the columns of the table of leads.
var leadColumns = strings.Split("number,cemetery,county,state,section,row,plot,latitude,longitude,kind,probability,certainty,stone,record,name,unit,conflict,born,died,pattern,reasons,to_show,to_show_sources,caution", ",")

// leadCells are a lead's cells, in the order of leadColumns.
func leadCells(l *lead) []string {
	lat, long := "", ""
	if p := l.place.Position; p != nil {
		lat, long = degrees(p.Latitude), degrees(p.Longitude)
	}
	var c model.Claim
	f, unit := l.told(), ""
	if !l.withheld {
		c, unit = l.claim(), l.unit()
		if l.record != nil {
			f.Record = l.record.ID
		}
	}
	var sources []string
	for _, s := range sourcesOf(f.ToShow) {
		sources = append(sources, strings.Join(s, "; "))
	}
	return []string{strconv.Itoa(l.number), l.place.Cemetery, l.place.County, string(l.place.State), l.place.Section, l.place.Row, l.place.Plot, lat, long,
		l.Kind, strconv.FormatFloat(l.Probability, 'f', -1, 64), l.state(), string(f.Stone), string(f.Record), l.name(), unit, conflictWords(l.Conflict),
		c.Person.Born.String(), c.Person.Died.String(), l.pattern(), strings.Join(f.Reasons, " | "), strings.Join(f.ToShow, " | "), strings.Join(sources, " | "), unmarked.Caution()}
}

func degrees(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// writeLeadsCSV writes the leads as a table.
func writeLeadsCSV(w io.Writer, all *leads) error {
	rows := [][]string{leadColumns}
	for i := range all.all {
		rows = append(rows, leadCells(&all.all[i]))
	}
	return writeCSV(w, rows)
}

// feature is a feature of GeoJSON (RFC 7946, section 3.2). Its members come in a fixed order.
type feature struct {
	Type       string     `json:"type"`
	ID         string     `json:"id"`
	Geometry   *point     `json:"geometry"` // null where no position was recorded
	Properties properties `json:"properties"`
}

type point struct {
	Type        string     `json:"type"`
	Coordinates [2]float64 `json:"coordinates"` // longitude before latitude
}

// properties are the cells of a lead by their columns, in their order.
type properties struct{ l *lead }

// MarshalJSON writes the members in the order of the columns; what is empty is left out.
func (p properties) MarshalJSON() ([]byte, error) {
	b := []byte{'{'}
	put := func(name string, v any) error {
		value, err := json.Marshal(v)
		if err != nil {
			return err
		}
		if len(b) > 1 {
			b = append(b, ',')
		}
		b = append(append(strconv.AppendQuote(b, name), ':'), value...)
		return nil
	}
	cells := leadCells(p.l)
	for i, name := range leadColumns {
		var v any = cells[i]
		switch name {
		case "latitude", "longitude":
			continue
		case "number":
			v = p.l.number
		case "probability":
			v = p.l.Probability
		case "reasons":
			v = p.l.told().Reasons
		case "to_show":
			v = p.l.ToShow
		case "to_show_sources":
			v = sourcesOf(p.l.ToShow)
		}
		if v == "" {
			continue
		}
		if err := put(name, v); err != nil {
			return nil, err
		}
	}
	return append(b, '}'), nil
}

// writeGeoJSON writes the leads as a collection of features, WGS84, longitude first (RFC 7946).
func writeGeoJSON(w io.Writer, all *leads) error {
	features := []feature{}
	for i := range all.all {
		l := &all.all[i]
		f := feature{Type: "Feature", ID: strings.Join([]string{l.Kind, string(l.Stone), string(l.Record)}, "/"), Properties: properties{l}}
		if l.Kind == model.SecondMarker && len(l.Stones) > 0 { // it may be the second of several
			f.ID = strings.Join([]string{l.Kind, string(l.Stone), string(l.Stones[0])}, "/")
		}
		if l.withheld {
			f.ID = l.Kind + "/" + strconv.Itoa(l.number)
		}
		if p := l.place.Position; p != nil {
			f.Geometry = &point{"Point", [2]float64{p.Longitude, p.Latitude}}
		}
		features = append(features, f)
	}
	out := json.NewEncoder(w)
	out.SetEscapeHTML(false)
	// The warnings are a foreign member (RFC 7946, section 6.1).
	if err := out.Encode(struct {
		Type     string    `json:"type"`
		Cautions []string  `json:"cautions"`
		Features []feature `json:"features"`
	}{"FeatureCollection", append(unmarked.Cautions(), all.held()...), features}); err != nil {
		return fmt.Errorf("write GeoJSON: %w", err)
	}
	return nil
}
