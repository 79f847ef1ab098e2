package profile

import (
	"math"
	"testing"
)

// instrumentSubjects has one entry for each subject in testdata/instruments.csv.
var instrumentSubjects = map[string]publishedSubject{
	"refractive_index_from_brix": func(in *publishedInputs) float64 {
		return float64(SucroseRefractiveIndex(Brix(in.number("brix"))))
	},
	"brix_from_refractive_index": func(in *publishedInputs) float64 {
		return float64(BrixOf(RefractiveIndex(in.number("n"))))
	},
	"refractometer_brix_reading_of_ethanol_water": func(in *publishedInputs) float64 {
		return float64(spirit(in.number("mass_percent")).RefractometerBrix(20))
	},
	"solution_refractive_index": func(in *publishedInputs) float64 {
		density := in.number("density")
		if solute := in.word("solute"); solute != "ethanol" {
			s := solution(solute, in.number("mass_percent"))
			if density > 0 {
				s[VolumeCorrectionMillilitres] = 1000*float64(s.Mass())/density - float64(s.Volume())
			}
			return float64(s.RefractiveIndexAt(20))
		}
		return float64(spirit(in.number("mass_percent")).RefractiveIndexAt(20))
	},
	"refractometer_temperature_correction": func(in *publishedInputs) float64 {
		reading := Brix(in.number("reading"))
		return float64(CorrectedBrix(reading, Celsius(in.number("celsius"))) - reading)
	},
	"brix_from_specific_gravity_in_air": func(in *publishedInputs) float64 {
		const air = 1.2 // kg/m³: a weighing in air lacks the lift of its volume
		inAir := in.number("specific_gravity")
		return float64(BrixOfDensity(KilogramPerCubicMetre(inAir*(float64(WaterDensity)-air) + air)))
	},
	"plato_from_specific_gravity": func(in *publishedInputs) float64 {
		return float64(PlatoOfDensity(SpecificGravity(in.number("specific_gravity")).Density()))
	},
	"baume_from_specific_gravity": func(in *publishedInputs) float64 {
		return float64(SpecificGravity(in.number("specific_gravity")).Baume())
	},
	"sucrose_grams_per_litre": func(in *publishedInputs) float64 {
		return float64(Brix(in.number("brix")).GramsPerLitre())
	},
	"sucrose_solution_density_at_temperature": func(in *publishedInputs) float64 {
		return float64(SucroseSolutionDensityAt(MassFraction(in.number("brix")/100), Celsius(in.number("celsius"))))
	},
	"sodium_chloride_solution_density": func(in *publishedInputs) float64 {
		return float64(SodiumChlorideSolutionDensity(MassFraction(in.number("mass_percent") / 100)))
	},
	"apparent_strength": func(in *publishedInputs) float64 {
		return float64(ApparentStrength(KilogramPerCubicMetre(in.number("density"))))
	},
	"acid_as_citric_from_titration":   func(in *publishedInputs) float64 { return titrated(in, CitricGrams) },
	"acid_as_tartaric_from_titration": func(in *publishedInputs) float64 { return titrated(in, TartaricGrams) },
	"acid_as_malic_from_titration":    func(in *publishedInputs) float64 { return titrated(in, MalicGrams) },
	"acid_equal_to_citric": func(in *publishedInputs) float64 {
		acid := in.word("acid")
		if acid == "citric_monohydrate" {
			return CitricMonohydratePerCitric
		}
		g, ok := GramPerLitre(1).FromCitric(map[string]Component{
			"malic": MalicGrams, "tartaric": TartaricGrams, "lactic": LacticGrams, "acetic": AceticGrams,
		}[acid])
		if !ok {
			panic("no acid " + acid)
		}
		return float64(g)
	},
}

// titrated is what a titration finds, as that acid.
func titrated(in *publishedInputs, as Component) float64 {
	citric := TitratableAcid(EquivalentPerLitre(in.number("equivalents_per_litre")),
		Millilitre(in.number("base_ml")), Millilitre(in.number("sample_ml")))
	g, ok := citric.FromCitric(as)
	if !ok {
		panic("not an acid")
	}
	return float64(g)
}

// spirit is 100 g of ethanol and water.
func spirit(massPercent float64) State {
	s := water(100 - massPercent)
	s[EthanolGrams] = massPercent
	return s
}

func TestPublishedInstruments(t *testing.T) {
	bySubject := map[string][]publishedRow{}
	for _, row := range readPublished(t, "testdata/instruments.csv") {
		compute, ok := instrumentSubjects[row.subject]
		if !ok {
			t.Errorf("instruments.csv:%d: no function for %q", row.line, row.subject)
			continue
		}
		row.computedHere = computePublished(t, &row, compute)
		row.missByAmount = math.Abs(row.computedHere - row.expected)
		if !(row.missByAmount <= row.tolerance+rounding*math.Abs(row.expected)) {
			t.Errorf("instruments.csv:%d: %s of %s: got %.6g, want %g ± %g %s (%s)",
				row.line, row.subject, row.inputs, row.computedHere, row.expected, row.tolerance, row.unit, row.source)
		}
		bySubject[row.subject] = append(bySubject[row.subject], row)
	}
	for subject := range instrumentSubjects {
		if len(bySubject[subject]) == 0 {
			t.Errorf("no rows for %q", subject)
		}
	}
	t.Log(publishedTable(bySubject))
}

