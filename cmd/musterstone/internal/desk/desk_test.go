package desk

import (
	"context"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/link/ledger"
	"musterstone/model"
)

func TestAsksForTheNameOnce(t *testing.T) {
	b := serve(t, openDesk(t, survey(t), Options{}))
	told(t, b.get("/", http.StatusOK), "Who decides?")
	b.post("/who", http.StatusUnprocessableEntity, url.Values{"name": {" \u202e "}})
	b.as("Ann Novak")
	page := b.get("/", http.StatusOK)
	if !strings.HasPrefix(b.last, "/stone?id=") {
		t.Errorf("came to %s", b.last)
	}
	told(t, page, "Ann Novak", "left to decide of")
	for _, back := range []string{"//evil.example/", "https://evil.example/", `/\evil.example`, "javascript:alert(1)"} {
		b.post("/who", http.StatusOK, url.Values{"name": {"Ann Novak"}, "back": {back}})
		if strings.Contains(b.last, "evil") || !strings.HasPrefix(b.last, "/stone") {
			t.Errorf("back to %q came to %s", back, b.last)
		}
	}
}

// TestAnEvening goes through what a person does, without a script.
func TestAnEvening(t *testing.T) {
	dir := survey(t)
	d := openDesk(t, dir, Options{})
	b := serve(t, d).as("Ann Novak")

	page := b.get("/stone?id=M-1", http.StatusOK)
	told(t, page, "Samuel Tillotson", `data-says="given name: Samuel"`, "What the design implies", "/photo?stone=M-1", "<svg", "The years", "same surname", "bits",
		`name="confirm" value="r1"`, `name="refuse" value="r1"`, `value="unsure"`, `value="none"`, "Deciding this bears on")

	// confirm, with a reason; the other stone that claims the man hears of it
	page = b.post("/decide", http.StatusOK, url.Values{"stone": {"M-1"}, "confirm": {"r1"}, "because": {"same company\r\nsame man"}})
	told(t, page, "Stone M-1: confirmed record r1.", "bears on M-4", "Undo")
	ds := decisions(t, dir)
	if len(ds) != 1 || ds[0].Because != "same company\nsame man" || ds[0].Seen == nil || ds[0].Seen.Man == "" || len(ds[0].Seen.Inputs) == 0 || ds[0].Seen.Program != "test" {
		t.Fatalf("decisions: %+v", ds)
	}
	told(t, b.get("/stone?id=M-4", http.StatusOK), "confirmed for stone <a href=\"/stone?id=M-1\">")

	// refuse: a stone with another candidate stays, and the refusal shows
	page = b.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "refuse": {"r2"}})
	told(t, page, "Stone M-2: refused record r2.")
	told(t, b.get("/stone?id=M-2", http.StatusOK), `card refused`)

	// undo, twice: the latest first
	undo := regexp.MustCompile(`name="decision" value="([^"]+)"`)
	for _, want := range []string{"M-2", "M-1"} {
		m := undo.FindStringSubmatch(b.get("/stone?id=M-3", http.StatusOK))
		page = b.post("/undo", http.StatusOK, url.Values{"decision": {m[1]}})
		told(t, page, "Taken back, on stone "+want)
	}
	if s := d.standings(); s.kinds[0] != toDecide || s.kinds[1] != toDecide {
		t.Errorf("after undoing all: %v", s.kinds)
	}

	// not sure, and back to it; none of these; undoing that brings not sure back
	b.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "whole": {"unsure"}})
	told(t, b.get("/find?state=unsure", http.StatusOK), "Left unsure", "M-2", "Left unsure (1)")
	b.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "whole": {"none"}, "because": {"wrong war"}})
	if k := d.standings().kinds[1]; k != nobody {
		t.Errorf("after none of these: %s", k)
	}
	m := undo.FindStringSubmatch(b.get("/stone?id=M-2", http.StatusOK))
	b.post("/undo", http.StatusOK, url.Values{"decision": {m[1]}})
	if k := d.standings().kinds[1]; k != leftOpen {
		t.Errorf("after undoing none of these: %s", k)
	}

	// a note
	told(t, b.post("/note", http.StatusOK, url.Values{"stone": {"M-2"}, "text": {"lichen over the <regiment>"}}), "lichen over the &lt;regiment&gt;")
	b.post("/note", http.StatusBadRequest, url.Values{"stone": {"M-2"}, "text": {"  "}})

	// find a record that was not proposed, set it beside the stone, and confirm it
	page = b.get("/find?kind=record&for=M-3&q=ostby", http.StatusOK)
	told(t, page, "<mark>Ostby</mark>", "/stone?id=M-3&amp;with=r4", "M-3</a>, George Hale, born 1801, died 1850")
	page = b.get("/stone?id=M-3&with=r4", http.StatusOK)
	told(t, page, "brought by you", `name="confirm" value="r4"`)
	b.post("/decide", http.StatusOK, url.Values{"stone": {"M-3"}, "confirm": {"r4"}, "because": {"family bible"}})
	told(t, b.get("/stone?id=M-3", http.StatusOK), "man found", "confirmed record r4", "family bible")
	told(t, b.get("/record?id=r4", http.StatusOK), "Nels Ostby", "confirmed for this record")

	// what cannot be decided is refused and changes nothing
	n := len(decisions(t, dir))
	for _, form := range []url.Values{
		{"stone": {"M-9"}, "confirm": {"r1"}}, {"stone": {"M-1"}, "confirm": {"r99"}}, {"stone": {"M-1"}}, {"stone": {"M-1"}, "whole": {"withdrawn"}},
	} {
		status := http.StatusBadRequest
		if form.Get("stone") == "M-9" {
			status = http.StatusNotFound
		}
		b.post("/decide", status, form)
	}
	if got := len(decisions(t, dir)); got != n {
		t.Errorf("%d decisions after faulty forms, want %d", got, n)
	}
}

