package junction

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// The books in which rosters are printed.
const (
	adjutant = iota
	history
	cards
	later
)

// regiment is a regiment, or a ship.
type regiment struct {
	state, arm string // state in full; "U. S. Colored" and "U. S." are others
	number     int
	rebel      bool
	ship       string
	war        int // of 1861, 1898 or 1917
	raised     time.Time
	old        string // what a colored regiment was called before it was numbered among them
	books      []int
}

func (r *regiment) name() string { return fmt.Sprint(r.state, r.number, r.arm, r.rebel, r.ship) }

type company struct {
	*regiment
	letter, town string
	people       *people
	men          []*man
}

// term is a man's service in one company.
type term struct {
	*company
	rankIn, rankOut string
	in, out         time.Time
	age             int // that he gave
	end, where      string
}

type man struct {
	*people
	surname, given, own, middle, suffix string // own is the given name in his own tongue
	born, died                          time.Time
	fell                                bool   // died in the service
	home                                string // after the war, where a book may know it
	terms                               []*term
	kin                                 []*man // who enlisted in his company
	rows                                []*row
	ground                              string // where he lies, of the grounds here
}

// row is a row of a book, as its clerk wrote the name.
type row struct {
	book                   int
	id                     string
	man                    *man
	term                   *term
	surname, given, middle string
}

func on(y int, mo time.Month, d int) time.Time { return time.Date(y, mo, d, 0, 0, 0, 0, time.UTC) }

// between is some day between two.
func (m *maker) between(from, to time.Time) time.Time {
	return from.Add(time.Duration(m.Float64() * float64(to.Sub(from)))).Truncate(24 * time.Hour)
}

// within is some day within so many years from one.
func (m *maker) within(from time.Time, years float64) time.Time {
	return from.AddDate(0, 0, int(m.Float64()*years*365.25))
}

// sent are the states: how many units they sent, as Fox counts them, weighed by how near they are; and the largest number of infantry, cavalry, heavy and light artillery.
var sent = []struct {
	state   string
	units   float64
	largest [4]int
}{{"Illinois", 344, [4]int{156, 17, 0, 2}}, {"Ohio", 464, [4]int{198, 13, 2, 1}}, {"Indiana", 324, [4]int{156, 13, 1, 0}}, {"Iowa", 232, [4]int{48, 9, 0, 0}}, {"Wisconsin", 140, [4]int{53, 3, 1, 0}}, {"Missouri", 152, [4]int{51, 16, 0, 2}},
	{"Kansas", 76, [4]int{17, 16, 0, 0}}, {"New York", 130, [4]int{193, 26, 14, 3}}, {"Pennsylvania", 84, [4]int{215, 22, 3, 0}}, {"Michigan", 49, [4]int{30, 11, 0, 1}}, {"Minnesota", 34, [4]int{11, 2, 1, 0}}, {"Kentucky", 30, [4]int{55, 17, 0, 0}},
	{"Massachusetts", 27, [4]int{62, 5, 4, 0}}, {"Tennessee", 17, [4]int{8, 12, 0, 0}}, {"West Virginia", 23, [4]int{17, 7, 0, 1}}, {"Vermont", 10, [4]int{17, 1, 0, 0}}, {"Maine", 20, [4]int{32, 2, 1, 0}}, {"New Jersey", 20, [4]int{40, 3, 0, 0}}, {"Connecticut", 15, [4]int{29, 1, 2, 0}}}

var arms = [4]string{"Infantry", "Cavalry", "Heavy Artillery", "Light Artillery"}
var southern = []string{"Missouri", "Arkansas", "Tennessee", "Virginia", "Georgia", "Texas", "Kentucky"}
var formerly = map[int]string{79: "1st Kansas Colored Infantry", 83: "2nd Kansas Colored Infantry", 60: "1st Iowa Colored Infantry", 62: "1st Missouri Colored Infantry", 65: "2nd Missouri Colored Infantry", 67: "3rd Missouri Colored Infantry", 68: "4th Missouri Colored Infantry",
	46: "1st Arkansas Infantry (African Descent)", 54: "2nd Arkansas Infantry (African Descent)", 57: "4th Arkansas Infantry (African Descent)", 59: "1st Tennessee Infantry (African Descent)", 51: "1st Mississippi Infantry (African Descent)"}
