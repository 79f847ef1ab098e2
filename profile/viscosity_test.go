package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestViscosityFallsWithTemperatureAndRisesWithSolutes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawPour(t, "pour", 5, 25)
		// What adds to the volume thins the gum.
		s[ThickenerGrams] = 0
		v := viscosityOf(s, 10)
		if warm := viscosityOf(s, 20); warm >= v {
			t.Errorf("%g mPa·s at 10 °C, %g at 20 °C", v, warm)
		}
		for _, c := range []Component{SucroseGrams, GlucoseGrams, FructoseGrams, PolyolsGrams, CitricGrams, GumGrams, ThickenerGrams} {
			more := s
			more[c] += 0.05
			if thicker := viscosityOf(more, 10); thicker <= v {
				t.Errorf("component %d: %g mPa·s becomes %g", c, v, thicker)
			}
		}
	})
}

// Ethanol with water is thickest at 42 % by mass at 20 °C.
//
// Source: CRC Handbook of Chemistry and Physics, 102nd ed. (2021).
func TestEthanolWithWaterIsThickestInTheMiddle(t *testing.T) {
	thickest, most := 0.0, 0.0
	for p := 0.0; p <= 100; p++ {
		s := water(100 - p)
		s[EthanolGrams] = p
		if v := viscosityOf(s, 20); v > most {
			thickest, most = p, v
		}
	}
	if math.Abs(thickest-42) > 4 {
		t.Errorf("thickest at %g %% by mass, want 42", thickest)
	}
}

// The gum adds nothing at zero, starts straight, thickens with every gram up to
// a gel, and thins with shear.
func TestXanthanThickensSmoothlyFromNothing(t *testing.T) {
	if v, slope := xanthanViscosity(0); v != 0 || slope != 1000*xanthanConsistency {
		t.Errorf("at nothing %g mPa·s, slope %g", v, slope)
	}
	before := 0.0
	const step = 0.01
	for c := step; c < thickestXanthan; c += step {
		v, slope := xanthanViscosity(c)
		if v <= before || slope <= 0 {
			t.Fatalf("%g g/L: %g mPa·s after %g, slope %g", c, v, before, slope)
		}
		const h = 1e-5
		above, _ := xanthanViscosity(c + h)
		below, _ := xanthanViscosity(c - h)
		if difference := (above - below) / (2 * h); !alike(slope, difference, 1e-6) {
			t.Errorf("%g g/L: slope %g, differences %g", c, slope, difference)
		}
		before = v
	}
	if v, slope := xanthanViscosity(1e9); slope != 0 || v > 1e4 {
		t.Errorf("a gel of %g mPa·s, slope %g", v, slope)
	}
	if slow, fast := powerLawViscosity(0.05, 0.6, 5), powerLawViscosity(0.05, 0.6, 500); slow <= fast {
		t.Errorf("%g mPa·s at 5 1/s, %g at 500 1/s", slow, fast)
	}
}

// Water's own figure is kept at no sugar, and the formula's slopes are its own.
func TestSugarRatioStartsAtWater(t *testing.T) {
	for celsius := -10.0; celsius <= 60; celsius += 10 {
		if v, _, _ := lnSugarRatio(0, celsius); v != 0 {
			t.Errorf("%g °C: %g without sugar", celsius, v)
		}
		for c := 0.01; c < thickestSolution; c += 0.04 {
			const h = 1e-6
			_, byC, byT := lnSugarRatio(c, celsius)
			up, _, _ := lnSugarRatio(c+h, celsius)
			down, _, _ := lnSugarRatio(c-h, celsius)
			warm, _, _ := lnSugarRatio(c, celsius+h)
			cold, _, _ := lnSugarRatio(c, celsius-h)
			if d := (up - down) / (2 * h); !alike(byC, d, 1e-6) {
				t.Errorf("%g, %g °C: slope %g, differences %g", c, celsius, byC, d)
			}
			if d := (warm - cold) / (2 * h); !alike(byT, d, 1e-6) {
				t.Errorf("%g, %g °C: slope %g a kelvin, differences %g", c, celsius, byT, d)
			}
		}
	}
}

// A gram of what barely thickens is no gram of xanthan.
func TestOnlyThickenersThicken(t *testing.T) {
	s := litreOfWater()
	s[GumGrams] = 1
	arabic := viscosityOf(s, 20)
	s[ThickenerGrams] = 1
	if xanthan := viscosityOf(s, 20); arabic > 1.05 || xanthan < 7 {
		t.Errorf("1 g/L: %g mPa·s of gum alone, %g as a thickener", arabic, xanthan)
	}
}