// TestSeveralPeople: two browsers, two names, one stone.
func TestSeveralPeople(t *testing.T) {
	dir := survey(t)
	d := openDesk(t, dir, Options{})
	ann := serve(t, d).as("Ann Novak")
	bob := newBrowser(t, ann.base).as("Bob Ødegård")
	ann.post("/decide", http.StatusOK, url.Values{"stone": {"M-1"}, "confirm": {"r1"}})
	page := bob.post("/decide", http.StatusOK, url.Values{"stone": {"M-1"}, "refuse": {"r1"}})
	told(t, page, "disputed")
	page = ann.get("/stone?id=M-1", http.StatusOK)
	told(t, page, "Ann Novak</b> confirmed record r1", "Bob Ødegård</b> refused record r1", "People decided differently")
	// one cannot take back what is the other's
	id := decisions(t, dir)[0].ID
	told(t, bob.post("/undo", http.StatusConflict, url.Values{"decision": {id}}), "Ann Novak")
	// two men for a stone that names one
	ann.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "confirm": {"r2"}})
	bob.post("/decide", http.StatusOK, url.Values{"stone": {"M-2"}, "confirm": {"r3"}})
	if k := d.standings().kinds[1]; k != disputed {
		t.Errorf("two men for one stone stand as %s", k)
	}
	// and by one person: it is told when it happens, and on the stone's page
	const two = "Stone M-3 has 2 confirmed records: r3, r4. That can be right"
	if page := ann.post("/decide", http.StatusOK, url.Values{"stone": {"M-3"}, "confirm": {"r4"}}); strings.Contains(page, "confirmed records") {
		t.Error("one record, and two are told")
	}
	told(t, ann.post("/decide", http.StatusOK, url.Values{"stone": {"M-3"}, "confirm": {"r3"}}), two)
	told(t, bob.get("/stone?id=M-3", http.StatusOK), two)
}

// TestAnotherProgram: a decision that another program writes is seen at the next request, and by the pulse of an open page.
func TestAnotherProgram(t *testing.T) {
	dir := survey(t)
	b := serve(t, openDesk(t, dir, Options{})).as("Ann")
	before := b.get("/pulse?stone=M-1", http.StatusOK)
	l, err := ledger.Open(filepath.Join(dir, ledger.FileName))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := l.Append(model.Decision{By: "Elsewhere", Stone: "M-1", Record: "r1", As: model.Confirmed}); err != nil {
		t.Fatal(err)
	}
	after := b.get("/pulse?stone=M-1", http.StatusOK)
	if before == after {
		t.Error("the pulse does not tell")
	}
	told(t, after, "Elsewhere confirmed record r1")
	told(t, b.get("/stone?id=M-1", http.StatusOK), "Elsewhere</b> confirmed record r1")
}

