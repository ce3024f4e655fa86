package intake

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/rdf"
	"musterstone/vocab/unit"
)

// sampleRows is how many rows are looked at to guess what a column holds.
const sampleRows = 200

// sampleBytes is how much of a file is looked at to guess its encoding.
const sampleBytes = 1 << 20

// guess is what was guessed of one file.
type guess struct {
	file      string
	delimiter string // "" for what needs no saying
	encoding  string
	skip      int // lines above the header
	columns   []guessedColumn
	kind      Kind
}

// guessedColumn is a column and the local name of its property; "" where it is only kept.
type guessedColumn struct{ title, property string }

// Guess makes the text of a csv-metadata.json for the tables of a folder, from the names of files and columns and from what the first rows hold, with
// notes in plain words on what was guessed from the cells alone and what could not be guessed. It writes nothing. The same folder gives
// the same text; one without a table gives none.
func Guess(dir string) (text []byte, notes []string, err error) {
	if err := isFolder(dir); err != nil {
		return nil, nil, err
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, nil, fmt.Errorf("read folder %q: %w", dir, err)
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, nil, fmt.Errorf("read folder %q: %w", dir, err)
	}
	var guesses []guess
	var warless, groundless []string
	for _, e := range entries {
		if e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if err := Within(dir, e.Name()); err != nil && isTableName(e.Name()) {
			notes = append(notes, fmt.Sprintf("%s: left out: %v. %s.", e.Name(), err, upperFirst(hintWithin)))
			continue
		}
		if foreign, ok := foreignKind(e.Name()); ok {
			notes = append(notes, fmt.Sprintf("%s: left out: it is %s. %s", e.Name(), foreign, upperFirst(exportHint)+"."))
			continue
		}
		if !isTableName(e.Name()) && !isTextTable(e.Name()) {
			continue
		}
		g := guesser{survey: &Survey{Dir: dir}, file: e.Name()}
		if t, ok := g.table(); ok {
			guesses = append(guesses, t)
		}
		notes = append(notes, g.notes...)
		if g.warless {
			warless = append(warless, e.Name())
		}
		if g.groundless {
			groundless = append(groundless, e.Name())
		}
	}
	title := filepath.Base(abs)
	if len(guesses) == 0 {
		return nil, notes, nil
	}
	if len(warless) > 0 {
		which := "it is of. If it is"
		if len(warless) > 1 {
			which = "each is of. Where one is"
		}
		notes = append(notes, fmt.Sprintf(`%s: nothing says which war %s all of one, add { "virtual": true, "propertyUrl": "ms:conflict", "default": "civil-war" } to its "columns" in %s.`,
			strings.Join(warless, ", "), which, MetadataFile))
	}
	if len(groundless) > 0 {
		which := "it is of. If it is of one"
		if len(groundless) > 1 {
			which = "each is of. Where a table is of one"
		}
		notes = append(notes, fmt.Sprintf(`%s: nothing says which burial ground %s, add { "virtual": true, "propertyUrl": "ms:cemetery", "default": "its name" } to its "columns" in %s.`,
			strings.Join(groundless, ", "), which, MetadataFile))
	}
	notes = append(notes, fmt.Sprintf(`The title is the folder's name (%s). Write a better one under "dc:title", and add "dc:license", "dc:publisher" and "ms:base" (the IRI under which the data are to be published) before anything is published.`, title))
	return writeMetadata(title, guesses), notes, nil
}

// guesser guesses at one file.
type guesser struct {
	survey  *Survey
	file    string
	notes   []string
	warless bool // a roster that says nothing of its war
	// groundless is a table of stones or a register that says nothing of the burial ground.
	groundless bool
}

func (g *guesser) note(format string, args ...any) {
	g.notes = append(g.notes, g.file+": "+fmt.Sprintf(format, args...))
}

