package leastsquares

import (
	"cmp"
	"math"
	"slices"
	"sync"
	"sync/atomic"
)

// chooser is one run of SolveChoice. Workers only read it.
type chooser struct {
	p             *ChoiceProblem
	o             ChoiceOptions
	rows, n       int
	column        []float64 // column-major
	size          []float64 // norms of columns
	square        float64   // ||B||^2
	least, upper  []int
	must, counted []bool
	// covers[j] holds the needs that column j meets: bit i says that A_ij has
	// the sign of B_i, bit exactBit+g that it is in group g, which needs one.
	covers        []uint64
	group         []uint64
	exact         uint64
	taken         []columnSet
	apart         int
	scale, offset float64

	found  incumbents
	answer ChoiceAnswer
	work   int
}

// exactBit is the first bit of needs that stands for a group.
const exactBit = 16

func newChooser(p *ChoiceProblem, o ChoiceOptions, taken [][]int, apart int) *chooser {
	s := &chooser{p: p, o: o, rows: p.A.Rows, n: p.A.Cols, apart: apart, scale: p.Scale, offset: p.Offset}
	if s.scale == 0 {
		s.scale = 1
	}
	s.column = make([]float64, s.n*s.rows)
	s.size = make([]float64, s.n)
	s.square = dot(p.B, p.B)
	s.least, s.upper = make([]int, s.n), slices.Clone(p.Upper)
	s.must, s.counted = make([]bool, s.n), make([]bool, s.n)
	s.covers, s.group = make([]uint64, s.n), make([]uint64, s.n)
	for _, j := range p.Must {
		s.must[j] = true
	}
	for j := range s.n {
		column := s.columnOf(j)
		for i := range column {
			column[i] = p.A.At(i, j)
			if column[i] > 0 && p.B[i] > 0 || column[i] < 0 && p.B[i] < 0 {
				s.covers[j] |= 1 << i
			}
		}
		s.size[j] = norm(column)
		s.least[j] = 1
		if p.Least != nil {
			s.least[j] = max(p.Least[j], 1)
		}
		s.counted[j] = p.Counted == nil || p.Counted[j]
	}
	for g, group := range p.Groups {
		for _, j := range group.Columns {
			s.group[j] |= 1 << g
			if group.Exactly {
				s.covers[j] |= 1 << (exactBit + g)
			}
		}
		if group.Exactly {
			s.exact |= 1 << (exactBit + g)
		}
	}
	for _, support := range taken {
		var set columnSet
		for _, j := range support {
			if s.counted[j] {
				set.add(j)
			}
		}
		s.taken = append(s.taken, set)
	}
	s.found = incumbents{least: o.Cutoff, better: s.order}
	return s
}

func (s *chooser) columnOf(j int) []float64 { return s.column[j*s.rows : (j+1)*s.rows] }

// required returns the needs that every support within the limit meets.
func (s *chooser) required(limit float64) uint64 {
	needs := s.exact
	for i, b := range s.p.B {
		if b*b > limit {
			needs |= 1 << i
		}
	}
	return needs
}

// order compares equal candidates: fewest counted columns, then supports.
func (s *chooser) order(a, b []int) int {
	size := 0
	for j := range a {
		if s.counted[j] {
			size += cmp.Compare(min(a[j], 1), min(b[j], 1))
		}
	}
	if size != 0 {
		return size
	}
	// Of supports that first differ at column j the one that has it comes
	// first, unless the other ends there.
	for j := range a {
		if a[j] > 0 == (b[j] > 0) {
			continue
		}
		by, other := -1, b
		if b[j] > 0 {
			by, other = 1, a
		}
		if !slices.ContainsFunc(other[j+1:], func(k int) bool { return k > 0 }) {
			return -by
		}
		return by
	}
	return 0
}

// taskPairs is how many pairs, at most, one task should take; parts of the
// search that one goroutine does before what it found is shared.
const taskPairs = 2e6

// mostTasks is how many tasks run between two such points.
const mostTasks = 64

func (s *chooser) run() ChoiceAnswer {
	first := newChoiceWorker(s)
	roots := s.roots()
	first.start(s.found.least, s.exact)
	first.quickSearch(roots)
	s.merge(first)
	quick := s.work
	answer := s.sweep(roots, first)
	answer.Work = quick + s.work
	return answer
}

