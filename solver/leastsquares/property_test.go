package leastsquares

import (
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestMain gives the property tests one seed, so that each run is the same.
// RAPID_SEED or -rapid.seed choose another.
func TestMain(m *testing.M) {
	flag.Parse()
	chosen := os.Getenv("RAPID_SEED") != ""
	flag.Visit(func(f *flag.Flag) { chosen = chosen || f.Name == "rapid.seed" })
	if !chosen {
		if err := flag.Set("rapid.seed", "20"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}

// describe writes a problem out, matrices included.
func describe(p Problem) string {
	text := ""
	for _, m := range []*Matrix{p.A, p.E, p.G} {
		text += fmt.Sprintf("%+v ", *m)
	}
	return text + fmt.Sprint(p.B, p.F, p.H, p.Lower, p.Upper, p.Reference)
}

// number draws either a small whole number, which makes ties and dependent
// rows likely, or a real one.
func number(t *rapid.T, whole bool, label string) float64 {
	if whole {
		return float64(rapid.IntRange(-2, 2).Draw(t, label))
	}
	// Not Float64Range, which loves numbers such as 1e-90 that differ from zero
	// only on paper; those are for the fuzz test. Multiples of 1/1024 have exact
	// products, so that what should touch does.
	return float64(rapid.IntRange(-3000, 3000).Draw(t, label)) / 1024
}

func drawMatrix(t *rapid.T, rows, cols int, whole bool, label string) *Matrix {
	m := NewMatrix(rows, cols)
	for i := range m.Data {
		m.Data[i] = number(t, whole, label)
	}
	return m
}

// drawFeasible draws a problem and a point that meets its constraints; some
// rows hold with equality there.
func drawFeasible(t *rapid.T, finite bool) (Problem, []float64) {
	n := rapid.IntRange(1, 6).Draw(t, "n")
	whole := rapid.Bool().Draw(t, "whole")
	p := Problem{A: drawMatrix(t, rapid.IntRange(0, 7).Draw(t, "m"), n, whole, "A")}
	for range p.A.Rows {
		p.B = append(p.B, number(t, whole, "b"))
	}
	x := make([]float64, n)
	for j := range x {
		x[j] = number(t, whole, "x")
		below := float64(rapid.IntRange(0, 2).Draw(t, "below"))
		above := float64(rapid.IntRange(0, 2).Draw(t, "above"))
		p.Lower, p.Upper = append(p.Lower, x[j]-below), append(p.Upper, x[j]+above)
		if !finite && rapid.IntRange(0, 3).Draw(t, "free") == 0 {
			p.Lower[j] = math.Inf(-1)
		}
		if !finite && rapid.IntRange(0, 3).Draw(t, "free") == 0 {
			p.Upper[j] = math.Inf(1)
		}
	}
	p.E = drawMatrix(t, rapid.IntRange(0, 3).Draw(t, "equalities"), n, whole, "E")
	for i := range p.E.Rows {
		p.F = append(p.F, dot(p.E.Row(i), x))
	}
	p.G = drawMatrix(t, rapid.IntRange(0, 4).Draw(t, "inequalities"), n, whole, "G")
	for i := range p.G.Rows {
		p.H = append(p.H, dot(p.G.Row(i), x)+float64(rapid.IntRange(0, 2).Draw(t, "slack")))
	}
	return p, x
}

func TestEveryFeasibleProblemIsSolved(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		p, x := drawFeasible(t, false)
		s, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		if s.Status != Optimal {
			t.Fatalf("%v with KKT %g: %s", s.Status, s.KKT, describe(p))
		}
		worst = math.Max(worst, s.KKT)
		there := 0.0
		for i := range p.A.Rows {
			r := dot(p.A.Row(i), x) - p.B[i]
			there += r * r
		}
		if s.Objective > there*(1+1e-9)+1e-9 {
			t.Fatalf("objective %g is above %g at a feasible point", s.Objective, there)
		}
	})
	t.Logf("largest KKT residual %.1e", worst)
}

func TestDualBoundHoldsForAnyVectors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, x := drawFeasible(t, true)
		draw := func(n int, label string) []float64 {
			v := make([]float64, n)
			for i := range v {
				v[i] = rapid.Float64Range(-10, 10).Draw(t, label)
			}
			return v
		}
		there := 0.0
		for i := range p.A.Rows {
			r := dot(p.A.Row(i), x) - p.B[i]
			there += r * r
		}
		if got := p.DualBound(draw(p.A.Rows, "y"), draw(p.G.Rows, "mu"), draw(p.E.Rows, "lambda")); got > there {
			t.Fatalf("bound %.17g is above the objective %.17g of a feasible point", got, there)
		}
		s, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		bound := p.DualBound(s.Residual, s.InequalityMultiplier, s.EqualityMultiplier)
		if math.Abs(bound-s.Objective) > 1e-8*(1+s.Objective) {
			t.Fatalf("bound %.15g at the optimum %.15g is not tight", bound, s.Objective)
		}
	})
}

