package rdf

import (
	"bufio"
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"iter"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Changes is how a publication differs from the one before it.
type Changes struct {
	Since string `json:"since"` // digest of the dataset.nt before
	// Gone and New count triples, of data and proposals.
	Gone    int            `json:"gone"`
	New     int            `json:"new"`
	Persons []PersonChange `json:"persons,omitempty"` // confirmed persons with changes, by name
	Others  int            `json:"others"`            // markers, records and other things of no confirmed person with changes
	// Closed is set where the publication before told what stays at home today: what is gone is counted, and not told.
	Closed bool `json:"closed,omitempty"`
}

// PersonChange is what changed about a confirmed person: his own triples, and those of the markers and records that are his.
type PersonChange struct {
	IRI  string `json:"iri"`
	Name string `json:"name,omitempty"`
	Gone int    `json:"gone"`
	New  int    `json:"new"`

	lines []string
}

// shownLines is how many triples of a person the text of changes shows; the files beside it have them all.
const shownLines = 200

// shownOthers is how many things of no confirmed person it lists.
const shownOthers = 1000

// both gives the lines of data and proposals of a publication in one order.
func both(dir string) iter.Seq2[[]byte, error] {
	return merged(fileLines(filepath.Join(dir, "dataset.nt")), fileLines(filepath.Join(dir, "proposals.nt")))
}

// documentOf is the IRI of the page that answers for a subject: the IRI without its fragment.
func documentOf(line []byte) []byte {
	s := line[1:max(1, bytes.IndexByte(line, '>'))]
	if i := bytes.IndexByte(s, '#'); i >= 0 {
		return s[:i]
	}
	return s
}

// owners tells whose the things of a publication are: the page of each thing of a confirmed person to that person, and the persons' names.
func owners(dir string, owner, names map[string]string) error {
	for line, err := range both(dir) {
		if err != nil {
			return err
		}
		isLink := bytes.Contains(line, []byte("#link-"))
		if !isLink && !bytes.Contains(line, []byte("/id/person-")) {
			continue
		}
		t, err := parseLine(line)
		if err != nil {
			return err
		}
		subject := string(documentOf(line))
		switch t.Pred.String() {
		case MS + "identifies":
			owner[subject] = t.Obj.String()
		case foaf + "name":
			names[subject] = t.Obj.String()
		case rdfType:
			if t.Obj.String() == MS+"Person" {
				owner[subject] = subject
			}
		}
	}
	// A link's record is its person's too.
	for line, err := range both(dir) {
		if err != nil {
			return err
		}
		if !bytes.Contains(line, []byte("#link-")) || !bytes.Contains(line, []byte("<"+MS+"record> ")) {
			continue
		}
		t, err := parseLine(line)
		if err != nil {
			return err
		}
		if strings.Contains(t.Subj.String(), "#link-") {
			owner[t.Obj.String()] = owner[string(documentOf(line))]
		}
	}
	return nil
}

// writeChanges sets the publication beside the one before, where there is one: changes/gone.nt and new.nt with every triple that went or came, and
// changes.txt by person. Where nothing changed, the changes that led to the state before are kept.
func (m *mapper) writeChanges(dir string) error {
	previous := m.data.Previous
	since, err := readDigest(filepath.Join(previous, "dataset.nt.sha256"))
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("changes: %w", err)
	}
	out := filepath.Join(dir, "changes")
	if err := os.Mkdir(out, 0o777); err != nil {
		return err
	}
	c := &Changes{Since: since}
	if c.Closed, err = m.closes(both(previous)); err != nil {
		return fmt.Errorf("changes since %s: %w", previous, err)
	}
	others := map[string][2]int{}
	if err := m.compare(previous, dir, c, others); err != nil {
		return fmt.Errorf("changes since %s: %w", previous, err)
	}
	if c.Gone+c.New == 0 {
		if _, err := os.Stat(filepath.Join(previous, "changes", "changes.txt")); err == nil {
			if err := os.RemoveAll(out); err != nil {
				return err
			}
			closed, err := m.closes(fileLines(filepath.Join(previous, "changes", "gone.nt")))
			if err != nil || closed {
				return err // an earlier version of the program has told what went
			}
			return os.CopyFS(out, os.DirFS(filepath.Join(previous, "changes")))
		}
	}
	m.sum.Changes = c
	if c.Closed = c.Closed || c.Gone > 0 && m.givesPrivate(); c.Closed {
		c.close(others)
		if err := os.Remove(filepath.Join(out, "gone.nt")); err != nil {
			return err
		}
	}
	c.Others = len(others)
	return errors.Join(os.WriteFile(filepath.Join(out, "changes.txt"), []byte(c.text(others)), 0o666),
		os.WriteFile(filepath.Join(out, "previous.sha256"), []byte(c.Since+"  dataset.nt\n"), 0o666))
}

