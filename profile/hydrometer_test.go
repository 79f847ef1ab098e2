package profile

import (
	"math"
	"testing"
)

func TestScalesOfDensityUndoEachOther(t *testing.T) {
	for b := Brix(0); b <= 85; b += 2.5 {
		density := SucroseSolutionDensity(MassFraction(b / 100))
		if got := BrixOfDensity(density); math.Abs(float64(got-b)) > 1e-8 {
			t.Errorf("%g °Bx comes back as %.10g", b, got)
		}
		g := SpecificGravityOf(density)
		if got := g.Baume().SpecificGravity(); math.Abs(float64(got-g)) > 1e-12 {
			t.Errorf("gravity %g comes back as %.12g", g, got)
		}
		if got := g.Density(); math.Abs(float64(got-density)) > 1e-9 {
			t.Errorf("density %g comes back as %g", density, got)
		}
	}
	if got := SpecificGravity(0).Baume(); got != 0 {
		t.Errorf("gravity 0 is %g Bé", got)
	}
}

func TestStrengthsUndoTheirDensity(t *testing.T) {
	for strength := PercentVolume(0); strength <= 100; strength += 5 {
		density := EthanolWaterDensity(MassFractionOf(strength), 20)
		if got := ApparentStrength(density); math.Abs(float64(got-strength)) > 1e-7 {
			t.Errorf("%g %% vol comes back as %.9g", strength, got)
		}
	}
}

// A state that is sugar and water, or ethanol and water, expands as its own
// formula says.
func TestDensityAtKeepsBothFormulas(t *testing.T) {
	for _, at := range []Celsius{0, 10, 20, 30, 40} {
		for _, percent := range []float64{0, 10, 30, 50, 65} {
			sugar := sucroseSolution(Brix(percent)).DensityAt(at)
			if want := SucroseSolutionDensityAt(MassFraction(percent/100), at); math.Abs(float64(sugar-want)) > 0.02 {
				t.Errorf("%g °Bx at %g °C: %.3f kg/m³; want %.3f", percent, at, sugar, want)
			}
			ethanol := spirit(percent).DensityAt(at)
			if want := EthanolWaterDensity(MassFraction(percent/100), at); math.Abs(float64(ethanol-want)) > 0.02 {
				t.Errorf("%g %% ethanol at %g °C: %.3f kg/m³; want %.3f", percent, at, ethanol, want)
			}
		}
	}
	if got := (State{}).DensityAt(20); got != 0 {
		t.Errorf("an empty state has density %g", got)
	}
}

func TestDensityAt20UndoesTheTemperature(t *testing.T) {
	for _, at := range []Celsius{0, 10, 20, 30, 40} {
		for _, c := range []MassFraction{0, 0.1, 0.35, 0.6} {
			got := DensityAt20(SucroseSolutionDensityAt(c, at), at)
			if want := SucroseSolutionDensity(c); math.Abs(float64(got-want)) > 0.01 {
				t.Errorf("%g at %g °C: %.4f; want %.4f", c, at, got, want)
			}
		}
	}
}

// A hydrometer made for 20 °C shows 1 in water at 20 °C and, its glass being
// wider at 30 °C, shows water there as 0.99743 instead of 0.99744 (ISO 649,
// expansion from memory).
func TestHydrometerGlass(t *testing.T) {
	if got := HydrometerDensity(1, 20, 20); math.Abs(float64(got-WaterDensity)) > 1e-3 {
		t.Errorf("water at 20 °C: %g", got)
	}
	if got := HydrometerDensity(1, 20, 30); math.Abs(float64(got)-998.201*(1-0.00025)) > 1e-3 {
		t.Errorf("reading 1 at 30 °C: %g", got)
	}
}

func TestSodiumChlorideDensityStaysInItsRange(t *testing.T) {
	for _, w := range []MassFraction{-1, MassFraction(math.NaN()), 5} {
		got := float64(SodiumChlorideSolutionDensity(w))
		if got < 990 || got > 1210 {
			t.Errorf("%g: %g kg/m³", w, got)
		}
	}
}
