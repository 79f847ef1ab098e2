package pantry

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"minim/profile"
)

// GramPerMillilitre is the density of a powder in the spoon or the cup.
type GramPerMillilitre float64

// Measurement is a number read off an instrument, a label or a recipe.
type Measurement[Unit ~float64] struct {
	Value Unit
	// Spread is one standard deviation; 0 stands for the usual one of the
	// instrument, which each use names.
	Spread Unit
}

// Usual standard deviations of what a bar reads; common practice, no source,
// unless it says otherwise.
const (
	RefractometerSpread profile.Brix                  = 0.2
	HydrometerSpread    profile.SpecificGravity       = 0.001
	LabelSpread         profile.PercentVolume         = 0.3 // Regulation (EU) 1169/2011, Annex XII, from memory
	ScaleSpread         profile.Gram                  = 0.1
	JiggerSpread        profile.Millilitre            = 0.5
	BuretteSpread       profile.Millilitre            = 0.1 // a burette or a syringe of 10 ml
	DropSpread          profile.BaseUsed              = 0.5 // counted to whole drops
	BaseSpreadPercent                                 = 1.0 // of the strength of a bought solution
	thermometerSpan     profile.Celsius               = 5   // from 20 °C; beyond it a remark is due
	airDensity          profile.KilogramPerCubicMetre = 1.2
	weightDensity       profile.KilogramPerCubicMetre = 8000 // of the weights a scale is set with
)

// Measured is an ingredient found by measuring or computed from its recipe.
type Measured struct {
	// Ingredient has each figure that follows, with its ± and its source.
	Ingredient *Ingredient
	// Yield is how much of it the recipe makes, at 20 °C; 0 where nothing was made.
	Yield profile.Millilitre
	// Remarks are what its user should know, in plain words.
	Remarks []string
}

// remark adds a plain sentence.
func (m *Measured) remark(format string, arguments ...any) {
	m.Remarks = append(m.Remarks, fmt.Sprintf(format, arguments...))
}

// faults collects everything that is wrong with what was measured.
type faults []error

func (f *faults) add(format string, arguments ...any) {
	*f = append(*f, fmt.Errorf(format, arguments...))
}

// within refuses a number outside low to high, and what is no number.
func (f *faults) within(what string, v, low, high float64, unit string) {
	if !(v >= low && v <= high) {
		f.add("%s %s; expected %s to %s%s", what, withUnitAfter(v, unit), formatNumber(low), formatNumber(high), unit)
	}
}

// above refuses a number that is not above 0 or beyond high.
func (f *faults) above(what string, v, high float64, unit string) {
	if !(v > 0 && v <= high) {
		f.add("%s %s; expected more than 0 and at most %s%s", what, withUnitAfter(v, unit), formatNumber(high), unit)
	}
}

// spread refuses a ± that is negative or no number.
func (f *faults) spread(what string, v float64) {
	if !(v >= 0 && v <= math.MaxFloat64) {
		f.add("± of %s %v; expected 0 or more", what, v)
	}
}

func withUnitAfter(v float64, unit string) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Sprint(v)
	}
	return formatNumber(v) + unit
}

// err joins the faults, one a line; nil where there are none.
func (f faults) err() error { return errors.Join(f...) }

// take checks a measurement that must be above 0 and gives it its usual ±.
func take[Unit ~float64](f *faults, what string, m Measurement[Unit], high float64, unit string, usual Unit) Measurement[Unit] {
	f.above(what, float64(m.Value), high, unit)
	f.spread(what, float64(m.Spread))
	if m.Spread == 0 {
		m.Spread = usual
	}
	return m
}

// nameOf returns the clean name for an ingredient.
func (f *faults) nameOf(name string) string {
	clean := cleanText(name)
	if Fold(clean) == "" {
		f.add("name %q; expected what the ingredient is to be called", name)
	}
	return clean
}

// newMeasured starts a liquid whose figures share a source.
func newMeasured(name, category, source string, confidence Confidence) *Measured {
	i := &Ingredient{
		Name: name, Category: category, Source: source, Confidence: confidence, KeptAt: roomTemperature,
		ID: newID(name, func(string) bool { return false }),
	}
	return &Measured{Ingredient: i}
}

// figure sets a figure of the row's source, rounded to two digits of its ±.
func (m *Measured) figure(c Column, value, spread float64) {
	i := m.Ingredient
	value, spread = roundedTo(value, spread)
	i.Figures[c] = Figure{
		Value: value, Known: true, Spread: spread, OwnSpread: spread > 0, Source: i.Source, Confidence: i.Confidence,
	}
}

// none sets every amount that is not known yet to 0: what is not in the recipe
// is not in the liquid. Its pH stays unknown.
func (m *Measured) none() {
	for c := range Column(Columns) {
		known := m.Ingredient.Figures[c].Known
		if (columns[c].amount || c == StrengthPercent) && c != TitratableAcidPerLitre && !known {
			m.figure(c, 0, 0)
		}
	}
}

