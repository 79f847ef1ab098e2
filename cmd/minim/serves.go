package main

import (
	"fmt"
	"math"

	"minim/solver"
)

// serveToServe says how often a serve would be noticeably off the drink meant,
// by the hand alone and with what is in the bottles, and which pour to mind.
func serveToServe(t *solver.Tolerance) string {
	hand, overall := inSoMany(t.ByHand.Chance), inSoMany(t.Overall.Chance)
	text := fmt.Sprintf("Poured by hand, %s would be noticeably off%s", hand, mattersMost(&t.ByHand))
	if overall == hand {
		return text + "."
	}
	return fmt.Sprintf("%s. With bottles and fruit as they vary it is %s%s.", text, overall, mattersMost(&t.Overall))
}

// mattersMost names the pour behind the worst property, unless next to no serve
// is off.
func mattersMost(v *solver.Variation) string {
	if v.Chance < rare || v.Pour == "" {
		return ""
	}
	return "; what matters most is the " + v.Pour
}

// rare is the chance below which a sentence leaves off counting.
const rare = 0.01

// inSoMany writes a chance as bars count: in whole serves.
func inSoMany(chance float64) string {
	switch {
	case chance < rare:
		return "fewer than 1 serve in 100"
	case chance > 0.95:
		return "nearly every serve"
	case chance < 0.45:
		return fmt.Sprintf("about 1 serve in %.0f", roundedCount(1/chance))
	}
	several := [][2]int{{1, 2}, {2, 3}, {3, 4}, {4, 5}, {9, 10}}
	nearest := several[0]
	for _, c := range several {
		if math.Abs(float64(c[0])/float64(c[1])-chance) < math.Abs(float64(nearest[0])/float64(nearest[1])-chance) {
			nearest = c
		}
	}
	word := "serves"
	if nearest[0] == 1 {
		word = "serve"
	}
	return fmt.Sprintf("about %d %s in %d", nearest[0], word, nearest[1])
}

// roundedCount keeps no more digits than a chance of a few thousand draws has.
func roundedCount(serves float64) float64 {
	if serves < 15 {
		return math.Round(serves)
	}
	return 5 * math.Round(serves/5)
}
