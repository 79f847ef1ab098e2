package solver

import (
	"testing"

	"minim/pantry"
)

// What one more ingredient could do is measured as the misses of an answer are: a
// drink on the measures that takes it in comes about as near, and no nearer than
// the 2.5 ml steps and the better balance on the scale of the misses let it.
func TestHelpIsOnTheScaleOfTheMisses(t *testing.T) {
	shelf := pantry.Embedded()
	q := RebalanceQuestion{
		Spec:  readSpec(t, "drink: Tall\nmix:\n  dry gin: 50 ml\ntop:\n  tonic water: 150 ml\n"),
		Shelf: shelf, Swaps: []Swap{{"tonic water", "soda water"}},
	}
	without := rebalanced(t, q)
	if without.Conflict == nil || without.Conflict.Help == nil || without.Conflict.Help.Ingredient == nil {
		t.Fatalf("no ingredient helps: %+v", without.Conflict)
	}
	help := without.Conflict.Help
	q.Free = []string{help.Ingredient.Name}
	near(t, "total miss", rebalanced(t, q).TotalJND, help.TotalJND, 0.5)
}
