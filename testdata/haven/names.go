package haven

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

//go:embed names.csv
var counted string

// bag is a set of names, drawn as often as they were counted.
type bag struct {
	names []string
	upTo  []int // the running sum of counts
}

func (b *bag) add(name string, n int) {
	if len(b.upTo) > 0 {
		n += b.upTo[len(b.upTo)-1]
	}
	b.names, b.upTo = append(b.names, name), append(b.upTo, n)
}

func (m *maker) draw(b *bag) string {
	at, _ := slices.BinarySearch(b.upTo, m.IntN(b.upTo[len(b.upTo)-1])+1)
	return b.names[at]
}

// bags reads the counted names.
func bags() (map[string]*bag, error) {
	rows, err := csv.NewReader(strings.NewReader(counted)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("names.csv: %w", err)
	}
	all := map[string]*bag{}
	for _, row := range rows[1:] {
		n, err := strconv.Atoi(row[2])
		if err != nil {
			return nil, fmt.Errorf("names.csv: count of %s: %w", row[1], err)
		}
		if all[row[0]] == nil {
			all[row[0]] = &bag{}
		}
		all[row[0]].add(row[1], n)
	}
	women := &bag{}
	for i, name := range words("Mary Elizabeth Sarah Anna Margaret Emma Martha Catherine Ellen Julia Harriet Jane Alice Susan Nancy Eliza Hannah Ida Minnie Louisa Clara Rebecca " +
		"Caroline Lucy Maria Bridget Kate Johanna Charlotte Amelia Frances Ella Cora Lydia Wilhelmina Grace Bertha Rosina Phebe Abigail Edith Delia Sophronia Mabel Hattie Almira Cornelia") {
		women.add(name, 300/(i+4)+2)
	}
	all["women"] = women
	return all, nil
}

func words(s string) []string { return strings.Fields(s) }

// people is how a kind of family is named: the share of names that are the common ones, and what the others are put together from. Heads and tails are invented, as are the shares.
type people struct {
	common       float64
	heads, tails []string
	foreign      bool
	unlettered   float64 // cannot write, and so cannot tell a clerk how the name is spelled
	lands        []string
}

