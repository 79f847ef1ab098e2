package solver

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"minim/pantry"
)

// Three preps, one in another, each of which says what it yields.
var threeDeep = map[string]string{
	"syrup.yaml":   "drink: Bay syrup\nmix:\n  water: 500 ml\n  white sugar: 500 g\nsteps:\n  - steep: {bay leaf: 15 g}\nmakes: {volume: 750 ml, keeps: 4 weeks}\n",
	"cordial.yaml": "drink: Bay cordial\nmix:\n  bay syrup: 300 ml\n  fino sherry: 200 ml\nmakes: {volume: 500 ml, keeps: 2 weeks}\n",
	"base.yaml":    "drink: Bay base\nmix:\n  bay cordial: 250 ml\n  saline: 50 ml\nmakes: {volume: 300 ml, keeps: 10 days}\n",
}

// By hand, for 10 serves of 30 ml: 300 ml of base, which is one making of it; so
// 250 ml of cordial, half a making, and 50 ml of saline; so 150 ml of syrup, a
// fifth of one, and 100 ml of sherry; so 100 g of sugar, 3 g of bay leaf and water
// of the tap. Of 2.00 a kilogram, the sugar in a serve costs 10 g, 0.02, and 40 ml
// of vodka of 21.00 for 700 ml cost 1.20.
func TestPrepsAreTakenApartToAnyDepth(t *testing.T) {
	q := barOf(t, threeDeep, "mix:\n  vodka: 40 ml\n  bay base: 30 ml\n")[0]
	b, err := MakeBatch(BatchQuestion{Question: q, Size: BatchSize{Serves: 10}})
	if err != nil {
		t.Fatal(err)
	}
	amounts := func(list []Purchase) (text []string) {
		for i := range list {
			text = append(text, fmt.Sprintf("%s %.0f", list[i].Ingredient.Name, list[i].Need))
		}
		return text
	}
	// The scale's step of 1 g is a third of a percent of 300 ml.
	if got, want := amounts(b.Make), []string{"Bay syrup 150", "Bay cordial 250", "Bay base 300"}; !slices.Equal(got, want) {
		t.Errorf("made %q, by hand %q", got, want)
	}
	if got, want := amounts(b.Buy), []string{"Vodka 40 % 400", "White sugar 100", "bay leaf 3", "Fino sherry 15 % 100", "Saline 20 % 50"}; !slices.Equal(got, want) {
		t.Errorf("bought %q, by hand %q", got, want)
	}
	shelf, err := pantry.Embedded().Overlay(strings.NewReader("name,state,price,pack,currency\nWhite sugar,solid,2.00,1 kg,EUR\nVodka 40 %,,21.00,700 ml,EUR\n"), "prices.csv")
	if err != nil {
		t.Fatal(err)
	}
	q = barOver(t, shelf, threeDeep, "mix:\n  vodka: 40 ml\n  bay base: 30 ml\n")[0]
	a, err := Report(q)
	if err != nil {
		t.Fatal(err)
	}
	c, err := CostOf(a.Pours, MakingOf(a.Preps))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a serve", c.PerServe, 1.22, 1e-9)
	if want := []string{"bay leaf in bay base", "Fino sherry 15 % in bay base", "Saline 20 % in bay base"}; !slices.Equal(c.Unpriced, want) {
		t.Errorf("no price of %q, expected %q", c.Unpriced, want)
	}
}

// A batch that is a prep, or that needs amounts of a prep nobody knows, is refused.
func TestABatchIsOfADrinkWhosePrepsAreMade(t *testing.T) {
	prep := barOf(t, nil, "mix:\n  water: 500 ml\n  white sugar: 500 g\nmakes: {keeps: 4 weeks}\n")[0]
	open := map[string]string{"base.yaml": "mix:\n  lemon juice: open\n  water: 100 ml\nmakes: {volume: 200 ml}\n"}
	drink := barOf(t, open, "mix:\n  vodka: 40 ml\n  base: 30 ml\ntarget:\n  acid: 5 g/L\n")[0]
	for want, q := range map[string]Question{"expected a drink": prep, "lemon juice is still open": drink} {
		if _, err := MakeBatch(BatchQuestion{Question: q, Size: BatchSize{Serves: 10}}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("the error is %v, expected %q", err, want)
		}
	}
}

