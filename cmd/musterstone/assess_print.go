package main

import (
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"musterstone/link"
	"musterstone/link/assess"
	"musterstone/link/calibrate"
)

// writeDiagrams draws the precision-recall curve and the reliability diagram into a folder, which it makes.
func writeDiagrams(dir string, m *measured) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("make the folder for the diagrams: %w", err)
	}
	recall, precision, average := assess.Curve(m.proposals, m.truth)
	for name, text := range map[string]string{
		"precision.svg":   assess.CurveSVG(m.Report, recall, precision, average),
		"reliability.svg": assess.ReliabilitySVG(m.Report),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			return fmt.Errorf("write a diagram: %w", err)
		}
	}
	return nil
}

func rateWords(x assess.Rate) string {
	if x.Of == 0 {
		return "none to count"
	}
	return fmt.Sprintf("%.3f  (%d of %d; 95%% interval %.3f to %.3f)", x.Value(), x.Hits, x.Of, x.Low, x.High)
}

func shortRate(x assess.Rate) string {
	if x.Of == 0 {
		return "-"
	}
	return fmt.Sprintf("%.3f  %.3f to %.3f", x.Value(), x.Low, x.High)
}

// printMeasured prints all that assess has to say, the summary first.
func printMeasured(w io.Writer, m *measured) {
	r := m.Report
	rows := [][]string{
		{"stones", fmt.Sprintf("%d; %d of them with a true record, and for %d one is proposed", r.Stones, r.Links, r.Precision.Of)},
		{"precision of what is proposed", rateWords(r.Precision)},
		{"recall of what is proposed", rateWords(r.Recall)},
	}
	if r.Seconds.Of > 0 {
		rows = append(rows, []string{"… of them a man's second stone", rateWords(r.Seconds)},
			[]string{"without those: precision", rateWords(r.AlonePrecision)},
			[]string{"without those: recall", rateWords(r.AloneRecall)})
	}
	if r.GaveWay.Of > 0 {
		rows = append(rows, []string{"one man, one stone", fmt.Sprintf("of %s the man who weighs most is proposed for another; rightly for %d", count(r.GaveWay.Of, "stone", "stones"), r.GaveWay.Hits)})
	}
	columns(w, "", append(rows, [][]string{
		{"F1", fmt.Sprintf("%.3f  (average precision over all thresholds %.3f)", r.F1, r.AveragePrecision)},
		{"the true record stands first", rateWords(r.First)},
		{"… among the first five", rateWords(r.Five)},
		{"… among the candidates", rateWords(m.Retrieval.Completeness)},
		{"… where the surname can be read", rateWords(m.Retrieval.Readable)},
		{"candidates a stone", fmt.Sprintf("%.1f; %.4f of all pairs need not be weighed", m.Retrieval.Candidates, m.Retrieval.Reduction)},
		{"calibration error", fmt.Sprintf("%.3f  (%.3f would come of chance alone; log loss %.3f bits)", r.ECE, r.ChanceECE, r.LogLoss)},
		{"Brier score", fmt.Sprintf("%.4f = uncertainty %.4f - resolution %.4f + reliability %.4f", r.Brier, r.Split.Uncertainty, r.Split.Resolution, r.Split.Reliability)},
		{"work saved", fmt.Sprintf("%.1f minutes for each true link proposed, counting %g minutes for a stone by hand, %g for a proposal, %g for a list", m.Saved, assess.ByHand, assess.ForProposal, assess.ForCandidate)},
	}...))
	if r.Precision.Of > 0 {
		fmt.Fprintf(w, "\nexpected without the truth: precision %.3f, give or take %.3f; recall %.3f\n%s\n", r.ExpectedPrecision, r.ExpectedSpread, r.ExpectedRecall, trust(r))
	}
	if len(r.Bins) > 0 {
		var rows [][]string
		for _, p := range r.Thresholds {
			rows = append(rows, []string{fmt.Sprintf("%.2f", p.Least), shortRate(p.Precision), shortRate(p.Recall), fmt.Sprintf("%.3f", p.F1)})
		}
		fmt.Fprintln(w, "\nif every stone's best candidate were proposed from a probability on (with 95% intervals):")
		columns(w, "  ", append([][]string{{"from", "precision", "recall", "F1"}}, rows...))
	}
	printCuts(w, m.Cuts)
	rows = [][]string{{"stones", "", "proposed for", "precision", "recall", "calibration error"}}
	for _, g := range m.Groups {
		rows = append(rows, []string{g.Name, fmt.Sprint(g.Stones), fmt.Sprint(g.Precision.Of), shortRate(g.Precision), shortRate(g.Recall), fmt.Sprintf("%.3f", g.ECE)})
	}
	fmt.Fprintln(w, "\napart:")
	columns(w, "  ", rows)
	printLesson(w, "learned from the stones, without decisions", m.Learned)
	if h := m.Helped; h != nil {
		fmt.Fprintf(w, "\nthe %s that nobody has decided, before and after what %s taught:\n", count(h.Before.Stones, "stone", "stones"), count(h.Decisions, "decision", "decisions"))
		columns(w, "  ", [][]string{
			{"", "before", "after"},
			{"precision", shortRate(h.Before.Precision), shortRate(h.After.Precision)},
			{"recall", shortRate(h.Before.Recall), shortRate(h.After.Recall)},
			{"calibration error", fmt.Sprintf("%.3f", h.Before.ECE), fmt.Sprintf("%.3f", h.After.ECE)},
			{"log loss", fmt.Sprintf("%.3f bits", h.Before.LogLoss), fmt.Sprintf("%.3f bits", h.After.LogLoss)},
		})
		printLesson(w, "learned with the decisions", h.Learned)
		c := h.Learned.Calibration
		switch {
		case c.Decisions < calibrate.Least:
			fmt.Fprintf(w, "  probabilities are left as they are: %s, and %d are needed to learn from\n", count(c.Decisions, "decision", "decisions"), calibrate.Least)
		case c.Kind == calibrate.AsItIs:
			fmt.Fprintf(w, "  probabilities are left as they are: no curve through %d decisions foretells the others better\n", c.Decisions)
		default:
			fmt.Fprintf(w, "  probabilities are mapped (%s, from %d decisions): the surprise at a decision goes from %.3f to %.3f bits\n", c.Kind, c.Decisions, c.Before, c.After)
		}
	}
	printErrors(w, r)
}

