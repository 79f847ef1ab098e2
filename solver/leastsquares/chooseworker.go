package leastsquares

import "math"

// choiceWorker searches nodes; each goroutine has its own.
type choiceWorker struct {
	chooser  *chooser
	found    incumbents
	required uint64 // needs of the present limit

	reduction reduction
	pairs     choicePairs
	inverse   pathInverse
	levels    []choiceNode
	lists     [][]int

	support, steps, whole []int
	boxLeast, boxUpper    []int
	// quick is true in the quick search, which proves nothing; gathering where
	// supports are kept for later.
	quick, gathering  bool
	gathered          []gathered
	matrix, rowMatrix Matrix
	relaxed           Problem
	workspace         *Workspace
	solution          Solution
	q, qSize          []float64
	triangle          triangle

	limitOf, limitAt float64 // the linear limit at the least objective limitAt

	work, allowance           int // allowance below 0: none
	nodes, pairCount, decoded int
	stopped                   bool
	open                      float64 // the least bound of what was left out
}

func newChoiceWorker(s *chooser) *choiceWorker {
	return &choiceWorker{
		chooser: s, reduction: newReduction(s), workspace: NewWorkspace(), whole: make([]int, s.n),
		levels: make([]choiceNode, s.n+2), lists: make([][]int, s.n+2), limitAt: -1, allowance: -1,
		open: math.Inf(1),
	}
}

// limit is the largest linear objective that matters, when the residual may
// still move by lost.
func (w *choiceWorker) limit(lost float64) float64 {
	if w.quick {
		// Nothing is proven here: the linear objective is estimate enough.
		w.limitAt, w.limitOf = -1, w.found.least
	} else if w.found.least != w.limitAt {
		w.limitAt = w.found.least
		w.limitOf = w.chooser.limit(w.found.least)
	}
	if lost == 0 {
		return w.limitOf
	}
	root := math.Sqrt(w.limitOf) + lost
	return root * root
}

// limit returns the largest linear objective of a candidate whose objective
// counts as no worse than least: what was promised, and room for rounding.
func (s *chooser) limit(least float64) float64 {
	l := (least + 2*slack(least) + s.offset) / s.scale
	return l + 1e-9*(1+l) + 1e-11*s.square
}

// start forgets what the worker found and counted before.
func (w *choiceWorker) start(least float64, required uint64) {
	w.found = incumbents{least: least, better: w.chooser.order}
	w.required = required
	w.work, w.nodes, w.pairCount, w.decoded = 0, 0, 0, 0
	w.stopped, w.open = false, math.Inf(1)
}

// search visits a node from its path on.
func (w *choiceWorker) search(n *choiceNode) {
	undo := w.enter(n.path, n.candidates)
	w.visit(n, 0)
	w.leave(undo)
}

// enter reflects the columns of a path, and those candidates.
func (w *choiceWorker) enter(path, candidates []int) []extended {
	undo := make([]extended, 0, len(path))
	moved := make([]int, 0, len(path)+len(candidates))
	for i, j := range path {
		moved = append(append(moved[:0], path[i+1:]...), candidates...)
		undo = append(undo, w.reduction.push(w.chooser, j, moved))
	}
	return undo
}

func (w *choiceWorker) leave(undo []extended) {
	for i := len(undo) - 1; i >= 0; i-- {
		w.reduction.pop(undo[i])
	}
}

func (w *choiceWorker) visit(n *choiceNode, depth int) {
	if w.allowance >= 0 && w.work > w.allowance {
		w.stopped = true
		return
	}
	if n.left <= 2 {
		w.leaf(n)
		return
	}
	w.nodes++
	s := w.chooser
	columns, alone := s.branches(n, w.required, w.lists[depth])
	w.lists[depth] = columns
	if alone {
		target := w.reduction.target[w.reduction.rank()]
		if dot(target, target) <= w.limit(w.reduction.lost) {
			w.decode(n.path, -1, -1)
		}
	}
	c := &w.levels[depth]
	for i, j := range columns {
		s.child(n, columns, i, c)
		undo := w.reduction.push(s, j, c.candidates)
		w.work += len(c.candidates)
		w.visit(c, depth+1)
		w.reduction.pop(undo)
		if w.stopped {
			return
		}
	}
}
