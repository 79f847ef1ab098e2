package leastsquares

import (
	"math"
	"slices"
)

// openNode is a box that waits, with a lower bound on what is in it.
type openNode struct {
	node  Node
	bound float64
	y     []float64 // the point of the parent's relaxation
}

// gridSearch is one pass of branch and bound.
type gridSearch struct {
	options GridOptions
	root    Node
	empty   bool // no value of the grid lies in the root box
	model   GridModel
	n, aux  int
	relax   func(node *Node, cutoff float64, r *Relaxation)
	// measure is what the pass minimises at an evaluated point; +Inf: no
	// candidate.
	measure func(violation, objective float64) float64

	found incumbents
	// leastBroken is the point with the least violation, then objective.
	leastBroken gridPoint
	broken      bool

	workspace  *Workspace
	solution   Solution
	relaxation Relaxation
	q, size    []float64
	rounded    []int
	stack      []openNode
	spare      []openNode
	nodes      int
}

func newGridSearch(m GridModel, o GridOptions, root Node, n, aux int) *gridSearch {
	s := &gridSearch{options: o, model: m, n: n, aux: aux, workspace: o.Workspace}
	if s.workspace == nil {
		s.workspace = NewWorkspace()
	}
	s.root = root
	s.root.Lower, s.root.Upper = slices.Clone(root.Lower), slices.Clone(root.Upper)
	s.empty = !s.normalise(&s.root)
	s.rounded = make([]int, n)
	s.found = incumbents{least: o.Cutoff, better: o.Better}
	s.measure = func(violation, objective float64) float64 {
		if violation > 0 {
			return math.Inf(1)
		}
		return objective
	}
	return s
}

// evaluate asks the model about k and keeps what is worth keeping.
func (s *gridSearch) evaluate(k []int) gridPoint {
	p := gridPoint{k: k}
	p.violation, p.objective = s.model.Evaluate(k)
	p.measure = s.measure(p.violation, p.objective)
	if !math.IsInf(p.measure, 1) {
		s.found.offer(p)
	}
	if !s.broken || p.compare(s.leastBroken) < 0 {
		s.broken = true
		p.k = append(s.leastBroken.k[:0], k...)
		s.leastBroken = p
	}
	return p
}

// run searches the whole grid and returns the least measure with its proof.
func (s *gridSearch) run() GridAnswer {
	if s.empty {
		return GridAnswer{Proven: true, Bound: s.found.least}
	}
	for _, k := range s.options.Incumbents {
		copy(s.rounded, k)
		if s.snap(s.rounded); slices.Equal(k, s.rounded) {
			s.localSearch(s.rounded)
		}
	}
	s.push(&s.root, 0, nil)
	bound, proven := math.Inf(1), true
	for len(s.stack) > 0 {
		top := s.stack[len(s.stack)-1]
		s.stack = s.stack[:len(s.stack)-1]
		if s.isWorse(top.bound) {
			s.spare = append(s.spare, top)
			continue
		}
		if s.options.NodeLimit >= 0 && s.nodes >= s.options.NodeLimit {
			proven = false
			if s.nodes == 0 && s.bound(&top, true) {
				// The whole grid is bounded, but not searched.
				s.improve(true)
			}
			bound = min(bound, top.bound)
			continue
		}
		s.search(&top, s.nodes == 0)
		s.nodes++
		s.spare = append(s.spare, top)
	}
	answer := GridAnswer{Proven: proven, Nodes: s.nodes}
	p, ok := s.found.best()
	if ok {
		answer.K, answer.Violation, answer.Objective, answer.Found = p.k, p.violation, p.objective, true
	}
	if proven {
		bound = s.found.least
	}
	answer.Bound = min(bound, s.found.least)
	return answer
}

// isWorse reports whether a box with this bound holds nothing as good as the
// best point known.
func (s *gridSearch) isWorse(bound float64) bool {
	return bound > s.found.least+slack(s.found.least)
}

