package pantry

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"minim/profile"
)

// onePrep makes one prep on the embedded shelf.
func onePrep(t *testing.T, text string) *Prep {
	t.Helper()
	s, err := ReadSpec(strings.NewReader(text), "p.yaml")
	if err != nil {
		t.Fatal(err)
	}
	_, p, err := Embedded().WithPrep(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// 20 g of a plant that gives 60 mg of citric acid a gram, with a half time of 5 min,
// after 10 min: 20 × 60 × 3/4 = 900 mg in the liquid, of which 2 ml a gram, 40 ml,
// stay in the leaves. The litre is that of the water; acid and water add to it what
// the volume of 0.9 g of acid is, 0.5 ml.
func TestSteepingGivesByDoseAndTime(t *testing.T) {
	p := onePrep(t, `mix:
  water: 1000 ml
steps:
  - steep: {dried hibiscus: 20 g, for: 10 min, half in: 5 min, gives: {citric: 60 mg/g ± 6}}
makes: {store: fridge}
`)
	unit := p.Ingredient.PerUnit()
	byHand(t, "the yield", float64(p.Yield), 1000.5-40, 0.1)
	byHand(t, "citric acid in a litre", 1000*unit[profile.CitricGrams], 0.9/1.0005, 1e-4)
	byHand(t, "titrated acid in a litre", 1000*unit[profile.TitratableAcidGrams], 0.9/1.0005, 1e-4)
	byHand(t, "the ± of it", 1000*p.Ingredient.PerUnitSpread()[profile.CitricGrams], 0.09/1.0005, 1e-4)
}

// What nothing is known of is unknown, and what is written is known.
func TestSteepedPlantsAreUnknownUntilMeasured(t *testing.T) {
	steep := "mix:\n  water: 1000 ml\nsteps:\n  - steep: {dried hibiscus: 20 g%}\nmakes: {store: fridge}\n"
	silent := onePrep(t, strings.Replace(steep, "%", "", 1)).Ingredient
	told := onePrep(t, strings.Replace(steep, "%", ", gives: {citric: 60 mg/g, sucrose: 0 g/kg, bitterness: 0 mg/kg}", 1)).Ingredient
	for _, p := range []profile.Property{profile.Sugar, profile.Acid, profile.PH, profile.Bitter, profile.Caffeine, profile.Umami} {
		if !silent.Unknown(p) {
			t.Errorf("%s is known", p.Name())
		}
		if _, bounded := silent.Ceiling(p); bounded {
			t.Errorf("%s has a ceiling", p.Name())
		}
	}
	for p, unknown := range map[profile.Property]bool{
		profile.Sugar: false, profile.Acid: false, profile.PH: false, profile.Bitter: false, profile.Caffeine: true, profile.Strength: false, profile.Salt: false,
	} {
		if told.Unknown(p) != unknown {
			t.Errorf("%s unknown: %v, want %v", p.Name(), told.Unknown(p), unknown)
		}
	}
	if silent.Vegan != Unknown || !slices.Contains(onePrep(t, strings.Replace(steep, "%", "", 1)).Unpriced, "dried hibiscus") {
		t.Error("a plant of which nothing is known makes a prep vegan, or has a price")
	}
}

// A row of the bar's says what a kilogram of the plant gives, and what it costs.
func TestPlantOnTheShelfGivesWhatItsRowSays(t *testing.T) {
	house := "name,state,basis,caffeine_mg_per_l,bitterness_mg_per_l_quinine_hcl_eq,price,pack,allergens\nbar leaf,solid,per_kg,20000,1000,50,1 kg,celery\n"
	shelf, err := Embedded().Overlay(strings.NewReader(house), "house.csv")
	if err != nil {
		t.Fatal(err)
	}
	s := mustRead(t, "mix:\n  water: 500 ml\nsteps:\n  - steep: {bar leaf: 10 g, gives: {bitterness: 500 mg/kg}}\nmakes: {volume: 400 ml}\n")
	_, p, err := shelf.WithPrep(s)
	if err != nil {
		t.Fatal(err)
	}
	unit := p.Ingredient.PerUnit()
	byHand(t, "caffeine in a litre", 1000*unit[profile.CaffeineMilligrams], 400, 0.2)
	byHand(t, "bitterness in a litre", 1000*unit[profile.BitternessMilligrams], 10, 0.01)
	byHand(t, "the cost of a ml", unit[profile.Cost], 0.5/400, 1e-9)
	if !slices.Contains(p.Ingredient.Allergens, "celery") {
		t.Errorf("allergens %v", p.Ingredient.Allergens)
	}
}

// 500 g of sugar, of which a gram is other solids, and 500 ml of water, reduced to
// 65 °Bx: all of the 500 g is dissolved, 500/0.65 = 769.2 g. The price of what went in is spread over what is left.
func TestReducedSyrupKeepsItsSugarAndItsCost(t *testing.T) {
	house := "name,price,pack\nwhite sugar,2,1 kg\n"
	shelf, err := Embedded().Overlay(strings.NewReader(house), "house.csv")
	if err != nil {
		t.Fatal(err)
	}
	s := mustRead(t, "mix:\n  water: 500 ml\n  white sugar: 500 g\nsteps:\n  - reduce: to 65 °Bx\nmakes: {keeps: 3 months, store: shelf}\n")
	_, p, err := shelf.WithPrep(s)
	if err != nil {
		t.Fatal(err)
	}
	unit := p.Ingredient.PerUnit()
	mass := float64(unit.Mass()) * float64(p.Yield)
	byHand(t, "the mass", mass, 769.2, 0.2)
	byHand(t, "the sugar", unit[profile.SucroseGrams]*float64(p.Yield), 499, 1e-6)
	byHand(t, "the cost", unit[profile.Cost]*float64(p.Yield), 1, 1e-9)
	brix, _, ok := p.Ingredient.Brix()
	if !ok {
		t.Fatal("no Brix")
	}
	byHand(t, "the Brix", brix, 65, 0.01)
	if p.Ingredient.Keeps != "3 months, shelf" || p.Ingredient.KeptAt != 20 {
		t.Errorf("keeps %q at %v °C", p.Ingredient.Keeps, p.Ingredient.KeptAt)
	}
}

// Losing liquid leaves what is left as it was, at a higher price.
func TestStrainingLosesLiquidAndNothingElse(t *testing.T) {
	mix := "mix:\n  lemon juice: 200 ml\n  rich syrup: 200 ml\n"
	whole := onePrep(t, mix+"makes: {store: fridge}\n")
	strained := onePrep(t, mix+"steps:\n  - strain: loses 40 ml\n  - strain: loses 10 %\nmakes: {store: fridge}\n")
	byHand(t, "the yield", float64(strained.Yield), 0.9*(float64(whole.Yield)-40), 1e-9)
	a, b := whole.Ingredient.PerUnit(), strained.Ingredient.PerUnit()
	spreadA, spreadB := whole.Ingredient.PerUnitSpread(), strained.Ingredient.PerUnitSpread()
	for c := range a {
		if math.Abs(a[c]-b[c]) > 1e-12*(1+math.Abs(a[c])) || math.Abs(spreadA[c]-spreadB[c]) > 1e-12*(1+spreadA[c]) {
			t.Errorf("component %d: %v ± %v, strained %v ± %v", c, a[c], spreadA[c], b[c], spreadB[c])
		}
	}
}

// The first-order ± of a mixture of two independent juices by hand: each one's ±
// times its part.
func TestSpreadOfAPrepIsThatOfItsPartsByFirstOrder(t *testing.T) {
	p := onePrep(t, "mix:\n  lemon juice: 100 ml\n  lime juice: 300 ml\nmakes: {store: fridge}\n").Ingredient
	lemon, _ := Embedded().Find("lemon juice")
	lime, _ := Embedded().Find("lime juice")
	want := math.Hypot(100*lemon.PerUnitSpread()[profile.CitricGrams], 300*lime.PerUnitSpread()[profile.CitricGrams]) / 400
	byHand(t, "the ± of citric acid", p.PerUnitSpread()[profile.CitricGrams], want, 1e-3*want)
	if p.HasOwnBitterness() {
		t.Error("bitterness known to a factor came out with a ± of its own")
	}
}

func TestPrepIsPouredAtTheTemperatureOfItsPlace(t *testing.T) {
	for text, want := range map[string]profile.Celsius{
		"water: 500 ml\nmakes: {store: shelf}\n":                        20,
		"water: 500 ml\nmakes: {store: fridge}\n":                       5,
		"water: 500 ml\nmakes: {store: freezer}\n":                      5, // it would freeze
		"dry gin: 500 ml\nmakes: {store: freezer}\n":                    -18,
		"water: 500 ml at 60 °C\nmakes: {volume: 480 ml}\n":             20,
		"water: 500 ml\nsteps: [dilute: to 1 l]\nmakes: {keeps: 1 day}": 20,
	} {
		p := onePrep(t, "mix:\n  "+text)
		if p.Ingredient.KeptAt != want {
			t.Errorf("%s is poured at %v °C, want %v", text, p.Ingredient.KeptAt, want)
		}
		if got := p.Ingredient.PerUnit().TemperatureAlone(); math.Abs(float64(got-want)) > 1e-6 {
			t.Errorf("%s has %v °C, want %v", text, got, want)
		}
	}
}

// Half a litre of water measured at 60 °C weighs 0.5 × 983.2 g (CRC Handbook): 1.5 %
// less than at 20 °C.
func TestPourMeasuredHotIsLess(t *testing.T) {
	p := onePrep(t, "mix:\n  water: 500 ml at 60 °C\nmakes: {store: shelf}\n")
	byHand(t, "the mass", float64(p.Yield)*float64(p.Ingredient.PerUnit().Mass()), 491.6, 0.4)
}

func TestStepsThatCannotBeDoneSayWhatIsThere(t *testing.T) {
	for step, want := range map[string]string{
		"reduce: to 2 l":             "p.yaml:4:5: reduce to 2000 ml, but there are only 500 ml; expected less",
		"reduce: to 600 g":           "reduce to 600 g, but there are only 499 g; expected less",
		"dilute: to 400 ml":          "dilute to 400 ml, but there are 500 ml already; expected more",
		"strain: loses 500 ml":       "strain loses 500 ml, but there are only 500 ml; expected less",
		"steep: {leaf: 300 g}":       "leaf keeps back all of the 500 ml; expected more liquid, or less plant",
		"reduce: to 5 °Bx":           "reduce to 5 °Bx: it would boil dry before that; expected more",
		"steep: {lemon juice: 30 g}": "lemon juice is a liquid; expected a plant to steep",
	} {
		s, err := ReadSpec(strings.NewReader("mix:\n  water: 500 ml\nsteps:\n  - "+step+"\nmakes: {store: shelf}\n"), "p.yaml")
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := Embedded().WithPrep(s); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; want %s", step, err, want)
		}
	}
}

func TestPrepNotesWhatItsMakerShouldKnow(t *testing.T) {
	for text, want := range map[string]string{
		"mix:\n  water: 500 ml\nmakes: {volume: 750 ml}\n":                                                "makes 750 ml, but only 500 ml come of what goes in",
		"drink: Winter\nmix:\n  red wine: 500 ml\nsteps:\n  - reduce: to 250 ml\nmakes: {store: shelf}\n": "Winter: its alcohol boils off first: 13.0 % vol before, 0.0 after",
		"mix:\n  vodka: 500 ml\nsteps:\n  - steep: {rosemary: 5 g}\nmakes: {store: shelf}\n":              "what rosemary gives is unknown; measure its acid, sugar and bitterness",
	} {
		if notes := strings.Join(onePrep(t, text).Notes, "\n"); !strings.Contains(notes, want) {
			t.Errorf("%s notes %q; want %s", text, notes, want)
		}
	}
	beside := files(map[string]string{
		"short.yaml": "mix:\n  water: 100 ml\nmakes: {keeps: 2 days}\n",
		"long.yaml":  "mix:\n  short: 50 ml\nmakes: {keeps: 2 weeks}\n",
	})
	shelf, _, err := prepShelf(t, beside, "mix:\n  long: 40 ml\n")
	if err != nil {
		t.Fatal(err)
	}
	if notes := shelf.Preps()[1].Notes; len(notes) != 1 || notes[0] != "long: keeps 2 weeks, but the short in it 2 days" {
		t.Errorf("notes %q", notes)
	}
}

// Measured lemons go into the prep that is made of them.
func TestLotsLieBelowPreps(t *testing.T) {
	day := time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC)
	lot := Lot{Date: day, Ingredient: "lemon juice"}
	lot.Readings[LotAcid] = Reading{Value: 60, Known: true}
	shelf, _, err := Embedded().WithLots([]Lot{lot})
	if err != nil {
		t.Fatal(err)
	}
	shelf, err = shelf.WithPreps(files(map[string]string{"p.yaml": "mix:\n  lemon juice: 500 ml\nmakes: {store: fridge}\n"}), ".", mustRead(t, "mix:\n  p: 30 ml\n"))
	if err != nil {
		t.Fatal(err)
	}
	byHand(t, "acid in a litre", 1000*found(t, shelf, "p").PerUnit()[profile.TitratableAcidGrams], 60, 1e-9)
	if _, ok := shelf.Lot(found(t, shelf, "lemon juice")); !ok {
		t.Error("the lot is forgotten")
	}
}

// Four volumes are 7.908 g/L, and what is carbonated bubbles.
func TestCarbonatedPrepBubbles(t *testing.T) {
	p := onePrep(t, "mix:\n  water: 500 ml\nsteps:\n  - carbonate: 4 volumes\nmakes: {store: fridge}\n").Ingredient
	byHand(t, "gas in a litre", 1000*p.PerUnit()[profile.CarbonDioxideGrams], 7.908, 1e-9)
	if !p.Bubbles() {
		t.Error("does not bubble")
	}
}