var (
	yankee = &people{.57, words("Ash Barn Beck Birch Black Bram Brad Brock Burl Cald Carl Chad Clay Cob Cran Crom Dart Den Der Dray Dun East Ell Fair Farn Fen Garn Gold Graf Green Had Hal Ham Har Hart Hath Hazel Hol Hux Kel Ken Kings Lang Lath Lin Lock Lud Mar May Mel Mil Nor Oak Old Pem Pres Quin Rad Red Rip Rock Rother Sal Sel Shel Stan Stock Strat Sut Thorn Til Wad Wake Wal Wel Whit Wil Win Wood Yar"),
		words("bury by comb cott croft dale den field ford gate grave ham hurst ing kins land ler ley low man mer mont more ridge ringer ser shaw son stead stone ter thwaite ton vale vell ville wald way well wick win worth yer"), false, .06, nil}
	teuton = &people{.2, words("Acker Alt Bach Baum Berg Bier Birken Blum Brand Braun Buch Dietz Drei Eber Eich Engel Feld Fisch Frei Fuhr Gold Gott Grun Haber Hack Hart Heid Hein Hoch Holz Kalt Kauf Kirch Klein Kopf Kranz Kreuz Kunz Lang Lehn Licht Lind Metz Mohr Muhl Neu Ober Oster Rein Ritt Rosen Roth Sauer Schaf Scheu Schon Schwar Seif Stein Stoll Strau Trau Uhl Vogel Wald Wein Weiss Wendel Zeller Zieg Zimmer"),
		words("aker auer bach bauer baum beck berg bel burg dorf el elmann enbach ert eler gart hardt haus heim hold holz ig ing ke ler lich ling mann meier mer mann ner rich schmidt stein ter thal wald weg"), true, .07,
		words("Germany Prussia Bavaria Baden Hanover Wurtemberg Germany Germany")}
	irish = &people{.45, words("O'Ban O'Brad O'Cal O'Dal O'Fla O'Gar O'Han O'Kea O'Lough O'Mear O'Shau Mc Mc Mc Mc Mc Mc Mc Bren Cal Cas Con Cor Cur Dev Don Doo Dris Du Fal Fin Fla Gal Ger Gil Hal Han Heal Hen Hog Ken Kil Lar Mal Mo Mul Now Quin Rear Rior Shan Shee Tier Twoh"),
		words("Cabe Carty Clin Cormick Dade Elroy Gann Garry Ginty Goff Govern Grath Guire Hale Inerny Kenna Larn Loon Manus Nulty Quade Shane Sorley Tigue agan an dan den drick ey gan han igan ihy lan lon nan nell ney ran ry sey van vin"), true, .24, words("Ireland Ireland Ireland Ireland Canada England")}
	dutch = &people{.08, words("Van Van Van De Ver Ten Boer Brink Dyk Hoek Huiz Kloos Kuip Meer Molen Noord Oost Plant Roelof Steen Vries Wester Zand Zuider"),
		words("achterberg anten berg boom bosch broek brugge dam den der dorp eman enga er gaard heide horst houten huis huizen inga kamp ker laan land man meer molen mond ossen raad sma straat stra veld velde winkel woude zee"), true, .1, words("Holland Holland Netherlands")}
	canuck = &people{.06, words("Ar Baril Beau Bel Ber Bois Bou Bru Car Cha Char Cour Cus Dau Des Du For Gag Gau Gre La La La Le Le Lan Lau Mar Mer Mon Nad Pa Pel Per Ra Ro Sau The Trem Val"),
		words("audeau ault beau blanc bonne bord boult champ chand clair cotte court din dry fleur font geau gnon gras lain land leau lier lois mage main mard miche mond montagne nault neau nier pierre pointe ret rier roux sel tier tin ton trand ville voie"), true, .32, words("Canada Canada Quebec Canada East Michigan")}
	cornish = &people{.2, words("Tre Tre Tre Pen Pol Pol Bos Car Chy Lan Nan Pas Ros Tan"), words("bilcock carrow coe darthen gear gellas gidgo glown goning gove hallow kerris lease loar meer mewan nance neer noweth renna rise rose scott sidder skillan thick thewey vanion varrow vena verton warne wartha win"), false, .1, words("England England Cornwall")}
	norse   = &people{.25, words("Ander Arne Bern Chris Dahl Elling Erick Gunder Hal Han Hauge Iver Jorgen Knud Lar Lind Mikkel Niel Nor Ole Peder Rasmus Sand Sever Sven Thor Torger Ulrik"),
		words("sen son sen son berg dahl gaard gren holm lund mark quist rud sted stad strom vold vik"), true, .08, words("Norway Norway Sweden Denmark")}
	freed = &people{.97, yankee.heads, yankee.tails, false, .72, words("Kentucky Virginia Tennessee Kentucky Missouri Maryland")}
)

// surname names a family.
func (m *maker) surname(p *people, later bool) string {
	if m.chance(p.common) {
		if later {
			return m.draw(m.bags["surname 1917"])
		}
		return m.draw(m.bags["surname 1861"])
	}
	for {
		head, tail := p.heads[m.IntN(len(p.heads))], p.tails[m.IntN(len(p.tails))]
		capital := tail[0] >= 'A' && tail[0] <= 'Z'
		if capital != (head == "Mc") {
			continue
		}
		name := head + tail
		if p == dutch && m.chance(.5) && (head == "Van" || head == "De") {
			name = head + " " + strings.ToUpper(tail[:1]) + tail[1:]
		}
		for range 2 {
			if m.chance(.35) {
				name = m.ear(name) // a branch that has long spelled itself otherwise
			}
		}
		if len(name) > 3 {
			return name
		}
	}
}

