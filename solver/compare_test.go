package solver

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"minim/pantry"
	"minim/profile"
)

func finished(t testing.TB, text string) *Answer {
	t.Helper()
	a, _, err := Finish(Question{Spec: readSpec(t, text), Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return a
}

// vodkaAndWater is vodka and water without ice: all that differs is the ethanol and
// what follows from it.
func vodkaAndWater(vodka, water float64) string {
	return fmt.Sprintf("mix:\n  vodka: %g ml\n  water: %g ml\n", vodka, water)
}

const shakenSour = "drink: Sour\nmix:\n  dry gin: 45 ml\n  lime juice: %g ml\n  rich syrup: %g ml\n  saline: %g ml\nice: shake\n"

// The constants are those of the JND table (T, k): strength 0.60 % vol, 0.10;
// sweet 4 g/L, 0.17; acid 0.10 g/L, 0.20. J(c) = asinh(k c / T) / k is written as
// ln(u + sqrt(u² + 1)) / k, u = k c / T. By hand:
//
//	20 % vol: u = 3.3333, u + sqrt(u²+1) = 6.8134, ln = 1.91889, J = 19.189
//	10 % vol: u = 1.6667, u + sqrt(u²+1) = 3.6103, ln = 1.28379, J = 12.838
func TestLevelsAreThoseOfTheFormula(t *testing.T) {
	strength, _ := profile.Strength.JND()
	near(t, "J of 20 % vol", strength.Level(20), 19.189, 0.001)
	near(t, "J of 10 % vol", strength.Level(10), 12.838, 0.001)

	level := func(c, threshold, k float64) float64 {
		u := k * c / threshold
		return math.Log(u+math.Sqrt(u*u+1)) / k
	}
	laws := map[profile.Property][2]float64{
		profile.Strength: {0.60, 0.10}, profile.Sugar: {4, 0.17}, profile.Sweetness: {4, 0.17}, profile.Acid: {0.10, 0.20},
		profile.Salt: {0.60, 0.15}, profile.Bitter: {5, 0.30}, profile.Umami: {0.15, 0.21}, profile.CarbonDioxide: {0.44, 0.15},
		profile.Viscosity: {0.70, 0.26},
	}
	c := Compare([]*Answer{finished(t, fmt.Sprintf(shakenSour, 20.0, 15.0, 0.5)), finished(t, fmt.Sprintf(shakenSour, 25.0, 12.5, 1.0))})
	sum := 0.0
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		d := c.Against[1][p]
		a, b := c.Drinks[0].Profile[p].Value, c.Drinks[1].Profile[p].Value
		near(t, p.Name()+" in its unit", d.More, b-a, 0)
		want := math.NaN()
		if law, ok := laws[p]; ok {
			want = level(b, law[0], law[1]) - level(a, law[0], law[1])
		} else if p == profile.Temperature {
			want = (b - a) / 2
		}
		if d.HasJND != !math.IsNaN(want) {
			t.Errorf("%s has a JND: %v", p.Name(), d.HasJND)
		}
		if d.HasJND {
			near(t, p.Name()+" in JND", d.JND, want, 1e-9)
			if p != profile.Sugar {
				sum += want * want
			}
		}
	}
	near(t, "total", c.Pairs[0].TotalJND, math.Sqrt(sum), 1e-9)
	if most := c.Pairs[0].Differences; !slices.IsSortedFunc(most, func(a, b Difference) int {
		return cmp.Compare(math.Abs(b.JND), math.Abs(a.JND))
	}) || len(most) != len(TasteProperties) {
		t.Errorf("differences are not the largest first: %+v", most)
	}
}

// 50 ml of 40 % in 100 ml against 25 ml: 20 and 10 % vol but for contraction,
// J = 19.189 and 12.838, so 6.35 JND apart in strength. Nothing of sugar, acid,
// bitterness, glutamate or gas is in either.
func TestHalfTheVodkaIsSixJNDWeaker(t *testing.T) {
	c := Compare([]*Answer{finished(t, vodkaAndWater(50, 50)), finished(t, vodkaAndWater(25, 75))})
	near(t, "strength", c.Against[1][profile.Strength].JND, -6.35, 0.1)
	for _, p := range []profile.Property{profile.Sweetness, profile.Acid, profile.Bitter, profile.Umami, profile.CarbonDioxide} {
		near(t, p.Name(), c.Against[1][p].JND, 0, 0)
	}
	if most := c.Pairs[0].Differences[0].Property; most != profile.Strength {
		t.Errorf("what differs most is %s, want abv", most.Name())
	}
}

func TestADrinkIsNoDistanceFromItself(t *testing.T) {
	for _, text := range []string{fmt.Sprintf(shakenSour, 20.0, 15.0, 0.5), vodkaAndWater(30, 60), "mix:\n  dry gin: open\n  lime juice: 20 ml\n  rich syrup: 10 ml\nice: shake\ntarget:\n  abv: 18 %\n"} {
		c := Compare([]*Answer{finished(t, text), finished(t, text)})
		for p, d := range c.Against[1] {
			if d.More != 0 || d.JND != 0 || d.Perceptible() {
				t.Errorf("%s differs from itself: %+v", profile.Property(p).Name(), d)
			}
		}
		if total := c.Pairs[0].TotalJND; total != 0 {
			t.Errorf("%g JND from itself\n%s", total, text)
		}
	}
}

// The order of the drinks changes signs alone; a way round is never shorter.
func TestDistanceIsAMetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		amount := rapid.Float64Range(0.25, 60)
		var drinks []*Answer
		for range 3 {
			text := fmt.Sprintf(shakenSour, amount.Draw(t, "lime"), amount.Draw(t, "syrup"), amount.Draw(t, "saline"))
			spec, err := pantry.ReadSpec(strings.NewReader(text), "drawn.yaml")
			if err != nil {
				t.Fatal(err)
			}
			a, solved, err := Finish(Question{Spec: spec, Shelf: pantry.Embedded()})
			if err != nil || solved {
				t.Fatal(err, solved)
			}
			drinks = append(drinks, a)
		}
		forward, backward := Compare(drinks), Compare([]*Answer{drinks[2], drinks[1], drinks[0]})
		for p := range forward.Against[2] {
			if there, back := forward.Against[2][p], backward.Against[2][p]; there.JND != -back.JND || there.More != -back.More {
				t.Errorf("%s: %+v there, %+v back", profile.Property(p).Name(), there, back)
			}
		}
		for a := range 3 {
			for b := range 3 {
				if a == b {
					if forward.Between(a, b) != nil {
						t.Errorf("drink %d is paired with itself", a)
					}
					continue
				}
				direct := forward.Between(a, b).TotalJND
				// The root of the same squares, added in the same order.
				if other := backward.Between(2-a, 2-b).TotalJND; other != direct {
					t.Errorf("%g JND there, %g back", direct, other)
				}
				round := forward.Between(a, 3-a-b).TotalJND + forward.Between(3-a-b, b).TotalJND
				if direct > round*(1+1e-12) {
					t.Errorf("%g JND, but %g by way of the third", direct, round)
				}
			}
		}
		for n := range forward.Pairs[1:] {
			if forward.Pairs[n].TotalJND > forward.Pairs[n+1].TotalJND {
				t.Errorf("the pairs are not in order of nearness")
			}
		}
	})
}

