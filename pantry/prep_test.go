package pantry

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"minim/profile"
)

// files are specs by name, each with its drink line where it needs one.
func files(text map[string]string) fstest.MapFS {
	fs := fstest.MapFS{}
	for name, spec := range text {
		fs[name] = &fstest.MapFile{Data: []byte(spec)}
	}
	return fs
}

// prepShelf is the embedded pantry with the preps that a spec pours.
func prepShelf(t interface {
	Helper()
	Fatal(...any)
}, beside fstest.MapFS, spec string,
) (*Shelf, *Spec, error) {
	t.Helper()
	s, err := ReadSpec(strings.NewReader(spec), "ask.yaml")
	if err != nil {
		t.Fatal(err)
	}
	shelf, err := Embedded().WithPreps(beside, ".", s)
	return shelf, s, err
}

func found(t *testing.T, shelf *Shelf, name string) *Ingredient {
	t.Helper()
	i, err := shelf.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return i
}

func byHand(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6g, by hand %.6g", what, got, want)
	}
}

// By hand, in grams, so that no volume comes in:
//
//	syrup    200 g sugar + 100 g water                      = 300 g
//	cordial  150 g of it (100 g sugar) + 10 g citric acid   = 160 g
//	base     80 g of it (50 g sugar, 5 g citric) + 2 g salt + 118 g water = 200 g
//
// so a gram of base holds 0.25 g of sugar, 0.025 g of citric acid and 10 mg of
// salt, of which 10 × 22.990 / 58.443 = 3.934 mg is sodium. Costs: sugar 1.50 a
// kilogram, citric acid 8.00, salt 1.00: base 50 × 0.0015 + 5 × 0.008 + 2 × 0.001
// = 0.117 for 200 g. Molar masses from IUPAC atomic weights.
func TestPrepOfThreeLevelsIsThatOfHandArithmetic(t *testing.T) {
	house := "name,price,pack\nwhite sugar,1.50,1 kg\ncitric acid,8.00,1 kg\nfine salt,1.00,1 kg\n"
	stock, err := Embedded().Overlay(strings.NewReader(house), "house.csv")
	if err != nil {
		t.Fatal(err)
	}
	beside := files(map[string]string{
		"syrup.yaml":        "mix:\n  white sugar: 200 g\n  water: 100 g\nmakes: {store: fridge}\n",
		"house cordial.yml": "drink: Tide cordial\nmix:\n  syrup: 150 g\n  citric acid: 10 g\nmakes: {store: fridge}\n",
		"03.yaml":           "mix:\n  tide cordials: 80 g\n  fine salt: 2 g\n  water: 118 g\nmakes: {store: fridge}\ndrink: 'Weir base' # the third\n",
	})
	ask := mustRead(t, "mix:\n  weir base: 40 ml\n")
	shelf, err := stock.WithPreps(beside, ".", ask)
	if err != nil {
		t.Fatal(err)
	}
	base := found(t, shelf, "Weir base")
	unit := base.PerUnit()
	mass := float64(unit.Mass())
	sugar := found(t, shelf, "white sugar").PerUnit()[profile.SucroseGrams]
	byHand(t, "sugar in a gram", unit[profile.SucroseGrams]/mass, 0.25*sugar, 1e-4)
	byHand(t, "citric acid in a gram", unit[profile.CitricGrams]/mass, 0.025*found(t, shelf, "citric acid").PerUnit()[profile.CitricGrams], 1e-6)
	byHand(t, "sodium in a gram", unit[profile.SodiumMilligrams]/mass, 3.934, 0.04)
	byHand(t, "the cost of a gram", unit[profile.Cost]/mass, 0.117/200, 1e-6)
	prep, ok := shelf.Prep(base)
	if !ok || len(shelf.Preps()) != 3 || prep.Spec.File != "03.yaml" {
		t.Fatalf("%v, %v preps", prep, len(shelf.Preps()))
	}
	byHand(t, "the yield by weight", float64(prep.Yield)*mass, 200, 1e-6)
	each, priced := base.PricePerUnit()
	byHand(t, "the price of a ml", each, unit[profile.Cost], 1e-12)
	if !priced || len(prep.Unpriced) > 0 {
		t.Errorf("no price; %v", prep.Unpriced)
	}
	below := []string{}
	for _, p := range shelf.Preps() {
		below = append(below, p.Ingredient.Name)
	}
	if got := strings.Join(below, ", "); got != "syrup, Tide cordial, Weir base" {
		t.Errorf("the preps are %s; expected each after those it pours", got)
	}
}

