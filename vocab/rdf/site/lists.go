package site

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"musterstone/vocab/natural"
)

// lists are the pages that list others.
type lists struct{ persons, markers, units, places []shown }

// take puts a page where it is listed.
func (l *lists) take(d document) {
	var list *[]shown
	switch classOf(d.triples, d.iri) {
	case "Person":
		list = &l.persons
	case "Marker":
		list = &l.markers
	case "Unit":
		list = &l.units
	case "BurialGround":
		list = &l.places
	default:
		return
	}
	*list = append(*list, shown{Text: labelOf(d.iri, d.triples), Href: d.iri})
}

// listPage is what the template of a list shows.
type listPage struct {
	Site, Title string
	Home        bool
	Notes       []string
	Links       []shown
}

// regiment is what a list is sorted by: the name itself, and of a company that of its regiment and a comma, so that it stands behind it.
func regiment(name string) string {
	if company, whole, ok := strings.Cut(name, ", "); ok && strings.HasPrefix(company, "Company ") {
		return whole + ", "
	}
	return name
}

// writeLists writes the lists, the page of the whole, and the style sheet.
func (s *site) writeLists() (pages int, err error) {
	t, err := templates()
	if err != nil {
		return 0, err
	}
	write := func(file string, p listPage) error {
		p.Site = s.Title
		var b bytes.Buffer
		if err := t.ExecuteTemplate(&b, "list.tmpl", p); err != nil {
			return err
		}
		pages++
		return os.WriteFile(filepath.Join(s.dir, file), b.Bytes(), 0o666)
	}
	home := listPage{Title: s.Title, Home: true, Notes: []string{
		"Grave markers of veterans, service records, and what people decided of them. What the program proposes is marked as a proposal, and is no proof.",
	}}
	if s.Publisher != "" {
		home.Notes = append(home.Notes, "Published by "+s.Publisher+".")
	}
	for _, l := range []struct {
		file, title string
		links       []shown
	}{
		{"persons.html", "Persons whom somebody identified", s.lists.persons},
		{"markers.html", "Grave markers and rows of burial registers", s.lists.markers},
		{"units.html", "Units", s.lists.units},
		{"places.html", "Burial grounds", s.lists.places},
	} {
		for i := range l.links {
			l.links[i].Href = strings.TrimPrefix(l.links[i].Href, s.Base) + "/index.html"
		}
		slices.SortStableFunc(l.links, func(a, b shown) int {
			return cmp.Or(natural.Compare(regiment(a.Text), regiment(b.Text)), natural.Compare(a.Text, b.Text))
		})
		if err := write(l.file, listPage{Title: l.title, Links: l.links}); err != nil {
			return pages, err
		}
		home.Links = append(home.Links, shown{Text: fmt.Sprintf("%s (%d)", l.title, len(l.links)), Href: l.file})
	}
	if strings.HasPrefix(s.Licence, "https://") || strings.HasPrefix(s.Licence, "http://") {
		home.Links = append(home.Links, shown{"Licence: " + s.Licence, s.Licence})
	} else if s.Licence != "" {
		home.Notes = append(home.Notes, "Licence: "+s.Licence)
	}
	home.Links = append(home.Links,
		shown{"About these data, for people", "README.txt"}, shown{"The dataset: counts, inputs and files", "dataset/index.html"},
		shown{"What the program proposes", "proposals/index.html"}, shown{"The vocabulary", "vocabulary.html"},
		shown{"The description for machines (VoID, DCAT)", "about.ttl"}, shown{"The rules that the data keep (SHACL)", "shapes.ttl"}, shown{"The data as N-Quads", "dataset.nq"})
	if err := write("index.html", home); err != nil {
		return pages, err
	}
	css, err := files.ReadFile("style.css")
	if err != nil {
		return pages, err
	}
	return pages, os.WriteFile(filepath.Join(s.dir, "style.css"), css, 0o666)
}
