package pantry

import (
	"math"
	"testing"

	"minim/profile"
)

// Twenty dashes of a tincture of 0.95 g/ml. Mean and standard deviations of 0.7,
// 0.8, 0.9 five, ten and five times: 0.8 and √(10 × 0.01 / 19) = 0.0725.
func TestDashesWeighedOneByOne(t *testing.T) {
	of := find(t, overlay(t, "name,density_g_per_ml,density_g_per_ml_pm,abv_percent,measure\nhouse bitters,0.95,0.001,45,1 dash\n"), "house bitters")
	var each []profile.Gram
	for n := range 20 {
		each = append(each, []profile.Gram{0.7, 0.8, 0.8, 0.9}[n%4])
	}
	c, err := Calibrate(CountReading{Of: of, What: CountedDashes, Each: each, Scale: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	readsBack(t, c.Ingredient)
	within(t, "mean", float64(c.Mean), 0.8, 1e-12)
	within(t, "± of one", float64(c.OfOne), 0.0725, 0.0001)
	within(t, "± of the mean", float64(c.OfMean), math.Hypot(0.0725, 0.01)/math.Sqrt(20), 0.0001)
	within(t, "ml", float64(c.Millilitres.Value), 0.8/0.95, 0.001)
	within(t, "± of ml", float64(c.Millilitres.Spread), math.Hypot(0.01637/0.8, 0.001/0.95)*0.842, 0.001)
	within(t, "dash_ml", c.Ingredient.DashMillilitres, 0.842, 0.001)
	if c.Ingredient.Step.Word != "dash" || of.DashMillilitres != 0 {
		t.Errorf("step %+v; the ingredient itself became %g ml", c.Ingredient.Step, of.DashMillilitres)
	}
}

func TestTwentyWeighedTogether(t *testing.T) {
	salt := find(t, Embedded(), "salt")
	c, err := Calibrate(CountReading{Of: salt, What: CountedPinches, Total: 6.2, Count: 20})
	if err != nil {
		t.Fatal(err)
	}
	readsBack(t, c.Ingredient)
	within(t, "mean", float64(c.Mean), 0.31, 1e-12)
	within(t, "± of the mean", float64(c.OfMean), 0.1/20, 1e-12)
	within(t, "step", c.Ingredient.Step.Amount, 0.31, 1e-9)
	if c.OfOne != 0 {
		t.Errorf("± of one %g from a total", c.OfOne)
	}
	sugar := find(t, Embedded(), "sugar")
	c, err = Calibrate(CountReading{Of: sugar, What: CountedBarspoons, Total: 85, Count: 20})
	if err != nil {
		t.Fatal(err)
	}
	readsBack(t, c.Ingredient)
	within(t, "bulk density", c.Ingredient.BulkGramsPerMillilitre, 0.85, 1e-9) // 4.25 g in 5 ml
}

func TestWhatCannotBeCounted(t *testing.T) {
	salt, gin := find(t, Embedded(), "salt"), find(t, Embedded(), "gin")
	_, err := Calibrate(CountReading{Of: salt, What: CountedDashes, Total: 5, Count: 20})
	refused(t, err, "dashes of Fine salt, a solid")
	_, err = Calibrate(CountReading{Of: gin, What: CountedPinches, Total: 5, Count: 20})
	refused(t, err, "pinches of", "a liquid")
	_, err = Calibrate(CountReading{Of: gin, What: CountedDashes, Total: 500, Count: 20})
	refused(t, err, "ml a dash; expected at most 10")
	_, err = Calibrate(CountReading{Of: gin, What: CountedDashes, Each: []profile.Gram{1, 2}, Total: 3})
	refused(t, err, "expected one of them")
	_, err = Calibrate(CountReading{Of: gin, What: CountedDashes, Each: []profile.Gram{1, profile.Gram(math.NaN())}})
	refused(t, err, "weight 2 NaN g")
	_, err = Calibrate(CountReading{Of: gin, What: CountedDashes})
	refused(t, err, "count 0")
}

// Without a measured density the composition gives it: water and 40 % vol, 948
// g/L by OIML R 22, to 0.5 %.
func TestDashesOfUnknownDensity(t *testing.T) {
	of := find(t, overlay(t, "name,abv_percent\nplain bitters,40\n"), "plain bitters")
	c, err := Calibrate(CountReading{Of: of, What: CountedDashes, Total: 18.96, Count: 20})
	if err != nil {
		t.Fatal(err)
	}
	readsBack(t, c.Ingredient)
	within(t, "ml", float64(c.Millilitres.Value), 1, 0.001)
	within(t, "±", float64(c.Millilitres.Spread), math.Hypot(0.005, 0.1/18.96), 0.0005)
	spoon, err := Calibrate(CountReading{Of: of, What: CountedBarspoons, Total: 94.8, Count: 20})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "barspoon", float64(spoon.Millilitres.Value), 5, 0.01)
}
