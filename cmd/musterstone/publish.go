package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/cmd/musterstone/internal/upload"
	"musterstone/model"
	"musterstone/vocab/rdf"
	"musterstone/vocab/rdf/site"
)

func (a *app) publishCommand() *cli.Command {
	return &cli.Command{
		Name:      "publish",
		ArgsUsage: "FOLDER",
		Usage:     "write the dataset as Turtle, with vocabulary, shapes and description",
		UsageText: "musterstone publish [--survey FOLDER] [--dry-run] [--jsonld] [--site=false] [--since FOLDER] [--to URL] [--json] OUT",
		Description: "Writes into the folder OUT: the data as Turtle, N-Triples and N-Quads, with vocabulary, shapes, description, example queries, what changed since the\n" +
			"last publication, a README, and pages to browse: copied to a host of plain files at the base IRI, every name of a thing leads to its page. A\n" +
			"proposal is published as a proposal, in files of its own; only what a person confirmed is published as a link. Columns marked private in the\n" +
			"metadata (\"ms:private\": true) stay at home, though find shows them to you: in the place of IDs that are marked, or were made of cells that are, stand numbers made with\n" +
			"a key, private-ids.key in the survey folder; keep it with the survey, and give it to nobody. At home stays everybody who may be living: whoever has no known death and may have\n" +
			"been born less than 110 years ago. That is a rule of caution; the law of your place goes before it. Those who recorded stones are named only where the\n" +
			"metadata say that they agreed (\"ms:nameRecorders\": true); who decided is always named. Decisions go out with their reasons, those on a stone as a whole too;\n" +
			"notes stay at home unless the metadata say otherwise (\"ms:publishNotes\": true). With --dry-run nothing is written: you see what would go out, and what is held back and why.\n" +
			"With --to the publication is also put into a store of linked data (SPARQL 1.1 Graph Store Protocol), in chunks; a run that broke off goes on where\n" +
			"it stopped. An earlier publication in OUT is replaced whole, or not at all. The base IRI (\"ms:base\" in the metadata) ends in a slash; one with # or ? is refused.\n\n" +
			"Example: musterstone publish --survey alder alder-2026",
		Flags: []cli.Flag{
			surveyFlag(), jsonFlag(),
			&cli.BoolFlag{Name: "dry-run", Usage: "write nothing; say what would go out, and what is held back and why"},
			&cli.BoolFlag{Name: "jsonld", Usage: "write the data as JSON-LD too"},
			&cli.BoolFlag{Name: "site", Value: true, Usage: "write pages to browse; --site=false leaves them out"},
			&cli.StringFlag{Name: "since", Usage: "tell what changed since the publication in `FOLDER`, in place of the one in OUT"},
			&cli.StringFlag{Name: "to", Usage: "put the publication into the store whose Graph Store Protocol address is `URL`"},
		},
		Action: a.publishAction,
	}
}

func (a *app) publishAction(c *cli.Context) error {
	dry := c.Bool("dry-run")
	if n := c.Args().Len(); n > 1 || n == 0 && !dry {
		return &usageError{text: "publish takes one folder to write into", hint: "for example: musterstone publish --survey alder alder-published"}
	}
	if dry && c.String("to") != "" {
		return &usageError{text: "--dry-run writes nothing, and so nothing can go --to a store", hint: "leave one of the two out"}
	}
	if since := c.String("since"); since != "" {
		if _, err := os.Stat(filepath.Join(since, "dataset.nt.sha256")); err != nil {
			return &usageError{text: fmt.Sprintf("--since %s: there is no publication (%v)", since, err), hint: "name the folder that an earlier publish wrote, or leave --since out: then it is held to what is in the folder now"}
		}
	}
	j, err := a.openByClock(c)
	if err != nil {
		return err
	}
	defer j.Close()
	out := c.Args().First()
	if err := notTheSurvey("publish", out, j); err != nil {
		return err
	}
	if _, err := base(j); err != nil {
		return err // before the work, not after
	}
	d, err := a.whole(c.Context, j, !dry)
	if err != nil {
		return err
	}
	if dry {
		return a.dryRun(c, j, d)
	}
	if err := a.nothingUnread("publish", out, j); err != nil {
		return err
	}
	d.JSONLD, d.Previous = c.Bool("jsonld"), c.String("since")
	pages := 0
	d.After = func(folder string) error {
		if err := recordsRead(c.Context, j); err != nil || !c.Bool("site") {
			return err // and what stood there before stays
		}
		var err error
		pages, err = site.Write(folder, site.Options{Base: d.Base, Title: d.Title, Publisher: d.Publisher, Licence: d.Licence})
		return err
	}
	earlier := upload.Read(out) // the publication is about to be replaced, and what a store has taken of it must not be forgotten
	summary, err := writeDataset("publish", out, d)
	if err != nil {
		return err
	}
	j.Published(out)
	if err := a.tellPublication(c, out, summary, pages); err != nil {
		return err
	}
	if url := c.String("to"); url != "" {
		if err := a.upload(c.Context, out, d.Base, url, earlier); err != nil {
			return err
		}
	}
	return a.finish(j)
}

