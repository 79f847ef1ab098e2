package solver

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// reachOf finds the ranges of a spec given as text.
func reachOf(t testing.TB, text string, shelf *pantry.Shelf) *Reachable {
	t.Helper()
	r, err := Reach(Question{Spec: readSpec(t, text), Shelf: shelf})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return r
}

// rangeOf is the range of one property.
func rangeOf(t testing.TB, r *Reachable, p profile.Property) *PropertyReach {
	t.Helper()
	for i := range r.Ranges {
		if r.Ranges[i].Property == p {
			return &r.Ranges[i]
		}
	}
	t.Fatalf("no range of %s", p.Name())
	return nil
}

// A syrup of 60 % by weight and water, without ice. Densities at 20 °C of sucrose
// solutions from the CRC Handbook, 102nd ed. (2021), Concentrative properties of
// aqueous solutions: 1.1270 at 30 %, 1.2295 at 50 %, 1.2864 at 60 %; water 0.9982.
//
//   - The least: 50 ml of syrup weigh 64.32 g and hold 38.59 g of sucrose; 64.44 ml
//     of water weigh 64.32 g. Together 128.64 g of 30 %, 0.30 × 1127.0 = 338.1 g/L.
//   - The greatest: 250 ml weigh 321.6 g with 192.96 g of sucrose; together 385.92 g
//     of 50 %, 0.50 × 1229.5 = 614.8 g/L.
//
// The tables differ by 0.05 % in density (those of ICUMSA by 0.2 kg/m³ at 60 %),
// and so does the hand calculation.
func TestSugarOfASyrupGoesAsFarAsTheTablesSay(t *testing.T) {
	shelf, err := pantry.Embedded().Overlay(strings.NewReader(
		"name,category,density_g_per_ml,abv_percent,sucrose_g_per_l,source\nsixty syrup,syrup,1.2864,0,771.84,made up\n"), "syrup.csv")
	if err != nil {
		t.Fatal(err)
	}
	r := reachOf(t, `
mix:
  sixty syrup: 50..250 ml
  water: 64.44 ml
`, shelf)
	sugar := rangeOf(t, r, profile.Sugar)
	near(t, "least sugar", sugar.Alone.Least.Value, 338.1, 0.0005*338.1)
	near(t, "greatest sugar", sugar.Alone.Greatest.Value, 614.8, 0.0005*614.8)
	for _, end := range []struct {
		end    *End
		kind   string
		amount float64
	}{{&sugar.Alone.Least, "least", 50}, {&sugar.Alone.Greatest, "most", 250}} {
		if len(end.end.Stops) != 1 || end.end.Stops[0].Kind != end.kind || end.end.Stops[0].Name != "sixty syrup" {
			t.Errorf("stopped by %+v, want sixty syrup at its %s", end.end.Stops, end.kind)
		}
		near(t, "sixty syrup", amounts(end.end.Pours)["sixty syrup"], end.amount, 1e-9)
	}
}

// Spirit and water. Strengths of mixtures by OIML R 22 (1975) at 20 °C, masses
// adding: 60 ml of 40 % and 60 ml of water are 20.01 % vol, with 30 ml of water
// 26.71 % vol. Ethanol is 0.789239 g/ml (OIML R 22) × 40 % of the spirit: 60 ml
// hold 18.94 g, 45 ml 14.21 g.
func TestStrengthOfSpiritAndWaterGoesAsFarAsTheTablesSay(t *testing.T) {
	r := reachOf(t, `
mix:
  vodka: 60 ml
  water: 30..60 ml
`, pantry.Embedded())
	strength := rangeOf(t, r, profile.Strength)
	near(t, "least strength", strength.Alone.Least.Value, 20.01, 0.01)
	near(t, "greatest strength", strength.Alone.Greatest.Value, 26.71, 0.01)

	r = reachOf(t, `
mix:
  vodka: 45..60 ml
  water: 30 ml
`, pantry.Embedded())
	ethanol := rangeOf(t, r, profile.Ethanol)
	near(t, "least ethanol", ethanol.Alone.Least.Value, 45*0.4*0.789239, 0.002)
	near(t, "greatest ethanol", ethanol.Alone.Greatest.Value, 60*0.4*0.789239, 0.002)
}

