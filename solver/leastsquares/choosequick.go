package leastsquares

import (
	"cmp"
	"math"
	"slices"
)

const (
	// beamWidth is how many sets of columns of one size the quick search
	// extends.
	beamWidth = 24
	// beamRounded is how many of them are rounded and improved at each size.
	beamRounded = 6
	// beamExchanged is how many sets then have their pairs exchanged.
	beamExchanged = 8
	// quickDecoded is how many supports the caller's own search is asked about in
	// each exchange.
	quickDecoded = 120
)

// beamSet is a set of columns with the least residual of real amounts.
type beamSet struct {
	node  choiceNode
	value float64
	key   columnSet
}

// quickSearch looks for a good candidate: it extends the best sets column by
// column, rounds them, and exchanges pairs in the best.
func (w *choiceWorker) quickSearch(roots []choiceNode) {
	w.quick = true
	if budget := w.chooser.o.QuickBudget; budget > 0 {
		w.allowance = budget
	}
	defer func() { w.quick, w.stopped, w.allowance = false, false, -1 }()
	for _, k := range w.chooser.o.Incumbents {
		w.tryIncumbent(k)
	}
	var best []beamSet
	for i := range roots {
		best = append(best, w.beam(&roots[i])...)
	}
	sortBeam(best)
	seen := map[columnSet]bool{}
	for i, tried := 0, 0; i < len(best) && tried < beamExchanged && !w.quickSpent(); i++ {
		if !seen[best[i].key] {
			seen[best[i].key] = true
			tried++
			w.exchange(best[i].node.path, roots)
		}
	}
	for range 10 {
		p, ok := w.found.best()
		if !ok || w.quickSpent() {
			return
		}
		before := p.objective
		var support []int
		for j, k := range p.k {
			if k != 0 {
				support = append(support, j)
			}
		}
		w.exchange(support, roots)
		if !(w.found.least < before-slack(before)) {
			return
		}
	}
}

// quickSpent tells whether the quick search has done what it may.
func (w *choiceWorker) quickSpent() bool {
	budget := w.chooser.o.QuickBudget
	return budget > 0 && w.work > budget
}

// tryIncumbent offers k when it is within the rules for supports.
func (w *choiceWorker) tryIncumbent(k []int) {
	s := w.chooser
	var n choiceNode
	n.left = s.p.Most
	for j, v := range k {
		switch {
		case v == 0 && s.must[j], v != 0 && (v < s.least[j] || v > s.upper[j]), v != 0 && s.group[j]&n.used != 0:
			return
		case v != 0:
			n.choose(s, j)
			if s.counted[j] {
				n.left--
			}
		}
	}
	if n.left < 0 || s.exact&^n.covered != 0 || !s.allows(n.path) {
		return
	}
	w.support, w.steps = append(w.support[:0], n.path...), w.steps[:0]
	for _, j := range n.path {
		w.steps = append(w.steps, k[j])
	}
	w.improve()
}

func sortBeam(sets []beamSet) {
	slices.SortStableFunc(sets, func(a, b beamSet) int {
		return cmp.Or(cmp.Compare(a.value, b.value), slices.Compare(a.node.path, b.node.path))
	})
}

// beam returns the best sets found from a root, of every size.
func (w *choiceWorker) beam(root *choiceNode) []beamSet {
	s := w.chooser
	now := []beamSet{{node: *root}}
	for _, j := range root.path {
		now[0].key.add(j)
	}
	now[0].value = w.realFit(root.path)
	var best []beamSet
	for {
		for i := range min(len(now), beamRounded) {
			w.round(&now[i].node)
		}
		best = append(best, now[:min(len(now), beamExchanged)]...)
		if now[0].node.left == 0 {
			return best
		}
		var next []beamSet
		seen := map[columnSet]bool{}
		for i := range now {
			n := &now[i].node
			// Needs that only groups impose steer the choice early.
			columns, _ := s.branches(n, s.exact, nil)
			for _, j := range columns {
				if s.group[j]&n.used != 0 || slices.Contains(n.path, j) {
					continue
				}
				key := now[i].key
				key.add(j)
				if seen[key] {
					continue
				}
				seen[key] = true
				c := choiceNode{path: append(slices.Clone(n.path), j), candidates: n.candidates, left: n.left - 1}
				c.covered, c.used = n.covered|s.covers[j], n.used|s.group[j]
				next = append(next, beamSet{c, w.realFit(c.path), key})
			}
		}
		if len(next) == 0 {
			return best
		}
		sortBeam(next)
		now = next[:min(len(next), beamWidth)]
	}
}

