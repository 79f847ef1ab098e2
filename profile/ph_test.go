package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// phSlopes is the pH of s in a volume of its own and its slopes.
func phSlopes(s *State) (ph float64, gradient State) {
	e := evaluation{state: s}
	e.volume = s.volume(&e.volumeGradient)
	return e.ph(&gradient), gradient
}

// acidulated is a litre like lemonade before sugar: 8 g/L of citric and 1 g/L of
// malic acid, a fifth of the citric acid's first protons gone.
func acidulated() State {
	s := litreOfWater()
	s[CitricGrams], s[MalicGrams], s[StrongChargeMilliequivalents] = 8, 1, 10
	return litre(s)
}

func TestWaterIsNeutral(t *testing.T) {
	// pK of water 14.00 at 25 °C.
	if got := propertyOf(PH, water(50)); !alike(got, 7, 1e-9) {
		t.Errorf("water has pH %g", got)
	}
	var none State
	if ph, slopes := phSlopes(&none); ph != 7 || slopes != (State{}) {
		t.Errorf("nothing has pH %g, slopes %v", ph, slopes)
	}
	if charge := none.StrongChargeMilliequivalentsAt(3); charge != 0 {
		t.Errorf("nothing at pH 3 has %g meq", charge)
	}
}

// Bates, Determination of pH (1973), from memory: hydrochloric acid of 0.1
// mol/L has pH 1.10, sodium hydroxide of 0.01 mol/L 11.9 to 12.0.
func TestStrongAcidAndBase(t *testing.T) {
	s := litreOfWater()
	s[StrongChargeMilliequivalents] = -100
	if got := propertyOf(PH, litre(s)); math.Abs(got-1.10) > 0.02 {
		t.Errorf("0.1 mol/L of strong acid has pH %g, want 1.10", got)
	}
	if got := propertyOf(PH, withBase(litreOfWater(), 0.01)); math.Abs(got-11.95) > 0.05 {
		t.Errorf("0.01 mol/L of strong base has pH %g, want 11.95", got)
	}
}

// Glutamic acid carries no charge at (2.16 + 4.30)/2 = 3.23; handbooks give an
// isoelectric point of 3.22. A solution of 5 g of monosodium glutamate in 100 ml
// has pH 6.7 to 7.2 (JECFA specification of the additive, from memory).
func TestGlutamicAcidIsAnAmpholyte(t *testing.T) {
	m := mediaAt(3.22, 0)
	if charge := m.moments(acidNamed("glutamic")).first; math.Abs(charge) > 0.01 {
		t.Errorf("mean charge %g at its isoelectric point", charge)
	}
	s := litreOfWater()
	s[GlutamicMilligrams] = 50_000 / MSGPerGlutamicAcid
	s[SodiumMilligrams] = s[GlutamicMilligrams] * sodiumMolarMass / 147.13
	s[StrongChargeMilliequivalents] = s[SodiumMilligrams] / sodiumMolarMass
	if got := propertyOf(PH, litre(s)); got < 6.7 || got > 7.2 {
		t.Errorf("monosodium glutamate has pH %g, want 6.7 to 7.2", got)
	}
}

// The ions of salt crowd those of the acid and never enter the balance: at a
// given ionic strength the pH is the same to the last digit.
func TestSaltHardlyMovesThePH(t *testing.T) {
	plain := acidulated()
	salted := plain
	salted[SodiumMilligrams] = 2000 / saltPerSodium // 2 g/L
	before, after := propertyOf(PH, plain), propertyOf(PH, salted)
	if moved := math.Abs(after - before); moved == 0 || moved >= 0.05 {
		t.Errorf("2 g/L of salt moves pH %g to %g", before, after)
	}
	var x electrolyte
	var p speciation
	plain.electrolyte(1000, &x)
	fixed := x.phAt(0.1, &p)
	salted.electrolyte(1000, &x)
	if got := x.phAt(0.1, &p); got != fixed {
		t.Errorf("at one ionic strength salt moves pH %g to %g", fixed, got)
	}
}

func TestWaterMovesABufferLittle(t *testing.T) {
	s := acidulated()
	before, after := propertyOf(PH, s), propertyOf(PH, s.Add(water(1000)))
	if after <= before || after > before+0.2 {
		t.Errorf("as much water again moves pH %g to %g", before, after)
	}
}

