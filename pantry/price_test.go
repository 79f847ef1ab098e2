package pantry

import (
	"math"
	"slices"
	"strings"
	"testing"

	"minim/profile"
)

// The sums were done by hand.
func TestPricePerUnitIsThePackShared(t *testing.T) {
	for _, c := range []struct {
		text  string
		want  float64
		known bool
	}{
		{"name,price,pack\ngin,21,700 ml\n", 21.0 / 700, true},
		{"name,price,pack\ngin,30,1 l\n", 0.03, true},
		{"name,price,pack\ngin,22,75 cl\n", 22.0 / 750, true},
		{"name,price,pack\nwhite sugar,1.5,1 kg\n", 0.0015, true},
		{"name,price,pack\negg white,3,10 pieces\n", 3.0 / 300, true},
		// A kilogram of honey of 1.42 g/ml is 704.2 ml.
		{"name,price,pack\nhoney,14.2,1 kg\n", 14.2 / (1000 / 1.42), true},
		{"name,price,pack\nwater,0,1 l\n", 0, true},
		{"name,price\ngin,21\n", 0, false},
		{"name,pack\ngin,700 ml\n", 0, false},
		{"name,price,pack\nlime juice,3,10 pieces\n", 0, false},   // nobody said what a lime gives
		{"name,price,pack\nwhite sugar,3,1 l\n", 3.0 / 900, true}, // 0.90 g/ml in the cup
		{"name,price,pack\ncitric acid,3,1 l\n", 0, false},
		{"name\ngin\n", 0, false},
	} {
		name := strings.Split(strings.Split(c.text, "\n")[1], ",")[0]
		i := find(t, overlay(t, c.text), name)
		got, known := i.PricePerUnit()
		if known != c.known || math.Abs(got-c.want) > 1e-4*c.want {
			t.Errorf("%q: %v, %v; want %v, %v", c.text, got, known, c.want, c.known)
		}
		near(t, name+", cost of a unit", i.PerUnit()[profile.Cost], got, 0, "PricePerUnit")
	}
}

func TestPricesDecimalCommasAndStock(t *testing.T) {
	shelf := overlay(t, "name;price;pack;currency;stock;vegan;keeps;measure\nGin;18,50;0,7 l;EUR;no;yes;\"for ever,\nalmost\";2,5 ml\nHoney;;;;Yes;No;;\n")
	gin, honey := find(t, shelf, "gin"), find(t, shelf, "honey")
	if !gin.Priced || gin.Price != 18.5 || gin.Pack != (Amount{0.7, Litres}) || gin.Currency != "EUR" || !gin.OutOfStock || gin.Vegan != Yes || gin.Keeps != "for ever, almost" || gin.Step != (Step{2.5, ""}) {
		t.Errorf("gin %+v", gin)
	}
	if honey.Priced || honey.OutOfStock || honey.Vegan != No {
		t.Errorf("honey %+v", honey)
	}
	if got := shelf.Currencies(); !slices.Equal(got, []string{"EUR"}) {
		t.Errorf("currencies %q", got)
	}
	// The price list changes nothing of the composition.
	if below := find(t, Embedded(), "gin"); gin.Figures != below.Figures {
		t.Error("the composition of gin changed with its price")
	}
	again, err := shelf.Overlay(strings.NewReader("name,stock\ngin,yes\n"), "today.csv")
	if err != nil {
		t.Fatal(err)
	}
	if gin := find(t, again, "gin"); gin.OutOfStock || gin.Price != 18.5 {
		t.Errorf("back in stock %+v", gin)
	}
}

// Egg white is 88 g of water in 100 g (USDA SR28 01124, 87.6), whole milk 87.4
// (Japanese tables 13003), cream of 36 % fat 57.7 (USDA SR28 01053), soy sauce
// 67.1 (Japanese tables 17007); from memory.
func TestOtherSolidsLeaveTheWaterThatTablesGive(t *testing.T) {
	for name, want := range map[string]float64{"egg white": 87.6, "whole egg": 76.2, "milk": 87.4, "cream": 57.7, "soy sauce": 67.1, "tamari": 57.3, "fish sauce": 65.5} {
		unit := find(t, Embedded(), name).PerUnit()
		near(t, "water in 100 g of "+name, 100*unit[profile.WaterGrams]/float64(unit.Mass()), want, 2, "food tables, from memory")
	}
}
