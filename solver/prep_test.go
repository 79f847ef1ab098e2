package solver

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"minim/pantry"
	"minim/profile"
)

// barOf is the embedded pantry with preps beside the specs, and these specs.
func barOf(t *testing.T, beside map[string]string, specs ...string) []Question {
	t.Helper()
	return barOver(t, pantry.Embedded(), beside, specs...)
}

// barOver is barOf with another shelf below the preps.
func barOver(t *testing.T, below *pantry.Shelf, beside map[string]string, specs ...string) []Question {
	t.Helper()
	files := fstest.MapFS{}
	for name, text := range beside {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	var read []*pantry.Spec
	for i, text := range specs {
		s, err := pantry.ReadSpec(strings.NewReader(text), fmt.Sprintf("drink%d.yaml", i))
		if err != nil {
			t.Fatal(err)
		}
		read = append(read, s)
	}
	shelf, err := below.WithPreps(files, ".", read...)
	if err != nil {
		t.Fatal(err)
	}
	var questions []Question
	for _, s := range read {
		questions = append(questions, Question{Spec: s, Shelf: shelf})
	}
	return questions
}

// targetsOf writes properties of a finished drink as targets, unrounded.
func targetsOf(t *testing.T, q Question, properties ...profile.Property) string {
	t.Helper()
	a, err := Report(q)
	if err != nil {
		t.Fatal(err)
	}
	text := "target:\n"
	for _, p := range properties {
		text += fmt.Sprintf("  %s: %.6f %s\n", p.Name(), a.Profile[p].Value, p.Unit())
	}
	return text
}

const (
	knownBase = "mix:\n  lemon juice: 200 ml\n  rich syrup: 180 ml\n  saline: 20 ml\n  dry gin: 250 ml\n  water: 100 ml\nmakes: {volume: 750 ml, store: fridge}\n"
	askedBase = "mix:\n  lemon juice: open\n  rich syrup: open\n  saline: open\n  dry gin: open\n  water: open\nmakes: {volume: 750 ml, store: fridge}\n"
)

var baseTargets = []profile.Property{profile.Strength, profile.Sugar, profile.Acid, profile.Salt}

// The profile of a drink with a known prep, asked for with that prep's pours open,
// is met: the prep itself is one answer.
func TestOpenPrepReproducesTheDrinkItWasAskedFor(t *testing.T) {
	drink := "mix:\n  base: 40 ml\n  aquavit: 30 ml\nice: shake\n"
	target := targetsOf(t, barOf(t, map[string]string{"base.yaml": knownBase}, drink)[0], baseTargets...)
	q := barOf(t, map[string]string{"base.yaml": askedBase}, drink+target)[0]
	a, err := Design(q)
	if err != nil {
		t.Fatal(err)
	}
	if a.TotalJND > 0.02 {
		t.Errorf("misses by %.3f JND in all: %+v", a.TotalJND, a.Misses)
	}
	if a.Solution.Proven || len(a.SolvedPreps) != 1 || a.Continuous.Objective > 1e-9 {
		t.Errorf("proven %v, %d preps solved, %v in real amounts", a.Solution.Proven, len(a.SolvedPreps), a.Continuous.Objective)
	}
	prep := a.SolvedPreps[0].Prep
	if math.Abs(float64(prep.Computed)-750) > 15 {
		t.Errorf("comes to %.1f ml, wanted 750", float64(prep.Computed))
	}
	for i, part := range prep.Parts {
		if !a.SolvedPreps[0].Solved[i] {
			t.Errorf("%s was not open", part.Name)
		}
		step := 5.0
		if part.Name == "saline" {
			step = 1 // it has a measure of its own
		}
		if steps := part.Base / step; math.Abs(steps-math.Round(steps)) > 1e-9 {
			t.Errorf("%v ml of %s is no multiple of %v", part.Base, part.Name, step)
		}
	}
}

// One prep for two drinks of different strength, and a drink with an open pour of
// its own.
func TestOnePrepServesSeveralDrinks(t *testing.T) {
	known := []string{"mix:\n  base: 40 ml\n  aquavit: 30 ml\nice: shake\n", "mix:\n  base: 60 ml\ntop:\n  soda water: 60 ml\n", "mix:\n  base: 50 ml\n  vodka: 20 ml\nice: stir\n"}
	asked := []string{known[0], known[1], "mix:\n  base: 50 ml\n  vodka: open\nice: stir\n"}
	with := barOf(t, map[string]string{"base.yaml": knownBase}, known...)
	for i := range asked {
		asked[i] += targetsOf(t, with[i], baseTargets...)
	}
	out, err := SolvePreps(barOf(t, map[string]string{"base.yaml": askedBase}, asked...))
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Drinks) != 3 || out.Continuous > 1e-9 {
		t.Fatalf("%d drinks, %v in real amounts", len(out.Drinks), out.Continuous)
	}
	for i, a := range out.Drinks {
		if a.TotalJND > 0.1 {
			t.Errorf("drink %d misses by %.3f JND", i, a.TotalJND)
		}
	}
	if got := out.Drinks[2].Pours[1].Base; math.Abs(got-20) > 2.5 {
		t.Errorf("%v ml of vodka, wanted about 20", got)
	}
}