// tellPublication prints what was written.
func (a *app) tellPublication(c *cli.Context, out string, s rdf.Summary, pages int) error {
	if c.Bool("json") {
		type summary struct {
			rdf.Summary
			Pages int `json:"pages,omitempty"`
		}
		return jsonLines(a.out, []summary{{s, pages}})
	}
	rows := [][]string{
		{"stones", fmt.Sprint(s.Stones)}, {"records", fmt.Sprint(s.Records)}, {"confirmed links", fmt.Sprint(s.Links)},
		{"triples", fmt.Sprint(s.Triples)}, {"triples of proposals", fmt.Sprint(s.Proposed)}, {"SHA-256 of dataset.nt", s.Digest},
	}
	if pages > 0 {
		rows = append(rows, []string{"pages", fmt.Sprint(pages)})
	}
	if ch := s.Changes; ch != nil {
		text := fmt.Sprintf("%s gone, %d new, of %s and %s", count(ch.Gone, "triple", "triples"), ch.New, count(len(ch.Persons), "confirmed person", "confirmed persons"), count(ch.Others, "other thing", "other things"))
		if ch.Closed {
			text += "; what is gone is not told, for it has what stays at home today: whoever has the earlier publication must take this one whole"
		}
		rows = append(rows, []string{"changes", text})
	}
	columns(a.out, "", append(rows, heldRows(s)...))
	for _, n := range s.Notes {
		fmt.Fprintf(a.out, "note: %s\n", plain(n))
	}
	fmt.Fprintf(a.out, "written: %s in %s\n", strings.Join(s.Files, ", "), plain(out))
	first := "README.txt"
	if pages > 0 {
		first = "index.html"
	}
	fmt.Fprintf(a.out, "Open %s, and look for anyone who may be living, before it goes out: the law of your place goes before this program's rule.\n", plain(filepath.Join(out, first)))
	return nil
}

func heldRows(s rdf.Summary) [][]string {
	var rows [][]string
	for _, h := range s.Held {
		rows = append(rows, []string{"held back", fmt.Sprintf("%s: %s", count(h.N, h.What, h.What+"s"), h.Why)})
	}
	return rows
}

// mostHeld is how many of what is held back the plain form of a dry run names; --json names all.
const mostHeld = 200

// dryRun says what would go out and what is held back, and writes nothing.
func (a *app) dryRun(c *cli.Context, j *job.Job, d rdf.Dataset) error {
	var held []rdf.HeldItem
	var failed error
	n := 0
	d.Tell = func(h rdf.HeldItem) {
		n++
		switch {
		case c.Bool("json"):
			if failed == nil {
				failed = jsonLines(a.out, []map[string]rdf.HeldItem{{"held": h}})
			}
		case len(held) < mostHeld:
			held = append(held, h)
		}
	}
	s, err := rdf.Try(d)
	if err == nil {
		err = failed
	}
	if err == nil {
		err = recordsRead(c.Context, j)
	}
	if err != nil {
		return err
	}
	if c.Bool("json") {
		if err := jsonLines(a.out, []rdf.Summary{s}); err != nil {
			return err
		}
		return a.finish(j)
	}
	fmt.Fprintln(a.out, "nothing was written; this would go out:")
	rows := [][]string{{"triples", fmt.Sprint(s.Triples)}, {"triples of proposals", fmt.Sprint(s.Proposed)}}
	for _, class := range slices.Sorted(maps.Keys(s.Classes)) {
		rows = append(rows, []string{class, fmt.Sprint(s.Classes[class])})
	}
	columns(a.out, "  ", rows)
	if n == 0 {
		fmt.Fprintln(a.out, "nothing is held back for its person's sake")
	} else {
		fmt.Fprintln(a.out, "this is held back:")
		rows = rows[:0]
		for _, h := range held {
			rows = append(rows, []string{h.What, h.ID, string(h.Why)})
		}
		columns(a.out, "  ", rows)
		if n > len(held) {
			fmt.Fprintf(a.out, "  and %d more; --json names them all\n", n-len(held))
		}
	}
	for _, note := range s.Notes {
		fmt.Fprintf(a.out, "note: %s\n", plain(note))
	}
	return a.finish(j)
}

