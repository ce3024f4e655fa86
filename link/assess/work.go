package assess

import (
	"slices"

	"musterstone/model"
	"musterstone/vocab/name"
)

// Retrieval is what the finding of candidates is worth, before any of them is weighed (pairs completeness and reduction ratio).
type Retrieval struct {
	// Completeness are the stones with a true record for which it is among the candidates, Readable those of them whose surname can be read at all.
	Completeness Rate `json:"completeness"`
	Readable     Rate `json:"readable"`
	// Candidates is how many a stone has in the mean, Reduction the part of all pairs that need not be weighed.
	Candidates float64 `json:"candidates"`
	Reduction  float64 `json:"reduction"`
}

// Retrieve measures the candidates found for each subject, among so many records.
func Retrieve(subjects []*model.Subject, candidates [][]model.RecordID, records int, truth Truth) Retrieval {
	found, links, readFound, readable, all := 0, 0, 0, 0, 0
	for i, s := range subjects {
		all += len(candidates[i])
		trues := truth[s.Stone.ID]
		if len(trues) == 0 || unknown(trues) {
			continue
		}
		hit := slices.ContainsFunc(candidates[i], func(id model.RecordID) bool { return slices.Contains(trues, id) })
		links++
		if hit {
			found++
		}
		if surname := s.Reading().Claim().Person.Name.Surname; surname != "" && !name.Uncertain(surname) {
			readable++
			if hit {
				readFound++
			}
		}
	}
	r := Retrieval{Completeness: NewRate(found, links), Readable: NewRate(readFound, readable), Reduction: 1}
	if n := float64(len(subjects)); n > 0 && records > 0 {
		r.Candidates = float64(all) / n
		r.Reduction = 1 - float64(all)/(n*float64(records))
	}
	return r
}

// Group is how the stones of one kind fared.
type Group struct {
	Name      string  `json:"name"`
	Stones    int     `json:"stones"`
	Precision Rate    `json:"precision"`
	Recall    Rate    `json:"recall"`
	ECE       float64 `json:"ece"`
}

// groupNames are the kinds of stones told apart: by what is on them, whether both names are common ones, and whose service it was, since links that leave out some kind of men mislead whoever
// counts them (M. Bailey and others, How Well Do Automated Linking Methods Perform?, Journal of Economic Literature 58, 2020).
var groupNames = []string{"with a unit", "without a unit", "damaged surname", "common name", "colored troops", "navy, marines, coast guard"}

// commonSurname and commonGiven are the shares of people from which a name counts as common: about the fifty most frequent (US Census Bureau, 1990).
const commonSurname, commonGiven = 0.0016, 0.005

func inGroup(s *model.Subject, group string) bool {
	c := s.Reading().Claim()
	surname, given := c.Person.Name.Surname, name.Fold(c.Person.Name.Given)
	switch group {
	case "with a unit":
		return !c.Service.Unit.IsZero()
	case "without a unit":
		return c.Service.Unit.IsZero()
	case "damaged surname":
		return name.Uncertain(surname)
	case "colored troops":
		return c.Service.Unit.Body == "usct"
	case "navy, marines, coast guard":
		return c.Service.Branch == "navy" || c.Service.Branch == "marine-corps" || c.Service.Branch == "coast-guard"
	}
	return !name.Uncertain(surname) && surname != "" && name.SurnameShare(name.Fold(surname)) >= commonSurname && len(given) > 1 && name.GivenShare(given) >= commonGiven
}

// Groups assesses the kinds of stones apart, those of which there are any. A stone may be in more than one group.
func Groups(subjects []*model.Subject, proposals []model.Proposal, truth Truth) []Group {
	var out []Group
	for _, g := range groupNames {
		var list []model.Proposal
		for i, s := range subjects {
			if inGroup(s, g) {
				list = append(list, proposals[i])
			}
		}
		r := Assess(list, truth)
		if r.Stones == 0 {
			continue
		}
		out = append(out, Group{Name: g, Stones: r.Stones, Precision: r.Precision, Recall: r.Recall, ECE: r.ECE})
	}
	return out
}

// The minutes of the model of a person's work: assumptions of this program, no source. A careful volunteer goes through the rosters by hand for a stone, or
// looks at a proposal, or reads down a list of candidates; a link that turns out wrong costs the search as well.
const (
	ByHand       = 15.0
	ForProposal  = 1.5
	ForCandidate = 4.0
)

// Saved is how many minutes a person saves for each true link that is proposed: the rosters searched by hand for every stone, against each proposal looked at, the
// list read for each stone with none, and the search made after all where the list does not have the man.
func (r Report) Saved() float64 {
	if r.Precision.Hits == 0 {
		return 0
	}
	hand := ByHand * float64(r.Stones)
	wrong := r.Precision.Of - r.Precision.Hits
	lists := r.Stones - r.Precision.Of
	missed := r.Links - r.Found.Hits
	with := ForProposal*float64(r.Precision.Of) + ForCandidate*float64(lists) + ByHand*float64(wrong+missed)
	return (hand - with) / float64(r.Precision.Hits)
}
