package main

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/ledger"
	"musterstone/link/unmarked"
	"musterstone/model"
	"musterstone/vocab/marker/drawing"
)

//go:embed dossier.html.tmpl
var dossierPage string

func (a *app) dossierCommand() *cli.Command {
	return &cli.Command{
		Name:      "dossier",
		ArgsUsage: "FOLDER",
		Usage:     "a folder with everything that is known of one person, with its sources",
		UsageText: "musterstone dossier [--survey FOLDER] (--stone ID | --record ID) OUT",
		Description: "Writes into the folder OUT everything that the survey knows of the person of a stone, of a row of a burial register or of a service record: dossier.html to read and\n" +
			"print, dossier.csv with one statement a row and where it stands, and the same as linked data (dataset.ttl, with vocabulary, shapes and description).\n" +
			"Proposed records and stones are in it as proposals. A person who may be living gets no dossier. An earlier dossier in OUT is replaced whole, or not at all.\n\n" +
			"Example: musterstone dossier --survey alder --stone OM-14 bardwell",
		Flags: []cli.Flag{surveyFlag(),
			&cli.StringFlag{Name: "stone", Usage: "the `ID` of a stone or of a row of a burial register"},
			&cli.StringFlag{Name: "record", Usage: "the `ID` of a service record"},
		},
		Action: a.dossierAction,
	}
}

func (a *app) dossierAction(c *cli.Context) error {
	const hint = "for example: musterstone dossier --survey alder --stone OM-14 bardwell"
	stone, record := model.StoneID(c.String("stone")), model.RecordID(c.String("record"))
	switch {
	case c.Args().Len() != 1:
		return &usageError{text: "dossier takes one folder to write into", hint: hint}
	case (stone == "") == (record == ""):
		return &usageError{text: "dossier is about one stone or one record", hint: hint}
	}
	j, err := a.openByClock(c)
	if err != nil {
		return err
	}
	defer j.Close()
	out := c.Args().First()
	if err := notTheSurvey("dossier", out, j); err != nil {
		return err
	}
	d, err := a.whole(c.Context, j, true)
	if err != nil {
		return err
	}
	one, err := a.person(c, j, &d, stone, record)
	if err != nil {
		return err
	}
	if err := a.nothingUnread("dossier", out, j); err != nil {
		return err
	}
	d.Also = []string{"dossier.csv", "dossier.html"}
	d.After = func(folder string) error {
		var page bytes.Buffer
		t, err := template.New("dossier").Parse(dossierPage)
		if err != nil {
			return fmt.Errorf("read the page of a dossier: %w", err)
		}
		if err := t.Execute(&page, one.page(j.Survey.Title, "Musterstone "+version)); err != nil {
			return fmt.Errorf("write the page of a dossier: %w", err)
		}
		var table bytes.Buffer
		if err := writeCSV(&table, one.rows()); err != nil {
			return err
		}
		return errors.Join(os.WriteFile(filepath.Join(folder, "dossier.html"), page.Bytes(), 0o644), os.WriteFile(filepath.Join(folder, "dossier.csv"), table.Bytes(), 0o644))
	}
	summary, err := writeDataset("dossier", out, d)
	if err != nil {
		return err
	}
	fmt.Fprintf(a.out, "%s: %s, %s, %s, %s in %s; to read and print: dossier.html there\n", plain(one.name()), count(len(one.subjects), "stone", "stones"), count(len(one.records), "record", "records"),
		count(len(one.decisions), "decision", "decisions"), count(summary.Triples, "triple", "triples"), plain(out))
	return a.finish(j)
}

// rows are the statements of a dossier, one a row: what it is about, what is said, and where it stands.
func (p *person) rows() [][]string {
	rows := [][]string{{"about", "id", "statement", "value", "file", "row", "kind"}}
	add := func(about, id string, src model.Source, kind string, list []pair) {
		row := ""
		if src.Row > 0 {
			row = strconv.Itoa(src.Row)
		}
		for _, q := range list {
			rows = append(rows, []string{about, id, q.Name, q.Value, src.File, row, kind})
		}
	}
	for _, s := range p.subjects {
		about := "stone"
		if s.Stone.Register != nil {
			about = "register row"
		}
		add(about, string(s.Stone.ID), s.Stone.Source, "as written", p.cells(s.Stone.Written, s.Stone.Recorder))
		add(about, string(s.Stone.ID), s.Stone.Source, "as read", claimPairs(p.about(s).Reading().Claim()))
	}
	for _, r := range p.records {
		add("record", string(r.ID), r.Source, "as written", p.cells(r.Written, ""))
		add("record", string(r.ID), r.Source, "as read", claimPairs(r.Claim))
	}
	for _, q := range p.proposals {
		for _, k := range q.Candidates {
			add("proposal", string(q.Stone)+" and "+string(k.Record), model.Source{}, "worked out", p.reasons(k))
		}
	}
	for _, e := range p.decisions {
		add("decision", e.ID, model.Source{File: ledger.FileName}, "decided", pairs("what", string(e.As)+": "+decidedOn(e), "by", e.By,
			"at", e.At.UTC().Format("2006-01-02T15:04:05Z"), "because", e.Because))
	}
	for _, f := range p.findings {
		list := pairs("finding", kindWords(f.Kind), "probability", strconv.FormatFloat(f.Probability, 'f', -1, 64), "war", conflictWords(f.Conflict))
		for _, t := range f.Reasons {
			list = append(list, pair{"reason", t})
		}
		sources := sourcesOf(f.ToShow)
		for i, t := range f.ToShow {
			list = append(list, pair{"still to be shown", t})
			for _, c := range sources[i] {
				list = append(list, pair{"who says where it is kept", c})
			}
		}
		add("finding", string(f.Stone)+string(f.Record), model.Source{}, "worked out", list)
	}
	for _, t := range unmarked.Cautions() {
		add("caution", "", model.Source{}, "told", []pair{{"before anything is done", t}})
	}
	return rows
}

