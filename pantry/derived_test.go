package pantry

import (
	"math"
	"testing"

	"minim/profile"
)

func derived(t *testing.T, i *Ingredient, name string) Derived {
	t.Helper()
	for _, d := range i.Derived() {
		if d.Name == name {
			return d
		}
	}
	t.Fatalf("%s has no %s", i.Name, name)
	return Derived{}
}

func TestDerivedIsWhatTheFiguresSay(t *testing.T) {
	shelf := Embedded()
	for _, one := range []struct {
		ingredient, property string
		want, within         float64
		source               string
	}{
		{"dry gin", "abv", 40, 1e-6, "its label"},
		{"simple syrup", "sugar", 614.8, 1, "half of its weight, ICUMSA 1229.6 kg/m³ at 50 °Bx"},
		{"citric acid", "acid", 1000, 1, "it is the standard"},
		{"malic acid", "acid", 955, 1, "64.041 / 67.043 g per equivalent"},
		{"fine salt", "salt", 1000, 15, "sodium chloride, little else"},
		{"white sugar", "energy", 400, 2, "4 kcal/g, Regulation (EU) 1169/2011"},
		{"dry gin", "energy", 221, 1, "7 kcal/g, 31.57 g in 100 ml"},
	} {
		d := derived(t, find(t, shelf, one.ingredient), one.property)
		if !d.Known() || math.Abs(d.Value-one.want) > one.within {
			t.Errorf("%s of %s is %+v, want %g (%s)", one.property, one.ingredient, d, one.want, one.source)
		}
	}
}

// The ± of a single sugar's litre is that of its figure: a litre stays a litre.
func TestSpreadOfAFigureIsThatOfTheProperty(t *testing.T) {
	i := find(t, Embedded(), "rich syrup")
	d := derived(t, i, "sugar")
	if want := i.Figures[SucrosePerLitre].Spread; want == 0 || math.Abs(d.PlusMinus()-want) > 1e-6*want {
		t.Errorf("± %g, the figure's is %g", d.PlusMinus(), want)
	}
}

// What is not known is named, and the value is then at the least.
func TestUnknownIsNeverZero(t *testing.T) {
	shelf := overlay(t, "name,abv_percent,sucrose_g_per_l\nHouse tea,0,20\n")
	d := derived(t, find(t, shelf, "house tea"), "sugar")
	if d.Known() || d.Value != 20 || len(d.Unknown) != 3 {
		t.Errorf("%+v", d)
	}
	if _, _, ok := find(t, shelf, "house tea").Brix(); ok {
		t.Error("a refractometer reads what nobody knows")
	}
}

func TestDerivedNamesAreAll(t *testing.T) {
	known := map[string]bool{}
	for _, name := range DerivedNames() {
		known[name] = true
	}
	for _, i := range Embedded().All() {
		for _, d := range i.Derived() {
			if !known[d.Name] {
				t.Fatalf("%q is in no list", d.Name)
			}
			if math.IsNaN(d.Value+d.Low+d.High) || d.Low > d.Value || d.High < d.Value {
				t.Errorf("%s: %+v", i.Name, d)
			}
		}
	}
}

// The constituents that weigh something make up the ingredient; protein and fat
// are part of its other solids.
func TestConstituentsCloseToAHundredGrams(t *testing.T) {
	for _, i := range Embedded().All() {
		unit := i.PerUnit()
		total := 0.0
		for _, c := range i.Constituents() {
			switch {
			case c.Name == TitratableAcidPerLitre.Word() || c.Name == BitternessMilligramsPerLitre.Word():
			case c.Name == ProteinPerLitre.Word() || c.Name == FatPerLitre.Word():
			case c.Unit == "mg":
				total += c.PerHundredGrams / 1000
			default:
				total += c.PerHundredGrams
			}
			if !i.Solid && math.Abs(c.PerLitre-10*c.PerHundredGrams*float64(unit.Mass())) > 1e-6*(1+c.PerLitre) {
				t.Errorf("%s: %s %g g/L and %g in 100 g", i.Name, c.Name, c.PerLitre, c.PerHundredGrams)
			}
		}
		// The chloride of salt and the water of solids stand in no column.
		rest := 100 * (unit[profile.OtherSolidsGrams] - i.Figures[OtherSolidsPerLitre].Value*i.perUnit()) / float64(unit.Mass())
		if math.Abs(total+rest-100) > 0.01 {
			t.Errorf("%s: %g g in 100 g, and %g g in no column", i.Name, total, rest)
		}
	}
}
