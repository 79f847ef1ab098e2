package pantry

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"minim/profile"
)

func TestAmountsAsTheTradeWritesThem(t *testing.T) {
	for _, c := range []struct {
		text    string
		want    Amount
		written string
	}{
		{"30 ml", Amount{30, Millilitres}, "30 ml"},
		{"30ml", Amount{30, Millilitres}, "30 ml"},
		{"22.50 mL", Amount{22.5, Millilitres}, "22.5 ml"},
		{".5 cl", Amount{0.5, Centilitres}, "0.5 cl"},
		{"1 L", Amount{1, Litres}, "1 l"},
		{"¾ oz", Amount{0.75, USOunces}, "¾ oz"},
		{"3/4 oz", Amount{0.75, USOunces}, "¾ oz"},
		{"0.75 oz.", Amount{0.75, USOunces}, "¾ oz"},
		{"1 ½ oz", Amount{1.5, USOunces}, "1 ½ oz"},
		{"1½ fl. oz.", Amount{1.5, USOunces}, "1 ½ oz"},
		{"1 1/2 fluid ounces", Amount{1.5, USOunces}, "1 ½ oz"},
		{"⅓ oz", Amount{1.0 / 3, USOunces}, "⅓ oz"},
		{"⅔ oz", Amount{2.0 / 3, USOunces}, "⅔ oz"},
		{"1 ⅛ oz", Amount{1.125, USOunces}, "1 ⅛ oz"},
		{"2 oz", Amount{2, USOunces}, "2 oz"},
		{"0.7 oz", Amount{0.7, USOunces}, "0.7 oz"},
		{"1 imp oz", Amount{1, ImperialOunces}, "1 imp oz"},
		{"0.25 imperial ounces", Amount{0.25, ImperialOunces}, "¼ imp oz"},
		{"0.1 g", Amount{0.1, Grams}, "0.1 g"},
		{"1.2 kg", Amount{1.2, Kilograms}, "1.2 kg"},
		{"1 dash", Amount{1, Dashes}, "1 dash"},
		{"2 Dashes", Amount{2, Dashes}, "2 dashes"},
		{"1 drops", Amount{1, Drops}, "1 drop"},
		{"½ barspoon", Amount{0.5, Barspoons}, "0.5 barspoon"},
		{"2 bsp", Amount{2, Barspoons}, "2 barspoons"},
		{"1 bar spoon", Amount{1, Barspoons}, "1 barspoon"},
		{"2 tsp", Amount{2, Teaspoons}, "2 tsp"},
		{"2 pinches", Amount{2, Pinches}, "2 pinches"},
		{"1 piece", Amount{1, Pieces}, "1 piece"},
		{"3 pcs", Amount{3, Pieces}, "3 pieces"},
		{"0 ml", Amount{0, Millilitres}, "0 ml"},
		{"1000000 ml", Amount{1e6, Millilitres}, "1000000 ml"},
	} {
		got, err := ParseAmount(c.text)
		if err != nil || got != c.want {
			t.Errorf("ParseAmount(%q) = %v, %v; want %v", c.text, got, err, c.want)
			continue
		}
		if got.String() != c.written {
			t.Errorf("ParseAmount(%q).String() = %q; want %q", c.text, got.String(), c.written)
		}
	}
}

func TestAmountsThatAreRefused(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"", "is not an amount"},
		{"ml", "is not an amount"},
		{"30", "has no unit"},
		{"2,5 ml", "hint: write 2.5 ml"},
		{"1,000 ml", "write 1000 for a thousand"},
		{"-5 ml", "is negative"},
		{"−5 ml", "is negative"},
		{"NaN ml", "is not an amount"},
		{"Inf ml", "is not an amount"},
		{"1e3 ml", "no unit \"e3 ml\""},
		{"1000001 ml", "too large"},
		{strings.Repeat("9", 400) + " ml", "too large"},
		{"1/0 oz", "is not a number"},
		{"0.0000001 ml", "too small"},
		{"1.2.3 ml", "is not a number"},
		{"30 g/L", "is a concentration"},
		{"30 mg/l", "is a concentration"},
		{"9 % vol", "is a proportion"},
		{"5 °C", "is a temperature"},
		{"100 kcal", "is an energy"},
		{"1 part", "a part has no size"},
		{"1 tbsp", "3 tsp"},
		{"2 splashes", "a splash has no size"},
		{"2 dahses", "nearest: dash"},
		{"1 barspon", "nearest: barspoon"},
	} {
		got, err := ParseAmount(c.text)
		if err == nil {
			t.Errorf("ParseAmount(%q) = %v; want an error with %q", c.text, got, c.says)
		} else if !strings.Contains(err.Error(), c.says) {
			t.Errorf("ParseAmount(%q): %v; want %q in it", c.text, err, c.says)
		}
	}
}

