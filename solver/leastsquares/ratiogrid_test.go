package leastsquares

import (
	"math"
	"testing"
)

// ratioGrid is a grid of amounts x_j = step_j k_j with V = v.x, and objective
//
//	sum_k (((P x)_k / V - t_k) / s_k)^2 + ((V - target) / scale)^2.
//
// With V in [Vl, Vu], which is the auxiliary quantity,
//
//	objective >= sum_k ((a_k - t_k v).x)^2 / (s_k Vu)^2 + ((v.x - target)/scale)^2,
//
// and only |V - target| <= scale sqrt(cutoff) is of interest.
type ratioGrid struct {
	rows          [][]float64 // a_k in steps
	v, t, s       []float64
	target, scale float64 // scale 0: no volume term
	lower, upper  []int
	ratio         float64 // split V where Vu/Vl exceeds it
}

func newRatioGrid(c check) *ratioGrid {
	m := &ratioGrid{t: c.T, s: c.S, ratio: 1.02}
	if c.VolumeTarget != nil {
		m.target, m.scale = *c.VolumeTarget, *c.VolumeScale
	}
	for _, row := range c.P {
		scaled := make([]float64, len(row))
		for j, a := range row {
			scaled[j] = a * c.Step[j]
		}
		m.rows = append(m.rows, scaled)
	}
	for j, step := range c.Step {
		m.v = append(m.v, c.V[j]*step)
		m.lower = append(m.lower, int(math.Ceil(*c.Lower[j]/step-1e-9)))
		m.upper = append(m.upper, int(math.Floor(*c.Upper[j]/step+1e-9)))
	}
	return m
}

func (m *ratioGrid) Variables() (int, int) { return len(m.v), 1 }

func (m *ratioGrid) Root() Node {
	least, most := math.Inf(1), 0.0
	for j, v := range m.v {
		least = math.Min(least, v)
		most += v * float64(m.upper[j])
	}
	return Node{Lower: m.lower, Upper: m.upper, AuxLower: []float64{least}, AuxUpper: []float64{most}}
}

func (m *ratioGrid) Evaluate(k []int) (violation, objective float64) {
	volume := 0.0
	for j, n := range k {
		volume += m.v[j] * float64(n)
	}
	if volume <= 0 {
		// Nothing has no composition.
		return 1, 0
	}
	for i, row := range m.rows {
		sum := 0.0
		for j, n := range k {
			sum += row[j] * float64(n)
		}
		r := (sum/volume - m.t[i]) / m.s[i]
		objective += r * r
	}
	if m.scale > 0 {
		r := (volume - m.target) / m.scale
		objective += r * r
	}
	return 0, objective
}

func (m *ratioGrid) Relax(node *Node, cutoff float64, r *Relaxation) {
	n := len(m.v)
	least, most := 0.0, 0.0
	for j, v := range m.v {
		least += v * float64(node.Lower[j])
		most += v * float64(node.Upper[j])
	}
	vl, vu := math.Max(least, node.AuxLower[0]), math.Min(most, node.AuxUpper[0])
	if m.scale > 0 && !math.IsInf(cutoff, 1) {
		half := m.scale * math.Sqrt(cutoff) * (1 + 1e-12)
		vl, vu = math.Max(vl, m.target-half), math.Min(vu, m.target+half)
	}
	if vl > vu*(1+1e-12) {
		r.Empty = true
		return
	}
	p := &r.Problem
	if p.A == nil {
		p.A, p.G = &Matrix{}, &Matrix{}
	}
	rows := len(m.rows)
	if m.scale > 0 {
		rows++
	}
	p.A.Resize(rows, n)
	p.G.Resize(2, n)
	p.B = resized(p.B, rows)
	p.H = resized(p.H, 2)
	p.Lower, p.Upper = resized(p.Lower, n), resized(p.Upper, n)
	for i, row := range m.rows {
		p.B[i] = 0
		for j, a := range row {
			p.A.Set(i, j, (a-m.t[i]*m.v[j])/(m.s[i]*vu))
		}
	}
	if m.scale > 0 {
		p.B[rows-1] = m.target / m.scale
	}
	for j, v := range m.v {
		if m.scale > 0 {
			p.A.Set(rows-1, j, v/m.scale)
		}
		p.G.Set(0, j, v)
		p.G.Set(1, j, -v)
		p.Lower[j], p.Upper[j] = float64(node.Lower[j]), float64(node.Upper[j])
	}
	p.H[0], p.H[1] = vu*(1+1e-12), -vl*(1-1e-12)
	if vu > m.ratio*vl {
		r.SplitAux, r.SplitAt = 0, math.Sqrt(vl*vu)
	}
}