func TestStrongChargeRaisesThePH(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawElectrolyte(t)
		more := s
		more[StrongChargeMilliequivalents] += math.Pow(10, rapid.Float64Range(-3, 3).Draw(t, "more, log10 meq"))
		low, high := propertyOf(PH, s), propertyOf(PH, more)
		if high < low-1e-9 {
			t.Errorf("more base takes pH %.12g to %.12g", low, high)
		}
	})
}

// drawElectrolyte draws acids from 1e-12 to 1e3 g, strong charge to 1e4 meq
// either way and a volume from 1e-3 to 1e5 ml, in any mixture.
func drawElectrolyte(t *rapid.T) State {
	var s State
	magnitude := func(name string, low, high float64) float64 {
		return math.Pow(10, rapid.Float64Range(low, high).Draw(t, name))
	}
	for i := range acids {
		if rapid.IntRange(0, 2).Draw(t, "present") == 0 {
			s[acids[i].component] = magnitude("amount, log10", -12, 3)
		}
	}
	switch rapid.IntRange(0, 2).Draw(t, "charge") {
	case 1:
		s[StrongChargeMilliequivalents] = magnitude("cations, log10", -9, 4)
	case 2:
		s[StrongChargeMilliequivalents] = -magnitude("anions, log10", -9, 4)
	}
	if rapid.Bool().Draw(t, "salted") {
		s[SodiumMilligrams] = magnitude("sodium, log10", -6, 6)
		s[PotassiumMilligrams] = magnitude("potassium, log10", -6, 6)
	}
	s[VolumeCorrectionMillilitres] = magnitude("volume, log10", -3, 5) - float64(s.Volume())
	return s
}

// balanceOf is by how much the charges miss their balance at a pH, relative to
// the sum of them all, and how far off the ionic strength is, relative to it.
func balanceOf(s *State, ph, ionicStrength float64) (charge, ions float64) {
	var x electrolyte
	var p speciation
	s.electrolyte(float64(s.Volume()), &x)
	pGamma, _ := davies(ionicStrength)
	x.at(ph, pGamma, &p)
	actual := min(p.ionic/x.volume, mostIonicStrength)
	return p.charge() / (p.positive + p.negative), (actual - ionicStrength) / ionicStrength
}

func TestChargesBalanceInAnySolution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawElectrolyte(t)
		ph, slopes := phSlopes(&s)
		if !(ph >= leastPH && ph <= mostPH) {
			t.Fatalf("pH %g", ph)
		}
		for c, slope := range slopes {
			if !finite(slope) {
				t.Errorf("slope in component %d is %g", c, slope)
			}
		}
		var x electrolyte
		var p speciation
		s.electrolyte(float64(s.Volume()), &x)
		found, strength, inside := x.solve(&p)
		if found != ph {
			t.Errorf("pH %g and %g", ph, found)
		}
		if !inside {
			return
		}
		if charge, ions := balanceOf(&s, ph, strength); math.Abs(charge) > 1e-9 || math.Abs(ions) > 1e-7 {
			t.Errorf("pH %g: the charges miss by %g of them, the ionic strength %g by %g of it", ph, charge, strength, ions)
		}
		halved, _, _ := x.bisect(&p)
		if charge, _ := balanceOf(&s, halved, strength); math.Abs(halved-ph) > 1e-7 && math.Abs(charge) > 1e-9 {
			t.Errorf("pH %.12g, by halving %.12g", ph, halved)
		}
	})
}

func TestBeyondTheScaleThePHStandsAtItsEnd(t *testing.T) {
	for charge, want := range map[float64]float64{-1e4: leastPH, 1e7: mostPH} {
		s := water(1)
		s[StrongChargeMilliequivalents] = charge
		if ph, slopes := phSlopes(&s); ph != want || slopes != (State{}) {
			t.Errorf("%g meq in a millilitre: pH %g, slopes %v", charge, ph, slopes)
		}
	}
}

func TestStrongChargeAtGivesThePHBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawElectrolyte(t)
		ph := rapid.Float64Range(-1, 15).Draw(t, "ph")
		s[StrongChargeMilliequivalents] = s.StrongChargeMilliequivalentsAt(ph)
		got, slopes := phSlopes(&s)
		// The last digit of the charge may be all that a drink without a buffer
		// has to go by.
		slack := 1e-9 + 1e-12*math.Abs(slopes[StrongChargeMilliequivalents]*s[StrongChargeMilliequivalents])
		if !(math.Abs(got-ph) <= slack) {
			if charge, _ := chargeMiss(&s, ph); charge > 1e-9 {
				t.Errorf("strong charge %g gives pH %.12g, want %.12g", s[StrongChargeMilliequivalents], got, ph)
			}
		}
	})
}

// chargeMiss is the balance at a pH with the ionic strength that s has there.
func chargeMiss(s *State, ph float64) (charge, ions float64) {
	var x electrolyte
	var p speciation
	s.electrolyte(float64(s.Volume()), &x)
	low, high := 0.0, mostIonicStrength
	for range halvings {
		middle := (low + high) / 2
		pGamma, _ := davies(middle)
		if x.at(ph, pGamma, &p); p.ionic/x.volume > middle {
			low = middle
		} else {
			high = middle
		}
	}
	charge, ions = balanceOf(s, ph, high)
	return math.Abs(charge), math.Abs(ions)
}

// What is degassed has no carbonic acid to titrate, and what was titrated
// already is none.
func TestTitrationIsOfTheDegassedAcid(t *testing.T) {
	flat := acidulated()
	sparkling := flat
	sparkling[CarbonDioxideGrams] = 7
	if got, want := sparkling.TitratableCitric(TitrationEndpoint), flat.TitratableCitric(TitrationEndpoint); !alike(float64(got), float64(want), 1e-3) {
		t.Errorf("with gas %g g, without %g g", got, want)
	}
	flat[StrongChargeMilliequivalents] = flat.StrongChargeMilliequivalentsAt(TitrationEndpoint)
	if got := flat.TitratableCitric(TitrationEndpoint); math.Abs(float64(got)) > 1e-12 {
		t.Errorf("at the endpoint %g g are left", got)
	}
}

// Acid drinks, waters near neutral, brines of more than 0.5 mol/L.
func TestPHSlopesAgreeWithDifferences(t *testing.T) {
	brine := acidulated()
	brine[SodiumMilligrams] = 40_000
	spring := litreOfWater()
	spring[CarbonDioxideGrams], spring[StrongChargeMilliequivalents] = 0.05, 3
	broth := acidulated()
	broth[GlutamicMilligrams], broth[SodiumMilligrams], broth[StrongChargeMilliequivalents] = 5000, 1500, 60
	sour := acidulated()
	sour[StrongChargeMilliequivalents] = -30
	for name, s := range map[string]State{"sour": acidulated(), "brine": brine, "spring water": spring, "broth": broth, "strong acid": sour} {
		ph, slopes := phSlopes(&s)
		for c := range s {
			step := 1e-4
			if gramsPerUnit(Component(c)) == 1e-3 {
				step = 1e-1
			}
			below, above := s, s
			below[c] -= step
			above[c] += step
			low, _ := phSlopes(&below)
			high, _ := phSlopes(&above)
			difference := (high - low) / (above[c] - below[c])
			if math.Abs(difference-slopes[c]) > 1e-5*math.Abs(slopes[c])+1e-12/step {
				t.Errorf("%s of pH %g, component %d: slope %.10g, differences %.10g", name, ph, c, slopes[c], difference)
			}
		}
	}
}

func BenchmarkPHWithDerivatives(b *testing.B) {
	s := acidulated()
	s[TartaricGrams], s[LacticGrams], s[AceticGrams] = 1, 1, 0.3
	e := evaluation{state: &s}
	e.volume = s.volume(&e.volumeGradient)
	b.ReportAllocs()
	for b.Loop() {
		var gradient State
		e.ph(&gradient)
	}
}

func BenchmarkStrongChargeMilliequivalentsAt(b *testing.B) {
	s := acidulated()
	b.ReportAllocs()
	for b.Loop() {
		s.StrongChargeMilliequivalentsAt(3.2)
	}
}
