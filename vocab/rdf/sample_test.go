package rdf

import (
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/model"
	"musterstone/model/date"
)

func mustDate(t testing.TB, s string) date.Date {
	t.Helper()
	d, err := date.ParseEDTF(s)
	if err != nil {
		t.Fatal(err)
	}
	d.Written = s
	return d
}

// sample is a small invented survey with one of everything: a confirmed link, a refused one that was withdrawn, a stone and a record of people who
// may be living, a private column, and texts that a careless writer would let out as triples.
func sample(t testing.TB) Dataset {
	t.Helper()
	alder := model.Place{Cemetery: "Alder Creek Old Ground", County: "Dane", State: "WI", Section: "C", Row: "2", Plot: "14", Position: &model.Position{Latitude: 43.0501, Longitude: -89.4}}
	wi31 := model.Unit{State: "WI", Number: 31, Arm: "infantry", Company: "F", Written: "CO. F 31 WIS. INF."}
	holden := model.Claim{
		Person:  model.Person{Name: model.Name{Surname: "Holden", Given: "John", Middle: "T", GivenOr: []string{"Jonathan"}, Written: "JNO. T. HOLDEN"}, Died: mustDate(t, "1891-03-04")},
		Service: model.Service{Rank: "first sergeant", Unit: wi31, Branch: "army", Side: model.Union, Conflicts: []model.ConflictCode{"civil-war"}},
	}
	text := "1ST SGT.\nJNO. T. HO[..]EN\nCO. F 31 WIS. INF."
	stone1 := &model.Subject{
		Stone: &model.Stone{
			ID: "A-1", Source: model.Source{File: "stones.csv", Row: 2}, Place: alder,
			Written:  []model.Cell{{Column: "id", Value: "A-1"}, {Column: "inscription", Value: text}, {Column: "recorder", Value: "V. Okafor"}, {Column: "owner's phone", Value: "555 0100"}, {Column: "odd, (column)", Value: "say \"hi\" . <http://evil.example/s> <p> \"y\x00\x1b"}},
			Marker:   model.Marker{Inscription: text, Top: "slightly rounded", Material: "white marble", Device: "recessed shield", Width: 10, Thickness: 4, Height: 12.25, Motifs: []string{"flag"}},
			Recorder: "V. Okafor", Recorded: mustDate(t, "2025-06-14"), Notes: "leans",
		},
		Readings: []model.Reading{
			{People: []model.Claim{holden}, Probability: 0.9, Tokens: []model.Token{{Span: model.Span{From: 0, To: 8}, Field: "rank", Value: "first sergeant", Source: "ranks.csv:12"}, {Span: model.Span{From: 17, To: 25}, Field: "surname", Value: "holden"}}, Notes: []string{"two letters of the surname are lost"}},
			{Unread: []string{"HO[..]EN"}, Probability: 0.1},
		},
		Implies: model.Implication{
			Patterns: []model.Weighted[model.PatternCode]{{Code: "civil-war-1873", Probability: 0.97}, {Code: "not-government", Probability: 0.03}},
			Services: []model.Weighted[string]{{Code: "civil-war/union", Probability: 1}}, From: 1873, To: 1903, Because: []string{"the words stand in a recessed shield"},
			Contradictions: []model.Contradiction{{Text: "nothing fits"}},
		},
	}
	stone2 := &model.Subject{
		Stone:    &model.Stone{ID: "A-2", Source: model.Source{File: "stones.csv", Row: 3}, Place: model.Place{Cemetery: "Größe \"墓\" \\ \U0001FAA6", County: "Dane"}, Written: []model.Cell{{Column: "id", Value: "A-2"}, {Column: "inscription", Value: "IDA VANE\n1931 -"}}, Marker: model.Marker{Inscription: "IDA VANE\n1931 -"}},
		Readings: []model.Reading{{People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: "Vane", Given: "Ida"}, Born: date.Year(1931)}}}, Probability: 1}},
	}
	worn := "[---]ELL\n1[.]4 ILL. INF."
	stone3 := &model.Subject{
		Stone:    &model.Stone{ID: "A-3", Source: model.Source{File: "stones.csv", Row: 4}, Place: alder, Written: []model.Cell{{Column: "id", Value: "A-3"}, {Column: "inscription", Value: worn}}, Marker: model.Marker{Inscription: worn}},
		Readings: []model.Reading{{People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: "[---]ell", Written: "[---]ELL"}}, Service: model.Service{Side: model.Union, Unit: model.Unit{State: "IL", NumberLost: "1?4", Arm: "infantry", Written: "1[.]4 ILL. INF."}}}}, Probability: 1}},
	}
	record := func(id string, row int, c model.Claim) *model.Record {
		return &model.Record{ID: model.RecordID(id), Source: model.Source{File: "roster.csv", Row: row}, Written: []model.Cell{{Column: "id", Value: id}, {Column: "name", Value: c.Person.Name.Written}}, Claim: c}
	}
	rec1 := holden
	rec1.Person = model.Person{Name: model.Name{Surname: "Holden", Given: "John", Written: "Holden, Jno. T."}, Age: date.Age{Years: 22, Known: true, Written: "22"}}
	rec1.Service.Enlisted = mustDate(t, "1862-08~")
	rec2 := model.Claim{Person: model.Person{Name: model.Name{Surname: "Holder", Given: "J", Written: "Holder, J."}}, Service: model.Service{Unit: model.Unit{Body: "usct", Number: 79, Arm: "infantry"}, Rank: "chief tinker"}}
	rec3 := model.Claim{Person: model.Person{Name: model.Name{Surname: "Late", Given: "Young", Written: "Late, Young"}}, Service: model.Service{Conflicts: []model.ConflictCode{"vietnam"}}}
	at := time.Date(2025, 11, 22, 16, 40, 0, 0, time.UTC)
	seen := &model.Seen{Program: "musterstone 0", Proposal: &model.Proposal{Stone: "A-1", Candidates: []model.Candidate{{Record: "r1", Probability: 0.93, Bits: 17.2}, {Record: "r3", Probability: 0.01, Bits: -3}},
		RunnerUp: &model.RunnerUp{Record: "r3", Behind: 20.2, By: []model.Evidence{{Field: "surname", Bits: 12, Stone: "Holden", Record: "Late, Young"}}}, Notes: []string{"Late, Young is near"}, WouldChange: []string{"that Late, Young lies here"}}}
	return Dataset{
		Base: "https://data.example.org/alder/", Title: "Alder Creek (invented)", Licence: "https://creativecommons.org/publicdomain/zero/1.0/", Publisher: "Alder Creek Historical Society (invented)",
		Generated: at, Program: "musterstone 0", Inputs: map[string]string{"stones.csv": strings.Repeat("0a", 32), "roster.csv": strings.Repeat("1b", 32)},
		Subjects: slices.Values([]*model.Subject{stone1, stone2, stone3}),
		Records:  slices.Values([]*model.Record{record("r1", 2, rec1), record("r2", 3, rec2), record("r3", 4, rec3)}),
		Proposals: []model.Proposal{{Stone: "A-1", None: 0.04, Candidates: []model.Candidate{
			{Record: "r1", Probability: 0.93, Bits: 17.2, Proposed: true, Decided: "confirmed", Evidence: []model.Evidence{{Field: "surname", Level: "same", Bits: 9.1, Stone: "Ho[..]en", Record: "Holden"}, {Field: "rank", Level: "same", Bits: 8.1}}},
			{Record: "r2", Probability: 0.02, Bits: -1, Evidence: []model.Evidence{{Field: "surname", Level: "near", Bits: -1, Why: "one letter"}}},
			{Record: "r3", Probability: 0.01, Bits: -3, Evidence: []model.Evidence{{Field: "surname", Level: "other", Bits: -3}}},
		}}},
		Decisions: []model.Decision{
			{ID: "d1", At: at, By: "V. Okafor", Stone: "A-1", Record: "r1", As: model.Confirmed, Because: "same company", Seen: seen},
			{ID: "d2", At: at.Add(time.Hour), By: "V. Okafor", Stone: "A-1", Record: "r2", As: model.Refused, Because: "other regiment"},
			{ID: "d3", At: at.Add(2 * time.Hour), By: "V. Okafor", Stone: "A-1", Record: "r2", As: model.Withdrawn, Supersedes: "d2"},
			{ID: "d4", At: at.Add(3 * time.Hour), By: "V. Okafor", Stone: "A-9", Record: "r1", As: model.Confirmed},
			{ID: "d5", At: at.Add(4 * time.Hour), By: "V. Okafor", Stone: "A-1", Record: "r3", As: model.Refused},
			{ID: "d6", At: at.Add(5 * time.Hour), By: "B. Quill", Stone: "A-3", As: model.NoneOfThese, Because: "no such regiment here", Seen: &model.Seen{Proposal: &model.Proposal{Stone: "A-3", None: 0.61}}},
			{ID: "d7", At: at.Add(6 * time.Hour), By: "V. Okafor", Stone: "A-3", As: model.Unsure},
			{ID: "d8", At: at.Add(7 * time.Hour), By: "V. Okafor", Stone: "A-3", As: model.Noted, Because: "his granddaughter: 555 0199"},
			{ID: "d9", At: at.Add(8 * time.Hour), By: "V. Okafor", Stone: "A-3", As: model.Withdrawn, Supersedes: "d8"},
		},
		Findings: []model.Finding{{Record: "r2", Kind: model.NoStone, Probability: 0.4, Conflict: "civil-war", Reasons: []string{"no stone answers"}, ToShow: []string{"that he lies here"}}},
		Private:  []string{"Owner's phone"},
		Tables: []Table{
			{File: "stones.csv", Columns: []TableColumn{{"id", MS + "id"}, {"inscription", MS + "inscription"}, {"recorder", MS + "recorder"}, {"owner's phone", ""}, {"odd, (column)", ""}}},
			{File: "roster.csv", Columns: []TableColumn{{"id", MS + "id"}, {"name", MS + "name"}}},
		},
	}
}

// testGraph is a graph with a base.
func testGraph(base string) *graph {
	g := newGraph("")
	g.base = base
	return g
}
