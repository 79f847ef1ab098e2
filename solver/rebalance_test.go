package solver

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// changingDrinks are written drinks in coarse measures, so that every drink that
// could be poured instead can be tried. The first is that of the invented bar.
var changingDrinks = []struct {
	text  string
	swaps []Swap
}{
	{"drink: Morning\nmeasure: 15 ml\nglass: 220 ml\nmix:\n  fino sherry: 45 ml\n  lemon juice: 15 ml\n  honey syrup: 15 ml\n  green tea: 60 ml\nice: shake\ntop:\n  soda water: 30 ml\n", []Swap{
		{"lemon juice", "lime juice"},
		{"honey syrup", "simple syrup"},
		{"honey syrup", "rich syrup"},
		{"fino sherry", "dry vermouth"},
		{"green tea", "water"},
		{"fino sherry", "amontillado"},
		{"lemon juice", "grapefruit juice"},
		{"soda water", "tonic water"},
		{"fino sherry", "dry gin"},
		{"green tea", "apple juice"},
	}},
	{"drink: Sour\nmeasure: 7.5 ml\nglass: 150 ml\nmix:\n  dry gin: 45 ml\n  lemon juice: 22.5 ml\n  simple syrup: 22.5 ml\n  water: 7.5 ml\nice: shake\n", []Swap{
		{"lemon juice", "lime juice"},
		{"simple syrup", "rich syrup"},
		{"dry gin", "vodka"},
		{"simple syrup", "honey syrup"},
		{"lemon juice", "grapefruit juice"},
		{"dry gin", "fino sherry"},
		{"simple syrup", "orange curacao"},
		{"lemon juice", "verjus"},
		{"water", "green tea"},
		{"dry gin", "dry vermouth"},
	}},
	{"drink: Stirred\nmeasure: 10 ml\nglass: 130 ml\nmix:\n  aquavit: 40 ml\n  amontillado: 20 ml\n  light amaro: 10 ml\n  orange bitters: 2 dashes\nice: stir\n", []Swap{
		{"aquavit", "dry gin"},
		{"aquavit", "bourbon"},
		{"amontillado", "fino sherry"},
		{"amontillado", "sweet vermouth"},
		{"light amaro", "sweet vermouth"},
		{"orange bitters", "aromatic bitters"},
		{"light amaro", "orange curacao"},
		{"aquavit", "vodka"},
		{"amontillado", "dry vermouth"},
		{"light amaro", "red bitter aperitif"},
	}},
}

