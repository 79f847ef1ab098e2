package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The glass never holds more than was poured, nor less than saturation keeps.
func TestPouringKeepsWhatIsBelowSaturation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawPour(t, "pour", 2, 20)
		f := Drink{Mix: s}
		kept := f.Finish().Values[CarbonDioxide]
		poured := 1000 * s[CarbonDioxideGrams] / float64(s.Volume())
		values := f.Finish().Values
		held := float64(Saturation(Celsius(values[Temperature]), PercentVolume(values[Strength]), GramPerLitre(values[Sugar])))
		// The rounded corner takes less than a quarter of the width, half of held.
		least := min(poured, poured-pouringLoss*(poured-held)) - pouringLoss*held/8
		if kept > poured*(1+1e-12) || kept < least*(1-1e-12) {
			t.Errorf("%g of %g g/L kept, saturation %g", kept, poured, held)
		}
		if poured < held/2 && !alike(kept, poured, 1e-12) {
			t.Errorf("%g of %g g/L kept below half the saturation of %g", kept, poured, held)
		}
	})
}

func TestMoreGasPouredIsMoreGasInTheGlass(t *testing.T) {
	before := -1.0
	for grams := 0.0; grams < 12; grams += 0.05 {
		s := at(litreOfWater(), 8)
		s[CarbonDioxideGrams] = grams
		kept := propertyOf(CarbonDioxide, s)
		if kept <= before {
			t.Fatalf("%g g/L poured: %g kept, %g before", grams, kept, before)
		}
		before = kept
	}
}

func TestSaturationSlopesAgreeWithDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		celsius := rapid.Float64Range(-25, 90).Draw(t, "temperature")
		strength := rapid.Float64Range(0, 60).Draw(t, "strength")
		sugar := rapid.Float64Range(0, 600).Draw(t, "sugar")
		s := saturationAt(celsius, strength, sugar)
		if s.value <= 0 {
			t.Errorf("%g g/L", s.value)
		}
		const h = 1e-4
		for _, c := range []struct {
			name       string
			slope      float64
			difference float64
		}{
			{"temperature", s.byTemperature, (saturationAt(celsius+h, strength, sugar).value - saturationAt(celsius-h, strength, sugar).value) / (2 * h)},
			{"strength", s.byStrength, (saturationAt(celsius, strength+h, sugar).value - saturationAt(celsius, strength-h, sugar).value) / (2 * h)},
			{"sugar", s.bySugar, (saturationAt(celsius, strength, sugar+h).value - saturationAt(celsius, strength, sugar-h).value) / (2 * h)},
		} {
			if !alike(c.slope, c.difference, 1e-5) {
				t.Errorf("by %s: slope %g, differences %g", c.name, c.slope, c.difference)
			}
		}
	})
}

// Beyond the range of the sources the figures are held.
func TestSaturationIsHeldBeyondItsSources(t *testing.T) {
	for _, pair := range [][2]GramPerLitre{
		{Saturation(-60, 0, 0), Saturation(-30, 0, 0)},
		{Saturation(500, 0, 0), Saturation(100, 0, 0)},
		{Saturation(10, 96, 0), Saturation(10, 40, 0)},
		{Saturation(10, 0, 1000), Saturation(10, 0, 500)},
	} {
		if pair[0] != pair[1] {
			t.Errorf("%g and %g g/L", pair[0], pair[1])
		}
	}
}

func TestRoundedCornerMeetsBothLines(t *testing.T) {
	for _, width := range []float64{0.5, 3, 50} {
		for _, c := range []struct{ x, value, slope float64 }{
			{-2 * width, 0, 0}, {-width, 0, 0}, {0, 3 * width / 16, 0.5}, {width, width, 1}, {3 * width, 3 * width, 1},
		} {
			value, slope := softPositive(c.x, width)
			if math.Abs(value-c.value) > 1e-12 || math.Abs(slope-c.slope) > 1e-12 {
				t.Errorf("width %g at %g: %g, slope %g; want %g, %g", width, c.x, value, slope, c.value, c.slope)
			}
		}
	}
}