// Cautions of making and of what is in a prep reach the drink and its batch: each
// with the prep that calls for it, and the one that just does not.
func TestCautionsOfPrepsReachTheDrink(t *testing.T) {
	for _, c := range []struct{ key, prep, not, source string }{
		{"plant-infusion", "mix:\n  water: 1 l\nsteps:\n  - steep: {hibiscus: 9 g}\n  - reduce: to 500 ml\nmakes: {store: fridge}\n", "mix:\n  water: 1 l\nsteps:\n  - reduce: to 500 ml\nmakes: {store: fridge}\n", "common practice"},
		// 13 % wine: 40 ml in a litre are 0.52 % vol, 35 ml 0.46 %.
		{"simmered-alcohol", "mix:\n  water: 960 ml\n  red wine: 40 ml\nsteps:\n  - reduce: to 500 ml\nmakes: {store: fridge}\n", "mix:\n  water: 965 ml\n  red wine: 35 ml\nsteps:\n  - reduce: to 500 ml\nmakes: {store: fridge}\n", "common practice; 0.5 % vol from memory"},
		{"raw-egg", "mix:\n  lemon juice: 100 ml\n  egg white: 1 piece\nmakes: {store: fridge}\n", "mix:\n  lemon juice: 100 ml\nmakes: {store: fridge}\n", "common practice"},
		{"dairy", "mix:\n  rich syrup: 100 ml\n  cream: 10 ml\nmakes: {store: fridge}\n", "mix:\n  rich syrup: 100 ml\nmakes: {store: fridge}\n", "common practice"},
		{"quinine", "mix:\n  tonic water: 100 ml\nmakes: {store: fridge}\n", "mix:\n  soda water: 100 ml\nmakes: {store: fridge}\n", "common practice"},
		{"allergens", "mix:\n  water: 100 ml\nsteps:\n  - steep: {toasted almonds: 9 g}\nmakes: {store: fridge}\n", "mix:\n  water: 100 ml\nsteps:\n  - steep: {toasted rice: 9 g}\nmakes: {store: fridge}\n", "Regulation (EU) 1169/2011, Annex II"},
		// Cucumber juice is of pH 5 or so, lemon juice of 2.3.
		{"low-acid", "mix:\n  cucumber juice: 100 ml\nmakes: {store: fridge}\n", "mix:\n  cucumber juice: 50 ml\n  lemon juice: 50 ml\nmakes: {store: fridge}\n", "21 CFR 114.3"},
	} {
		for text, expected := range map[string]bool{c.prep: true, c.not: false} {
			q := barOf(t, map[string]string{"inner.yaml": text, "base.yaml": "mix:\n  inner: 50 ml\nmakes: {store: fridge}\n"}, "mix:\n  gin: 30 ml\n  base: 30 ml\n")[0]
			a, err := Report(q)
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.Contains(" "+keys(a.Cautions)+" ", " "+c.key+" "); got != expected {
				t.Errorf("%s (%s): %t of the drink of\n%s%s", c.key, c.source, got, text, keys(a.Cautions))
			}
		}
	}
}

// Who makes a prep handles what goes into it: acid powder, and none in a batch of a
// drink whose cordial is of juice.
func TestABatchSaysWhatItsPrepsTakeInTheHand(t *testing.T) {
	for prep, expected := range map[string]bool{
		"mix:\n  water: 900 ml\n  citric acid: 60 g\nmakes: {keeps: 4 weeks}\n": true,
		"mix:\n  water: 900 ml\n  lemon juice: 60 ml\nmakes: {keeps: 4 days}\n": false,
	} {
		q := barOf(t, map[string]string{"blend.yaml": prep}, "mix:\n  gin: 30 ml\n  blend: 10 ml\n")[0]
		b, err := MakeBatch(BatchQuestion{Question: q, Size: BatchSize{Serves: 10}})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(keys(b.Cautions), "strong-acid"); got != expected || strings.Contains(keys(b.Serve.Cautions), "strong-acid") {
			t.Errorf("strong acid %t in the batch of\n%s", got, prep)
		}
	}
}

// A prep that keeps for weeks by its own word goes into the batch, whatever is in it;
// one that says nothing is as fresh as its freshest part.
func TestAPrepIsAsFreshAsItSaysOrAsItsParts(t *testing.T) {
	for prep, want := range map[string]string{
		"mix:\n  lemon juice: 100 ml\n  rich syrup: 100 ml\nmakes: {keeps: 3 weeks}\n": "",
		"mix:\n  lemon juice: 100 ml\n  rich syrup: 100 ml\nmakes: {store: fridge}\n":  "fresh juice",
		"mix:\n  rich syrup: 100 ml\n  egg white: 1 piece\nmakes: {store: fridge}\n":   "egg or dairy",
		"mix:\n  rich syrup: 100 ml\nmakes: {keeps: 36 hours}\n":                       "keeps 3 days",
		"mix:\n  rich syrup: 100 ml\n  vodka: 10 ml\nmakes: {store: shelf}\n":          "",
	} {
		q := barOf(t, map[string]string{"inner.yaml": prep, "base.yaml": "mix:\n  inner: 50 ml\nmakes: {store: fridge}\n"}, "mix:\n  gin: 30 ml\n  base: 30 ml\n")[0]
		b, err := MakeBatch(BatchQuestion{Question: q, Size: BatchSize{Serves: 10}})
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if len(b.AtService) > 0 {
			got = b.AtService[0].Why
		}
		if got != want {
			t.Errorf("kept out as %q, expected %q, of\n%s", got, want, prep)
		}
	}
}