var ships = strings.Fields("Harrow Petrel Saginaw Ottumwa Monocle Cinder Osceola Tamarack Kestrel Wabashaw Brandywine Lodestar")
var towns = strings.Fields("Fairmont Albia Waverly Sparta Paris Marion Hillsboro Oxford Newport Lebanon Springfield Clinton Milton Salem Auburn Princeton Monroe Dover Hudson Lancaster Troy Georgetown Danville Winchester Burlington Jackson Union Centerville Greenfield Ashland")

// kinds are the kinds of regiments: their share of all records, how many men one has, the least number it may bear and the largest.
var kinds = []struct {
	kind               string
	share              float64
	size, from, to     int
	state, arm, raised string
}{{"union", .68, 1000, 0, 0, "", "", ""}, {"regulars", .03, 500, 1, 19, "U. S.", "Infantry", "1861-06-01"}, {"colored", .08, 900, 1, 138, "U. S. Colored", "Infantry", "1863-09-01"}, {"rebels", .08, 700, 1, 60, "", "Infantry", "1861-06-01"}, {"ship", .02, 200, 0, 0, "", "Navy", "1862-01-01"},
	{"later", .01, 1000, 1, 6, "Missouri", "Infantry", "1898-05-10"}, {"later", .01, 1000, 49, 52, "Iowa", "Infantry", "1898-05-10"}, {"later", .02, 1000, 1, 9, "Illinois", "Infantry", "1898-05-10"}, {"later", .01, 1000, 20, 23, "Kansas", "Infantry", "1898-05-10"},
	{"later", .05, 1500, 301, 366, "", "Infantry", "1917-09-05"}, {"later", .01, 1500, 301, 351, "", "Field Artillery", "1917-09-05"}}

// raise makes a regiment, the n-th of its kind, that is on no roster yet, if numbers are left.
func (m *maker) raise(kind, n int) *regiment {
	for try := 0; ; try++ {
		k := kinds[kind]
		r := &regiment{war: 1861, state: k.state, arm: k.arm, books: []int{cards}}
		switch k.kind {
		case "union":
			s := sent[m.sent.at(m)]
			arm := 0
			if m.chance(.24) {
				arm = 1 + m.IntN(3)
			}
			if k.from, k.to = 1, s.largest[arm]; k.to == 0 {
				continue
			}
			r.state, r.arm, r.books = s.state, arms[arm], [][]int{{adjutant}, {history}, {adjutant, history}, {adjutant}, {cards}}[n%5]
		case "rebels":
			if r.state, r.rebel = m.any(southern...), true; m.chance(.25) {
				r.arm, k.to = "Cavalry", 12
			}
		case "ship":
			r.ship = m.any(ships...) + m.any("", "", " Queen", " Belle")
		}
		r.number = k.from + m.IntN(k.to-k.from+1)
		raised := k.raised
		if raised == "" { // the low numbers came first
			raised = []string{"1861-05-01", "1862-07-01", "1862-08-01", "1864-02-01"}[4*r.number/(k.to+1)]
		}
		first, _ := time.Parse(time.DateOnly, raised)
		if r.raised = m.within(first, .4); k.kind == "later" {
			r.war, r.books = first.Year(), []int{later}
		} else if k.kind == "colored" {
			r.old = formerly[r.number]
		}
		if !m.used[r.name()] || try > 100 {
			return r
		}
	}
}

// company makes a company of a regiment: from one town, and one in four of a people that came from over the sea.
func (m *maker) company(r *regiment, i int) *company {
	c := &company{regiment: r, letter: string("ABCDEFGHIKLM"[i]), town: m.any(towns...), people: m.settled}
	switch x := m.Float64(); {
	case r.ship != "":
		c.letter = ""
	case r.state == "U. S. Colored":
		c.people = m.freed
	case r.rebel:
	case x < .12:
		c.people = m.german
	case x < .2:
		c.people = m.irish
	case x < .24:
		c.people = m.norse
	}
	return c
}