// allDrinks tries every drink of the pours by plain counting: each pour is at its
// amount from before, or at any number of its measures up to most. Alone is the
// drink with the swap and nothing corrected. It returns the least number of other
// pours moved, and the least change, among the drinks alike the least F of the
// first set that has any: near ones without a perceptible miss, near ones that
// spend nothing; the same without the bounds on the pours; those that keep the
// strength; all. Clean tells whether the first is the case.
func allDrinks(t *testing.T, r *rework, limits []limit, alone *Answer) (fewest int, least float64, clean bool) {
	t.Helper()
	choices := make([][]float64, len(r.pours))
	count := 1
	for i := range r.pours {
		choices[i] = []float64{r.before[i]}
		if p := &r.pours[i]; !p.fixed {
			for k := p.low; k <= p.high; k++ {
				if amount := float64(k) * p.step; math.Abs(amount-r.before[i]) > 1e-9 {
					choices[i] = append(choices[i], amount)
				}
			}
		}
		count *= len(choices[i])
	}
	if count > 1_000_000 {
		t.Fatalf("%d drinks are too many to try", count)
	}
	type tried struct {
		values profile.Values
		f      float64
		moved  int
		size   float64
		clean  bool
		set    int
		still  bool // as the swap alone has it
	}
	var wanted profile.PropertySet
	for _, p := range likeProperties {
		wanted = wanted.With(p)
	}
	level := func(a *aim, v float64) float64 {
		j, _ := a.property.JND()
		return j.Level(v) - j.Level(a.low)
	}
	aloneTotal, bitterNoticed, strengthNoticed := 0.0, false, true
	for i := range r.problem.aims {
		a := &r.problem.aims[i]
		if _, ok := a.property.JND(); ok {
			miss := level(a, alone.Profile[a.property].Value)
			aloneTotal += miss * miss
			bitterNoticed = bitterNoticed || a.property == profile.Bitter && math.Abs(miss) >= profile.Perceptible
			strengthNoticed = strengthNoticed && !(a.property == profile.Strength && math.Abs(miss) < profile.Perceptible)
		}
	}
	var all []tried
	at := make([]int, len(choices))
	for {
		d := profile.Drink{Ice: r.ice}
		one := tried{clean: true, still: true}
		near, seasoned := true, true
		for i := range choices {
			amount := choices[i][at[i]]
			state := r.pours[i].unit.Scale(amount)
			if r.pours[i].stage == OnTop {
				d.Top = d.Top.Add(state)
			} else {
				d.Mix = d.Mix.Add(state)
			}
			if at[i] > 0 {
				one.still = false
				if r.before[i] > 0 && !r.anyAmount[i] {
					near = near && amount >= r.before[i]/2-1e-9 && amount <= r.before[i]*2+1e-9
				}
				dashed := r.pours[i].ingredient.Step.Word == "dash"
				seasoned = seasoned && (bitterNoticed || !dashed || r.uncounted[i])
				if !r.uncounted[i] {
					one.moved++
				}
				step := (amount - r.before[i]) / r.pours[i].step
				one.size += step * step
			}
		}
		d.Evaluate(wanted, &one.values, nil, nil)
		kept := true
		for _, l := range limits {
			kept = kept && one.values[l.property] <= l.high*(1+1e-9) && one.values[l.property] >= l.low*(1-1e-9)
		}
		spends, total, strong := false, 0.0, true
		for i := range r.problem.aims {
			a := &r.problem.aims[i]
			v, was := one.values[a.property], alone.Profile[a.property].Value
			one.f += math.Pow((v-a.low)/a.scaleLow, 2)
			if a.property == profile.Volume {
				spends = spends || math.Abs(was/a.low-1) <= 0.02 && math.Abs(v/a.low-1) > 0.02+1e-9
				continue
			}
			miss, left := level(a, v), level(a, was)
			total += miss * miss
			one.clean = one.clean && math.Abs(miss) < profile.Perceptible
			further := miss >= max(profile.Perceptible, left+1e-6) || miss <= min(-profile.Perceptible, left-1e-6)
			spends = spends || further
			strong = strong && !(a.property == profile.Strength && further)
		}
		spends = spends || math.Sqrt(total) > math.Sqrt(aloneTotal)*(1+1e-9)
		switch {
		case near && one.clean:
			one.set = 0
		case near && seasoned && !spends:
			one.set = 1
		case one.clean:
			one.set = 2
		case !spends:
			one.set = 3
		case strong && !strengthNoticed:
			one.set = 4
		default:
			one.set = 5
		}
		if kept {
			all = append(all, one)
		}
		n := 0
		for n < len(at) && at[n] == len(choices[n])-1 {
			at[n] = 0
			n++
		}
		if n == len(at) {
			break
		}
		at[n]++
	}
	set := 6
	for n := range all {
		set = min(set, all[n].set)
	}
	// What a wider set holds besides is no nearer set, so that every drink of the
	// first one has its number.
	best, still := -1, -1
	for n := range all {
		if all[n].set != set {
			continue
		}
		if best < 0 || all[n].f < all[best].f {
			best = n
		}
		if all[n].still {
			still = n
		}
	}
	if best < 0 {
		return 0, 0, false
	}
	clean = all[best].clean
	if still >= 0 && hardlyNearer(r, &all[best].values, &all[still].values) {
		return 0, 0, clean
	}
	fewest, least = len(r.pours)+1, math.Inf(1)
	for n := range all {
		one := &all[n]
		if one.set != set {
			continue
		}
		sum, perceptible := 0.0, false
		for i := range r.problem.aims {
			a := &r.problem.aims[i]
			j, ok := a.property.JND()
			if !ok {
				continue
			}
			mine, theirs := j.Level(one.values[a.property])-j.Level(a.low), j.Level(all[best].values[a.property])-j.Level(a.low)
			sum += (mine - theirs) * (mine - theirs)
			perceptible = perceptible || math.Abs(mine) >= profile.Perceptible && math.Abs(theirs) < profile.Perceptible
		}
		volume := one.values[profile.Volume] / all[best].values[profile.Volume]
		if perceptible || math.Sqrt(sum) > unlikeness || math.Abs(volume-1) > alikeVolume {
			continue
		}
		if one.moved < fewest || one.moved == fewest && one.size < least {
			fewest, least = one.moved, one.size
		}
	}
	return fewest, least, clean
}

