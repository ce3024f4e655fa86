package main

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link"
	"musterstone/model"
)

func precisionFlag() cli.Flag {
	return &cli.Float64Flag{Name: "precision", Value: link.DefaultPrecision, Usage: "propose only as long as this `SHARE` of the proposals can be expected to be right"}
}

// precision is the value of the flag, checked.
func precision(c *cli.Context) (float64, error) {
	p := c.Float64("precision")
	if !(p > 0 && p < 1) {
		return 0, &usageError{text: fmt.Sprintf("--precision %v is not between 0 and 1", p), hint: "for example: --precision 0.98"}
	}
	return p, nil
}

func (a *app) proposeCommand() *cli.Command {
	return &cli.Command{
		Name:      "propose",
		Usage:     "for each stone, the service records that may be its man, ranked, with reasons",
		UsageText: "musterstone propose [--survey FOLDER] [--only STONE | --only GROUND] [--json | --csv] [--precision 0.98] [--timings]",
		Description: "Weighs every stone against the rosters. Reasons are in bits: each bit doubles the odds. A stone may belong to none of the\n" +
			"records. Nothing is linked until a person confirms it with decide; propose writes nothing but its index and, beside it, its answers.\n" +
			"A match is no proof: look at the stone and at the record before you confirm.\n\n" +
			"The percentage is the chance that the record is that of the stone's man. unmarked, which asks who is a veteran, counts it for less where nothing on\n" +
			"the stone speaks of service, or for more where the record buries him there; where it does, it tells both.\n\n" +
			"Before a record stands > where it is proposed, + where it is proposed for another stone of which this may be the man's second,\n" +
			"= where somebody has decided, and nothing where it is only shown. Of the sheet of --csv the columns as and because are yours to\n" +
			"fill in: confirmed or refused in the row of a record, none or unsure in that of the stone as a whole, noted in either. The sheet is made to be handed on: what\n" +
			"columns marked private in the metadata say is held back in it, as publish does, IDs apart, which decide --from needs. Men who may be living are named in it.\n\n" +
			"With --only it shows one stone, or one burial ground. Where stones, rosters, decisions and precision are as they were at the last run over\n" +
			"the whole survey, it says at once what that said, of all stones too; where they are not, it weighs the whole survey again.\n\n" +
			"The memory that it takes is bounded: 288 MB, and 128 bytes a record and 3.5 KB a stone more, beside the files of the index; GOMEMLIMIT sets\n" +
			"another bound, and one that is too little for the survey is refused.\n\nExample: musterstone propose --survey alder",
		Flags: []cli.Flag{surveyFlag(), jsonFlag(), precisionFlag(),
			&cli.BoolFlag{Name: "csv", Usage: "print a sheet to decide on with pen or spreadsheet; decide --from takes it back"},
			&cli.StringFlag{Name: "only", Aliases: []string{"stone"}, Usage: "show only the stone with this ID, or the stones of this burial ground: `WHICH`"},
			&cli.BoolFlag{Name: "timings", Usage: "say on standard error how long each part of the work took"}},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			if c.Bool("csv") && c.Bool("json") {
				return &usageError{text: "--csv and --json exclude each other", hint: "for example: musterstone propose --csv"}
			}
			p, err := precision(c)
			if err != nil {
				return err
			}
			j, err := a.open(c)
			if err != nil {
				return err
			}
			defer j.Close()
			a.noteStones(j)
			if c.Bool("timings") {
				defer j.WriteTimings(a.err)
			}
			return a.propose(c, j, p)
		},
	}
}

func (a *app) propose(c *cli.Context, j *job.Job, precision float64) error {
	only, asJSON := c.String("only"), c.Bool("json")
	var err error
	if c.Bool("csv") {
		err = a.proposeSheet(c.Context, j, only, precision)
	} else if answers, ok := keptAnswers(j, only, asJSON, precision); ok {
		w := bufio.NewWriterSize(a.out, 1<<16)
		err = errors.Join(printOnly(w, j, only, answers, asJSON), w.Flush())
	} else if run, ok := keptRun(j, only, asJSON, precision); ok {
		err = a.printAgain(run, asJSON)
		run.Close()
	} else {
		err = a.printProposals(c.Context, j, only, asJSON, precision)
	}
	if err != nil {
		return err
	}
	return a.finish(j)
}