// push puts a box on the stack, reusing the storage of a finished one.
func (s *gridSearch) push(node *Node, bound float64, y []float64) *openNode {
	var o openNode
	if k := len(s.spare); k > 0 {
		o = s.spare[k-1]
		s.spare = s.spare[:k-1]
	}
	o.node.Lower = append(o.node.Lower[:0], node.Lower...)
	o.node.Upper = append(o.node.Upper[:0], node.Upper...)
	o.node.AuxLower = append(o.node.AuxLower[:0], node.AuxLower...)
	o.node.AuxUpper = append(o.node.AuxUpper[:0], node.AuxUpper...)
	o.y = append(o.y[:0], y...)
	o.bound = bound
	s.stack = append(s.stack, o)
	return &s.stack[len(s.stack)-1]
}

// normalise shrinks the box to values of the grid. It reports false when none
// is left.
func (s *gridSearch) normalise(node *Node) bool {
	for j := range s.n {
		if least := s.least(j); least > 1 {
			if node.Lower[j] > 0 && node.Lower[j] < least {
				node.Lower[j] = least
			}
			if node.Upper[j] > 0 && node.Upper[j] < least {
				node.Upper[j] = 0
			}
		}
		if node.Lower[j] > node.Upper[j] {
			return false
		}
	}
	return true
}

func isPoint(node *Node) bool {
	for j, l := range node.Lower {
		if l != node.Upper[j] {
			return false
		}
	}
	return true
}

// bound relaxes a box, shrinks it by reduced costs and raises its bound. It
// reports whether the box may hold a point of interest, and leaves the
// relaxation's optimum in s.solution.X.
func (s *gridSearch) bound(o *openNode, root bool) bool {
	cutoff := s.found.least + 2*slack(s.found.least)
	r := &s.relaxation
	r.Empty, r.SplitAux, r.Constant = false, -1, 0
	s.relax(&o.node, cutoff, r)
	if r.Empty {
		o.bound = math.Inf(1)
		return false
	}
	if root {
		if err := r.Problem.validate(); err != nil {
			panic(err.Error())
		}
	}
	p := &r.Problem
	w := s.workspace
	w.start = nil
	if len(o.y) == p.A.Cols {
		w.start = o.y
	}
	w.Solve(p, &s.solution)
	if s.solution.Status == Infeasible {
		// The proof of infeasibility has been checked against the input.
		o.bound = math.Inf(1)
		return false
	}
	for j, v := range s.solution.X {
		if !isFinite(v) {
			// Any point will do to round and to split at.
			s.solution.X[j] = (p.lower(j) + p.upper(j)) / 2
		}
	}
	s.q = resized(s.q, p.A.Cols)
	s.size = resized(s.size, p.A.Cols)
	bound := r.Constant + p.dualBound(s.solution.Residual, s.solution.InequalityMultiplier, s.solution.EqualityMultiplier, s.q, s.size)
	if bound > o.bound {
		o.bound = bound
	}
	if s.isWorse(o.bound) {
		return false
	}
	if !math.IsInf(cutoff, 1) && !math.IsInf(bound, -1) {
		s.shrink(&o.node, cutoff-bound)
	}
	return s.normalise(&o.node)
}

// shrink cuts from the box the values whose bound exceeds the cutoff: at the
// lower bound, where q_j > 0, k more steps add q_j k to the dual bound.
func (s *gridSearch) shrink(node *Node, room float64) {
	for j := range s.n {
		width := node.Upper[j] - node.Lower[j]
		// A coefficient no larger than its rounding says nothing.
		q := math.Abs(s.q[j]) - 1e-12*s.size[j]
		if width == 0 || q <= 0 || !(room < q*float64(width)) {
			continue
		}
		steps := max(int(math.Floor(room/q+1e-9)), 0)
		if s.q[j] > 0 {
			node.Upper[j] = min(node.Upper[j], node.Lower[j]+steps)
		} else {
			node.Lower[j] = max(node.Lower[j], node.Upper[j]-steps)
		}
	}
}

