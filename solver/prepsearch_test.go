package solver

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// The neighbours that are looked at find the best of a grid: 40 random preps of three
// open pours in narrow ranges, each for two drinks that pull apart, against all
// preps of the grid. Seed 1.
func TestPrepSearchAgainstEveryPrepOfTheGrid(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	between := func(low, high int) int { return low + random.IntN(high-low+1) }
	second, worst := 0, 0.0
	const questions = 40
	for n := range questions {
		juice, sugar, gin := between(60, 150), between(60, 140), between(50, 150)
		base := fmt.Sprintf("mix:\n  lemon juice: %d..%d ml\n  white sugar: %d..%d g\n  dry gin: %d..%d ml\n  water: 100 ml\nmakes: {volume: %d ml}\n",
			juice, juice+45, sugar, sugar+14, gin, gin+45, between(350, 450))
		drinks := []string{
			fmt.Sprintf("mix:\n  base: 60 ml\nice: shake\ntarget:\n  sugar: %d g/L\n  acid: %d g/L\n  abv: %d %%\n", between(80, 160), between(4, 12), between(5, 12)),
			fmt.Sprintf("mix:\n  base: 45 ml\n  aquavit: 20 ml\nice: stir\ntarget:\n  sugar: %d g/L\n  acid: %d g/L\n", between(60, 120), between(3, 9)),
		}
		q := barOf(t, map[string]string{"base.yaml": base}, drinks...)
		m, err := newPrepModel(q[0].Shelf, q)
		if err != nil {
			t.Fatal(err)
		}
		continuous, err := m.solve()
		if err != nil {
			t.Fatal(err)
		}
		_, found := m.worth(m.onScale(continuous.X))
		least := math.Inf(1)
		var k [3]float64
		for k[0] = m.open[0].low; k[0] <= m.open[0].high; k[0]++ {
			for k[1] = m.open[1].low; k[1] <= m.open[1].high; k[1]++ {
				for k[2] = m.open[2].low; k[2] <= m.open[2].high; k[2]++ {
					_, f := m.worth(k[:])
					least = min(least, f)
				}
			}
		}
		if continuous.Objective > least+1e-9*(1+least) {
			t.Errorf("question %d: real amounts come to %.6f, the grid to %.6f", n, continuous.Objective, least)
		}
		if found > least+1e-9*(1+least) {
			second++
			worst = max(worst, found-least)
		}
	}
	t.Logf("%d of %d are second to another prep of the grid, by at most F = %.4f", second, questions, worst)
	if second > questions/10 || worst > 0.01 {
		t.Errorf("%d of %d are second to another prep of the grid, by up to F = %.4f", second, questions, worst)
	}
}
