package solver

import (
	"cmp"
	"slices"
)

// byName lists the pours that may change, those that count or those that do not,
// in the order of names; what comes in is in neither.
func (r *rework) byName(uncounted bool) []int {
	var list []int
	for i := range r.pours {
		if !r.pours[i].fixed && !r.comesIn(i) && r.uncounted[i] == uncounted {
			list = append(list, i)
		}
	}
	slices.SortFunc(list, func(a, b int) int {
		return cmp.Or(compareNames(&r.pours[a], &r.pours[b]), cmp.Compare(a, b))
	})
	return list
}

// subsetsOf are the sets of a list of that size, by rising indices.
func subsetsOf(list []int, size int) [][]int {
	var out [][]int
	for subset := firstSubset(size); subset != nil; subset = nextSubset(subset, len(list)) {
		chosen := make([]int, size)
		for i, n := range subset {
			chosen[i] = list[n]
		}
		out = append(out, chosen)
	}
	return out
}

// allSubsets are all sets of a list, the smaller first.
func allSubsets(list []int) [][]int {
	var out [][]int
	for size := 0; size <= len(list); size++ {
		out = append(out, subsetsOf(list, size)...)
	}
	return out
}

// mostSets is how many sets of uncounted pours are told apart; beyond, all of
// them are open in every search.
const mostSets = 6