// table guesses at a file; ok is false where it is no table for us.
func (g *guesser) table() (out guess, ok bool) {
	out.file = g.file
	if rdf.Readable(g.file) {
		out.kind = Roster
		if kindByName(g.file) != Roster {
			g.note("left out: a graph is only read as a roster. If it is one, name it roster….")
			return out, false
		}
		return out, true
	}
	t := &Table{File: g.file, meta: tableMeta{file: g.file, dialect: defaultDialect()}}
	if g.looksWindows1252() {
		out.encoding = "windows-1252"
		t.meta.dialect.encoding = out.encoding
		g.note("it is not UTF-8; taken as Windows-1252, as older spreadsheets save. Look at some accented names in the result.")
	}
	if kind, hint := foreignContent(g.survey.path(g.file)); kind != "" {
		g.note("left out: it is %s, whatever its name says. %s.", kind, upperFirst(hint))
		return out, false
	}
	if line, names := headerLine(g.survey, t); line > 0 {
		out.skip = line
		t.meta.dialect.skipRows = line
		g.note("row %d names the columns (%s), and not the first; the rows above it are skipped.", line+1, strings.Join(quoted(names, 4), ", "))
	}
	r, closer, err := g.survey.rows(t)
	if err != nil {
		g.note("left out: it cannot be read: %s.", plainError(err))
		return out, false
	}
	defer closer.Close()
	if c := r.split.delimiter; c != ',' && (c != '\t' || !strings.HasSuffix(strings.ToLower(g.file), ".tsv") && !strings.HasSuffix(strings.ToLower(g.file), ".tab")) {
		out.delimiter = string(c)
	}
	b := &binder{survey: g.survey, table: t, note: func(c model.Complaint) { g.note("left out: %s.", c.Text) }}
	header, ok := b.header(r)
	if !ok {
		return out, false
	}
	if kindByName(g.file) == "" && ofPairs(header) {
		g.note("left out: it sets stones beside records, " + pairsAre + ".")
		return out, false
	}
	samples := sample(r, len(header))
	if out.kind = g.kind(header); out.kind == "" {
		g.note("left out: neither its name nor its columns say whether it holds stones or service records. Name it stones…, register… or roster…, or describe it by hand.")
		return out, false
	}
	if n := figures(header); 3*n >= len(header) && n > 1 {
		g.note("its first row (%s) looks like what the others hold, and not like the names of columns, which the first row must be. If they are missing, put a row of them on top, move csv-metadata.json away and run this again.", strings.Join(quoted(header, 4), ", "))
	}
	out.columns = g.columns(header, samples, out.kind)
	return out, true
}

// figures counts the cells that are figures and signs alone: numbers, measures, dates.
func figures(cells []string) int {
	n := 0
	for _, c := range cells {
		if strings.ContainsAny(c, "0123456789") && strings.Trim(c, "0123456789.,:/- ") == "" {
			n++
		}
	}
	return n
}

// looksWindows1252 reports whether the beginning of the file is not UTF-8 and has no byte order mark.
func (g *guesser) looksWindows1252() bool {
	f, err := os.Open(g.survey.path(g.file))
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, sampleBytes)
	n, _ := f.Read(head)
	head = head[:n]
	if bytes.HasPrefix(head, bomUTF16LE) || bytes.HasPrefix(head, bomUTF16BE) {
		return false
	}
	if n == sampleBytes { // the last character may have been cut
		for i := 0; i < utf8.UTFMax && len(head) > 0 && !utf8.Valid(head); i++ {
			head = head[:len(head)-1]
		}
	}
	return !utf8.Valid(head) && bytes.IndexByte(head, 0) < 0
}

// sample gives the values of the first rows, by column, blank ones left out.
func sample(r *rowReader, columns int) [][]string {
	values := make([][]string, columns)
	for range sampleRows {
		row, ok := r.next()
		if !ok {
			break
		}
		for i, c := range row.cells {
			if c = strings.TrimSpace(c); i < columns && c != "" {
				values[i] = append(values[i], strings.Clone(c))
			}
		}
	}
	return values
}

// kind guesses what the rows are: by the file's name, or else by columns that only one kind of table has.
func (g *guesser) kind(header []string) Kind {
	if k := kindByName(g.file); k != "" {
		return k
	}
	stones, records := 0, 0
	for _, h := range header {
		asStone, asRecord := guessTerm(h, false), guessTerm(h, true)
		switch {
		case asStone == tInscription || asStone == tCemetery && termNamed(h, false) == tCemetery:
			stones += 3
		case asStone == tPlot || asStone == tSection || asStone == tMaterial || asStone == tTop || asStone == tRow:
			stones++
		case asRecord == tEnlisted || asRecord == tMusteredIn || asRecord == tMusteredOut || asRecord == tRankOut:
			records += 2
		case asRecord == tResidence || asRecord == tBirthplace || asRecord == tCompany || asRecord == tRegiment || asRecord == tUnit:
			records++
		}
	}
	switch {
	case stones == 0 && records == 0:
		return ""
	case records > stones:
		g.note("its columns look like a roster's: taken as service records.")
		return Roster
	default:
		what := "a burial register"
		if slices.ContainsFunc(header, func(h string) bool { return guessTerm(h, false) == tInscription }) {
			what = "stones"
		}
		g.note("its columns look like those of stones or burials: taken as %s.", what)
		return Stones
	}
}