// proposeSheet makes the proposals of all stones and prints the sheet of those that only names, or of all.
func (a *app) proposeSheet(ctx context.Context, j *job.Job, only string, precision float64) error {
	proposals, err := j.Propose(ctx, precision)
	if err != nil {
		return err
	}
	subjects := j.Subjects()
	if only == "" {
		return a.printSheet(ctx, j, subjects, proposals)
	}
	var chosen []*model.Subject
	var theirs []model.Proposal
	for _, i := range job.Pick(subjects, only) {
		chosen, theirs = append(chosen, subjects[i]), append(theirs, proposals[i])
	}
	if len(chosen) == 0 {
		return noSuch(j, only)
	}
	return a.printSheet(ctx, j, chosen, theirs)
}

// keptAnswers are the answers to only that a whole run has left, where that is as it would be now and they are fit to print.
func keptAnswers(j *job.Job, only string, asJSON bool, precision float64) ([]job.Answer, bool) {
	if only == "" {
		return nil, false
	}
	return j.Kept(precision, only, fit(asJSON))
}

// keptRun is what a whole run has left, where that is as it would be now, and all that is to be printed now is in it and fit to print.
func keptRun(j *job.Job, only string, asJSON bool, precision float64) (*job.KeptRun, bool) {
	if only != "" {
		return nil, false
	}
	fit := fit(asJSON)
	run, ok := j.KeptRun(precision, func(a *job.Answer, brief bool) bool { return (asJSON || !brief) && fit(a, brief) })
	if ok && !asJSON && !run.Sought {
		run.Close()
		return nil, false
	}
	return run, ok
}

// printAgain prints what a whole run has left.
func (a *app) printAgain(run *job.KeptRun, asJSON bool) error {
	w := bufio.NewWriterSize(a.out, 1<<16)
	var t totals
	if err := run.Each(asJSON, func(answer *job.Answer) { t.write(w, answer, asJSON) }); err != nil {
		return errors.Join(err, w.Flush())
	}
	if !asJSON {
		t.close(w)
		printNext(w, run.Next)
	}
	return w.Flush()
}

// fit reports whether a kept answer, of a file in a folder that may be another's, is fit to print. One that is brief is worded for it.
func fit(asJSON bool) func(a *job.Answer, brief bool) bool {
	if asJSON {
		return func(a *job.Answer, brief bool) bool { return json.Valid(a.JSON) }
	}
	return func(a *job.Answer, brief bool) bool {
		if brief {
			return word(a)
		}
		for line := range strings.SplitSeq(string(a.Text), "\n") {
			if plain(line) != line {
				return false
			}
		}
		return true
	}
}

// word words a brief answer; not ok where it is none.
func word(a *job.Answer) (ok bool) {
	var p model.Proposal
	lines := strings.Split(string(a.Text), "\n")
	if json.Unmarshal(a.JSON, &p) != nil || len(lines) != 1+named(&p)+1 || p.RunnerUp != nil && len(p.Candidates) < 2 {
		return false
	}
	var b bytes.Buffer
	printProposal(&b, a, lines[0], func(n int) string { return lines[1+n] }, &p)
	a.Text = b.Bytes()
	return true
}

// brief are the words of a proposal that are not in its JSON, a line each: what the stone says, and who the men are that are named.
func brief(w *bytes.Buffer, headline string, who func(candidate int) string, p *model.Proposal) {
	w.WriteString(plain(headline))
	w.WriteByte('\n')
	for n := range named(p) {
		w.WriteString(plain(who(n)))
		w.WriteByte('\n')
	}
}

// noSuch says that only names nothing, and what is near it.
func noSuch(j *job.Job, only string) error {
	text := fmt.Sprintf("there is no stone and no burial ground %q in the survey", only)
	if id, ok := zeros(only, func(id string) bool { return len(job.Pick(j.Subjects(), id)) > 0 }); ok {
		text += fmt.Sprintf("; there is a stone %q: zeros before a number count", id)
	}
	return &usageError{text: text, hint: nearGrounds(grounds(j.Subjects()), only) + "; musterstone read lists the stones"}
}

// askedFirst is how many stones a listing names of those whose answers settle most.
const askedFirst = 5

// printNext names the stones to be asked about first.
func printNext(w io.Writer, next []model.StoneID) {
	words := make([]string, 0, len(next))
	for _, id := range next {
		words = append(words, plain(string(id)))
	}
	if len(words) > 0 {
		fmt.Fprintf(w, "To be asked first, for what their answers settle: %s\n", strings.Join(words, ", "))
	}
}

