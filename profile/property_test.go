package profile

import (
	"testing"

	"pgregory.net/rapid"
)

func TestPropertyNamesRoundTrip(t *testing.T) {
	names := PropertyNames()
	if len(names) != Properties {
		t.Fatalf("%d names, want %d", len(names), Properties)
	}
	seen := map[string]bool{}
	for p := range Property(Properties) {
		if p.Name() == "" || (p.Unit() == "") != (p == PH) || seen[p.Name()] {
			t.Errorf("property %d: name %q, unit %q", p, p.Name(), p.Unit())
		}
		seen[p.Name()] = true
		back, ok := PropertyNamed(p.Name())
		if !ok || back != p || names[p] != p.Name() {
			t.Errorf("%q is property %d, want %d", p.Name(), back, p)
		}
	}
	for _, name := range []string{"", "ABV", "abv ", "strengths"} {
		if p, ok := PropertyNamed(name); ok {
			t.Errorf("%q is property %d", name, p)
		}
	}
}

func TestMethodNamesRoundTrip(t *testing.T) {
	names := MethodNames()
	if len(names) != methods {
		t.Fatalf("%d names, want %d", len(names), methods)
	}
	for m := range Method(methods) {
		back, ok := MethodNamed(m.Name())
		if m.Name() == "" || !ok || back != m || names[m] != m.Name() {
			t.Errorf("%q is method %d, want %d", m.Name(), back, m)
		}
	}
	if m, ok := MethodNamed("Stir"); ok {
		t.Errorf("\"Stir\" is method %d", m)
	}
}

// The properties that are amounts or temperatures rather than tastes have no JND.
func TestWhichPropertiesHaveAJND(t *testing.T) {
	without := map[Property]bool{Volume: true, PH: true, Dilution: true, Ethanol: true, Energy: true, Caffeine: true}
	for p := range Property(Properties) {
		j, ok := p.JND()
		if ok == without[p] || ok && (j.Threshold <= 0 || j.WeberFraction < 0) {
			t.Errorf("%s: %+v, %v", p.Name(), j, ok)
		}
		if p.NonNegative() == (p == Temperature || p == PH) {
			t.Errorf("%s: non-negative is %v", p.Name(), p.NonNegative())
		}
	}
}

func TestLinearWeightsGiveTheProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrink(t)
		f := d.Finish()
		for p := range Property(Properties) {
			weights, perVolume, ok := p.Linear()
			if weights == (State{}) {
				continue
			}
			sum := 0.0
			for c, w := range weights {
				sum += w * f.State[c]
			}
			if p == Sweetness {
				relative, _ := FructoseSweetness(f.Temperature)
				sum += 1000 * relative * f.State[FructoseGrams]
			} else if !ok {
				t.Errorf("%s has weights and is not linear", p.Name())
			}
			if perVolume {
				sum /= f.Values[Volume]
			}
			if !alike(sum, f.Values[p], 1e-12) {
				t.Errorf("%s: weights give %g, want %g", p.Name(), sum, f.Values[p])
			}
			if weights[HeatJoules] != 0 || weights[WaterGrams] != 0 {
				t.Errorf("%s weighs heat or water", p.Name())
			}
		}
	})
}

// The strength of a drink without solutes is that of its ethanol and water.
func TestStrengthIsThatOfTheTables(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strength := PercentVolume(rapid.Float64Range(0, 100).Draw(t, "strength"))
		if back := StrengthOf(MassFractionOf(strength)); !alike(float64(back), float64(strength), 1e-12) {
			t.Errorf("%g becomes %g", strength, back)
		}
		if got := propertyOf(Strength, ethanolWater(70, strength)); !alike(got, float64(strength), 1e-12) {
			t.Errorf("a drink of %g has %g", strength, got)
		}
	})
	if p := MassFractionOf(-3); p > 1e-15 {
		t.Errorf("-3 %% vol is mass fraction %g", p)
	}
	if p := MassFractionOf(104); p < 1-1e-15 {
		t.Errorf("104 %% vol is mass fraction %g", p)
	}
	if got, want := EthanolWaterDensity(1.2, 20), EthanolWaterDensity(1, 20); got != want {
		t.Errorf("density at mass fraction 1.2: %g, want %g", got, want)
	}
}

// A sucrose solution made up as a state has the density of the formula.
func TestStatesKeepTheSucroseDensity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		brix := rapid.Float64Range(0, 85).Draw(t, "brix")
		got, want := densityOf(solution("sucrose", brix)), SucroseSolutionDensity(MassFraction(brix/100))
		// Water is 998.2012 in the one table and 998.20123 in the other.
		if !alike(float64(got), float64(want), 1e-7) {
			t.Errorf("%g °Bx: %.6f by state, %.6f by formula", brix, got, want)
		}
	})
}

func TestVolumeAtTwentyDegreesIsTheVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawPour(t, "pour", 0, 30)
		if got, want := s.VolumeAt(20), s.Volume(); !alike(float64(got), float64(want), 1e-14) {
			t.Errorf("%g ml at 20 °C, want %g", got, want)
		}
	})
	var dry State
	dry[SucroseGrams] = 10
	if got, want := dry.VolumeAt(4), dry.Volume(); got != want {
		t.Errorf("sugar without solvent: %g ml at 4 °C, %g at 20 °C", got, want)
	}
}

func TestVolumeGradientAgreesWithDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawPourOf(t, "pour", leastPart, 0, 30)
		gradient := s.VolumeGradient()
		sum := 0.0
		for c := range s {
			const step = 1e-3
			below, above := s, s
			below[c] -= step
			above[c] += step
			difference := float64(above.Volume()-below.Volume()) / (above[c] - below[c])
			if !alike(gradient[c], difference, 1e-8) {
				t.Errorf("component %d: slope %g, differences %g", c, gradient[c], difference)
			}
			sum += gradient[c] * s[c]
		}
		// Twice the drink has twice the volume, so its parts add up to it.
		if v := float64(s.Volume()); !alike(sum, v, 1e-12) {
			t.Errorf("the parts add up to %g ml, the volume is %g", sum, v)
		}
	})
}

// What is dissolved in a litre of drink is there in g/L, mg/L or a serve's mg.
func TestUnitsOfProperties(t *testing.T) {
	for _, c := range []struct {
		component Component
		property  Property
		amount    float64
		want      float64
	}{
		{TitratableAcidGrams, Acid, 7, 7},
		{SweetenerGrams, Sweetness, 60, 60},
		{SucroseGrams, Sweetness, 60, 60},
		{SucroseGrams, Sugar, 60, 60},
		{GlucoseGrams, Sugar, 60, 60},
		{FructoseGrams, Sugar, 60, 60},
		{OtherSugarsGrams, Sugar, 60, 60},
		{PolyolsGrams, Sugar, 60, 0},
		{BitternessMilligrams, Bitter, 30, 30},
		{CaffeineMilligrams, Caffeine, 80, 80},
		{EthanolGrams, Ethanol, 20, 20},
		{SodiumMilligrams, Salt, 22.990, 0.058443}, // a millimole
		{EthanolGrams, Strength, 78.9239, 10},
	} {
		s := litreOfWater()
		s[c.component] = c.amount
		s[VolumeCorrectionMillilitres] = 1000 - float64(s.Volume())
		if got := propertyOf(c.property, s); !alike(got, c.want, 1e-5) {
			t.Errorf("%s of component %d: %g %s, want %g", c.property.Name(), c.component, got, c.property.Unit(), c.want)
		}
	}
}