// muster fills the books: whole regiments, of each kind as many as its share of the records asks for.
func (m *maker) muster(records int) {
	want := 0.
	for i, k := range kinds {
		want += k.share * float64(records)
		for n := 0; len(m.rows) < min(records, int(want+.5)); n++ {
			r := m.raise(i, n)
			m.used[r.name()] = true
			size := min(k.size, 6+int(k.share*float64(records)/5))
			companies := max(1, min(10, size/20))
			if r.ship != "" {
				companies = 1
			} else if r.war == 1861 && r.arm != "Infantry" && companies == 10 {
				companies = 12
			}
			for i := range companies {
				c := m.company(r, i)
				if r.war == 1861 {
					m.listed = append(m.listed, c)
				}
				for range size / companies {
					if len(m.rows) >= min(records, int(want+.5)) {
						break
					}
					p := m.enlist(c)
					if m.chance(.06) {
						m.missed = append(m.missed, p)
						continue
					}
					m.men = append(m.men, p)
					m.list(p, p.terms[0])
				}
			}
		}
	}
}

// christen gives a man his names.
func (m *maker) christen(p *man, middle float64) {
	p.given, p.own, _ = strings.Cut(p.givens.draw(m), "/")
	if !m.chance(middle) {
		return
	}
	if p.middle, _, _ = strings.Cut(p.givens.draw(m), "/"); p.middle == p.given || m.chance(.12) {
		p.middle = m.settled.surnames.draw(m)
	}
}

// said are the ages that men gave, in thousandths, from fifteen on: eighteen is the least that was taken without leave, and forty-four nearly the most.
var said = [...]float64{1, 2, 5, 145, 75, 61, 78, 59, 55, 44, 47, 37, 34, 38, 31, 31, 19, 26, 24, 22, 24, 13, 12, 18, 11, 21, 9, 12, 13, 19, 11}

// enlist makes a man of a company; one in fourteen is kin of one who is there.
func (m *maker) enlist(c *company) *man {
	f := c.people
	if f != m.freed && m.chance(.25) { // who came from elsewhere
		f = []*people{m.settled, m.settled, m.german, m.irish, m.norse}[m.IntN(5)]
	}
	t := &term{company: c}
	p := &man{people: f, terms: []*term{t}}
	middle := f.middle
	if c.war == 1917 {
		middle = .75
	}
	m.christen(p, middle)
	if len(c.men) > 0 && m.chance(.07) {
		k := c.men[m.IntN(len(c.men))]
		p.people, p.surname = k.people, k.surname
		if m.chance(.1) && k.suffix == "" { // a cousin, or a son, of the same name
			if p.given, p.own = k.given, k.own; m.chance(.5) {
				p.suffix = "Jr."
			}
		} else if k.given == p.given {
			p.given, p.own = "Lewis", ""
		}
		p.kin, k.kin = append(p.kin, k), append(k.kin, p)
	} else {
		p.surname = f.surname(m)
	}
	c.men = append(c.men, p)
	t.age = 15 + m.ages.at(m)
	age := t.age
	switch {
	case age == 18 && m.chance(.25):
		age -= 1 + m.IntN(2)
	case age >= 43 && m.chance(.35):
		age += 1 + m.IntN(8)
	case m.chance(.14):
		age += m.IntN(3) - 1
	}
	if t.in = m.within(c.raised, .15); c.war == 1861 && m.chance(.12) { // a recruit
		t.in = m.within(on(1864, 1, 1), .6)
	}
	p.born = m.within(t.in.AddDate(-age-1, 0, 1), .99)
	m.promote(t)
	m.serve(p, t)
	if p.fell {
		p.died = t.out
		return p
	}
	p.died = m.within(p.born.AddDate(int(max(24, min(97, 66+14*m.NormFloat64()))), 0, 0), 1)
	if least := p.terms[len(p.terms)-1].out.AddDate(2, 0, 0); p.died.Before(least) {
		p.died = m.within(least, 20)
	}
	if m.chance(.05) { // where a book has him last; some lived here and lie elsewhere
		p.home = m.any("Ill.", "Iowa", "Kans.", "Cal.", "Mo.", "Ohio")
		if p.home = m.any(towns...) + ", " + p.home; m.chance(.08) {
			p.home = "Junction, Neb."
		}
	}
	return p
}