// Among the 3^n ways to pin each variable at its lower bound, its upper bound
// or nowhere, the best feasible one is the optimum.
func TestAgreesWithEnumerationOfActiveBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "n")
		m := n + rapid.IntRange(0, 3).Draw(t, "more rows")
		p := Problem{A: drawMatrix(t, m, n, false, "A")}
		for j := range n {
			// Keeps the columns independent, so that each subset has one solution.
			p.A.Set(j, j, p.A.At(j, j)+10)
			l := number(t, false, "lower")
			p.Lower, p.Upper = append(p.Lower, l), append(p.Upper, l+rapid.Float64Range(0, 2).Draw(t, "width"))
		}
		for range m {
			p.B = append(p.B, 10*number(t, false, "b"))
		}
		best := math.Inf(1)
		for code := range int(math.Pow(3, float64(n))) {
			x := make([]float64, n)
			var free []int
			for j, c := 0, code; j < n; j, c = j+1, c/3 {
				switch c % 3 {
				case 0:
					x[j] = p.Lower[j]
				case 1:
					x[j] = p.Upper[j]
				case 2:
					free = append(free, j)
				}
			}
			if len(free) > 0 {
				a, r := mat.NewDense(m, len(free), nil), mat.NewVecDense(m, nil)
				for i := range m {
					r.SetVec(i, p.B[i]-dot(p.A.Row(i), x))
					for k, j := range free {
						a.Set(i, k, p.A.At(i, j))
					}
				}
				var y mat.VecDense
				if err := y.SolveVec(a, r); err != nil {
					t.Fatal(err)
				}
				for k, j := range free {
					x[j] = y.AtVec(k)
				}
			}
			feasible, value := true, 0.0
			for j := range x {
				feasible = feasible && x[j] >= p.Lower[j]-1e-12 && x[j] <= p.Upper[j]+1e-12
			}
			for i := range m {
				r := dot(p.A.Row(i), x) - p.B[i]
				value += r * r
			}
			if feasible {
				best = math.Min(best, value)
			}
		}
		s, err := Solve(p)
		if err != nil || s.Status != Optimal || !near(s.Objective, best, 1e-10) {
			t.Fatalf("%v, objective %.15g, enumeration %.15g, %v", s.Status, s.Objective, best, err)
		}
	})
}

func sameX(t *rapid.T, what string, got, want Solution) {
	t.Helper()
	if got.Status != Optimal {
		t.Fatalf("%s: %v, KKT residual %g, x = %v, want %v", what, got.Status, got.KKT, got.X, want.X)
	}
	for j := range want.X {
		if math.Abs(got.X[j]-want.X[j]) > 1e-6*(1+math.Abs(want.X[j])) {
			t.Fatalf("%s: x = %v, want %v", what, got.X, want.X)
		}
	}
}

