package pantry

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"minim/profile"
)

// value is a measurement with its usual ±.
func value[Unit ~float64](v Unit) *Measurement[Unit] { return &Measurement[Unit]{Value: v} }

// readsBack demands that what was measured survives its own file.
func readsBack(t *testing.T, i *Ingredient) {
	t.Helper()
	var b strings.Builder
	if err := WriteCSV(&b, []*Ingredient{i}); err != nil {
		t.Fatal(err)
	}
	shelf, err := (&Shelf{}).Overlay(strings.NewReader(b.String()), "measured.csv")
	if err != nil {
		t.Fatalf("%s does not read back: %v", i.Name, err)
	}
	got, want := *shelf.All()[0], *i
	got.Place, want.Place = Place{}, Place{}
	if !reflect.DeepEqual(got, want) {
		a, b := reflect.ValueOf(got), reflect.ValueOf(want)
		for n := range a.NumField() {
			if !reflect.DeepEqual(a.Field(n).Interface(), b.Field(n).Interface()) {
				t.Errorf("%s reads back with another %s:\ngot  %+v\nwant %+v", i.Name, a.Type().Field(n).Name, a.Field(n), b.Field(n))
			}
		}
	}
}

// sound demands of every result what all have in common.
func sound(t *testing.T, m *Measured) {
	t.Helper()
	readsBack(t, m.Ingredient)
	if len(m.Remarks) == 0 {
		t.Errorf("%s: no remark", m.Ingredient.Name)
	}
	for _, r := range m.Remarks {
		if strings.Contains(r, "%!") || strings.Contains(r, "NaN") {
			t.Errorf("%s: remark %q", m.Ingredient.Name, r)
		}
	}
	for c, f := range m.Ingredient.Figures {
		if !f.Known {
			continue
		}
		if f.Source == "" || f.Confidence == "" || math.IsNaN(f.Value) || math.IsNaN(f.Spread) {
			t.Errorf("%s: %s is %+v", m.Ingredient.Name, Column(c).Name(), f)
		}
	}
}

// within compares with what someone else found, within a stated tolerance.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.6g; want %.6g ± %.2g", what, got, want, tolerance)
	}
}

// refused demands an error that holds each of the words.
func refused(t *testing.T, err error, words ...string) {
	t.Helper()
	if err == nil {
		t.Errorf("accepted; want an error about %q", words)
		return
	}
	for _, word := range words {
		if !strings.Contains(err.Error(), word) {
			t.Errorf("%q says nothing of %q", err, word)
		}
	}
	if text := err.Error(); strings.HasSuffix(text, ".") || text[0] >= 'A' && text[0] <= 'Z' && !strings.HasPrefix(text, "NaN") {
		t.Errorf("%q is no plain sentence", text)
	}
}

func TestFirstOrderOfALine(t *testing.T) {
	value, s := firstOrder(func(x []float64) []float64 { return []float64{3*x[0] - 4*x[1] + 1, x[0]} }, []float64{2, 1}, []float64{0.5, 0.25})
	within(t, "value", value[0], 3, 1e-12)
	within(t, "±", s[0], math.Hypot(1.5, 1), 1e-12) // 3 × 0.5 and 4 × 0.25
	within(t, "± of the other", s[1], 0.5, 1e-12)
}

func TestRoundingFollowsTheSpread(t *testing.T) {
	for _, row := range []struct{ value, spread, wantValue, wantSpread float64 }{
		{614.8263, 3.1234, 614.8, 3.1},
		{1234.5, 123.4, 1230, 120},
		{0.12345678901, 0, 0.1234568, 0},
		{0, 0, 0, 0},
		{-3.14159, 0.01, -3.142, 0.01},
		{1e-320, 1e-320, 1e-320, 1e-320},
	} {
		value, spread := roundedTo(row.value, row.spread)
		within(t, fmt.Sprintf("%g ± %g", row.value, row.spread), value, row.wantValue, 1e-9*math.Abs(row.wantValue))
		within(t, "its ±", spread, row.wantSpread, 1e-9*row.wantSpread)
	}
	if got := withSpread(18.2634, 0.5123); got != "18.26 ± 0.51" {
		t.Errorf("written %q", got)
	}
}

// hostile are numbers that no instrument shows.
var hostile = []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, math.Copysign(0, -1), 0, 5e-324, 1e-300, 1e300, math.MaxFloat64}

