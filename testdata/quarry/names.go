package quarry

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
)

//go:embed names.csv
var namesTable []byte

//go:embed units.csv
var unitsTable []byte

//go:embed states.csv
var statesTable []byte

// urn draws things by weight.
type urn[T any] struct {
	things []T
	upto   []float64
}

func (u *urn[T]) put(thing T, weight float64) {
	sum := weight
	if n := len(u.upto); n > 0 {
		sum += u.upto[n-1]
	}
	u.things, u.upto = append(u.things, thing), append(u.upto, sum)
}

func (u *urn[T]) draw(r *rand.Rand) T {
	at, _ := slices.BinarySearch(u.upto, r.Float64()*u.upto[len(u.upto)-1])
	return u.things[min(at, len(u.things)-1)]
}

// one draws one of several, all alike.
func one[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

// early draws one of several, the first oftener than the last.
func early[T any](r *rand.Rand, of []T) T {
	return of[int(float64(len(of))*math.Pow(r.Float64(), 1.5))]
}

// folk are people of one descent: how their rarer surnames are put together, and given names that they brought along.
type folk struct {
	tabled                 float64 // share of its surnames that are in the table
	share                  float64 // of the county's people in 1861; newcomers' share is more in 1917
	grown                  float64 // of its people in 1917
	brought                float64 // share of names brought along among the given names in 1861
	stems, ends, givens    []string
	between                []string // what may stand between stem and end
	birthplaces            []string
	capitalAfterFirstParts bool // McKenna, O'Dea
}

var folks = []folk{
	{tabled: .8, share: .55, grown: .36, birthplaces: []string{"New York", "Vermont", "Ohio", "Pennsylvania", "Wisconsin", "England", "Maine", "Canada", "Indiana"},
		between: []string{"er", "en", "ing", "a", "le", "y"},
		stems:   strings.Fields("Ash Brad Had Wal Thorn Hol Win Stan Lang Whit Ed El Har Ken Mid Nor Pem Red Sut Wes Al Brom Crom Den Far Ger Hart Ire Kirk Led Mars New Oak Prest Quin Ros Shel Til Up Ver Wad Yar Bux Chet Dray"),
		ends:    strings.Fields("ton ley ford well man wood by ham worth field ridge burn bury more stead combe wick ings son den")},
	{tabled: .62, share: .13, grown: .10, brought: .35, birthplaces: []string{"Ireland", "Ireland", "Ireland", "Wisconsin", "Canada", "Massachusetts"}, capitalAfterFirstParts: true,
		stems:  strings.Fields("Mc O' Mc O' Mc Mac"),
		ends:   strings.Fields("Dea Grath Nulty Shane Cready Quade Loughlin Gann Keon Mara Garry Elroy Corry Hale Devitt Geary Inerny Rorke Bain Nally Hara Shea Tigue Vey Glone Avoy Keever Dowell Guinn Phee"),
		givens: strings.Fields("Patrick Michael Dennis Cornelius Jeremiah Timothy Bartholomew Thomas Maurice Bernard")},
	{tabled: .3, share: .20, grown: .27, brought: .45, birthplaces: []string{"Prussia", "Germany", "Bavaria", "Wisconsin", "Wisconsin", "Mecklenburg", "Saxony"},
		between: []string{"el", "er", "en", "s", "ling", "ig"},
		stems:   strings.Fields("Schoen Klein Berg Stein Kauf Zimmer Hoff Weid Eber Gross Lich Hart Kess Brand Acker Baum Diet Fuchs Geb Holz Kuhl Lind Neu Oster Pfeif Reich Schau Tesch Ulm Voss Wach Zieg Buch Daehn Fenz Gaed Hinz Krue Luedt Mohr Raas"),
		ends:    strings.Fields("mann er hardt bach ler ke meier hauer ner stein berg feld low itz burg inger haus dorf brecht rath"),
		givens:  strings.Fields("Johann Friedrich Wilhelm Heinrich August Carl Gottlieb Ferdinand Herman Christian Ernst Ludwig Gustav Otto Adolph Conrad Fritz")},
	{tabled: .25, share: .10, grown: .18, brought: .55, birthplaces: []string{"Norway", "Norway", "Sweden", "Wisconsin", "Denmark"},
		between: []string{"e", "s", "er", "a", "ing"},
		stems:   strings.Fields("Han Ol Pet Lar Ander Jen Niel Knud Erick Thor Gunder Halvor Iver Tollef Amund Sven Torger Ask Bakk Dahl Eng Fos Grav Haug Kjel Lok Nord Rust Sand Tveit"),
		ends:    strings.Fields("son sen son sen land stad moen rud vold gaard lien berg dahl haugen bakken eim vik set by nes"),
		givens:  strings.Fields("Ole Nils Peter Lars Hans Knut Halvor Anders Iver Gunder Torger Sven Carl Axel Gust Martin Andrew Nels Thorvald Einar")},
	{tabled: .08, share: .02, grown: .09, brought: .6, birthplaces: []string{"Poland", "Bohemia", "Russia", "Wisconsin", "Wisconsin", "Austria"},
		between: []string{"ow", "in", "ar", "el", "osz"},
		stems:   strings.Fields("Kow Wisn Jan Nowak Zel Dobr Gor Kaz Lew Maj Olsz Pietr Rog Stan Szy Tom Urb Wal Zaw Bur Cies Dud Grab Jab Krol Mal Piot"),
		ends:    strings.Fields("alski ewski owski icki czak ek czyk inski owicz iak ura ek"),
		givens:  strings.Fields("Stanley Frank Joseph John Anton Casimir Ignatz Wenzel Vincent Stephen Thomas Walter Leo Albert Martin")},
}

// surname puts a rare surname together. Some stems and ends are far commoner than others, so that some of these names are common all the same.
func (f *folk) surname(r *rand.Rand) string {
	stem, end := early(r, f.stems), early(r, f.ends)
	if !f.capitalAfterFirstParts {
		if r.Float64() < .35 {
			stem += one(r, f.between...)
		}
		end = strings.ToLower(end)
		if last := stem[len(stem)-1]; last == end[0] {
			end = end[1:]
		}
	}
	return stem + end
}

type state struct{ code, name, stone, print string }

type names struct {
	surnames         urn[string]
	old, young       urn[string] // given names of 1861 and of 1917
	women            []string
	states           map[string]state
	english, familar map[string][]string
}

// outfits are the regiments of a war by how many served in them.
type outfits struct{ urn urn[outfit] }

// readRows reads an embedded table, each row by its columns.
func readRows(name string, data []byte) ([]map[string]string, error) {
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	var all []map[string]string
	for _, row := range rows[1:] {
		cells := map[string]string{}
		for i, title := range rows[0] {
			cells[title] = row[i]
		}
		all = append(all, cells)
	}
	return all, nil
}

func (q *quarry) readTables() error {
	rows, err := readRows("names.csv", namesTable)
	if err != nil {
		return err
	}
	for _, row := range rows {
		count, err := strconv.ParseFloat(row["count"], 64)
		if err != nil {
			return fmt.Errorf("names.csv: count of %s: %w", row["name"], err)
		}
		switch row["kind"] {
		case "surname":
			q.names.surnames.put(row["name"], count)
		case "given-1861":
			q.names.old.put(row["name"], count)
		case "given-1917":
			q.names.young.put(row["name"], count)
		}
	}
	if rows, err = readRows("states.csv", statesTable); err != nil {
		return err
	}
	q.names.states = map[string]state{}
	for _, row := range rows {
		q.names.states[row["code"]] = state{row["code"], row["name"], row["stone"], row["print"]}
	}
	if rows, err = readRows("units.csv", unitsTable); err != nil {
		return err
	}
	q.outfits = map[string]*outfits{}
	for _, row := range rows {
		first, err1 := strconv.Atoi(row["first"])
		last, err2 := strconv.Atoi(row["last"])
		weight, err3 := strconv.ParseFloat(row["weight"], 64)
		if err1 != nil || err2 != nil || err3 != nil {
			return fmt.Errorf("units.csv: %v is no row of numbers", row)
		}
		division, _ := strconv.Atoi(row["division"]) // most have none
		war := q.outfits[row["war"]]
		if war == nil {
			war = &outfits{}
			q.outfits[row["war"]] = war
		}
		for n := first; n <= last; n++ {
			war.urn.put(outfit{body: row["body"], arm: row["arm"], number: n, companies: row["companies"], division: division}, weight/float64(last-first+1))
		}
	}
	q.names.women = strings.Fields("Mary Anna Elizabeth Margaret Sarah Emma Minnie Clara Alice Ella Martha Catherine Ida Bertha Louisa Jane Harriet Nellie Laura Augusta Julia Carrie Rose Eliza Hannah Lena Ellen Caroline " +
		"Amelia Frances Edith Florence Ruth Helen Mabel Hattie Susan Lydia Nancy Agnes Maria Sophia Ingeborg Karen Johanna Wilhelmina Bridget Lucy Rachel Phebe Almira Lucinda")
	q.names.english = map[string][]string{"Johann": {"John"}, "Friedrich": {"Frederick", "Fred"}, "Wilhelm": {"William"}, "Heinrich": {"Henry"}, "Carl": {"Charles"}, "Ludwig": {"Louis"}, "Gustav": {"Gust"}, "Ernst": {"Ernest"},
		"Ole": {"Oley", "Oliver"}, "Nils": {"Nels"}, "Lars": {"Louis", "Lewis"}, "Anders": {"Andrew"}, "Knut": {"Canute", "Knud"}, "Iver": {"Ivar"}, "Sven": {"Swen"}, "Wenzel": {"James"}, "Casimir": {"Charles"}, "Ignatz": {"Ignatius"}, "Anton": {"Anthony", "Tony"}}
	q.names.familar = map[string][]string{"William": {"Will", "Willie", "Bill"}, "John": {"Jack"}, "James": {"Jim"}, "Charles": {"Charley", "Charlie"}, "Henry": {"Harry", "Hank"}, "Thomas": {"Tom"}, "Joseph": {"Joe"}, "Samuel": {"Sam"},
		"Edward": {"Ed", "Ned"}, "Frederick": {"Fred"}, "Benjamin": {"Ben"}, "Daniel": {"Dan"}, "Francis": {"Frank"}, "Albert": {"Bert"}, "Robert": {"Bob", "Rob"}, "Michael": {"Mike"}, "Andrew": {"Andy"}, "Alexander": {"Alex"},
		"Theodore": {"Ted"}, "Herbert": {"Bert"}, "Lawrence": {"Larry"}, "Raymond": {"Ray"}, "Clarence": {"Clare"}, "Leonard": {"Len"}, "Walter": {"Walt"}, "Augustus": {"Gus"}, "Richard": {"Dick"}, "Peter": {"Pete"}}
	return nil
}

// descend draws the descent of a man of a year's birth.
func (q *quarry) descend(r *rand.Rand, born int) *folk {
	late := min(1, max(0, float64(born-1840)/55))
	x := r.Float64()
	for i := range folks {
		f := &folks[i]
		if x -= f.share*(1-late) + f.grown*late; x < 0 {
			return f
		}
	}
	return &folks[0]
}

func (q *quarry) surname(r *rand.Rand, f *folk) string {
	if r.Float64() < f.tabled {
		return q.names.surnames.draw(r)
	}
	return f.surname(r)
}

func (q *quarry) given(r *rand.Rand, f *folk, born int) string {
	if r.Float64() < f.brought*max(.25, 1-max(0, float64(born-1850)/70)) {
		return early(r, f.givens)
	}
	if r.Float64() < float64(born-1850)/42 {
		return q.names.young.draw(r)
	}
	return q.names.old.draw(r)
}

// spelled is a surname as another hand might spell it.
func spelled(r *rand.Rand, surname string) string {
	var ways []string
	way := func(old, new string) {
		if at := strings.LastIndex(surname, old); at > 0 {
			ways = append(ways, surname[:at]+new+surname[at+len(old):])
		}
	}
	for _, pair := range [][2]string{{"son", "sen"}, {"sen", "son"}, {"ie", "ei"}, {"ei", "ie"}, {"y", "ey"}, {"ey", "y"}, {"ck", "k"}, {"ll", "l"}, {"tt", "t"}, {"nn", "n"}, {"mann", "man"}, {"man", "mann"}, {"th", "t"}, {"ea", "ee"},
		{"er", "ar"}, {"ki", "ky"}, {"ch", "k"}, {"dt", "t"}, {"ow", "au"}, {"ough", "o"}, {"or", "er"}, {"on", "en"}, {"ei", "i"}, {"aa", "o"}, {"tz", "ts"}, {"ss", "s"}, {"z", "s"}, {"oe", "o"}, {"ue", "u"}, {"ph", "f"}, {"Mac", "Mc"}, {"i", "y"}} {
		way(pair[0], pair[1])
	}
	switch {
	case strings.HasSuffix(surname, "e"):
		ways = append(ways, surname[:len(surname)-1])
	case strings.HasSuffix(surname, "s"):
		ways = append(ways, surname[:len(surname)-1])
	default:
		ways = append(ways, surname+"s")
		if strings.ContainsAny(surname[len(surname)-1:], "kltnd") {
			ways = append(ways, surname+"e")
		}
	}
	if len(surname) > 3 && strings.ContainsAny(surname[1:2], "alro") {
		switch surname[0] {
		case 'K':
			ways = append(ways, "C"+surname[1:])
		case 'C':
			ways = append(ways, "K"+surname[1:])
		}
	}
	if strings.HasPrefix(surname, "Sch") && len(surname) > 4 {
		ways = append(ways, "S"+surname[3:], "Sh"+surname[3:])
	}
	if strings.HasPrefix(surname, "O'") {
		ways = append(ways, surname[2:], "O"+surname[2:])
	}
	if strings.HasPrefix(surname, "Mc") {
		ways = append(ways, "Mac"+surname[2:], "Mc "+surname[2:])
	}
	return one(r, ways...)
}

// shortened are given names as clerks and stonecutters shortened them (a wiki's appendix of contractions, as the fact base gives it).
var shortened = map[string][]string{"William": {"Wm."}, "George": {"Geo."}, "Charles": {"Chas."}, "James": {"Jas."}, "John": {"Jno."}, "Thomas": {"Thos."}, "Joseph": {"Jos."}, "Samuel": {"Saml."}, "Robert": {"Robt."}, "Benjamin": {"Benj."},
	"Edward": {"Edw.", "Edwd."}, "Frederick": {"Fredk.", "Fred"}, "Daniel": {"Danl."}, "Henry": {"Hy."}, "Alexander": {"Alex.", "Alexr."}, "Andrew": {"Andw."}, "Michael": {"Michl."}, "Patrick": {"Patk."}, "Richard": {"Richd."}, "Albert": {"Albt."},
	"Abraham": {"Abrm."}, "Augustus": {"Aug."}, "Nathaniel": {"Nathl."}, "Theodore": {"Theo."}, "Cornelius": {"Corns."}, "Jeremiah": {"Jer."}, "Timothy": {"Timy."}, "Christopher": {"Chris."}}