// close leaves of the changes what tells nothing of what is gone, their numbers apart.
func (c *Changes) close(others map[string][2]int) {
	maps.DeleteFunc(others, func(_ string, n [2]int) bool { return n[1] == 0 })
	c.Persons = slices.DeleteFunc(c.Persons, func(p PersonChange) bool { return p.New == 0 })
	for i := range c.Persons {
		p := &c.Persons[i]
		p.lines = slices.DeleteFunc(p.lines, func(l string) bool { return strings.HasPrefix(l, "- ") })
	}
}

// compare writes the triples that went and came, and counts them by person.
func (m *mapper) compare(previous, dir string, c *Changes, others map[string][2]int) error {
	owner, names := map[string]string{}, map[string]string{}
	for _, d := range []string{previous, dir} { // what is so now overrules what was
		if err := owners(d, owner, names); err != nil {
			return err
		}
	}
	var files [2]*os.File
	var writers [2]*bufio.Writer
	for i, name := range []string{"gone.nt", "new.nt"} {
		f, err := os.Create(filepath.Join(dir, "changes", name))
		if err != nil {
			return err
		}
		defer f.Close()
		files[i], writers[i] = f, bufio.NewWriter(f)
	}
	persons := map[string]*PersonChange{}
	for s, l := range together(both(previous), both(dir)) {
		if l.err != nil {
			return l.err
		}
		if s == left|right {
			continue
		}
		way, mark := 0, "- "
		if s == right {
			way, mark = 1, "+ "
		}
		if _, err := writers[way].Write(l.line); err != nil {
			return err
		}
		document := string(documentOf(l.line))
		who := owner[document]
		n := [2]int{1 - way, way}
		c.Gone, c.New = c.Gone+n[0], c.New+n[1]
		if who == "" {
			o := others[document]
			others[document] = [2]int{o[0] + n[0], o[1] + n[1]}
			continue
		}
		p := persons[who]
		if p == nil {
			p = &PersonChange{IRI: who, Name: names[who]}
			persons[who] = p
		}
		p.Gone, p.New = p.Gone+n[0], p.New+n[1]
		if len(p.lines) < shownLines {
			p.lines = append(p.lines, mark+string(l.line))
		}
	}
	for _, p := range persons {
		c.Persons = append(c.Persons, *p)
	}
	slices.SortFunc(c.Persons, func(a, b PersonChange) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.IRI, b.IRI)) })
	return errors.Join(writers[0].Flush(), writers[1].Flush(), files[0].Close(), files[1].Close())
}

// text tells the changes by person.
func (c *Changes) text(others map[string][2]int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Changes since the publication whose dataset.nt has the SHA-256 %s\n\n", c.Since)
	gone, files := "gone (gone.nt)", "gone.nt and new.nt"
	if c.Closed {
		gone, files = "gone", "new.nt, as far as they are new"
		b.WriteString("Of what is gone only the number is told: among it is what is held back or private today. Whoever has the publication before takes this one whole in its place.\n\n")
	}
	fmt.Fprintf(&b, "%s %s, %s new (new.nt); %s changed, and %s of no confirmed person\n", count(c.Gone, "triple"), gone, count(c.New, "triple"), count(len(c.Persons), "person"), count(len(others), "thing"))
	for _, p := range c.Persons {
		fmt.Fprintf(&b, "\n%s <%s>: %d gone, %d new\n", strings.Join(strings.Fields(cmp.Or(p.Name, "a person without a name")), " "), p.IRI, p.Gone, p.New)
		for _, l := range p.lines {
			b.WriteString("  " + l)
		}
		if rest := p.Gone + p.New - len(p.lines); rest > 0 {
			fmt.Fprintf(&b, "  and %s more, in %s\n", count(rest, "triple"), files)
		}
	}
	if len(others) > 0 {
		b.WriteString("\nOf no confirmed person\n")
	}
	for i, iri := range slices.Sorted(maps.Keys(others)) {
		if i == shownOthers {
			fmt.Fprintf(&b, "  and %s more, in %s\n", count(len(others)-i, "thing"), files)
			break
		}
		fmt.Fprintf(&b, "  <%s>: %d gone, %d new\n", iri, others[iri][0], others[iri][1])
	}
	return b.String()
}