func TestPublishedRatioGrids(t *testing.T) {
	checks := loadChecks(t)
	for _, id := range []string{"ratio_grid_1", "ratio_grid_2"} {
		c := checks[id]
		a, err := SolveGrid(newRatioGrid(c), GridOptions{NodeLimit: -1})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d nodes", id, a.Nodes)
		if !a.Proven || !a.Found || !near(a.Objective, c.Expected.Objective, c.Tolerance) {
			t.Errorf("%s: %+v, want objective %.15g; %s", id, a, c.Expected.Objective, c.Source)
		}
		for j, want := range c.Expected.X {
			if got := float64(a.K[j]) * c.Step[j]; math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: x[%d] = %g, want %g", id, j, got, want)
			}
		}
	}
}

// supports calls f with each subset of size k of 0..n-1.
func supports(n, k int, f func(set []int)) {
	set := make([]int, 0, k)
	var extend func(from int)
	extend = func(from int) {
		if len(set) == k {
			f(set)
			return
		}
		for j := from; j <= n-k+len(set); j++ {
			set = append(set, j)
			extend(j + 1)
			set = set[:len(set)-1]
		}
	}
	extend(0)
}

func columnsOf(m *Matrix, set []int) *Matrix {
	part := NewMatrix(m.Rows, len(set))
	for i := range m.Rows {
		for k, j := range set {
			part.Set(i, k, m.At(i, j))
		}
	}
	return part
}

func TestPublishedSupports(t *testing.T) {
	checks := loadChecks(t)
	for _, id := range []string{"card_12_3", "card_16_4", "card_20_5", "card_gaussian_18_3"} {
		c := checks[id]
		p, _ := c.problem(t)
		w := NewWorkspace()
		var s Solution
		best, kept := math.Inf(1), []int(nil)
		supports(p.A.Cols, c.MaxNonzero, func(set []int) {
			part := Problem{A: columnsOf(p.A, set), B: p.B, Lower: make([]float64, len(set))}
			if w.Solve(&part, &s); s.Status != Optimal {
				t.Fatalf("%s: support %v is %v", id, set, s.Status)
			}
			if s.Objective < best-1e-12 {
				best = s.Objective
				kept = kept[:0]
				for k, x := range s.X {
					if x != 0 {
						kept = append(kept, set[k])
					}
				}
			}
		})
		if !near(best, c.Expected.Objective, c.Tolerance) {
			t.Errorf("%s: objective %.12g, want %.12g; %s", id, best, c.Expected.Objective, c.Source)
		}
		for _, j := range kept {
			if c.Expected.X[j] == 0 {
				t.Errorf("%s: support %v, want the nonzeros of %v", id, kept, c.Expected.X)
			}
		}
	}
	for _, id := range []string{"card_grid_12_3", "card_grid_40_2", "card_grid_9_4"} {
		c := checks[id]
		p, _ := c.problem(t)
		best := math.Inf(1)
		supports(p.A.Cols, c.MaxNonzero, func(set []int) {
			part := Problem{A: columnsOf(p.A, set), B: p.B}
			var step []float64
			for _, j := range set {
				part.Lower, part.Upper = append(part.Lower, p.Lower[j]), append(part.Upper, p.Upper[j])
				step = append(step, c.Step[j])
			}
			a, err := SolveGrid(newBoxModel(part, step), GridOptions{NodeLimit: -1, Cutoff: best})
			if err != nil || !a.Proven {
				t.Fatalf("%s: %+v, %v", id, a, err)
			}
			if a.Found {
				best = math.Min(best, a.Objective)
			}
		})
		if !near(best, c.Expected.Objective, c.Tolerance) {
			t.Errorf("%s: objective %.12g, want %.12g; %s", id, best, c.Expected.Objective, c.Source)
		}
	}
}
