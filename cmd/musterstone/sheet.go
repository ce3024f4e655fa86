package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/cmd/musterstone/internal/say"
	"musterstone/index/intake"
	"musterstone/model"
)

// sheetHead are the columns of the sheet that `propose --csv` gives and `decide --from` takes. The first two are for the person to fill in.
var sheetHead = []string{"as", "because", "stone", "record", "chance", "inscription", "place", "man", "for", "against"}

// sheetCandidates is how many candidates of a stone stand in the sheet; further ones that are likely enough to be printed stand there too, up to three times as many.
const sheetCandidates = 2

// printSheet prints a sheet to decide on with pen or spreadsheet: a row for each candidate, and one for each stone as a whole.
func (a *app) printSheet(ctx context.Context, j *job.Job, subjects []*model.Subject, proposals []model.Proposal) error {
	x, err := j.Index(ctx)
	if err != nil {
		return err
	}
	left, err := handOn(ctx, j, subjects, proposals, nil, false)
	if err != nil {
		return err
	}
	rows := [][]string{sheetHead}
	if left != nil {
		a.note(sheetHeld)
		subjects = left.Subjects
	}
	for i, p := range proposals {
		s := subjects[i].Stone
		text := oneLine(s.Marker.Inscription)
		if s.Register != nil {
			text = headline(subjects[i])
		}
		at := say.Place(s.Place)
		for n, c := range p.Candidates {
			if n >= sheetCandidates && (c.Probability < leastPrinted || n >= 3*sheetCandidates) && c.Decided == "" {
				break
			}
			man, evidence := "", c.Evidence
			if left != nil {
				man, evidence = left.candidate(i, c.Record)
			} else if r, ok := x.Record(c.Record); ok {
				man = describe(r.Claim)
			}
			pro, contra := reasons(evidence)
			chance := percent(c.Probability)
			if c.Decided != "" {
				chance = c.Decided + " already"
			}
			rows = append(rows, []string{"", "", string(p.Stone), string(c.Record), chance, text, at, man, strings.Join(pro, "; "), strings.Join(contra, "; ")})
		}
		rows = append(rows, []string{"", "", string(p.Stone), "", percent(p.None), text, at, "the stone as a whole: none, or unsure", "", ""})
	}
	return writeCSV(a.out, rows)
}

// sheetHeld says what of a survey with private columns is not in the sheet.
const sheetHeld = "a sheet is made to be handed on: what columns marked private say is held back in it, IDs apart, by which decide --from takes it back; propose without --csv and the desk show it"

// candidate is what may be told of a candidate of the n-th stone: who he is, and the evidence.
func (o *opened) candidate(n int, id model.RecordID) (man string, evidence []model.Evidence) {
	r := o.record[id]
	if r == nil {
		return "", nil
	}
	for _, c := range o.Proposals[n].Candidates {
		if c.Record == r.ID {
			evidence = c.Evidence
		}
	}
	return describe(r.Claim), evidence
}

// sheetLimit bounds a sheet of decisions, in bytes.
const sheetLimit = 64 << 20

// sheetRow is a decision of a sheet, and the row that it stands in.
type sheetRow struct {
	row                        int
	stone, record, because, by string
	as                         model.Verdict
}

// verdictForms are what people write for a verdict.
var verdictForms = map[string]model.Verdict{
	"confirmed": model.Confirmed, "confirm": model.Confirmed, "c": model.Confirmed, "yes": model.Confirmed,
	"refused": model.Refused, "refuse": model.Refused, "r": model.Refused, "no": model.Refused,
	"none": model.NoneOfThese, "none of these": model.NoneOfThese, "n": model.NoneOfThese,
	"unsure": model.Unsure, "not sure": model.Unsure, "?": model.Unsure, "s": model.Unsure,
	"noted": model.Noted, "note": model.Noted,
}

// onRecord reports whether a verdict is on a stone and a record, and not on a stone as a whole.
func onRecord(v model.Verdict) bool { return v == model.Confirmed || v == model.Refused }

// readSheet reads the rows of a sheet on which something was decided. Every row that cannot be understood is a complaint.
func readSheet(name string, r io.Reader) ([]sheetRow, []model.Complaint, error) {
	data, err := io.ReadAll(io.LimitReader(r, sheetLimit+1))
	if err != nil {
		return nil, nil, fmt.Errorf("read %s: %w", name, err)
	}
	if len(data) > sheetLimit {
		return nil, nil, &job.Refused{Text: fmt.Sprintf("read %s: it is larger than %d megabytes, more than any sheet of decisions; is it the right file?", name, sheetLimit>>20)}
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	if strings.ToValidUTF8(text, "") != text {
		return nil, nil, &job.Refused{Text: fmt.Sprintf("read %s: it is not UTF-8 text; save it from the spreadsheet as CSV, UTF-8", name)}
	}
	c := intake.Beside(strings.NewReader(text))
	head, err := c.Read()
	if err != nil {
		return nil, nil, &job.Refused{Text: fmt.Sprintf("read %s: it has no header row; musterstone propose --csv makes a sheet with one", name)}
	}
	at := map[string]int{}
	for i, h := range head {
		at[strings.ToLower(strings.TrimSpace(h))] = i
	}
	for _, want := range []string{"stone", "as"} {
		if _, ok := at[want]; !ok {
			return nil, nil, &job.Refused{Text: fmt.Sprintf("read %s: it has no column %q; want stone, record, as, because, and by where people share a sheet", name, want)}
		}
	}
	var rows []sheetRow
	var wrong []model.Complaint
	for {
		cells, err := c.Read()
		if err == io.EOF {
			return rows, wrong, nil
		}
		if err != nil {
			return nil, nil, &job.Refused{Text: fmt.Sprintf("read %s: %v; nothing was decided; mend that line, or save the sheet from the spreadsheet as CSV again", name, err)}
		}
		n, _ := c.FieldPos(0)
		cell := func(column string) string {
			i, ok := at[column]
			if !ok || i >= len(cells) {
				return ""
			}
			return strings.TrimSpace(plainCell(cells[i]))
		}
		if cell("as") == "" {
			continue
		}
		row := sheetRow{row: n, stone: cell("stone"), record: cell("record"), because: cell("because"), by: cell("by")}
		complain := func(column, text, hint string) {
			wrong = append(wrong, model.Complaint{File: name, Row: n, Column: column, Text: text, Hint: hint, Fatal: true})
		}
		var ok bool
		if row.as, ok = verdictForms[strings.ToLower(cell("as"))]; !ok {
			complain("as", fmt.Sprintf("%q is not a verdict", cell("as")), "write confirmed, refused, none, unsure or noted")
		}
		switch {
		case row.stone == "":
			complain("stone", "no stone is named", "put its ID there")
		case ok && onRecord(row.as) && row.record == "":
			complain("record", fmt.Sprintf("a stone as a whole cannot be %s", row.as), "write it in the row of a record; on the whole stone write none or unsure")
		case row.as == model.Noted && row.because == "":
			complain("because", "the note says nothing", "write it in the column because")
		}
		if row.as == model.NoneOfThese || row.as == model.Unsure {
			row.record = "" // said in whichever row of the stone
		}
		rows = append(rows, row)
	}
}
