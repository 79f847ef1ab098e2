package solver

import (
	"testing"

	"minim/pantry"
)

// Two drops are 0.1 ml, and the measure of saline is 0.25 ml. Saline has no acid,
// so that of drinks too weak in it the one with less saline is nearer to the limit:
// what is poured now is among the amounts where a limit cannot be kept.
func TestALimitOutOfReachLeavesAPourOffItsMeasure(t *testing.T) {
	spec := readSpec(t, "mix:\n  white rum: 50 ml\n  lemon juice: 25 ml\n  rich syrup: 15 ml\n  saline: 2 drops\nice: shake\ntarget:\n  acid: at least 12 g/L\n")
	out := rebalanced(t, RebalanceQuestion{
		Spec: spec, Shelf: pantry.Embedded(), Swaps: []Swap{{"lemon juice", "apple juice"}}, Keep: []string{"rich syrup"}, Budget: 4000,
	})
	if len(out.Broken) != 1 {
		t.Fatalf("%v broken, expected the limit on acid", out.Broken)
	}
	for _, p := range out.Pours {
		if p.Name == "saline" && (p.After == nil || *p.After != pantry.Amount{Value: 2, Unit: pantry.Drops}) {
			t.Errorf("saline: %v, expected its 2 drops", p.After)
		}
	}
}
