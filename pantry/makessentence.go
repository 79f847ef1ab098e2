package pantry

// Sentence is the step as the bar reads it, such as "Simmer it down to 500 ml."
// It leaves out what only the reckoning needs: what a plant gives, how fast, and
// how much liquid it keeps. Text is the step as a spec has it.
func (s *PrepStep) Sentence() string {
	number := formatMagnitude(s.Value)
	switch s.Kind {
	case Reduce:
		return "Simmer it down to " + number + s.endWords() + "."
	case Steep:
		return s.Steeping.sentence()
	case Strain:
		return "Strain it; " + s.lossWords() + "."
	case Clarify:
		return "Clarify it; " + s.lossWords() + "."
	case Dilute:
		if s.Measure == WithVolume {
			return "Add " + number + " ml water."
		}
		return "Fill it up with water to " + number + " ml."
	default:
		if s.Measure == GasPerLitre {
			return "Carbonate it to " + number + " g/L of carbon dioxide."
		}
		return "Carbonate it to " + number + " volumes of carbon dioxide."
	}
}

// endWords are the unit that simmering ends at. Volumes and °Bx are those of the
// liquid once it has cooled.
func (s *PrepStep) endWords() string {
	switch s.Measure {
	case ToMass:
		return " g"
	case ToBrix:
		return " °Bx, read at 20 °C"
	default:
		return " ml, measured at 20 °C"
	}
}

// lossWords say what stays behind.
func (s *PrepStep) lossWords() string {
	if s.Measure == LosesVolume {
		return "about " + formatMagnitude(s.Value) + " ml stay behind"
	}
	return "about " + formatMagnitude(s.Value) + " % of it stays behind"
}

func (s *Steeping) sentence() string {
	text := "Steep " + s.Amount.String() + " " + s.Plant + " in it"
	if s.For.Count != 0 {
		text += " for " + s.For.String()
	}
	if s.At != nil {
		text += " at " + celsiusText(*s.At)
	}
	return text + ", then strain."
}