// columns guesses what each column means.
func (g *guesser) columns(header []string, samples [][]string, kind Kind) []guessedColumn {
	terms := make([]term, len(header))
	holder := map[term]int{}
	claim := func(i int, t term, sure bool) bool {
		if first, taken := holder[t]; taken {
			// A middle name stands beside the given one, and the two are joined.
			if !(t == tGiven && strings.Contains(plainName(header[i]), "m") && plainName(header[i]) != plainName(header[first])) {
				if sure {
					g.note("column %q seems to mean the same as %q (%s); only the first was taken for it.", header[i], header[first], termName(t))
				}
				return false
			}
		} else {
			holder[t] = i
		}
		terms[i] = t
		return true
	}
	for i, h := range header {
		if t := termNamed(h, kind.holdsRecords()); t != noTerm {
			claim(i, t, true)
		}
	}
	for i, h := range header {
		if t := guessTerm(h, kind.holdsRecords()); t != noTerm && terms[i] == noTerm && termNamed(h, kind.holdsRecords()) == noTerm {
			claim(i, t, true)
		}
	}
	for i, h := range header {
		if terms[i] != noTerm || guessTerm(h, kind.holdsRecords()) != noTerm {
			continue
		}
		if t := guessMisspelt(h, kind.holdsRecords()); t != noTerm && claim(i, t, false) {
			g.note("column %q was taken as %s, with a slip in its spelling. Look at it.", h, termName(t))
		}
	}
	for i, h := range header {
		if terms[i] != noTerm {
			continue
		}
		if t, what := termOfValues(samples[i], kind.holdsRecords()); t != noTerm && claim(i, t, false) {
			g.note("column %q holds what look like %s, and was taken as %s from that alone. Look at it.", h, what, termName(t))
		}
	}
	if by, ok := holder[tRecorder]; ok {
		for _, i := range []int{by - 1, by + 1} {
			if i >= 0 && i < len(header) && terms[i] == noTerm && plainName(header[i]) == "date" && claim(i, tRecorded, false) {
				g.note("column %q stands beside %q and was taken as %s from that alone. Look at it.", header[i], header[by], termName(tRecorded))
			}
		}
	}
	g.remarks(header, samples, terms, holder, kind)
	out := make([]guessedColumn, len(header))
	for i, h := range header {
		out[i].title = h
		if terms[i] != noTerm {
			out[i].property = nameIn(terms[i], kind.holdsRecords())
		}
	}
	return out
}

// nameIn is the term's name in a kind of table.
func nameIn(t term, records bool) string {
	name := termName(t)
	if termNamed(name, records) != t {
		for _, n := range termNames {
			if n.term == t && termNamed(n.name, records) == t {
				return n.name
			}
		}
	}
	return name
}

// remarks notes what a person should look at.
func (g *guesser) remarks(header []string, samples [][]string, terms []term, holder map[term]int, kind Kind) {
	var kept []string
	for i, h := range header {
		if terms[i] == noTerm && (len(samples[i]) > 0 || !strings.HasPrefix(h, "_col.")) {
			kept = append(kept, fmt.Sprintf("%q", h))
		}
	}
	if len(kept) > 0 {
		g.note("not understood, and kept as they are: %s.", strings.Join(kept, ", "))
	}
	has := func(t term) bool { _, ok := holder[t]; return ok }
	if !has(tSurname) && !has(tName) && !has(tInscription) {
		g.note("no column for names was found.")
	}
	if kind.holdsRecords() && !has(tConflict) && !has(tSide) {
		g.warless = true
	}
	g.groundless = !kind.holdsRecords() && !has(tCemetery)
	if !has(tID) {
		g.note("no column of ids was found; each row gets one made from what it says, which changes when the row is corrected.")
	}
	for i, h := range header {
		if n := slices.IndexFunc(samples[i], func(v string) bool { _, ok := serialDate(v); return ok }); n >= 0 && (isDate(terms[i]) || terms[i] == tRecorded) {
			g.note("column %q holds counts of days (%s), which a spreadsheet made of dates. They are read, but show the column as dates there and export it again.", h, samples[i][n])
		}
		if isDate(terms[i]) && !has(tConflict) && !has(tSide) && slices.ContainsFunc(samples[i], func(v string) bool {
			_, err := date.Parse(v)
			return errors.Is(err, date.ErrCentury)
		}) {
			g.note("column %q has years of two digits, which are only read where the war is known.", h)
		}
		if slices.ContainsFunc(samples[i], isDitto) {
			g.note(`column %q has ditto marks. Say "ms:ditto": true of it if the rows stand as they were printed.`, h)
		}
	}
}

