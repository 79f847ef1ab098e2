package solver

import (
	"math"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
)

const priced = `name,price,pack,currency
Vodka 40 %,21.00,700 ml,EUR
Lime juice,4.00,1 l,EUR
Sugar,1.20,1 kg,EUR
`

func pricedShelf(t *testing.T, text string) *pantry.Shelf {
	t.Helper()
	shelf, err := pantry.Embedded().Overlay(strings.NewReader(text), "prices.csv")
	if err != nil {
		t.Fatal(err)
	}
	return shelf
}

// By hand: 50 ml of 21.00 for 700 ml are 1.50, 25 ml of 4.00 a litre 0.10, water
// is free, and of the honey syrup no price is known: at least 1.60, of which the
// vodka makes 1.50/1.60 = 93.75 %. At 8.00 that is a pour cost of 20 %, and to
// keep 80 % of the price it is 1.60/0.20 = 8.00.
func TestCostByHand(t *testing.T) {
	shelf := pricedShelf(t, priced)
	a, err := Report(Question{
		Spec: readSpec(t, "mix:\n  vodka: 50 ml\n  lime juice: 25 ml\n  honey syrup: 15 ml\n  water: 20 ml\nice: shake\n"), Shelf: shelf,
	})
	if err != nil {
		t.Fatal(err)
	}
	c, err := CostOf(a.Pours, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a serve", c.PerServe, 1.60, 1e-9)
	near(t, "pour cost", c.PourCost(8), 20, 1e-9)
	near(t, "price", c.PriceAt(80), 8, 1e-9)
	dearest, ok := c.Dearest()
	if !ok || dearest.Name != "vodka" || math.Abs(dearest.Share-0.9375) > 1e-9 {
		t.Errorf("dearest is %+v", dearest)
	}
	if c.Currency != "EUR" || strings.Join(c.Unpriced, ", ") != "honey syrup" {
		t.Errorf("in %s, without a price of %q", c.Currency, c.Unpriced)
	}
}

// Pounds and euros do not add.
func TestTwoCurrenciesDoNotAdd(t *testing.T) {
	shelf := pricedShelf(t, priced+"Dry vermouth 18 %,12.00,750 ml,GBP\n")
	a, err := Report(Question{Spec: readSpec(t, "mix:\n  vodka: 50 ml\n  dry vermouth: 10 ml\n"), Shelf: shelf})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := CostOf(a.Pours, nil); err == nil || !strings.Contains(err.Error(), "EUR and GBP") {
		t.Errorf("the error is %v", err)
	}
}

// cordial is a making: 0.5 ml of lime juice and 0.6 g of sugar in each ml of the
// almond syrup, which then is the bar's own.
func cordial(t *testing.T, shelf *pantry.Shelf) Making {
	t.Helper()
	find := func(name string) *pantry.Ingredient {
		i, err := shelf.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		return i
	}
	own, juice, sugar, water := find("almond syrup"), find("lime juice"), find("sugar"), find("water")
	return func(i *pantry.Ingredient) ([]Part, bool) {
		if i != own {
			return nil, false
		}
		return []Part{{juice, 0.5}, {sugar, 0.6}, {water, 0.2}}, true
	}
}

// By hand, for 40 serves: 2000 ml of vodka are 3 bottles of 700 ml with 100 ml
// over, 63.00; 600 ml of cordial take 300 ml of juice and 360 g of sugar, and
// with the 1000 ml in the drinks the juice is 1300 ml, 2 packs of a litre with
// 700 ml over, 8.00. A serve costs 1.50 for the vodka, 0.10 for the juice, and
// for 15 ml of cordial 7.5 ml of juice, 0.03, and 9 g of sugar, 0.0108.
func TestShoppingInPacks(t *testing.T) {
	shelf := pricedShelf(t, priced)
	made := cordial(t, shelf)
	b := makeBatch(t, "mix:\n  vodka: 50 ml\n  lime juice: 25 ml\n  almond syrup: 15 ml\nice: shake\n", BatchSize{Serves: 40}, func(q *BatchQuestion) {
		q.Shelf, q.Made = shelf, made
	})
	// What is weighed beforehand is bought to the gram of the scale.
	for _, want := range []struct {
		name              string
		need, left, price float64
		packs             int
	}{
		{"Vodka 40 %", 2000, 100, 63, 3}, {"Lime juice", 1300, 700, 8, 2}, {"Sugar", 360, 640, 1.20, 1},
	} {
		found := false
		for _, p := range b.Buy {
			if p.Ingredient.Name != want.name {
				continue
			}
			found = true
			near(t, want.name+" needed", p.Need, want.need, 1.5)
			near(t, want.name+" left", p.Left, want.left, 1.5)
			near(t, want.name+" price", p.Price, want.price, 1e-9)
			if p.Packs != want.packs {
				t.Errorf("%d packs of %s, want %d", p.Packs, want.name, want.packs)
			}
		}
		if !found {
			t.Errorf("%s is not bought", want.name)
		}
	}
	if len(b.Buy) != 3 || len(b.Make) != 1 {
		t.Errorf("bought %v, made %v", b.Buy, b.Make)
	}
	near(t, "cordial to make", b.Make[0].Need, 600, 1.5)
	c, err := CostOf(b.Serve.Pours, made)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a serve", c.PerServe, 1.6408, 1e-9)
	if len(c.Unpriced) != 0 {
		t.Errorf("no price of %q", c.Unpriced)
	}
}

// What is made of itself is bought in the end, and nothing hangs.
func TestAMakingOfItselfEnds(t *testing.T) {
	shelf := pantry.Embedded()
	syrup, err := shelf.Find("rich syrup")
	if err != nil {
		t.Fatal(err)
	}
	made := Making(func(i *pantry.Ingredient) ([]Part, bool) { return []Part{{syrup, 1}}, i == syrup })
	b := makeBatch(t, "mix:\n  rich syrup: 20 ml\n  vodka: 20 ml\n", BatchSize{Serves: 10}, func(q *BatchQuestion) { q.Made = made })
	if len(b.Buy) != 2 {
		t.Errorf("bought %v", b.Buy)
	}
}

// Whole packs are not rounded up: 14 serves of 50 ml are one bottle of 700 ml.
func TestABottleThatIsEnoughIsEnough(t *testing.T) {
	p := Purchase{Ingredient: &pantry.Ingredient{Pack: pantry.Amount{Value: 0.7, Unit: pantry.Litres}}, Need: 14 * 50}
	p.inPacks()
	if p.Packs != 1 || p.Left > 1e-6 {
		t.Errorf("%d bottles with %g ml over", p.Packs, p.Left)
	}
	p.Need += float64(profile.Drop)
	if p.inPacks(); p.Packs != 2 {
		t.Errorf("%d bottles for a drop more", p.Packs)
	}
}