// A prep whose open prep is two levels below the drink, and one that is simmered.
func TestOpenPrepsBelowPrepsAndSteps(t *testing.T) {
	syrup := "mix:\n  white sugar: %s\n  citric acid: %s\n  water: %s\nsteps:\n  - reduce: to 400 ml\nmakes: {volume: 400 ml, store: fridge}\n"
	beside := map[string]string{
		"syrup.yaml": fmt.Sprintf(syrup, "300 g", "20 g", "500 ml"),
		"base.yaml":  "mix:\n  syrup: 200 ml\n  dry gin: 200 ml\nmakes: {store: fridge}\n",
	}
	drink := "mix:\n  base: 60 ml\nice: shake\n"
	target := targetsOf(t, barOf(t, beside, drink)[0], profile.Sugar, profile.Acid)
	beside["syrup.yaml"] = fmt.Sprintf(syrup, "open", "open", "500 ml")
	a, err := Design(barOf(t, beside, drink+target)[0])
	if err != nil {
		t.Fatal(err)
	}
	if a.TotalJND > 0.02 {
		t.Errorf("misses by %.3f JND", a.TotalJND)
	}
	for part, want := range map[int]float64{0: 300, 1: 20} {
		if got := a.SolvedPreps[0].Prep.Parts[part].Base; math.Abs(got-want) > 1 {
			t.Errorf("part %d is %v g, wanted %v", part, got, want)
		}
	}
}

// Every prep on a grid of 1 g and 5 ml, each drink evaluated with the prep's amounts
// written out: none is better than the one that was found.
func TestPrepFoundIsTheBestOfItsGrid(t *testing.T) {
	base := "mix:\n  lemon juice: %s\n  white sugar: %s\n  dry gin: 200 ml\nmakes: {volume: 500 ml, store: fridge}\n"
	drinks := []string{
		"mix:\n  base: 50 ml\nice: shake\ntarget:\n  sugar: 83 g/L\n  acid: 7.3 g/L\n",
		"mix:\n  base: 40 ml\n  aquavit: 20 ml\nice: stir\ntarget:\n  sugar: 70 g/L\n  acid: 4 g/L\n  abv: 20 %\n",
	}
	out, err := SolvePreps(barOf(t, map[string]string{"base.yaml": fmt.Sprintf(base, "120..200 ml", "60..110 g")}, drinks...))
	if err != nil {
		t.Fatal(err)
	}
	least := math.Inf(1)
	for juice := 120; juice <= 200; juice += 5 {
		for sugar := 60; sugar <= 110; sugar++ {
			questions := barOf(t, map[string]string{"base.yaml": fmt.Sprintf(base, fmt.Sprintf("%d ml", juice), fmt.Sprintf("%d g", sugar))}, drinks...)
			prep := questions[0].Shelf.Preps()[0]
			off := (float64(prep.Computed) - 500) / 10
			sum := off * off
			for _, q := range questions {
				w, err := newWork(q)
				if err != nil {
					t.Fatal(err)
				}
				var v profile.Values
				d := w.problem.drink(nil)
				d.Evaluate(w.problem.wanted, &v, nil, nil)
				sum += w.problem.objective(&v)
			}
			least = min(least, sum)
		}
	}
	if out.Objective > least*(1+1e-9)+1e-12 {
		t.Errorf("found F = %.9f, the grid has %.9f", out.Objective, least)
	}
	if out.Continuous > out.Objective {
		t.Errorf("real amounts come to %v, the scale to %v", out.Continuous, out.Objective)
	}
}

