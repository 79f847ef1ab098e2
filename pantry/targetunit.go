package pantry

import (
	"fmt"
	"math"
	"strings"

	"minim/profile"
)

// targetUnit is a unit in which a property may be written. A value times
// multiply, over divide, is the value in the property's own unit; both are
// whole where they can be, so that 700 mg/L is exactly 0.7 g/L.
type targetUnit struct {
	word             string
	multiply, divide float64
}

// carbonDioxideVolume is one volume of carbon dioxide in g/L.
const carbonDioxideVolume = float64(profile.CarbonDioxideVolume)

var (
	volumeUnits = []targetUnit{
		{"ml", 1, 1},
		{"cl", 10, 1},
		{"l", 1000, 1},
		{"oz", float64(profile.USFluidOunce), 1},
		{"imp oz", float64(profile.ImperialFluidOunce), 1},
	}
	strengthUnits      = []targetUnit{{"%", 1, 1}, {"% vol", 1, 1}, {"%vol", 1, 1}, {"% abv", 1, 1}, {"vol %", 1, 1}, {"% by volume", 1, 1}}
	gramPerLitreUnits  = []targetUnit{{"g/l", 1, 1}, {"mg/l", 1, 1000}, {"g per l", 1, 1}, {"g per litre", 1, 1}, {"mg/ml", 1, 1}, {"g/litre", 1, 1}}
	milligramUnits     = []targetUnit{{"mg/l", 1, 1}, {"g/l", 1000, 1}, {"mg per l", 1, 1}, {"mg per litre", 1, 1}, {"mg/litre", 1, 1}}
	temperatureUnits   = []targetUnit{{"°c", 1, 1}, {"c", 1, 1}, {"ºc", 1, 1}, {"℃", 1, 1}, {"° c", 1, 1}}
	carbonDioxideUnits = []targetUnit{
		{"g/l", 1, 1}, {"mg/l", 1, 1000}, {"volumes", carbonDioxideVolume, 1}, {"volume", carbonDioxideVolume, 1}, {"vol", carbonDioxideVolume, 1}, {"vols", carbonDioxideVolume, 1},
	}
)

// targetTable holds what each property may be written in and between which
// values, in its own unit, a target can lie. Beyond the limits lies a slip of
// the keyboard; they are common practice without a source, unless one is named.
var targetTable = [profile.Properties]struct {
	units    []targetUnit
	expected string
	most     float64
}{
	profile.Volume:   {volumeUnits, "ml, cl, l or oz", float64(largestVolume)},
	profile.Strength: {strengthUnits, "%", 100},
	// Sucrose crystals themselves weigh 1587 g/L (CRC Handbook, from memory).
	profile.Sugar:     {gramPerLitreUnits, "g/L", 1500},
	profile.Sweetness: {gramPerLitreUnits, "g/L", 1500},
	profile.Acid:      {gramPerLitreUnits, "g/L", 1000},
	profile.PH:        {[]targetUnit{{"", 1, 1}}, "a bare number from 0 to 14", 14},
	// A saturated brine holds 317 g/L at 20 °C (CRC Handbook, from memory).
	profile.Salt:          {gramPerLitreUnits, "g/L", 320},
	profile.Bitter:        {milligramUnits, "mg/L", 10_000},
	profile.Umami:         {gramPerLitreUnits, "g/L", 1000},
	profile.Temperature:   {temperatureUnits, "°C", float64(hottestPour)},
	profile.Dilution:      {[]targetUnit{{"%", 1, 1}}, "%", 1000},
	profile.CarbonDioxide: {carbonDioxideUnits, "g/L or volumes", 20},
	// Pudding-thick begins at 1750 mPa·s (US National Dysphagia Diet, from memory).
	profile.Viscosity: {[]targetUnit{{"mpa·s", 1, 1}, {"mpas", 1, 1}, {"mpa s", 1, 1}, {"mpa*s", 1, 1}, {"cp", 1, 1}}, "mPa·s or cP", 1750},
	profile.Ethanol:   {[]targetUnit{{"g", 1, 1}, {"grams", 1, 1}, {"gram", 1, 1}}, "g", float64(largestVolume)},
	profile.Energy:    {[]targetUnit{{"kcal", 1, 1}}, "kcal", 700_000},
	profile.Caffeine:  {[]targetUnit{{"mg", 1, 1}, {"g", 1000, 1}}, "mg", 100_000},
}

// TargetUnits says in words what units a target for the property may have:
// "ml, cl, l or oz".
func TargetUnits(p profile.Property) string { return targetTable[p].expected }

