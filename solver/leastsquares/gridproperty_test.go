package leastsquares

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// everyPoint calls f with each point of the box that the semicontinuous
// minima allow.
func everyPoint(node Node, least []int, f func(k []int)) {
	k := slices.Clone(node.Lower)
	for {
		allowed := true
		for j := range k {
			allowed = allowed && !(least != nil && k[j] > 0 && k[j] < least[j])
		}
		if allowed {
			f(k)
		}
		j := 0
		for ; j < len(k); j++ {
			if k[j] < node.Upper[j] {
				k[j]++
				break
			}
			k[j] = node.Lower[j]
		}
		if j == len(k) {
			return
		}
	}
}

// exhaustive returns the least violation, the least objective with it and, of
// the points that share both, the lexicographically first.
func exhaustive(m GridModel, least []int) (violation, objective float64, first []int) {
	violation, objective = math.Inf(1), math.Inf(1)
	everyPoint(m.Root(), least, func(k []int) {
		v, f := m.Evaluate(k)
		better := v < violation-1e-9 || v < violation+1e-9 && f < objective-1e-9*(1+objective)
		same := math.Abs(v-violation) <= 1e-9 && math.Abs(f-objective) <= 1e-9*(1+objective)
		if better || same && slices.Compare(k, first) < 0 {
			violation, objective, first = v, f, slices.Clone(k)
		}
	})
	return violation, objective, first
}

// RelaxViolation bounds the square of the violation of a boxModel: slack
// columns take up what the inequalities are exceeded by.
func (m *boxModel) RelaxViolation(node *Node, _ float64, r *Relaxation) {
	m.bounds(node, r)
	n, mE, mG := len(m.lower), rowCount(m.p.E), rowCount(m.p.G)
	p := &r.Problem
	p.A, p.B = NewMatrix(mE+mG, n+mG), nil
	p.E, p.F, p.G, p.H = nil, nil, nil, nil
	for i := range mE + mG {
		row, right := m.p.constraint(i)
		copy(p.A.Row(i), row)
		p.B = append(p.B, right)
		if i >= mE {
			// The slack reaches as far as the row can fall below its limit.
			reach := math.Abs(right)
			for j, a := range row {
				reach += math.Abs(a) * math.Max(math.Abs(float64(m.lower[j])), math.Abs(float64(m.upper[j])))
			}
			p.A.Set(i, n+i-mE, 1)
			p.Lower, p.Upper = append(p.Lower, 0), append(p.Upper, reach)
		}
	}
	// Evaluate forgives 1e-9 in each row.
	r.Constant = -1e-7
}

func drawBoxModel(t *rapid.T) (*boxModel, []int) {
	n := rapid.IntRange(1, 4).Draw(t, "n")
	whole := rapid.Bool().Draw(t, "whole")
	m := &boxModel{p: Problem{A: drawMatrix(t, rapid.IntRange(1, 5).Draw(t, "m"), n, whole, "A")}}
	for range m.p.A.Rows {
		m.p.B = append(m.p.B, 3*number(t, whole, "b"))
	}
	least := make([]int, n)
	for j := range n {
		m.lower = append(m.lower, rapid.IntRange(0, 1).Draw(t, "lower"))
		m.upper = append(m.upper, m.lower[j]+rapid.IntRange(0, 5).Draw(t, "levels"))
		least[j] = rapid.IntRange(0, 3).Draw(t, "least")
	}
	if rapid.Bool().Draw(t, "constrained") {
		m.p.E, m.p.F = drawMatrix(t, 1, n, true, "E"), []float64{float64(rapid.IntRange(-3, 3).Draw(t, "f"))}
		m.p.G, m.p.H = drawMatrix(t, 2, n, true, "G"), []float64{float64(rapid.IntRange(-3, 3).Draw(t, "h")), 1}
	}
	return m, least
}

func TestGridEqualsExhaustiveEnumeration(t *testing.T) {
	broken := 0
	rapid.Check(t, func(t *rapid.T) {
		m, least := drawBoxModel(t)
		violation, objective, first := exhaustive(m, least)
		a, err := SolveGrid(m, GridOptions{NodeLimit: -1, Semicontinuous: least, Cutoff: math.Inf(1)})
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			if a.Found || !a.Proven {
				t.Fatalf("no point is allowed, got %+v", a)
			}
			return
		}
		if violation > 0 {
			broken++
		}
		if !a.Found || !a.Proven || !near(a.Violation, violation, 1e-8) || !near(a.Objective, objective, 1e-8) || !slices.Equal(a.K, first) {
			t.Fatalf("got %+v, enumeration has violation %g, objective %g at %v", a, violation, objective, first)
		}
		again, err := SolveGrid(m, GridOptions{NodeLimit: -1, Semicontinuous: least, Incumbents: [][]int{first}})
		if err != nil || !slices.Equal(again.K, a.K) || again.Objective != a.Objective || !again.Proven {
			t.Fatalf("started at the answer: %+v, want %+v", again, a)
		}
		if violation == 0 {
			zero, err := SolveGrid(m, GridOptions{NodeLimit: 0, Semicontinuous: least})
			if err != nil || zero.Proven || zero.Bound > objective+1e-9*(1+objective) || zero.Found && zero.Violation == 0 && zero.Objective < objective-1e-9*(1+objective) {
				t.Fatalf("without nodes: %+v, the least objective is %g", zero, objective)
			}
			few, err := SolveGrid(m, GridOptions{NodeLimit: 3, Semicontinuous: least})
			if err != nil || few.Bound > objective+1e-9*(1+objective) || few.Proven && !slices.Equal(few.K, first) {
				t.Fatalf("with three nodes: %+v, the least objective is %g", few, objective)
			}
			none, err := SolveGrid(m, GridOptions{NodeLimit: -1, Semicontinuous: least, Cutoff: objective/2 - 1})
			if objective > 2.1 && (err != nil || none.Found || !none.Proven || none.Bound < objective/2-1) {
				t.Fatalf("below the cutoff: %+v, %v; the least objective is %g", none, err, objective)
			}
		}
	})
	t.Logf("%d problems without a point that meets the limits", broken)
}

