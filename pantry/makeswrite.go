package pantry

import (
	"bytes"
	"fmt"
	"strings"
)

func writeSteps(b *bytes.Buffer, steps []PrepStep) {
	for n := range steps {
		if n == 0 {
			b.WriteString("steps:\n")
		}
		fmt.Fprintf(b, "  - %s: %s\n", steps[n].Kind, steps[n].text())
	}
}

func writeMakes(b *bytes.Buffer, m *Makes) {
	if m == nil {
		return
	}
	var parts []string
	if m.Volume != 0 {
		parts = append(parts, "volume: "+Amount{float64(m.Volume), Millilitres}.String())
	}
	if m.Keeps.Count != 0 {
		parts = append(parts, "keeps: "+m.Keeps.String())
	}
	if m.Store != StoreNotStated {
		parts = append(parts, "store: "+m.Store.String())
	}
	fmt.Fprintf(b, "makes: {%s}\n", strings.Join(parts, ", "))
}

// Text is the step as a spec has it, such as "reduce to 500 ml".
func (s *PrepStep) Text() string {
	return s.Kind.String() + " " + strings.TrimSuffix(strings.TrimPrefix(s.text(), "{"), "}")
}

// text is the step without its name; readStep reads it.
func (s *PrepStep) text() string {
	number := formatMagnitude(s.Value)
	if s.Kind == Steep {
		return s.Steeping.text()
	}
	switch s.Measure {
	case ToVolume:
		return "to " + number + " ml"
	case ToMass:
		return "to " + number + " g"
	case ToBrix:
		return "to " + number + " °Bx"
	case WithVolume:
		return "with " + number + " ml"
	case LosesVolume:
		return "loses " + number + " ml"
	case LosesPercent:
		return "loses " + number + " %"
	case GasPerLitre:
		return number + " g/L"
	default:
		return number + " volumes"
	}
}

func (s *Steeping) text() string {
	parts := []string{yamlText(s.Plant) + ": " + s.Amount.String()}
	if s.For.Count != 0 {
		parts = append(parts, "for: "+s.For.String())
	}
	if s.At != nil {
		parts = append(parts, "at: "+celsiusText(*s.At))
	}
	if s.HalfIn.Count != 0 {
		parts = append(parts, "half in: "+s.HalfIn.String())
	}
	if s.KeepsBack != nil {
		parts = append(parts, "keeps back: "+formatMagnitude(float64(*s.KeepsBack))+" ml/g")
	}
	if len(s.Gives) > 0 {
		var gives []string
		for _, g := range s.Gives {
			unit := " mg/kg"
			if columns[g.Into].grams == 1 {
				unit = " g/kg"
			}
			word := g.Into.Word()
			if g.Into == BitternessMilligramsPerLitre {
				word = "bitterness"
			}
			text := yamlText(word) + ": " + formatMagnitude(g.PerKilogram) + unit
			if g.Spread != 0 {
				text += " ± " + formatMagnitude(g.Spread)
			}
			gives = append(gives, text)
		}
		parts = append(parts, "gives: {"+strings.Join(gives, ", ")+"}")
	}
	return "{" + strings.Join(parts, ", ") + "}"
}
