package leastsquares

import "testing"

func benchmarkChoice(b *testing.B, p ChoiceProblem, workers, budget int) {
	var a ChoiceAnswer
	for b.Loop() {
		var err error
		if a, err = SolveChoice(p, ChoiceOptions{Budget: budget, Workers: workers}); err != nil || budget < 0 && !a.Proven {
			b.Fatal(a, err)
		}
	}
	b.ReportMetric(float64(a.Pairs), "pairs")
	b.ReportMetric(float64(a.Decoded), "decoded")
	b.ReportMetric(a.Objective, "objective")
	b.ReportMetric(a.Bound, "bound")
}

func BenchmarkChoice130By5(b *testing.B) {
	for seed := range uint64(3) {
		for _, workers := range []int{1, 2} {
			b.Run(string([]byte{'a' + byte(seed), '0' + byte(workers)}), func(b *testing.B) {
				benchmarkChoice(b, mixtureChoice(seed, 130, 5), workers, -1)
			})
		}
	}
}

func BenchmarkChoice60By6(b *testing.B) { benchmarkChoice(b, mixtureChoice(0, 60, 6), 2, -1) }
func BenchmarkChoice130By6(b *testing.B) {
	benchmarkChoice(b, mixtureChoice(0, 130, 6), 2, 4_000_000_000)
}