// What a drink is does not depend on whether its parts were mixed before: a prep of
// random parts, poured by the ml, brings the parts in proportion, in every
// component.
func TestMixingPrepsConservesEverything(t *testing.T) {
	names := []string{"dry gin", "lemon juice", "rich syrup", "saline", "soy sauce", "aromatic bitters", "egg white", "fine salt", "citric acid", "white sugar", "green tea", "honey syrup"}
	rapid.Check(t, func(rt *rapid.T) {
		chosen := rapid.SliceOfNDistinct(rapid.SampledFrom(names), 1, 5, rapid.ID[string]).Draw(rt, "parts")
		inner := rapid.Float64Range(10, 300).Draw(rt, "of the inner")
		text := "mix:\n  water: 300 ml\n"
		want := map[string]float64{"water": 300}
		for _, name := range chosen {
			amount := math.Round(rapid.Float64Range(1, 200).Draw(rt, "amount")*10) / 10
			i, err := Embedded().Find(name)
			if err != nil {
				rt.Fatal(err)
			}
			text += fmt.Sprintf("  %s: %v %s\n", name, amount, i.baseUnit())
			want[name] = amount
		}
		beside := files(map[string]string{
			"inner.yaml": text + "makes: {store: shelf}\n",
			"outer.yaml": fmt.Sprintf("mix:\n  inner: %v ml\n  vodka: 100 ml\nmakes: {store: shelf}\n", inner),
		})
		shelf, _, err := prepShelf(rt, beside, "mix:\n  outer: 40 ml\n")
		if err != nil {
			rt.Fatal(err)
		}
		hand := profile.State{}
		innerVolume := 0.0
		{
			var mixed profile.State
			for _, name := range append([]string{"water"}, chosen...) {
				i, _ := Embedded().Find(name)
				mixed = mixed.Add(i.PerUnit().Scale(want[name]))
			}
			innerVolume = float64(mixed.Volume())
			hand = mixed.Scale(inner / innerVolume)
		}
		vodka, _ := Embedded().Find("vodka")
		hand = hand.Add(vodka.PerUnit().Scale(100))
		hand = hand.Scale(40 / float64(hand.Volume()))
		outer, _ := shelf.Find("outer")
		got := outer.PerUnit().Scale(40)
		for c := range profile.Component(profile.Components) {
			if c == profile.HeatJoules || c == profile.Cost {
				continue
			}
			if math.Abs(got[c]-hand[c]) > 1e-9*(1+math.Abs(hand[c])) {
				rt.Fatalf("component %d is %v, poured apart %v", c, got[c], hand[c])
			}
		}
	})
}

func TestPrepsInACircleAreRefusedWithTheirPath(t *testing.T) {
	prep := func(pours string) string {
		return "mix:\n  " + pours + ": 100 ml\n  water: 100 ml\nmakes: {store: shelf}\n"
	}
	for name, test := range map[string]struct {
		files map[string]string
		want  string
	}{
		"one":   {map[string]string{"a.yaml": prep("a")}, "a.yaml:2:3: a.yaml -> a.yaml: a prep that goes into itself"},
		"two":   {map[string]string{"a.yaml": prep("b"), "b.yaml": prep("a")}, "b.yaml:2:3: a.yaml -> b.yaml -> a.yaml: "},
		"three": {map[string]string{"a.yaml": prep("b"), "b.yaml": prep("c"), "c.yaml": prep("a")}, "c.yaml:2:3: a.yaml -> b.yaml -> c.yaml -> a.yaml: "},
		// The way in is no part of the circle.
		"two, after one": {map[string]string{"a.yaml": prep("b"), "b.yaml": prep("c"), "c.yaml": prep("b")}, "c.yaml:2:3: b.yaml -> c.yaml -> b.yaml: "},
	} {
		_, _, err := prepShelf(t, files(test.files), "mix:\n  a: 40 ml\n")
		if err == nil || !strings.HasPrefix(err.Error(), test.want) {
			t.Errorf("%s: %v; want %s", name, err, test.want)
		}
	}
	// A prep that is asked for itself is in the circle too.
	self, err := ReadSpec(strings.NewReader(prep("b")), "bar/a.yaml")
	if err != nil {
		t.Fatal(err)
	}
	_, err = Embedded().WithPreps(files(map[string]string{"a.yaml": prep("b"), "b.yaml": prep("a")}), "bar", self)
	if err == nil || !strings.Contains(err.Error(), "bar/a.yaml -> bar/b.yaml -> bar/a.yaml") {
		t.Errorf("%v; expected the circle", err)
	}
}

