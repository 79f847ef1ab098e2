package solver

import (
	"math"
	"slices"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// A pour that is fixed brings what it brings: the drink is not stretched beyond
// the volume asked for to thin a taste that nobody spoke of.
func TestFixedBitterPourIsNoReasonForALargerDrink(t *testing.T) {
	a := ask(t, `
mix: {light amaro: 30 ml}
choose: {at most: 3, from: [dry gin, white rum, apple juice, lemon juice, rich syrup]}
ice: shake
target: {volume: 130 ml, abv: 14 %, sugar: 65 g/L, acid: 7 g/L}
`)
	if v := a.Profile[profile.Volume].Value; math.Abs(v-130) > 4 {
		t.Errorf("%v ml of 130", v)
	}
}

// Where all that can be chosen has a taste that nobody spoke of, that is no reason
// to answer with another drink than the one asked for, and the answer says so.
func TestUntargetedTasteGivesWayWhereNothingElseComesNear(t *testing.T) {
	for text, freed := range map[string]string{
		"choose: {at most: 3, from: [light amaro, lemon juice, rich syrup]}\nice: shake\ntarget: {volume: 130 ml, abv: 10 %, sugar: 65 g/L, acid: 7 g/L}\n":                        "bitter",
		"choose: {at most: 4, from: [dry gin, lemon juice, rich syrup, water]}\nice: shake\ntarget: {volume: 130 ml, abv: 14 %, sweetness: 60 g/L, ph: 2.6 ± 0.1}\n":               "acid",
		"choose: {at most: 4, from: [dry gin, lemon juice, rich syrup, water]}\ntarget: {volume: 100 ml, ethanol: 12 g ± 1, energy: 130 kcal ± 5, acid: 6 g/L}\n":                  "sugar",
		"choose: {at most: 4, from: [dry gin, lemon juice, rich syrup, water]}\nice: shake\ntarget: {volume: 130 ml, abv: 14 %, sugar: 60 g/L, acid: 6.5 g/L}\n":                   "",
		"mix: {light amaro: 30 ml}\nchoose: {at most: 3, from: [dry gin, lemon juice, rich syrup]}\nice: shake\ntarget: {volume: 120 ml, abv: 16 %, sugar: 80 g/L, acid: 7 g/L}\n": "",
	} {
		a := ask(t, text)
		said := ""
		for _, note := range a.Notes {
			if rest, ok := strings.CutPrefix(note, "no target speaks of "); ok {
				said, _, _ = strings.Cut(rest, ";")
			}
		}
		if said != freed {
			t.Errorf("%s: %q left free, expected %q", text, said, freed)
		}
	}
}

func TestOneOfIsMetByAFixedPour(t *testing.T) {
	a := ask(t, `
mix: {lemon juice: 20 ml}
choose: {at most: 3, from: [dry gin, rich syrup, water], one of: [lemon juice, lime juice]}
ice: shake
target: {volume: 130 ml, abv: 14 %, sugar: 65 g/L, acid: 8 g/L}
`)
	if slices.Contains(names(a.Pours), "Lime juice") {
		t.Errorf("chosen %v beside lemon juice", names(a.Pours))
	}
}

func TestWhatMustBeInTheDrinkIsTheOneOfItsList(t *testing.T) {
	a := ask(t, `
choose: {at most: 2, from: [dry gin, rich syrup], must: [lemon juice, rich syrup, lemon juice], one of: [lemon juice, lime juice]}
ice: shake
target: {volume: 60 ml, abv: at most 1 %, sugar: 150 g/L, acid: 9 g/L}
`)
	if got := names(a.Pours); !slices.Equal(got, []string{"Lemon juice", "Rich sugar syrup 2:1 by weight"}) {
		t.Errorf("chosen %v", got)
	}
}

// A light weight or a wide tolerance says what matters less, not that nobody
// tastes it.
func TestLightWeightsStopNoSearchEarly(t *testing.T) {
	for _, tolerance := range [][4]string{{", weight 0.01", ", weight 0.01", ", weight 0.01", ", weight 0.01"}, {" ± 15", " ± 110", " ± 13", " ± 26"}} {
		a := ask(t, "choose: {at most: 4, from: [dry gin, lemon juice, lime juice, rich syrup, water]}\nice: shake\n"+
			"target:\n  volume: 130 ml"+tolerance[3]+"\n  abv: 14 %"+tolerance[0]+"\n  sugar: 65 g/L"+tolerance[1]+"\n  acid: 7 g/L"+tolerance[2]+"\n")
		// 45 ml of gin, 17.5 of lemon juice, 10 of syrup and 15 of water are 131.6 ml
		// with 13.7 % vol, 70.6 g/L of sugar and 6.5 g/L of acid: 0.6 JND and 0.6 of the
		// tolerance of the volume, 0.9 in all.
		if a.TotalJND > 0.9 {
			t.Errorf("%v: %v JND off in all", tolerance, a.TotalJND)
		}
	}
}

// Nucleotides that must be in the drink are no reason to find none.
func TestNucleotidesMayBeRequired(t *testing.T) {
	a := ask(t, `
choose: {at most: 4, from: [neutral spirit, lemon juice, rich syrup], must: [bonito and kombu dashi]}
ice: shake
target: {volume: 130 ml, abv: 14 %, sugar: 65 g/L, acid: 7 g/L, umami: 1 g/L}
`)
	if !slices.Contains(names(a.Pours), "Bonito and kombu dashi") {
		t.Errorf("chosen %v", names(a.Pours))
	}
}

// What is unknown of pomegranate juice is little by itself and much beside
// nucleotides: it is left out then, and the question still answered.
func TestUnknownThatOthersMultiplyIsLeftOut(t *testing.T) {
	a := ask(t, `
choose: {at most: 4, from: [neutral spirit, lemon juice, pomegranate juice, rich syrup], must: [bonito and kombu dashi]}
ice: shake
target: {volume: 130 ml, abv: 14 %, sugar: 65 g/L, acid: 7 g/L, umami: 1 g/L}
`)
	if slices.Contains(names(a.Pours), "Pomegranate juice") {
		t.Errorf("chosen %v", names(a.Pours))
	}
}

// Every ingredient that was left out is named with the reason, those too that only
// turned out to be unknown beside what else is in the drink: a glass holds more of
// these wines than the fifth of it that each is looked at by itself.
func TestEachIngredientLeftOutOfAChoiceIsNamed(t *testing.T) {
	shelf, err := pantry.Embedded().Overlay(strings.NewReader("name,category,abv_percent,sucrose_g_per_l,glucose_g_per_l,fructose_g_per_l,other_sugars_g_per_l,citric_g_per_l,"+
		"titratable_acidity_g_per_l_as_citric,sodium_mg_per_l,bitterness_mg_per_l_quinine_hcl_eq,nucleotides_mg_per_l\n"+
		"House wine,wine,20,100,0,0,0,5,5,0,0,0\nCellar wine,wine,20,98,0,0,0,5,5,0,0,0\n"), "bar.csv")
	if err != nil {
		t.Fatal(err)
	}
	a, err := Design(Question{Shelf: shelf, Spec: readSpec(t, `
choose: {at most: 2, from: [house wine, cellar wine, neutral spirit, lemon juice, rich syrup]}
ice: stir
target: {volume: 120 ml, abv: 14 %, sugar: 70 g/L, acid: 3 g/L, umami: 0.3 g/L}
`)})
	if err != nil {
		t.Fatal(err)
	}
	var left []string
	for _, one := range a.Chosen.NotOffered {
		for _, i := range one.Ingredients {
			left = append(left, i.Name)
		}
	}
	slices.Sort(left)
	if !slices.Equal(left, []string{"Cellar wine", "House wine"}) || a.Chosen.Offered+len(left) != 5 {
		t.Errorf("%d of 5 offered, and %q named as left out; notes %q", a.Chosen.Offered, left, a.Notes)
	}
}

func TestRefusedChoicesSayWhatToDo(t *testing.T) {
	const target = "\ntarget: {volume: 130 ml, abv: 14 %, sugar: 65 g/L}\n"
	for text, want := range map[string]string{
		"choose: {at most: 4, from: [juice], must: [spirit]}" + target:                                                                                                       "must comes to 20 ingredients",
		"choose: {at most: 4, from: [juice], must: [aquavit], cost: at most 2}" + target:                                                                                     "Aquavit 42 % must be in the drink and has no price",
		"choose: {at most: 3, from: [dry gin, lemon juice, rich syrup]}\nice: shake\ntarget: {volume: 130 ml, abv: 14 % ± 0.01, sugar: 65 g/L ± 0.01, salt: 5 g/L ± 0.01}\n": "anywhere near the target",
	} {
		_, err := Design(Question{Spec: readSpec(t, text), Shelf: pantry.Embedded()})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, expected %q", text, err, want)
		}
	}
}