// ranks are the ranks of enlisting and of the end, of a hundred men; the others were privates from first to last.
var ranks = []struct {
	share   float64
	in, out string
}{{.06, "Private", "Corporal"}, {.025, "Corporal", "Corporal"}, {.04, "Private", "Sergeant"}, {.015, "Sergeant", "Sergeant"}, {.01, "Corporal", "First Sergeant"}, {.02, "Musician", "Musician"}, {.012, "Wagoner", "Wagoner"}, {.01, "Sergeant", "First Lieutenant"}, {.008, "First Lieutenant", "Captain"}, {.007, "Private", "Second Lieutenant"}}

// promote gives a man his ranks.
func (m *maker) promote(t *term) {
	t.rankIn, t.rankOut = "Private", "Private"
	if t.ship != "" {
		t.rankIn, t.rankOut = m.any("Landsman", "Landsman", "Coal Heaver", "Seaman"), m.any("Landsman", "Ordinary Seaman", "Seaman")
		return
	}
	x := m.Float64()
	for _, r := range ranks {
		if x -= r.share; x < 0 {
			t.rankIn, t.rankOut = r.in, r.out
			return
		}
	}
}

// battles are where men fell, and when.
var battles = []struct{ at, day string }{{"Fort Donelson, Tenn.", "1862-02-15"}, {"Shiloh, Tenn.", "1862-04-06"}, {"Stone River, Tenn.", "1862-12-31"}, {"Vicksburg, Miss.", "1863-05-22"}, {"Chickamauga, Ga.", "1863-09-20"}, {"Kenesaw Mountain, Ga.", "1864-06-27"}, {"Franklin, Tenn.", "1864-11-30"}}

// serve says how a service ended, and whether there was another.
func (m *maker) serve(p *man, t *term) {
	t.end = "Mustered out"
	if t.war != 1861 {
		if t.out = m.within(t.in.AddDate(0, 7, 0), 1); m.chance(.03) {
			t.end, t.where, p.fell = "Died of disease", m.any("Camp Thomas, Ga.", "Camp Funston, Kans."), true
		}
		return
	}
	end := on(1865, 6, 1)
	t.out = m.within(end, .3)
	x := m.Float64()
	if x < .7 {
		t.out = m.between(t.in, end)
	}
	switch b := battles[m.IntN(len(battles))]; {
	case x < .125:
		t.end, t.where, p.fell = m.any("Died of disease", "Died of chronic diarrhea", "Died of typhoid fever", "Died of wounds"), m.any("Nashville, Tenn.", "Memphis, Tenn.", "Helena, Ark.", "St. Louis, Mo.", "Andersonville, Ga.", "Louisville, Ky.", "Little Rock, Ark."), true
	case x < .17:
		if day, err := time.Parse(time.DateOnly, b.day); err == nil && day.After(t.in) {
			t.end, t.where, t.out, p.fell = "Killed in action", b.at, day, true
		}
	case x < .415:
		t.end = m.any("Discharged for disability", "Discharged", "Discharged for wounds")
	case x < .425:
		t.end = "Deserted"
	case t.ship == "" && m.chance(.14) && len(m.listed) > 0:
		m.again(p, t)
	}
}

// again gives a man a second service, after a transfer or for another term: in a regiment of his state that is on a roster, else in one that is not.
func (m *maker) again(p *man, t *term) {
	t.out = m.between(t.in, on(1865, 1, 1))
	next := &term{rankIn: t.rankOut, rankOut: t.rankOut, in: m.within(t.out, .3), out: m.within(on(1865, 6, 1), .6), age: t.age + max(0, t.out.Year()-t.in.Year()), end: "Mustered out"}
	for range 30 {
		if c := m.listed[m.IntN(len(m.listed))]; c.state == t.state && c.rebel == t.rebel && c.ship == "" && c != t.company {
			next.company = c
			break
		}
	}
	if next.company == nil {
		next.company = &company{regiment: &regiment{war: 1861, state: "Veteran Reserve Corps", number: 1 + m.IntN(24)}, letter: string("ABCDEFGHIK"[m.IntN(10)]), people: p.people}
	}
	if t.end = "Mustered out"; m.chance(.6) {
		t.end = fmt.Sprintf("Transferred to %s", whole(next.company))
	}
	p.terms = append(p.terms, next)
}