// Whatever is read, the answer is an error or an ingredient that closes and reads
// back; nothing panics.
func TestHostileReadings(t *testing.T) {
	try := func(name string, m *Measured, err error) {
		t.Helper()
		if err == nil {
			sound(t, m)
		} else if err.Error() == "" {
			t.Errorf("%s: an empty error", name)
		}
	}
	random := rand.New(rand.NewPCG(4, 4))
	pick := func(usual float64) float64 {
		if random.IntN(4) == 0 {
			return hostile[random.IntN(len(hostile))]
		}
		return usual
	}
	juice := find(t, Embedded(), "orange juice")
	spirit := find(t, Embedded(), "vodka")
	for range 400 {
		g := func(v float64) Measurement[profile.Gram] {
			return Measurement[profile.Gram]{Value: profile.Gram(pick(v)), Spread: profile.Gram(pick(0.1))}
		}
		ml := func(v float64) Measurement[profile.Millilitre] {
			return Measurement[profile.Millilitre]{Value: profile.Millilitre(pick(v)), Spread: profile.Millilitre(pick(0.5))}
		}
		a, b, c := g(500), g(450), ml(500)
		m, err := SyrupFromRecipe(SyrupRecipe{
			Name: "s", Sugar: Portion{Grams: &a}, Water: Portion{Millilitres: &c},
			WaterAt: profile.Celsius(pick(80)), BoiledOff: &Measurement[profile.Gram]{Value: profile.Gram(pick(20))},
		})
		try("syrup", m, err)
		m, err = SalineFromRecipe(SalineRecipe{Name: "s", Salt: g(100), Solvent: Solvent{MadeUpTo: &c}})
		try("saline", m, err)
		m, err = AcidFromRecipe(AcidRecipe{
			Name: "a", Solvent: Solvent{Water: &b},
			Acids: []AcidPowder{{Acid: CitricPerLitre, Grams: g(40), Purity: profile.MassFraction(pick(0.9))}, {Acid: Column(random.IntN(Columns)), Grams: g(10)}},
		})
		try("acid", m, err)
		m, err = MeasureAcid(TitrationReading{
			Name: "j", Sample: ml(5), Used: ml(40), Blank: profile.Millilitre(pick(0)),
			Strength: Measurement[profile.EquivalentPerLitre]{Value: profile.EquivalentPerLitre(pick(0.1))}, As: Column(random.IntN(Columns+2) - 1),
		})
		try("titration", m, err)
		m, err = MeasureAcidByYardstick(YardstickReading{
			Name: "j", Yardstick: Measurement[profile.GramPerLitre]{Value: profile.GramPerLitre(pick(60))},
			YardstickVolume: ml(10), Sample: ml(10),
			YardstickUsed: Measurement[profile.BaseUsed]{Value: profile.BaseUsed(pick(30))}, SampleUsed: Measurement[profile.BaseUsed]{Value: profile.BaseUsed(pick(25))},
		})
		try("yardstick", m, err)
		m, err = InfusionFromRecipe(InfusionRecipe{
			Name: "i", Base: spirit, Volume: ml(700), Plant: g(50), Time: Hour(pick(24)),
			PlantWater: Measurement[profile.MassFraction]{Value: profile.MassFraction(pick(0.5))}, Retained: Measurement[MillilitrePerGram]{Value: MillilitrePerGram(pick(2))},
			Extracts: []Extract{{Into: Column(random.IntN(Columns+2) - 1), Dose: pick(1000), Share: pick(0.5), Rate: PerHour(pick(0.1))}},
		})
		try("infusion", m, err)
		acid, sugar := profile.GramPerLitre(pick(46)), profile.GramPerLitre(pick(120))
		adjusted, err := AdjustJuice(JuiceQuestion{
			Name: "j", Juice: juice, Batch: profile.Millilitre(pick(1000)), Acid: &acid, Sugar: &sugar,
			Blend: []AcidShare{{Acid: MalicPerLitre, Share: pick(1)}, {Acid: CitricPerLitre, Share: pick(2), Purity: profile.MassFraction(pick(1))}}, Scale: profile.Gram(pick(0.1)),
		})
		if err == nil {
			try("juice", &adjusted.Measured, nil)
		}
		calibrated, err := Calibrate(CountReading{Of: spirit, Total: profile.Gram(pick(14)), Count: 20, Scale: profile.Gram(pick(0.1))})
		if err == nil {
			readsBack(t, calibrated.Ingredient)
		}
		brix := Measurement[profile.Brix]{Value: profile.Brix(pick(35)), Spread: profile.Brix(pick(0.2))}
		m, err = MeasureLiqueur(LiqueurReadings{
			Name: "l", Brix: &BrixReading{Brix: brix, At: profile.Celsius(pick(20))},
			Density:  &DensityReading{Density: Measurement[profile.KilogramPerCubicMetre]{Value: profile.KilogramPerCubicMetre(pick(1080))}, At: 20},
			Strength: value(profile.PercentVolume(pick(25))),
		})
		try("liqueur", m, err)
		bitter, err := MeasureBitterness(BitternessReading{Name: "b", Tasters: []Taster{{
			Bracket[profile.MilligramPerLitre]{profile.MilligramPerLitre(pick(4)), profile.MilligramPerLitre(pick(6))},
			Bracket[MillilitrePerLitre]{MillilitrePerLitre(pick(2)), MillilitrePerLitre(pick(3))},
		}}})
		if err == nil {
			try("bitterness", &bitter.Measured, nil)
		}
	}
}

func TestNamesAreCleanedAndDemanded(t *testing.T) {
	recipe := SyrupRecipe{Name: "  =house\tsyrup\x00 ", Sugar: Portion{Grams: value(profile.Gram(500))}, Water: Portion{Grams: value(profile.Gram(500))}}
	m, err := SyrupFromRecipe(recipe)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, m)
	if m.Ingredient.Name != "=house syrup" {
		t.Errorf("name %q", m.Ingredient.Name)
	}
	recipe.Name = " \t "
	_, err = SyrupFromRecipe(recipe)
	refused(t, err, "name", "expected")
}

func TestEveryFaultIsSaidAtOnce(t *testing.T) {
	_, err := SyrupFromRecipe(SyrupRecipe{Sugar: Portion{Grams: value(profile.Gram(-3))}, WaterAt: 400})
	refused(t, err, "name", "sugar -3 g", "no amount of water", "temperature of the water 400 °C; expected 0 to 100 °C")
	if lines := strings.Split(err.Error(), "\n"); len(lines) != 4 || slices.Contains(lines, "") {
		t.Errorf("%d lines in %q", len(lines), err)
	}
}
