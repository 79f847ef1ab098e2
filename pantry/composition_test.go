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
		{"a,10,20,,,", 2},
		{"a,10,20,seen,,", 2},
		{"a,10,20,computed,,", 2},
		{"a,10,20,memory,,", 4},
		{"a,10,20,estimate,,", 4},
		{"a,10,20,seen,,memory", 4},
		{"a,10,20,,,estimate: by eye", 4},
		{"a,10,20,estimate,,titrated here", 2},
		{"a,10,20,estimate,0.3,", 0.3},
		{"a,10,,,,", 0},
		{"a,0,20,,,", 0},
		{"a,,20,,,", 0},
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

// drinkOf is a drink without ice of so many ml or g of each ingredient.
func drinkOf(t *testing.T, amounts map[string]float64) profile.Finished {
	t.Helper()
	var d profile.Drink
	for name, amount := range amounts {
		d.Mix = d.Mix.Add(find(t, Embedded(), name).PerUnit().Scale(amount))
	}
	return d.Finish()
}

// phOf is the pH of such a drink.
func phOf(t *testing.T, amounts map[string]float64) float64 {
	t.Helper()
	return drinkOf(t, amounts).Values[profile.PH]
}

// What was measured comes out, whatever acids are listed, but for rows that give
// their own strong charge.
func TestEveryIngredientAloneHasItsMeasuredPH(t *testing.T) {
	measured := 0
	for _, i := range Embedded().All() {
		ph := i.Figures[PH]
		if !ph.Known || i.Figures[StrongChargePerLitre].Known {
			continue
		}
		measured++
		near(t, i.Name+", pH", phOf(t, map[string]float64{i.Name: 30}), ph.Value, 0.01, "its own row")
	}
	if measured < 60 {
		t.Errorf("%d rows with a pH; want 60 at least", measured)
	}
}

// FDA, Approximate pH of Foods and Food Products (2003); those of orange,
// pineapple and cranberry were read at second hand.
func TestJuicesAreAsSourAsPublished(t *testing.T) {
	for name, c := range map[string]struct{ low, high float64 }{
		"lemon juice": {2.00, 2.60}, "lime juice": {2.00, 2.35}, "grapefruit juice": {3.00, 3.75}, "orange juice": {3.30, 4.19},
		"pineapple juice": {3.30, 3.60}, "cranberry juice": {2.3, 2.5}, "apple juice": {3.35, 4.00},
	} {
		got := phOf(t, map[string]float64{name: 100})
		if got < c.low || got > c.high+1e-9 {
			t.Errorf("%s has pH %.3f; want %.2f to %.2f (FDA)", name, got, c.low, c.high)
		}
		near(t, name, got, find(t, Embedded(), name).Figures[PH].Value, 0.2, "the pantry")
	}
}

// The strong charge that the pH of a juice asks for is about its potassium: the
// USDA National Nutrient Database (SR28), from memory, has 103 mg of potassium
// in 100 g of lemon juice (26 meq/L), 117 in lime (30), 200 in orange (51), 162
// in grapefruit (41), 101 in apple (26), 130 in pineapple (33). The rest is
// calcium and magnesium, and what the listed acids are off.
func TestInferredChargeIsAboutThePotassiumOfTheJuice(t *testing.T) {
	for name, potassium := range map[string]float64{
		"lemon juice": 26, "orange juice": 51, "grapefruit juice": 41, "apple juice": 26, "pineapple juice": 33,
	} {
		got := 1000 * find(t, Embedded(), name).PerUnit()[profile.StrongChargeMilliequivalents]
		if got < potassium/2 || got > 2*potassium {
			t.Errorf("%s: %.1f meq/L; want %.0f within a factor of 2", name, got, potassium)
		}
	}
}

func TestJuiceBuffersTheDrink(t *testing.T) {
	pure := phOf(t, map[string]float64{"lemon juice": 25})
	sour := map[string]float64{"lemon juice": 25, "simple syrup": 20, "water": 30, "gin": 50}
	mixed := phOf(t, sour)
	if mixed <= pure || mixed > pure+0.3 {
		t.Errorf("the sour has pH %.3f, its juice %.3f; want between that and 0.3 above", mixed, pure)
	}
	sour["salt"] = 0.25 // 2 g/L
	if salted := phOf(t, sour); math.Abs(salted-mixed) >= 0.05 {
		t.Errorf("salt moves pH %.3f to %.3f", mixed, salted)
	}
	if got := drinkOf(t, map[string]float64{"salt": 1}).State[profile.StrongChargeMilliequivalents]; got != 0 {
		t.Errorf("salt has a strong charge of %g meq", got)
	}
}

