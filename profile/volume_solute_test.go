package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A solute whose apparent volume rises lies off its tangent by exactly what its
// curvature says.
func TestSolutesBendAsTheirCurvatureSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom(risingVolumes[:]).Draw(t, "solute")
		curvature, gramsPerUnit := SoluteCurvature(r.component)
		draw := func(name string) State {
			s := water(rapid.Float64Range(10, 100).Draw(t, name+" water"))
			s[r.component] = rapid.Float64Range(0, 20).Draw(t, name+" solute") / gramsPerUnit
			return s
		}
		touch, other := draw("tangent"), draw("other")
		slopes := touch.VolumeGradient()
		tangent := slopes[WaterGrams]*other[WaterGrams] + slopes[r.component]*other[r.component]
		solute := gramsPerUnit * other[r.component]
		total := solute + other[WaterGrams]
		x := gramsPerUnit * touch[r.component] / (gramsPerUnit*touch[r.component] + touch[WaterGrams])
		want := curvature / 2 * (solute - x*total) * (solute - x*total) / total
		if got := float64(other.Volume()) - tangent; !alike(got, want, 1e-10) {
			t.Errorf("off the tangent by %g ml, want %g", got, want)
		}
	})
	if curvature, grams := SoluteCurvature(SucroseGrams); curvature != 0 || grams != 0 {
		t.Errorf("sucrose: %g, %g", curvature, grams)
	}
}

// In a drink the volume is as good as linear in salts and acids.
func TestSolutesHardlyBendInDrinks(t *testing.T) {
	const least = 0.002 // ml per 100 ml
	for component, grams := range map[Component]float64{
		SodiumMilligrams: 0.8, PotassiumMilligrams: 0.8, AceticGrams: 1.5, PhosphoricGrams: 1.5, CitricGrams: 3,
	} {
		curvature, _ := SoluteCurvature(component)
		if bend := math.Abs(curvature) / 2 * grams * grams / (99 + grams); bend > least {
			t.Errorf("component %d: %g ml per 100 ml", component, bend)
		}
	}
}

// Above its densest point, 4 °C for water and below it for syrups, a sucrose
// solution grows with each kelvin, by less than ethanol's 0.11 %.
func TestSucroseSolutionsExpandSmoothly(t *testing.T) {
	for brix := 0.0; brix <= 70; brix += 10 {
		s := solution("sucrose", brix)
		before := s.VolumeAt(4)
		for celsius := 5.0; celsius <= 30; celsius++ {
			v := s.VolumeAt(Celsius(celsius))
			if rise := float64(v/before) - 1; rise <= 0 || rise >= 1.1e-3 {
				t.Errorf("%g °Bx: %g of its volume from %g °C", brix, rise, celsius-1)
			}
			before = v
		}
	}
}
