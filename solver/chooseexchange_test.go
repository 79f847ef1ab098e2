package solver

import (
	"testing"

	"minim/pantry"
	"minim/profile"
)

// A shaken drink cannot hold 60 % vol: ice melts until the mix is at its freezing
// point, and the strongest thing offered is 40 % vol to begin with. Water and
// weaker bottles can only lower it, so that the strongest bottle alone breaks the
// limit least.
func TestChoiceBreaksAHardLimitLeast(t *testing.T) {
	a, err := Design(Question{Shelf: pantry.Embedded(), Spec: readSpec(t, `ice: shake
choose: {at most: 3, from: [dry gin, fino sherry, sweet vermouth, lemon juice, rich syrup]}
target: {volume: 120 ml, abv: at least 60 %, acid: 6 g/L}
`)})
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Broken) != 1 || a.Broken[0].Got >= 40 {
		t.Fatalf("broken %+v; expected the strength alone, below that of the gin", a.Broken)
	}
	if len(a.Pours) != 1 || a.Pours[0].Ingredient.PerUnit()[profile.EthanolGrams] == 0 {
		t.Errorf("%d pours; expected the gin alone", len(a.Pours))
	}
	if a.Solution.Proven || a.Chosen.NearestProven || a.Chosen.FewestProven {
		t.Error("something is called proven that was not searched through")
	}
}

// Spirit, lemon and honey in 2.5 ml steps were found by hand for a target out of
// reach; what is chosen from all of three categories is no farther.
func TestChoiceFarFromTheTargetIsNoWorseThanByHand(t *testing.T) {
	target := "target: {volume: 120 ml, abv: 80 %, acid: 40 g/L}\n"
	byHand, err := Design(Question{Shelf: pantry.Embedded(), Spec: readSpec(t, "ice: shake\nmix: {neutral spirit 96 %: 35 ml, lemon juice: 32.5 ml, honey: 5 ml}\n"+target)})
	if err != nil {
		t.Fatal(err)
	}
	a, err := Design(Question{Shelf: pantry.Embedded(), Spec: readSpec(t, "ice: shake\nchoose: {at most: 4, from: [spirit, juice, syrup, honey]}\n"+target)})
	if err != nil {
		t.Fatal(err)
	}
	if a.Solution.Objective > byHand.Solution.Objective*(1+1e-9) {
		t.Errorf("chosen F %.4g, by hand %.4g", a.Solution.Objective, byHand.Solution.Objective)
	}
	if a.Chosen.FewestProven && !a.Chosen.NearestProven {
		t.Error("the fewest are proven beside a nearest that is not")
	}
}
