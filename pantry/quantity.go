package pantry

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"

	"minim/profile"
)

// Quantities are the units that a reading may be typed in, and how many of the
// base unit each is; the empty unit is the base unit.
type Quantities map[string]float64

// The units of readings.
var (
	Masses       = Quantities{"": 1, "g": 1, "kg": 1000, "mg": 1e-3}
	Volumes      = Quantities{"": 1, "ml": 1, "cl": 10, "l": 1000, "oz": 29.5735295625}
	Temperatures = Quantities{"": 1, "°c": 1, "c": 1}
	Strengths    = Quantities{"": 1, "%": 1, "% vol": 1}
	BrixDegrees  = Quantities{"": 1, "°bx": 1, "bx": 1, "°brix": 1}
	Densities    = Quantities{"": 1, "g/ml": 1, "kg/l": 1}
	PerLitres    = Quantities{"": 1, "g/l": 1}
	Milligrams   = Quantities{"": 1, "mg/l": 1}
	Molarities   = Quantities{"": 1, "mol/l": 1, "n": 1, "m": 1}
	Times        = Quantities{"": 1, "h": 1, "min": 1.0 / 60, "d": 24}
	Parts        = Quantities{"": 1, "%": 0.01}
	Counts       = Quantities{"": 1}
)

var quantityText = regexp.MustCompile(`(?s)^([+-]?[\d.,]+(?:[eE][+-]?\d+)?|[^\d]*)\s*(.*)$`)

// ParseQuantity reads a number with one of the units, or without, and a ± in the
// same unit if there is one, such as "1.062 ± 0.001" or "0.7 l". A spread of 0
// is none given.
func ParseQuantity(text string, units Quantities) (value, spread float64, err error) {
	written, about, hasSpread := strings.Cut(strings.ReplaceAll(text, "+/-", "±"), "±")
	value, unit, err := parseWithUnit(written, units)
	if err != nil || !hasSpread {
		return value, 0, err
	}
	spread, own, err := parseWithUnit(about, units)
	switch {
	case err != nil:
		return 0, 0, err
	case spread <= 0:
		return 0, 0, fmt.Errorf("%q has a ± of %s; expected more than 0", text, formatNumber(spread))
	case own == "" && unit != "":
		spread *= units[unit]
	case own != "" && unit == "":
		value *= units[own]
	}
	if math.IsInf(value, 0) || math.IsInf(spread, 0) || spread == 0 {
		return 0, 0, fmt.Errorf("%q is too large or too small; expected a number and its ±", text)
	}
	return value, spread, nil
}

func parseWithUnit(text string, units Quantities) (value float64, unit string, err error) {
	parts := quantityText.FindStringSubmatch(strings.TrimSpace(text))
	number := strings.TrimSpace(parts[1])
	v, wrong := parseNumber(number)
	if wrong.message != "" {
		message := fmt.Sprintf("%q %s", strings.TrimSpace(text), wrong.message)
		if wrong.hint != "" && !strings.Contains(wrong.hint, "cell") {
			message += "; " + wrong.hint
		}
		return 0, "", fmt.Errorf("%s", message)
	}
	unit = strings.ToLower(strings.Join(strings.Fields(parts[2]), " "))
	factor, known := units[unit]
	if !known {
		var expected []string
		for _, u := range slices.Sorted(maps.Keys(units)) {
			if u != "" {
				expected = append(expected, u)
			}
		}
		if len(expected) == 0 {
			return 0, "", fmt.Errorf("%q; expected a number without a unit", strings.TrimSpace(text))
		}
		return 0, "", fmt.Errorf("%q; expected a number in %s", strings.TrimSpace(text), strings.Join(expected, ", "))
	}
	if math.IsInf(v*factor, 0) {
		return 0, "", fmt.Errorf("%q is too large; expected a number", strings.TrimSpace(text))
	}
	return v * factor, unit, nil
}

// AcidNamed returns the column of an acid by its name, such as "citric" or
// "citric acid", and how much of a gram of it is the acid itself: 0.914 of
// "citric monohydrate", else 1.
func AcidNamed(name string) (acid Column, purity float64, ok bool) {
	folded := strings.TrimSpace(strings.ReplaceAll(" "+Fold(name)+" ", " acid ", " "))
	if folded == "citric monohydrate" {
		return CitricPerLitre, float64(CitricMonohydratePurity), true
	}
	for c := range Column(Columns) {
		if columns[c].citric > 0 && Fold(c.Word()) == folded {
			return c, 1, true
		}
	}
	return 0, 0, false
}

// AcidNames are the acids that have a column.
func AcidNames() []string {
	var names []string
	for c := range Column(Columns) {
		if columns[c].citric > 0 {
			names = append(names, c.Word())
		}
	}
	return names
}

// AmountNamed returns the column of a substance by its name, such as "caffeine"
// or "bitterness".
func AmountNamed(name string) (Column, bool) {
	if Fold(name) == "bitterness" {
		return BitternessMilligramsPerLitre, true
	}
	for c := range Column(Columns) {
		if columns[c].amount && (Fold(c.Word()) == Fold(name) || columns[c].heading == name) {
			return c, true
		}
	}
	return 0, false
}

// ByVolume tells whether a quantity as typed is one by volume.
func ByVolume(text string) bool {
	parts := quantityText.FindStringSubmatch(strings.TrimSpace(text))
	unit, _, _ := strings.Cut(strings.ToLower(parts[2]), "±")
	unit = strings.TrimSpace(unit)
	_, volume := Volumes[unit]
	return unit != "" && volume
}

// KilogramsPerCubicMetre turns a density as a bar reads it into the unit that
// profile computes in.
func KilogramsPerCubicMetre(m Measurement[GramPerMillilitre]) Measurement[profile.KilogramPerCubicMetre] {
	const factor = 1000
	return Measurement[profile.KilogramPerCubicMetre]{
		Value: factor * profile.KilogramPerCubicMetre(m.Value), Spread: factor * profile.KilogramPerCubicMetre(m.Spread),
	}
}
