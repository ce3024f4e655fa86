package desk

import "musterstone/model"

// verdictWords is a verdict in the past, as a sentence has it.
func verdictWords(d model.Decision) string {
	switch d.As {
	case model.Confirmed:
		return "confirmed record " + string(d.Record)
	case model.Refused:
		return "refused record " + string(d.Record)
	case model.NoneOfThese:
		return "holds that none of the records is his"
	case model.Unsure:
		return "was not sure"
	case model.Noted:
		return "noted"
	}
	return string(d.As)
}

// decisionWords is a decision in a line, without its maker.
func decisionWords(d model.Decision) string {
	text := "stone " + string(d.Stone) + ": "
	switch d.As {
	case model.Confirmed, model.Refused:
		return text + string(d.As) + " record " + string(d.Record)
	case model.NoneOfThese:
		return text + "none of the records"
	case model.Unsure:
		return text + "not sure"
	}
	return text + string(d.As)
}
