package pantry

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"minim/profile"
)

func gramsOf(v float64) Portion { return Portion{Grams: value(profile.Gram(v))} }

func millilitresOf(v float64) Portion { return Portion{Millilitres: value(profile.Millilitre(v))} }

func figure(m *Measured, c Column) float64 { return m.Ingredient.Figures[c].Value }

// Syrups by weight and by volume. Brix by definition; density and g/L of ICUMSA
// SPS-4 (Bubník et al. 1995), the density beside the CRC Handbook, 102nd ed.:
// 1.2295 g/ml at 50 °Bx. By volume the sugar weighs 0.85 g/ml (common practice)
// and water of 20 °C 0.9982 g/ml: 46.0 and 63.0 °Bx, whose g/L are interpolated
// in the same table.
func TestSyrupsFromTheirRecipe(t *testing.T) {
	for _, row := range []struct {
		name                       string
		sugar, water               Portion
		brix, perLitre, density    float64
		ofBrix, ofLitre, ofDensity float64
		yield, ofYield             float64
	}{
		// 1626 and 2261 ml from a kilogram of water, computed from the same density.
		{"1:1 by weight", gramsOf(1000), gramsOf(1000), 50.00, 614.8, 1.22965, 0.01, 0.15, 0.0002, 1626, 2},
		{"2:1 by weight", gramsOf(2000), gramsOf(1000), 66.667, 884.5, 1.32677, 0.01, 0.2, 0.0002, 2261, 3},
		{"1:1 by volume", millilitresOf(1000), millilitresOf(1000), 45.99, 555.8, 1.2084, 0.02, 1, 0.0005, 1529.6, 3},
		{"2:1 by volume", millilitresOf(2000), millilitresOf(1000), 63.00, 821.5, 1.3043, 0.02, 1.5, 0.0006, 2068, 4},
	} {
		m, err := SyrupFromRecipe(SyrupRecipe{Name: row.name, Sugar: row.sugar, Water: row.water, WaterAt: 20})
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		sound(t, m)
		density, perLitre := figure(m, DensityGramsPerMillilitre), figure(m, SucrosePerLitre)
		spread := m.Ingredient.Figures[SucrosePerLitre].Spread
		within(t, row.name+": density", density, row.density, math.Max(row.ofDensity, m.Ingredient.Figures[DensityGramsPerMillilitre].Spread/2))
		within(t, row.name+": g/L", perLitre, row.perLitre, math.Max(row.ofLitre, spread/20))
		within(t, row.name+": Brix", 100*perLitre/(1000*density), row.brix, math.Max(row.ofBrix, spread/100))
		within(t, row.name+": yield", float64(m.Yield), row.yield, row.ofYield)
		if byVolume := row.sugar.Millilitres != nil; byVolume == (spread < 1) {
			t.Errorf("%s: ± %g g/L", row.name, spread)
		}
		// What profile makes of it is the same liquid: 1 ml of a litre's grams.
		state := m.Ingredient.PerUnit()
		within(t, row.name+": volume of a millilitre", float64(state.Volume()), 1, 1e-9)
		within(t, row.name+": correction", state[profile.VolumeCorrectionMillilitres], 0, 1e-3)
	}
}

// A litre of water at 90 °C weighs 965.3 g (Kell 1975, CRC Handbook 965.31), so
// that a hot measure gives a stronger syrup.
func TestHotWaterWeighsLess(t *testing.T) {
	hot, err := SyrupFromRecipe(SyrupRecipe{Name: "hot", Sugar: gramsOf(1000), Water: millilitresOf(1000), WaterAt: 90})
	if err != nil {
		t.Fatal(err)
	}
	brix := 100 * figure(hot, SucrosePerLitre) / (1000 * figure(hot, DensityGramsPerMillilitre))
	within(t, "Brix", brix, 100*1000/1965.3, 0.03)
	if !strings.Contains(strings.Join(hot.Remarks, "\n"), "0.965 g/ml") {
		t.Errorf("remarks %q", hot.Remarks)
	}
}

// m₁ = m₀ Bx₀/Bx₁: a kilogram at 12 °Bx boiled down to 60 leaves 200 g.
func TestBoilingDownKeepsTheSugar(t *testing.T) {
	m, err := SyrupFromRecipe(SyrupRecipe{Name: "reduced", Sugar: gramsOf(120), Water: gramsOf(880), BoiledOff: value(profile.Gram(800))})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "g/L", figure(m, SucrosePerLitre), 772.0, 0.8) // 60 °Bx, ICUMSA SPS-4
	_, err = SyrupFromRecipe(SyrupRecipe{Name: "burnt", Sugar: gramsOf(120), Water: gramsOf(880), BoiledOff: value(profile.Gram(880))})
	refused(t, err, "880 g of water boiled off 880 g")
}

