package profile

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The relative volatility against another route: van Laar's activity coefficients
// and Antoine's vapour pressures, at the temperature where the two together boil
// under 760 mmHg. Source: constants of handbooks of chemical engineering, from
// memory: van Laar 1.6798 and 0.9227; Antoine (mmHg, °C) ethanol 8.20417, 1642.89,
// 230.300, water 8.07131, 1730.63, 233.426. The fit itself is off by up to a
// tenth.
func TestVolatilityOfEthanolFollowsActivityAndVapourPressure(t *testing.T) {
	pressure := func(a, b, c, celsius float64) float64 { return math.Pow(10, a-b/(c+celsius)) }
	for _, x := range []float64{0.005, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.98} {
		const ethanolEnd, waterEnd = 1.6798, 0.9227
		d := ethanolEnd*x + waterEnd*(1-x)
		gammaEthanol := math.Exp(ethanolEnd * math.Pow(waterEnd*(1-x)/d, 2))
		gammaWater := math.Exp(waterEnd * math.Pow(ethanolEnd*x/d, 2))
		ethanol := func(c float64) float64 { return gammaEthanol * pressure(8.20417, 1642.89, 230.300, c) }
		water := func(c float64) float64 { return gammaWater * pressure(8.07131, 1730.63, 233.426, c) }
		low, high := 70.0, 101.0
		for range 60 {
			if middle := (low + high) / 2; x*ethanol(middle)+(1-x)*water(middle) < 760 {
				low = middle
			} else {
				high = middle
			}
		}
		want := ethanol(low) / water(low)
		mass := x * ethanolMolarMass / (x*ethanolMolarMass + (1-x)*waterMolarMass)
		if got := EthanolVolatility(MassFraction(mass)); math.Abs(got-want) > 0.1*want {
			t.Errorf("x = %v: relative volatility %.3f, by van Laar %.3f", x, got, want)
		}
	}
}

// Rayleigh's integral as it is done on paper, over the measured pairs themselves:
// ln(L0/L) = ∫ dx / (y - x) in moles, by trapezia from x = 0.3273 to 0.0721.
func TestReductionFollowsRayleighsIntegral(t *testing.T) {
	const from, to = 0.3273, 0.0721
	pairs := []struct{ x, y float64 }{
		{0.3273, 0.5826}, {0.2608, 0.5580}, {0.2337, 0.5445}, {0.1661, 0.5089}, {0.1238, 0.4704}, {0.0966, 0.4375}, {0.0721, 0.3891},
	}
	integral := 0.0
	for i := 1; i < len(pairs); i++ {
		a, b := pairs[i-1], pairs[i]
		integral += (a.x - b.x) * (1/(a.y-a.x) + 1/(b.y-b.x)) / 2
	}
	var s State
	s[EthanolGrams], s[WaterGrams] = 1000*from*ethanolMolarMass, 1000*(1-from)*waterMolarMass
	moles := 1000 * math.Exp(-integral)
	left := moles*to*ethanolMolarMass + moles*(1-to)*waterMolarMass
	got, err := s.ReducedToMass(Gram(left))
	if err != nil {
		t.Fatal(err)
	}
	ethanol := got[EthanolGrams] / ethanolMolarMass
	x := ethanol / (ethanol + got[WaterGrams]/waterMolarMass)
	// Trapezia of 1/(y - x), which bends, leave this much.
	if math.Abs(x-to) > 0.001 {
		t.Errorf("mole fraction %.4f is left, by the integral %.4f", x, to)
	}
}

// All of the alcohol of a wine is in the first three quarters of a distillation:
// the reference method of wine analysis collects no more than that (OIV-MA-AS312-01,
// from memory). So a quarter that is left holds none.
func TestWineReducedToAQuarterHasNoAlcohol(t *testing.T) {
	var wine State
	wine[EthanolGrams], wine[WaterGrams] = 94.7, 878 // 12 % vol
	got, err := wine.ReducedToVolume(wine.Volume() / 4)
	if err != nil {
		t.Fatal(err)
	}
	if got[EthanolGrams] > 1e-3*wine[EthanolGrams] {
		t.Errorf("%.3f g of %.1f g of ethanol are left", got[EthanolGrams], wine[EthanolGrams])
	}
}