// hardlyNearer tells whether the best drink misses something that can be noticed,
// puts nothing right that the swap alone misses, and is nearer by less than 0.25
// JND in all.
func hardlyNearer(r *rework, best, still *profile.Values) bool {
	var totals [2]float64
	for i := range r.problem.aims {
		a := &r.problem.aims[i]
		j, ok := a.property.JND()
		if !ok {
			off := func(v *profile.Values) bool { return math.Abs(v[a.property]/a.low-1) > 0.02 }
			if off(still) && !off(best) {
				return false
			}
			continue
		}
		b, s := j.Level(best[a.property])-j.Level(a.low), j.Level(still[a.property])-j.Level(a.low)
		totals[0] += b * b
		totals[1] += s * s
		if math.Abs(s) >= profile.Perceptible && math.Abs(b) < profile.Perceptible {
			return false
		}
	}
	return math.Sqrt(totals[0]) >= profile.Perceptible && math.Sqrt(totals[1])-math.Sqrt(totals[0]) < 0.25
}

func TestWhatIsAddedIsPoured(t *testing.T) {
	spec := readSpec(t, changingDrinks[0].text)
	out := rebalanced(t, RebalanceQuestion{
		Spec: spec, Shelf: pantry.Embedded(), Swaps: []Swap{{"", "dry gin"}}, Ignore: []profile.Property{profile.Strength, profile.Volume},
	})
	for _, p := range out.Pours {
		if p.Name == "dry gin" && p.AfterBase < 15 {
			t.Errorf("%g ml of dry gin, expected at least one measure", p.AfterBase)
		}
	}
	if len(out.Spec.Mix) != len(spec.Mix)+1 {
		t.Errorf("%d pours in the mix, there were %d", len(out.Spec.Mix), len(spec.Mix))
	}
}

func TestASwapLeavesNoPerceptibleMissThatNeedNotBeAndMovesTheFewestPours(t *testing.T) {
	shelf := pantry.Embedded()
	swaps, clean := 0, 0
	for _, drink := range changingDrinks {
		for _, swap := range drink.swaps {
			t.Run(fmt.Sprintf("%s for %s", swap.In, swap.Out), func(t *testing.T) {
				possible := fewestMove(t, RebalanceQuestion{Spec: readSpec(t, drink.text), Shelf: shelf, Swaps: []Swap{swap}})
				swaps++
				if possible {
					clean++
				}
			})
		}
	}
	t.Logf("%d swaps, %d of them without a perceptible miss", swaps, clean)
}

// fewestMove compares a swap with trying every drink, and tells whether there is
// one without a perceptible miss.
func fewestMove(t *testing.T, q RebalanceQuestion) bool {
	t.Helper()
	got, err := Rebalance(q)
	if err != nil {
		t.Fatal(err)
	}
	if !got.Solution.Proven || !got.Solution.PreferenceProven {
		t.Errorf("not proven")
	}
	parts, err := q.parts()
	if err != nil {
		t.Fatal(err)
	}
	var targets []pantry.Target
	for _, p := range got.Properties {
		if p.Held {
			for _, aim := range got.Misses {
				if aim.Property == p.Property {
					targets = append(targets, pantry.Target{Property: p.Property, Aimed: true, Low: aim.Low, High: aim.High, Weight: 1})
				}
			}
		}
	}
	r, _, err := reworkOf(q.Spec, q.Shelf, parts, targets, 0)
	if err != nil {
		t.Fatal(err)
	}
	limits := append(quietLimits(got.Original, got.Alone, targets), r.problem.limits...)
	fewest, least, possible := allDrinks(t, r, limits, got.Alone)
	perceptible := false
	for i := range got.Misses {
		perceptible = perceptible || got.Misses[i].Perceptible()
	}
	if possible == perceptible {
		t.Errorf("a drink without a perceptible miss, and near enough, exists: %v; the answer has a miss: %v", possible, perceptible)
	}
	if got.Moved != fewest {
		t.Errorf("%d other pours move, %d would do", got.Moved, fewest)
	}
	if math.Abs(got.Size-least) > 1e-6 {
		t.Errorf("the change is %.6f squared steps, %.6f would do", got.Size, least)
	}
	return possible
}