// Held within one JND. By hand from J(c) = asinh(k c / T) / k with T = 0.60 % vol
// and k = 0.10: J(20) = asinh(10/3)/0.1 = 19.1890; one JND less and more is 18.0085
// and 22.1917 % vol. The volume is held from 78.4 to 81.6 ml, 2 % of 80. Ethanol,
// 0.789239 g/ml (OIML R 22), is then between 78.4 × 0.180085 × 0.789239 = 11.143 g
// and 81.6 × 0.221917 × 0.789239 = 14.292 g.
func TestHeldTargetsAreHeldWithinOneJND(t *testing.T) {
	r := reachOf(t, `
mix:
  vodka: open
  water: open
target:
  volume: 80 ml
  abv: 20 %
`, pantry.Embedded())
	ethanol := rangeOf(t, r, profile.Ethanol)
	near(t, "least ethanol held", ethanol.Held.Least.Value, 11.143, 0.002)
	near(t, "greatest ethanol held", ethanol.Held.Greatest.Value, 14.292, 0.002)
	for _, s := range slices.Concat(ethanol.Held.Least.Stops, ethanol.Held.Greatest.Stops) {
		if s.Kind != "held" {
			t.Errorf("stopped by %+v, want the targets held", s)
		}
	}
	// A target is not held for its own range: 40 % vol is vodka with the least of
	// water, 2.5 ml, in 81.6 ml.
	strength := rangeOf(t, r, profile.Strength)
	if strength.Held.Greatest.Value < 38 || strength.Held.Greatest.Value > 40 {
		t.Errorf("strength goes up to %v with the volume held", strength.Held.Greatest.Value)
	}
	// A ± that was written replaces the JND: 20 ± 0.5 % vol, so ethanol is at least
	// 78.4 × 0.195 × 0.789239 = 12.066 g.
	r = reachOf(t, `
mix:
  vodka: open
  water: open
target:
  volume: 80 ml
  abv: 20 % ± 0.5
`, pantry.Embedded())
	near(t, "least ethanol within the ±", rangeOf(t, r, profile.Ethanol).Held.Least.Value, 12.066, 0.002)
}

// reachQuestions are of every form: with and without ice, topped, with ratios, a
// glass, limits, bands, powders, dashes and pours that may be none.
var reachQuestions = []string{eightOpen, `
glass: 160 ml
ice: shake
mix:
  dry gin: 30..50 ml
  lemon juice: open
  rich syrup: optional
  egg white: 1 piece
target:
  volume: 150 ml
  abv: 11.5 %
  sugar: 65..75 g/L
  acid: 7.5 g/L
`, `
glass: 120 ml
ice: stir
mix:
  aquavit: open
  amontillado: open
  light amaro: open
  demerara syrup: optional
  orange bitters: 1..3 dashes
  water: optional
target:
  volume: 95 ml
  abv: 23 %
  sugar: 30 g/L
  bitter: 18 mg/L
ratio:
  aquavit: amontillado
  is: 1..3
`, `
glass: 300 ml
ice: shake
mix:
  vodka: 30..45 ml
  tomato juice: 20..90 ml
  lemon juice: open
  fine salt: optional
top:
  soda water: open
target:
  volume: 240 ml
  abv: 7 %
  acid: 4.5 g/L
  salt: 1.2 g/L
  ph: at least 2.9
  umami: at most 2 g/L
`, `
mix:
  dry gin: 30..60 ml
  lime juice: optional 20..30 ml
  rich syrup: optional 5..10 ml
  water: 20 ml
ratio:
  lime juice: rich syrup
  is: 1..4
`}

