package rdf

import (
	"strings"

	"musterstone/model"
	"musterstone/model/date"
)

// secrets are the values that the private columns of one row hold.
func (m *mapper) secrets(cells []model.Cell) map[string]bool {
	if len(m.private) == 0 {
		return nil
	}
	var out map[string]bool
	for _, c := range cells {
		if v := strings.TrimSpace(c.Value); m.private[strings.ToLower(c.Column)] && v != "" {
			if out == nil {
				out = map[string]bool{}
			}
			out[v] = true
		}
	}
	return out
}

// redactStone gives the stone without what its private columns say. all is set where the words themselves, or a part of a register's
// claim, are private, so that nothing read from them may go out.
func (m *mapper) redactStone(s *model.Stone) (out *model.Stone, all bool) {
	secret := m.secrets(s.Written)
	if secret == nil {
		return s, false
	}
	c := *s
	for _, f := range []*string{
		&c.Place.Cemetery, &c.Place.County, &c.Place.Section, &c.Place.Row, &c.Place.Plot, &c.Photo, &c.Recorder, &c.Notes,
		&c.Marker.Top, &c.Marker.Material, &c.Marker.Lettering, &c.Marker.Device, &c.Marker.Emblem, &c.Marker.Setting, &c.Marker.Condition,
	} {
		hide(secret, f)
	}
	if m.hidesPosition(s.Written) {
		c.Place.Position = nil
	}
	hideDate(secret, &c.Recorded)
	c.Marker.Motifs = hideAll(secret, c.Marker.Motifs)
	if secret[strings.TrimSpace(s.Marker.Inscription)] || m.private["inscription"] && s.Marker.Inscription != "" {
		all = true
	}
	if s.Register != nil {
		claim := *s.Register
		all = redactClaim(secret, &claim) || all
	}
	return &c, all
}

// tellsSecret reports whether what the stone's words or place tell, and so what evidence may repeat, holds a private value.
func tellsSecret(secret map[string]bool, sub *model.Subject) bool {
	if secret == nil {
		return false
	}
	p, s := sub.Stone.Place, sub.Stone
	texts := []string{p.Cemetery, p.County, string(p.State), p.Section, p.Row, p.Plot, s.Notes, s.Photo, s.Marker.Inscription, s.Marker.Emblem, s.Marker.Condition}
	for v := range secret {
		for _, t := range texts {
			if t != "" && (strings.Contains(t, v) || strings.Contains(v, t) && len(t) > 2) {
				return true
			}
		}
	}
	return false
}

// hidesPosition reports whether a private column gives the position, by the usual names of such columns.
func (m *mapper) hidesPosition(cells []model.Cell) bool {
	for _, c := range cells {
		name := strings.ToLower(c.Column)
		if m.private[name] && (strings.HasPrefix(name, "lat") || strings.HasPrefix(name, "lon")) {
			return true
		}
	}
	return false
}

// redactClaim takes out of a claim what the secrets say, and reports whether anything was.
func redactClaim(secret map[string]bool, c *model.Claim) bool {
	n := 0
	count := func(hidden bool) {
		if hidden {
			n++
		}
	}
	p, s := &c.Person, &c.Service
	if secret[p.Name.Written] || secret[p.Name.Surname] || secret[p.Name.Given] {
		p.Name = model.Name{}
		n++
	}
	for _, f := range []*string{&p.Birthplace, &p.Residence, &p.DeathPlace, &p.Buried, &p.Relation, &s.Remarks, &s.Written} {
		count(hide(secret, f))
	}
	for _, d := range []*date.Date{&p.Born, &p.Died, &s.Enlisted, &s.MusteredIn, &s.MusteredOut} {
		count(hideDate(secret, d))
	}
	if secret[p.Age.Written] {
		p.Age = date.Age{}
		n++
	}
	if secret[s.Unit.Written] {
		s.Unit = model.Unit{}
		n++
	}
	return n > 0
}

func hide(secret map[string]bool, f *string) bool {
	if *f == "" || !secret[strings.TrimSpace(*f)] {
		return false
	}
	*f = ""
	return true
}

func hideDate(secret map[string]bool, d *date.Date) bool {
	if d.Written == "" || !secret[strings.TrimSpace(d.Written)] {
		return false
	}
	*d = date.Date{}
	return true
}

func hideAll(secret map[string]bool, list []string) []string {
	var out []string
	for _, s := range list {
		if !secret[s] {
			out = append(out, s)
		}
	}
	return out
}
