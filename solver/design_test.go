package solver

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// ask designs a spec given as text.
func ask(t *testing.T, text string) *Answer {
	t.Helper()
	return askShelf(t, text, pantry.Embedded())
}

func askShelf(t *testing.T, text string, shelf *pantry.Shelf) *Answer {
	t.Helper()
	a, err := Design(Question{Spec: readSpec(t, text), Shelf: shelf})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return a
}

func readSpec(t testing.TB, text string) *pantry.Spec {
	t.Helper()
	spec, err := pantry.ReadSpec(strings.NewReader(text), "asked.yaml")
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return spec
}

// amounts are the pours of an answer by name, in base units.
func amounts(list []PouredAmount) map[string]float64 {
	out := map[string]float64{}
	for _, p := range list {
		out[p.Name] += p.Base
	}
	return out
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tolerance)
	}
}

// Spirit and water without ice: volume and strength fix both amounts. Mass of
// ethanol m_e = V · strength · 0.789239, mixture density ρ(p) of OIML R 22 at the
// target strength, so the water is V ρ(p) less what the spirit brings.
func TestSpiritAndWaterHitStrengthAndVolumeExactly(t *testing.T) {
	a := ask(t, `
mix:
  vodka: open
  water: open
target:
  volume: 100 ml
  abv: 25 %
`)
	p := float64(profile.MassFractionOf(25))
	density := float64(profile.EthanolWaterDensity(profile.MassFraction(p), 20)) / 1000
	ethanol := 100 * 0.25 * 0.789239
	vodka := 25.0 / 40 * 100
	spiritDensity := float64(profile.EthanolWaterDensity(profile.MassFractionOf(40), 20)) / 1000
	water := (100*density - vodka*spiritDensity) / 0.998201
	near(t, "ethanol in the mixture", 100*density*p, ethanol, 1e-6)
	got := amounts(a.Continuous.Pours)
	// The pantry's density is rounded to 0.001 g/ml: 0.1 ml in all.
	near(t, "vodka", got["vodka"], vodka, 0.05)
	near(t, "water", got["water"], water, 0.1)
	near(t, "F", a.Continuous.Objective, 0, 1e-12)
}

// With the spirit held at 40 ml the strength cannot be met. Without contraction
// (5 % vol against 4.9: below a part in 500) volume and strength are V and
// 1600/V, and F = ((V-100)/2)² + ((1600/V-25)/s)² with s the JND at 25 % vol:
// its stationary point follows from a bisection of dF/dV.
func TestABoundSpiritGivesTheClosedFormCompromise(t *testing.T) {
	a := ask(t, `
mix:
  vodka: 20..40 ml
  water: open
target:
  volume: 100 ml
  abv: 25 %
`)
	s := math.Hypot(0.6, 0.1*25)
	slope := func(v float64) float64 {
		return 2*(v-100)/4 + 2*(1600/v-25)/(s*s)*(-1600/(v*v))
	}
	low, high := 60.0, 100.0
	for range 60 {
		if middle := (low + high) / 2; slope(middle) < 0 {
			low = middle
		} else {
			high = middle
		}
	}
	got := amounts(a.Continuous.Pours)
	near(t, "vodka", got["vodka"], 40, 0)
	near(t, "volume", got["vodka"]+got["water"], low, 0.5)
	if len(a.Limits) == 0 || a.Limits[0].Name != "vodka" || a.Limits[0].Kind != "most" {
		t.Errorf("held back by %+v, want the most of vodka", a.Limits)
	}
}

// With lemon juice exactly as much as syrup, sugar sets both.
func TestARatioIsKeptExactly(t *testing.T) {
	a := ask(t, `
mix:
  lemon juice: open
  rich syrup: open
  water: open
target:
  volume: 200 ml
  sugar: 90 g/L
ratio: {lemon juice: rich syrup, is: 1}
`)
	got := amounts(a.Continuous.Pours)
	// 200 ml at 90 g/L hold 18 g: x (884 + 26.0) g/L = 18 g, the pantry's figures.
	near(t, "rich syrup", got["rich syrup"], 18/0.910, 0.01)
	near(t, "lemon juice", got["lemon juice"], got["rich syrup"], 1e-6)
	poured := amounts(a.Pours)
	near(t, "ratio poured", poured["lemon juice"]/poured["rich syrup"], 1, 0)
}

func TestAnImpossibleAimNamesWhatPullsApart(t *testing.T) {
	a := ask(t, `
mix:
  orange juice: optional
  lager: optional
target:
  volume: 120 ml
  abv: 28 %
`)
	if len(a.Broken) > 0 {
		t.Errorf("an aim was called a broken limit: %+v", a.Broken)
	}
	if a.Conflict == nil || len(a.Conflict.Targets) != 1 || a.Conflict.Targets[0].Property != profile.Strength {
		t.Fatalf("conflict %+v, want strength alone", a.Conflict)
	}
	near(t, "strength alone", a.Conflict.Targets[0].Alone, 4.6, 0.05)
	if a.Conflict.Help == nil {
		t.Error("no ingredient was named that would help")
	}
}