func TestHeldRangesLieInsideThoseAlone(t *testing.T) {
	for _, text := range reachQuestions {
		held := 0
		for _, one := range reachOf(t, text, pantry.Embedded()).Ranges {
			if one.Held == nil {
				continue
			}
			held++
			room := 1e-6 * (1 + math.Abs(one.Alone.Least.Value) + math.Abs(one.Alone.Greatest.Value))
			if one.Held.Least.Value < one.Alone.Least.Value-room || one.Held.Greatest.Value > one.Alone.Greatest.Value+room ||
				one.Held.Least.Value > one.Held.Greatest.Value+room {
				t.Errorf("%s: held from %v to %v, alone from %v to %v\n%s", one.Property.Name(), one.Held.Least.Value,
					one.Held.Greatest.Value, one.Alone.Least.Value, one.Alone.Greatest.Value, text)
			}
		}
		if held == 0 {
			t.Errorf("nothing is held in\n%s", text)
		}
	}
}

// Where a drink on the measures has every target within one JND, that drink keeps
// the others held, so that what it has of each lies in the range held.
func TestWhatADesignedDrinkHasLiesInTheHeldRange(t *testing.T) {
	seen := 0
	for _, text := range reachQuestions[:4] {
		answer := ask(t, text)
		r := reachOf(t, text, pantry.Embedded())
		met := true
		for i := range answer.Misses {
			m := &answer.Misses[i]
			met = met && math.Abs(m.JND) <= 1 && (m.Property != profile.Volume || math.Abs(m.Off) <= 0.02*m.Low)
		}
		if !met {
			continue
		}
		for i := range answer.Misses {
			m := &answer.Misses[i]
			seen++
			one := rangeOf(t, r, m.Property)
			if one.Held == nil || m.Got < one.Held.Least.Value-1e-6 || m.Got > one.Held.Greatest.Value+1e-6 {
				t.Errorf("%s is %v in the drink, held range %+v\n%s", m.Property.Name(), m.Got, one.Held, text)
			}
			if m.Low < one.Held.Least.Value-1e-6 && m.JND == 0 {
				t.Errorf("%s from %v is met but below the held range", m.Property.Name(), m.Low)
			}
		}
	}
	if seen < 8 {
		t.Errorf("%d targets looked at, expected eight or more", seen)
	}
}

// A pour of none or 20 to 30 ml is never between: the least lime juice that brings
// acid is 20 ml, and a drink without it has none of its acid.
func TestPoursOfNoneOrSoMuchAreNeverBetween(t *testing.T) {
	for _, one := range reachOf(t, reachQuestions[4], pantry.Embedded()).Ranges {
		for _, end := range []*End{&one.Alone.Least, &one.Alone.Greatest} {
			poured := amounts(end.Pours)
			if lime := poured["lime juice"]; lime != 0 && (lime < 20-1e-6 || lime > 30+1e-6) {
				t.Errorf("%s: %v ml of lime juice at %v", one.Property.Name(), lime, end.Value)
			}
			if rich := poured["rich syrup"]; rich != 0 && (rich < 5-1e-6 || rich > 10+1e-6) {
				t.Errorf("%s: %v ml of rich syrup at %v", one.Property.Name(), rich, end.Value)
			}
		}
	}
}

// The price of a bound is what the end moves by when the bound is moved: the
// range is found anew with 0.05 ml more room.
func TestPricesAreWhatMoreRoomIsWorth(t *testing.T) {
	const text = `
glass: 160 ml
ice: shake
mix:
  dry gin: %v..50 ml
  lemon juice: 5..60 ml
  rich syrup: optional
target:
  volume: 130 ml
  abv: 14 %%
`
	before := rangeOf(t, reachOf(t, fmt.Sprintf(text, "30"), pantry.Embedded()), profile.Acid).Alone.Greatest
	after := rangeOf(t, reachOf(t, fmt.Sprintf(text, "29.95"), pantry.Embedded()), profile.Acid).Alone.Greatest
	i := slices.IndexFunc(before.Stops, func(s Stop) bool { return s.Name == "dry gin" && s.Kind == "least" })
	if i < 0 {
		t.Fatalf("dry gin does not stop acid: %+v", before.Stops)
	}
	price := (after.Value - before.Value) / 0.05
	near(t, "price of dry gin", before.Stops[i].Price, price, 0.01*price)
	if before.Stops[i].Bound != 30 || before.Stops[i].Unit != "ml" {
		t.Errorf("dry gin stops at %v %s", before.Stops[i].Bound, before.Stops[i].Unit)
	}
}