// Ten preps deep, each with as much water as of the one before: 2^-10 of the first
// by weight.
func TestPrepOfTenLevels(t *testing.T) {
	text := map[string]string{"p0.yaml": "mix:\n  white sugar: 100 g\n  water: 100 g\nmakes: {store: shelf}\n"}
	for n := 1; n <= 10; n++ {
		text[fmt.Sprintf("p%d.yaml", n)] = fmt.Sprintf("mix:\n  p%d: 100 g\n  water: 100 g\nmakes: {store: shelf}\n", n-1)
	}
	shelf, _, err := prepShelf(t, files(text), "mix:\n  p10: 40 ml\n")
	if err != nil {
		t.Fatal(err)
	}
	unit := found(t, shelf, "p10").PerUnit()
	sugar := found(t, shelf, "white sugar").PerUnit()[profile.SucroseGrams]
	byHand(t, "sugar in a gram", unit[profile.SucroseGrams]/float64(unit.Mass()), 0.5*sugar/1024, 1e-9)
}

func TestOnlyPrepsThatArePouredMatter(t *testing.T) {
	good := "mix:\n  water: 100 ml\nmakes: {keeps: 1 day}\n"
	beside := files(map[string]string{
		"broken.yaml":        "mix: [\nmakes: {",
		"half broken.yaml":   "drink: Half\nmix: 5\nmakes: {store: fridge}\n",
		"dry gin.yaml":       "drink: A drink with gin's name\nmix:\n  vodka: 30 ml\n",
		"cordial.yaml":       good,
		"another.yaml":       "drink: Cordial\n" + good,
		"twin-one.yaml":      "drink: Twins\n" + good,
		"twin two.yaml":      "drink: twin\n" + good,
		"read me.txt":        good,
		".hidden.yaml":       "drink: vodka\n" + good,
		"folder/inside.yaml": good,
	})
	for pour, want := range map[string]string{
		"cordial":     "cordial.yaml", // the file's name goes before the drink's
		"dry gin":     "",
		"vodka":       "",
		"half broken": "half broken.yaml:2:6: ",
		"half":        "half broken.yaml:2:6: ",
		"twin":        "2 preps go by that name: twin two.yaml, twin-one.yaml",
	} {
		shelf, _, err := prepShelf(t, beside, "mix:\n  "+pour+": 40 ml\n")
		switch {
		case err != nil:
			if want == "" || !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %v; want %q", pour, err, want)
			}
		default:
			prep, is := shelf.Prep(found(t, shelf, pour))
			if is != (want != "") || is && prep.Spec.File != want {
				t.Errorf("%s is made by %v; want %q", pour, prep, want)
			}
		}
	}
}

// Without a folder to look in, or with an empty one, the shelf is what it was.
func TestNoPrepsLeaveTheShelf(t *testing.T) {
	shelf, _, err := prepShelf(t, files(nil), "mix:\n  dry gin: 40 ml\n")
	if err != nil || len(shelf.Preps()) > 0 {
		t.Errorf("%v preps, %v", len(shelf.Preps()), err)
	}
}

func TestPrepTakesOnWhatItsPartsAre(t *testing.T) {
	for text, want := range map[string]struct {
		allergens string
		vegan     Certainty
	}{
		"water: 100 ml\n  egg white: 30 ml":   {"eggs", No},
		"water: 100 ml\n  soy sauce: 30 ml":   {"soybeans", Yes},
		"water: 100 ml\n  lemon juice: 30 ml": {"", Yes},
		"water: 100 ml\n  fino sherry: 30 ml": {"sulphur dioxide and sulphites", Unknown},
	} {
		shelf, _, err := prepShelf(t, files(map[string]string{"p.yaml": "mix:\n  " + text + "\nmakes: {store: fridge}\n"}), "mix:\n  p: 40 ml\n")
		if err != nil {
			t.Fatal(err)
		}
		p := found(t, shelf, "p")
		if got := strings.Join(p.Allergens, ", "); !strings.Contains(got, want.allergens) || want.allergens == "" && got != "" || p.Vegan != want.vegan {
			t.Errorf("%s: allergens %q, vegan %q; want %+v", text, got, p.Vegan, want)
		}
	}
}
