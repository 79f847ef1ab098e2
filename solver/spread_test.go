package solver

import (
	"math"
	"math/rand/v2"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// The ± of a property, carried through its slopes, is that of drawing every
// figure of every ingredient 20,000 times and mixing the drink each time.
func TestSpreadIsThatOfDrawingEveryFigure(t *testing.T) {
	for n, text := range []string{
		"mix:\n  dry gin: 45 ml\n  lemon juice: 22.5 ml\n  rich syrup: 15 ml\n  saline: 1 ml\nice: {stir: 25 % water}\n",
		"mix:\n  aquavit: 40 ml\n  tomato juice: 60 ml\n  lime juice: 15 ml\n  soy sauce: 2.5 ml\nice: none\n",
		"mix:\n  aged rum: 40 ml\n  pineapple juice: 45 ml\n  honey syrup: 10 ml\n  light amaro: 10 ml\nice: {shake: 40 % water}\ntop:\n  tonic water: 60 ml\n",
		"mix:\n  maize whiskey: 50 ml\n  sweet vermouth: 25 ml\n  aromatic bitters: 2 dashes\nice: {stir: 30 % water}\n",
		"mix:\n  filter coffee: 60 ml\n  vodka: 30 ml\n  coffee liqueur: 20 ml\n  cream: 20 ml\nice: none\n",
	} {
		spec := readSpec(t, text)
		q := Question{Spec: spec, Shelf: pantry.Embedded()}
		a, err := Report(q)
		if err != nil {
			t.Fatal(err)
		}
		w, err := newWork(q)
		if err != nil {
			t.Fatal(err)
		}
		got := drawnSpread(w, rand.New(rand.NewPCG(uint64(n), 3)), 20_000)
		for p := range a.Profile {
			property := profile.Property(p)
			switch property {
			case profile.Bitter, profile.Temperature, profile.PH, profile.Viscosity, profile.CarbonDioxide:
				continue // known to a factor, of acids that vary together, or with a ± of the model itself
			}
			want := got[p]
			v := &a.Profile[p]
			// First order against a draw of 20,000: 1 % of sampling, and what curves.
			if first := v.PlusMinus(); math.Abs(first-want) > 0.05*want+1e-9*(1+math.Abs(v.Value)) && v.Low > 0 {
				t.Errorf("%d, %s %v: ± %v by first order, %v drawn", n, property.Name(), v.Value, first, want)
			}
		}
	}
}

// drawnSpread is the standard deviation of each property over drinks of
// perturbed ingredients.
func drawnSpread(w *work, r *rand.Rand, draws int) (deviation profile.Values) {
	var sum, squares profile.Values
	for range draws {
		d := profile.Drink{Ice: w.ice}
		for n := range w.pours {
			p := &w.pours[n]
			unit, spread := p.unit, p.ingredient.PerUnitSpread()
			for c := range unit {
				unit[c] += spread[c] * r.NormFloat64()
			}
			into := &d.Mix
			if p.stage == OnTop {
				into = &d.Top
			}
			*into = into.Add(unit.Scale(p.amount))
		}
		v := d.Finish().Values
		for p := range v {
			sum[p] += v[p]
			squares[p] += v[p] * v[p]
		}
	}
	for p := range sum {
		mean := sum[p] / float64(draws)
		deviation[p] = math.Sqrt(max(0, squares[p]/float64(draws)-mean*mean))
	}
	return deviation
}

// Bitterness without a ± of its own is known to a factor of two: a single bitter
// ingredient gives half to double.
func TestBitternessIsKnownToAFactor(t *testing.T) {
	spec := readSpec(t, "mix:\n  light amaro: 30 ml\n  water: 70 ml\n")
	a, err := Report(Question{Spec: spec, Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	b := a.Profile[profile.Bitter]
	near(t, "low end", b.Low, b.Value/2, 0.01*b.Value)
	near(t, "high end", b.High, 2*b.Value, 0.01*b.Value)
}

// The ± of a pH is that of mixing the drink with a juice of so much more acid,
// and of the charge that goes with it.
func TestAcidityAndChargeVaryTogether(t *testing.T) {
	w, err := newWork(Question{Spec: readSpec(t, "mix:\n  lemon juice: 30 ml\n  green tea: 60 ml\n"), Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	a, err := w.answer(w.problem, nil, Solution{})
	if err != nil {
		t.Fatal(err)
	}
	lemon := &w.pours[0]
	part := lemon.ingredient.PerUnitSpread()[profile.TitratableAcidGrams] / lemon.unit[profile.TitratableAcidGrams]
	ph := func(factor float64) float64 {
		var d profile.Drink
		for n := range w.pours {
			unit := w.pours[n].unit
			if n == 0 {
				for c := profile.CitricGrams; c <= profile.OxalicGrams; c++ {
					unit[c] *= factor
				}
				unit[profile.StrongChargeMilliequivalents] *= factor
			}
			d.Mix = d.Mix.Add(unit.Scale(w.pours[n].amount))
		}
		return d.Finish().Values[profile.PH]
	}
	want := math.Abs(ph(1+part)-ph(1-part)) / 2
	if got := a.Profile[profile.PH].PlusMinus(); got < math.Hypot(0.85*want, 0.05) {
		t.Errorf("pH ± %v, the juice alone makes ± %v", got, want)
	}
}