func TestSyrupsThatGrainSaySo(t *testing.T) {
	for parts, words := range map[float64]string{2.05: "it will grain", 1.9: "refrigerator", 1: "made up"} {
		m, err := SyrupFromRecipe(SyrupRecipe{Name: "s", Sugar: gramsOf(1000 * parts), Water: gramsOf(1000)})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(strings.Join(m.Remarks, "\n"), words); got != (parts > 1) {
			t.Errorf("%g:1: %q in the remarks: %t", parts, words, got)
		}
	}
	_, err := SyrupFromRecipe(SyrupRecipe{Name: "fudge", Sugar: gramsOf(4000), Water: gramsOf(1000)})
	refused(t, err, "80.0 °Bx", "at most 75")
	_, err = SyrupFromRecipe(SyrupRecipe{Name: "both", Sugar: Portion{value(profile.Gram(1)), value(profile.Millilitre(1))}, Water: gramsOf(1)})
	refused(t, err, "sugar in grams and in ml")
}

// The ± of a syrup measured by the cup is that of many simulated cups.
func TestSyrupSpreadAgreesWithMonteCarlo(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	var found []float64
	for range 4000 {
		sugar := (500 + random.NormFloat64()*float64(JiggerSpread)) * (float64(SugarBulkDensity) + random.NormFloat64()*float64(SugarBulkDensitySpread))
		water := (500 + random.NormFloat64()*float64(JiggerSpread)) * float64(profile.WaterDensity) / 1000
		found = append(found, float64(profile.Brix(100*sugar/(sugar+water)).GramsPerLitre()))
	}
	m, err := SyrupFromRecipe(SyrupRecipe{Name: "cup", Sugar: millilitresOf(500), Water: millilitresOf(500), WaterAt: 20})
	if err != nil {
		t.Fatal(err)
	}
	_, variance := meanOf(found)
	within(t, "±", m.Ingredient.Figures[SucrosePerLitre].Spread, math.Sqrt(variance), 0.05*math.Sqrt(variance))
}

// Saline. 20 % by weight is 1.1478 g/ml (CRC Handbook, 102nd ed.), so 229.6 g of
// salt a litre; 200 g made up to a litre is 17.70 % by weight at 1.1296 g/ml, from
// 1.1162 at 16 and 1.1319 at 18 % in the same table (from memory). Sodium is 22.990/58.443 of the salt.
func TestSalineFromItsRecipe(t *testing.T) {
	for _, row := range []struct {
		name                       string
		recipe                     SalineRecipe
		density, salt, byWeight    float64
		ofDensity, ofSalt, ofBrine float64
	}{
		{
			"20 % by weight",
			SalineRecipe{Name: "a", Salt: *value(profile.Gram(200)), Solvent: Solvent{Water: value(profile.Gram(800))}},
			1.1478, 229.56, 20, 0.0003, 0.1, 0.01,
		},
		{
			"20 % weight in volume",
			SalineRecipe{Name: "b", Salt: *value(profile.Gram(200)), Solvent: Solvent{MadeUpTo: value(profile.Millilitre(1000))}},
			1.1296, 200, 17.70, 0.0005, 0.01, 0.05,
		},
	} {
		m, err := SalineFromRecipe(row.recipe)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, m)
		salt := figure(m, SodiumMilligramsPerLitre) / 1000 * 58.443 / 22.990
		density := figure(m, DensityGramsPerMillilitre)
		within(t, row.name+": density", density, row.density, row.ofDensity)
		within(t, row.name+": g/L", salt, row.salt, row.ofSalt)
		within(t, row.name+": by weight", 100*salt/(1000*density), row.byWeight, row.ofBrine)
	}
	_, err := SalineFromRecipe(SalineRecipe{Name: "c", Salt: *value(profile.Gram(300)), Solvent: Solvent{Water: value(profile.Gram(700))}})
	refused(t, err, "30.0 % salt", "at most 26.4")
	_, err = SalineFromRecipe(SalineRecipe{Name: "d", Salt: *value(profile.Gram(20))})
	refused(t, err, "no water")
}