// sweep searches the roots within the budget and returns the answer.
func (s *chooser) sweep(roots []choiceNode, first *choiceWorker) ChoiceAnswer {
	workers := []*choiceWorker{first}
	for len(workers) < s.o.Workers {
		workers = append(workers, newChoiceWorker(s))
	}
	stack := slices.Clone(roots)
	slices.Reverse(stack)
	open := math.Inf(1)
	s.work = 0
	for count := 4; len(stack) > 0; count = min(2*count, mostTasks) {
		var tasks []choiceNode
		tasks, stack = s.nextTasks(stack, count)
		if len(tasks) > 0 {
			open = min(open, s.runTasks(tasks, workers))
		} else if len(stack) > 0 {
			break
		}
	}
	for i := range stack {
		open = min(open, s.bound(&stack[i]))
	}
	a := s.answer
	a.Objective = math.Inf(1)
	if p, ok := s.found.best(); ok {
		a.Found, a.K, a.Objective = true, p.k, p.objective
		for j, k := range p.k {
			if k != 0 {
				a.Support = append(a.Support, j)
			}
		}
	}
	// What is left open but worse than the best is closed.
	a.Proven = math.IsInf(open, 1) || open > s.found.least+slack(s.found.least)
	a.Bound = min(open, s.found.least)
	return a
}

// nextTasks takes nodes from the stack, splits large ones, and stops before
// the budget could be exceeded.
func (s *chooser) nextTasks(stack []choiceNode, count int) (tasks []choiceNode, rest []choiceNode) {
	required := s.required(s.limit(s.found.least))
	remaining := math.Inf(1)
	if s.o.Budget >= 0 {
		remaining = float64(s.o.Budget - s.work)
	}
	total := 0.0
	for len(stack) > 0 && len(tasks) < count {
		top := stack[len(stack)-1]
		pairs := top.pairsOf() + decodeWork
		fits := total+pairs <= remaining
		if fits && (pairs <= taskPairs || top.left <= 2) {
			stack = stack[:len(stack)-1]
			tasks = append(tasks, top)
			total += pairs
			continue
		}
		if !fits && (len(tasks) > 0 || remaining <= 0 || top.left <= 2) {
			break
		}
		stack = stack[:len(stack)-1]
		columns, alone := s.branches(&top, required, nil)
		for i := len(columns) - 1; i >= 0; i-- {
			var c choiceNode
			s.child(&top, columns, i, &c)
			stack = append(stack, c)
		}
		if alone {
			stack = append(stack, choiceNode{path: top.path, covered: top.covered, used: top.used})
		}
		s.answer.Nodes++
	}
	return tasks, stack
}

// runTasks searches the tasks, each from the same best objective, and merges
// what they found in order. It returns the least bound of what they left out.
func (s *chooser) runTasks(tasks []choiceNode, workers []*choiceWorker) float64 {
	allowance := make([]int, len(tasks))
	spare := -1.0
	if s.o.Budget >= 0 {
		spare = float64(s.o.Budget - s.work)
		for i := range tasks {
			spare -= tasks[i].pairsOf() + decodeWork
		}
		spare = max(spare, 0) / float64(len(tasks))
	}
	for i := range tasks {
		allowance[i] = -1
		if s.o.Budget >= 0 {
			allowance[i] = int(tasks[i].pairsOf() + decodeWork + spare)
		}
	}
	type result struct {
		choiceWorker
	}
	results := make([]result, len(tasks))
	required := s.required(s.limit(s.found.least))
	var next atomic.Int64
	work := func(w *choiceWorker) {
		for {
			i := int(next.Add(1)) - 1
			if i >= len(tasks) {
				return
			}
			w.start(s.found.least, required)
			w.allowance = allowance[i]
			w.search(&tasks[i])
			if w.stopped {
				w.open = min(w.open, s.bound(&tasks[i]))
			}
			results[i].choiceWorker = choiceWorker{
				found: w.found, open: w.open, work: w.work, nodes: w.nodes, pairCount: w.pairCount, decoded: w.decoded,
			}
		}
	}
	var group sync.WaitGroup
	for _, w := range workers[1:] {
		group.Go(func() { work(w) })
	}
	work(workers[0])
	group.Wait()
	open := math.Inf(1)
	for i := range results {
		open = min(open, results[i].open)
		s.merge(&results[i].choiceWorker)
	}
	return open
}

func (s *chooser) merge(w *choiceWorker) {
	for _, p := range w.found.points {
		s.found.offer(p)
	}
	s.work += w.work
	s.answer.Nodes += w.nodes
	s.answer.Pairs += w.pairCount
	s.answer.Decoded += w.decoded
}

// bound returns a lower bound on the objective of every support of a node,
// from the relaxation to real amounts of all its columns.
func (s *chooser) bound(n *choiceNode) float64 {
	columns := n.path
	if n.left > 0 {
		columns = append(slices.Clone(n.path), n.candidates...)
	}
	p := Problem{A: NewMatrix(s.rows, len(columns)), B: s.p.B}
	p.Lower, p.Upper = make([]float64, len(columns)), make([]float64, len(columns))
	for c, j := range columns {
		for i, v := range s.columnOf(j) {
			p.A.Set(i, c, v)
		}
		p.Upper[c] = float64(s.upper[j])
		if c < len(n.path) {
			p.Lower[c] = float64(s.least[j])
		}
	}
	var solution Solution
	NewWorkspace().Solve(&p, &solution)
	return max(s.scale*p.DualBound(solution.Residual, nil, nil)-s.offset, 0)
}
