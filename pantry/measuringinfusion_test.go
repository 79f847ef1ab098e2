package pantry

import (
	"math"
	"strings"
	"testing"

	"minim/profile"
)

// 1 - exp(-k t), computed.
func TestFirstOrderExtraction(t *testing.T) {
	for _, row := range []struct{ k, hours, share float64 }{{0.5, 1, 0.393}, {0.5, 2, 0.632}, {0.5, 6, 0.950}, {0.1, 4, 0.330}} {
		within(t, "share", ExtractedShare(PerHour(row.k), Hour(row.hours)), row.share, 0.001)
	}
	within(t, "half", ExtractedShare(0.5, 1.386), 0.5, 0.001)
	// Fuller & Rao 2017: caffeine at equilibrium after 6 to 7 hours.
	within(t, "cold brew", ExtractedShare(ColdBrewRate, 6.5), 0.95, 0.01)
}

// 700 ml of 40 % with 200 g of water from fruit is 31.15 % vol (OIML R 22 by
// masses), and a litre with 100 g of leaf at 2 ml/g yields 800 ml.
func TestFruitThinsTheSpirit(t *testing.T) {
	vodka := find(t, Embedded(), "vodka")
	m, err := InfusionFromRecipe(InfusionRecipe{
		Name: "fruit", Base: vodka, Volume: *value(profile.Millilitre(700)),
		Plant: *value(profile.Gram(200)), PlantWater: Measurement[profile.MassFraction]{Value: 1, Spread: 0.02}, Retained: Measurement[MillilitrePerGram]{Value: 0.5, Spread: 0.2},
	})
	if err != nil {
		t.Fatal(err)
	}
	sound(t, m)
	within(t, "strength", figure(m, StrengthPercent), 31.15, 0.05)
	if !strings.Contains(strings.Join(m.Remarks, "\n"), "no flame") {
		t.Errorf("no caution in %q", m.Remarks)
	}
	water := find(t, Embedded(), "water")
	m, err = InfusionFromRecipe(InfusionRecipe{Name: "leaf", Base: water, Volume: *value(profile.Millilitre(1000)), Plant: *value(profile.Gram(100))})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "yield", float64(m.Yield), 800, 1)
	_, err = InfusionFromRecipe(InfusionRecipe{Name: "mud", Base: water, Volume: *value(profile.Millilitre(100)), Plant: *value(profile.Gram(100))})
	refused(t, err, "keep back all")
}

// A gentian tincture of 200 g/L of root whose gram is 50 mg of quinine
// hydrochloride (Ph. Eur., bitterness value 10 000) holds 10 000 mg/L where all
// goes over, less by a share or too short a time.
func TestTinctureTakesItsShare(t *testing.T) {
	vodka := find(t, Embedded(), "vodka")
	r := InfusionRecipe{
		Name: "gentian tincture", Base: vodka, Volume: *value(profile.Millilitre(1000)), Plant: *value(profile.Gram(200)),
		Extracts: []Extract{{Into: BitternessMilligramsPerLitre, Dose: 50000, DoseSpread: 15000, Share: 1}},
	}
	m, err := InfusionFromRecipe(r)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, m)
	within(t, "bitterness", figure(m, BitternessMilligramsPerLitre), 10000, 50)
	within(t, "±", m.Ingredient.Figures[BitternessMilligramsPerLitre].Spread, 3000, 50)
	within(t, "strength", figure(m, StrengthPercent), 40, 0.02)
	r.Extracts[0].Share, r.Extracts[0].ShareSpread, r.Extracts[0].Rate, r.Time = 0.7, 0.1, 0.05, 24
	if m, err = InfusionFromRecipe(r); err != nil {
		t.Fatal(err)
	}
	within(t, "a day of it", figure(m, BitternessMilligramsPerLitre), 10000*0.7*(1-math.Exp(-1.2)), 60)
	r.Extracts[0].Share = 0
	_, err = InfusionFromRecipe(r)
	refused(t, err, "share of bitterness", "as measured")
	r.Base = nil
	_, err = InfusionFromRecipe(r)
	refused(t, err, "no liquid")
}