// The published sizes of the units; tolerance: one rounding of a float64.
func TestUnitsHoldWhatIsPublished(t *testing.T) {
	const cubicInch = 2.54 * 2.54 * 2.54 // ml
	water := &Ingredient{Name: "water"}
	for _, c := range []struct {
		amount Amount
		ml     float64
		source string
	}{
		{Amount{1, USOunces}, 231 * cubicInch / 128, "US gallon of 231 cubic inches, 128 ounces: NIST Handbook 44, appendix C, from memory"},
		{Amount{1, ImperialOunces}, 4546.09 / 160, "gallon of 4.54609 l, 160 ounces: UK Units of Measurement Regulations 1995, schedule, from memory"},
		{Amount{1, Centilitres}, 10, "SI prefixes"},
		{Amount{1, Litres}, 1000, "SI prefixes"},
		{Amount{1, Teaspoons}, 5, "US nutrition labelling, 21 CFR 101.9(b)(5)(viii): a teaspoon is 5 ml, from memory"},
		{Amount{4, Barspoons}, 20, "common practice, no source"},
		{Amount{3, Dashes}, 2.76, "common practice, no source"},
		{Amount{20, Drops}, 1, "common practice, no source"},
	} {
		got, err := c.amount.Of(water)
		if err != nil || math.Abs(got-c.ml) > 1e-12*c.ml {
			t.Errorf("%v = %v ml, %v; want %v (%s)", c.amount, got, err, c.ml, c.source)
		}
	}
}

func TestAmountsOfLiquidsAndSolids(t *testing.T) {
	syrup := &Ingredient{Name: "syrup"}
	syrup.Figures[DensityGramsPerMillilitre] = Figure{Value: 1.25, Known: true}
	unweighed := &Ingredient{Name: "still water"}
	bitters := &Ingredient{Name: "bitters", DashMillilitres: 0.6}
	eggWhite := &Ingredient{Name: "egg white", Piece: 30}
	sugar := &Ingredient{Name: "sugar", Solid: true, BulkGramsPerMillilitre: 0.8}
	salt := &Ingredient{Name: "salt", Solid: true}
	cube := &Ingredient{Name: "sugar cube", Solid: true, Piece: 4}
	for _, c := range []struct {
		amount Amount
		of     *Ingredient
		want   float64
		says   string
	}{
		{Amount{30, Millilitres}, syrup, 30, ""},
		{Amount{25, Grams}, syrup, 20, ""},
		{Amount{1, Kilograms}, syrup, 800, ""},
		{Amount{25, Grams}, unweighed, 25 / 0.99820123, ""}, // filled with water: OIML R 22, density at 20 °C
		{Amount{2, Dashes}, bitters, 1.2, ""},
		{Amount{1, Pieces}, eggWhite, 30, ""},
		{Amount{1, Pieces}, syrup, 0, "size of one piece is not known"},
		{Amount{1, Pinches}, syrup, 0, "a pinch is for powders"},
		{Amount{10, Grams}, sugar, 10, ""},
		{Amount{2, Barspoons}, sugar, 8, ""},
		{Amount{1, Pinches}, salt, 0.3, ""},
		{Amount{1, Teaspoons}, salt, 0, "no bulk density"},
		{Amount{5, Millilitres}, salt, 0, "no bulk density"},
		{Amount{2, Pieces}, cube, 8, ""},
	} {
		got, err := c.amount.Of(c.of)
		switch {
		case c.says != "":
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v of %s: %v, %v; want an error with %q", c.amount, c.of.Name, got, err, c.says)
			}
		case err != nil || math.Abs(got-c.want) > 1e-9:
			t.Errorf("%v of %s = %v, %v; want %v", c.amount, c.of.Name, got, err, c.want)
		}
	}
}

func TestAmountIsReadBackAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAmount(t, "amount")
		back, err := ParseAmount(a.String())
		if err != nil || back != a {
			t.Fatalf("%#v is written %q and read %#v, %v", a, a.String(), back, err)
		}
	})
}

// anyAmount draws an amount of more than nothing, often a round one.
func anyAmount(t *rapid.T, label string) Amount {
	value := rapid.OneOf(
		rapid.Map(rapid.IntRange(1, 400), func(n int) float64 { return float64(n) / 4 }),
		rapid.Map(rapid.IntRange(1, 48), func(n int) float64 { return float64(n) / 3 }),
		numberFrom(smallestMagnitude, largestMagnitude),
		rapid.SampledFrom([]float64{smallestMagnitude, 1.0 / 30000, largestMagnitude}),
	).Draw(t, label)
	return Amount{value, Unit(rapid.IntRange(0, units-1).Draw(t, label+" unit"))}
}

// numberFrom draws numbers that a spec can hold: none is nearer to 0 than the
// smallest magnitude, but 0 itself.
func numberFrom(low, high float64) *rapid.Generator[float64] {
	return rapid.Map(rapid.Float64Range(low, high), func(v float64) float64 {
		if math.Abs(v) < smallestMagnitude {
			return 0
		}
		return v
	})
}

func FuzzParseAmount(f *testing.F) {
	for _, text := range []string{"30 ml", "¾ oz", "1 1/2 oz", "2 dashes", "2,5 ml", "-1 ml", "1/0 oz", "1 ⅔ imp oz", "\xff ml", "5 ×"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := ParseAmount(text)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error that says nothing")
			}
			return
		}
		if !(a.Value >= 0 && a.Value <= largestMagnitude) {
			t.Fatalf("%q is read as %v", text, a.Value)
		}
		if back, err := ParseAmount(a.String()); err != nil || back != a {
			t.Fatalf("%q is read as %v, written %q and read %v, %v", text, a, a, back, err)
		}
	})
}

func TestVolumesForGlasses(t *testing.T) {
	for text, want := range map[string]profile.Millilitre{"240 ml": 240, "8 oz": 8 * profile.USFluidOunce, "1 l": 1000, "12 cl": 120} {
		if got, wrong := parseVolume(text); wrong != nil || got != want {
			t.Errorf("parseVolume(%q) = %v, %v; want %v", text, got, wrong, want)
		}
	}
}