// search closes a box or splits it in two.
func (s *gridSearch) search(o *openNode, root bool) {
	if !s.normalise(&o.node) {
		return
	}
	if isPoint(&o.node) {
		s.evaluate(o.node.Lower)
		return
	}
	if !s.bound(o, root) {
		return
	}
	s.improve(root)
	if s.isWorse(o.bound) {
		return
	}
	if isPoint(&o.node) {
		s.evaluate(o.node.Lower)
		return
	}
	if s.splitByAuxiliary(o) {
		return
	}
	s.splitByInteger(o, s.solution.X[:s.n])
}

// improve rounds the relaxation's optimum and, at the root or when that is the
// best point yet, goes on by local search.
func (s *gridSearch) improve(root bool) {
	for j, v := range s.solution.X[:s.n] {
		s.rounded[j] = int(math.Round(min(max(v, float64(s.root.Lower[j])), float64(s.root.Upper[j]))))
	}
	s.snap(s.rounded)
	before := s.found.least
	s.evaluate(s.rounded)
	if root && !s.options.Sparing || s.found.least < before {
		s.localSearch(s.rounded)
	}
}

func (s *gridSearch) splitByAuxiliary(o *openNode) bool {
	a, at := s.relaxation.SplitAux, s.relaxation.SplitAt
	if a < 0 || a >= s.aux {
		return false
	}
	lower, upper := o.node.AuxLower[a], o.node.AuxUpper[a]
	// Both halves must be smaller by more than rounding, or splitting would
	// never end.
	least := 1e-9 * (math.Abs(lower) + math.Abs(upper))
	if !(at-lower > least && upper-at > least) {
		return false
	}
	s.push(&o.node, o.bound, s.solution.X).node.AuxLower[a] = at
	s.push(&o.node, o.bound, s.solution.X).node.AuxUpper[a] = at
	return true
}

// splitByInteger splits at the variable that is farthest from the grid, by
// frac^2 ||A_j||^2; where all are on it, at the one whose interval is widest,
// width^2 ||A_j||^2. The side nearer to the relaxation's optimum comes first.
func (s *gridSearch) splitByInteger(o *openNode, x []float64) {
	chosen, most := -1, 0.0
	for pass := 0; pass < 2 && chosen < 0; pass++ {
		for j, v := range x {
			l, u := o.node.Lower[j], o.node.Upper[j]
			if l == u {
				continue
			}
			away := float64(u - l)
			if pass == 0 {
				v = min(max(v, float64(l)), float64(u))
				away = math.Abs(v - math.Round(v))
				if least := float64(s.least(j)); v > 0 && v < least && l == 0 {
					away = min(v, least-v)
				}
				if away < 1e-9 {
					continue
				}
			}
			weight := s.workspace.columnSize(j)
			if score := away * away * weight * weight; chosen < 0 || score > most {
				chosen, most = j, score
			}
		}
	}
	j, v := chosen, x[chosen]
	l, u := o.node.Lower[j], o.node.Upper[j]
	v = min(max(v, float64(l)), float64(u))
	below := int(math.Floor(v))
	if math.Abs(v-math.Round(v)) < 1e-9 {
		below = int(math.Round(v))
	}
	below = min(below, u-1)
	lowerFirst := v-float64(below) <= 0.5
	if least := s.least(j); l == 0 && least > 1 && v < float64(least) {
		below = 0
		lowerFirst = 2*v <= float64(least)
	}
	// The last pushed is searched first.
	for side := range 2 {
		child := s.push(&o.node, o.bound, s.solution.X)
		if (side == 0) == lowerFirst {
			child.node.Lower[j] = below + 1
		} else {
			child.node.Upper[j] = below
		}
	}
}
