package main

import (
	"strings"
	"testing"

	"minim/solver"
)

func TestChancesAreCountedInServes(t *testing.T) {
	for chance, want := range map[float64]string{
		0: "fewer than 1 serve in 100", 0.0099: "fewer than 1 serve in 100", 0.01: "about 1 serve in 100",
		0.031: "about 1 serve in 30", 0.082: "about 1 serve in 12", 0.3: "about 1 serve in 3", 0.44: "about 1 serve in 2",
		0.5: "about 1 serve in 2", 0.66: "about 2 serves in 3", 0.74: "about 3 serves in 4", 0.81: "about 4 serves in 5",
		0.9: "about 9 serves in 10", 0.951: "nearly every serve", 1: "nearly every serve",
	} {
		if got := inSoMany(chance); got != want {
			t.Errorf("%v is %q, want %q", chance, got, want)
		}
	}
}

func TestServesInASentence(t *testing.T) {
	hand := solver.Variation{Chance: 0.082, Pour: "lemon juice", Share: 0.7}
	for want, overall := range map[string]solver.Variation{
		"Poured by hand, about 1 serve in 12 would be noticeably off; what matters most is the lemon juice.":                                                                                             {Chance: 0.083, Pour: "gin"},
		"Poured by hand, about 1 serve in 12 would be noticeably off; what matters most is the lemon juice. With bottles and fruit as they vary it is about 1 serve in 4; what matters most is the gin.": {Chance: 0.25, Pour: "gin"},
	} {
		if got := serveToServe(&solver.Tolerance{ByHand: hand, Overall: overall}); got != want {
			t.Errorf("%s\nwant %s", got, want)
		}
	}
	steady := solver.Variation{Chance: 0.001, Pour: "gin"}
	if got := serveToServe(&solver.Tolerance{ByHand: steady, Overall: steady}); strings.Contains(got, "gin") {
		t.Errorf("%s: names a pour where next to no serve is off", got)
	}
}
