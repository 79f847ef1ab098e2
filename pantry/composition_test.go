package pantry

import (
	"math"
	"strings"
	"testing"

	"minim/profile"
)

// checkState checks what holds for every ingredient.
func checkState(t *testing.T, i *Ingredient) {
	t.Helper()
	unit := i.PerUnit()
	for c, v := range unit {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%s: component %d is %v", i.Name, c, v)
		}
	}
	for c := profile.WaterGrams; c < profile.StrongChargeMilliequivalents; c++ {
		if unit[c] < 0 {
			t.Errorf("%s: component %d is %v", i.Name, c, unit[c])
		}
	}
	for c, v := range i.PerUnitSpread() {
		if !(v >= 0) || math.IsInf(v, 0) {
			t.Errorf("%s: spread of component %d is %v", i.Name, c, v)
		}
	}
}

func near(t *testing.T, what string, got, want, tolerance float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.6g; want %.6g ± %.2g (%s)", what, got, want, tolerance, source)
	}
}

func only(t *testing.T, text string) *Ingredient {
	t.Helper()
	shelf, err := (&Shelf{}).Overlay(strings.NewReader(text), "bar.csv")
	if err != nil {
		t.Fatal(err)
	}
	return shelf.All()[0]
}

func TestTitratableAcidityIsTheColumnElseTheSumByEquivalents(t *testing.T) {
	// Grams of citric acid per gram, from molar masses (IUPAC atomic weights):
	// 192.124/3 over the molar mass per equivalent titrated.
	for column, want := range map[string]float64{
		"citric": 1, "malic": 64.041 / (134.087 / 2), "tartaric": 64.041 / (150.087 / 2), "lactic": 64.041 / 90.078,
		"acetic": 64.041 / 60.052, "phosphoric": 64.041 / (97.994 / 2), "succinic": 64.041 / (118.088 / 2),
		"quinic": 64.041 / 192.167, "gluconic": 64.041 / 196.155, "oxalic": 64.041 / (90.034 / 2), "ascorbic": 64.041 / 176.124,
	} {
		i := only(t, "name,"+column+"_g_per_l\nAcid,10\n")
		near(t, column, i.PerUnit()[profile.TitratableAcidGrams]*1000, 10*want, 0.01, "molar masses")
		i = only(t, "name,"+column+"_g_per_l,titratable_acidity_g_per_l_as_citric\nAcid,10,7\n")
		near(t, column+" with a titration", i.PerUnit()[profile.TitratableAcidGrams]*1000, 7, 1e-9, "the column itself")
	}
}

func TestLiquidOfUnknownDensityFillsItsMillilitre(t *testing.T) {
	// A sucrose solution of 614.8 g/L is 50 % by mass and weighs 1229.65 g/L,
	// ICUMSA SPS-4; ethanol of 40 % vol weighs 948.05 g/L, OIML R 22.
	for text, want := range map[string]float64{
		"name,sucrose_g_per_l\nSyrup,614.8\n": 1.22965, "name,abv_percent\nSpirit,40\n": 0.94805, "name\nWater\n": 0.9982,
	} {
		unit := only(t, text).PerUnit()
		near(t, "mass", float64(unit.Mass()), want, 5e-5, "ICUMSA SPS-4; OIML R 22")
		near(t, "volume", float64(unit.Volume()), 1, 1e-9, "definition")
		near(t, "correction", unit[profile.VolumeCorrectionMillilitres], 0, 1e-9, "nothing was measured")
	}
	// Pure lactic acid takes up less than its litre even without water.
	unit := only(t, "name,lactic_g_per_l\nAcid,1275\n").PerUnit()
	near(t, "volume", float64(unit.Volume()), 1, 1e-9, "definition")
	if unit[profile.WaterGrams] > 1e-9 {
		t.Errorf("water %v in a litre that is full", unit[profile.WaterGrams])
	}
}

func TestLiquidPerKilogramIsPouredThroughItsDensity(t *testing.T) {
	// USDA SR28 19296: honey of 1.42 g/ml with 346 g/kg of glucose has 491 g/L.
	i := only(t, "name,state,basis,density_g_per_ml,glucose_g_per_l\nHoney,liquid,per_kg,1.42,346\n")
	near(t, "glucose in a litre", i.PerUnit()[profile.GlucoseGrams]*1000, 491, 0.5, "346 x 1.42")
}

func TestRemainderOfASolidIsOtherSolids(t *testing.T) {
	// JSFC 03018: dextrose monohydrate holds 91.3 g/100 g of glucose.
	unit := find(t, Embedded(), "dextrose").PerUnit()
	near(t, "glucose", unit[profile.GlucoseGrams], 0.913, 1e-9, "JSFC 03018")
	near(t, "the rest", unit[profile.OtherSolidsGrams], 0.087, 1e-9, "difference")
	near(t, "mass", float64(unit.Mass()), 1, 1e-12, "a gram is a gram")
}

