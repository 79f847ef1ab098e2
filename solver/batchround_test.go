package solver

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"minim/pantry"
)

// Trying every step of every line finds no closer batch.
func TestNoStepsInReachAreCloser(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 4))
	for range 25 {
		text := fmt.Sprintf("measure: 0.5 ml\nice: stir\nmix:\n  dry gin: 30..50 ml\n  dry vermouth: 10..20 ml\n  rich syrup: %d..10 ml\n  orange bitters: 2 dashes\ntarget:\n  abv: %d %%\n  volume: %d ml\n  sugar: %d g/L\n",
			1+r.IntN(5), 20+r.IntN(10), 70+r.IntN(30), 20+r.IntN(40))
		q := &BatchQuestion{
			Question: Question{Spec: readSpec(t, text), Shelf: pantry.Embedded(), Budget: 2000}, Size: BatchSize{Serves: 4 + r.IntN(30)}, Scale: 1,
		}
		serve, _, err := Finish(q.Question)
		if err != nil {
			t.Fatal(err)
		}
		m, err := newMixing(q, serve)
		if err != nil {
			t.Fatal(err)
		}
		b := &Batch{Serve: serve}
		if err := m.fit(b); err != nil {
			t.Fatal(err)
		}
		least := batchDistance{violation: 1e9}
		tried := 0
		m.everyStep(func(k []int) {
			tried++
			if d := m.distance(k); d.closer(&least) {
				least = d
			}
		})
		if b.Objective > least.objective*(1+1e-6)+1e-9 {
			t.Errorf("F %.3g, the least %.3g out of %d\n%s", b.Objective, least.objective, tried, text)
		}
	}
}

// everyStep calls try with all steps within the bounds of every line.
func (m *mixing) everyStep(try func(k []int)) {
	k := make([]int, len(m.rows))
	var set func(i int)
	set = func(i int) {
		if i == len(k) {
			try(k)
			return
		}
		for k[i] = m.rows[i].low; k[i] <= m.rows[i].high; k[i]++ {
			set(i + 1)
		}
	}
	set(0)
}
