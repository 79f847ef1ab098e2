package leastsquares

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// checkConflict recomputes Farkas's certificate from p and tests that the set
// is irreducible: without any one member the others can be met.
func checkConflict(t *testing.T, p Problem, c *Conflict) {
	t.Helper()
	n, mE := p.A.Cols, rowCount(p.E)
	total, size := 0.0, 0.0
	add := func(multiplier, right float64, c Constraint, set []Constraint) {
		if multiplier == 0 {
			return
		}
		total += multiplier * right
		size += math.Abs(multiplier * right)
		if !slices.Contains(set, c) {
			t.Errorf("%v %d has multiplier %g but is not in the set", c.Kind, c.Index, multiplier)
		}
	}
	column := make([]float64, n)
	scale := make([]float64, n)
	for i := range mE + rowCount(p.G) {
		row, right := p.constraint(i)
		kind, k, y := Equality, i, 0.0
		if i < mE {
			y = c.Equality[i]
		} else {
			kind, k = Inequality, i-mE
			if y = c.Inequality[k]; y < 0 {
				t.Errorf("inequality %d has multiplier %g", k, y)
			}
		}
		add(y, right, Constraint{kind, k}, c.Set)
		for j := range n {
			column[j] += y * row[j]
			scale[j] += math.Abs(y * row[j])
		}
	}
	for j := range n {
		if c.Lower[j] < 0 || c.Upper[j] < 0 {
			t.Errorf("bounds of %d have multipliers %g, %g", j, c.Lower[j], c.Upper[j])
		}
		add(c.Lower[j], -p.lower(j), Constraint{LowerBound, j}, c.Set)
		add(c.Upper[j], p.upper(j), Constraint{UpperBound, j}, c.Set)
		// Rounding is relative to the largest multiplier of the proof, with rows
		// scaled to a maximum of 1, not to the terms of the column alone.
		_, rounding := p.farkasColumn(append(slices.Clone(c.Equality), c.Inequality...), j)
		if got := column[j] - c.Lower[j] + c.Upper[j]; math.Abs(got) > 1e-10*(scale[j]+c.Lower[j]+rounding) {
			t.Errorf("column %d sums to %g, want 0", j, got)
		}
	}
	if math.Abs(total+1) > 1e-10*(1+size) {
		t.Errorf("the right sides sum to %.12g, want -1", total)
	}
	for k := range c.Set {
		rest := append(append([]Constraint(nil), c.Set[:k]...), c.Set[k+1:]...)
		if p.conflicts(NewWorkspace(), rest) != nil {
			t.Errorf("the set still conflicts without %v %d", c.Set[k].Kind, c.Set[k].Index)
		}
	}
}

func TestPublishedConflicts(t *testing.T) {
	checks := loadChecks(t)
	kinds := map[string]ConstraintKind{"eq": Equality, "ineq": Inequality, "lower": LowerBound, "upper": UpperBound}
	for _, id := range []string{
		"infeasible_sum", "infeasible_two_reasons", "infeasible_cycle", "infeasible_ratio",
		"infeasible_mixture", "infeasible_bounds_only",
	} {
		t.Run(id, func(t *testing.T) {
			c := checks[id]
			p, _ := c.problem(t)
			s, err := Solve(p)
			if err != nil {
				t.Fatal(err)
			}
			if s.Status != Infeasible || s.Conflict == nil {
				t.Fatalf("%s: status %v, conflict %v", c.Source, s.Status, s.Conflict)
			}
			checkConflict(t, p, s.Conflict)
			sorted := func(set []Constraint) string {
				slices.SortFunc(set, func(a, b Constraint) int {
					return (int(a.Kind)-int(b.Kind))*1000 + a.Index - b.Index
				})
				return fmt.Sprint(set)
			}
			got := sorted(slices.Clone(s.Conflict.Set))
			found := false
			for _, list := range c.Expected.IIS {
				var set []Constraint
				for _, member := range list {
					set = append(set, Constraint{kinds[member[0].(string)], int(member[1].(float64))})
				}
				found = found || sorted(set) == got
			}
			if !found {
				t.Errorf("%s: conflict %v is none of %v", c.Source, got, c.Expected.IIS)
			}
		})
	}
}

// An equality that asks for more than unbounded variables cannot help:
// x + y = 1 and 2x + 2y = 3. By hand: twice the first minus the second is
// 0 = -1.
func TestConflictOfDependentEqualities(t *testing.T) {
	p := Problem{
		A: fromRows([][]float64{{1, 0}}), B: []float64{0},
		E: fromRows([][]float64{{1, 1}, {2, 2}}), F: []float64{1, 3},
	}
	s, err := Solve(p)
	if err != nil || s.Status != Infeasible {
		t.Fatal(s.Status, err)
	}
	checkConflict(t, p, s.Conflict)
	if len(s.Conflict.Set) != 2 || math.Abs(s.Conflict.Equality[0]-2) > 1e-9 || math.Abs(s.Conflict.Equality[1]+1) > 1e-9 {
		t.Errorf("conflict %+v, want 2 and -1 on the two equalities", s.Conflict)
	}
}

func TestWordsForStatuses(t *testing.T) {
	for _, row := range []struct{ got, want string }{
		{Optimal.String(), "optimal"},
		{Infeasible.String(), "infeasible"},
		{Stopped.String(), "stopped"},
		{Status(7).String(), "Status(7)"},
		{Equality.String(), "equality"},
		{Inequality.String(), "inequality"},
		{LowerBound.String(), "lower bound"},
		{UpperBound.String(), "upper bound"},
		{ConstraintKind(9).String(), "ConstraintKind(9)"},
	} {
		if row.got != row.want {
			t.Errorf("got %q, want %q", row.got, row.want)
		}
	}
}