func TestTargetsThatPullApartAreAllNeeded(t *testing.T) {
	a := ask(t, `
mix:
  dry gin: open
  lime juice: open
  rich syrup: open
ice: shake
target:
  volume: 120 ml
  abv: 18 %
  sugar: 80 g/L
  acid: 8 g/L
`)
	if a.Conflict == nil || len(a.Conflict.Targets) < 2 {
		t.Fatalf("conflict %+v, want several targets", a.Conflict)
	}
	for _, target := range a.Conflict.Targets {
		near(t, target.Property.Name()+" by itself", target.Alone, target.Low, 0.01*target.Low)
	}
}

func TestABrokenLimitIsBrokenLeast(t *testing.T) {
	a := ask(t, `
mix:
  orange juice: open
  lager: open
target:
  volume: 200 ml
  abv: at least 28 %
`)
	if len(a.Broken) != 1 || !strings.Contains(a.Broken[0].Written, "28") {
		t.Fatalf("broken %+v, want the strength", a.Broken)
	}
	got := amounts(a.Pours)
	near(t, "orange juice", got["orange juice"], 2.5, 0)
	near(t, "lager", got["lager"], 200, 0)
	if a.Conflict == nil || !slices.Equal(a.Conflict.Limits, []string{"abv at least 28 % vol"}) {
		t.Errorf("conflict %+v, want the limit on strength", a.Conflict)
	}
}

const sixOpen = `
ice: shake
mix:
%s
target:
  volume: 150 ml
  abv: 13 %%
  sugar: 70 g/L
  acid: 7 g/L
  salt: 0.8 g/L
  bitter: 8 mg/L
`

// The order in which pours are written changes nothing.
func TestOrderOfPoursDoesNotMatter(t *testing.T) {
	lines := []string{"  dry gin: open", "  lemon juice: open", "  rich syrup: open", "  light amaro: optional", "  saline: optional", "  water: optional"}
	first := amounts(ask(t, fmt.Sprintf(sixOpen, strings.Join(lines, "\n"))).Pours)
	for range 3 {
		lines = append(lines[2:], lines[:2]...)
		slices.Reverse(lines[:3])
		again := amounts(ask(t, fmt.Sprintf(sixOpen, strings.Join(lines, "\n"))).Pours)
		for name, amount := range first {
			near(t, name, again[name], amount, 1e-9)
		}
	}
}

// Amounts written in another unit, with the measure unchanged, change nothing.
func TestUnitsOfAmountsDoNotMatter(t *testing.T) {
	spec := "  dry gin: %s\n  lemon juice: open\n  rich syrup: open\n  water: optional"
	a := amounts(ask(t, fmt.Sprintf(sixOpen, fmt.Sprintf(spec, "30..60 ml"))).Pours)
	b := amounts(ask(t, fmt.Sprintf(sixOpen, fmt.Sprintf(spec, "3..6 cl"))).Pours)
	for name, amount := range a {
		near(t, name, b[name], amount, 1e-9)
	}
}

// An ingredient offered twice is as good as once.
func TestADuplicateChangesNothing(t *testing.T) {
	header := "name,category,density_g_per_ml,abv_percent,sucrose_g_per_l,glucose_g_per_l,fructose_g_per_l,other_sugars_g_per_l," +
		"titratable_acidity_g_per_l_as_citric,sodium_mg_per_l,glutamate_free_mg_per_l,nucleotides_mg_per_l,bitterness_mg_per_l_quinine_hcl_eq,kept_at_c\n"
	twin := header + "Second gin,spirit,0.948,40,0,0,0,0,0,9,0,0,0,20\n"
	shelf, err := pantry.Embedded().Overlay(strings.NewReader(twin), "twin.csv")
	if err != nil {
		t.Fatal(err)
	}
	spec := "  dry gin: optional\n  lemon juice: open\n  rich syrup: open\n  water: optional\n"
	one := askShelf(t, fmt.Sprintf(sixOpen, spec), shelf)
	two := askShelf(t, fmt.Sprintf(sixOpen, spec+"  second gin: optional\n"), shelf)
	for p := range one.Profile {
		near(t, profile.Property(p).Name(), two.Profile[p].Value, one.Profile[p].Value, 1e-9*(1+math.Abs(one.Profile[p].Value)))
	}
}

// A wanted pour is never nothing; an optional one may be.
func TestOpenIsWantedAndOptionalIsNot(t *testing.T) {
	a := ask(t, `
mix:
  vodka: open
  water: open
  lemon juice: open
  lime juice: optional
target:
  volume: 100 ml
  abv: 20 %
  acid: 0 g/L
`)
	got := amounts(a.Pours)
	near(t, "lemon juice", got["lemon juice"], 2.5, 0)
	if got["lime juice"] != 0 {
		t.Errorf("%v ml of lime juice, want none", got["lime juice"])
	}
}

