package solver

import (
	"fmt"
	"math/rand/v2"
	"strings"
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

// How far serves of one drink come apart: the part of an answer that draws.
func BenchmarkTolerance(b *testing.B) {
	w := benchWork(b, eightOpen)
	x := steps(newGrid(w.problem).root.Lower)
	for j := range x {
		x[j] += 4
	}
	b.ReportAllocs()
	for b.Loop() {
		w.tolerance(x)
	}
}

// A question that names eight rows of a bar's CSV takes as long whether the CSV
// has a hundred rows or ten thousand.
func BenchmarkDesignFromARowOfMany(b *testing.B) {
	for _, rows := range []int{100, 10_000} {
		b.Run(fmt.Sprint(rows, " rows"), func(b *testing.B) {
			var text strings.Builder
			text.WriteString("name,category,density_g_per_ml,abv_percent,sucrose_g_per_l,titratable_acidity_g_per_l_as_citric,source\n")
			for n := range rows {
				fmt.Fprintf(&text, "house bottle %d,liqueur,,%d,%d,%d,made up\n", n, 15+n%20, 10*(n%30), n%9)
			}
			shelf, err := pantry.Embedded().Overlay(strings.NewReader(text.String()), "many.csv")
			if err != nil {
				b.Fatal(err)
			}
			spec := "mix:\n"
			for n := range 8 {
				spec += fmt.Sprintf("  house bottle %d: 5..15 ml\n", 11*n)
			}
			q := Question{Shelf: shelf, Spec: readSpec(b, spec+"ice: stir\ntarget:\n  volume: 110 ml\n  abv: 15 %\n")}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Design(q); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// At most five of the whole pantry for seven targets, on the measures, proven.
func BenchmarkWholePantry(b *testing.B) {
	for _, most := range []int{4, 5, 6} {
		b.Run(fmt.Sprintf("at most %d", most), func(b *testing.B) {
			q := Question{Shelf: pantry.Embedded(), Spec: readSpec(b, fmt.Sprintf("ice: shake\nchoose: {at most: %d}\n%s", most, wholePantryTargets))}
			b.ReportAllocs()
			proven := 0.0
			for b.Loop() {
				a, err := Design(q)
				if err != nil {
					b.Fatal(err)
				}
				proven = 0
				if a.Chosen.NearestProven && a.Chosen.FewestProven {
					proven = 1
				}
			}
			b.ReportMetric(proven, "proven")
		})
	}
}

const wholePantryTargets = `target:
  volume: 150 ml
  abv: 14 %
  sugar: 70 g/L
  acid: 7 g/L
  salt: 0.5 g/L
  bitter: 10 mg/L
  umami: 0.1 g/L
`

// One swap in a finished sour.
func BenchmarkRebalance(b *testing.B) {
	q := swapQuestion(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Rebalance(q); err != nil {
			b.Fatal(err)
		}
	}
}

// Forty serves of an example.
func BenchmarkBatch(b *testing.B) {
	q := BatchQuestion{Question: Question{Spec: finishedDrinks(b)["high-water"], Shelf: pantry.Embedded()}, Size: BatchSize{Serves: 40}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := MakeBatch(q); err != nil {
			b.Fatal(err)
		}
	}
}