// Acid solutions. 6 % is 60 g/L of citric acid, which at the apparent volume of
// 0.596 ml/g (CRC Handbook: 0.595 at 5 %, 0.597 at 10) weighs 1.0224 g/ml:
// 998.20 + 60 (1 - 0.596 × 0.99820). 10 % of citric acid by weight is 1.0402, of
// phosphoric 1.0531 g/ml in the same handbook.
func TestAcidSolutionsFromTheirRecipe(t *testing.T) {
	litre := Solvent{MadeUpTo: &Measurement[profile.Millilitre]{Value: 1000, Spread: 0.5}}
	for _, row := range []struct {
		name                   string
		acids                  []AcidPowder
		solvent                Solvent
		density, titrated, one float64
	}{
		{"6 % citric", []AcidPowder{{Acid: CitricPerLitre, Grams: *value(profile.Gram(60))}}, litre, 1.0224, 60, 60},
		{"6 % from the monohydrate", []AcidPowder{{Acid: CitricPerLitre, Grams: *value(profile.Gram(60 * 210.139 / 192.124)), Purity: CitricMonohydratePurity}}, litre, 1.0224, 60, 60},
		// Juice trade table: 1 g of citric acid is 1.047 of malic and 1.172 of tartaric.
		{"4 % citric, 2 % malic", []AcidPowder{{Acid: CitricPerLitre, Grams: *value(profile.Gram(40))}, {Acid: MalicPerLitre, Grams: *value(profile.Gram(20))}}, litre, 1.0224, 40 + 20/1.047, 40},
		{"6 % tartaric", []AcidPowder{{Acid: TartaricPerLitre, Grams: *value(profile.Gram(60))}}, litre, 1.0224, 60 / 1.172, 60},
		{"10 % citric by weight", []AcidPowder{{Acid: CitricPerLitre, Grams: *value(profile.Gram(100))}}, Solvent{Water: value(profile.Gram(900))}, 1.0402, 104.02, 104.02},
		{
			"10 % phosphoric from 85 %",
			[]AcidPowder{{Acid: PhosphoricPerLitre, Grams: *value(profile.Gram(100 / 0.85)), Purity: 0.85}},
			Solvent{Water: value(profile.Gram(1000 - 100/0.85))},
			1.0531, 105.31 * 1.307, 105.31,
		},
	} {
		m, err := AcidFromRecipe(AcidRecipe{Name: row.name, Acids: row.acids, Solvent: row.solvent})
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		sound(t, m)
		within(t, row.name+": density", figure(m, DensityGramsPerMillilitre), row.density, 0.0012) // ± 0.001 of its own
		within(t, row.name+": as citric acid", figure(m, TitratableAcidPerLitre), row.titrated, 0.15)
		within(t, row.name+": the acid", figure(m, row.acids[0].Acid), row.one, 0.12)
	}
	_, err := AcidFromRecipe(AcidRecipe{Name: "x", Solvent: litre})
	refused(t, err, "no acid")
	_, err = AcidFromRecipe(AcidRecipe{Name: "x", Solvent: litre, Acids: []AcidPowder{{Acid: SucrosePerLitre, Grams: *value(profile.Gram(1))}}})
	refused(t, err, "citric acid, malic acid")
	_, err = AcidFromRecipe(AcidRecipe{Name: "x", Solvent: litre, Acids: []AcidPowder{{Acid: CitricPerLitre, Grams: *value(profile.Gram(700))}}})
	refused(t, err, "at most 30")
}

// Refractometer and hydrometer on one's own syrup and saline find the recipe
// again: two routes to one figure.
func TestInstrumentsFindTheRecipe(t *testing.T) {
	m, err := SyrupFromRecipe(SyrupRecipe{Name: "s", Sugar: gramsOf(1000), Water: gramsOf(1000)})
	if err != nil {
		t.Fatal(err)
	}
	brix := m.Ingredient.PerUnit().RefractometerBrix(20)
	within(t, "Brix of a 1:1 syrup", float64(brix), 50, 0.02)
	again, err := MeasureLiqueur(LiqueurReadings{
		Name: "s", Category: "syrup", Brix: &BrixReading{Brix: Measurement[profile.Brix]{Value: brix}, At: 20},
		Strength: &Measurement[profile.PercentVolume]{},
	})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "sugar by the refractometer", figure(again, SucrosePerLitre), figure(m, SucrosePerLitre), 0.5)
	if spread := again.Ingredient.Figures[SucrosePerLitre].Spread; math.Abs(spread-3) > 0.5 {
		t.Errorf("± %g g/L from ± 0.2 °Bx; a degree at 50 °Bx is 15 g/L", spread) // (691.7 - 541.2)/10, ICUMSA SPS-4
	}
}