// realFit is the least residual of real amounts of the columns.
func (w *choiceWorker) realFit(columns []int) float64 {
	w.support = append(w.support[:0], columns...)
	w.relax()
	clear(w.relaxed.Lower)
	w.workspace.Solve(&w.relaxed, &w.solution)
	if w.solution.Status == Infeasible {
		return math.Inf(1)
	}
	return w.solution.Objective
}

// round rounds the best real amounts of a set, within the bounds of a support,
// and improves them.
func (w *choiceWorker) round(n *choiceNode) {
	s := w.chooser
	w.support = append(w.support[:0], n.path...)
	slices.Sort(w.support)
	if len(w.support) == 0 || s.exact&^n.covered != 0 || !s.allows(w.support) {
		return
	}
	w.relax()
	if s.p.Decode != nil {
		w.decodeByModel()
		return
	}
	w.workspace.Solve(&w.relaxed, &w.solution)
	w.steps = w.steps[:0]
	for c, x := range w.solution.X {
		w.steps = append(w.steps, int(math.Round(min(max(x, w.relaxed.Lower[c]), w.relaxed.Upper[c]))))
	}
	w.improve()
}

// improve moves w.steps by one or two steps singly, then by one in pairs, as
// long as that helps.
func (w *choiceWorker) improve() {
	s, n := w.chooser, len(w.support)
	now := w.offer(w.support, w.steps)
	try := func(c, by, d, other int) bool {
		w.steps[c] += by
		if d >= 0 {
			w.steps[d] += other
		}
		inside := w.steps[c] >= s.least[w.support[c]] && w.steps[c] <= s.upper[w.support[c]] &&
			(d < 0 || w.steps[d] >= s.least[w.support[d]] && w.steps[d] <= s.upper[w.support[d]])
		if inside {
			if objective := w.offer(w.support, w.steps); objective < now {
				now = objective
				return true
			}
		}
		w.steps[c] -= by
		if d >= 0 {
			w.steps[d] -= other
		}
		return false
	}
	for range 100 {
		better := false
		for c := range n {
			for _, by := range [...]int{-1, 1, -2, 2} {
				better = try(c, by, -1, 0) || better
			}
		}
		for c := range n {
			for d := range c {
				for _, by := range [...][2]int{{1, -1}, {-1, 1}, {1, 1}, {-1, -1}} {
					better = !better && try(c, by[0], d, by[1]) || better
				}
			}
		}
		if !better {
			return
		}
	}
}

// exchange tries every pair of columns in place of each pair of a support.
func (w *choiceWorker) exchange(support []int, roots []choiceNode) {
	if math.IsInf(w.found.least, 1) {
		return
	}
	s := w.chooser
	support = slices.Clone(support)
	slices.Sort(support)
	w.gathering = w.quick && s.p.Decode != nil
	defer func() {
		if w.gathering {
			w.gathering = false
			w.searchGathered()
		}
	}()
	w.required = s.required(s.limit(w.found.least))
	for r := range roots {
		root := &roots[r]
		var counted []int
		matches := len(root.candidates) > 0
		for _, j := range support {
			if s.counted[j] && !s.must[j] {
				counted = append(counted, j)
			} else {
				matches = matches && slices.Contains(root.path, j)
			}
		}
		if !matches || len(support)-len(counted) != len(root.path) {
			continue
		}
		// With less than two to take away, or room left, what is there stays.
		away := max(len(counted)-root.left+2, 0)
		for a := range len(counted) {
			for b := range a + 1 {
				if away == 2 && a == b || away < 2 && a != b || away == 0 && a > 0 {
					continue
				}
				n := choiceNode{path: slices.Clone(root.path), covered: root.covered, used: root.used, left: root.left}
				for i, j := range counted {
					if away == 0 || i != a && i != b {
						n.choose(s, j)
						n.left--
					}
				}
				n.left = min(n.left, 2)
				for _, j := range root.candidates {
					if s.group[j]&n.used == 0 && !slices.Contains(n.path, j) {
						n.candidates = append(n.candidates, j)
					}
				}
				w.search(&n)
			}
		}
	}
}