// exampleSwaps are swaps in the finished drinks of the invented bar, in measures
// coarse enough for every drink to be tried. What goes by a measure of its own is
// kept.
var exampleSwaps = []struct {
	file, measure string
	keep          []string
	swaps         []Swap
}{
	{"morning-tide", "15 ml", []string{"saline"}, []Swap{
		{"lemon juice", "lime juice"},
		{"honey syrup", "rich syrup"},
		{"fino sherry", "dry vermouth"},
		{"soda water", "tonic water"},
		{"green tea", "water"},
		{"fino sherry", "dry gin"},
	}},
	{"high-water", "5 ml", []string{"orange bitters"}, []Swap{
		{"dry gin", "vodka"},
		{"sweet vermouth", "dry vermouth"},
		{"light amaro", "red bitter aperitif"},
		{"dry gin", "aquavit"},
		{"sweet vermouth", "amontillado"},
		{"light amaro", "orange curacao"},
	}},
	{"lock-keeper", "5 ml", []string{"egg white"}, []Swap{
		{"honey syrup", "rich syrup"},
		{"lemon juice", "lime juice"},
		{"lemon juice", "grapefruit juice"},
		{"dry gin", "white rum"},
		{"honey syrup", "simple syrup"},
		{"dry gin", "fino sherry"},
	}},
}

func TestSwapsOverTheExamplesMoveTheFewestPours(t *testing.T) {
	shelf := pantry.Embedded()
	for _, e := range exampleSwaps {
		for _, swap := range e.swaps {
			t.Run(e.file+" "+swap.In+" for "+swap.Out, func(t *testing.T) {
				q := RebalanceQuestion{Spec: exampleSpec(t, e.file), Shelf: shelf, Swaps: []Swap{swap}, Keep: e.keep}
				measure, err := pantry.ParseAmount(e.measure)
				if err != nil {
					t.Fatal(err)
				}
				q.Spec.Measure = measure
				fewestMove(t, q)
			})
		}
	}
}

func TestSwapsAndBackOverTheExamplesReturnThem(t *testing.T) {
	shelf := pantry.Embedded()
	for _, measure := range []pantry.Amount{{Value: 2.5, Unit: pantry.Millilitres}, {Value: 0.25, Unit: pantry.USOunces}} {
		for _, e := range exampleSwaps {
			spec := exampleSpec(t, e.file)
			spec.Measure = measure
			for _, swap := range e.swaps {
				there := rebalanced(t, RebalanceQuestion{Spec: spec, Shelf: shelf, Swaps: []Swap{swap}})
				back := rebalanced(t, RebalanceQuestion{Spec: readSpec(t, written(t, there.Spec)), Shelf: shelf, Swaps: []Swap{{swap.In, swap.Out}}})
				if got := written(t, back.Spec); got != written(t, spec) {
					t.Errorf("%s for %s and back in steps of %s gives\n%s", swap.In, swap.Out, measure, got)
				}
			}
		}
	}
}

// A drink that overfills its glass, or breaks its own ratio, was approved so.
func TestALimitThatWasBrokenBeforeChangesNothing(t *testing.T) {
	for _, text := range []string{
		"drink: Full\nglass: 100 ml\nmix:\n  dry gin: 43 ml\n  lemon juice: 21 ml\n  simple syrup: 16 ml\nice: shake\n",
		"drink: Lopsided\nmix:\n  dry gin: 45 ml\n  lemon juice: 20 ml\n  rich syrup: 10 ml\nice: shake\nratio: {lemon juice: rich syrup, is: 1..1.5}\n",
	} {
		spec := readSpec(t, text)
		out := rebalanced(t, RebalanceQuestion{Spec: spec, Shelf: pantry.Embedded(), Swaps: []Swap{{"dry gin", "dry gin"}}})
		for i := range out.Pours {
			if out.Pours[i].Moved() {
				t.Errorf("%s moves from %g to %g", out.Pours[i].Name, out.Pours[i].BeforeBase, out.Pours[i].AfterBase)
			}
		}
		if len(out.Broken) != 1 || len(out.BrokenBefore) != 1 || out.Broken[0].Written != out.BrokenBefore[0] {
			t.Errorf("broken: %v, before: %v", out.Broken, out.BrokenBefore)
		}
	}
}

// exampleSpec is a drink of the invented bar.
func exampleSpec(t *testing.T, name string) *pantry.Spec {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "examples", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return readSpec(t, string(text))
}