// TestOverlay: what a decision comes to before a new round is made agrees with the round.
func TestOverlay(t *testing.T) {
	d := openDesk(t, survey(t), Options{})
	old, _ := d.current()
	steps := []model.Decision{
		{By: "Ann", Stone: "M-1", Record: "r1", As: model.Confirmed},
		{By: "Ann", Stone: "M-2", Record: "r2", As: model.Refused},
		{By: "Ann", Stone: "M-1", As: model.NoneOfThese},
	}
	for _, x := range steps {
		if _, err := d.ledger.Append(x); err != nil {
			t.Fatal(err)
		}
		state := d.ledger.State()
		if err := d.makeRound(context.Background()); err != nil {
			t.Fatal(err)
		}
		fresh, _ := d.current()
		for i := range d.subjects {
			p, _ := old.now(i, state)
			sum := p.None
			best := ""
			for _, c := range p.Candidates {
				sum += c.Probability
				if best == "" && c.Decided != "refused" && c.Probability > 0.2 {
					best = string(c.Record)
				}
			}
			if sum < 0.999 || sum > 1.001 {
				t.Errorf("stone %s: the chances sum to %v", p.Stone, sum)
			}
			want := ""
			for _, c := range fresh.proposals[i].Candidates {
				if want == "" && c.Decided != "refused" && c.Probability > 0.2 {
					want = string(c.Record)
				}
			}
			if best != want {
				t.Errorf("after %s on %s: stone %s has %q over it, the new round %q", x.As, x.Stone, p.Stone, best, want)
			}
		}
	}
}

// TestOverlayOfRegisters: a man confirmed for a row of a register is not held against a stone, which may be the same grave; for another row he is. So it is in the next round.
func TestOverlayOfRegisters(t *testing.T) {
	dir := survey(t)
	rows := "id,cemetery,county,state,surname,given,company,regiment,arm,body\nR-1,Old Mill Cemetery,Alder,WI,Tillotson,Samuel,F,31,Inf.,Wis.\nR-2,Old Mill Cemetery,Alder,WI,Tillotson,Saml.,F,31,Inf.,Wis.\n"
	if err := os.WriteFile(filepath.Join(dir, "register.csv"), []byte(rows), 0o644); err != nil {
		t.Fatal(err)
	}
	d := openDesk(t, dir, Options{})
	old, _ := d.current()
	if _, err := d.ledger.Append(model.Decision{By: "Ann", Stone: "R-1", Record: "r1", As: model.Confirmed}); err != nil {
		t.Fatal(err)
	}
	state := d.ledger.State()
	if err := d.makeRound(context.Background()); err != nil {
		t.Fatal(err)
	}
	fresh, _ := d.current()
	held := func(p model.Proposal) float64 {
		for _, c := range p.Candidates {
			for _, e := range c.Evidence {
				if c.Record == "r1" && e.Field == "decisions" {
					return e.Bits
				}
			}
		}
		return 0
	}
	for id, against := range map[model.StoneID]bool{"M-1": false, "R-1": false, "R-2": true} {
		i := d.at[id]
		over, _ := old.now(i, state)
		if a, b := held(over), held(fresh.proposals[i]); a != b || (a < 0) != against {
			t.Errorf("%s: that the man is another's counts %.2f bits over the old round and %.2f in the new one", id, a, b)
		}
	}
}

// TestKeysTold: the page of keys has the keys that the script has.
func TestKeysTold(t *testing.T) {
	page, err := files.ReadFile("page/keys.html")
	if err != nil {
		t.Fatal(err)
	}
	script, err := files.ReadFile("page/desk.js")
	if err != nil {
		t.Fatal(err)
	}
	var told, has []string
	for _, m := range regexp.MustCompile(`<th scope="row"><kbd>(.)</kbd></th>`).FindAllSubmatch(page, -1) {
		told = append(told, strings.ToLower(string(m[1])))
	}
	for _, m := range regexp.MustCompile(`(?m)^    "?(.)"?: \(\) =>`).FindAllSubmatch(script, -1) {
		has = append(has, string(m[1]))
	}
	slices.Sort(told)
	slices.Sort(has)
	if !slices.Equal(told, has) || len(has) == 0 {
		t.Errorf("the page tells of the keys %q, the script has %q", told, has)
	}
}

