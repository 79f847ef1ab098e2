package leastsquares

import (
	"fmt"
	"math"
)

// Node is a box of the grid: integer variables between Lower and Upper, both
// included, and auxiliary real quantities (a total, say) between AuxLower and
// AuxUpper, by which a model may want its boxes split.
type Node struct {
	Lower, Upper       []int
	AuxLower, AuxUpper []float64
}

// Relaxation is a convex problem that bounds a box from below. A model fills
// every field each time: the storage is used again.
type Relaxation struct {
	// Problem has the integer variables first, as reals, then any continuous
	// ones. Its bounds must be finite.
	Problem Problem
	// Constant is added to ||A x - B||^2.
	Constant float64
	// Empty: the box holds no point of interest.
	Empty bool
	// SplitAux is the auxiliary quantity to split the box by, at SplitAt, or
	// -1 to split by an integer variable.
	SplitAux int
	SplitAt  float64
}

// GridModel is a problem in integers: find the grid point that breaks no hard
// limit and has the least objective, which must not be negative.
type GridModel interface {
	// Variables returns how many integer variables and auxiliary quantities
	// there are.
	Variables() (integers, auxiliaries int)
	// Root returns the box of all grid points.
	Root() Node
	// Evaluate returns how far k breaks hard limits (0: not at all) and its
	// objective, both exact.
	Evaluate(k []int) (violation, objective float64)
	// Relax fills r so that each grid point k of the node with violation 0 and
	// objective below cutoff has a feasible x that begins with k and
	// Constant + ||A x - B||^2 <= objective(k).
	Relax(node *Node, cutoff float64, r *Relaxation)
}

// ViolationModel is a GridModel that can also bound how far limits must be
// broken. Without it the least violation of an impossible problem is only
// searched for, not proven.
type ViolationModel interface {
	// RelaxViolation fills r so that each grid point k of the node with
	// violation^2 below cutoff has a feasible x that begins with k and
	// Constant + ||A x - B||^2 <= violation(k)^2.
	RelaxViolation(node *Node, cutoff float64, r *Relaxation)
}

// GridOptions steers SolveGrid.
type GridOptions struct {
	// NodeLimit is the largest number of boxes to search; negative: no limit.
	// At 0 the incumbent is returned with the bound of the whole grid.
	NodeLimit int
	// Semicontinuous[j] >= 2: variable j is 0 or at least that many steps; its
	// lower bound must not be negative. 0 and 1 mean an ordinary variable.
	Semicontinuous []int
	// Incumbents are points to try first; those outside the grid are ignored.
	Incumbents [][]int
	// Cutoff: only objectives up to it are of interest. +Inf and 0: all.
	Cutoff float64
	// Sparing skips the local search that otherwise starts from the rounded root
	// relaxation; for one of many grids, most of which hold nothing of interest.
	Sparing bool
	// Workspace holds the storage of the relaxations' solutions; nil: a new one.
	Workspace *Workspace
	// Better orders points of equal objective: -1 when a comes first, 1 when b
	// does, 0 when it makes no difference. Points that it leaves equal, or all
	// when it is nil, are in lexicographic order.
	Better func(a, b []int) int
}

// GridAnswer is what SolveGrid found.
type GridAnswer struct {
	K                           []int
	Violation, Objective, Bound float64
	// Proven: no point has a smaller violation, nor one of the same violation
	// a smaller objective, and of equal ones K is the first. When Found is
	// false it means that no point is within Cutoff.
	Proven bool
	Nodes  int
	// Found: K is a point of the grid, though it may break limits.
	Found bool
}

// equalObjective is how close, relative to 1 + objective, two objectives are
// to count as equal. Boxes are given up only when they are worse by more.
const equalObjective = 1e-9

// SolveGrid minimises m by branch and bound on box relaxations. Bounds come
// from Problem.DualBound, so that rounding in a relaxation cannot cut off the
// best point. Points without violation come before all others; among those of
// equal objective (within 1e-9 of 1 + objective) Better decides. Where every
// point has a violation, the least violation comes first, the least objective
// second. Bound is a lower bound on the objective of points without violation
// or, when the answer has a violation, on the square of the violation.
//
// The search is deterministic. An error means a malformed model or option.
func SolveGrid(m GridModel, o GridOptions) (GridAnswer, error) {
	n, aux := m.Variables()
	root := m.Root()
	if err := validateGrid(n, aux, &root, &o); err != nil {
		return GridAnswer{}, err
	}
	if o.Cutoff == 0 {
		o.Cutoff = math.Inf(1)
	}
	s := newGridSearch(m, o, root, n, aux)
	s.relax = m.Relax
	answer := s.run()
	if answer.Found || !math.IsInf(o.Cutoff, 1) {
		return answer, nil
	}
	return s.leastViolation(answer), nil
}

// leastViolation follows a pass that found no point without violation.
func (s *gridSearch) leastViolation(first GridAnswer) GridAnswer {
	answer := GridAnswer{Nodes: first.Nodes}
	model, ok := s.model.(ViolationModel)
	if ok && first.Proven {
		second := newGridSearch(s.model, s.options, s.root, s.n, s.aux)
		second.relax = model.RelaxViolation
		second.measure = func(violation, _ float64) float64 { return violation * violation }
		if s.broken && !s.empty {
			second.options.Incumbents = append([][]int{s.leastBroken.k}, s.options.Incumbents...)
		}
		if limit := s.options.NodeLimit; limit > 0 {
			second.options.NodeLimit = max(limit-first.Nodes, 0)
		}
		answer = second.run()
		answer.Nodes += first.Nodes
		return answer
	}
	if !s.empty {
		for j := range s.rounded {
			s.rounded[j] = s.root.Lower[j] + (s.root.Upper[j]-s.root.Lower[j])/2
		}
		s.snap(s.rounded)
		s.localSearch(s.rounded)
		copy(s.rounded, s.leastBroken.k)
		s.localSearch(s.rounded)
	}
	if s.broken {
		p := s.leastBroken
		answer.K, answer.Violation, answer.Objective, answer.Found = p.k, p.violation, p.objective, true
	}
	return answer
}

func validateGrid(n, aux int, root *Node, o *GridOptions) error {
	if len(root.Lower) != n || len(root.Upper) != n {
		return fmt.Errorf("leastsquares: the root box has %d and %d bounds; expected %d integers", len(root.Lower), len(root.Upper), n)
	}
	if len(root.AuxLower) != aux || len(root.AuxUpper) != aux {
		return fmt.Errorf("leastsquares: the root box has %d and %d auxiliary bounds; expected %d", len(root.AuxLower), len(root.AuxUpper), aux)
	}
	if o.Semicontinuous != nil && len(o.Semicontinuous) != n {
		return fmt.Errorf("leastsquares: %d semicontinuous minima; expected %d", len(o.Semicontinuous), n)
	}
	for j, least := range o.Semicontinuous {
		if least > 1 && root.Lower[j] < 0 {
			return fmt.Errorf("leastsquares: variable %d is zero or at least %d, but its lower bound is %d", j, least, root.Lower[j])
		}
	}
	for _, k := range o.Incumbents {
		if len(k) != n {
			return fmt.Errorf("leastsquares: an incumbent has %d numbers; expected %d", len(k), n)
		}
	}
	if math.IsNaN(o.Cutoff) || o.Cutoff < 0 {
		return fmt.Errorf("leastsquares: cutoff %g; expected a number from 0", o.Cutoff)
	}
	return nil
}
