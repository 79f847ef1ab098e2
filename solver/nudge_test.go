package solver

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// written is the spec as a file.
func written(t *testing.T, spec *pantry.Spec) string {
	t.Helper()
	var b bytes.Buffer
	if err := spec.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func rebalanced(t *testing.T, q RebalanceQuestion) *Changed {
	t.Helper()
	out, err := Rebalance(q)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestSwappingAnIngredientForItselfChangesNothing(t *testing.T) {
	shelf := pantry.Embedded()
	for _, drink := range changingDrinks {
		spec := readSpec(t, drink.text)
		for _, p := range spec.Pours() {
			out := rebalanced(t, RebalanceQuestion{Spec: spec, Shelf: shelf, Swaps: []Swap{{p.Name, p.Name}}})
			if got := written(t, out.Spec); got != written(t, spec) {
				t.Errorf("%s for itself gives\n%s", p.Name, got)
			}
		}
	}
}

func TestSwappingAndSwappingBackReturnsTheOriginalSpec(t *testing.T) {
	shelf := pantry.Embedded()
	for _, drink := range changingDrinks {
		// Amounts off the measure come back as well.
		for _, text := range []string{drink.text, strings.Replace(drink.text, "lemon juice: 15 ml", "lemon juice: 16 ml", 1)} {
			spec := readSpec(t, text)
			for _, swap := range drink.swaps {
				there := rebalanced(t, RebalanceQuestion{Spec: spec, Shelf: shelf, Swaps: []Swap{swap}})
				again := readSpec(t, written(t, there.Spec))
				back := rebalanced(t, RebalanceQuestion{Spec: again, Shelf: shelf, Swaps: []Swap{{swap.In, swap.Out}}})
				if got := written(t, back.Spec); got != written(t, spec) {
					t.Errorf("%s for %s and back gives\n%s", swap.In, swap.Out, got)
				}
			}
		}
	}
}

func TestALotWithTheSameMeasurementsChangesNothing(t *testing.T) {
	before := pantry.Embedded()
	spec := readSpec(t, changingDrinks[0].text)
	lemon, err := before.Find("lemon juice")
	if err != nil {
		t.Fatal(err)
	}
	var lot pantry.Lot
	lot.Ingredient = "lemon juice"
	if lot.Date, err = pantry.ParseDate("2026-11-20"); err != nil {
		t.Fatal(err)
	}
	acid, _, ok := lemon.Reading(pantry.LotAcid)
	if !ok {
		t.Fatal("lemon juice has no acid")
	}
	lot.Readings[pantry.LotAcid] = pantry.Reading{Value: acid, Known: true}
	after, _, err := before.WithLots([]pantry.Lot{lot})
	if err != nil {
		t.Fatal(err)
	}
	out := rebalanced(t, RebalanceQuestion{Spec: spec, Shelf: after, Before: before})
	if got := written(t, out.Spec); got != written(t, spec) {
		t.Errorf("a lot of the same acid gives\n%s", got)
	}
}

func TestSharperLemonsAreAnsweredWithLessOfThem(t *testing.T) {
	before := pantry.Embedded()
	spec := readSpec(t, "mix:\n  dry gin: 50 ml\n  lemon juice: 25 ml\n  simple syrup: 25 ml\n  water: 10 ml\nice: shake\n")
	lot := pantry.Lot{Ingredient: "lemon juice"}
	var err error
	if lot.Date, err = pantry.ParseDate("2026-11-20"); err != nil {
		t.Fatal(err)
	}
	// Half as sharp again as 60 g/L, about the middle of published lemon juices.
	lot.Readings[pantry.LotAcid] = pantry.Reading{Value: 90, Known: true}
	after, _, err := before.WithLots([]pantry.Lot{lot})
	if err != nil {
		t.Fatal(err)
	}
	out := rebalanced(t, RebalanceQuestion{Spec: spec, Shelf: after, Before: before})
	for i := range out.Misses {
		if out.Misses[i].Perceptible() {
			t.Errorf("%s is off by %.2f JND", out.Misses[i].Property.Name(), out.Misses[i].JND)
		}
	}
	for _, p := range out.Pours {
		if p.Name == "lemon juice" && p.AfterBase >= 25 {
			t.Errorf("%g ml of sharper lemon juice, 25 ml before", p.AfterBase)
		}
	}
}

func TestANudgeMovesItsPropertyByItsStepsAndHoldsTheRest(t *testing.T) {
	spec := readSpec(t, changingDrinks[1].text)
	spec.Measure = pantry.Amount{Value: 0.5, Unit: pantry.Millilitres}
	spec.Glass = 0
	out, jug, err := Nudged(NudgeQuestion{Spec: spec, Shelf: pantry.Embedded(), Nudges: []Nudge{{profile.Acid, 1}, {profile.Sugar, -1}}})
	if err != nil || jug != nil {
		t.Fatal(err, jug)
	}
	for i := range out.Misses {
		m := &out.Misses[i]
		before := out.Original.Profile[m.Property].Value
		j, ok := m.Property.JND()
		if !ok {
			continue
		}
		// The law of the JND by hand: asinh(k c / T) / k.
		level := func(c float64) float64 { return math.Asinh(j.WeberFraction*c/j.Threshold) / j.WeberFraction }
		want := map[profile.Property]float64{profile.Acid: 1, profile.Sugar: -1}[m.Property]
		if got := level(m.Got) - level(before); math.Abs(got-want) >= profile.Perceptible {
			t.Errorf("%s moves by %.2f JND, want %g", m.Property.Name(), got, want)
		}
	}
	back, _, err := Nudged(NudgeQuestion{Spec: readSpec(t, written(t, out.Spec)), Shelf: pantry.Embedded(), Nudges: []Nudge{{profile.Acid, -1}, {profile.Sugar, 1}}})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range back.Spec.Pours() {
		if was := spec.Pours()[i]; p.Low != was.Low {
			t.Errorf("nudged and nudged back: %s %s, was %s", p.Name, p.Low, was.Low)
		}
	}
}

// jugQuestions are corrections that adding can make, and some that it cannot.
var jugQuestions = []struct {
	drink   int
	nudge   Nudge
	jug     profile.Millilitre
	from    []string
	reached bool
}{
	{0, Nudge{profile.Acid, 1}, 2000, nil, true},
	{0, Nudge{profile.Acid, -1}, 2000, nil, true},
	{0, Nudge{profile.Salt, 1}, 2000, []string{"saline"}, true},
	{1, Nudge{profile.Sugar, 1}, 700, nil, true},
	{1, Nudge{profile.Strength, 1}, 1000, nil, true},
	{1, Nudge{profile.Acid, -3}, 1000, nil, false},
	{2, Nudge{profile.Bitter, 1}, 1500, nil, true},
	{2, Nudge{profile.Strength, -3}, 1500, nil, false},
}

func TestTheAdditionInTheJugMakesWhatIsPrinted(t *testing.T) {
	shelf := pantry.Embedded()
	for _, q := range jugQuestions {
		spec := readSpec(t, changingDrinks[q.drink].text)
		_, jug, err := Nudged(NudgeQuestion{Spec: spec, Shelf: shelf, Nudges: []Nudge{q.nudge}, Jug: q.jug, From: q.from})
		if err != nil {
			t.Fatal(err)
		}
		var mix, top, added profile.State
		pour := func(into *profile.State, name string, a pantry.Amount) {
			i, err := shelf.Find(name)
			if err != nil {
				t.Fatal(err)
			}
			base, err := a.Of(i)
			if err != nil {
				t.Fatal(err)
			}
			*into = into.Add(i.PerUnit().Scale(base))
		}
		for _, p := range spec.Mix {
			pour(&mix, p.Name, p.Low)
		}
		for _, p := range spec.Top {
			pour(&top, p.Name, p.Low)
		}
		for _, a := range jug.Additions {
			if a.Amount.Value <= 0 {
				t.Errorf("%s is added by %s", a.Name, a.Amount)
			}
			pour(&added, a.Name, a.Amount)
		}
		// The jug is mixed, and one of its serves is iced and topped.
		batch := mix.Scale(float64(q.jug) / float64(mix.Volume())).Add(added)
		if math.Abs(float64(batch.Volume()-jug.VolumeAfter)) > 1e-6*float64(q.jug) {
			t.Errorf("the jug holds %.2f ml, printed %.2f", batch.Volume(), jug.VolumeAfter)
		}
		serve := profile.Drink{Mix: batch.Scale(1 / jug.ServesAfter), Top: top, Ice: spec.Ice}
		values := serve.Finish().Values
		moved := false
		for _, p := range jug.Properties {
			if math.Abs(values[p.Property]-p.After) > 1e-6*(1+p.After) {
				t.Errorf("%s of a serve is %.6f, printed %.6f", p.Property.Name(), values[p.Property], p.After)
			}
			j, _ := p.Property.JND()
			if miss := j.Level(values[p.Property]) - j.Level(p.Wanted); math.Abs(miss-p.AfterJND) > 1e-6 {
				t.Errorf("%s misses by %.6f JND, printed %.6f", p.Property.Name(), miss, p.AfterJND)
			}
			if p.Property == q.nudge.Property {
				moved = (p.After-p.Before)*q.nudge.Steps > 0
			}
		}
		if !moved {
			t.Errorf("%s does not move its way", q.nudge.Property.Name())
		}
		if jug.Reached() != q.reached {
			t.Errorf("%s %+g in %g ml: reached %v", q.nudge.Property.Name(), q.nudge.Steps, q.jug, jug.Reached())
		}
	}
}

func TestAJugIsCorrectedWithNoMoreThanItTakes(t *testing.T) {
	// Salt is all that is missing, so that saline alone puts it right; its amount by
	// hand: one JND at 0.68 g/L is about 0.6 g/L of salt, in 2 L of mix that a serve
	// of 133 ml stretches to 189 ml, so 1.7 g, or 8.5 ml of a solution of 200 g/L.
	spec := exampleSpec(t, "morning-tide")
	_, jug, err := Nudged(NudgeQuestion{Spec: spec, Shelf: pantry.Embedded(), Nudges: []Nudge{{profile.Salt, 1}}, Jug: 2000})
	if err != nil {
		t.Fatal(err)
	}
	if len(jug.Additions) != 1 || jug.Additions[0].Name != "saline" || math.Abs(jug.Additions[0].Base-8.5) > 2.5 {
		t.Errorf("added: %+v", jug.Additions)
	}
}

func TestAJugHoldsAServeAtLeast(t *testing.T) {
	_, _, err := Nudged(NudgeQuestion{Spec: exampleSpec(t, "morning-tide"), Shelf: pantry.Embedded(), Nudges: []Nudge{{profile.Acid, 1}}, Jug: 2})
	var small ErrLessThanAServe
	if !errors.As(err, &small) {
		t.Errorf("a jug of 2 ml: %v", err)
	}
}

func TestNudgedTwiceAndBackReturnsTheDrink(t *testing.T) {
	spec := exampleSpec(t, "morning-tide")
	now := spec
	for _, steps := range []float64{1, 1, -1, -1} {
		out, _, err := Nudged(NudgeQuestion{Spec: now, Shelf: pantry.Embedded(), Nudges: []Nudge{{profile.Acid, steps}}})
		if err != nil {
			t.Fatal(err)
		}
		now = readSpec(t, written(t, out.Spec))
	}
	for i, p := range now.Pours() {
		if was := spec.Pours()[i]; p.Low != was.Low {
			t.Errorf("%s %s, was %s", p.Name, p.Low, was.Low)
		}
	}
}

func TestALightenedDrinkIsMadeStrongerFromWhereItIs(t *testing.T) {
	light, err := Lighten(LightenQuestion{Spec: exampleSpec(t, "high-water"), Shelf: pantry.Embedded(), Property: profile.Strength, Most: 12})
	if err != nil {
		t.Fatal(err)
	}
	out, _, err := Nudged(NudgeQuestion{Spec: readSpec(t, written(t, light.Spec)), Shelf: pantry.Embedded(), Nudges: []Nudge{{profile.Strength, 1}}})
	if err != nil {
		t.Fatal(err)
	}
	before, after := light.Profile[profile.Strength].Value, out.Profile[profile.Strength].Value
	if after <= before || after > 12*(1+1e-9) {
		t.Errorf("from %.2f %% vol to %.2f; expected more, and at most the 12 that it was lightened to", before, after)
	}
}
