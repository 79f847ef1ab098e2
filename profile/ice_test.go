package profile

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Latent heat and heat capacity of ice: CRC Handbook of Chemistry and Physics
// (2021), 6.010 kJ/mol; 2.10 J/(g K) at 0 °C and 2.03 at -10 °C, the latter from
// memory.
const (
	fusion    = 333.55 // J/g
	iceKelvin = 2.09   // J/(g K)
)

// atRest returns melt and heat of the drink at equilibrium with its ice.
func atRest(d *Drink) (melt, heat float64) {
	e := d.Ice.equilibrium(&d.Mix, false)
	return e.water, e.heat
}

// Heat of liquid and ice, above liquid water at 0 °C, is the same before and
// after, and where ice is left the liquid is at its freezing point.
func TestEnergyBalanceCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Drink{Mix: drawPour(t, "mix", 0.5, 60)}
		d.Ice.Method = rapid.SampledFrom([]Method{Build, Stir}).Draw(t, "method")
		d.Ice.Mass = Gram(rapid.Float64Range(1, 300).Draw(t, "ice"))
		d.Ice.At = Celsius(rapid.Float64Range(-25, 0).Draw(t, "ice temperature"))
		melt, heat := atRest(&d)
		ice, start := float64(d.Ice.Mass), d.Mix[HeatJoules]
		liquid := d.Mix.Add(water(melt))
		freezing := liquid.FreezingPoint()
		before := start + ice*(iceKelvin*float64(d.Ice.At)-fusion)
		if melt > ice*(1-1e-9) {
			if !alike(heat, before, 1e-10) {
				t.Errorf("all %g g melt: %g J before, %g J after", ice, before, heat)
			}
			if floor := float64(liquid.HeatAt(freezing)); heat < floor-1e-6*math.Abs(floor) {
				t.Errorf("all %g g melt, yet the liquid holds %g J, less than %g J at its freezing point", ice, heat, floor)
			}
			return
		}
		if want := float64(liquid.HeatAt(freezing)); !alike(heat, want, 1e-10) {
			t.Errorf("ice left: liquid of %g J, want %g J at its freezing point %g °C", heat, want, freezing)
		}
		if melt == 0 {
			return // the ice is too cold to melt, and would freeze part of the drink
		}
		after := heat + (ice-melt)*(iceKelvin*float64(freezing)-fusion)
		if !alike(after, before, 1e-10) {
			t.Errorf("%g of %g g melt: %g J before, %g J after", melt, ice, before, after)
		}
	})
}

func TestIceTooColdToMeltGivesNoWater(t *testing.T) {
	for m := Build; m < Method(methods); m++ {
		mix := ethanolWater(90, 30)
		d := Drink{Mix: at(mix, mix.FreezingPoint()+1), Ice: Ice{Method: m, At: -40}}
		f := d.Finish()
		if f.Water != 0 || f.Values[Dilution] != 0 {
			t.Errorf("%s: %g g of water", m.Name(), f.Water)
		}
		freezing := mix.FreezingPoint()
		if m.WaterPerMelt() >= 1 && !alike(float64(f.Temperature), float64(freezing), 1e-12) {
			t.Errorf("%s: %g °C, want the freezing point %g", m.Name(), f.Temperature, freezing)
		}
		if m.WaterPerMelt() < 1 && (f.Temperature <= freezing || f.Temperature >= freezing+1) {
			t.Errorf("%s: %g °C, want between the freezing point %g and one above", m.Name(), f.Temperature, freezing)
		}
	}
}

func TestNoMoreWaterThanIce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrink(t)
		d.Ice.WaterFixed = false
		d.Ice.Mass = Gram(rapid.Float64Range(0.1, 60).Draw(t, "little ice"))
		if w := d.Finish().Water; w > d.Ice.Mass {
			t.Errorf("%g g of water from %g g of ice", w, d.Ice.Mass)
		}
	})
}

func TestFixedWaterIsTheDilution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDrink(t)
		d.Ice.Method = Stir
		d.Ice.WaterFixed = true
		d.Ice.WaterPercent = rapid.Float64Range(0, 150).Draw(t, "water percent")
		f := d.Finish()
		if !alike(f.Values[Dilution], d.Ice.WaterPercent, 1e-13) {
			t.Errorf("dilution %g %%, want %g", f.Values[Dilution], d.Ice.WaterPercent)
		}
		ml := float64(water(float64(f.Water)).Volume())
		if want := d.Ice.WaterPercent / 100 * float64(d.Mix.Volume()); !alike(ml, want, 1e-7) {
			t.Errorf("%g ml of water, want %g", ml, want)
		}
	})
}