// Every end meets the optimality conditions of Karush, Kuhn and Tucker: what is
// left of its slopes, over all the room that a pour has, is round-off.
func TestEndsMeetTheOptimalityConditions(t *testing.T) {
	for _, text := range reachQuestions {
		for _, one := range reachOf(t, text, pantry.Embedded()).Ranges {
			for name, end := range endsOf(&one) {
				if !(end.KKT <= 1e-6) {
					t.Errorf("%s, %s: a residual of %v at %v\n%s", one.Property.Name(), name, end.KKT, end.Value, text)
				}
			}
		}
	}
}

func TestWhatCannotMoveIsSaidSo(t *testing.T) {
	_, err := Reach(Question{Spec: readSpec(t, "mix:\n  dry gin: 50 ml\n"), Shelf: pantry.Embedded()})
	if !errors.Is(err, ErrNothingOpen) {
		t.Errorf("a spec with nothing open: %v", err)
	}
	// Gin and water bring no sugar: aimed at, it is shown all the same.
	r := reachOf(t, "mix:\n  dry gin: open\n  water: open\ntarget:\n  sugar: 20 g/L\n", pantry.Embedded())
	if sugar := rangeOf(t, r, profile.Sugar); sugar.Alone.Least.Value != 0 || sugar.Alone.Greatest.Value != 0 {
		t.Errorf("gin and water have from %v to %v g/L of sugar", sugar.Alone.Least.Value, sugar.Alone.Greatest.Value)
	}
	for _, one := range r.Ranges {
		if one.Property == profile.Caffeine || one.Property == profile.CarbonDioxide {
			t.Errorf("gin and water move %s", one.Property.Name())
		}
	}
}

// Only gin of 40 % brings strength and only lime juice of 46 g/L acid. One JND
// below 34 % vol are 30.7 (by hand: 0.6/0.1 sinh(asinh(0.1 × 34 / 0.6) - 0.1)), 77 %
// of gin; one below 20 g/L are 16.4, 36 % of lime juice: more than all of the drink,
// which contraction, under 2 %, does not change.
func TestTargetsThatPullApartAreNamed(t *testing.T) {
	r := reachOf(t, `
mix:
  dry gin: open
  lime juice: open
  rich syrup: open
target:
  volume: 90 ml
  abv: 34 %
  acid: 20 g/L
  sugar: 20 g/L
`, pantry.Embedded())
	if !reflect.DeepEqual(r.Apart, []profile.Property{profile.Strength, profile.Acid}) {
		t.Errorf("apart are %v, want abv and acid", r.Apart)
	}
	if rangeOf(t, r, profile.Sugar).Held != nil {
		t.Error("sugar has a range with strength and acid held, which cannot be")
	}
	if rangeOf(t, r, profile.Acid).Held == nil {
		t.Error("acid has no range with strength held")
	}
}

func TestLimitsThatCannotBeKeptAreNamed(t *testing.T) {
	r := reachOf(t, `
mix:
  dry gin: open
  lime juice: open
target:
  abv: at least 25 %
  acid: at least 20 g/L
  sugar: at most 200 g/L
`, pantry.Embedded())
	if len(r.Ranges) != 0 || len(r.Broken) == 0 {
		t.Errorf("%d ranges, broken %+v", len(r.Ranges), r.Broken)
	}
	if want := []string{"abv at least 25 % vol", "acid at least 20 g/L"}; !reflect.DeepEqual(r.Conflict, want) {
		t.Errorf("the conflict is %q, want %q", r.Conflict, want)
	}
}

func TestTheSameQuestionHasTheSameReach(t *testing.T) {
	for _, text := range reachQuestions[1:3] {
		if a, b := reachOf(t, text, pantry.Embedded()), reachOf(t, text, pantry.Embedded()); !reflect.DeepEqual(a.Ranges, b.Ranges) {
			t.Errorf("two answers to\n%s", text)
		}
	}
}

// All ranges of eight open pours and seven targets, and those of the four other
// forms.
func BenchmarkReach(b *testing.B) {
	for n, text := range reachQuestions {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			q := Question{Spec: readSpec(b, text), Shelf: pantry.Embedded()}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Reach(q); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
