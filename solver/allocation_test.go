package solver

import (
	"testing"

	"minim/pantry"
	"minim/profile"
)

// workload is a question whose work is counted: allocations, which are the same
// on every machine, and the boxes that a search opened, where it has any.
type workload struct {
	name string
	// allocations and boxes are what was counted when this was written.
	allocations, boxes int
	run                func(t testing.TB) (boxes int, err error)
}

// roomForWork is how much more than what was counted is no reason to look.
const roomForWork = 1.25

func workloads(t testing.TB) []workload {
	shelf := pantry.Embedded()
	question := func(text string) Question { return Question{Spec: readSpec(t, text), Shelf: shelf} }
	w, err := newWork(question(eightOpen))
	if err != nil {
		t.Fatal(err)
	}
	starts := w.problem.starts(w.volume)
	nearest, err := w.problem.continuous(starts)
	if err != nil {
		t.Fatal(err)
	}
	whole := question("ice: shake\nchoose: {at most: 5}\n" + wholePantryTargets)
	high := finishedDrinks(t)["high-water"]
	lightening, err := newLightening(LightenQuestion{Spec: high, Shelf: shelf, Property: profile.Strength})
	if err != nil {
		t.Fatal(err)
	}
	return []workload{
		{"nearest drink in amounts of any size", 51, 0, func(testing.TB) (int, error) {
			_, err := w.problem.continuous(starts[:1])
			return 0, err
		}},
		{"nearest drink on the measures", 732, 497, func(testing.TB) (int, error) {
			answer, err := w.problem.onMeasures(nearest.X, DefaultBudget)
			return answer.Nodes, err
		}},
		{"whole design", 1973, 550, func(testing.TB) (int, error) {
			a, err := Design(question(eightOpen))
			if err != nil {
				return 0, err
			}
			return a.Solution.Nodes, nil
		}},
		{"five of the whole pantry", 268357, 240, func(testing.TB) (int, error) {
			a, err := Design(whole)
			if err != nil {
				return 0, err
			}
			return a.Solution.Nodes, nil
		}},
		{"200 strengths", 9155, 0, func(testing.TB) (int, error) {
			_, err := lightening.curve(200)
			return 0, err
		}},
		{"reach", 280999, 0, func(testing.TB) (int, error) {
			_, err := Reach(question(reachQuestions[0]))
			return 0, err
		}},
		{"swap", 2703, 21, func(t testing.TB) (int, error) {
			changed, err := Rebalance(swapQuestion(t))
			if err != nil {
				return 0, err
			}
			return changed.Solution.Nodes, nil
		}},
		{"batch", 615, 0, func(t testing.TB) (int, error) {
			_, err := MakeBatch(BatchQuestion{Question: Question{Spec: high, Shelf: shelf}, Size: BatchSize{Serves: 40}})
			return 0, err
		}},
	}
}

func swapQuestion(t testing.TB) RebalanceQuestion {
	return RebalanceQuestion{Spec: finishedDrinks(t)["sour"], Shelf: pantry.Embedded(), Swaps: []Swap{{Out: "lemon juice", In: "lime juice"}}}
}

// No change makes a question do a quarter more work unseen. What is compared is
// counted, so that a slow or a busy machine changes nothing.
func TestWorkOfQuestionsHasNotGrown(t *testing.T) {
	for _, load := range workloads(t) {
		boxes := 0
		allocations := testing.AllocsPerRun(1, func() {
			var err error
			if boxes, err = load.run(t); err != nil {
				t.Fatalf("%s: %v", load.name, err)
			}
		})
		t.Logf("%s: %.0f allocations, %d boxes", load.name, allocations, boxes)
		if allocations > roomForWork*float64(load.allocations) || float64(boxes) > roomForWork*float64(load.boxes) {
			t.Errorf("%s: %.0f allocations and %d boxes, where there were %d and %d", load.name, allocations, boxes, load.allocations, load.boxes)
		}
	}
}
