package main

import (
	"slices"
	"strings"

	"minim/solver"
)

// barCells is the width of a bar, without the mark at either side for a target
// out of reach.
const barCells = 12

// barLegend explains the marks that the bars of r use.
func barLegend(r *solver.Reachable) string {
	held := slices.ContainsFunc(r.Ranges, func(one solver.PropertyReach) bool { return one.Held != nil })
	aimed := anyAimed(r)
	switch {
	case held && aimed:
		return "Bars: - alone, = with every other target held within one JND, o wanted."
	case aimed:
		return "Bars: - alone, o wanted."
	}
	return ""
}

// reachBar draws a range from its least to its most: - alone, = with the other
// targets held where there are others, o the target; < or > where that is outside.
func reachBar(one *solver.PropertyReach, others bool) string {
	least, most := one.Alone.Least.Value, one.Alone.Greatest.Value
	if !(most > least) {
		return " fixed"
	}
	cell := func(v float64) int {
		return min(max(int((v-least)/(most-least)*barCells), 0), barCells-1)
	}
	bar := []byte(" " + strings.Repeat("-", barCells) + " ")
	fill := func(low, high float64, mark byte) {
		for i := cell(low); i <= cell(high); i++ {
			bar[1+i] = mark
		}
	}
	if one.Held != nil && others {
		fill(one.Held.Least.Value, one.Held.Greatest.Value, '=')
	}
	switch room := 1e-6 * (most - least); {
	case !one.Aimed:
	case one.High < least-room:
		bar[0] = '<'
	case one.Low > most+room:
		bar[1+barCells] = '>'
	default:
		fill(one.Low, one.High, 'o')
	}
	return string(bar)
}
