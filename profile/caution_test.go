package profile

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// serve is a finished drink of so many grams of each, without ice.
func serve(s State) Finished {
	d := Drink{Top: s}
	return d.Finish()
}

// ofStrength is 100 ml of ethanol and water of that strength.
func ofStrength(percent float64) State {
	low, high := 0.0, 1.0
	for range 100 {
		p := (low + high) / 2
		if f := serve(State{WaterGrams: 1 - p, EthanolGrams: p}); f.Values[Strength] < percent {
			low = p
		} else {
			high = p
		}
	}
	s := State{WaterGrams: 1 - low, EthanolGrams: low}
	return s.Scale(100 / float64(s.Volume()))
}

// with is a state with one component more.
func with(s State, c Component, amount float64) State {
	s[c] += amount
	return s
}

// ofPH is 100 ml of water with strong acid or base to that pH: at 25 °C a strong
// acid of 10^-pH mol/L, its activity taken as its molarity, 0.003 off at pH 4.6
// (Davies equation).
func ofPH(ph float64) State {
	return with(water(100), StrongChargeMilliequivalents, -0.1*1000*math.Pow(10, -ph))
}

// Each caution stands at the composition beyond its limit, and not at the one
// just inside it.
func TestEachCautionBeginsAtItsLimit(t *testing.T) {
	drink := func(s State) []Caution { f := serve(s); return f.Cautions() }
	keeping := func(measured float64) func(State) []Caution {
		return func(s State) []Caution { return s.KeepingCautions(measured, "") }
	}
	quinine := func(milligrams float64) func(State) []Caution {
		return func(s State) []Caution { return QuinineCautions(&s, Milligram(milligrams)) }
	}
	for _, c := range []struct {
		key             string
		given, not      func(State) []Caution
		beyond, justNot State
		source          string
	}{
		{"alcohol-words", drink, drink, ofStrength(0.49), ofStrength(0.51), "0.5 % vol, from memory"},
		{"alcohol-words", drink, drink, ofStrength(0.001), water(100), "alcohol-free is 0.0 % vol in the strictest countries, from memory"},
		{"strength-label", drink, drink, ofStrength(1.19), ofStrength(1.21), "Regulation (EU) 1169/2011, Article 16(4): 1.2 % vol"},
		{"caffeine-label", drink, drink, with(water(99.82), CaffeineMilligrams, 15.01), with(water(99.82), CaffeineMilligrams, 14.99), "Regulation (EU) 1169/2011, Annex III: 150 mg/L; water 0.9982 g/ml"},
		{"caffeine-serve", drink, drink, with(water(2000), CaffeineMilligrams, 200.1), with(water(2000), CaffeineMilligrams, 200), "EFSA 2015: 200 mg"},
		{"quinine-limit", quinine(8.301), quinine(8.299), State{WaterGrams: 100}, State{WaterGrams: 100}, "21 CFR 172.575: 83 mg/kg"},
		{
			"strong-acid", State.HandlingCautions, State.HandlingCautions,
			State{WaterGrams: 90, CitricGrams: 10},
			State{WaterGrams: 92, AceticGrams: 8},
			"common practice, no source: above the strongest vinegar, and phosphoric acid of 10 % is one",
		},
		{"high-proof", State.HandlingCautions, State.HandlingCautions, ofStrength(50.1), ofStrength(50), "common practice, no source"},
		{"simmered-alcohol", State.SimmeringCautions, State.SimmeringCautions, ofStrength(0.51), ofStrength(0.49), "common practice, no source; 0.5 % vol from memory"},
		{"low-acid", keeping(4.61), keeping(4.6), water(100), water(100), "21 CFR 114.3: pH 4.6"},
		{"low-acid", keeping(0), keeping(0), ofPH(4.62), ofPH(4.58), "21 CFR 114.3: pH 4.6"},
		{
			"low-acid", keeping(6), keeping(6),
			State{WaterGrams: 38, SucroseGrams: 62},
			State{WaterGrams: 31, SucroseGrams: 69},
			"21 CFR 114.3: water activity 0.85, that of a saturated sucrose solution, 66.7 % at 20 °C, within 0.01 (from memory)",
		},
		{
			"low-acid", keeping(6), keeping(6),
			with(water(100), SodiumMilligrams, 3800), with(water(100), SodiumMilligrams, 4100),
			"common practice, no source: 100 g/L of salt, 39.3 g of sodium, in 0.1 litre and some more",
		},
		{"low-acid", keeping(6), keeping(6), ofStrength(0.49), ofStrength(0.51), "the rule leaves alcoholic drinks out; 0.5 % vol from memory"},
	} {
		if !has(c.given(c.beyond), c.key) {
			t.Errorf("%s is not given beyond its limit (%s)", c.key, c.source)
		}
		for _, one := range c.given(c.beyond) {
			if one.Title == "" || one.Text == "" || one.Rule == "" {
				t.Errorf("%s lacks its title, text or rule: %q", one.Key, one.String())
			}
		}
		if has(c.not(c.justNot), c.key) {
			t.Errorf("%s is given inside its limit (%s)", c.key, c.source)
		}
	}
}