// placeholderBase is the base IRI of a survey whose metadata give none; example.org is set aside for such use (RFC 2606).
const placeholderBase = "https://example.org/survey/"

// base is the base IRI of the survey's data, held to the rule for such.
func base(j *job.Job) (string, error) {
	iri, err := rdf.CheckBase(cmp.Or(j.Survey.Base, placeholderBase))
	if err != nil {
		return "", &job.Refused{Err: fmt.Errorf("name the data of the survey: %w; mend \"ms:base\" in csv-metadata.json", err)}
	}
	return iri, nil
}

// whole runs the job to its end and gathers what is to be published of it. Where keep is set, a key that numbers private ids is kept.
func (a *app) whole(ctx context.Context, j *job.Job, keep bool) (rdf.Dataset, error) {
	proposals, err := j.Propose(ctx, 0)
	if err != nil {
		return rdf.Dataset{}, err
	}
	findings, err := j.Unmarked(ctx, proposals)
	if err != nil {
		return rdf.Dataset{}, err
	}
	return a.dataset(ctx, j, proposals, findings, keep)
}

// dataset gathers what is to be published.
func (a *app) dataset(ctx context.Context, j *job.Job, proposals []model.Proposal, findings []model.Finding, keep bool) (rdf.Dataset, error) {
	var d rdf.Dataset
	iri, err := base(j)
	if err != nil {
		return d, err
	}
	if j.Survey.Base == "" {
		a.note("the metadata give the data no base IRI; " + iri + " stands in for it: set \"ms:base\" in csv-metadata.json before others use the publication")
	}
	x, err := j.Index(ctx)
	if err != nil {
		return d, err
	}
	l, err := j.Ledger()
	if err != nil {
		return d, err
	}
	digests, err := j.Digests()
	if err != nil {
		return d, err
	}
	metadata, err := j.Survey.Describe()
	if err != nil {
		return d, err
	}
	history := l.History()
	d = rdf.Dataset{
		Base: iri, Title: j.Survey.Title, Licence: j.Survey.Licence, Publisher: j.Survey.Publisher,
		Year: a.now().Year(), Program: "Musterstone " + version, Inputs: digests, Metadata: metadata, NameRecorders: j.Survey.NameRecorders,
		Subjects: slices.Values(j.Subjects()), Records: x.Records(ctx), Proposals: proposals, Findings: findings,
		Decisions: history.Decisions, Stands: history.Stands, Astray: history.Astray, PublishNotes: j.Survey.PublishNotes,
	}
	d.Tables, d.Private, _ = privacy(j.Survey)
	d.IDKey = func() ([]byte, error) { return j.IDKey(keep) }
	return d, nil
}

// writeDataset publishes a dataset. A folder that holds something else is for the caller to mend.
func writeDataset(command, out string, d rdf.Dataset) (rdf.Summary, error) {
	s, err := rdf.Publish(out, d)
	if err == nil {
		return s, nil
	}
	err = fmt.Errorf("%s: %w", command, err)
	if occupied := (*rdf.Occupied)(nil); errors.As(err, &occupied) {
		err = &job.Refused{Err: err}
	}
	return s, err
}

// recordsRead is the error that kept records from being read, if one did: what was made of them lacks some.
func recordsRead(ctx context.Context, j *job.Job) error {
	x, err := j.Index(ctx)
	if err != nil {
		return err
	}
	return x.Err()
}

// nothingUnread refuses to write what would lack something that the disk did not give, in the place of what stood there before, and tells what that was.
func (a *app) nothingUnread(command, out string, j *job.Job) error {
	if !j.Unread() {
		return nil
	}
	a.finish(j)
	return fmt.Errorf("%s %s: nothing was written, for it would lack what the disk did not give; what stood there before is untouched; try again when the disk can be read", command, out)
}

// notTheSurvey refuses to write over the survey that is read; "" for no folder is let pass.
func notTheSurvey(command, out string, j *job.Job) error {
	if out == "" {
		return nil
	}
	same, err := sameFolder(out, j.Survey.Dir)
	if err == nil && same {
		err = &job.Refused{Text: fmt.Sprintf("%s %s: this is the survey itself; give another folder, one in it will do", command, out)}
	}
	return err
}

// sameFolder reports whether two paths name one folder.
func sameFolder(a, b string) (bool, error) {
	x, err := filepath.Abs(a)
	if err != nil {
		return false, fmt.Errorf("find folder %s: %w", a, err)
	}
	y, err := filepath.Abs(b)
	if err != nil {
		return false, fmt.Errorf("find folder %s: %w", b, err)
	}
	return x == y, nil
}