// totals are what the last line of the printed proposals says.
type totals struct{ stones, proposed, confirmed int }

// count counts the answer of one stone.
func (t *totals) count(a *job.Answer) {
	t.stones++
	t.proposed += a.Proposed
	t.confirmed += a.Confirmed
}

// write writes the answer of one stone, and counts it.
func (t *totals) write(w io.Writer, a *job.Answer, asJSON bool) {
	t.count(a)
	if asJSON {
		w.Write(a.JSON)
		return
	}
	w.Write(a.Text)
}

func (t *totals) close(w io.Writer) {
	fmt.Fprintf(w, "\n%s: %d proposed (marked >), %d confirmed. Reasons are in bits: each bit doubles the odds.\nA match is no proof: look at the stone and at the record before you confirm.\n", count(t.stones, "stone", "stones"), t.proposed, t.confirmed)
}

// printOnly prints the answers of the stones that only names.
func printOnly(w io.Writer, j *job.Job, only string, answers []job.Answer, asJSON bool) error {
	if len(answers) == 0 {
		return noSuch(j, only)
	}
	var t totals
	for i := range answers {
		t.write(w, &answers[i], asJSON)
	}
	if !asJSON {
		t.close(w)
	}
	return nil
}

// printProposals makes and prints the proposals of all stones, or of those that only names, as JSON or with a line or more for each candidate that matters; and keeps the
// answers of all. They are printed as they are made, so that few are held at once.
func (a *app) printProposals(ctx context.Context, j *job.Job, only string, asJSON bool, precision float64) error {
	kept, whole := j.Keep(precision, asJSON), false
	defer func() { kept.Close(whole) }()
	w := bufio.NewWriterSize(a.out, 1<<16)
	var t totals
	var next link.Asking
	which := job.Gather[job.Answer](only)
	err := j.Each(ctx, precision, func(told *link.Told) func() error {
		p := answerers.Get().(*answerer)
		answers, err := p.answers(j, told, asJSON)
		return func() error {
			if err != nil {
				return err
			}
			kept.Add(answers, p.json.b, p.text.Bytes())
			for k := range answers {
				if only != "" {
					which.Add(answers[k].Stone, answers[k].Cemetery, answers[k])
					continue
				}
				t.count(&answers[k])
				if !asJSON {
					next.Add(&told.Proposals[k])
				}
			}
			if only == "" { // else what was printed is still asked for
				if asJSON {
					w.Write(p.json.b)
				} else {
					w.Write(p.text.Bytes())
				}
				answerers.Put(p)
			}
			return nil
		}
	})
	if err != nil {
		return err
	}
	whole = true
	if only != "" {
		return errors.Join(printOnly(w, j, only, which.All(), asJSON), w.Flush())
	}
	if !asJSON {
		first := next.Next()
		first = first[:min(askedFirst, len(first))]
		kept.Ask(first)
		t.close(w)
		printNext(w, first)
	}
	return w.Flush()
}

// For people, a stone's further candidates are printed from a probability on, and not more of them than this. The sheet goes by the same probability.
const (
	leastPrinted = 0.01
	mostPrinted  = 3
)

// An answerer prints proposals, stretch by stretch, into the same room.
type answerer struct {
	json jsonWriter
	text bytes.Buffer
}

var answerers = sync.Pool{New: func() any { return new(answerer) }}

// answers prints the proposals of a stretch, in words too where they are not brief. What it gives stands in the answerer.
func (p *answerer) answers(j *job.Job, told *link.Told, inBrief bool) ([]job.Answer, error) {
	p.json.b = p.json.b[:0]
	p.text.Reset()
	answers := make([]job.Answer, len(told.Proposals))
	ends := make([][2]int, len(answers))
	for k := range answers {
		s := told.Subjects[k]
		answers[k] = job.Answer{Stone: s.Stone.ID, Cemetery: s.Stone.Place.Cemetery}
		if err := p.json.proposal(&told.Proposals[k]); err != nil {
			return nil, err
		}
		name := func(n int) string { return who(j.Record(told, k, n)) }
		if inBrief {
			brief(&p.text, headline(s), name, &told.Proposals[k])
		} else {
			printProposal(&p.text, &answers[k], headline(s), name, &told.Proposals[k])
		}
		ends[k] = [2]int{len(p.json.b), p.text.Len()}
	}
	from := [2]int{}
	for k, to := range ends {
		answers[k].JSON, answers[k].Text = p.json.b[from[0]:to[0]], p.text.Bytes()[from[1]:to[1]]
		from = to
	}
	return answers, nil
}