// printCuts prints the two cuts of Fellegi and Sunter, and what lies on either side.
func printCuts(w io.Writer, c assess.Cuts) {
	fmt.Fprintf(w, "\ntwo cuts by the rule of Fellegi and Sunter (1969), from the probabilities alone: for every 100 true links at most %.3g false ones made, and at most %.3g given up:\n", 100*c.Lambda, 100*c.Lambda)
	row := func(what string, p assess.Part) []string {
		from := ""
		if p.From > 0 {
			from = fmt.Sprintf("%.3f", p.From)
		}
		return []string{what, from, fmt.Sprint(p.Pairs), fmt.Sprintf("%.1f", p.Expected), fmt.Sprint(p.Right)}
	}
	columns(w, "  ", [][]string{
		{"", "from", "pairs", "right, expected", "right"},
		row("to link", c.Linked), row("for a person to look at", c.Review), row("to leave", c.Left),
	})
	if c.Unseen > 0 {
		fmt.Fprintf(w, "  of the true links that are left, %d could not be found: no list of candidates has the man\n", c.Unseen)
	}
}

// trust says how far the estimate without the truth is to be trusted.
func trust(r assess.Report) string {
	off := math.Abs(r.ExpectedPrecision - r.Precision.Value())
	if off <= r.ExpectedSpread+.005 {
		return fmt.Sprintf("the truth agrees with that (%.3f off); on a survey without truth it holds as far as its rosters, stones and recorders are like these", off)
	}
	return fmt.Sprintf("the truth does not bear that out (%.3f off): do not trust it here, and check a sample of the proposals by hand", off)
}

// moved is the least by which an m must have moved to be printed.
const moved = 0.05

// printLesson prints what was learned: the coverage, and the m that moved.
func printLesson(w io.Writer, title string, l *link.Lesson) {
	fmt.Fprintf(w, "\n%s:\n", title)
	fmt.Fprintf(w, "  the rosters hold %.0f%% of the veterans on the stones; a stone that says nothing of a service is a veteran's %.1f times as often as assumed;\n"+
		"  one whose surname no record bears is of a man in them %.1f times as often as others;\n"+
		"  a hundred stones and the records of their men differ in %.0f things that should be the same: the more of these, the less the odds are believed\n", 100*l.Coverage, l.Plain, l.Unlisted, 100*l.Slips)
	if l.Refused != "" {
		fmt.Fprintf(w, "  weights: those of the table; what the stones taught was refused: %s\n", l.Refused)
		return
	}
	rows := [][]string{{"of stones and records of one man", "assumed", "learned", "pairs"}}
	for _, v := range l.Levels {
		if math.Abs(v.After-v.Before) >= moved {
			name := v.Field + ": " + v.Level
			if v.Roster != "" {
				name += " (" + v.Roster + ")"
			}
			rows = append(rows, []string{name, fmt.Sprintf("%.2f", v.Before), fmt.Sprintf("%.2f", v.After), fmt.Sprintf("%.1f", v.Pairs)})
		}
	}
	if len(rows) == 1 {
		fmt.Fprintln(w, "  no weight moved by as much as 0.05")
	} else {
		columns(w, "  ", rows)
	}
	printChances(w, l.Chances)
}

// printChances prints the u that decisions moved. A u depends on the value, so that what is told is by how much the u of all values at a level moved together.
func printChances(w io.Writer, chances []link.LearnedChance) {
	if len(chances) == 0 {
		return
	}
	rows := [][]string{{"how often those of two men agree so", "as counted", "learned", "foretold right", "were right"}}
	for _, v := range chances {
		if math.Abs(v.Times-1) >= moved {
			rows = append(rows, []string{v.Field + ": " + v.Level, "×1", fmt.Sprintf("×%.2f", v.Times), fmt.Sprintf("%.1f", v.Foretold), fmt.Sprintf("%.1f", v.Right)})
		}
	}
	if len(rows) == 1 {
		fmt.Fprintln(w, "  no chance of agreeing by accident moved by as much as a twentieth")
		return
	}
	columns(w, "  ", rows)
}

// printErrors lists the errors, counted by kind first.
func printErrors(w io.Writer, r assess.Report) {
	if len(r.Errors) == 0 {
		return
	}
	var kinds [][]string
	for _, k := range r.Kinds {
		kinds = append(kinds, []string{string(k.Kind), fmt.Sprint(k.N)})
	}
	fmt.Fprintln(w, "\nnot as the truth has it, by kind:")
	columns(w, "  ", kinds)
	fmt.Fprintln(w, "\none by one:")
	var rows [][]string
	for _, e := range r.Errors {
		trues := make([]string, len(e.True))
		for i, t := range e.True {
			trues[i] = string(t)
		}
		is := "true: " + strings.Join(trues, ", ")
		if len(trues) == 0 {
			is = "true: none"
		}
		proposed := ""
		if e.Proposed != "" {
			proposed = "proposed: " + string(e.Proposed)
		}
		rows = append(rows, []string{string(e.Stone), string(e.Kind), is, proposed, e.Why})
	}
	columns(w, "  ", rows)
}
