package solver

import (
	"testing"

	"minim/pantry"
)

// besidesWater counts the ingredients of a drink.
func besidesWater(a *Answer) int {
	n := 0
	for i := range a.Pours {
		if a.Pours[i].Name != "water" {
			n++
		}
	}
	return n
}

// Sugar comes off a scale, syrup out of a jigger. The drink nearest to the best
// has syrup; asked for the more robust one, the answer has sugar in its place,
// tastes alike, has no more ingredients, and its serves are much less often
// noticeably off. The other questions move by less, or not at all.
func TestRobustDrink(t *testing.T) {
	for n, text := range []string{
		"measure: 1 ml\nmix:\n  dry gin: open\n  rich syrup: optional\n  sugar: optional\n  lime juice: 20 ml\n  water: optional\nice: shake\ntarget:\n  volume: 120 ml\n  abv: 16 %\n  sugar: 76 g/L\n",
		"mix:\n  dry gin: open\n  rich syrup: optional\n  sugar: optional\n  lime juice: 20 ml\n  water: optional\nice: shake\ntarget:\n  volume: 120 ml\n  abv: 16 %\n  sugar: 68 g/L\n",
		"measure: 1 ml\nmix:\n  vodka: 20..60 ml\n  aquavit: 5..60 ml\n  dry gin: 1..60 ml\n  sugar: 8 g\n  lime juice: 20 ml\nice: shake\ntarget:\n  volume: 120 ml\n  abv: 16 %\n  sugar: 70 g/L\n",
		"mix:\n  vodka: 50 ml\n  water: 20 ml\ntarget:\n  abv: 30 %\n",
		"mix:\n  vodka: open\n  water: 20 ml\ntarget:\n  volume: 60 ml\n",
		eightOpen,
	} {
		q := Question{Spec: readSpec(t, text), Shelf: pantry.Embedded()}
		plain, err := Design(q)
		if err != nil {
			t.Fatal(err)
		}
		q.Robust = true
		robust, err := Design(q)
		if err != nil {
			t.Fatal(err)
		}
		if plain.Tolerance == nil {
			if robust.Tolerance != nil {
				t.Errorf("%d: a tolerance of nothing that is tasted", n)
			}
			continue
		}
		before, after := plain.Tolerance.Overall.Chance, robust.Tolerance.Overall.Chance
		t.Logf("%d: chance %v, more robust %v, %d boxes for %d", n, before, after, robust.Solution.Nodes, plain.Solution.Nodes)
		if after > before {
			t.Errorf("%d: the more robust drink is off with chance %v, the other with %v", n, after, before)
		}
		if besidesWater(robust) > besidesWater(plain) {
			t.Errorf("%d: the more robust drink has %d ingredients, the other %d", n, besidesWater(robust), besidesWater(plain))
		}
		if robust.Solution.Least != plain.Solution.Least {
			t.Errorf("%d: least F is %v, and %v where the more robust drink is asked for", n, plain.Solution.Least, robust.Solution.Least)
		}
		// Both lie within a quarter of a JND of the best.
		for i := range plain.Misses {
			if a, b := &plain.Misses[i], &robust.Misses[i]; a.HasJND && (a.JND-b.JND > 2*unlikeness || b.JND-a.JND > 2*unlikeness) {
				t.Errorf("%d: %s is %v, and %v in the more robust drink", n, a.Property.Name(), a.Got, b.Got)
			}
		}
		if n == 0 && !(after < before/3) {
			t.Errorf("sugar in the place of syrup brings the chance from %v to %v only", before, after)
		}
	}
}