// reasons are a candidate's probability and evidence.
func (p *person) reasons(k model.Candidate) []pair {
	list := []pair{{"probability", strconv.FormatFloat(k.Probability, 'f', 4, 64)}}
	pro, contra := reasons(k.Evidence)
	for _, t := range pro {
		list = append(list, pair{"for", t})
	}
	for _, t := range contra {
		list = append(list, pair{"against", t})
	}
	return list
}

// page is what dossier.html is made from.
func (p *person) page(title, program string) any {
	type part struct {
		Head, From    string
		Svg, Time     template.HTML
		Words         []string
		Read, Written []pair
		List          []pair
	}
	var stones, records, links, decided, found []part
	for i, s := range p.subjects {
		st := *s.Stone
		q := part{Head: standsAt("Stone "+string(s.Stone.ID), s.Stone.Place), From: s.Stone.Source.Words(), Read: claimPairs(p.about(s).Reading().Claim())}
		if s.Stone.Register == nil {
			q.Svg = picture(drawing.Stone(&st, s.Implies), i+1)
			q.Words = strings.Split(st.Marker.Inscription, "\n")
		} else {
			q.Head = standsAt("Row "+string(s.Stone.ID)+" of a burial register", s.Stone.Place)
		}
		l := lead{subject: p.about(s)}
		for _, r := range p.records {
			if l.record == nil && p.probability(s.Stone.ID, r.ID) >= 0.5 {
				l.record = r
			}
		}
		q.Time = picture(drawing.Time(&st, model.Reading{People: []model.Claim{life(&l)}}, s.Implies), i+1)
		q.Written = p.cells(s.Stone.Written, s.Stone.Recorder)
		stones = append(stones, q)
	}
	for _, r := range p.records {
		records = append(records, part{Head: "Service record " + string(r.ID), From: r.Source.Words(), Read: claimPairs(r.Claim), Written: p.cells(r.Written, "")})
	}
	for _, g := range p.proposals {
		for _, k := range g.Candidates {
			links = append(links, part{Head: fmt.Sprintf("Stone %s and record %s: %s%s", g.Stone, k.Record, percent(k.Probability), decidedWords(k.Decided)), List: p.reasons(k)[1:]})
		}
	}
	for _, e := range p.decisions {
		decided = append(decided, part{Head: fmt.Sprintf("%s by %s on %s", say.Capital(string(e.As)), e.By, dayWords(e.At.UTC())),
			List: pairs("stone", string(e.Stone), "record", string(e.Record), "because", e.Because, "decision", e.ID)})
	}
	for _, f := range p.findings {
		q := part{Head: say.Capital(kindWords(f.Kind)) + ", " + percent(f.Probability)}
		for _, t := range f.Reasons {
			q.List = append(q.List, pair{"because", t})
		}
		sources := sourcesOf(f.ToShow)
		for i, t := range f.ToShow {
			q.List = append(q.List, pair{"to be shown", t})
			if len(sources[i]) > 0 {
				q.List = append(q.List, pair{"kept there, says", strings.Join(sources[i], "; ")})
			}
		}
		found = append(found, q)
	}
	return struct {
		Name, Title, Program                        string
		Stones, Records, Links, Decisions, Findings []part
		Cautions                                    []string
	}{p.name(), title, program, stones, records, links, decided, found, unmarked.Cautions()}
}

// standsAt names a stone or a row with its place, where that is known.
func standsAt(what string, p model.Place) string {
	if at := say.Place(p); at != "" {
		return what + ", " + at
	}
	return what
}

// decidedWords say whether a person decided on a candidate, and how.
func decidedWords(s string) string {
	if s == "" {
		return ", proposed"
	}
	return ", " + s + " by a person"
}