// parseTargetValue reads a value of property p into the property's own unit.
// A value without a unit is in the unit fallback, where that is not empty.
func parseTargetValue(text string, p profile.Property, fallback string) (float64, *mistake) {
	facts := targetTable[p]
	number, unit := splitNumber(text)
	if unit == "" {
		unit = fallback
	}
	if number == "" {
		return 0, targetWordMistake(text, p)
	}
	value, wrong := parseSigned(number)
	if wrong != nil {
		return 0, wrong.within(number)
	}
	folded := foldUnit(unit)
	for _, u := range facts.units {
		if u.word != folded {
			continue
		}
		value = value * u.multiply / u.divide
		switch {
		case value < 0 && (p.NonNegative() || p == profile.PH):
			return 0, &mistake{message: fmt.Sprintf("%s of %q; it cannot be negative", p.Name(), clip(text)), part: text}
		case value < float64(coldestPour):
			return 0, &mistake{message: fmt.Sprintf("%s of %q; expected at least %s", p.Name(), clip(text), targetText(float64(coldestPour), p)), part: text}
		case value > facts.most:
			return 0, &mistake{message: fmt.Sprintf("%s of %q; expected at most %s", p.Name(), clip(text), targetText(facts.most, p)), part: text}
		}
		if value != 0 && math.Abs(value) < smallestMagnitude {
			return 0, tooSmall(text).within(text)
		}
		return value + 0, nil
	}
	return 0, targetUnitMistake(text, number, folded, value, p)
}

// targetWordMistake is a word where a target's value was expected.
func targetWordMistake(text string, p profile.Property) *mistake {
	number := "a number and " + targetTable[p].expected
	if p == profile.PH {
		number = targetTable[p].expected
	}
	wrong := &mistake{
		message: fmt.Sprintf("%q is not a value of %s; expected %s, or a range, at least or at most", clip(text), p.Name(), number),
		part:    text,
	}
	if near := lookalike(firstWords(text), []string{"at least", "at most", "weight"}); near != "" {
		wrong.hint = "nearest: " + near
	}
	return wrong
}

// firstWords returns the letters before the first digit.
func firstWords(text string) string {
	if at := strings.IndexAny(text, "0123456789."); at >= 0 {
		text = text[:at]
	}
	return strings.TrimSpace(text)
}

// targetUnitMistake is a missing or wrong unit, with the converted value where
// there is one.
func targetUnitMistake(text, number, unit string, value float64, p profile.Property) *mistake {
	expected := targetTable[p].expected
	if unit == "" {
		return &mistake{
			message: fmt.Sprintf("%s of %q has no unit; expected %s", p.Name(), clip(text), expected),
			hint:    fmt.Sprintf("write %s %s", clip(number), shortUnit(p)),
			part:    text,
		}
	}
	wrong := &mistake{message: fmt.Sprintf("%s of %q; expected %s", p.Name(), clip(text), expected), part: text}
	if p == profile.PH {
		wrong.hint = fmt.Sprintf("write %s", clip(number))
		return wrong
	}
	proportion := strings.HasPrefix(unit, "%") || unit == "percent"
	switch own := p.Unit(); {
	case proportion && own == "g/L":
		wrong.hint = fmt.Sprintf("1 %% by weight in volume is 10 g/L: write %s g/L", formatMagnitude(tidy(value*10)))
	case proportion && own == "mg/L":
		wrong.hint = fmt.Sprintf("1 %% by weight in volume is 10000 mg/L: write %s mg/L", formatMagnitude(tidy(value*10000)))
	case unit == "percent" || unit == "per cent":
		wrong.hint = fmt.Sprintf("write %s %%", clip(number))
	case unit == "proof" && p == profile.Strength:
		wrong.hint = fmt.Sprintf("US proof is twice the %% vol: write %s %%", formatMagnitude(tidy(value/2)))
	case strings.Trim(unit, "° ") == "brix" || strings.Trim(unit, "° ") == "bx":
		wrong.hint = "a refractometer's Brix of a drink is moved by its alcohol and acid: write g/L; `minim batch` says what the refractometer will read"
	case p == profile.Bitter && unit == "ibu":
		wrong.hint = "an IBU is about 1 mg/L of the bitter acids of hops, and bitter is in mg/L of quinine hydrochloride: write mg/L, such as `minim profile` shows of a drink that is as bitter"
	case p == profile.Temperature && (unit == "°f" || unit == "f"):
		wrong.hint = fmt.Sprintf("write %.3g °C", (value-32)/1.8+0)
	case p == profile.Energy && unit == "kj":
		wrong.hint = fmt.Sprintf("1 kcal is 4.184 kJ: write %s kcal", formatMagnitude(math.Round(value/4.184)))
	case (unit == "g/100ml" || unit == "g/100 ml" || unit == "g/dl") && own == "g/L":
		wrong.hint = fmt.Sprintf("write %s g/L", formatMagnitude(tidy(value*10)))
	}
	return wrong
}

// tidy rounds away what multiplication leaves behind a dozen digits.
func tidy(value float64) float64 {
	return math.Round(value*1e9) / 1e9
}

// shortUnit is the unit in which a target is written back.
func shortUnit(p profile.Property) string {
	if p == profile.Strength {
		return "%"
	}
	return p.Unit()
}

// targetText writes a value of a property with its unit, if it has one.
func targetText(value float64, p profile.Property) string {
	return strings.TrimSpace(formatMagnitude(value) + " " + shortUnit(p))
}