// list writes a man into the books of his regiment, and of the second one too where that has a book.
func (m *maker) list(p *man, t *term) {
	for i, book := range t.books {
		if i > 0 && m.chance(.15) {
			continue
		}
		r := &row{book: book, id: fmt.Sprintf("%s%06d", [...]string{"AG", "H", "C", "W"}[book], len(m.rows)+1), man: p, term: t, surname: m.written(p.surname, p.people), given: p.given, middle: p.middle}
		if m.chance(.004) { // he served under another name
			r.surname, r.given, r.middle = p.people.surname(m), "John", ""
		}
		if m.chance(.1) {
			r.middle = ""
		}
		switch x := m.Float64(); {
		case x < .03 || book == cards && x < .1:
			r.given = r.given[:1] + "."
		case x < .08 && len(brief[r.given]) > 0:
			r.given = strings.ToUpper(brief[r.given][0][:1]) + strings.ToLower(brief[r.given][0][1:])
		case p.own != "" && x < .2:
			r.given = p.own
		}
		m.rows, p.rows = append(m.rows, r), append(p.rows, r)
	}
	if len(p.terms) > 1 && t == p.terms[0] && p.terms[1].books != nil {
		m.list(p, p.terms[1])
	}
}

var months = strings.NewReplacer("Mar.", "March", "Apr.", "April", "May.", "May", "Jun.", "June", "Jul.", "July", "Sep.", "Sept.")

// day writes a day in one of the ways of the books.
func day(t time.Time, how string) string {
	if t.IsZero() {
		return ""
	}
	return months.Replace(t.Format(how))
}

// nth is a number with its ending: 3rd, 11th.
func nth(n int) string {
	if d := n % 10; d >= 1 && d <= 3 && n/10%10 != 1 {
		return strconv.Itoa(n) + []string{"st", "nd", "rd"}[d-1]
	}
	return strconv.Itoa(n) + "th"
}

var printed = map[string]string{"Illinois": "Ill.", "Ohio": "Ohio", "Indiana": "Ind.", "Iowa": "Iowa", "Wisconsin": "Wis.", "Missouri": "Mo.", "Kansas": "Kan.", "New York": "N. Y.", "Pennsylvania": "Pa.", "Michigan": "Mich.", "Minnesota": "Minn.", "Kentucky": "Ky.", "Massachusetts": "Mass.",
	"Tennessee": "Tenn.", "West Virginia": "W. Va.", "Vermont": "Vt.", "Maine": "Me.", "New Jersey": "N. J.", "Connecticut": "Conn.", "Arkansas": "Ark.", "Virginia": "Va.", "Georgia": "Ga.", "Texas": "Tex.", "Nebraska": "Neb.", "U. S.": "U. S."}

// unitIn is a unit without its company, as books word it.
func unitIn(c *company, book int) string {
	arm := c.arm
	switch {
	case c.ship != "":
		return "U.S.S. " + c.ship
	case c.state == "Veteran Reserve Corps":
		return nth(c.number) + " V. R. C."
	case c.state == "U. S. Colored":
		if book == cards {
			return nth(c.number) + " Regiment, United States Colored Infantry"
		}
		return nth(c.number) + " U. S. Colored Infantry"
	case c.war == 1917:
		return nth(c.number) + " " + arm
	case book == cards:
		state := map[bool]string{true: "United States", false: c.state}[c.state == "U. S."]
		if c.rebel && c.number%9 == 0 {
			return fmt.Sprintf("%s Battalion, %s %s", nth(c.number), state, arm)
		}
		return fmt.Sprintf("%s Regiment, %s %s", nth(c.number), state, arm)
	}
	return fmt.Sprintf("%s %s %s", nth(c.number), printed[c.state], map[string]string{"Infantry": "Inf.", "Cavalry": "Cav.", "Heavy Artillery": "H. A.", "Light Artillery": "L. A."}[arm])
}

// whole is a unit with its company.
func whole(c *company) string {
	of := "Co. "
	if strings.HasSuffix(c.arm, "Artillery") && c.arm != "Heavy Artillery" {
		of = "Battery "
	}
	return of + c.letter + ", " + unitIn(c, history)
}

