package pantry

import (
	"math"
	"strings"
	"testing"

	"minim/profile"
)

func wanted(v float64) *profile.GramPerLitre { g := profile.GramPerLitre(v); return &g }

// Orange juice brought to lime's sharpness with two parts of citric to one of
// malic acid: trade recipes take about 25 and 13 g a litre (common practice, and
// a table's own row that leaves the volume out), which the volume raises by 2 %.
func TestOrangeToLime(t *testing.T) {
	orange, lime := find(t, Embedded(), "orange juice"), find(t, Embedded(), "lime juice")
	target := lime.Figures[TitratableAcidPerLitre].Value
	out, err := AdjustJuice(JuiceQuestion{
		Name: "sharp orange", Juice: orange, Acid: wanted(target),
		Blend: []AcidShare{{Acid: CitricPerLitre, Share: 2}, {Acid: MalicPerLitre, Share: 1}},
	})
	if err != nil {
		t.Fatal(err)
	}
	sound(t, &out.Measured)
	within(t, "acidity", figure(&out.Measured, TitratableAcidPerLitre), target, 0.2)
	if len(out.Additions) != 2 {
		t.Fatalf("additions %v", out.Additions)
	}
	within(t, "citric", float64(out.Additions[0].Grams), 25*1.02, 1)
	within(t, "malic", float64(out.Additions[1].Grams), 13*1.02, 0.6)
	within(t, "two to one", float64(out.Additions[0].Grams/out.Additions[1].Grams), 2, 1e-9)
	// 38 g of acid at 0.596 ml/g (CRC Handbook) make 1023 ml.
	within(t, "volume", float64(out.Yield), 1023, 1)
	sugars := 0.0
	for _, c := range sugarColumns {
		sugars += figure(&out.Measured, c)
	}
	within(t, "sugar thinned", sugars, 88.6/1.023, 0.5)
}

// What went in is what is in the glass: the mass of each acid and of the sugar.
func TestAdjustmentConservesMass(t *testing.T) {
	orange := find(t, Embedded(), "orange juice")
	const batch = 750
	out, err := AdjustJuice(JuiceQuestion{
		Name: "cordial", Juice: orange, Batch: batch, Acid: wanted(30), Sugar: wanted(400),
		Blend: []AcidShare{{Acid: TartaricPerLitre, Share: 1}, {Acid: PhosphoricPerLitre, Share: 1, Purity: 0.85}},
	})
	if err != nil {
		t.Fatal(err)
	}
	sound(t, &out.Measured)
	litres := float64(out.Yield) / 1000
	sugars := 0.0
	for _, c := range sugarColumns {
		sugars += figure(&out.Measured, c)
	}
	within(t, "sugar", sugars, 400, 0.5)
	within(t, "acidity", figure(&out.Measured, TitratableAcidPerLitre), 30, 0.1)
	for _, a := range out.Additions {
		pure := float64(a.Grams)
		if a.Into == PhosphoricPerLitre {
			pure *= 0.85
		}
		had := orange.Figures[a.Into].Value * batch / 1000
		within(t, a.Into.Name(), figure(&out.Measured, a.Into)*litres, had+pure, 0.4) // rounded to its ±
	}
	mass := figure(&out.Measured, DensityGramsPerMillilitre) * float64(out.Yield)
	whole := batch * orange.Figures[DensityGramsPerMillilitre].Value
	for _, a := range out.Additions {
		whole += float64(a.Grams)
	}
	within(t, "mass", mass, whole, 0.2)
}

func TestWhatCannotBeAdjusted(t *testing.T) {
	lime := find(t, Embedded(), "lime juice")
	_, err := AdjustJuice(JuiceQuestion{Name: "mild lime", Juice: lime, Acid: wanted(23)})
	refused(t, err, "the acid of Lime juice is 46.0 g/L already", "1000 ml of water a litre", "to 23.0") // 46 g/L halved
	_, err = AdjustJuice(JuiceQuestion{Name: "x", Juice: lime})
	refused(t, err, "nothing wanted")
	_, err = AdjustJuice(JuiceQuestion{Name: "x", Acid: wanted(50)})
	refused(t, err, "no juice")
	unknown := overlay(t, "name,abv_percent\nmystery,0\n")
	_, err = AdjustJuice(JuiceQuestion{Name: "x", Juice: find(t, unknown, "mystery"), Acid: wanted(50), Sugar: wanted(10)})
	refused(t, err, "the acidity of mystery is unknown", "the sugar of mystery is unknown")
}

func TestJuiceThatIsThereAlready(t *testing.T) {
	lime := find(t, Embedded(), "lime juice")
	is := lime.PerUnit()[profile.TitratableAcidGrams] * 1000
	out, err := AdjustJuice(JuiceQuestion{Name: "as it comes", Juice: lime, Acid: wanted(is)})
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Additions) > 0 || math.Abs(float64(out.Yield)-1000) > 1e-6 || !strings.Contains(strings.Join(out.Remarks, "\n"), "nothing to add") {
		t.Errorf("%v, %g ml, %q", out.Additions, out.Yield, out.Remarks)
	}
}

// A puree whose figures are per kilogram is the same as one whose figures are per
// litre: 1.05 times as much of everything in it.
func TestJuicePerKilogram(t *testing.T) {
	shelf := overlay(t, `name,basis,state,density_g_per_ml,abv_percent,sucrose_g_per_l,citric_g_per_l,titratable_acidity_g_per_l_as_citric,sodium_mg_per_l,typical_spread_percent
puree by weight,per_kg,liquid,1.05,0,100,10,10,20,10
puree by volume,per_l,liquid,1.05,0,105,10.5,10.5,21,10
`)
	question := func(name string) JuiceQuestion {
		return JuiceQuestion{Name: "sharp puree", Juice: find(t, shelf, name), Acid: wanted(20), Sugar: wanted(150)}
	}
	a, err := AdjustJuice(question("puree by weight"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := AdjustJuice(question("puree by volume"))
	if err != nil {
		t.Fatal(err)
	}
	for n := range a.Additions {
		within(t, "addition", float64(a.Additions[n].Grams), float64(b.Additions[n].Grams), 1e-9)
	}
	for c := range a.Ingredient.Figures {
		within(t, Column(c).Name(), a.Ingredient.Figures[c].Value, b.Ingredient.Figures[c].Value, 1e-9)
		within(t, "± of "+Column(c).Name(), a.Ingredient.Figures[c].Spread, b.Ingredient.Figures[c].Spread, 1e-9)
	}
	sound(t, &a.Measured)
}
