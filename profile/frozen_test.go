package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// ethanolInWater is 100 g of a mixture of p grams of ethanol per gram.
func ethanolInWater(p float64) State {
	var s State
	s[EthanolGrams], s[WaterGrams] = 100*p, 100*(1-p)
	return s
}

// The lever rule by hand from the freezing points of the CRC Handbook of
// Chemistry and Physics, 102nd ed. (2021): 28 % by mass freezes at -18.43 °C,
// 24 % at -14.47 °C, 30 % at -20.47 °C. Of 20 % by mass, (28 - 20)/28 of it is
// ice at -18.43 °C: 28.6 %; and so on.
func TestFrozenPartFollowsTheLeverRule(t *testing.T) {
	for _, c := range []struct {
		mass float64
		at   Celsius
		ice  float64 // g of 100 g
	}{
		{0.20, -18.43, 100 * (28.0 - 20) / 28},
		{0.10, -18.43, 100 * (28.0 - 10) / 28},
		{0.10, -14.47, 100 * (24.0 - 10) / 24},
		{0.24, -20.47, 100 * (30.0 - 24) / 30},
		{0.28, -18, 0}, // freezes at -18.43 °C
		{0.30, -18, 0}, // 36 % vol
		{0.36, -18, 0}, // 43 % vol
		{0.05, -2, 0},  // freezes at -2.09 °C
	} {
		if got := float64(ethanolInWater(c.mass).FrozenAt(c.at)); math.Abs(got-c.ice) > 0.1 {
			t.Errorf("%g %% by mass at %g °C: %.2f g of ice in 100 g, want %.2f", 100*c.mass, float64(c.at), got, c.ice)
		}
	}
}

func TestWhatIsLeftOfAFrozenDrinkFreezesWhereItStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawPour(t, "pour", 0, 20)
		at := Celsius(rapid.Float64Range(-40, 0).Draw(t, "freezer"))
		ice := float64(s.FrozenAt(at))
		if ice < 0 || ice > s[WaterGrams] {
			t.Fatalf("%g g of ice out of %g g of water", ice, s[WaterGrams])
		}
		if (ice == 0) != (s.FreezingPoint() <= at) {
			t.Fatalf("%g g of ice at %g °C, freezing from %g °C", ice, float64(at), float64(s.FreezingPoint()))
		}
		s[WaterGrams] -= ice
		if left := s.FreezingPoint(); ice > 0 && math.Abs(float64(left-at)) > 1e-6 {
			t.Fatalf("what is left freezes at %g °C, not at %g °C", float64(left), float64(at))
		}
	})
}
