package leastsquares

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// mixture draws a problem like those of mixtures: each column is a total, in
// units of the total's tolerance, and two or three shares; the target is a
// blend of some columns, moved a little.
func mixture(r *rand.Rand, rows, cols, levels int) Problem {
	p := Problem{A: NewMatrix(rows, cols), B: make([]float64, rows)}
	for j := range cols {
		p.A.Set(0, j, 1)
		for range 2 {
			p.A.Set(1+r.IntN(rows-1), j, 3*r.Float64())
		}
		p.Lower, p.Upper = append(p.Lower, 0), append(p.Upper, float64(levels-1))
	}
	for range 4 {
		j, amount := r.IntN(cols), float64(levels)*0.4*r.Float64()
		for i := range rows {
			p.B[i] += amount * p.A.At(i, j)
		}
	}
	for i := range rows {
		p.B[i] += r.NormFloat64()
	}
	return p
}

func benchmarkWorkspace(b *testing.B, rows, cols int) {
	r := rand.New(rand.NewPCG(1, 2))
	var problems []Problem
	for range 32 {
		problems = append(problems, mixture(r, rows, cols, 25))
	}
	w := NewWorkspace()
	var s Solution
	for i := range problems {
		w.Solve(&problems[i], &s)
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		w.Solve(&problems[i%len(problems)], &s)
	}
}

func BenchmarkWorkspace8Rows12Columns(b *testing.B)  { benchmarkWorkspace(b, 8, 12) }
func BenchmarkWorkspace7Rows130Columns(b *testing.B) { benchmarkWorkspace(b, 7, 130) }

func benchmarkGrid(b *testing.B, n int) {
	r := rand.New(rand.NewPCG(3, uint64(n)))
	var models []*boxModel
	for range 32 {
		p := mixture(r, 7, n, 25)
		models = append(models, newBoxModel(p, ones(n)))
	}
	b.ReportAllocs()
	nodes := 0
	count := 0
	for i := 0; b.Loop(); i++ {
		a, err := SolveGrid(models[i%len(models)], GridOptions{NodeLimit: -1})
		if err != nil || !a.Proven {
			b.Fatal(a, err)
		}
		nodes += a.Nodes
		count++
	}
	b.ReportMetric(float64(nodes)/float64(count), "nodes/op")
}

func BenchmarkGrid6Variables(b *testing.B)  { benchmarkGrid(b, 6) }
func BenchmarkGrid10Variables(b *testing.B) { benchmarkGrid(b, 10) }

func BenchmarkSolve500Columns(b *testing.B) {
	p := mixture(rand.New(rand.NewPCG(5, 6)), 7, 500, 25)
	for b.Loop() {
		if s, err := Solve(p); err != nil || s.Status != Optimal {
			b.Fatal(s.Status, err)
		}
	}
}

func TestWorkspaceDoesNotAllocate(t *testing.T) {
	p := mixture(rand.New(rand.NewPCG(7, 8)), 8, 12, 25)
	p.G, p.H = NewMatrix(1, 12), []float64{20}
	p.E, p.F = NewMatrix(1, 12), []float64{10}
	for j := range 12 {
		p.G.Set(0, j, float64(j))
		p.E.Set(0, j, 1)
	}
	w := NewWorkspace()
	var s Solution
	w.Solve(&p, &s)
	if got := testing.AllocsPerRun(100, func() { w.Solve(&p, &s) }); got != 0 {
		t.Errorf("%g allocations per solve, want 0", got)
	}
}

// The same problem gives the same bits, whatever the workspace solved before.
func TestAnswersDoNotDependOnWhatWasSolvedBefore(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	w := NewWorkspace()
	var used Solution
	for range 200 {
		p := mixture(r, 2+r.IntN(6), 1+r.IntN(12), 25)
		if r.IntN(2) == 0 {
			p.G, p.H = NewMatrix(1, p.A.Cols), []float64{20}
			for j := range p.A.Cols {
				p.G.Set(0, j, r.Float64())
			}
		}
		var fresh Solution
		w.Solve(&p, &used)
		NewWorkspace().Solve(&p, &fresh)
		if used.Status != Optimal || !slices.Equal(used.X, fresh.X) || !slices.Equal(used.InequalityMultiplier, fresh.InequalityMultiplier) || used.Objective != fresh.Objective {
			t.Fatalf("used workspace: %+v, fresh one: %+v", used, fresh)
		}
	}
	m := newBoxModel(mixture(r, 6, 7, 25), ones(7))
	first, _ := SolveGrid(m, GridOptions{NodeLimit: -1})
	second, _ := SolveGrid(m, GridOptions{NodeLimit: -1})
	if !slices.Equal(first.K, second.K) || first.Objective != second.Objective || first.Bound != second.Bound || first.Nodes != second.Nodes {
		t.Errorf("first %+v, second %+v", first, second)
	}
}