func TestOpenPoursAreSolvedFirst(t *testing.T) {
	text := "mix:\n  vodka: open\n  water: open\ntarget:\n  volume: 100 ml\n  abv: 20 %\n"
	a, solved, err := Finish(Question{Spec: readSpec(t, text), Shelf: pantry.Embedded()})
	if err != nil || !solved {
		t.Fatal(err, solved)
	}
	designed := ask(t, text)
	if len(a.Pours) != len(designed.Pours) || a.Pours[0].Base != designed.Pours[0].Base || a.Pours[1].Base != designed.Pours[1].Base {
		t.Errorf("pours %+v, but design gives %+v", a.Pours, designed.Pours)
	}
	if _, solved, err := Finish(Question{Spec: readSpec(t, vodkaAndWater(30, 60)), Shelf: pantry.Embedded()}); err != nil || solved {
		t.Errorf("a finished drink: solved %v, error %v", solved, err)
	}
	if _, _, err := Finish(Question{Spec: readSpec(t, "mix:\n  vodka: open\n"), Shelf: pantry.Embedded()}); err != ErrNoTarget {
		t.Errorf("open pours without a target: error %v", err)
	}
}

// What nobody has measured is said of the difference, whichever of the two it
// is in.
func TestADifferenceKnownInPartSaysSo(t *testing.T) {
	tea := finished(t, "mix:\n  green tea: 60 ml\n  water: 60 ml\n")
	if len(tea.Profile[profile.Umami].UnknownFrom)+len(tea.Profile[profile.PH].UnknownFrom) == 0 {
		t.Fatal("the pantry now knows all of green tea; take another ingredient")
	}
	water := finished(t, vodkaAndWater(10, 100))
	for _, c := range []*Comparison{Compare([]*Answer{tea, water}), Compare([]*Answer{water, tea})} {
		if d := c.Against[1]; !d[profile.PH].Unknown || d[profile.Strength].Unknown {
			t.Errorf("unknown: ph %v, abv %v", d[profile.PH].Unknown, d[profile.Strength].Unknown)
		}
	}
}

func TestNoDrinksCompareToNothing(t *testing.T) {
	if c := Compare(nil); len(c.Pairs)+len(c.Against) > 0 {
		t.Errorf("comparison of nothing: %+v", c)
	}
	one := Compare([]*Answer{finished(t, vodkaAndWater(30, 60))})
	if len(one.Pairs) != 0 || len(one.Against) != 1 || one.Between(0, 0) != nil {
		t.Errorf("comparison of one: %+v", one)
	}
}
