package profile

import (
	"math"
	"testing"
)

// tabarieSugar is the extract in g/L that the Tabarié relation finds in a drink
// of a density and strength: the sucrose in a solution whose specific gravity
// is d_r = d_v - d_a + 1.000, d_v that of the drink and d_a that of ethanol and
// water of the same strength, all 20/20.
//
// Source: OIV-MA-AS2-03B (R2012).
func tabarieSugar(density KilogramPerCubicMetre, strength PercentVolume) float64 {
	alcoholic := EthanolWaterDensity(MassFractionOf(strength), 20)
	gravity := float64((density-alcoholic)/WaterDensity) + 1
	gravityOf := func(c float64) float64 { return float64(SucroseSolutionDensity(MassFraction(c)) / WaterDensity) }
	c := rootOf(gravityOf, gravity, 0, 0.85)
	return c * float64(SucroseSolutionDensity(MassFraction(c)))
}

// sweetSpirit is a litre of that strength and sugar content: ethanol and sugar
// are given, water fills up.
func sweetSpirit(strength PercentVolume, sugar GramPerLitre) State {
	var s State
	s[EthanolGrams] = float64(strength) / 100 * float64(EthanolDensity)
	s[SucroseGrams] = float64(sugar)
	s[WaterGrams] = rootOf(func(grams float64) float64 {
		s[WaterGrams] = grams
		return float64(s.Volume())
	}, 1000, 0, 1000)
	return s
}

// The docstring of Volume says how far sugar with ethanol is from the Tabarié
// relation, the one published route to it.
func TestSugarWithEthanolIsNearTheTabarieRelation(t *testing.T) {
	// A gram of sugar in a litre raises the density by about 0.385 g/L.
	const densityPerSugar = 0.385
	const least = 2 // g/L
	for _, zone := range []struct{ weakest, strongest, part, ofDensity float64 }{
		{0, 30, 0.02, 0.003}, {32.5, 40, 0.055, 0.008},
	} {
		worst, worstOfDensity := 0.0, 0.0
		for strength := zone.weakest; strength <= zone.strongest; strength += 2.5 {
			for sugar := 0.0; sugar <= 400; sugar += 20 {
				s := sweetSpirit(PercentVolume(strength), GramPerLitre(sugar))
				got := tabarieSugar(densityOf(s), PercentVolume(strength))
				off := math.Abs(got - sugar)
				ofDensity := densityPerSugar * off / float64(densityOf(s))
				worst, worstOfDensity = max(worst, off), max(worstOfDensity, ofDensity)
				if off > max(least, zone.part*sugar) || ofDensity > zone.ofDensity {
					t.Errorf("%g %% vol, %g g/L: by Tabarié %.1f g/L", strength, sugar, got)
				}
			}
		}
		t.Logf("to %g %% vol off by at most %.1f g/L of sugar, %.2f %% of the density", zone.strongest, worst, 100*worstOfDensity)
	}
}

// The sugar that the relation finds in mixtures of 0.620 ml per gram of sugar,
// worked out by hand; here the sugar takes up as much as ICUMSA says.
func TestTabarieOnMixturesWorkedByHand(t *testing.T) {
	for _, c := range []struct{ ethanol, water, sucrose, sugar float64 }{
		{100, 500, 100, 147.0}, {100, 500, 250, 325.5}, {150, 450, 300, 371.6}, {50, 900, 80, 78.5}, {200, 400, 400, 452.1},
	} {
		var s State
		s[EthanolGrams], s[WaterGrams], s[SucroseGrams] = c.ethanol, c.water, c.sucrose
		got := tabarieSugar(densityOf(s), PercentVolume(propertyOf(Strength, s)))
		// Between the two volumes of sugar lie up to 0.005 ml/g.
		if math.Abs(got-c.sugar) > max(2, 0.015*c.sugar) {
			t.Errorf("%+v: %.1f g/L by Tabarié, want %.1f", c, got, c.sugar)
		}
	}
}