// TestRestart: a form of a desk that was closed since is not lost: it can be sent again.
func TestRestart(t *testing.T) {
	dir := survey(t)
	b := serve(t, openDesk(t, dir, Options{})).as("Ann")
	m := tokenIn.FindStringSubmatch(b.get("/stone?id=M-1", http.StatusOK))
	again := serve(t, openDesk(t, dir, Options{}))
	again.Jar = b.Jar
	form := url.Values{"token": {m[1]}, "stone": {"M-1"}, "confirm": {"r1"}, "because": {"as <b>said</b>"}}
	r, err := again.PostForm(again.base+"/decide", form)
	if err != nil {
		t.Fatal(err)
	}
	page := again.read(r, "/decide", http.StatusForbidden)
	told(t, page, "Not sent yet", "as &lt;b&gt;said&lt;/b&gt;", `name="confirm" value="r1"`)
	if n := len(decisions(t, dir)); n != 0 {
		t.Fatalf("%d decisions were written", n)
	}
	form.Set("token", tokenIn.FindStringSubmatch(page)[1])
	if r, err = again.PostForm(again.base+"/decide", form); err != nil {
		t.Fatal(err)
	}
	told(t, again.read(r, "/decide", http.StatusOK), "confirmed record r1")
}

// TestPlanFarOff: a stone whose position lies far from those of its ground is named, and not drawn.
func TestPlanFarOff(t *testing.T) {
	dir := survey(t)
	var text strings.Builder
	text.WriteString("id,cemetery,inscription,latitude,longitude\n")
	for i, longitude := range []string{"-87.0001", "-87.0002", "87.0003", "-87.0004", "-87.0005"} {
		text.WriteString("F-" + string(rune('1'+i)) + ",Far Field,ORRIN PELTRY,43.5," + longitude + "\n")
	}
	if err := os.WriteFile(filepath.Join(dir, "stones-far.csv"), []byte(text.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	page := serve(t, openDesk(t, dir, Options{})).as("Ann").get("/plan?cemetery=Far+Field", http.StatusOK)
	told(t, page, "4 stones with a latitude and a longitude", `Not drawn, more than ten kilometres from the others: <a href="/stone?id=F-3">F-3</a>.`, `aria-label="Plot of 4 stones"`)
	if strings.Contains(page, `aria-label="F-3,`) {
		t.Error("F-3 is drawn")
	}
}

func TestPlan(t *testing.T) {
	b := serve(t, openDesk(t, survey(t), Options{})).as("Ann")
	page := b.get("/plan?cemetery=Old+Mill+Cemetery", http.StatusOK)
	told(t, page, "Section A", "Row 1", "Section B", "By coordinates", "metres", `href="#k-open"`, "to decide")
	// plot 3 of row 1 is empty
	if strings.Count(page, `class="empty"`) != 1 {
		t.Errorf("%d empty plots, want 1", strings.Count(page, `class="empty"`))
	}
}

// TestPlanInParts: every stone of a ground that is too large for one page is on one of its parts, and on one alone.
func TestPlanInParts(t *testing.T) {
	d := &Desk{}
	for _, section := range []struct {
		name   string
		stones int
	}{{"A", 2*planLimit + 10}, {"", planLimit + 1}, {"B", 5}} {
		for range section.stones {
			s := &model.Stone{}
			s.Place.Section = section.name
			d.subjects = append(d.subjects, &model.Subject{Stone: s})
		}
	}
	here := make([]int, len(d.subjects))
	for i := range here {
		here[i] = i
	}
	first := &planView{}
	shown := first.choosePart(d, here)
	var names []string
	for _, p := range first.Parts {
		names = append(names, p.Value)
	}
	want := []string{"section A, stones 1 to 300", "section A, stones 301 to 600", "section A, stones 601 to 610", "stones 1 to 300", "stones 301 to 301", "section B"}
	if !slices.Equal(names, want) || !first.Parts[0].Chosen || len(shown) != planLimit || shown[0] != 0 {
		t.Errorf("parts %q, want %q; the first shows %d stones", names, want, len(shown))
	}
	times := make([]int, len(here))
	for _, name := range names {
		v := &planView{Part: name}
		for _, i := range v.choosePart(d, here) {
			times[i]++
		}
	}
	if i := slices.IndexFunc(times, func(n int) bool { return n != 1 }); i >= 0 {
		t.Errorf("stone %d is on %d parts", i+1, times[i])
	}
}

// TestWordsTile: the words of a line are the line, byte for byte.
func TestWordsTile(t *testing.T) {
	for _, text := range []string{"SAML. TILLOTSON\nCO. F\n31 WIS. INF.", "", "JOHN\n\nDOE\r\n1850", "Ø É ẞ\nCO. B", "<script>"} {
		s := &model.Stone{ID: "x"}
		s.Marker.Inscription = text
		sub := job.Subject(s)
		lines, rows := inscriptionWords(s, sub.Reading())
		var got []string
		for _, l := range lines {
			line := ""
			for _, w := range l.Words {
				line += w.Text
				if w.Group > len(rows) {
					t.Errorf("%q: group %d of %d", text, w.Group, len(rows))
				}
			}
			got = append(got, line)
		}
		if want := strings.ReplaceAll(text, "\r", ""); strings.Join(got, "\n") != want {
			t.Errorf("lines %q, want %q", got, want)
		}
	}
}

// TestGoldenPages compares three pages with what they were, drawings and weights apart; UPDATE=1 writes them anew.
func TestGoldenPages(t *testing.T) {
	b := serve(t, openDesk(t, survey(t), Options{})).as("Ann Novak")
	hide := regexp.MustCompile(`(name="token" value="|\?v=)[0-9a-f]+`)
	drawings := regexp.MustCompile(`(?s)<svg xmlns.*?</svg>`)
	weights := regexp.MustCompile(`[+−-]?[0-9]+\.[0-9]+|[0-9]+%|over 99%|under 1%|x="[0-9]+" y="2" width="[0-9]+"`)
	for name, path := range map[string]string{"stone": "/stone?id=M-2", "find": "/find?q=tillotson", "plan": "/plan?cemetery=Old+Mill+Cemetery"} {
		got := hide.ReplaceAllString(b.get(path, http.StatusOK), "${1}-")
		got = weights.ReplaceAllString(drawings.ReplaceAllString(got, "<svg/>"), "#")
		golden := filepath.Join("testdata", name+".html")
		if os.Getenv("UPDATE") == "1" {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			at := 0
			for at < min(len(got), len(want)) && got[at] == want[at] {
				at++
			}
			from := max(0, at-200)
			t.Errorf("%s differs from %s; UPDATE=1 writes it anew\n got …%s\nwant …%s", path, golden, got[from:min(at+200, len(got))], string(want[from:min(at+200, len(want))]))
		}
	}
}

// TestFamilyStone: a record that a person brings is held to each man of the stone, and the page says to which it was; what is decided on it keeps that.
func TestFamilyStone(t *testing.T) {
	dir := survey(t)
	stones := stonesCSV + "M-6,Old Mill Cemetery,Alder,WI,B,2,2,,,IGNATZ OSTBY / 1801 - 1850 / NELS OSTBY / 1837 - 1863,square,granite,20,3,,,upright,,M. Whelan,\n"
	if err := os.WriteFile(filepath.Join(dir, "stones.csv"), []byte(stones), 0o666); err != nil {
		t.Fatal(err)
	}
	d := openDesk(t, dir, Options{})
	b := serve(t, d).as("Ann Novak")
	i := d.at["M-6"]
	if n := len(d.subjects[i].Reading().People); n != 2 {
		t.Fatalf("the stone is read as of %d people, want 2", n)
	}
	ostby, _ := d.index.Record("r4")
	c := d.weigh(i, ostby)
	if first, _ := d.weigher.Stone(d.subjects[i], d.subjects[i].Reading().Claim()).Against(ostby); c.Person != 1 || c.Bits <= first {
		t.Errorf("r4 is weighed for man %d with %.1f bits, the first has %.1f; want the second, with more", c.Person+1, c.Bits, first)
	}
	if c := d.weigh(d.at["M-3"], ostby); c.Person != 0 || len(c.Evidence) == 0 {
		t.Errorf("of a stone of one man it is weighed for man %d, by %d fields", c.Person+1, len(c.Evidence))
	}
	told(t, b.get("/stone?id=M-6&with=r4", http.StatusOK), "Held to what the stone says of Nels Ostby", "Ignatz Ostby, born 1801, died 1850; and Nels Ostby")
}
