package solver

import (
	"math/rand/v2"
	"testing"

	"minim/pantry"
	"minim/solver/leastsquares"
)

const eightOpen = `
ice: shake
mix:
  dry gin: open
  fino sherry: open
  lemon juice: open
  rich syrup: open
  light amaro: open
  tomato water: open
  saline: open
  water: open
target:
  volume: 160 ml
  abv: 12 %
  sugar: 65 g/L
  acid: 7 g/L
  salt: 0.8 g/L
  bitter: 8 mg/L
  umami: 0.4 g/L
`

func benchWork(b *testing.B, text string) *work {
	b.Helper()
	w, err := newWork(Question{Spec: readSpec(b, text), Shelf: pantry.Embedded()})
	if err != nil {
		b.Fatal(err)
	}
	return w
}

// Eight open pours and seven targets over real amounts, from one start.
func BenchmarkContinuous(b *testing.B) {
	w := benchWork(b, eightOpen)
	starts := w.problem.starts(w.volume)[:1]
	b.ReportAllocs()
	for b.Loop() {
		if _, err := w.problem.continuous(starts); err != nil {
			b.Fatal(err)
		}
	}
}

// The same on the measures, proven.
func BenchmarkOnMeasures(b *testing.B) {
	w := benchWork(b, eightOpen)
	s, err := w.problem.continuous(w.problem.starts(w.volume))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	nodes := 0
	for b.Loop() {
		answer, err := w.problem.onMeasures(s.X, DefaultBudget)
		if err != nil || !answer.Proven {
			b.Fatal(err, answer.Proven)
		}
		nodes = answer.Nodes
	}
	b.ReportMetric(float64(nodes), "boxes")
}

// One relaxation and its solution.
func BenchmarkRelaxation(b *testing.B) {
	w := benchWork(b, eightOpen)
	g := newGrid(w.problem)
	node := g.Root()
	var r leastsquares.Relaxation
	var s leastsquares.Solution
	space := leastsquares.NewWorkspace()
	b.ReportAllocs()
	for b.Loop() {
		g.Relax(&node, 1, &r)
		space.Solve(&r.Problem, &s)
	}
}

// The whole question, from the spec to the answer.
func BenchmarkDesign(b *testing.B) {
	q := Question{Spec: readSpec(b, eightOpen), Shelf: pantry.Embedded()}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Design(q); err != nil {
			b.Fatal(err)
		}
	}
}

// Evaluating one drink of eight pours.
func BenchmarkEvaluate(b *testing.B) {
	w := benchWork(b, eightOpen)
	g := newGrid(w.problem)
	r := rand.New(rand.NewPCG(1, 2))
	k := randomPoint(r, g.Root())
	b.ReportAllocs()
	for b.Loop() {
		g.Evaluate(k)
	}
}
