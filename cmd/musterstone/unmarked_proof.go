package main

import (
	"slices"
	"strconv"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/link/unmarked"
	"musterstone/model"
	"musterstone/vocab"
)

// sourcesOf are, for each line of what is to be shown, the sources for where it is kept, written out.
func sourcesOf(toShow []string) [][]string {
	out := make([][]string, len(toShow))
	for i, t := range toShow {
		out[i] = []string{}
		if p, ok := unmarked.ProofOf(t); ok {
			out[i] = citations(p.Source)
		}
	}
	return out
}

// citations are sources written out, of their keys parted by blanks.
func citations(keys string) []string {
	var out []string
	for _, key := range strings.Fields(keys) {
		if citation, where, ok := vocab.Source(key); ok {
			out = append(out, strings.TrimSuffix(citation, ".")+address(where))
		}
	}
	return out
}

// address is where a source is found, in brackets.
func address(where string) string {
	where = strings.TrimPrefix(strings.TrimPrefix(where, "https://"), "http://")
	if where == "" {
		return ""
	}
	return " (" + where + ")"
}

// numbered is a list of sources, each with a number from 1, in the order in which they were asked for.
type numbered struct{ list []string }

// of gives the numbers of the sources of a line of what is to be shown: "1, 3"; "" where it has none.
func (n *numbered) of(line string) string {
	var out []string
	for _, c := range sourcesOf([]string{line})[0] {
		i := slices.Index(n.list, c)
		if i < 0 {
			i = len(n.list)
			n.list = append(n.list, c)
		}
		out = append(out, strconv.Itoa(i+1))
	}
	return strings.Join(out, ", ")
}

// proofSources are the things that the leads still have to show, each once, in the order of the table, and the sources for where they are kept.
func proofSources(all *leads) (lines []proofLine, sources []string) {
	asked := map[string]bool{}
	for i := range all.all {
		for _, t := range all.all[i].ToShow {
			asked[t] = true
		}
	}
	var n numbered
	for _, p := range unmarked.Proofs() {
		if asked[p.String()] {
			asked[p.String()] = false
			lines = append(lines, proofLine{say.Capital(p.String()), n.of(p.String())})
		}
	}
	return lines, n.list
}

// findingJSON is one line of `unmarked --json`: a finding, the sources for what is to be shown, line by line, and the warnings in short.
type findingJSON struct {
	model.Finding
	Sources [][]string `json:"to_show_sources"`
	Caution string     `json:"caution"`
}

func newFindingJSON(f model.Finding) findingJSON {
	return findingJSON{f, sourcesOf(f.ToShow), unmarked.Caution()}
}
