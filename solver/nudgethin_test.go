package solver

import (
	"testing"

	"minim/pantry"
	"minim/profile"
)

// What is said to thin a drink does, in the drink that a spec written so makes:
// without the pour, and with the water.
func TestWhatThinsADrinkWasTried(t *testing.T) {
	shelf := pantry.Embedded()
	spec := "drink: Sour\nmix:\n  blended whisky: 60 ml\n  lemon juice: 22.5 ml\n  rich syrup: 15 ml\nice: shake\n"
	out, _, err := Nudged(NudgeQuestion{Spec: readSpec(t, spec), Shelf: shelf, Nudges: []Nudge{{profile.Viscosity, -1}}})
	if err != nil {
		t.Fatal(err)
	}
	thin := out.Thinner
	if thin == nil || thin.Thickest == nil || thin.Thickest.Name != "rich syrup" || thin.Water == 0 {
		t.Fatalf("thinner with %+v, want without rich syrup and with water", thin)
	}
	viscosity := func(text string) float64 {
		a, err := Report(Question{Spec: readSpec(t, text), Shelf: shelf})
		if err != nil {
			t.Fatal(err)
		}
		return a.Profile[profile.Viscosity].Value
	}
	near(t, "without", thin.Without, viscosity("drink: Sour\nmix:\n  blended whisky: 60 ml\n  lemon juice: 22.5 ml\nice: shake\n"), 1e-9)
	near(t, "with water", thin.Water, 20, 0)
	wanted := 0.0
	for _, p := range out.Properties {
		if p.Property == profile.Viscosity {
			wanted = p.Wanted
		}
	}
	if more, less := viscosity(spec[:len(spec)-len("ice: shake\n")]+"  water: 20 ml\nice: shake\n"), viscosity(spec[:len(spec)-len("ice: shake\n")]+"  water: 17.5 ml\nice: shake\n"); more > wanted || less <= wanted {
		t.Errorf("%v mPa·s with 20 ml of water, %v with 17.5 ml, want %v between", more, less, wanted)
	}
}
