package solver

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// randomQuestion draws six open ingredients and seven targets. The targets are
// the profile of a drink in amounts off the measures, each then moved by up to
// two JND, so that close and distant answers both come up.
func randomQuestion(t *testing.T, r *rand.Rand) *work {
	t.Helper()
	shelf := pantry.Embedded()
	bases := []string{"dry gin", "white rum", "vodka", "aged rum"}
	sours := []string{"lemon juice", "lime juice", "grapefruit juice", "verjus"}
	sweets := []string{"rich syrup", "simple syrup", "honey syrup", "orange curacao"}
	bitters := []string{"light amaro", "sweet vermouth", "red bitter aperitif"}
	savoury := []string{"tomato juice", "soy sauce", "kombu dashi", "tomato water"}
	long := []string{"water", "green tea", "fino sherry", "apple juice"}
	var text strings.Builder
	methods := []string{"shake", "stir", "build", "none", "blend"}
	fmt.Fprintf(&text, "drink: drawn\nice: %s\nmix:\n", methods[r.IntN(len(methods))])
	for _, group := range [][]string{bases, sours, sweets, bitters, savoury, long} {
		low := 5 * float64(r.IntN(4))
		if low == 0 {
			low = 2.5
		}
		fmt.Fprintf(&text, "  %s: %g..%g ml\n", group[r.IntN(len(group))], low, low+2.5*float64(3+r.IntN(6)))
	}
	spec, err := pantry.ReadSpec(strings.NewReader(text.String()), "drawn.yaml")
	if err != nil {
		t.Fatalf("%v\n%s", err, text.String())
	}
	w, err := newWork(Question{Spec: spec, Shelf: shelf})
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float64, len(w.problem.open))
	for j := range x {
		o := &w.problem.open[j]
		x[j] = float64(o.low) + r.Float64()*float64(o.high-o.low)
	}
	d := w.problem.drink(x)
	v := d.Finish().Values
	var aims []aim
	for _, p := range []profile.Property{
		profile.Volume, profile.Strength, profile.Sugar, profile.Acid, profile.Salt, profile.Bitter, profile.Umami,
	} {
		target := v[p]
		if j, ok := p.JND(); ok {
			target = max(0, j.At(j.Level(target)+4*(r.Float64()-0.5)))
		}
		size := sizeAt(p, target)
		high := target
		if r.IntN(4) == 0 {
			high = target + size
		}
		aims = append(aims, aim{property: p, low: target, high: high, scaleLow: size, scaleHigh: sizeAt(p, high), weight: 1})
	}
	var limits []limit
	if r.IntN(3) == 0 {
		limits = append(limits, limit{
			property: profile.Strength, low: math.Inf(-1), high: aims[1].low - 0.3, scale: 1, written: "abv",
		})
	}
	w.problem = w.problem.with(aims, limits)
	return w
}

// The branch and bound must find the very drink that trying every drink finds.
func TestAnswerOnTheMeasuresIsThatOfTryingAll(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		r := rand.New(rand.NewPCG(seed, 7))
		w := randomQuestion(t, r)
		g := newGrid(w.problem)
		answer, err := leastsquares.SolveGrid(g, leastsquares.GridOptions{NodeLimit: DefaultBudget})
		if err != nil {
			t.Fatal(err)
		}
		k := append([]int(nil), g.root.Lower...)
		bestViolation, best, points := math.Inf(1), math.Inf(1), 0
		for {
			points++
			violation, f := g.Evaluate(k)
			if violation < bestViolation || violation == bestViolation && f < best {
				bestViolation, best = violation, f
			}
			j := 0
			for ; j < len(k); j++ {
				if k[j]++; k[j] <= g.root.Upper[j] {
					break
				}
				k[j] = g.root.Lower[j]
			}
			if j == len(k) {
				break
			}
		}
		t.Logf("seed %d %s: %d points, F %.6g, %d boxes, proven %v", seed, w.ice.Method.Name(), points, best, answer.Nodes, answer.Proven)
		if bestViolation == 0 && (!answer.Proven || math.Abs(answer.Objective-best) > 1e-9*(1+best)) {
			t.Errorf("seed %d: branch and bound found F = %v (proven %v), trying all %v", seed, answer.Objective, answer.Proven, best)
		}
		if bestViolation > 0 && answer.Violation == 0 {
			t.Errorf("seed %d: branch and bound keeps the limits, trying all does not", seed)
		}
	}
}
