package unmarked

import (
	"slices"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
)

// TestLivingNeverTold: whatever a finding has to say of a record's or a register's man, it does not say it of one who may be living: not his name, not what a field says, not where he lies or died.
func TestLivingNeverTold(t *testing.T) {
	dated := func(c model.Claim, died int, place string) model.Claim {
		c.Person.Died, c.Person.DeathPlace = date.Year(died), place
		return c
	}
	unknown := func(w *world) {
		u := w.stone("u1", 0.1, model.Claim{})
		u.Readings[0] = model.Reading{Unknown: true, GraveNumber: "17", Probability: 1}
		u.Stone.Place.Section, u.Stone.Place.Row, u.Stone.Place.Plot = "A", "1", "2"
	}
	for _, c := range []struct {
		name, word string // what is told of a man who is dead, and not of one who may be living
		build      func(*world)
	}{
		{"a confirmed record", "Quist", func(w *world) {
			w.stone("s1", 0.99, soldier("Colvin", "Andrew"))
			w.record("r1", soldier("Quist", "Zebulon"))
			w.decide("s1", "r1", model.Confirmed)
		}},
		{"what a record says otherwise than the marker", `"that"`, func(w *world) {
			w.stone("s1", 0.01, soldier("Colvin", "Andrew"))
			w.record("r1", soldier("Quist", "Zebulon")).Service.Unit.Number = 37
			w.propose("s1", "r1", 0.98)
			w.proposals[0].Candidates[0].Evidence = []model.Evidence{{Field: "unit", Level: "one digit", Stone: "this", Record: "that"}}
		}},
		{"where he fell", "Shiloh", func(w *world) {
			w.stone("s1", 0.99, soldier("Colvin", "Andrew"))
			w.record("r1", dated(soldier("Colvin", "Andrew"), 1862, "Shiloh"))
			w.propose("s1", "r1", 0.9)
		}},
		{"where his record buries him", "Far Creek", func(w *world) {
			w.stone("s1", 0.99, soldier("Colvin", "Andrew"))
			w.record("r1", buried(soldier("Colvin", "Andrew"), "Far Creek Cemetery, Ohio"))
			w.propose("s1", "r1", 0.9)
		}},
		{"a list's man of a grave's number", "Quist", func(w *world) {
			unknown(w)
			w.record("r1", buried(soldier("Quist", "Zebulon"), "Old Mill Cem., grave 17"))
		}},
		{"a register's man of a grave's number", "Quist", func(w *world) {
			unknown(w)
			w.register("g1", man("Quist", "Zebulon")).Stone.Place.Plot = "17"
		}},
		{"those who stand beside an unknown, and between them", "Quist", func(w *world) {
			w.stone("s1", 0, soldier("Quist", "John")).Stone.Place = model.Place{Cemetery: "Old Mill Cemetery", Section: "A", Row: "1", Plot: "1"}
			unknown(w)
			w.stone("s2", 0, soldier("Quist", "Peter")).Stone.Place = model.Place{Cemetery: "Old Mill Cemetery", Section: "A", Row: "1", Plot: "3"}
			for _, r := range []string{"John", "Zebulon", "Peter"} {
				w.record("r"+r, soldier("Quist", r))
			}
			w.propose("s1", "rJohn", 0.97)
			w.propose("s2", "rPeter", 0.97)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var w world
			c.build(&w)
			told := func(living bool) string {
				in := w.input()
				in.LivingRecord = func(*model.Record) bool { return living }
				in.LivingStone = func(s *model.Subject) bool { return living && s.Stone.Register != nil }
				var all []string
				for _, f := range Find(in) {
					if f.Stone != "" && strings.HasPrefix(string(f.Stone), "g") {
						continue // his own, which is held back as a whole
					}
					if f.Stone == "" && f.Record != "" {
						continue
					}
					all = append(all, slices.Concat(f.Reasons, f.ToShow)...)
				}
				return strings.Join(all, "\n")
			}
			if s := told(false); !strings.Contains(s, c.word) {
				t.Errorf("of a man who is dead nothing says %s:\n%s", c.word, s)
			}
			if s := told(true); strings.Contains(s, c.word) {
				t.Errorf("of a man who may be living it says %s:\n%s", c.word, s)
			}
		})
	}
}

// TestExcerpt: of a long remark only what speaks of the burial is quoted, whole letters, with dots where something is left out.
func TestExcerpt(t *testing.T) {
	private := strings.Repeat("His widow drew a pension for the étage; ", 8)
	for _, c := range []struct{ name, text, want string }{
		{"short", "Buried at Old Mill; a widow.", "Buried at Old Mill; a widow."},
		{"the part that tells", private + "buried in Old Mill Cem.; " + private, "… buried in Old Mill Cem. …"},
		{"a part that is long itself", private + strings.Repeat("é", 250) + " buried in Old Mill Cem.", "… " + strings.Repeat("é", longest-len(" buried in Old Mill Cem.")) + " buried in Old Mill Cem. …"},
		{"none that tells", strings.Repeat("é", 250), strings.Repeat("é", longest) + " …"},
	} {
		if got := excerpt(c.text); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
