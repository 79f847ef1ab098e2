package pantry

import (
	"slices"
	"strings"
	"testing"

	"minim/profile"
)

// rowOf is the first ingredient of a pantry file.
func rowOf(t *testing.T, text string) *Ingredient {
	t.Helper()
	shelf, err := new(Shelf).Overlay(strings.NewReader(text), "test.csv")
	if err != nil {
		t.Fatal(err)
	}
	return shelf.All()[0]
}

func given(cautions []profile.Caution, key string) bool {
	return slices.ContainsFunc(cautions, func(c profile.Caution) bool { return c.Key == key })
}

// Each caution of an ingredient is given for the row that calls for it, and not
// for the row beside it that does not. Limits in numbers are tested with the
// composition, in package profile.
func TestEachCautionOfAnIngredientHasItsRow(t *testing.T) {
	for _, c := range []struct{ key, row, not string }{
		{"raw-egg", "name,allergens\nEgg white,eggs\n", "name,allergens\nPasteurised egg white,eggs\n"},
		{"raw-egg", "name,allergens\nEgg white,eggs\n", "name,allergens\nChickpea foam,\n"},
		{"raw-egg", "name,allergens\nEgg yolk,eggs\n", "name,allergens\nEgg liqueur,eggs\n"},
		{"dairy", "name,allergens\nCream,milk\n", "name,allergens,state\nHard cheese,milk,solid\n"},
		{"dairy", "name,allergens\nCream,milk\n", "name,allergens\nOat drink,cereals containing gluten (oats)\n"},
		{"strong-acid", "name,state,citric_g_per_l\nPowder,solid,950\n", "name,state,citric_g_per_l\nPowder,solid,90\n"},
		{"high-proof", "name,abv_percent\nRum,50.5\n", "name,abv_percent\nRum,50\n"},
		{"low-acid", "name,category,pH\nMelon juice,juice,4.7\n", "name,category,pH\nMelon juice,juice,4.6\n"},
		{"low-acid", "name,category,pH\nMelon juice,juice,4.7\n", "name,category,pH\nMelon juice,mixer & water,4.7\n"},
		{"low-acid", "name,category,sucrose_g_per_l\nSyrup,syrup,600\n", "name,category,sucrose_g_per_l\nSyrup,syrup,920\n"},
		{"plant-infusion", "name\nGentian tincture\n", "name\nGentian liqueur\n"},
		{"plant-infusion", "name\nRose-infused gin\n", "name\nRose gin\n"},
		{"flame", "name\nFlamed rum\n", "name\nInflammable rum\n"},
		{"dry-ice", "name\nDry ice\n", "name\nDry iced tea\n"},
		{"liquid-nitrogen", "name\nLiquid nitrogen\n", "name\nNitrogen coffee\n"},
	} {
		if i := rowOf(t, c.row); !given(i.Cautions(i.Name), c.key) {
			t.Errorf("%s: no %s", c.row, c.key)
		}
		if i := rowOf(t, c.not); given(i.Cautions(i.Name), c.key) {
			t.Errorf("%s: %s, which it does not call for", c.not, c.key)
		}
	}
}

func TestEachCautionOfAFinishHasItsWords(t *testing.T) {
	for _, c := range []struct{ key, text, not string }{
		{"flame", "Flamed orange peel", "orange peel"},
		{"flame", "rosemary, torched", "rosemary"},
		{"flame", "torch the peel", "torch ginger"},
		{"dry-ice", "a pellet of DRY-ICE", "dry, iced glass"},
		{"liquid-nitrogen", "basil frozen in liquid nitrogen", "nitrogen-flushed glass"},
		{"flower", "viola flowers", "edible flowers"},
		{"flower", "a rose petal", "a spray of orange flower water"},
		{"plant-infusion", "2 drops of wormwood tincture", "2 drops of bitters"},
	} {
		if !given(CautionsOfText(c.text), c.key) {
			t.Errorf("%q: no %s", c.text, c.key)
		}
		if given(CautionsOfText(c.not), c.key) {
			t.Errorf("%q: %s, which it does not call for", c.not, c.key)
		}
	}
}

// The survey's tonic water holds 61 mg of quinine in a litre. Source: quinine
// survey of the Bavarian food authority. A red bitter aperitif is bitter without
// any.
func TestQuinineIsKnownOfWhatIsMadeWithItAlone(t *testing.T) {
	find := func(name string) *Ingredient {
		i, err := Embedded().Find(name)
		if err != nil {
			t.Fatal(err)
		}
		return i
	}
	most, made := find("tonic water").Quinine()
	if perLitre := 1000 * float64(most); !made || perLitre < 60.5 || perLitre > 61.5 {
		t.Errorf("tonic water: %.1f mg/L of quinine, expected 61 ± 0.5", perLitre)
	}
	for _, name := range []string{"red bitter aperitif", "aromatic bitters", "ginger beer"} {
		if most, made := find(name).Quinine(); made {
			t.Errorf("%s: %v mg of quinine, expected none known", name, most)
		}
	}
}

func TestAllergensOfAFinishAreThoseItsWordsName(t *testing.T) {
	for text, want := range map[string]string{
		"grated parmesan":       "milk",
		"celery stick, salted":  "celery",
		"crushed peanuts":       "peanuts",
		"strip of orange peel":  "",
		"nutmeg":                "",
		"amaretto foam":         "nuts (almonds)",
		"salted almonds":        "nuts",
		"a fried oyster":        "molluscs",
		"splash of soy sauce":   "cereals containing gluten (wheat) soybeans",
		"toasted sesame seeds.": "sesame seeds",
	} {
		if got := strings.Join(Embedded().AllergensOfText(text), " "); got != want {
			t.Errorf("%q: %q, expected %q", text, got, want)
		}
	}
}