func TestSodiumBringsItsChlorideButGlutamatesDoesNot(t *testing.T) {
	// 200 g of NaCl in a litre: 78.68 g of sodium, 121.32 g of chloride (molar masses).
	unit := find(t, Embedded(), "saline 20%").PerUnit()
	near(t, "salt", unit[profile.SodiumMilligrams]+1000*unit[profile.OtherSolidsGrams], 200, 0.2, "molar masses")
	// Sodium 122.9 and glutamic acid 786 g/kg: all of it is the glutamate's.
	unit = only(t, "name,sodium_mg_per_l,glutamate_free_mg_per_l\nMSG solution,12290,78600\n").PerUnit()
	near(t, "chloride", unit[profile.OtherSolidsGrams], 0, 2e-5, "molar masses")
	unit = only(t, "name,sodium_mg_per_l\nMineral water,900\n").PerUnit()
	near(t, "chloride of less than 1 g/L", unit[profile.OtherSolidsGrams], 0, 0, "rule")
}

func TestRelativeSweetnessCountsWhatStandsInNoSugarColumn(t *testing.T) {
	// Published tables: sucralose 600, erythritol 0.7, glycerol 0.65 times sucrose.
	for name, want := range map[string]float64{
		"sucralose": 600, "erythritol": 0.998 * 0.7, "glycerol": 1.255 * 0.65, "honey": 0, "sugar": 0, "steviol glycosides": 300,
	} {
		near(t, name, find(t, Embedded(), name).PerUnit()[profile.SweetenerGrams], want, 1e-9, "published tables")
	}
	i := only(t, "name,sucrose_g_per_l,density_g_per_ml,relative_sweetness\nHalf and half,500,1.2,0.1\n")
	near(t, "a sweetened syrup", i.PerUnit()[profile.SweetenerGrams], (1.2-0.5)*0.1, 1e-9, "arithmetic")
}

func TestHeatIsThatOfTheKeepingTemperature(t *testing.T) {
	// Water: 4.19 J/(g K) over 5 and 20 K (CRC Handbook).
	water := find(t, Embedded(), "water").PerUnit()
	soda := find(t, Embedded(), "soda water").PerUnit()
	near(t, "water", water[profile.HeatJoules], 0.9982*4.19*20, 0.6, "CRC Handbook")
	near(t, "soda", soda[profile.HeatJoules], 1*4.20*5, 0.3, "CRC Handbook")
}

func TestSpreadIsTheRowsOrTheCells(t *testing.T) {
	const heading = "name,citric_g_per_l,typical_spread_percent,confidence,citric_g_per_l_pm,citric_g_per_l_source\n"
	for _, c := range []struct {
		row  string
		want float64
	}{
		{"a,10,20,,,", 2}, {"a,10,20,seen,,", 2}, {"a,10,20,computed,,", 2},
		{"a,10,20,memory,,", 4}, {"a,10,20,estimate,,", 4},
		{"a,10,20,seen,,memory", 4}, {"a,10,20,,,estimate: by eye", 4}, {"a,10,20,estimate,,titrated here", 2},
		{"a,10,20,estimate,0.3,", 0.3}, {"a,10,,,,", 0}, {"a,0,20,,,", 0}, {"a,,20,,,", 0},
	} {
		i := only(t, heading+c.row+"\n")
		near(t, c.row, i.PerUnitSpread()[profile.CitricGrams]*1000, c.want, 1e-9, "rule")
		near(t, c.row, i.PerUnitSpread()[profile.TitratableAcidGrams]*1000, c.want, 1e-9, "rule")
	}
}

func TestSpreadOfStrengthBitternessAndSweetness(t *testing.T) {
	i := only(t, "name,abv_percent,bitterness_mg_per_l_quinine_hcl_eq,typical_spread_percent\nAmaro,30,100,50\n")
	near(t, "strength", i.PerUnitSpread()[profile.EthanolGrams], 0.15*0.789239, 1e-9, "50 % of 30 % vol")
	near(t, "bitterness", i.PerUnitSpread()[profile.BitternessMilligrams], 0, 0, "it has a factor")
	if i.HasOwnBitterness() {
		t.Error("bitterness has its own ±; want the factor")
	}
	i = only(t, "name,bitterness_mg_per_l_quinine_hcl_eq,bitterness_mg_per_l_quinine_hcl_eq_pm\nTonic,75,8\n")
	near(t, "bitterness", i.PerUnitSpread()[profile.BitternessMilligrams]*1000, 8, 1e-9, "the cell")
	if !i.HasOwnBitterness() {
		t.Error("the ± of bitterness was not taken")
	}
	i = only(t, "name,relative_sweetness,state,typical_spread_percent\nSweet,600,solid,15\n")
	near(t, "sweetener", i.PerUnitSpread()[profile.SweetenerGrams], 90, 1e-9, "15 % of 600")
}