// columns are the columns of the books, each with the share of rows in which it is filled. The gaps of the cards' companies are those of Andersonville's list.
var columns = [4]string{
	"id:1 surname:1 given:1 rank_in:1 rank_out:1 company:.98 regiment:1 arm:1 state:1 enlisted:.97 mustered_out:.85 age:.9 residence:.75 remarks:1",
	"id:1 name:1 rank_out:1 unit:1 residence:.5 enlisted:.7 died:1 death_place:1 buried:1 remarks:1",
	"id:1 surname:1 given:1 side:1 branch:1 rank_in:.9 rank_out:.9 company:.945 unit:1 remarks:1",
	"id:1 name:1 rank_out:1 unit:1 conflict:1 born:.7 residence:.97 enlisted:1 mustered_out:.9 died:1",
}

// books writes the rosters.
func (m *maker) books() (books [4][][]string) {
	for i, c := range columns {
		var titles, rates []string
		for _, f := range strings.Fields(c) {
			title, rate, _ := strings.Cut(f, ":")
			titles, rates = append(titles, title), append(rates, rate)
		}
		books[i] = append(books[i], titles)
		for _, r := range m.rows {
			if r.book != i {
				continue
			}
			said, cells := m.says(r), make([]string, len(titles))
			for k, title := range titles {
				if rate, _ := strconv.ParseFloat(rates[k], 64); rate == 1 || m.chance(rate) && !m.of(0, .1) {
					cells[k] = said[title]
				}
			}
			books[i] = append(books[i], cells)
		}
	}
	return books
}

// says is all that a book might say of a man. Of those who lie here a third are known to have lived here, and of one in three of these the book has the grave.
func (m *maker) says(r *row) map[string]string {
	p, t := r.man, r.term
	given := r.given
	if r.middle != "" && m.chance(.07) {
		given += " " + r.middle
	} else if r.middle != "" {
		given += " " + r.middle[:1] + "."
	}
	if p.suffix != "" && m.chance(.7) {
		given += ", " + p.suffix
	}
	long := "Jan. 2, 2006"
	if t.number%3 == 0 && r.book != later {
		long = time.DateOnly
	}
	c := map[string]string{"id": r.id, "surname": r.surname, "given": given, "name": r.surname + ", " + given, "rank_in": t.rankIn, "rank_out": t.rankOut, "company": t.letter, "regiment": strconv.Itoa(t.number), "arm": t.arm, "state": t.state, "unit": whole(t.company), "side": "Union", "branch": "Army",
		"enlisted": day(t.in, long), "mustered_out": day(t.out, long), "age": strconv.Itoa(t.age), "residence": t.town, "born": day(p.born, m.any("2006", long)), "conflict": map[int]string{1898: "Spanish-American War", 1917: "World War"}[t.war], "remarks": t.end}
	home := p.home
	if p.ground != "" && m.chance(.3) {
		home = "Junction, Neb."
	}
	switch {
	case t.where != "":
		c["remarks"] += " at " + t.where + ", " + day(t.out, "Jan. 2, 2006")
		c["died"], c["death_place"], c["mustered_out"] = day(t.out, "Jan. 2, 2006"), t.where, ""
	case t.end != "Mustered out":
		c["remarks"] += " " + day(t.out, "Jan. 2, '06")
	case home != "" && r.book == history:
		c["remarks"] += "; last known at " + home
		if m.chance(.35) {
			c["died"] = day(p.died, m.any("2006", "Jan. 2, 2006"))
		}
		if p.ground != "" && m.chance(.3) {
			c["buried"] = p.ground + ", " + home
		}
	}
	if r.book == history && m.chance(.03) {
		c["unit"] = unitIn(t.company, history)
	}
	if r.book == cards {
		if c["unit"], c["remarks"] = unitIn(t.company, cards), ""; t.old != "" && m.chance(.25) {
			c["unit"], c["remarks"] = t.old, "later "+c["unit"]
		} else if t.old != "" {
			c["remarks"] = "formerly " + t.old
		}
		if t.rebel {
			c["side"] = "Confederate"
		}
		if t.ship != "" {
			c["branch"] = "Navy"
		}
	}
	return c
}