// closed returns m once its figures are in the range of their columns and its
// composition adds up.
func (m *Measured) closed() (*Measured, error) {
	var f faults
	for c := range Column(Columns) {
		if figure := m.Ingredient.Figures[c]; figure.Known {
			f.within(c.Name(), figure.Value, columns[c].low, columns[c].high, "")
			f.within("± of "+c.Name(), figure.Spread, 0, math.Max(columns[c].high, -columns[c].low), "")
		}
	}
	if len(f) > 0 {
		return nil, f.err()
	}
	if err := m.Ingredient.check(); err != nil {
		return nil, fmt.Errorf("%s: %w", m.Ingredient.Name, err)
	}
	return m, nil
}

// roundedTo rounds a spread to two digits and the value to the last of them; a
// value without a spread to seven digits. A spread below those is rounding, and
// comes back as none.
func roundedTo(value, spread float64) (float64, float64) {
	const digits, digitsOfSpread, rounding = 7, 2, 1e-7
	if spread < rounding*math.Abs(value) {
		spread = 0
	}
	size, kept := math.Abs(value), digits
	if spread > 0 {
		size, kept = spread, digitsOfSpread
	}
	if size == 0 {
		return 0, 0
	}
	places := kept - 1 - int(math.Floor(math.Log10(size)))
	return roundPlaces(value, places), roundPlaces(spread, places)
}

// roundPlaces rounds to decimal places, to tens and more where they are
// negative; what is too small or too large to scale stays.
func roundPlaces(v float64, places int) float64 {
	scale := math.Pow(10, math.Abs(float64(places)))
	r := math.Round(v/scale) * scale
	if places >= 0 {
		r = math.Round(v*scale) / scale
	}
	if math.IsNaN(r) || math.IsInf(r, 0) {
		return v
	}
	return r + 0 // + 0 turns -0 into 0
}

// firstOrder returns f at x and one standard deviation of each of its results,
// the inputs being independent:
//
//	s_k² = Σ_i ((f_k(x + s_i) - f_k(x - s_i)) / 2)²
func firstOrder(f func(x []float64) []float64, x, spread []float64) (value, s []float64) {
	value = f(x)
	s = make([]float64, len(value))
	eachShift(f, x, spread, func(shift []float64) {
		for k := range s {
			s[k] = math.Hypot(s[k], shift[k])
		}
	})
	return value, s
}

// eachShift gives, for one input after the other, how far each result of f moves
// when that input moves by its spread: half of the difference between both sides.
func eachShift(f func(x []float64) []float64, x, spread []float64, use func(shift []float64)) {
	moved := append([]float64(nil), x...)
	for i := range x {
		moved[i] = x[i] + spread[i]
		high := f(moved)
		moved[i] = x[i] - spread[i]
		low := f(moved)
		moved[i] = x[i]
		shift := make([]float64, len(high))
		for k := range shift {
			shift[k] = (high[k] - low[k]) / 2
		}
		use(shift)
	}
}

// from20 adds a remark where a reading was taken far from 20 °C.
func (m *Measured) from20(what string, t profile.Celsius) {
	if math.Abs(float64(t-20)) > float64(thermometerSpan) {
		m.remark("the %s was read at %s °C and brought to 20 °C by computation; at 20 °C it needs none", what, formatNumber(float64(t)))
	}
}

// withSpread writes a value and its ± with the same decimals.
func withSpread(value, spread float64) string {
	value, spread = roundedTo(value, spread)
	_, digits, _ := strings.Cut(formatNumber(spread), ".")
	decimals := len(digits)
	return fmt.Sprintf("%.*f ± %.*f", decimals, value, decimals, spread)
}

// crossing returns by bisection where below turns from true to false between low
// and high; low or high where it never does.
func crossing(low, high float64, below func(x float64) bool) float64 {
	return root(low, high, func(x float64) float64 {
		if below(x) {
			return -1
		}
		return 1
	})
}

// root returns where a rising f passes 0 between low and high; low where it is 0
// or more already, high where it never gets there. By Ridders' method, whose
// bracket at least halves in each step, so that it cannot fail.
//
// Source: Ridders, IEEE Trans. Circuits Syst. 26 (1979) 979.
func root(low, high float64, f func(x float64) float64) float64 {
	const close = 1e-13
	atLow, atHigh := f(low), f(high)
	switch {
	case atLow >= 0:
		return low
	case atHigh <= 0:
		return high
	}
	x := low
	for range 100 {
		middle := (low + high) / 2
		atMiddle := f(middle)
		if atMiddle == 0 {
			return middle
		}
		last := x
		x = middle - (middle-low)*atMiddle/math.Sqrt(atMiddle*atMiddle-atLow*atHigh)
		if math.Abs(x-last) <= close*math.Abs(x) || high-low <= close*math.Abs(x) {
			break
		}
		atX := f(x)
		for _, point := range [...]struct{ x, f float64 }{{middle, atMiddle}, {x, atX}} {
			if point.f < 0 && point.x > low {
				low, atLow = point.x, point.f
			}
			if point.f >= 0 && point.x < high {
				high, atHigh = point.x, point.f
			}
		}
	}
	return x
}
