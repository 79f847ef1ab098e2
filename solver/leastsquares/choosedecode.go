package leastsquares

import (
	"cmp"
	"math"
	"slices"
)

// choiceRowTolerance is how far a row G k <= H may be exceeded, relative to
// the size of its terms, to count as met.
const choiceRowTolerance = 1e-9

// decode searches the integers of a support: the path and one or two columns
// more, or -1. w.found keeps the candidates within the limit.
func (w *choiceWorker) decode(path []int, p, q int) {
	w.support = append(w.support[:0], path...)
	for _, j := range [...]int{p, q} {
		if j >= 0 {
			w.support = append(w.support, j)
		}
	}
	slices.Sort(w.support)
	if w.gathering {
		w.gather()
		return
	}
	w.decodeSupport()
}

// gathered is a support for the caller's own search, with its linear objective.
type gathered struct {
	support   []int
	objective float64
}

// gather keeps the support for later, when the best are searched first.
func (w *choiceWorker) gather() {
	if !w.chooser.allows(w.support) {
		return
	}
	w.relax()
	w.work += decodeWork
	w.workspace.Solve(&w.relaxed, &w.solution)
	if w.solution.Status != Infeasible && w.solution.Objective < w.found.least {
		w.gathered = append(w.gathered, gathered{slices.Clone(w.support), w.solution.Objective})
	}
}

// searchGathered searches the integers of the best supports gathered.
func (w *choiceWorker) searchGathered() {
	slices.SortStableFunc(w.gathered, func(a, b gathered) int {
		return cmp.Or(cmp.Compare(a.objective, b.objective), slices.Compare(a.support, b.support))
	})
	for _, g := range w.gathered[:min(len(w.gathered), quickDecoded)] {
		if g.objective >= w.found.least {
			break
		}
		w.support = append(w.support[:0], g.support...)
		w.decodeSupport()
	}
	w.gathered = w.gathered[:0]
}

func (w *choiceWorker) decodeSupport() {
	s := w.chooser
	if !s.allows(w.support) {
		return
	}
	w.decoded++
	w.work += decodeWork
	n := len(w.support)
	w.steps = resized(w.steps, n)
	w.relax()
	lower, upper := w.relaxed.Lower, w.relaxed.Upper
	if n == 0 {
		w.offer(w.support, w.steps)
		return
	}
	w.workspace.Solve(&w.relaxed, &w.solution)
	if w.solution.Status == Infeasible {
		return
	}
	w.q, w.qSize = resized(w.q, n), resized(w.qSize, n)
	bound := w.relaxed.dualBound(w.solution.Residual, w.solution.InequalityMultiplier, nil, w.q, w.qSize)
	limit := w.limit(0)
	if bound > limit {
		return
	}
	// Off its bound in the direction of q, a step adds |q| to the bound.
	if isFinite(bound) && isFinite(limit) {
		for j := range n {
			q := math.Abs(w.q[j]) - 1e-12*w.qSize[j]
			if q <= 0 || !(limit-bound < q*(upper[j]-lower[j])) {
				continue
			}
			steps := math.Floor((limit-bound)/q + 1e-9)
			if w.q[j] > 0 {
				upper[j] = lower[j] + steps
			} else {
				lower[j] = upper[j] - steps
			}
		}
	}
	if s.p.Decode != nil {
		if !w.quick && w.triangle.fill(w) && !w.triangle.shrink(w) {
			return
		}
		w.decodeByModel()
		return
	}
	if math.IsInf(limit, 1) || !w.triangle.fill(w) || !w.triangle.search(w) {
		w.decodeByBoxes()
	}
}

// relax fills w.relaxed with the support's columns, bounds and rows.
func (w *choiceWorker) relax() {
	s, n := w.chooser, len(w.support)
	r := &w.relaxed
	w.matrix.Resize(s.rows, n)
	r.A, r.B = &w.matrix, s.p.B
	r.Lower, r.Upper = resized(r.Lower, n), resized(r.Upper, n)
	for c, j := range w.support {
		for i, v := range s.columnOf(j) {
			w.matrix.Set(i, c, v)
		}
		r.Lower[c], r.Upper[c] = float64(s.least[j]), float64(s.upper[j])
	}
	if s.p.G == nil {
		return
	}
	w.rowMatrix.Resize(s.p.G.Rows, n)
	r.G, r.H = &w.rowMatrix, resized(r.H, s.p.G.Rows)
	for i := range s.p.G.Rows {
		size := math.Abs(s.p.H[i])
		for c, j := range w.support {
			v := s.p.G.At(i, j)
			w.rowMatrix.Set(i, c, v)
			size += math.Abs(v) * r.Upper[c]
		}
		// Any candidate that counts as meeting the row stays inside.
		r.H[i] = min(s.p.H[i]+2*choiceRowTolerance*size, math.MaxFloat64)
	}
}

// allows reports whether the support is far enough from those taken.
func (s *chooser) allows(support []int) bool {
	if len(s.taken) == 0 {
		return true
	}
	var set columnSet
	for _, j := range support {
		if s.counted[j] {
			set.add(j)
		}
	}
	for i := range s.taken {
		if set.difference(&s.taken[i]) < s.apart {
			return false
		}
	}
	return true
}

// linear returns ||A k - B||^2.
func (s *chooser) linear(support, k []int) float64 {
	var r [mostChoiceRows]float64
	residual := r[:s.rows]
	copy(residual, s.p.B)
	for c, j := range support {
		x := float64(k[c])
		for i, v := range s.columnOf(j) {
			residual[i] -= x * v
		}
	}
	return dot(residual, residual)
}