// Egg white is a buffer of proteins, which no column holds: it lifts a sour less
// than 0.05 here. Soda's bicarbonate lifts it by about its milliequivalents.
func TestAlkalineIngredientsRaiseThePH(t *testing.T) {
	sour := map[string]float64{"lemon juice": 25, "simple syrup": 20, "gin": 50}
	before := phOf(t, sour)
	sour["egg white"] = 30
	diluted := phOf(t, map[string]float64{"lemon juice": 25, "simple syrup": 20, "gin": 50, "water": 30})
	if got := phOf(t, sour); got < before || math.Abs(got-diluted) > 0.05 {
		t.Errorf("with egg white pH %.3f, with as much water %.3f, with neither %.3f", got, diluted, before)
	}
	soda := 1000 * find(t, Embedded(), "soda water").PerUnit()[profile.StrongChargeMilliequivalents]
	// Bicarbonate at pH 4.7 over 7 g/L of gas: 159 mmol/L x 10^(4.7 - 6.35).
	near(t, "bicarbonate of soda water, meq/L", soda, 3.6, 0.4, "Henderson-Hasselbalch")
}

func TestGlutamateBringsItsSodiumAsStrongCharge(t *testing.T) {
	// 1000/147.13 meq a gram of glutamic acid, 786 g/kg of it (molar masses).
	msg := find(t, Embedded(), "msg").PerUnit()
	near(t, "charge of a gram", msg[profile.StrongChargeMilliequivalents], 0.786*6.797, 0.005, "molar masses")
	// A solution of 5 g in 100 ml has pH 6.7 to 7.2 (JECFA, from memory).
	near(t, "pH of msg in water", phOf(t, map[string]float64{"msg": 5, "water": 97}), 6.95, 0.25, "JECFA, from memory")
	for text, want := range map[string]float64{
		"name,glutamate_free_mg_per_l\nAcid,14713\n": 0, "name,sodium_mg_per_l\nBrine,22990\n": 0,
		"name,sodium_mg_per_l,glutamate_free_mg_per_l\nBoth,4598,14713\n":                                100,
		"name,glutamate_free_mg_per_l,sodium_mg_per_l,net_strong_charge_meq_per_l\nGiven,14713,2299,7\n": 7,
	} {
		near(t, text, 1000*only(t, text).PerUnit()[profile.StrongChargeMilliequivalents], want, 1e-9, "rule")
	}
}

func TestStrongChargeIsInferredFromThePH(t *testing.T) {
	// Dihydrogen citrate of 0.05 mol/kg has pH 3.776: one meq of base for each
	// mmol of acid (NBS J. Res. 73A:37, 1969).
	i := only(t, "name,citric_g_per_l,pH\nBuffer,9.56,3.776\n")
	near(t, "charge", 1000*i.PerUnit()[profile.StrongChargeMilliequivalents], 1000*9.56/192.124, 0.7, "NBS standard")
	near(t, "its spread", i.PerUnitSpread()[profile.StrongChargeMilliequivalents], 0, 0, "pH without a ±")
	i = only(t, "name,citric_g_per_l,pH,pH_pm\nBuffer,9.56,3.776,0.1\n")
	// Van Slyke's buffer capacity at one ionic strength, 0.06 mol/L: 2.303 c times
	// the variance of the protons lost, 0.27 with pK 3.04 and 4.49: 31 meq/L a pH.
	near(t, "its spread", 1000*i.PerUnitSpread()[profile.StrongChargeMilliequivalents], 3.1, 0.4, "buffer capacity")
	i = only(t, "name,citric_g_per_l\nAcid,9.56\n")
	near(t, "charge of unknown pH", i.PerUnit()[profile.StrongChargeMilliequivalents], 0, 0, "rule")
	i = only(t, "name,citric_g_per_l,pH,net_strong_charge_meq_per_l\nAcid,9.56,5,0\n")
	near(t, "charge given", i.PerUnit()[profile.StrongChargeMilliequivalents], 0, 0, "rule")
}

func BenchmarkPerUnit(b *testing.B) {
	lemon, err := Embedded().Find("lemon juice")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		lemon.PerUnit()
	}
}
