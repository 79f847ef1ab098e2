package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestNothingButWaterAndHeatChangesOnIce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrink(t)
		f := d.Finish()
		for c := range f.State {
			want := d.Mix[c] + d.Top[c]
			switch Component(c) {
			case HeatJoules:
				continue
			case WaterGrams:
				want += float64(f.Water)
			}
			if !alike(f.State[c], want, 1e-14) {
				t.Errorf("component %d: %g, want %g", c, f.State[c], want)
			}
		}
		if want := d.Mix.Mass() + f.Water + d.Top.Mass(); !alike(float64(f.State.Mass()), float64(want), 1e-13) {
			t.Errorf("mass %g, want %g", f.State.Mass(), want)
		}
		if f.Water < 0 {
			t.Errorf("%g g of water", f.Water)
		}
	})
}

// A mix above 0 °C can only lose heat to ice, as the water that melts holds
// none at 0 °C.
func TestIceNeverWarmsADrink(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrink(t)
		f := d.Finish()
		before := d.Mix[HeatJoules] + d.Top[HeatJoules]
		if f.State[HeatJoules] > before+1e-9*math.Abs(before) {
			t.Errorf("%g J before, %g J after", before, f.State[HeatJoules])
		}
		if d.Ice.Method == NoIce && !alike(f.State[HeatJoules], before, 1e-14) {
			t.Errorf("%g J before, %g J after without ice", before, f.State[HeatJoules])
		}
		floor := float64(f.State.FreezingPoint())
		if float64(f.Temperature) < floor-1e-9*(1+math.Abs(floor)) {
			t.Errorf("liquid at %g °C freezes at %g °C", f.Temperature, floor)
		}
	})
}

func TestOrderOfMixingDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pours []State
		for range rapid.IntRange(2, 6).Draw(t, "pours") {
			pours = append(pours, drawPour(t, "pour", 0.5, 30))
		}
		ice := drawIce(t)
		mixed := func(order []State) Values {
			var d Drink
			d.Ice = ice
			for _, pour := range order {
				d.Mix = d.Mix.Add(pour)
			}
			return d.Finish().Values
		}
		one, other := mixed(pours), mixed(rapid.Permutation(pours).Draw(t, "order"))
		expectAlike(t, &one, &other, roundOff)
	})
}

func TestHalvesOfAPourMakeThePour(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrink(t)
		pour := drawPour(t, "pour", 0.5, 30)
		whole, halves := d, d
		whole.Mix = d.Mix.Add(pour)
		half := pour.Scale(0.5)
		halves.Mix = d.Mix.Add(half).Add(half)
		one, other := whole.Finish().Values, halves.Finish().Values
		expectAlike(t, &one, &other, roundOff)
	})
}

// extensive are the properties that double when the drink does.
var extensive = map[Property]bool{Volume: true, Ethanol: true, Energy: true, Caffeine: true}

func TestTwiceTheDrinkIsTheSameDrink(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrink(t)
		factor := rapid.Float64Range(0.1, 100).Draw(t, "factor")
		scaled := Drink{Mix: d.Mix.Scale(factor), Top: d.Top.Scale(factor), Ice: d.Ice}
		scaled.Ice.Mass *= Gram(factor)
		one, many := d.Finish(), scaled.Finish()
		if off := math.Abs(float64(many.Water) - factor*float64(one.Water)); off > 1e-12*float64(scaled.Mix.Mass()) {
			t.Errorf("melt %g g, want %g times %g", many.Water, factor, one.Water)
		}
		for p := range one.Values {
			want := one.Values[p]
			if extensive[Property(p)] {
				want *= factor
			}
			if !alike(many.Values[p], want, 1e-11) {
				t.Errorf("%s: %g, want %g", Property(p).Name(), many.Values[p], want)
			}
		}
	})
}

// Doubling is exact in binary, so on ample ice it changes no bit of a ratio but
// those of numbers too small for all their digits.
func TestDoublingIsExact(t *testing.T) {
	const denormal = 1e-300
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrink(t)
		d.Ice.Mass = 0
		one := d.Finish()
		d.Mix, d.Top = d.Mix.Scale(2), d.Top.Scale(2)
		two := d.Finish()
		if !alike(float64(two.Water), 2*float64(one.Water), denormal) {
			t.Errorf("melt %g g, want twice %g", two.Water, one.Water)
		}
		for p := range one.Values {
			want := one.Values[p]
			if extensive[Property(p)] {
				want *= 2
			}
			if !alike(two.Values[p], want, denormal) {
				t.Errorf("%s: %g, want %g", Property(p).Name(), two.Values[p], want)
			}
		}
	})
}

func TestEthanolAndWaterContract(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ml := Millilitre(rapid.Float64Range(1, 500).Draw(t, "ethanol ml"))
		ethanol := ethanolWater(ml, 100)
		grams := rapid.Float64Range(1, 500).Draw(t, "water grams")
		mixed, apart := ethanol.Add(water(grams)).Volume(), ethanol.Volume()+water(grams).Volume()
		if mixed >= apart {
			t.Errorf("%g ml apart, %g ml together", apart, mixed)
		}
	})
	fifty := ethanolWater(50, 100).Add(ethanolWater(50, 0))
	if v := fifty.Volume(); v >= 97 {
		t.Errorf("50 ml of ethanol and 50 ml of water make %g ml; want less than 97", v)
	}
}