// withoutViolation hides RelaxViolation.
type withoutViolation struct{ GridModel }

func TestLeastViolationWithoutBoundIsNotProven(t *testing.T) {
	// x1 + x2 = 7 with 0 <= x <= 3: the least violation is 1, at (3, 3).
	m := &boxModel{lower: []int{0, 0}, upper: []int{3, 3}, p: Problem{
		A: fromRows([][]float64{{1, -1}}), B: []float64{0}, E: fromRows([][]float64{{1, 1}}), F: []float64{7},
	}}
	a, err := SolveGrid(withoutViolation{m}, GridOptions{NodeLimit: -1})
	if err != nil || a.Proven || !a.Found || a.Violation != 1 || !slices.Equal(a.K, []int{3, 3}) {
		t.Errorf("got %+v, %v", a, err)
	}
	a, err = SolveGrid(m, GridOptions{NodeLimit: -1})
	if err != nil || !a.Proven || !a.Found || a.Violation != 1 || !slices.Equal(a.K, []int{3, 3}) {
		t.Errorf("with a bound on the violation: got %+v, %v", a, err)
	}
	a, err = SolveGrid(m, GridOptions{NodeLimit: 5})
	if err != nil || !a.Found || a.Violation != 1 {
		t.Errorf("with five nodes: got %+v, %v", a, err)
	}
}

// (x1 + x2 - 3)^2 on 0..3 has four zeros; the order decides.
func TestBetterDecidesAmongEquals(t *testing.T) {
	m := &boxModel{lower: []int{0, 0}, upper: []int{3, 3}, p: Problem{A: fromRows([][]float64{{1, 1}}), B: []float64{3}}}
	a, err := SolveGrid(m, GridOptions{NodeLimit: -1})
	if err != nil || !a.Proven || !slices.Equal(a.K, []int{0, 3}) {
		t.Errorf("lexicographic order: %+v, %v", a, err)
	}
	a, err = SolveGrid(m, GridOptions{NodeLimit: -1, Better: func(a, b []int) int { return slices.Compare(b, a) }})
	if err != nil || !a.Proven || !slices.Equal(a.K, []int{3, 0}) {
		t.Errorf("reversed order: %+v, %v", a, err)
	}
}

func TestRatioGridEqualsExhaustiveEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 4).Draw(t, "n")
		m := &ratioGrid{ratio: 1.1}
		for range 2 {
			row := make([]float64, n)
			for j := range row {
				row[j] = float64(rapid.IntRange(0, 60).Draw(t, "share"))
			}
			m.rows = append(m.rows, row)
			m.t = append(m.t, float64(rapid.IntRange(1, 40).Draw(t, "target")))
			m.s = append(m.s, float64(rapid.IntRange(1, 4).Draw(t, "unit")))
		}
		for range n {
			m.v = append(m.v, 1-0.01*float64(rapid.IntRange(0, 3).Draw(t, "v")))
			m.lower = append(m.lower, 0)
			m.upper = append(m.upper, rapid.IntRange(1, 6).Draw(t, "levels"))
		}
		if rapid.Bool().Draw(t, "with a total") {
			m.target, m.scale = float64(rapid.IntRange(1, 12).Draw(t, "total")), 0.5
		}
		violation, objective, first := exhaustive(m, nil)
		a, err := SolveGrid(m, GridOptions{NodeLimit: -1})
		if err != nil || !a.Proven || a.Violation != violation || !near(a.Objective, objective, 1e-9) || !slices.Equal(a.K, first) {
			t.Fatalf("got %+v, %v; enumeration has %g at %v", a, err, objective, first)
		}
	})
}

func TestMalformedGridsAreRefused(t *testing.T) {
	m := &boxModel{lower: []int{0, -1}, upper: []int{3, 3}, p: Problem{A: fromRows([][]float64{{1, 1}}), B: []float64{3}}}
	for name, o := range map[string]GridOptions{
		"too few minima":       {Semicontinuous: []int{1}},
		"minimum below zero":   {Semicontinuous: []int{0, 2}},
		"incumbent too long":   {Incumbents: [][]int{{1, 2, 3}}},
		"cutoff not a number":  {Cutoff: math.NaN()},
		"cutoff below nothing": {Cutoff: -1},
	} {
		if _, err := SolveGrid(m, o); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := SolveGrid(&boxModel{lower: []int{0}, upper: []int{1, 1}, p: m.p}, GridOptions{}); err == nil {
		t.Error("a root box with one lower bound for two variables: no error")
	}
	if _, err := SolveGrid(noAuxiliary{m}, GridOptions{}); err == nil {
		t.Error("a root box without its auxiliary quantity: no error")
	}
	// An incumbent outside the grid is ignored.
	a, err := SolveGrid(m, GridOptions{NodeLimit: -1, Incumbents: [][]int{{9, 9}}})
	if err != nil || !a.Proven || a.Objective != 0 {
		t.Errorf("incumbent outside the grid: %+v, %v", a, err)
	}
}

type noAuxiliary struct{ *boxModel }

func (m noAuxiliary) Variables() (int, int) { return 2, 1 }
