package pantry

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"minim/profile"
)

// liqueurOf is a litre of a liqueur of that strength and sugar.
func liqueurOf(strength, sugar float64) profile.State {
	var s profile.State
	s[profile.EthanolGrams] = 1000 * ethanolGrams(strength)
	s[profile.SucroseGrams] = sugar
	s[profile.WaterGrams] = crossing(0, 1100, func(w float64) bool {
		s[profile.WaterGrams] = w
		return s.Volume() < 1000
	})
	return s
}

// instruments reads a liqueur with errors of their usual size, or none.
type instruments struct {
	at          profile.Celsius
	compensated bool
	random      *rand.Rand
}

func (in *instruments) off() float64 {
	if in.random == nil {
		return 0
	}
	return in.random.NormFloat64()
}

func (in *instruments) read(strength, sugar float64) LiqueurReadings {
	s := liqueurOf(strength, sugar)
	brix := s.RefractometerBrix(in.at)
	if in.compensated {
		brix = profile.CorrectedBrix(brix, in.at)
	}
	brix = max(0, brix+profile.Brix(in.off())*RefractometerSpread)
	density := s.DensityAt(in.at) / profile.HydrometerDensity(1, 20, in.at)
	hydrometer := ByHydrometer(Measurement[profile.SpecificGravity]{
		Value: profile.SpecificGravity(density) + profile.SpecificGravity(in.off())*HydrometerSpread,
	}, 20, in.at)
	label := max(0, profile.PercentVolume(strength)+profile.PercentVolume(in.off())*LabelSpread)
	return LiqueurReadings{
		Name:     "unknown",
		Brix:     &BrixReading{Brix: Measurement[profile.Brix]{Value: brix}, At: in.at, Compensated: in.compensated},
		Density:  &hydrometer,
		Strength: &Measurement[profile.PercentVolume]{Value: label, Spread: LabelSpread},
	}
}

// without takes one reading away: density, Brix, strength or none.
func without(r LiqueurReadings, which int) LiqueurReadings {
	switch which {
	case byDensity:
		r.Density = nil
	case byBrix:
		r.Brix = nil
	case byStrength:
		r.Strength = nil
	}
	return r
}

// Exact readings give the liqueur itself, at any temperature, whichever reading
// is missing.
func TestExactReadingsGiveTheLiqueur(t *testing.T) {
	for _, in := range []instruments{{at: 20}, {at: 8}, {at: 32}, {at: 30, compensated: true}} {
		for _, liquid := range [][2]float64{{17, 100}, {24, 300}, {40, 278}, {15, 600}, {55, 30}, {0, 500}, {28, 0}} {
			for missing := range readings + 1 {
				m, err := MeasureLiqueur(without(in.read(liquid[0], liquid[1]), missing))
				if err != nil {
					t.Errorf("%v at %g °C without %d: %v", liquid, in.at, missing, err)
					continue
				}
				sound(t, m)
				within(t, "strength", m.Ingredient.Figures[StrengthPercent].Value, liquid[0], 0.03) // rounded to the ±
				within(t, "sugar", m.Ingredient.Figures[SucrosePerLitre].Value, liquid[1], 0.15)
				s := liqueurOf(liquid[0], liquid[1])
				within(t, "density", m.Ingredient.Figures[DensityGramsPerMillilitre].Value, float64(s.Mass()/1000), 1e-4)
			}
		}
	}
}

// Two hundred liqueurs read with instruments that err come out within their
// errors: 95 of 100 within two standard deviations, all within five.
func TestRandomLiqueursAreRecovered(t *testing.T) {
	random := rand.New(rand.NewPCG(20, 2026))
	for missing := range readings + 1 {
		within, worst, refusedCount := 0, 0.0, 0
		const count = 200
		for range count {
			strength, sugar := 15+random.Float64()*30, 100+random.Float64()*300
			in := instruments{at: profile.Celsius(15 + random.Float64()*10), random: random}
			m, err := MeasureLiqueur(without(in.read(strength, sugar), missing))
			if err != nil {
				refusedCount++
				continue
			}
			a, s := m.Ingredient.Figures[StrengthPercent], m.Ingredient.Figures[SucrosePerLitre]
			off := math.Max(math.Abs(a.Value-strength)/a.Spread, math.Abs(s.Value-sugar)/s.Spread)
			worst = math.Max(worst, off)
			if off <= 2 {
				within++
			}
		}
		t.Logf("without reading %d: %d of %d within two standard deviations, worst %.2f, refused %d", missing, within, count, worst, refusedCount)
		if within < count*90/100 || worst > 5 || refusedCount > 3 {
			t.Errorf("without reading %d: %d of %d within, worst %.2f, refused %d", missing, within, count, worst, refusedCount)
		}
	}
}