// A prep with a target of its own is solved for that.
func TestPrepIsSolvedForItsOwnTarget(t *testing.T) {
	s, err := pantry.ReadSpec(strings.NewReader("drink: Cordial\nmix:\n  lemon juice: open\n  white sugar: open\n  water: open\nmakes: {volume: 1000 ml, store: fridge}\ntarget:\n  sugar: 400 g/L\n  acid: 20 g/L\n"), "cordial.yaml")
	if err != nil {
		t.Fatal(err)
	}
	a, err := Design(Question{Spec: s, Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	if a.TotalJND > 0.1 || a.Prep == nil || len(a.Pours) != 3 || !a.Pours[0].Solved {
		t.Errorf("misses by %v JND with %+v", a.TotalJND, a.Pours)
	}
	// By hand, to what the steps of 5 ml leave: 400 g of sugar and 20 g of acid in a litre; a litre of lemon juice has
	// 49 g of acid and 26 g of sugar, sugar is 99.8 % sucrose.
	juice := 20.0 / 49 * 1000
	sugar := (400 - juice*0.026) / 0.998
	if math.Abs(a.Pours[0].Base-juice) > 5 || math.Abs(a.Pours[1].Base-sugar) > 5 {
		t.Errorf("%v ml of juice and %v g of sugar; by hand %.0f and %.0f", a.Pours[0].Base, a.Pours[1].Base, juice, sugar)
	}
	filled, err := Report(Question{Spec: a.Spec, Shelf: pantry.Embedded()})
	if err != nil || math.Abs(filled.Profile[profile.Sugar].Value-a.Profile[profile.Sugar].Value) > 1e-9 {
		t.Errorf("%v; the filled-in prep has another profile", err)
	}
}

// A prep pours like its parts: the profile of a drink of a prep without steps is that
// of the drink with the parts in proportion.
func TestDrinkOfAPrepIsTheDrinkOfItsParts(t *testing.T) {
	apart := barOf(t, nil, "mix:\n  lemon juice: 20 ml\n  rich syrup: 18 ml\n  saline: 2 ml\n  dry gin: 25 ml\n  water: 10 ml\n  aquavit: 30 ml\nice: shake\n")[0]
	want, err := Report(apart)
	if err != nil {
		t.Fatal(err)
	}
	// The parts of 75 ml contract; so much of the prep is what they come to.
	prep := barOf(t, map[string]string{"base.yaml": strings.Replace(knownBase, "store: fridge", "store: shelf", 1)}, "mix:\n  base: 40 ml\n")[0].Shelf.Preps()[0]
	poured := float64(prep.Computed) / 10
	got, err := Report(barOf(t, map[string]string{"base.yaml": strings.Replace(knownBase, "store: fridge", "store: shelf", 1)},
		fmt.Sprintf("mix:\n  base: %.6f ml\n  aquavit: 30 ml\nice: shake\n", poured))[0])
	if err != nil {
		t.Fatal(err)
	}
	for p := range got.Profile {
		property := profile.Property(p)
		// Lemons are kept cold, the prep on a shelf: melt and what follows differ.
		if property == profile.Temperature || property == profile.Dilution || property == profile.Viscosity {
			continue
		}
		a, b := got.Profile[p].Value, want.Profile[p].Value
		if math.Abs(a-b) > 0.02*(0.1+math.Abs(b)) {
			t.Errorf("%s is %.4f, of the parts %.4f", property.Name(), a, b)
		}
		up, down := got.Profile[p].PlusMinus(), want.Profile[p].PlusMinus()
		if property != profile.Bitter && property != profile.PH && math.Abs(up-down) > 0.1*(0.01+down) {
			t.Errorf("%s ± %.4f, of the parts ± %.4f", property.Name(), up, down)
		}
	}
}

func TestUnknownOfAPrepNamesWhatBringsIt(t *testing.T) {
	beside := map[string]string{
		"tea.yaml":  "mix:\n  water: 500 ml\nsteps:\n  - steep: {dried hibiscus: 20 g}\nmakes: {store: fridge}\n",
		"base.yaml": "mix:\n  tea: 200 ml\n  dry gin: 200 ml\nmakes: {store: fridge}\n",
	}
	a, err := Report(barOf(t, beside, "mix:\n  base: 60 ml\n")[0])
	if err != nil {
		t.Fatal(err)
	}
	if names := a.Profile[profile.Acid].UnknownFrom; len(names) != 1 || names[0] != "dried hibiscus" {
		t.Errorf("acid is unknown from %q", names)
	}
	if len(a.Preps) != 2 || a.Preps[0].Ingredient.Name != "tea" {
		t.Errorf("%d preps", len(a.Preps))
	}
}

func TestOpenPrepsAreRefusedWhereTheyCannotBeFound(t *testing.T) {
	open := map[string]string{"base.yaml": askedBase}
	_, err := Report(barOf(t, open, "mix:\n  base: 60 ml\n")[0])
	if err == nil || !strings.Contains(err.Error(), "base.yaml:2:3: lemon juice is still open") {
		t.Errorf("%v; expected the open pour of the prep", err)
	}
	if _, err := Report(barOf(t, open, "mix:\n  dry gin: 60 ml\n")[0]); err != nil {
		t.Errorf("%v; a prep that nobody pours matters", err)
	}
	if _, err := Design(barOf(t, open, "mix:\n  base: 60 ml\n")[0]); !errors.Is(err, ErrNoTarget) {
		t.Errorf("%v; want %v", err, ErrNoTarget)
	}
	narrow := map[string]string{"base.yaml": "mix:\n  lemon juice: 11..14 ml\n  water: open\nmakes: {volume: 500 ml}\n"}
	_, err = Design(barOf(t, narrow, "mix:\n  base: 60 ml\ntarget:\n  acid: 5 g/L\n")[0])
	if err == nil || !strings.Contains(err.Error(), "base.yaml:2:3: lemon juice: no multiple of its measure, 5 ml, lies between 11 ml and 14 ml") {
		t.Errorf("%v; expected the narrow range", err)
	}
}

func TestSolvedPrepIsTheSameEveryTime(t *testing.T) {
	drink := "mix:\n  base: 40 ml\n  aquavit: 30 ml\nice: shake\ntarget:\n  abv: 15 %\n  sugar: 60 g/L\n  acid: 5 g/L\n  salt: 0.7 g/L\n"
	var before string
	for range 3 {
		a, err := Design(barOf(t, map[string]string{"base.yaml": askedBase}, drink)[0])
		if err != nil {
			t.Fatal(err)
		}
		var now strings.Builder
		if err := a.SolvedPreps[0].Prep.Spec.Write(&now); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&now, "%v", a.Profile)
		if before != "" && now.String() != before {
			t.Errorf("another answer:\n%s\n%s", before, now.String())
		}
		before = now.String()
	}
}

// Other questions on a drink take its preps as they are written, and a prep is no
// drink.
func TestWorkOnADrinkNeedsItsPrepsMade(t *testing.T) {
	_, err := newWork(barOf(t, map[string]string{"base.yaml": askedBase}, "mix:\n  base: 60 ml\n")[0])
	if err == nil || !strings.Contains(err.Error(), "base.yaml:2:3: lemon juice is still open") {
		t.Errorf("%v; expected the open pour", err)
	}
	_, err = newWork(barOf(t, nil, knownBase)[0])
	if err == nil || !strings.Contains(err.Error(), "drink0.yaml:7:8: a prep, which makes an ingredient; expected a drink") {
		t.Errorf("%v; expected a word on preps", err)
	}
}