func has(cautions []Caution, key string) bool {
	return slices.ContainsFunc(cautions, func(c Caution) bool { return c.Key == key })
}

// The worked coffee drink: 30 ml of 200 mg in 100 ml are 60 mg, in 180 ml
// 333 mg/L. By hand.
func TestCaffeineOfACoffeeDrink(t *testing.T) {
	f := serve(with(water(180), CaffeineMilligrams, 60))
	all := f.Cautions()
	if len(all) != 1 || all[0].Key != "caffeine-label" {
		t.Fatalf("cautions %v, expected caffeine-label alone", all)
	}
	if want := "(333)"; !strings.Contains(all[0].Text, want) {
		t.Errorf("%q, expected %s mg a litre", all[0].Text, want)
	}
}

func TestNothingCallsForNothing(t *testing.T) {
	var empty State
	f := serve(empty)
	if all := slices.Concat(f.Cautions(), empty.HandlingCautions(), empty.KeepingCautions(0, "")); len(all) > 0 {
		t.Errorf("an empty glass calls for %v", all)
	}
}

// Where ice and liquid meet they have the same vapour pressure, so that the
// water activity of what freezes there is that of ice over that of supercooled
// water.
func TestWaterActivityIsThatOfIceAtTheFreezingPoint(t *testing.T) {
	for _, c := range []struct {
		name      string
		s         State
		want, off float64
		source    string
	}{
		{"freezes at -10 °C", frozenAt(-10), 259.9 / 286.3, 0.001, "vapour pressures in Pa over ice and water, meteorological tables, from memory"},
		{"freezes at -20 °C", frozenAt(-20), 103.2 / 125.4, 0.001, "vapour pressures in Pa over ice and water, meteorological tables, from memory"},
		{"sucrose, 1 mol/kg", State{WaterGrams: 1000, SucroseGrams: 342.3}, 0.9806, 0.002, "Robinson & Stokes, Electrolyte Solutions (1965), from memory"},
		{"sodium chloride 10 %", State{WaterGrams: 90, SodiumMilligrams: 3934, OtherSolidsGrams: 6.066}, 0.935, 0.004, "Robinson & Stokes (1965), osmotic coefficient 0.98 at 1.9 mol/kg, from memory"},
		{"sodium chloride, saturated", State{WaterGrams: 1000, SodiumMilligrams: 6.146 * 22990}, 0.753, 0.003, "Greenspan (1977), saturated salt at 25 °C, from memory"},
		{
			"sodium chloride 3 mol/kg in sucrose 1 mol/kg",
			State{WaterGrams: 1000, SodiumMilligrams: 3 * 22990, SucroseGrams: 342.3},
			0.8932 * 0.9806, 0.003,
			"product by Ross (1975) of 0.8932 and 0.9806, Robinson & Stokes (1965), from memory",
		},
		{"sucrose, saturated", State{WaterGrams: 33.3, SucroseGrams: 66.7}, 0.85, 0.015, "saturated sucrose solution, from memory"},
		{"water", State{WaterGrams: 1}, 1, 1e-12, "definition"},
		{"sugar without water", State{SucroseGrams: 1}, 0, 0, "definition"},
	} {
		if got := c.s.WaterActivity(); math.Abs(got-c.want) > c.off {
			t.Errorf("%s: water activity %.4f, expected %.4f ± %g (%s)", c.name, got, c.want, c.off, c.source)
		}
	}
}

// frozenAt is glycerol in water that freezes at t.
func frozenAt(t float64) State {
	low, high := 0.0, 3000.0
	for range 100 {
		grams := (low + high) / 2
		s := State{WaterGrams: 1000, PolyolsGrams: grams}
		if float64(s.FreezingPoint()) > t {
			low = grams
		} else {
			high = grams
		}
	}
	return State{WaterGrams: 1000, PolyolsGrams: low}
}