// The ± of first order is that of many simulated readings, the model's own doubt
// left out.
func TestFirstOrderAgreesWithMonteCarlo(t *testing.T) {
	const strength, sugar, count = 24, 250, 600
	for missing := range readings + 1 {
		random := rand.New(rand.NewPCG(7, uint64(missing)))
		in := instruments{at: 20, random: random}
		var sugars, strengths []float64
		var m *Measured
		for range count {
			var f faults
			r := without(in.read(strength, sugar), missing)
			q := r.question(&f)
			out, err := q.answer(newMeasured("x", "", "", Seen))
			if err != nil || len(f) > 0 {
				continue
			}
			sugars, strengths = append(sugars, out.sugar), append(strengths, out.strength)
		}
		exact := instruments{at: 20}
		m, err := MeasureLiqueur(without(exact.read(strength, sugar), missing))
		if err != nil {
			t.Fatal(err)
		}
		both := strength / 30.0 * sugar / 400.0
		grow := math.Max(math.Hypot(1, modelDensity*both), math.Hypot(1, modelBrix*both/float64(RefractometerSpread)))
		for _, row := range []struct {
			what  string
			found []float64
			c     Column
		}{{"sugar", sugars, SucrosePerLitre}, {"strength", strengths, StrengthPercent}} {
			_, variance := meanOf(row.found)
			simulated, computed := math.Sqrt(variance), m.Ingredient.Figures[row.c].Spread
			t.Logf("without reading %d: %s ± %.3g by simulation, %.3g by first order with the model", missing, row.what, simulated, computed)
			// 600 simulations know their ± to 3 %; 10 % and the rounding to two digits.
			if computed < simulated*0.88 || computed > simulated*grow*1.12 {
				t.Errorf("without reading %d: %s ± %.3g by simulation, %.3g computed, at most %.2f times as much by the model", missing, row.what, simulated, computed, grow)
			}
		}
	}
}

// Liqueurs of published sugar and density, at their published strength: the
// density gives the sugar back. Standard Tables of Food Composition in Japan, 8th
// ed., items 16028 (curaçao 40.4 %: 278 g/L, 1.053), 16030 (mint 30.2 %: 421 g/L,
// 1.120), 16031 (sweet vermouth 16.0 %: 172 g/L, 1.047). They are carbohydrate by
// difference and a density of four digits: 5 g/L, and 14 in vermouth, whose
// extract is not all sugar. The curaçao lies 1.8 of its own ± away.
func TestPublishedLiqueurs(t *testing.T) {
	for _, row := range []struct{ strength, density, sugar, tolerance float64 }{
		{40.4, 1053, 278, 12}, {30.2, 1120, 421, 10}, {16.0, 1047, 172, 14},
	} {
		m, err := MeasureLiqueur(LiqueurReadings{
			Name:     "published",
			Density:  &DensityReading{Density: Measurement[profile.KilogramPerCubicMetre]{Value: profile.KilogramPerCubicMetre(row.density), Spread: 0.5}, At: 20},
			Strength: value(profile.PercentVolume(row.strength)),
		})
		if err != nil {
			t.Fatal(err)
		}
		got := m.Ingredient.Figures[SucrosePerLitre]
		t.Logf("%g %% vol, %g kg/m³: %g ± %g g/L; printed %g", row.strength, row.density, got.Value, got.Spread, row.sugar)
		within(t, "sugar", got.Value, row.sugar, row.tolerance)
	}
}

// The relation of Tabarié, OIV-MA-AS2-03B: 1.00180 (ρ_v - ρ_a) + 1.000 is the
// gravity of the alcohol-free liquid, whose extract is that of sucrose. It is
// another model: 2 g/L or 3 %.
func TestDensityAgreesWithTabarie(t *testing.T) {
	for _, row := range [][2]float64{{16, 100}, {18, 150}, {24, 300}, {30, 350}} {
		s := liqueurOf(row[0], row[1])
		alcohol := profile.EthanolWaterDensity(profile.MassFractionOf(profile.PercentVolume(row[0])), 20)
		gravity := profile.SpecificGravity(1.00180*float64(s.DensityAt(20)-alcohol)/1000 + 1)
		extract := profile.BrixOfDensity(gravity.Density()).GramsPerLitre()
		within(t, "extract by Tabarié", float64(extract), row[1], math.Max(2, 0.03*row[1]))
	}
}