func solved(t *rapid.T, p Problem) Solution {
	s, err := Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The nearest minimiser depends neither on the order of columns and rows, nor
// on the units of rows and variables, nor on rows written twice.
func TestAnswerIsInvariant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Whole numbers: rank does not hang on the last digits.
		n, m := rapid.IntRange(1, 5).Draw(t, "n"), rapid.IntRange(1, 6).Draw(t, "m")
		p := Problem{A: drawMatrix(t, m, n, true, "A"), G: drawMatrix(t, 2, n, true, "G"), E: drawMatrix(t, 1, n, true, "E")}
		x := make([]float64, n)
		for j := range x {
			x[j] = number(t, true, "x")
			p.Lower, p.Upper = append(p.Lower, x[j]-1), append(p.Upper, x[j]+2)
			p.Reference = append(p.Reference, number(t, true, "reference"))
		}
		for range m {
			p.B = append(p.B, number(t, true, "b"))
		}
		p.F = []float64{dot(p.E.Row(0), x)}
		p.H = []float64{dot(p.G.Row(0), x), dot(p.G.Row(1), x) + 1}
		want := solved(t, p)

		order := rapid.Permutation(indices(n)).Draw(t, "order")
		q := Problem{A: columnsOf(p.A, order), B: p.B, E: columnsOf(p.E, order), F: p.F, G: columnsOf(p.G, order), H: p.H}
		back := Solution{X: make([]float64, n)}
		for _, j := range order {
			q.Lower, q.Upper, q.Reference = append(q.Lower, p.Lower[j]), append(q.Upper, p.Upper[j]), append(q.Reference, p.Reference[j])
		}
		s := solved(t, q)
		back.Status = s.Status
		for k, j := range order {
			back.X[j] = s.X[k]
		}
		sameX(t, "columns in another order", back, want)

		q = p
		q.E, q.F = scaledRows(p.E, p.F, 7.3)
		q.G, q.H = scaledRows(p.G, p.H, 1e-5)
		sameX(t, "constraints in other units", solved(t, q), want)
		q.A, q.B = scaledRows(p.A, p.B, 123.4)
		sameX(t, "aims in another unit", solved(t, q), want)

		q = p
		q.E, q.F = stacked(p.E, p.E), append(slices.Clone(p.F), p.F...)
		q.G, q.H = stacked(p.G, p.G), append(slices.Clone(p.H), p.H...)
		sameX(t, "constraints written twice", solved(t, q), want)

		units := make([]float64, n)
		q = Problem{A: scaledColumns(p.A, units, t), B: p.B, F: p.F, H: p.H}
		q.E, q.G = NewMatrix(1, n), NewMatrix(2, n)
		back = Solution{X: make([]float64, n)}
		for j, unit := range units {
			q.E.Set(0, j, p.E.At(0, j)/unit)
			for i := range 2 {
				q.G.Set(i, j, p.G.At(i, j)/unit)
			}
			q.Lower, q.Upper, q.Reference = append(q.Lower, p.Lower[j]*unit), append(q.Upper, p.Upper[j]*unit), append(q.Reference, p.Reference[j]*unit)
		}
		s = solved(t, q)
		back.Status = s.Status
		zero := false
		for j, unit := range units {
			back.X[j] = s.X[j] / unit
			zero = zero || largestInColumn(p.A, j) == 0
		}
		// A column of zeros has no unit of its own to be measured in.
		if !zero {
			sameX(t, "variables in other units", back, want)
		}

		q = Problem{A: NewMatrix(m, n+1), B: p.B, Lower: append(slices.Clone(p.Lower), p.Lower[0]), Upper: append(slices.Clone(p.Upper), p.Upper[0])}
		for i := range m {
			copy(q.A.Row(i), p.A.Row(i))
			q.A.Set(i, n, p.A.At(i, 0))
		}
		if twice := solved(t, q); math.Abs(twice.X[0]-twice.X[n]) > 1e-6 {
			t.Fatalf("a column written twice: x = %v, want equal shares", twice.X)
		}
	})
}

func indices(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

func scaledRows(m *Matrix, right []float64, by float64) (*Matrix, []float64) {
	c, r := NewMatrix(m.Rows, m.Cols), slices.Clone(right)
	for i, v := range m.Data {
		c.Data[i] = by * v
	}
	for i := range r {
		r[i] *= by
	}
	return c, r
}

func scaledColumns(m *Matrix, units []float64, t *rapid.T) *Matrix {
	c := NewMatrix(m.Rows, m.Cols)
	for j := range units {
		units[j] = rapid.SampledFrom([]float64{0.001, 0.3, 1, 29.5735, 1e4}).Draw(t, "unit")
		for i := range m.Rows {
			c.Set(i, j, m.At(i, j)/units[j])
		}
	}
	return c
}

func stacked(a, b *Matrix) *Matrix {
	return &Matrix{Rows: a.Rows + b.Rows, Cols: a.Cols, Data: append(slices.Clone(a.Data), b.Data...)}
}

func TestPerturbedAnswerFailsItsCertificate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "n")
		p := Problem{A: drawMatrix(t, n+2, n, false, "A"), Lower: make([]float64, n)}
		for j := range n {
			p.A.Set(j, j, p.A.At(j, j)+10)
		}
		for range n + 2 {
			p.B = append(p.B, 10*number(t, false, "b"))
		}
		s := solved(t, p)
		if s.KKT > 1e-13 {
			t.Fatalf("KKT residual %g", s.KKT)
		}
		wrong := s
		wrong.X = slices.Clone(s.X)
		wrong.X[rapid.IntRange(0, n-1).Draw(t, "which")] += 1e-4
		if got := p.CheckKKT(wrong); got <= acceptedKKT {
			t.Fatalf("residual %g after moving x = %v to %v", got, s.X, wrong.X)
		}
	})
}

// A proof of infeasibility must stand whenever there is one.
func TestConflictsAreIrreducible(t *testing.T) {
	found := 0
	rapid.Check(t, func(rt *rapid.T) {
		p, _ := drawFeasible(rt, false)
		for i := range p.H {
			p.H[i] -= float64(rapid.IntRange(0, 4).Draw(rt, "tighter"))
		}
		for i := range p.F {
			p.F[i] -= float64(rapid.IntRange(0, 1).Draw(rt, "other"))
		}
		s := solved(rt, p)
		if s.Status == Stopped {
			rt.Fatalf("stopped on %s", describe(p))
		}
		if s.Status == Infeasible {
			found++
			checkConflict(t, p, s.Conflict)
			if t.Failed() {
				rt.Fatalf("conflict %+v of %+v", s.Conflict, p)
			}
		}
	})
	t.Logf("%d infeasible problems", found)
}