// sounds are letters that a clerk may write for each other when he hears them; ^ and $ are the ends of a name.
var sounds = func() (all [][2]string) {
	for _, pair := range words("ei:ie ie:ei ey:y y$:ey ley:ly ck:k k$:ck ph:f tt:t ll:l nn:n ss:s rr:r mm:m el$:le sen$:son son$:sen er$:ar er$:or ar:er ea:ee ee:ea ea:e au:aw aw:au ou:ow ow:ou " +
		"tz:ts mann$:man man$:mann man$:mon sch:sh sh:sch Kn:N Wr:R gh:g oo:u ai:ay ay:ai ae:a e$: s$: ton$:ten den$:don ell$:el eau:o ault$:o ier$:ear x$:cks ca:ka co:ko cl:kl Ph:F C:K K:C Mc:Mac O':O ham$:um ings$:ins ie$:y or$:er " +
		"tt$:t in$:en en$:in an$:en ough:o and$:ant dt$:t th:t z:s Z:S ui:y uy:y ij:y v:f qu:kw oe:o th$:ths t$:tt l$:ll n$:ne r$:rs d$:de g$:gs k$:ks ld$:l ue:u eu:oy ") {
		from, to, _ := strings.Cut(pair, ":")
		all = append(all, [2]string{from, to})
	}
	return
}()

// ear writes a name down by its sound: one group of letters is put for another.
func (m *maker) ear(name string) string {
	start := m.IntN(len(sounds))
	for i := range sounds {
		s := sounds[(start+i)%len(sounds)]
		from, end := strings.CutSuffix(s[0], "$")
		at := strings.LastIndex(name, from)
		if at < 0 || end && at+len(from) != len(name) || !end && at+len(from) == len(name) && len(from) == 1 {
			continue
		}
		if got := name[:at] + s[1] + name[at+len(from):]; len(got) > 2 && got != name {
			return got
		}
	}
	return name + "s"
}

// looks are letters that look alike in script.
var looks = words("u:n n:u e:c a:o o:a l:t t:l r:v i:e e:i h:k k:h rn:m m:rn S:L L:S T:F F:T J:I K:R R:K H:N B:P P:B M:W g:y s:r b:l d:cl ll:tt nn:m w:m G:S C:G O:C nd:rd")

// eye misreads one letter of a name.
func (m *maker) eye(name string) string {
	start := m.IntN(len(looks))
	for i := range looks {
		from, to, _ := strings.Cut(looks[(start+i)%len(looks)], ":")
		var at []int
		for k := 0; k+len(from) <= len(name); k++ {
			if name[k:k+len(from)] == from {
				at = append(at, k)
			}
		}
		if len(at) > 0 {
			k := at[m.IntN(len(at))]
			return name[:k] + to + name[k+len(from):]
		}
	}
	return name
}

// slip strikes a wrong key: two letters change places, one is left out or comes twice.
func (m *maker) slip(name string) string {
	if len(name) < 4 {
		return name
	}
	k := 1 + m.IntN(len(name)-2)
	switch m.IntN(3) {
	case 0:
		return name[:k] + name[k+1:k+2] + name[k:k+1] + name[k+2:]
	case 1:
		return name[:k] + name[k+1:]
	}
	return name[:k] + name[k:k+1] + name[k:]
}

// short is how given names are abbreviated (the fact base's table of forms, from memory and a list of contractions), and called.
var short, called = pairs("William:Wm John:Jno James:Jas Charles:Chas George:Geo Thomas:Thos Samuel:Saml Joseph:Jos Daniel:Danl Robert:Robt Benjamin:Benj Alexander:Alex Andrew:Andw Edward:Edwd Edwin:Edw Frederick:Fredk Henry:Hy " +
	"Michael:Michl Patrick:Patk Richard:Richd Nathaniel:Nathl Jonathan:Jno Christopher:Chris Christian:Chris Albert:Albt Alfred:Alf Augustus:Aug Abraham:Abm Theodore:Theo Lawrence:Lawce Archibald:Archd Philip:Phil Timothy:Timy Solomon:Sol Zachariah:Zach Joshua:Jos Josiah:Jos"),
	pairs("William:Will Charles:Charley Francis:Frank Henry:Harry James:Jim John:Jack Frederick:Fred Augustus:Gus Alexander:Sandy Benjamin:Ben Edward:Ned Joseph:Joe Samuel:Sam Daniel:Dan Thomas:Tom Theodore:Dore Andrew:Andy Michael:Mike Patrick:Pat Nathaniel:Nat Abraham:Abe Elizabeth:Lizzie Margaret:Maggie Sarah:Sallie Catherine:Kate")

func pairs(s string) map[string]string {
	all := map[string]string{}
	for _, pair := range words(s) {
		name, form, _ := strings.Cut(pair, ":")
		all[name] = form
	}
	return all
}