// isDate reports whether the term is a date.
func isDate(t term) bool {
	switch t {
	case tBorn, tDied, tEnlisted, tMusteredIn, tMusteredOut:
		return true
	}
	return false
}

// guessTerm is the meaning of a column name: the default one, or one that is often met.
func guessTerm(header string, records bool) term {
	if t := termNamed(header, records); t != noTerm {
		return t
	}
	return commonNames()[termKey{plainName(header), records}]
}

// guessMisspelt is the meaning of a column name that differs by one slip of the hand from a name that is known; noTerm where that could be two.
func guessMisspelt(header string, records bool) term {
	name := plainName(header)
	if len(name) < 6 {
		return noTerm
	}
	found := noTerm
	for _, known := range []map[termKey]term{termsByName(), commonNames()} {
		for key, t := range known {
			if key.records != records || len(key.name) < 6 || !oneSlip(key.name, name) {
				continue
			}
			if found != noTerm && found != t {
				return noTerm
			}
			found = t
		}
	}
	return found
}

// commonNames are column names that are often met, from the table column-names.
var commonNames = sync.OnceValue(func() map[termKey]term {
	m := map[termKey]term{}
	for _, row := range vocab.Rows("column-names") {
		on := row.Get("on")
		for _, records := range []bool{false, true} {
			if on == "both" || records && on == "roster" || !records && on == "stones" {
				key := termKey{plainName(row.Get("form")), records}
				if _, ok := m[key]; !ok {
					m[key] = termNamed(row.Get("term"), records)
				}
			}
		}
	}
	return m
})

// termOfValues guesses from what a column holds: nine in ten of its values, and at least five, must be of one sort.
func termOfValues(values []string, records bool) (t term, what string) {
	if len(values) < 5 {
		return noTerm, ""
	}
	most := func(is func(string) bool) bool {
		n := 0
		for _, v := range values {
			if is(v) {
				n++
			}
		}
		return n*10 >= len(values)*9
	}
	if !records {
		if most(isInscription) {
			return tInscription, "inscriptions, line by line"
		}
		for _, t := range []term{tTop, tMaterial, tLettering, tDevice, tSetting} {
			if most(func(s string) bool { _, ok := observations()[termName(t)+"/"+plainWord(s)]; return ok }) {
				return t, "observations of the marker"
			}
		}
	}
	switch {
	case most(func(s string) bool { _, ok := vocab.State(s); return ok && len(s) > 1 }):
		if records {
			return tUnitState, "states"
		}
		return tPlaceState, "states"
	case most(func(s string) bool { _, ok := vocab.Rank(s); return ok && len(s) > 1 }):
		return tRank, "ranks"
	case most(func(s string) bool { _, ok := vocab.ConflictOf(s); return ok }):
		return tConflict, "wars"
	case most(func(s string) bool { u, _ := unit.Parse(s); return u.Number != 0 && (u.Arm != "" || u.Company != "") }):
		return tUnit, "units, each in one cell"
	case most(func(s string) bool { _, _, ok := unit.Arm(s); return ok && len(s) > 1 }):
		return tArm, "arms of service"
	case most(func(s string) bool { _, ok := vocab.Branch(s); return ok }):
		return tBranch, "branches of service"
	case most(func(s string) bool { _, ok := vocab.Side(s); return ok }):
		return tSide, "sides of the civil war"
	case most(surnameFirst):
		known := 0
		for _, v := range values {
			_, given, _ := strings.Cut(v, ",")
			if first := strings.Fields(given); name.KnownGiven(name.Fold(first[0])) {
				known++
			}
		}
		if 2*known >= len(values) {
			return tName, "names, the surname first"
		}
	}
	return noTerm, ""
}

// surnameFirst reports whether a cell looks like "Surname, Given", and not like a town and its state.
func surnameFirst(s string) bool {
	surname, given, ok := strings.Cut(s, ",")
	_, state := vocab.State(strings.TrimSpace(given))
	return ok && !state && strings.TrimSpace(surname) != "" && strings.TrimSpace(given) != "" && !strings.ContainsAny(s, "0123456789")
}

// isInscription reports whether a cell looks like the lines of a stone.
func isInscription(s string) bool { return strings.Contains(s, " / ") || strings.Contains(s, "\n") }

// oneSlip reports whether two plain names differ by one letter left out, put in or changed, or by two that changed places.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) < len(b) {
		return a[i:] == b[i+1:]
	}
	return i == len(a) || a[i+1:] == b[i+1:] ||
		i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
