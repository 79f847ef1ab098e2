package pantry

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestFoldMakesSpellingsOfOneNameEqual(t *testing.T) {
	for _, same := range [][]string{
		{"Lime juice", "lime juice", " LIME   Juice ", "lime-juice", "lime_juice", "lime juices", "limes juice"},
		{"saline 20%", "Saline 20 %", "saline-20%"},
		{"dash", "dashes"},
		{"cherry", "cherries", "Cherries"},
		{"crème de cassis", "creme de cassis", "Cre\u0300me de Cassis"},
		{"orange curaçao", "Orange curacao"},
		{"planter's mix", "planters mix", "planter’s mix"},
		{"glass", "glasses"},
		{"tomato juice", "tomatoes juice"},
		{"egg white", "egg whites"},
	} {
		for _, name := range same[1:] {
			if Fold(name) != Fold(same[0]) {
				t.Errorf("%q folds to %q and %q to %q; want the same", same[0], Fold(same[0]), name, Fold(name))
			}
		}
	}
}

func TestFoldKeepsDifferentNamesApart(t *testing.T) {
	for _, different := range [][2]string{
		{"lime", "lemon"},
		{"gin", "gin 43 %"},
		{"lime juice", "lime"},
		{"sugar syrup 1:1", "sugar syrup 2:1"},
		{"gin 40", "gin 4 0"},
		{"glass", "glaze"},
		{"citrus", "citru"},
	} {
		if Fold(different[0]) == Fold(different[1]) {
			t.Errorf("%q and %q both fold to %q", different[0], different[1], Fold(different[0]))
		}
	}
}

// Distances counted by hand.
func TestEditDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0},
		{"", "gin", 3},
		{"gin", "gin", 0},
		{"lime jiuce", "lime juice", 1},
		{"rum", "run", 1},
		{"vodk", "vodka", 1},
		{"kitten", "sitting", 3},
		{"ca", "abc", 3},
	} {
		if got := editDistance([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("distance of %q and %q is %d; want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestNearestPutsTheSlipOfTheFingerFirst(t *testing.T) {
	among := []string{"lemon juice", "Lime juice", "lime cordial", "lime juices"}
	got := Nearest("lime jiuce", among, 2)
	if want := []string{"Lime juice", "lemon juice"}; !slices.Equal(got, want) {
		t.Errorf("nearest %q; want %q", got, want)
	}
	if got := Nearest("x", nil, 3); got != nil {
		t.Errorf("nearest of nothing is %q", got)
	}
	if got := Nearest("x", among, -1); got != nil {
		t.Errorf("nearest -1 is %q", got)
	}
}

func TestFindNamesTheThreeNearest(t *testing.T) {
	_, err := Embedded().Find("lime jiuce")
	var wrong *NameError
	if !errors.As(err, &wrong) {
		t.Fatalf("got %v; want a NameError", err)
	}
	if len(wrong.Nearest) != 3 || wrong.Nearest[0] != "Lime juice" {
		t.Errorf("nearest %q; want three, Lime juice first", wrong.Nearest)
	}
	if !strings.HasPrefix(err.Error(), `no ingredient "lime jiuce" on the shelf; nearest: Lime juice, `) {
		t.Errorf("message %q", err)
	}
	if _, err := (&Shelf{}).Find("gin"); err == nil || !strings.Contains(err.Error(), "`minim pantry list` lists") {
		t.Errorf("an empty shelf says %v", err)
	}
}

// Part of a name leads to the names that hold it, before what is merely spelt alike.
func TestPartOfANameLeadsToIt(t *testing.T) {
	for said, first := range map[string]string{
		"agave": "Agave syrup", "citric": "Citric acid", "tartaric": "Tartaric acid", "rhubarb": "Rhubarb juice", "pineapple": "Pineapple juice",
		"ginger": "Ginger beer", "simple": "simple syrup", "whiskey": "rye whiskey", "lemon jiuce": "Lemon juice", "gim": "gin",
	} {
		var wrong *NameError
		if _, err := Embedded().Find(said); !errors.As(err, &wrong) || len(wrong.Nearest) == 0 || wrong.Nearest[0] != first {
			t.Errorf("%q leads to %v; want %s first", said, err, first)
		}
	}
}

func TestFindNamesAllIngredientsThatGoByAName(t *testing.T) {
	shelf := &Shelf{ingredients: []*Ingredient{{Name: "One", Aliases: []string{"both"}}, {Name: "Two", Aliases: []string{"Both"}}}}
	shelf.index()
	_, err := shelf.Find("both")
	if err == nil || !strings.Contains(err.Error(), "One; Two") {
		t.Errorf("got %v; want both named", err)
	}
}

func TestFindTakesWhatPeopleSay(t *testing.T) {
	// Usual words of the trade; common practice, no source.
	for said, name := range map[string]string{
		"gin": "Dry gin 40 %", "dry gin": "Dry gin 40 %", "lime juice": "Lime juice", "rich syrup": "Rich sugar syrup 2:1 by weight",
		"simple syrup": "Sugar syrup 1:1 by weight", "saline 20%": "Saline 20 %", "aromatic bitters": "Aromatic bitters 44.7 %",
		"sweet vermouth": "Sweet red vermouth 16 %", "egg whites": "Egg white", "soda water": "Soda water", "msg": "Monosodium glutamate",
		"gin_47": "Dry gin 47 %", "Creme de Menthe": "Peppermint liqueur 30 %", "water": "Drinking water",
	} {
		i, err := Embedded().Find(said)
		if err != nil {
			t.Errorf("%q: %v", said, err)
		} else if i.Name != name {
			t.Errorf("%q is %q; want %q", said, i.Name, name)
		}
	}
	for _, beginning := range []string{"dry", "lime jui", "sweet"} {
		if i, err := Embedded().Find(beginning); err == nil {
			t.Errorf("%q found %q by its beginning", beginning, i.Name)
		}
	}
}
