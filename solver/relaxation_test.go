package solver

import (
	"math"
	"math/rand/v2"
	"testing"

	"minim/profile"
	"minim/solver/leastsquares"
)

// randomNode draws a box inside the grid, from a single point to all of it.
func randomNode(r *rand.Rand, g *grid) leastsquares.Node {
	root := g.Root()
	n := leastsquares.Node{
		Lower: make([]int, len(root.Lower)), Upper: make([]int, len(root.Upper)),
		AuxLower: root.AuxLower, AuxUpper: root.AuxUpper,
	}
	for j := range n.Lower {
		span := root.Upper[j] - root.Lower[j]
		a, b := root.Lower[j]+r.IntN(span+1), root.Lower[j]+r.IntN(span+1)
		n.Lower[j], n.Upper[j] = min(a, b), max(a, b)
	}
	return n
}

func randomPoint(r *rand.Rand, n leastsquares.Node) []int {
	k := make([]int, len(n.Lower))
	for j := range k {
		k[j] = n.Lower[j] + r.IntN(n.Upper[j]-n.Lower[j]+1)
	}
	return k
}

// Volume and melt of every drink in a box stay within the slack of their
// tangents at its centre.
func TestVolumeStaysWithinItsEnclosure(t *testing.T) {
	worst := 0.0
	for seed := uint64(1); seed <= 60; seed++ {
		r := rand.New(rand.NewPCG(seed, 11))
		g := newGrid(randomQuestion(t, r).problem)
		for range 60 {
			node := randomNode(r, g)
			b := g.enclose(&node, math.Inf(1))
			for range 20 {
				k := randomPoint(r, node)
				d := g.drink(steps(k))
				f := d.Finish()
				volume, melt := b.volume, b.melt
				for j := range k {
					off := float64(k[j]) - b.centre[j]
					volume += b.volumeSlope[j] * off
					melt += b.meltSlope[j] * off
				}
				const room = 1e-9
				if off := math.Abs(f.Values[profile.Volume] - volume); off > b.slack+room*(1+volume) {
					t.Fatalf("seed %d: volume %v is %v off its tangent, slack %v", seed, f.Values[profile.Volume], off, b.slack)
				} else if b.slack > 0 {
					worst = math.Max(worst, off/b.slack)
				}
				if off := math.Abs(float64(f.Water) - melt); off > b.meltSlack+room*(1+melt) {
					t.Fatalf("seed %d: melt %v is %v off its tangent, slack %v", seed, f.Water, off, b.meltSlack)
				}
				if v := f.Values[profile.Volume]; v < b.volumeLow || v > b.volumeHigh {
					t.Fatalf("seed %d: volume %v outside %v to %v", seed, v, b.volumeLow, b.volumeHigh)
				}
			}
		}
	}
	t.Logf("at most %.2f of the slack was used", worst)
}

// No drink of a box is better than the bound of its relaxation, for the problem
// as asked and for that of the drinks that taste alike.
func TestNoDrinkBeatsTheBoundOfItsBox(t *testing.T) {
	boxes := 0
	for seed := uint64(1); seed <= 40; seed++ {
		r := rand.New(rand.NewPCG(seed, 13))
		w := randomQuestion(t, r)
		var values profile.Values
		d := w.problem.drink(steps(randomPoint(r, newGrid(w.problem).Root())))
		d.Evaluate(profile.AllProperties, &values, nil, nil)
		for _, p := range []*problem{w.problem, w.problem.alike(&values)} {
			g := newGrid(p)
			for range 40 {
				node := randomNode(r, g)
				k := randomPoint(r, node)
				violation, f := g.Evaluate(k)
				if violation > 0 {
					continue
				}
				var relaxed leastsquares.Relaxation
				g.Relax(&node, math.Nextafter(f, math.Inf(1))+1e-9, &relaxed)
				boxes++
				if relaxed.Empty {
					t.Fatalf("seed %d: a box with a drink of F = %v was called empty", seed, f)
				}
				s, err := leastsquares.Solve(relaxed.Problem)
				if err != nil {
					t.Fatal(err)
				}
				if s.Status == leastsquares.Infeasible {
					t.Fatalf("seed %d: the relaxation of a box with a drink has no solution", seed)
				}
				if bound := relaxed.Constant + s.Objective; bound > f+1e-7*(1+f) {
					t.Fatalf("seed %d: bound %v above F = %v", seed, bound, f)
				}
			}
		}
	}
	t.Logf("%d boxes", boxes)
	if boxes < 500 {
		t.Errorf("only %d boxes held a drink within the limits", boxes)
	}
}
