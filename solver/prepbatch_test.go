package solver

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// prepBatch makes a prep that must be possible.
func prepBatch(t *testing.T, text string, size BatchSize) *PrepBatch {
	t.Helper()
	b, err := MakePrepBatch(BatchQuestion{Question: barOf(t, nil, text)[0], Size: size})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return b
}

// By hand: a sucrose solution of 50 % by mass weighs 1.2296 g/ml at 20 °C (ICUMSA
// table, from memory), so 2 litres are 2459 g: 1230 g of water and as much sugar.
func TestASyrupInLitresIsWeighedAsByHand(t *testing.T) {
	b := prepBatch(t, "mix:\n  water: 499.1 g\n  white sugar: 499.1 g\nmakes: {keeps: 4 weeks}\n", BatchSize{Volume: 2000})
	near(t, "litres", float64(b.Volume), 2000, 1)
	near(t, "weight", float64(b.Mass), 2459, 2)
	near(t, "water", float64(b.Rows[0].Grams), 1229.5, 1)
	near(t, "sugar", float64(b.Rows[1].Grams), 1229.5, 1)
	near(t, "running weight", float64(b.Rows[1].Running), 2459, 2)
	b = prepBatch(t, "mix:\n  water: 499.1 g\n  white sugar: 499.1 g\nmakes: {keeps: 4 weeks}\n", BatchSize{Bottle: 500, Bottles: 4})
	near(t, "bottles", float64(b.Filling.Containers), 4, 0)
	near(t, "a bottle", float64(b.Filling.Weight), 2459.0/4, 1)
}

// 100 g of sugar in 900 g of water are 10 °Bx, which is what the degree is, and 1.0381
// g/ml (CRC Handbook, 102nd ed. (2021), sucrose 10 %): a refractometer and a hydrometer
// are read of a degassed sample, so gas changes neither. The prep by itself and its
// batch say the same, whatever goes in: where the shelf knows more of a part than
// stands in its columns too.
func TestReadingsOfACarbonatedPrepAreThoseBeforeTheGas(t *testing.T) {
	const gas = "steps:\n  - carbonate: 4 volumes\n"
	for _, mix := range []string{
		"mix:\n  water: 900 g\n  white sugar: 100 g\nmakes: {store: fridge}\n",
		"mix:\n  fino sherry: 200 g\n  gin: 200 g\n  lemon juice: 50 g\n  simple syrup: 150 g\n  water: 400 g\nmakes: {store: fridge}\n",
	} {
		var brix [2]float64
		for n, text := range []string{mix, mix + gas} {
			b := prepBatch(t, text, BatchSize{Volume: 100000})
			made := b.Making.Prep.Ingredient
			shown, _, ok := made.Brix()
			if !ok {
				t.Fatalf("no Brix of\n%s", text)
			}
			near(t, "Brix of the batch less that of the prep", b.Readings.Brix.Value-shown, 0, 0.001)
			near(t, "density of the batch less that of the prep", b.Readings.Density.Value-made.Figures[pantry.DensityGramsPerMillilitre].Value, 0, 1e-5)
			brix[n] = shown
			if strings.Contains(mix, "900 g") {
				near(t, "Brix", shown, 10.0, 0.05)
				near(t, "density", b.Readings.Density.Value, 1.0381, 0.0003)
			}
		}
		near(t, "Brix with gas less that without", brix[1]-brix[0], 0, 1e-6)
	}
}

// Three times a making: 90 g of plant, 120 ml left behind, down to 1500 ml; what
// is said in percent, °Bx or volumes of gas stays.
func TestStepsOfAPrepGrowWithItsBatch(t *testing.T) {
	b := prepBatch(t, `
mix:
  water: 1 l
  white sugar: 300 g
steps:
  - steep: {bay leaf: 30 g, for: 20 min}
  - strain: loses 40 ml
  - clarify: loses 10 %
  - reduce: to 500 ml
  - dilute: with 33.33 ml
  - carbonate: 4 volumes
makes: {volume: 500 ml, keeps: 2 weeks}
`, BatchSize{Volume: 1500})
	var got []string
	for n := range b.Steps {
		got = append(got, b.Steps[n].Text())
	}
	want := []string{"steep bay leaf: 90 g, for: 20 min", "strain loses 120 ml", "clarify loses 10 %", "reduce to 1500 ml", "dilute with 100 ml", "carbonate 4 volumes"}
	if !slices.Equal(got, want) {
		t.Errorf("the steps are %q, by hand %q", got, want)
	}
	bought := map[string]float64{}
	for i := range b.Buy {
		bought[b.Buy[i].Ingredient.Name] = b.Buy[i].Need
	}
	near(t, "bay leaf to buy", bought["bay leaf"], 90, 0)
	near(t, "sugar to buy", bought["White sugar"], 900, 0)
	near(t, "what is made", float64(b.Volume), 1500, 1)
}

// Whatever is made, every pour is one making's times so many to half a step of
// its scale, and the volume is the one asked for to what the scale rounds.
func TestABatchOfAPrepIsSoManyMakings(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 8))
	for range 40 {
		text := fmt.Sprintf("mix:\n  water: %d ml\n  white sugar: %d g\n  citric acid: %d g\n  vodka: %d ml\nsteps:\n  - clarify: loses %d %%\nmakes: {keeps: 2 weeks}\n",
			200+r.IntN(800), 100+r.IntN(500), 5+r.IntN(20), 20+r.IntN(80), 1+r.IntN(15))
		volume := 500 + 9500*r.Float64()
		b := prepBatch(t, text, BatchSize{Volume: profile.Millilitre(volume)})
		rounding := 0.0
		for n := range b.Rows {
			row, one := &b.Rows[n], float64(b.Making.Pours[n].Grams)
			rounding += float64(row.Step) / 2
			near(t, row.Name, float64(row.Grams), one*b.Times, float64(row.Step)/2+1e-6)
		}
		near(t, "ml made\n"+text, float64(b.Volume), volume, 1.3*rounding)
	}
}

// A prep has no serves and meets no ice.
func TestABatchOfAPrepHasNoServes(t *testing.T) {
	q := barOf(t, nil, "mix:\n  water: 500 ml\n  white sugar: 500 g\nmakes: {keeps: 4 weeks}\n")[0]
	for want, batch := range map[string]BatchQuestion{
		"a number of serves of a prep": {Question: q, Size: BatchSize{Serves: 10}},
		"which meets no ice":           {Question: q, Size: BatchSize{Volume: 1000}, Diluting: FullyDiluted},
	} {
		if _, err := MakePrepBatch(batch); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("the error is %v, expected %q", err, want)
		}
	}
}

// What was built in its glass stands on what is left of its ice: masses add, so the
// drink and the ice left weigh what the mix and the ice weighed.
func TestABuiltDrinkStandsOnWhatIsLeftOfItsIce(t *testing.T) {
	for ice, grams := range map[string]float64{"build": 2, "{build: 100 g}": 0, "stir": 0} {
		a := report(t, "mix:\n  gin: 60 ml\nice: "+ice+"\n")
		mix := float64(a.Pours[0].Grams)
		whole := grams * mix
		if ice == "{build: 100 g}" {
			whole = 100
		}
		left := a.LeftOnIce(22)
		if ice == "stir" {
			near(t, "ice under a stirred drink", float64(left.Mass), 0, 0)
			continue
		}
		drink := a.InGlass(left, []float64{0})[0]
		near(t, "melted at once", float64(drink.Melted), 0, 1e-9)
		near(t, "drink and ice", float64(left.Mass)+float64(a.finished.State.Mass()), mix+whole, 1e-6)
	}
}