// named is how many of the candidates are printed for people with who they are.
func named(p *model.Proposal) int {
	for n, c := range p.Candidates {
		if n == mostPrinted || n > 0 && c.Probability < leastPrinted && c.Decided == "" {
			return n
		}
	}
	return len(p.Candidates)
}

// printProposal prints a proposal for people, and counts what it proposes.
func printProposal(w *bytes.Buffer, a *job.Answer, headline string, who func(candidate int) string, p *model.Proposal) {
	a.Proposed, a.Confirmed = 0, 0
	fmt.Fprintf(w, "%s  %s\n", plain(string(p.Stone)), plain(headline))
	told := named(p)
	for n, c := range p.Candidates[:told] {
		printCandidate(w, c, who(n))
		if c.Proposed && c.Decided == "" {
			a.Proposed++
		}
		if c.Decided == string(model.Confirmed) {
			a.Confirmed++
		}
	}
	if told == mostPrinted {
		printFurther(w, p.Candidates[told:])
	}
	if len(p.Candidates) == 0 {
		fmt.Fprintln(w, "    no record comes near")
	} else {
		fmt.Fprintf(w, "    none of the records: %s\n", percent(p.None))
	}
	printRunnerUp(w, *p)
	for _, n := range p.Notes {
		fmt.Fprintf(w, "    note: %s\n", plain(n))
	}
}

// printFurther names the candidates for whom there is no room, as far as they are likely enough to be printed.
func printFurther(w io.Writer, further []model.Candidate) {
	var words []string
	for _, c := range further {
		if c.Probability < leastPrinted && c.Decided == "" {
			break
		}
		words = append(words, fmt.Sprintf("%s %s", c.Record, cmp.Or(c.Decided, percent(c.Probability))))
	}
	if len(words) == 0 {
		return
	}
	fmt.Fprintf(w, "    and %d more: %s\n", len(words), plain(strings.Join(words, ", ")))
}

// printRunnerUp says why the second candidate lost and what would change the ranking, where there is doubt.
func printRunnerUp(w io.Writer, p model.Proposal) {
	if r := p.RunnerUp; r != nil && p.Candidates[1].Probability >= leastPrinted {
		var by []string
		for _, e := range r.By[:min(3, len(r.By))] {
			by = append(by, fmt.Sprintf("%s %+.1f", say.Field(e.Field), -e.Bits))
		}
		if len(by) > 0 {
			fmt.Fprintf(w, "    %s is %.1f bits behind: %s\n", plain(string(r.Record)), r.Behind, plain(strings.Join(by, ", ")))
		}
	}
	for _, s := range p.WouldChange {
		fmt.Fprintf(w, "    %s\n", plain(s))
	}
}

// namesakes says how many men share the record's name, where any do: "3 men named William Smith; 2 in Company K".
func namesakes(n *model.Namesakes) string {
	if n == nil || n.Men < 2 {
		return ""
	}
	text := fmt.Sprintf("%d men named %s", n.Men, n.Name)
	if n.Company != "" {
		text += fmt.Sprintf("; %d in %s", n.InCompany, n.Company)
	}
	return text
}

// who says who the man of a record is.
func who(r *model.Record) string {
	if r == nil {
		return "(record no longer in the rosters)"
	}
	return describe(r.Claim)
}

// printCandidate prints a candidate, who is that man, with its reasons.
func printCandidate(w io.Writer, c model.Candidate, who string) {
	mark := "    "
	switch {
	case c.Decided != "":
		mark = "  = "
	case c.Proposed:
		mark = "  > "
	case c.Second: // proposed for another stone, and this would be his second
		mark = "  + "
	}
	state := percent(c.Probability)
	if c.Decided != "" {
		state = plain(c.Decided) // a kept answer may be another's
	}
	fmt.Fprintf(w, "%s%s  %s  %s, %+.1f bits\n", mark, plain(string(c.Record)), plain(who), state, c.Bits)
	pro, contra := reasons(c.Evidence)
	if len(pro) > 0 {
		fmt.Fprintf(w, "        for: %s\n", plain(strings.Join(pro, "; ")))
	}
	if text := namesakes(c.Namesakes); text != "" {
		fmt.Fprintf(w, "        in the rosters: %s\n", plain(text))
	}
	if len(contra) > 0 {
		fmt.Fprintf(w, "        against: %s\n", plain(strings.Join(contra, "; ")))
	}
}