// Ice at 0 °C brings its surface water, ice below it is dry.
func TestSurfaceWaterComesWithWetIce(t *testing.T) {
	mix := ethanolWater(100, 25)
	for _, ice := range []Ice{{Method: Stir}, {Method: Shake, Mass: 150}, {Method: Build, At: -5}} {
		d := Drink{Mix: at(mix, 20), Ice: ice}
		e := d.Ice.equilibrium(&d.Mix, false)
		grams := 2 * float64(mix.Mass())
		if ice.Mass > 0 {
			grams = float64(ice.Mass)
		}
		want := ice.Method.WaterPerMelt() * e.water
		if ice.At == 0 {
			want += SurfaceWater * grams
		}
		if got := float64(d.Finish().Water); !alike(got, want, 1e-12) {
			t.Errorf("%s with ice at %g °C: %g g of water, want %g", ice.Method.Name(), ice.At, got, want)
		}
	}
}

// A temperature that lies between the mix and its equilibrium is reached, by as
// much melt as the heat asks for, whatever the method; beyond, the nearer end.
func TestFixedTemperatureIsReached(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Drink{Mix: at(drawPour(t, "mix", 0.5, 30), 20)}
		d.Ice = Ice{Method: rapid.SampledFrom([]Method{Build, Stir, Shake, Blend}).Draw(t, "method"), TemperatureFixed: true}
		d.Ice.Temperature = Celsius(rapid.Float64Range(-20, 25).Draw(t, "to"))
		coldest := d
		coldest.Ice.Temperature = -100
		warmest := d
		warmest.Ice.Temperature = 100
		low, high := coldest.Finish(), warmest.Finish()
		f := d.Finish()
		want := min(max(d.Ice.Temperature, low.Temperature), high.Temperature)
		if !alike(float64(f.Temperature), float64(want), 1e-9) {
			t.Errorf("%g °C, want %g between %g and %g", f.Temperature, want, low.Temperature, high.Temperature)
		}
		if f.Water < high.Water-1e-9 || f.Water > low.Water+1e-9 {
			t.Errorf("%g g of water, want %g to %g", f.Water, high.Water, low.Water)
		}
	})
}

// The cold end of the way to equilibrium is no colder than the drink's freezing
// point, so that its heat content is no less than the one which it has there, and
// no temperature asked for beside it comes out colder. Source: a liquid with ice in
// it is at its freezing point.
func TestFixedTemperatureOutOfReachIsNotBelowTheFreezingPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Drink{Mix: drawPour(t, "mix", 0.5, 30), Ice: Ice{Method: Stir, TemperatureFixed: true, Temperature: -100}}
		end := d.Finish()
		freezing := end.State.FreezingPoint()
		if has, want := end.State[HeatJoules], float64(end.State.HeatAt(freezing)); has < want-1e-9*max(1, math.Abs(want)) {
			t.Errorf("%g J, want at least %g, that at the freezing point %g", has, want, freezing)
		}
		d.Ice.Temperature = end.Temperature + Celsius(rapid.Float64Range(-0.1, 0.1).Draw(t, "beside the end"))
		if f := d.Finish(); float64(f.Temperature) < float64(end.Temperature)-1e-9 || f.Water > end.Water+1e-9 {
			t.Errorf("%g °C with %g g of water, colder or wetter than the end, %g with %g", f.Temperature, f.Water, end.Temperature, end.Water)
		}
	})
}

// The methods that melt more than equilibrium leave the drink at its freezing
// point if ice is left, as every drink in contact with ice and stirred for long.
func TestHardShakenDrinksFreeze(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Drink{Mix: drawPour(t, "mix", 0.5, 30)}
		d.Ice.Method = rapid.SampledFrom([]Method{Shake, Blend}).Draw(t, "method")
		f := d.Finish()
		if freezing := f.State.FreezingPoint(); !alike(float64(f.Temperature), float64(freezing), 1e-9) {
			t.Errorf("%g °C, want the freezing point %g", f.Temperature, freezing)
		}
	})
}

func TestWarmerMixesAndWarmerIceMeltMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mix := drawPour(t, "mix", 0.5, 20)
		ice := Ice{Method: Stir, At: Celsius(rapid.Float64Range(-10, -1).Draw(t, "ice temperature"))}
		melt := func(mix State, ice Ice) Gram {
			d := Drink{Mix: mix, Ice: ice}
			return d.Finish().Water
		}
		first := melt(mix, ice)
		warm := mix
		warm[HeatJoules] += 500
		if second := melt(warm, ice); second < first || second == first && first > 0 {
			t.Errorf("%g g melt, %g g in a warmer mix", first, second)
		}
		ice.At++
		if second := melt(mix, ice); second < first || second == first && first > 0 {
			t.Errorf("%g g melt, %g g from warmer ice", first, second)
		}
	})
}

func TestTemperatureUndoesHeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawPour(t, "pour", 0, 30)
		want := rapid.Float64Range(float64(s.FreezingPoint()), 90).Draw(t, "temperature")
		heat := float64(s.HeatAt(Celsius(want)))
		if alone := at(s, Celsius(want)).TemperatureAlone(); !alike(float64(alone), want, 1e-12) {
			t.Errorf("alone at %g °C, want %g", alone, want)
		}
		if frozen := at(s, s.FreezingPoint()-5).TemperatureAlone(); frozen != s.FreezingPoint() {
			t.Errorf("alone and too cold at %g °C, want the freezing point %g", frozen, s.FreezingPoint())
		}
		if got := s.temperatureOf(heat); !alike(got, want, 1e-12) {
			t.Errorf("%g °C, want %g", got, want)
		}
		_, capacity := s.heatContent(want, nil)
		above, _ := s.heatContent(want+1e-3, nil)
		below, _ := s.heatContent(want-1e-3, nil)
		if differences := (above - below) / 2e-3; !alike(capacity, differences, 1e-6) {
			t.Errorf("heat capacity %g J/K, differences %g", capacity, differences)
		}
	})
	var none State
	if got := none.temperatureOf(100); got != 0 {
		t.Errorf("heat in nothing is at %g °C", got)
	}
}

// Ethanol and water warm when they are mixed. Source: excess enthalpy at 25 °C
// of -0.77 kJ/mol at 15 mol % (Larkin 1975, from memory), -0.717 at 20 mol %
// (second-hand); mixing 15 mol of ethanol and 85 of water at 25 °C frees 77 kJ,
// which warms the 2222 g, at 4.3 J/(g K), by 8 K.
func TestMixingEthanolAndWaterWarms(t *testing.T) {
	for _, c := range []struct{ mol, kilojoulesPerMole float64 }{{0.15, -0.77}, {0.20, -0.717}} {
		ethanol, water := at(State{EthanolGrams: 46.069 * c.mol}, 25), at(State{WaterGrams: 18.015 * (1 - c.mol)}, 25)
		mixed := ethanol.Add(water)
		together := mixed
		together[HeatJoules] = float64(together.HeatAt(25))
		freed := mixed[HeatJoules] - together[HeatJoules]
		if want := -1000 * c.kilojoulesPerMole; math.Abs(freed-want) > 0.06*want {
			t.Errorf("%g mol: %g J freed, want %g", c.mol, freed, want)
		}
		if warm := mixed.TemperatureAlone(); warm < 30 || warm > 35 {
			t.Errorf("%g mol: mixing at 25 °C gives %g °C", c.mol, warm)
		}
	}
}

func TestFreezingPointWithLittleOrNoWater(t *testing.T) {
	const pureEthanol = -114.1 // CRC Handbook (2021)
	for name, s := range map[string]State{
		"nothing":               {},
		"ethanol":               {EthanolGrams: 10},
		"sugar":                 {SucroseGrams: 10},
		"sugar and a drop":      {SucroseGrams: 100, WaterGrams: 0.1},
		"salt and a trace":      {SodiumMilligrams: 4000, WaterGrams: 1e-300},
		"ethanol, sugar, trace": {EthanolGrams: 10, SucroseGrams: 10, WaterGrams: 1e-9},
	} {
		var slopes State
		if got := s.freezingPoint(&slopes); got != pureEthanol {
			t.Errorf("%s: %g °C, want %g", name, got, pureEthanol)
		}
		if slopes != (State{}) {
			t.Errorf("%s: slopes %v at the floor", name, slopes)
		}
	}
	if got := water(1).FreezingPoint(); got != 0 {
		t.Errorf("water freezes at %g °C", got)
	}
}

// A depression counts particles: a millimole of sodium is one of potassium.
func TestSaltsLowerTheFreezingPointByMoles(t *testing.T) {
	salty, bitter := water(100), water(100)
	salty[SodiumMilligrams] = 22.990 * 40
	bitter[PotassiumMilligrams] = 39.098 * 40
	if one, other := salty.FreezingPoint(), bitter.FreezingPoint(); !alike(float64(one), float64(other), 1e-12) {
		t.Errorf("%g °C with sodium, %g with potassium", one, other)
	}
}