func TestContradictionsAreRefusedByHowMuch(t *testing.T) {
	exact := instruments{at: 20}
	for name, row := range map[string]struct {
		change     func(*LiqueurReadings)
		instrument string
		apart      float64
	}{
		"the label of a stronger bottle": {func(r *LiqueurReadings) { r.Strength.Value = 40 }, "label", 16},
		"the label of a weaker bottle":   {func(r *LiqueurReadings) { r.Strength.Value = 10 }, "label", 14},
		"no liquid so light can be so dense a syrup": {func(r *LiqueurReadings) {
			r.Strength, r.Brix.Brix.Value, r.Density.Density.Value = nil, 10, 1230
		}, "refractometer", 40}, // 1230 kg/m³ without alcohol is 50.1 °Bx
		"lighter than its label without sugar": {func(r *LiqueurReadings) {
			r.Brix, r.Density.Density.Value, r.Strength.Value = nil, 900, 40
		}, "", 48}, // 40 % vol is 948.05 kg/m³
	} {
		r := exact.read(24, 300)
		row.change(&r)
		_, err := MeasureLiqueur(r)
		var wrong *ContradictionError
		if !errors.As(err, &wrong) {
			t.Errorf("%s: %v; want a contradiction", name, err)
			continue
		}
		refused(t, err, "contradict", "apart")
		if row.instrument != "" && (wrong.Instrument != row.instrument || math.Abs(wrong.Apart-row.apart) > 0.3) {
			t.Errorf("%s: %s is %.2f apart; want %s by %g", name, wrong.Instrument, wrong.Apart, row.instrument, row.apart)
		}
		if wrong.Apart < refusedAt*wrong.Allowed {
			t.Errorf("%s: refused at %.2f with ± %.2f", name, wrong.Apart, wrong.Allowed)
		}
		t.Log(err)
	}
}

func TestOneReadingIsTooFew(t *testing.T) {
	exact := instruments{at: 20}
	r := exact.read(24, 300)
	_, err := MeasureLiqueur(LiqueurReadings{Name: "x", Brix: r.Brix})
	refused(t, err, "1 of the readings", "expected two")
	_, err = MeasureLiqueur(LiqueurReadings{Name: "x"})
	refused(t, err, "0 of the readings")
}

// Weighing 100 ml of water on a scale in air shows 99.715 g at 20 °C: its
// density less 1.06 g/L of lift (1.2 kg/m³ of air, weights of 8000 kg/m³).
func TestWeighedWaterHasTheDensityOfWater(t *testing.T) {
	d := ByWeighing(Measurement[profile.Gram]{Value: 99.715}, Measurement[profile.Millilitre]{Value: 100, Spread: 0.1}, 20)
	within(t, "density", float64(d.Density.Value), float64(profile.WaterDensity), 0.05)
	within(t, "±", float64(d.Density.Spread), math.Hypot(1, 0.997), 0.02) // 0.1 g and 0.1 ml of 100 ml
	d = ByWeighing(Measurement[profile.Gram]{Value: 50}, Measurement[profile.Millilitre]{}, 20)
	_, err := MeasureLiqueur(LiqueurReadings{Name: "x", Density: &d, Strength: value(profile.PercentVolume(20))})
	refused(t, err, "density")
}

// A jigger weighed tells little, and the answer says so.
func TestAJiggerIsACoarseFlask(t *testing.T) {
	s := liqueurOf(24, 300)
	d := ByWeighing(Measurement[profile.Gram]{Value: s.Mass() * 0.05}, Measurement[profile.Millilitre]{Value: 50}, 20)
	m, err := MeasureLiqueur(LiqueurReadings{Name: "x", Density: &d, Strength: value(profile.PercentVolume(24))})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(strings.Join(m.Remarks, "\n"), "weigh a larger volume") {
		t.Errorf("remarks %q", m.Remarks)
	}
	if f := m.Ingredient.Figures[SucrosePerLitre]; f.Spread < 20 {
		t.Errorf("sugar ± %g g/L from half a millilitre in fifty", f.Spread)
	}
}
