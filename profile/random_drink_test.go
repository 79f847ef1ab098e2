package profile

import (
	"flag"
	"math"
	"os"
	"testing"

	"pgregory.net/rapid"
)

// TestMain gives the random drinks one seed, so that every run tries the same
// ones; RAPID_SEED sets another.
func TestMain(m *testing.M) {
	flag.Parse()
	if os.Getenv("RAPID_SEED") == "" && flag.Lookup("rapid.seed").Value.String() == "0" {
		if err := flag.Set("rapid.seed", "20"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}

// mostInPour bounds the random amounts of a pour, which is like a drink's: some
// tens of grams, and traces of the rest.
var mostInPour = State{
	EthanolGrams: 25, SucroseGrams: 15, GlucoseGrams: 5, FructoseGrams: 5, OtherSugarsGrams: 3, PolyolsGrams: 3,
	CitricGrams: 2, MalicGrams: 1, TartaricGrams: 1, LacticGrams: 1, AceticGrams: 1, PhosphoricGrams: 0.5,
	SuccinicGrams: 0.5, AscorbicGrams: 0.5, GluconicGrams: 0.5, QuinicGrams: 0.5, OxalicGrams: 0.5,
	GumGrams: 0.5, OtherSolidsGrams: 2, CarbonDioxideGrams: 0.5,
	SodiumMilligrams: 400, PotassiumMilligrams: 400, GlutamicMilligrams: 200, NucleotidesMilligrams: 50, CaffeineMilligrams: 80,
	SweetenerGrams: 2, ThickenerGrams: 0.1, TitratableAcidGrams: 2, StrongChargeMilliequivalents: 3, BitternessMilligrams: 5,
	VolumeCorrectionMillilitres: 1, Cost: 3,
}

// drawPour draws a pour with 10 to 60 g of water at a temperature from low to
// high.
func drawPour(t *rapid.T, name string, low, high float64) State {
	return drawPourOf(t, name, 0, low, high)
}

// drawPourOf draws a pour with least or more, as a part of the most, of
// every component.
func drawPourOf(t *rapid.T, name string, least, low, high float64) State {
	var s State
	// Protein and fat are parts of the other solids and have no draw of their own.
	const drawn = Components - 2
	parts := rapid.SliceOfN(rapid.Float64Range(least, 1), drawn, drawn).Draw(t, name+" parts")
	for c, most := range mostInPour {
		switch part := Component(c); {
		case part > FatGrams:
			s[c] = most * parts[c-2]
		case part < ProteinGrams:
			s[c] = most * parts[c]
		}
	}
	s[ProteinGrams], s[FatGrams] = 0.3*s[OtherSolidsGrams], 0.5*s[OtherSolidsGrams]
	s[WaterGrams] = rapid.Float64Range(10, 60).Draw(t, name+" water")
	return at(s, Celsius(rapid.Float64Range(low, high).Draw(t, name+" temperature")))
}

// drawIce draws a method, ample or measured ice, wet or cold, or fixed water.
func drawIce(t *rapid.T) Ice {
	ice := Ice{Method: Method(rapid.IntRange(0, methods-1).Draw(t, "method"))}
	if rapid.Bool().Draw(t, "measured ice") {
		ice.Mass = Gram(rapid.Float64Range(1, 300).Draw(t, "ice"))
	}
	if rapid.Bool().Draw(t, "cold ice") {
		ice.At = Celsius(rapid.Float64Range(-25, 0).Draw(t, "ice temperature"))
	}
	if rapid.Bool().Draw(t, "fixed water") {
		ice.WaterFixed = true
		ice.WaterPercent = float64(rapid.IntRange(0, 8000).Draw(t, "water percent")) / 100
	}
	return ice
}

// drawDrink draws a mix, its ice and sometimes a top.
func drawDrink(t *rapid.T) Drink {
	d := Drink{Mix: drawPour(t, "mix", 0.5, 30), Ice: drawIce(t)}
	if rapid.Bool().Draw(t, "topped") {
		d.Top = drawPour(t, "top", 0.5, 25)
	}
	return d
}

// roundOff is how far two ways to the same drink may differ.
const roundOff = 1e-12

// alike tells whether two numbers differ by no more than round-off, relative
// to the larger of them and 1.
func alike(a, b, tolerance float64) bool {
	return math.Abs(a-b) <= tolerance*max(1, math.Abs(a), math.Abs(b))
}

// expectAlike fails for each property in which the drinks differ.
func expectAlike(t *rapid.T, got, want *Values, tolerance float64) {
	t.Helper()
	for p := range got {
		if !alike(got[p], want[p], tolerance) {
			t.Errorf("%s: %.17g and %.17g", Property(p).Name(), got[p], want[p])
		}
	}
}
