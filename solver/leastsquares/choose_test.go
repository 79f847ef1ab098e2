package leastsquares

import (
	"math"
	"slices"
	"testing"
	"time"
)

// choiceProblem converts a check on a grid; every step is one of a column.
func (c check) choiceProblem(t *testing.T) ChoiceProblem {
	t.Helper()
	p := ChoiceProblem{A: fromRows(c.A), B: c.B, Most: c.MaxNonzero}
	for j, step := range c.Step {
		for i := range p.A.Rows {
			p.A.Set(i, j, p.A.At(i, j)*step)
		}
		p.Upper = append(p.Upper, int(math.Round(*c.Upper[j]/step)))
	}
	return p
}

// The amounts of these were proven by two independent programs or by
// enumeration, as the source of each says.
func TestPublishedChoices(t *testing.T) {
	checks := loadChecks(t)
	for _, id := range []string{"card_grid_12_3", "card_grid_40_2", "card_grid_9_4", "card_grid_130_5", "card_grid_130_5_poor"} {
		t.Run(id, func(t *testing.T) {
			c := checks[id]
			p := c.choiceProblem(t)
			start := time.Now()
			a, err := SolveChoice(p, ChoiceOptions{Budget: -1, Workers: 2})
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%d nodes, %d pairs, %d decoded, %v", a.Nodes, a.Pairs, a.Decoded, time.Since(start).Round(time.Millisecond))
			if !a.Found || !a.Proven || !near(a.Objective, c.Expected.Objective, c.Tolerance) || a.Bound > a.Objective {
				t.Fatalf("%s: got objective %.15g, bound %.15g, proven %v; want %.15g", c.Source, a.Objective, a.Bound, a.Proven, c.Expected.Objective)
			}
			for j, want := range c.Expected.X {
				if got := float64(a.K[j]) * c.Step[j]; math.Abs(got-want) > 1e-9 {
					t.Errorf("%s: x[%d] = %g, want %g", c.Source, j, got, want)
				}
			}
			var support []int
			for j, want := range c.Expected.X {
				if want != 0 {
					support = append(support, j)
				}
			}
			if !slices.Equal(a.Support, support) {
				t.Errorf("%s: support %v, want %v", c.Source, a.Support, support)
			}
		})
	}
}