// A syrup of 500 g of sucrose in 500 g of water, 50 °Bx, reduced to 65 °Bx weighs
// 500/0.65 = 769.2 g: the mass balance of what does not boil off.
func TestReductionKeepsTheSugar(t *testing.T) {
	var syrup State
	syrup[SucroseGrams], syrup[WaterGrams] = 500, 500
	byBrix, err := syrup.ReducedToBrix(65)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(byBrix.Mass()); math.Abs(got-769.23) > 0.05 {
		t.Errorf("weighs %.2f g, by the mass balance 769.23", got)
	}
	byMass, err := syrup.ReducedToMass(800)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(byMass.RefractometerBrix(20)); math.Abs(got-62.5) > 0.01 {
		t.Errorf("reads %.3f °Bx, by the mass balance 500/800", got)
	}
	byVolume, err := syrup.ReducedToVolume(600)
	if err != nil || math.Abs(float64(byVolume.Volume())-600) > 1e-9 || byVolume[SucroseGrams] != 500 {
		t.Errorf("%v ml with %v g of sugar, %v", byVolume.Volume(), byVolume[SucroseGrams], err)
	}
}

// Vinegar loses less acid than water: with a relative volatility of 0.7 half the
// water takes 1 - 0.5^0.7 = 38.4 % of the acid with it.
func TestVinegarLosesAcidOnTheWay(t *testing.T) {
	var vinegar State
	vinegar[AceticGrams], vinegar[WaterGrams] = 50, 950
	vinegar[TitratableAcidGrams] = 50 * 192.124 / 3 / 60.052
	vinegar[CarbonDioxideGrams] = 1
	s := vinegar
	for range 69 {
		s = s.boiledOff(0.01)
	}
	s = s.boiledOff(math.Ln2 - 0.69)
	if math.Abs(s[WaterGrams]-475) > 1e-9 || math.Abs(s[AceticGrams]-50*math.Pow(0.5, 0.7)) > 1e-9 {
		t.Errorf("%v g of water and %v g of acid are left", s[WaterGrams], s[AceticGrams])
	}
	if want := s[AceticGrams] * 192.124 / 3 / 60.052; math.Abs(s[TitratableAcidGrams]-want) > 1e-9 {
		t.Errorf("titrates %v g, its acetic acid %v", s[TitratableAcidGrams], want)
	}
	if got, err := vinegar.ReducedToVolume(500); err != nil || got[CarbonDioxideGrams] != 0 {
		t.Errorf("%v g of gas are left, %v", got[CarbonDioxideGrams], err)
	}
}

func TestReductionThatCannotBeIsRefused(t *testing.T) {
	var syrup State
	syrup[SucroseGrams], syrup[WaterGrams] = 500, 500
	for name, test := range map[string]struct {
		reduce func() (State, error)
		want   error
	}{
		"a larger volume":  {func() (State, error) { return syrup.ReducedToVolume(900) }, ErrReducedAlready},
		"a larger mass":    {func() (State, error) { return syrup.ReducedToMass(1001) }, ErrReducedAlready},
		"a lower Brix":     {func() (State, error) { return syrup.ReducedToBrix(49) }, ErrReducedAlready},
		"less than solids": {func() (State, error) { return syrup.ReducedToMass(499) }, ErrBoiledDry},
	} {
		if _, err := test.reduce(); !errors.Is(err, test.want) {
			t.Errorf("%s: %v, want %v", name, err, test.want)
		}
	}
}

// Nothing comes of nothing: each component falls or stays, and solids stay.
func TestReductionOnlyTakesAway(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var s State
		amount := rapid.Float64Range(0, 100)
		for c := range s[:firstMassless] {
			s[c] = amount.Draw(rt, "amount")
		}
		s[WaterGrams] += 200
		s[TitratableAcidGrams] = 100
		part := rapid.Float64Range(0.6, 0.99).Draw(rt, "part")
		got, err := s.ReducedToMass(Gram(part) * s.Mass())
		if err != nil {
			rt.Skip("too dry")
		}
		if math.Abs(float64(got.Mass())-part*float64(s.Mass())) > 1e-6 && got[CarbonDioxideGrams] != 0 {
			rt.Errorf("%v g, want %v", got.Mass(), part*float64(s.Mass()))
		}
		for c := range s[:firstMassless] {
			switch Component(c) {
			case WaterGrams, EthanolGrams, AceticGrams, CarbonDioxideGrams:
				if got[c] > s[c] {
					rt.Errorf("component %d rose from %v to %v", c, s[c], got[c])
				}
			default:
				if got[c] != s[c] {
					rt.Errorf("component %d went from %v to %v", c, s[c], got[c])
				}
			}
		}
	})
}
