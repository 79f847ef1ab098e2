package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestDoseIsThatOfTheServe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrink(t)
		f := d.Finish()
		dose := f.State.Dose()
		for _, c := range []struct {
			name      string
			got, want float64
		}{
			{"energy", float64(dose.Kilocalories), f.Values[Energy]},
			{"ethanol", float64(dose.Ethanol), f.Values[Ethanol]},
			{"caffeine", float64(dose.Caffeine), f.Values[Caffeine]},
			{"salt", float64(dose.Sodium) * saltPerSodium, f.Values[Salt] * f.Values[Volume]},
		} {
			if !alike(c.got, c.want, 1e-12) {
				t.Errorf("%s: %g, want %g", c.name, c.got, c.want)
			}
		}
		twice := f.State.Scale(2).Dose()
		for i, drinks := range dose.StandardDrinks {
			if !alike(twice.StandardDrinks[i].Count, 2*drinks.Count, 1e-12) || drinks.Where == "" {
				t.Errorf("%q: %g, twice %g", drinks.Where, drinks.Count, twice.StandardDrinks[i].Count)
			}
			if !alike(drinks.Count*float64(drinks.Grams), float64(dose.Ethanol), 1e-12) {
				t.Errorf("%q: %g of %g g are not %g g", drinks.Where, drinks.Count, drinks.Grams, dose.Ethanol)
			}
		}
		// Each pair of factors in Annex XIV lies within 6 % of 4.184 kJ/kcal.
		if ratio := float64(dose.Kilojoules) / float64(dose.Kilocalories); math.Abs(ratio-4.184) > 0.06*4.184 {
			t.Errorf("%g kJ and %g kcal", dose.Kilojoules, dose.Kilocalories)
		}
	})
}

func TestWaterHasNoDose(t *testing.T) {
	dose := water(200).Dose()
	if dose.Kilojoules != 0 || dose.Kilocalories != 0 || dose.Ethanol != 0 || dose.Sodium != 0 || dose.Caffeine != 0 {
		t.Errorf("%+v", dose)
	}
}

// Protein and fat are part of the other solids: their mass counts there alone.
func TestProteinAndFatCountForEnergyAndNotForMass(t *testing.T) {
	var egg State
	egg[WaterGrams], egg[OtherSolidsGrams] = 38, 12
	before := egg
	egg[ProteinGrams], egg[FatGrams] = 6, 5
	if egg.Mass() != before.Mass() || egg.Volume() != before.Volume() || egg.FreezingPoint() != before.FreezingPoint() {
		t.Errorf("%g g and %g ml, without them %g g and %g ml", egg.Mass(), egg.Volume(), before.Mass(), before.Volume())
	}
	// 6 g at 4 and 5 g at 9 kcal, at 17 and 37 kJ: Regulation (EU) 1169/2011, Annex XIV.
	if dose := egg.Dose(); dose.Kilocalories != 69 || dose.Kilojoules != 287 {
		t.Errorf("%g kcal and %g kJ, want 69 and 287", dose.Kilocalories, dose.Kilojoules)
	}
}
