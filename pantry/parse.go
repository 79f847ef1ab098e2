package pantry

import (
	"strings"
	"unicode"

	"minim/profile"
)

// ParseTarget reads a target on p as a spec writes it: "18 %", "65..70 g/L",
// "at most 15 mg/L", "6.5 g/L ± 0.3". A number or range without a unit is taken
// in the property's own, as flags are typed.
func ParseTarget(text string, p profile.Property) (Target, error) {
	if last := strings.TrimSpace(text); last != "" && unicode.IsDigit(rune(last[len(last)-1])) {
		text = last + " " + p.Unit()
	}
	t, wrong := parseTarget(text, p)
	if wrong != nil {
		return Target{}, wrong
	}
	return t, nil
}

// ParseVolume reads a volume such as "180 ml", "6 oz" or "0.2 l", of 100 litres
// at most; a number alone is millilitres.
func ParseVolume(text string) (profile.Millilitre, error) {
	if !strings.ContainsFunc(text, unicode.IsLetter) {
		text += " ml"
	}
	volume, wrong := parseVolume(text)
	if wrong != nil {
		return 0, wrong
	}
	return volume, nil
}
