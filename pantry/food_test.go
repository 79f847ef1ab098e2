package pantry

import (
	"strings"
	"testing"

	"minim/profile"
)

// kilocalories is the energy of an amount in ml or grams.
func kilocalories(t *testing.T, s *Shelf, name string, amount float64) float64 {
	t.Helper()
	return float64(find(t, s, name).PerUnit().Scale(amount).Dose().Kilocalories)
}

// The energy that food tables print, from memory; they count with factors of
// their own for each food (egg white 4.36, milk fat 8.79 kcal/g), so that those
// of the law differ by up to a tenth. 50 ml of egg weigh 51.8 g, 20 ml of cream
// 20 g.
func TestEnergyOfEggAndDairyIsThatOfFoodTables(t *testing.T) {
	for _, c := range []struct {
		name         string
		amount, want float64
		tolerance    float64
		source       string
	}{
		{"whole egg", 50, 1.43 * 51.75, 0.10, "USDA SR28 01123, 143 kcal in 100 g"},
		// The table counts 4.36 kcal/g of protein where the law has 4: 8 % from that alone.
		{"egg white", 30, 0.52 * 31.14, 0.12, "USDA SR28 01124, 52 kcal in 100 g"},
		{"cream", 20, 3.40 * 19.96, 0.10, "USDA SR28 01053, 340 kcal in 100 g"},
		{"whole milk", 100, 0.67 * 103.2, 0.10, "JSFC 13003 (2015), 67 kcal in 100 g"},
		{"orange juice", 100, 0.45 * 104.4, 0.10, "USDA SR28 09206, 45 kcal in 100 g"},
	} {
		near(t, c.name, kilocalories(t, Embedded(), c.name, c.amount), c.want, c.tolerance*c.want, c.source)
	}
}

// By hand with 4 and 9 kcal/g: 51.75 g of egg with 12.6 % of protein, 9.5 % of
// fat and 0.37 % of sugar.
func TestEnergyOfAnEggFollowsFromItsProteinAndFat(t *testing.T) {
	near(t, "kcal of an egg", kilocalories(t, Embedded(), "whole egg", 50), 51.75*(0.126*4+0.095*9+0.0037*4), 0.5,
		"Regulation (EU) 1169/2011, Annex XIV")
}

func TestProteinAndFatAreUnknownOnlyWhereTheyAreToBeExpected(t *testing.T) {
	for text, want := range map[string]bool{
		"name,category\nOwn cream,\n":                         true,
		"name,category\nOat drink,plant milk\n":               true,
		"name,category,allergens\nAvocaat,liqueur,eggs\n":     true,
		"name,category\nDuck egg,dairy & egg\n":               true,
		"name,category\nCream of tartar,acid\n":               false,
		"name,category\nCream soda,mixer & water\n":           false,
		"name,category\nHouse gin,spirit\n":                   false,
		"name,category,allergens\nNut liqueur,liqueur,nuts\n": false,
	} {
		i := only(t, text)
		got := false
		for _, c := range i.UnknownColumns(profile.Energy) {
			got = got || c == ProteinPerLitre || c == FatPerLitre
		}
		if got != want {
			t.Errorf("%s: unknown %v, want %v", text, got, want)
		}
	}
	for _, i := range Embedded().All() {
		for _, c := range i.UnknownColumns(profile.Energy) {
			if c == ProteinPerLitre || c == FatPerLitre {
				t.Errorf("%s has no %s", i.Name, c.Name())
			}
		}
	}
}

// Where nobody gave the other solids they are what is told of them: 30 g of fat
// and 20 g of protein, 5 g of it free glutamic acid that has its own column.
func TestProteinAndFatStandInForOtherSolids(t *testing.T) {
	heading := "name,density_g_per_ml,glutamate_free_mg_per_l,protein_g_per_l,fat_g_per_l,other_solids_g_per_l\n"
	near(t, "other solids in a litre", 1000*only(t, heading+"Broth,1.02,5000,20,30,\n").PerUnit()[profile.OtherSolidsGrams], 45, 1e-9, "sum")
	near(t, "those given", 1000*only(t, heading+"Broth,1.02,5000,20,30,60\n").PerUnit()[profile.OtherSolidsGrams], 60, 1e-9, "as written")
}

func TestMoreProteinAndFatThanOtherSolidsIsFound(t *testing.T) {
	check := func(solids string) string {
		var all []string
		for _, f := range Check(strings.NewReader("name,density_g_per_ml,protein_g_per_l,fat_g_per_l,other_solids_g_per_l\nBroth,1.02,20,30,"+solids+"\n"), "bar.csv", Embedded()) {
			all = append(all, f.Message)
		}
		return strings.Join(all, "\n")
	}
	if got := check("10"); !strings.Contains(got, "expected these to be part of the other solids") {
		t.Errorf("nothing found of 50 g in 10: %q", got)
	}
	if got := check("50"); strings.Contains(got, "part of the other solids") {
		t.Errorf("found of 50 g in 50: %q", got)
	}
}

// Pulp, fat and protein thicken in ways that no formula here has: tomato juice, egg
// white and cream are not as thin as their sugar.
func TestThicknessIsUnknownWherePulpFatOrProteinThicken(t *testing.T) {
	for name, want := range map[string]bool{
		"tomato juice": true, "cream": true, "egg white": true, "whole egg": true, "aquafaba": true, "orgeat": true,
		"lime juice": false, "tomato water": false, "tamari": false, "simple syrup": false, "gin": false, "xanthan gum": false,
	} {
		if got := find(t, Embedded(), name).Unknown(profile.Viscosity); got != want {
			t.Errorf("viscosity of %s unknown: %v, want %v", name, got, want)
		}
	}
	if only(t, "name,category,abv_percent,sucrose_g_per_l,glucose_g_per_l,fructose_g_per_l,other_sugars_g_per_l,thickening_xanthan_g_per_l\nPeach puree,juice,0,0,0,0,0,2\n").Unknown(profile.Viscosity) {
		t.Error("a thickening that was given is unknown")
	}
}
