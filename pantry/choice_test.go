package pantry

import (
	"strings"
	"testing"
)

const mixedShelf = `name,category,abv_percent,sucrose_g_per_l,glucose_g_per_l,fructose_g_per_l,other_sugars_g_per_l,titratable_acidity_g_per_l_as_citric,allergens,vegan,stock,confidence
Tart,juice,0,10,0,0,0,40,,yes,,seen
Mild,juice,0,90,0,0,0,10,,,,memory
Milky,liqueur,17,200,0,0,0,0,milk,no,no,seen
Nutty,liqueur,20,300,0,0,0,0,nuts (almonds),yes,,seen
Dark,liqueur,30,300,0,0,0,,,yes,,seen
`

func TestChoice(t *testing.T) {
	shelf, err := (&Shelf{}).Overlay(strings.NewReader(mixedShelf), "mixed.csv")
	if err != nil {
		t.Fatal(err)
	}
	condition := func(text string) Condition {
		c, err := ParseCondition(text)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	for _, one := range []struct {
		choice Choice
		want   string
		notes  int
	}{
		{Choice{}, "Tart Mild Milky Nutty Dark", 0},
		{Choice{Category: "juice"}, "Tart Mild", 0},
		{Choice{With: []Condition{condition("acid>=20")}}, "Tart", 1},
		{Choice{With: []Condition{condition("acid <= 10 g/L"), condition("abv>0")}}, "Milky Nutty", 1},
		{Choice{With: []Condition{condition("abv=20")}}, "Nutty", 0},
		{Choice{With: []Condition{condition("sugar≥200")}}, "Milky Nutty Dark", 0},
		{Choice{WithoutAllergens: []string{"nuts"}}, "Tart Mild Milky Dark", 1},
		{Choice{WithoutAllergens: []string{"milk"}}, "Tart Mild Nutty Dark", 1},
		{Choice{Vegan: true}, "Tart Nutty Dark", 1},
		{Choice{InStock: true}, "Tart Mild Nutty Dark", 0},
		{Choice{Confidence: FromMemory}, "Mild", 0},
	} {
		chosen := one.choice.Of(shelf)
		var names []string
		for _, i := range chosen.Ingredients {
			names = append(names, i.Name)
		}
		if got := strings.Join(names, " "); got != one.want || len(chosen.Notes) != one.notes || len(chosen.Derived) != len(names) {
			t.Errorf("%+v: %s, %q, want %s", one.choice, got, chosen.Notes, one.want)
		}
	}
}

func TestAllergensGoByTheLawsWordsAndShortOnes(t *testing.T) {
	for word, want := range map[string]string{
		"milk": "milk", "Dairy": "milk", "gluten": "cereals containing gluten", "egg": "eggs", "soya": "soybeans", "sulphites": "sulphur dioxide and sulphites",
		"shellfish": "", "mlk": "",
	} {
		if got, ok := AllergenNamed(word); got != want || ok != (want != "") {
			t.Errorf("%q is %q, %v; want %q", word, got, ok, want)
		}
	}
}

func TestConditionsThatSayNothingAreRefused(t *testing.T) {
	for _, text := range []string{"", "acid", ">=20", "acid>=", "acid>=x", "acid>=NaN", "colour>3", "acid=>3", "acid>=2,5"} {
		if c, err := ParseCondition(text); err == nil {
			t.Errorf("%q was read as %+v", text, c)
		}
	}
}