// Salt that nobody asked for stays within a JND of the least.
func TestUntargetedSaltStaysLow(t *testing.T) {
	a := ask(t, `
ice: stir
mix:
  dry gin: optional
  fino sherry: optional
  saline: optional
  rich syrup: optional
  water: optional
target:
  volume: 90 ml
  abv: 22 %
  sugar: 30 g/L
`)
	if got := amounts(a.Pours)["saline"]; got != 0 {
		t.Errorf("%v ml of saline in a drink that asks for no salt", got)
	}
}

// The answer never strays from the best by more than a taster could tell, and
// its F is never below the proven bound.
func TestAnswerStaysWithinItsProof(t *testing.T) {
	for seed, abv := range []float64{8, 12, 16, 20, 24} {
		a := ask(t, fmt.Sprintf(`
ice: stir
mix:
  dry gin: open
  sweet vermouth: open
  light amaro: optional
  rich syrup: optional
  water: optional
target:
  volume: 110 ml
  abv: %g %%
  sugar: %d g/L
  bitter: 10 mg/L
`, abv, 20+10*seed))
		s := a.Solution
		if !s.Proven || !s.PreferenceProven {
			t.Errorf("%g %% vol: proven %v, preference %v", abv, s.Proven, s.PreferenceProven)
		}
		if s.Bound > s.Least+1e-9*(1+s.Least) || s.Objective < s.Bound-1e-9*(1+s.Bound) {
			t.Errorf("%g %% vol: bound %v, least %v, objective %v", abv, s.Bound, s.Least, s.Objective)
		}
		if s.KKT > 1e-8 {
			t.Errorf("%g %% vol: residual of the optimality conditions %v", abv, s.KKT)
		}
		if a.Continuous.Objective > s.Least+1e-9 {
			t.Errorf("%g %% vol: real amounts give F = %v, measures %v", abv, a.Continuous.Objective, s.Least)
		}
	}
}

// A filled-in spec, read again, is the same drink and has nothing left open.
func TestAFilledSpecIsTheDrink(t *testing.T) {
	a := ask(t, fmt.Sprintf(sixOpen, "  dry gin: open\n  lemon juice: open\n  rich syrup: open\n  saline: optional\n  water: optional"))
	var text strings.Builder
	if err := a.Spec.Write(&text); err != nil {
		t.Fatal(err)
	}
	again, err := Report(Question{Spec: readSpec(t, text.String()), Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	for p := range a.Profile {
		near(t, profile.Property(p).Name(), again.Profile[p].Value, a.Profile[p].Value, 1e-9*(1+math.Abs(a.Profile[p].Value)))
	}
}

// A drink like another takes its profile for a target.
func TestLikeTakesTheOthersProfile(t *testing.T) {
	model := readSpec(t, "mix:\n  dry gin: 45 ml\n  lemon juice: 22.5 ml\n  rich syrup: 15 ml\nice: shake\n")
	question := readSpec(t, "mix:\n  vodka: open\n  lemon juice: open\n  rich syrup: open\nice: shake\nlike: other.yaml\n")
	a, err := Design(Question{Spec: question, Like: model, Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{"vodka": 45, "lemon juice": 22.5, "rich syrup": 15} {
		near(t, name, amounts(a.Pours)[name], want, 0)
	}
}

// A target on what is not known is refused with its place.
func TestATargetOnTheUnknownIsRefused(t *testing.T) {
	shelf, err := pantry.Embedded().Overlay(strings.NewReader("name,category,abv_percent\nHouse amaro,liqueur,28\n"), "bar.csv")
	if err != nil {
		t.Fatal(err)
	}
	spec := readSpec(t, "mix:\n  house amaro: open\n  water: open\ntarget:\n  volume: 80 ml\n  abv: 20 %\n  bitter: 10 mg/L\n")
	_, err = Design(Question{Spec: spec, Shelf: shelf})
	if err == nil || !strings.Contains(err.Error(), "asked.yaml:7:3") || !strings.Contains(err.Error(), "house amaro") {
		t.Errorf("error %v, want the place of the target and the ingredient", err)
	}
}

// What bubbles does not belong into a tin that is shaken.
func TestCarbonatedPoursInTheTinAreWarnedOf(t *testing.T) {
	for text, want := range map[string]bool{
		"mix:\n  dry gin: 30 ml\n  soda water: 60 ml\nice: shake\n":       true,
		"mix:\n  dry gin: 30 ml\nice: shake\ntop:\n  soda water: 60 ml\n": false,
		"mix:\n  dry gin: 30 ml\n  soda water: 60 ml\nice: build\n":       false,
	} {
		a, err := Report(Question{Spec: readSpec(t, text), Shelf: pantry.Embedded()})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(strings.Join(a.Notes, "\n"), "burst"); got != want {
			t.Errorf("%q: warned %v, want %v", text, got, want)
		}
	}
}
