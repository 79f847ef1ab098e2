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
	w := readDrawn(t, randomPours(r))
	w.problem = w.problem.with(randomTargets(r, w))
	return w
}

// randomPours writes six open pours of ingredients that differ.
func randomPours(r *rand.Rand) string {
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
	return text.String()
}

func readDrawn(t *testing.T, text string) *work {
	t.Helper()
	w, err := newWork(Question{Spec: readSpec(t, text), Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// randomTargets draws seven aims, and sometimes a limit that some of them break.
func randomTargets(r *rand.Rand, w *work) ([]aim, []limit) {
	x := make([]float64, len(w.problem.open))
	for j := range x {
		o := &w.problem.open[j]
		x[j] = float64(o.low) + r.Float64()*float64(o.high-o.low)
	}
	d := w.problem.drink(x)
	v := d.Finish().Values
	var aims []aim
	var limits []limit
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
	if r.IntN(3) == 0 {
		limits = append(limits, limit{
			property: profile.Strength, low: math.Inf(-1), high: aims[1].low - 0.3, scale: 1, written: "abv",
		})
	}
	return aims, limits
}

// mostDrinks is how many drinks one question may have in the test below.
const mostDrinks = 120_000

// randomGrid writes one to seven open pours in different measures: some may be
// left out or are no less than so much, some go on top, some are counted in
// dashes or weighed.
func randomGrid(r *rand.Rand) string {
	groups := [][]string{
		{"dry gin", "white rum", "vodka", "aged rum"},
		{"lemon juice", "lime juice", "grapefruit juice", "verjus"},
		{"rich syrup", "simple syrup", "honey syrup", "orange curacao"},
		{"light amaro", "sweet vermouth", "red bitter aperitif"},
		{"tomato juice", "soy sauce", "kombu dashi", "tomato water"},
		{"green tea", "fino sherry", "apple juice", "water"},
		{"soda water", "tonic water", "lager"},
		{"aromatic bitters", "orange bitters"},
		{"salt", "sugar", "citric acid powder"},
	}
	r.Shuffle(len(groups), func(i, j int) { groups[i], groups[j] = groups[j], groups[i] })
	n := 1 + r.IntN(7)
	most := math.Pow(mostDrinks, 0.7+0.3*r.Float64())
	width := max(1, int(math.Pow(most, 1/float64(n)))-1)
	var mix, top strings.Builder
	liquid := false
	for i, group := range groups[:n] {
		name := group[r.IntN(len(group))]
		unit, step, several := " ml", 2.5, min(width, 50)
		switch name {
		case "aromatic bitters", "orange bitters":
			unit, step = " dashes", 1
		case "salt", "sugar", "citric acid powder":
			unit, step = " g", 0.1
		default:
			liquid = true
		}
		if i == n-1 && !liquid {
			name, unit, step = "vodka", " ml", 2.5
		}
		if n < 3 {
			several = min(width, 90)
		}
		low := step * float64(1+r.IntN(6))
		word := ""
		if r.IntN(4) == 0 && i > 0 {
			word = "optional "
			several = max(1, several-1)
		}
		into := &mix
		if name == "soda water" || name == "tonic water" || name == "lager" {
			into = &top
		}
		fmt.Fprintf(into, "  %s: %s%g..%g%s\n", name, word, low, low+step*float64(several), unit)
	}
	methods := []string{"shake", "stir", "build", "none", "blend", "{stir: 25 % water}", "{shake: to -4 °C}"}
	text := "ice: " + methods[r.IntN(len(methods))] + "\n"
	if mix.Len() > 0 {
		text += "mix:\n" + mix.String()
	} else {
		text = ""
	}
	if top.Len() > 0 {
		text += "top:\n" + top.String()
	}
	return text
}

// narrow takes steps from the widest pour until there are few enough drinks.
func narrow(w *work, most int) {
	for {
		drinks, widest := 1, 0
		for j := range w.problem.open {
			o := &w.problem.open[j]
			drinks *= o.high - o.low + 2
			if wide := &w.problem.open[widest]; o.high-o.low > wide.high-wide.low {
				widest = j
			}
		}
		if drinks <= most {
			return
		}
		w.problem.open[widest].high--
	}
}

// tryAll evaluates every drink on the measures.
func tryAll(w *work) (violation, objective float64, drinks int) {
	g := newGrid(w.problem)
	k := append([]int(nil), g.root.Lower...)
	least := g.Semicontinuous()
	violation, objective = math.Inf(1), math.Inf(1)
	for {
		allowed := true
		for j := range k {
			allowed = allowed && (k[j] == 0 || k[j] >= least[j])
		}
		if allowed {
			drinks++
			if v, f := g.Evaluate(k); v < violation || v == violation && f < objective {
				violation, objective = v, f
			}
		}
		j := 0
		for ; j < len(k); j++ {
			if k[j]++; k[j] <= g.root.Upper[j] {
				break
			}
			k[j] = g.root.Lower[j]
		}
		if j == len(k) {
			return violation, objective, drinks
		}
	}
}

// The branch and bound must find the very drink that trying every drink finds,
// on two hundred questions of up to seven ingredients.
func TestAnswerOnTheMeasuresIsThatOfTryingAll(t *testing.T) {
	const questions, parts = 200, 4
	for part := range uint64(parts) {
		t.Run(fmt.Sprintf("part %d", part+1), func(t *testing.T) {
			t.Parallel()
			total, nodes, kept := 0, 0, 0
			for seed := part; seed < questions; seed += parts {
				r := rand.New(rand.NewPCG(seed, 7))
				text := randomGrid(r)
				w := readDrawn(t, text)
				narrow(w, mostDrinks)
				w.problem = w.problem.with(randomTargets(r, w))
				answer, err := leastsquares.SolveGrid(newGrid(w.problem), leastsquares.GridOptions{
					NodeLimit: 10 * DefaultBudget, Semicontinuous: newGrid(w.problem).Semicontinuous(),
				})
				if err != nil {
					t.Fatal(err)
				}
				violation, best, drinks := tryAll(w)
				total, nodes = total+drinks, nodes+answer.Nodes
				if violation == 0 {
					kept++
					if !answer.Proven || answer.Violation > 0 || math.Abs(answer.Objective-best) > 1e-9*(1+best) {
						t.Errorf("seed %d: branch and bound found F = %v (violation %v, proven %v, %d boxes), trying all %v\n%s",
							seed, answer.Objective, answer.Violation, answer.Proven, answer.Nodes, best, text)
					}
				} else if answer.Violation == 0 {
					t.Errorf("seed %d: branch and bound keeps the limits, trying all does not\n%s", seed, text)
				}
			}
			t.Logf("%d drinks tried, %d boxes; %d questions whose limits can be kept", total, nodes, kept)
		})
	}
}