// evaluate returns the true objective of k, +Inf where it is not allowed.
func (s *chooser) evaluate(support, k []int) float64 {
	for i := range rowCount(s.p.G) {
		sum, size := -s.p.H[i], math.Abs(s.p.H[i])
		for c, j := range support {
			v := s.p.G.At(i, j) * float64(k[c])
			sum += v
			size += math.Abs(v)
		}
		if sum > choiceRowTolerance*size {
			return math.Inf(1)
		}
	}
	if s.p.Evaluate == nil {
		return s.linear(support, k)
	}
	objective, ok := s.p.Evaluate(support, k)
	if !ok || math.IsNaN(objective) {
		return math.Inf(1)
	}
	return objective
}

// offer evaluates k and keeps it when it is at least as good as the best.
func (w *choiceWorker) offer(support, k []int) float64 {
	objective := w.chooser.evaluate(support, k)
	if !math.IsInf(objective, 1) {
		for c, j := range support {
			w.whole[j] = k[c]
		}
		w.found.offer(gridPoint{k: w.whole, objective: objective, measure: objective})
		for _, j := range support {
			w.whole[j] = 0
		}
	}
	return objective
}

const (
	// boxesQuick is how many boxes of one support the quick search looks at,
	// boxesMost is how many any search does.
	boxesQuick = 40
	boxesMost  = 100_000
	// modelBoxWork is the work of one of them in pairs.
	modelBoxWork = 5000
)

// decodeByModel hands the support to the caller's own search, in the box of
// w.relaxed.
func (w *choiceWorker) decodeByModel() {
	s := w.chooser
	w.boxLeast, w.boxUpper = w.boxLeast[:0], w.boxUpper[:0]
	for c := range w.support {
		lower, upper := int(math.Ceil(w.relaxed.Lower[c])), int(w.relaxed.Upper[c])
		if lower > upper {
			return
		}
		w.boxLeast, w.boxUpper = append(w.boxLeast, lower), append(w.boxUpper, upper)
	}
	limit := boxesMost
	if w.quick {
		limit = boxesQuick
	} else if w.allowance >= 0 {
		limit = min(limit, max((w.allowance-w.work)/modelBoxWork, 1))
	}
	cutoff := w.found.least
	if !math.IsInf(cutoff, 1) {
		cutoff += 2 * slack(cutoff)
	}
	k, _, bound, boxes := s.p.Decode(w.support, w.boxLeast, w.boxUpper, cutoff, limit)
	w.work += modelBoxWork * boxes
	if k != nil {
		w.offer(w.support, k)
	}
	if !w.quick && bound < w.found.least-slack(w.found.least) {
		w.open = min(w.open, bound)
	}
}

// decodeByBoxes hands the support to SolveGrid, in the box of w.relaxed.
func (w *choiceWorker) decodeByBoxes() {
	m := &choiceGrid{worker: w, root: Node{}}
	for c := range w.support {
		lower, upper := int(w.relaxed.Lower[c]), int(w.relaxed.Upper[c])
		if lower > upper {
			return
		}
		m.root.Lower, m.root.Upper = append(m.root.Lower, lower), append(m.root.Upper, upper)
	}
	m.fill()
	o := GridOptions{NodeLimit: -1, Cutoff: w.found.least}
	if !math.IsInf(o.Cutoff, 1) {
		o.Cutoff += 2 * slack(o.Cutoff)
	}
	if w.allowance >= 0 {
		o.NodeLimit = max((w.allowance-w.work)/boxWork, 1)
	}
	a, err := SolveGrid(m, o)
	if err != nil {
		panic(err.Error())
	}
	w.work += boxWork * (a.Nodes + 3)
	if a.Found && a.Violation == 0 {
		w.offer(w.support, a.K)
	}
	if !a.Proven && a.Violation == 0 {
		w.open = min(w.open, a.Bound)
	}
}

// boxWork is the work of a box of SolveGrid in pairs.
const boxWork = 1000

// choiceGrid is the integers of a support as a GridModel.
type choiceGrid struct {
	worker *choiceWorker
	root   Node
	scaled Problem
}

// fill scales the linear objective so that it stays below the true one.
func (m *choiceGrid) fill() {
	w := m.worker
	root := math.Sqrt(w.chooser.scale)
	m.scaled = Problem{A: NewMatrix(w.matrix.Rows, w.matrix.Cols), G: w.relaxed.G, H: w.relaxed.H}
	for i, v := range w.matrix.Data {
		m.scaled.A.Data[i] = root * v
	}
	for _, v := range w.relaxed.B {
		m.scaled.B = append(m.scaled.B, root*v)
	}
}

func (m *choiceGrid) Variables() (integers, auxiliaries int) { return len(m.root.Lower), 0 }
func (m *choiceGrid) Root() Node                             { return m.root }

func (m *choiceGrid) Evaluate(k []int) (violation, objective float64) {
	objective = m.worker.chooser.evaluate(m.worker.support, k)
	if math.IsInf(objective, 1) {
		return 1, objective
	}
	return 0, objective
}

func (m *choiceGrid) Relax(node *Node, _ float64, r *Relaxation) {
	p := &r.Problem
	p.A, p.B, p.G, p.H = m.scaled.A, m.scaled.B, m.scaled.G, m.scaled.H
	p.Lower, p.Upper = resized(p.Lower, len(node.Lower)), resized(p.Upper, len(node.Lower))
	for j, lower := range node.Lower {
		p.Lower[j], p.Upper[j] = float64(lower), float64(node.Upper[j])
	}
	r.Constant = -m.worker.chooser.offset
}