func TestBrixUndoesTheIndex(t *testing.T) {
	for b := Brix(-4); b <= 94; b += 0.7 {
		if got := BrixOf(SucroseRefractiveIndex(b)); math.Abs(float64(got-b)) > 1e-8 {
			t.Errorf("%g °Bx comes back as %.10g", b, got)
		}
	}
}

// The solution of a sugar alone is the scale itself, whatever its amount.
func TestStatesKeepTheScaleOfSucrose(t *testing.T) {
	for b := Brix(1); b <= 85; b += 4 {
		got := sucroseSolution(b).Scale(3.7).RefractometerBrix(20)
		const scale = 2e-4 // °Bx: the volume of a state is the formula solved for it
		if math.Abs(float64(got-b)) > scale {
			t.Errorf("%g °Bx reads %.6g", b, got)
		}
	}
}

func TestCorrectedBrixUndoesTheTemperature(t *testing.T) {
	for _, at := range []Celsius{0, 5, 12, 20, 28, 40} {
		for b := Brix(0); b <= 80; b += 8 {
			reading := sucroseSolution(b).RefractometerBrix(at)
			if got := CorrectedBrix(reading, at); math.Abs(float64(got-b)) > 1e-4 {
				t.Errorf("%g °Bx at %g °C reads %.4f, corrected to %.6f", b, at, reading, got)
			}
		}
	}
}

// Sugar in 40 % vol raises the index at constant density whatever the strength,
// so that density and refraction have one solution.
func TestRefractionRisesAlongEachDensity(t *testing.T) {
	for density := 820.0; density <= 1300; density += 20 {
		last := 0.0
		for p := 0.0; p <= 1.0001; p += 0.01 {
			s := spirit(100 * min(p, 1))
			if float64(s.DensityAt(20)) > density {
				continue
			}
			s[SucroseGrams] = rising(0, 500, func(x float64) bool {
				s[SucroseGrams] = x
				return float64(s.DensityAt(20)) < density
			})
			if float64(s.DensityAt(20)) < density-0.01 {
				break
			}
			n := float64(s.RefractiveIndexAt(20))
			if n <= last {
				t.Errorf("at %g kg/m³ the index falls from %.5f to %.5f at %.0f %% by mass", density, last, n, 100*p)
			}
			last = n
		}
	}
}

func TestRefractionOfNothing(t *testing.T) {
	if n := (State{}).RefractiveIndexAt(20); n != 1 {
		t.Errorf("an empty state has index %g", n)
	}
	for _, n := range []RefractiveIndex{0, -1, 1, 5, RefractiveIndex(math.Inf(1)), RefractiveIndex(math.NaN())} {
		if b := BrixOf(n); math.IsNaN(float64(b)) || b < -20 || b > 95 {
			t.Errorf("index %g gives %g °Bx", n, b)
		}
	}
}

// Beer is the one mixture of extract and ethanol whose refraction was measured
// for many: final gravity = 1 - 0.00085683 i + 0.0034941 f, i and f the Brix
// before and after (linear correlation of 68 triplets, published by a brewer,
// 2011). Extract and ethanol follow from original and final gravity by Balling
// (from memory): real extract 0.1808 i + 0.8192 apparent, ethanol
// (i - real)/(2.0665 - 0.010665 i) % by mass. At 4 to 8 % vol refraction and
// density of that composition are those of the beer within 0.4 °Bx and 1 kg/m³.
func TestRefractionOfBeer(t *testing.T) {
	for _, beer := range [][2]float64{{10, 5.3}, {12, 6.4}, {14, 7.5}, {18, 9.8}} {
		i, f := beer[0], beer[1]
		gravity := SpecificGravity(1 - 0.00085683*i + 0.0034941*f)
		apparent := float64(BrixOfDensity(gravity.Density()))
		extract := 0.1808*i + 0.8192*apparent
		ethanol := (i - extract) / (2.0665 - 0.010665*i)
		s := water(100 - extract - ethanol)
		s[EthanolGrams], s[SucroseGrams] = ethanol, extract
		t.Logf("%g to %g °Bx: %.4f, %.2f %% extract, %.2f %% ethanol; read %.2f °Bx, %.4f", i, f, gravity, extract, ethanol,
			s.RefractometerBrix(20), SpecificGravityOf(s.DensityAt(20)))
		if got := float64(s.RefractometerBrix(20)); math.Abs(got-f) > 0.4 {
			t.Errorf("beer of %g °Bx reads %.2f °Bx; want %g", i, got, f)
		}
		if got := SpecificGravityOf(s.DensityAt(20)); math.Abs(float64(got-gravity)) > 0.001 {
			t.Errorf("beer of %g °Bx has gravity %.4f; want %.4f", i, got, gravity)
		}
	}
}

// A reading is taken of a degassed sample: 10 g of sugar in 100 g are 10 °Bx, the
// degree being that, with gas as without.
func TestRefractometerReadsADegassedSample(t *testing.T) {
	if got := float64(sucroseSolution(10).CarbonatedTo(8).RefractometerBrix(20)); math.Abs(got-10) > 1e-4 {
		t.Errorf("a tenth of sugar under 8 g/L of gas reads %g °Bx", got)
	}
}
