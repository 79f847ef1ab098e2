package pantry

import (
	"fmt"
	"slices"
	"strings"
)

// LotFigure numbers what a bar reads off its instruments for one delivery.
type LotFigure int

// The figures of a lot, in the order of the file.
const (
	// LotBrix is the refractometer's reading at 20 °C, in °Bx.
	LotBrix LotFigure = iota
	// LotAcid is titratable acid in g/L as anhydrous citric acid, to pH 8.2.
	LotAcid
	LotPH
	// LotStrength is ml of ethanol in 100 ml at 20 °C.
	LotStrength
	// LotDensity is grams in a millilitre at 20 °C.
	LotDensity

	// LotFigures is how many there are.
	LotFigures int = iota
)

// Standard deviations of the readings of a bar's own instruments; common
// practice, no source.
const (
	brixSpread         = float64(RefractometerSpread)
	acidSpreadFraction = 0.03
	phSpread           = 0.05
	strengthSpread     = float64(LabelSpread)
	densitySpread      = float64(HydrometerSpread)
)

// lotFacts is what is fixed about each figure of a lot.
type lotFacts struct {
	heading, word, unit string
	low, high           float64
	// units are what a person may write behind the number, folded.
	units []string
}

var lotTable = [LotFigures]lotFacts{
	LotBrix:     {heading: "brix", word: "Brix", unit: "°Bx", high: 95, units: []string{"°bx", "bx", "°brix", "brix", "°"}},
	LotAcid:     {heading: "acid_g_per_l", word: "acid", unit: "g/L", high: mostGrams, units: []string{"g/l"}},
	LotPH:       {heading: "ph", word: "pH", high: 14},
	LotStrength: {heading: "abv_percent", word: "abv", unit: "% vol", high: 100, units: []string{"%", "% vol", "% abv"}},
	LotDensity:  {heading: "density_g_per_ml", word: "density", unit: "g/ml", low: 0.6, high: 3, units: []string{"g/ml", "kg/l"}},
}

// Name returns the heading of the figure in a lot file.
func (f LotFigure) Name() string { return lotTable[f].heading }

// Word returns what a bar calls the figure.
func (f LotFigure) Word() string { return lotTable[f].word }

// Unit returns the unit of the figure; empty for pH.
func (f LotFigure) Unit() string { return lotTable[f].unit }

// Spread returns one standard deviation of a reading of v: 0.2 °Bx, 3 % of a
// titration, 0.05 of pH, 0.3 % vol, 0.001 g/ml.
func (f LotFigure) Spread(v float64) float64 {
	return [LotFigures]float64{brixSpread, acidSpreadFraction * v, phSpread, strengthSpread, densitySpread}[f]
}

// Reading is one measured number; Known is false where nothing was measured.
type Reading struct {
	Value float64
	Known bool
}

// ParseLotFigure reads a figure as typed for a flag: a number, with its unit or
// without.
func ParseLotFigure(f LotFigure, text string) (Reading, error) {
	facts := lotTable[f]
	number := strings.TrimSpace(text)
	if parts := withUnit.FindStringSubmatch(number); parts != nil {
		unit := strings.ToLower(strings.TrimSpace(parts[2]))
		switch {
		case slices.Contains(facts.units, unit):
			number = parts[1]
		case f == LotAcid && strings.HasPrefix(unit, "%"):
			return Reading{}, fmt.Errorf("%q is a percentage; expected g/L, and 1 %% weight in volume is 10 g/L", text)
		default:
			return Reading{}, fmt.Errorf("%q; expected a number%s", text, inUnit(facts.unit))
		}
	}
	v, wrong := parseWithin(number, facts.low, facts.high)
	if wrong.message != "" {
		message := fmt.Sprintf("%q %s", text, wrong.message)
		if wrong.hint != "" {
			message += "; " + wrong.hint
		}
		return Reading{}, fmt.Errorf("%s", message)
	}
	return Reading{Value: v, Known: true}, nil
}

// inUnit says in which unit a number is expected.
func inUnit(unit string) string {
	if unit == "" {
		return " without a unit"
	}
	return " in " + unit
}
