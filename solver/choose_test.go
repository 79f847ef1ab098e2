package solver

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// twenty are the ingredients that the random choices are from.
var twenty = []string{
	"dry gin", "white rum", "maize whiskey", "fino sherry", "sweet vermouth", "light amaro", "orange curacao", "rich syrup", "honey syrup",
	"agave syrup", "lemon juice", "lime juice", "grapefruit juice", "apple juice", "verjus", "green tea", "water", "saline", "rhubarb juice", "soda water",
}

// chooseQuestion asks for a drink near a random one of four of the twenty, in
// steps of 5 ml.
func chooseQuestion(t testing.TB, r *rand.Rand, most int) *pantry.Spec {
	t.Helper()
	methods := []string{"shake", "stir", "none"}
	ice := methods[r.IntN(len(methods))]
	var text strings.Builder
	fmt.Fprintf(&text, "ice: %s\nmix:\n", ice)
	for _, n := range r.Perm(len(twenty) - 1)[:4] {
		fmt.Fprintf(&text, "  %s: %g ml\n", twenty[n], 2.5+5*float64(r.IntN(6)))
	}
	spec, err := pantry.ReadSpec(strings.NewReader(text.String()), "drawn.yaml")
	if err != nil {
		t.Fatal(err)
	}
	model, err := Report(Question{Spec: spec, Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	text.Reset()
	fmt.Fprintf(&text, "ice: %s\nmeasure: 5 ml\nchoose: {at most: %d, from: [%s]}\ntarget:\n", ice, most, strings.Join(twenty, ", "))
	for _, p := range []profile.Property{profile.Volume, profile.Strength, profile.Sugar, profile.Acid, profile.Salt, profile.Bitter} {
		fmt.Fprintf(&text, "  %s: %.4f %s\n", p.Name(), model.Profile[p].Value*(0.9+0.2*r.Float64()), strings.TrimSuffix(p.Unit(), " vol"))
	}
	return readSpec(t, text.String())
}

// everyDrink tries every drink of some of the offered ingredients by the forward
// model alone.
type everyDrink struct {
	*problem
	// near is what a drink has to be nearer than, as F, to be seen.
	near func() float64
	see  func(x []float64, f float64, v *profile.Values)
	x    []float64
}

// mostVolume is the volume from which on F is more than near.
func (e *everyDrink) mostOf(p profile.Property) float64 {
	for i := range e.aims {
		if a := &e.aims[i]; a.property == p {
			return a.high + a.scaleHigh*math.Sqrt(e.near())
		}
	}
	for i := range e.limits {
		if l := &e.limits[i]; l.property == p {
			return l.high
		}
	}
	return math.Inf(1)
}

// tooMuch tells whether more of any pour can only be worse: what is poured never
// shrinks the drink, nor anything that it holds.
func (e *everyDrink) tooMuch(d *profile.Drink) bool {
	volume := e.mostOf(profile.Volume)
	if float64(d.Mix.Volume()+d.Top.Volume()) > 1.05*volume {
		return true
	}
	for i := range e.aims {
		weights, perVolume, ok := e.aims[i].property.Linear()
		if ok && perVolume && dot(&weights, &d.Mix)+dot(&weights, &d.Top) > 1.001*e.mostOf(e.aims[i].property)*volume {
			return true
		}
	}
	return false
}

// try goes through the steps of the columns, one step at least of each.
func (e *everyDrink) try(columns []int) {
	if len(columns) == 0 {
		d := e.drink(e.x)
		f := d.Finish()
		liquid := f.State[profile.EthanolGrams] + f.State[profile.WaterGrams]
		if liquid >= leastLiquid*f.Values[profile.Volume] && e.violation(e.x, &f.Values) == 0 {
			e.see(e.x, e.objective(&f.Values), &f.Values)
		}
		return
	}
	j := columns[0]
	defer func() { e.x[j] = 0 }()
	for k := max(e.open[j].low, 1); k <= e.open[j].high; k++ {
		e.x[j] = float64(k)
		d := e.drink(e.x)
		if e.tooMuch(&d) {
			return
		}
		e.try(columns[1:])
	}
}

// tryAll does so for every set of at most so many of them.
func (e *everyDrink) tryAll(most int) {
	e.x = make([]float64, len(e.open))
	for size := 1; size <= most; size++ {
		for set := firstSubset(size); set != nil; set = nextSubset(set, len(e.open)) {
			e.try(set)
		}
	}
}

// The nearest choice is as near as the best of trying every drink of every set
// of ingredients, and no fewer of them taste like it.
func TestChoiceIsThatOfTryingEveryDrink(t *testing.T) {
	proven, answered := 0, 0
	for seed := uint64(1); answered < 50; seed++ {
		most := 2
		if seed%6 == 0 {
			most = 3
		}
		spec := chooseQuestion(t, rand.New(rand.NewPCG(seed, 17)), most)
		q := Question{Spec: spec, Shelf: pantry.Embedded()}
		w, err := newWork(q)
		if err != nil {
			t.Fatal(err)
		}
		a, err := Design(q)
		var wrong pantry.InputErrors
		if err != nil && !errors.As(err, &wrong) {
			t.Fatal(err)
		}

		limited := w.problem.with(w.problem.aims, append(slices.Clone(w.problem.limits), w.problem.quietLimits(nil)...))
		least, tried := firstCutoffs[1], 0
		fewest := map[int]float64{}
		var best profile.Values
		all := &everyDrink{problem: limited, near: func() float64 { return least }}
		all.see = func(x []float64, f float64, v *profile.Values) {
			tried++
			n := 0
			for _, k := range x {
				if k > 0 {
					n++
				}
			}
			if before, seen := fewest[n]; !seen || f < before {
				fewest[n] = f
			}
			if f < least {
				least, best = f, *v
			}
		}
		all.tryAll(most)
		if a == nil || a.Solution.Least > firstCutoffs[1] {
			if best[profile.Volume] > 0 {
				t.Errorf("seed %d: no choice, while F = %v was found", seed, least)
			}
			continue
		}
		answered++
		if a.Chosen.NearestProven {
			proven++
		}
		switch {
		case least <= nearEnough:
			if a.Chosen.Nearest > nearEnough {
				t.Errorf("seed %d: nearest F = %v, every drink %v", seed, a.Chosen.Nearest, least)
			}
			if before := a.Chosen.Count - 1; before > 0 && fewest[before] > 0 && fewest[before] <= unlikeness*unlikeness {
				t.Errorf("seed %d: %d chosen, while %d come to F = %v", seed, a.Chosen.Count, before, fewest[before])
			}
		case math.Abs(a.Chosen.Nearest-least) > 1e-7*(1+least):
			t.Errorf("seed %d (%s): nearest F = %v, every drink %v", seed, spec.Ice.Method.Name(), a.Chosen.Nearest, least)
		default:
			alike := &everyDrink{problem: limited.alike(&best), near: func() float64 { return beyondTaste }}
			alike.aims = limited.aims
			alike.near = func() float64 { return math.Pow(math.Sqrt(least)+1, 2) }
			alike.see = func(x []float64, _ float64, _ *profile.Values) {
				t.Errorf("seed %d: %d chosen, while fewer taste like it: %v", seed, a.Chosen.Count, x)
			}
			alike.tryAll(a.Chosen.Count - 1)
		}
		if len(a.Pours) > most || len(a.Pours) != a.Chosen.Count {
			t.Errorf("seed %d: %d pours, %d counted, of at most %d", seed, len(a.Pours), a.Chosen.Count, most)
		}
	}
	t.Logf("%d of 50 proven", proven)
	if proven < 50 {
		t.Errorf("only %d of 50 proven", proven)
	}
}

// A drink never beats what the surrogate promises of it.
func TestSurrogateBoundsEveryDrink(t *testing.T) {
	checked := 0
	for seed := uint64(1); seed <= 60; seed++ {
		r := rand.New(rand.NewPCG(seed, 23))
		spec := chooseQuestion(t, r, 4)
		w, err := newWork(Question{Spec: spec, Shelf: pantry.Embedded()})
		if err != nil {
			t.Fatal(err)
		}
		p := w.problem
		continuous, err := p.continuous(p.starts(w.volume)[:1])
		if err != nil {
			t.Fatal(err)
		}
		for range 40 {
			sub := r.Perm(len(p.open))[:2+r.IntN(4)]
			g := newGrid(p)
			for j := range g.root.Upper {
				if !slices.Contains(sub, j) {
					g.root.Upper[j] = 0
				}
			}
			answer, err := leastsquares.SolveGrid(g, leastsquares.GridOptions{NodeLimit: 200})
			if err != nil {
				t.Fatal(err)
			}
			k := slices.Clone(answer.K)
			j := sub[r.IntN(len(sub))]
			k[j] = min(max(k[j]+r.IntN(3)-1, 0), g.root.Upper[j])
			var support, of []int
			for j, n := range k {
				if n > 0 {
					support, of = append(support, j), append(of, n)
				}
			}
			f, ok := p.chosenObjective(support, of)
			if !ok || f > firstCutoffs[1] {
				continue
			}
			s, _ := p.surrogateAt(continuous.X, f*(1+1e-9)+1e-9, false)
			linear := 0.0
			for i := range s.b {
				sum := -s.b[i]
				for j, n := range k {
					sum += s.a.At(i, j) * float64(n)
				}
				linear += sum * sum
			}
			checked++
			if f < s.scale*linear-s.offset-1e-9 {
				t.Errorf("seed %d (%s): F = %v below %v × %v - %v", seed, p.ice.Method.Name(), f, s.scale, linear, s.offset)
			}
			for j, n := range k {
				if n > p.highest(j, f*(1+1e-9)+1e-9) {
					t.Errorf("seed %d: %d steps of %s, of at most %d", seed, n, p.open[j].ingredient.Name, p.highest(j, f))
				}
			}
		}
	}
	t.Logf("%d drinks", checked)
	if checked < 100 {
		t.Errorf("only %d drinks were near enough", checked)
	}
}

func TestWhatMayAndMustBeChosen(t *testing.T) {
	a := ask(t, `
ice: shake
choose: {at most: 4, from: [spirit, juice, syrup, liqueur], must: [aquavit], one of: [lemon juice, lime juice], none of: [milk, honey syrup]}
target:
  volume: 140 ml
  abv: 14 %
  sugar: 60 g/L
  acid: 7 g/L
`)
	names := map[string]bool{}
	for i := range a.Pours {
		names[a.Pours[i].Ingredient.ID] = true
	}
	if !names["aquavit_42"] || names["lemon_juice"] == names["lime_juice"] || names["honey_syrup_3_1"] || len(a.Pours) > 4 {
		t.Errorf("chosen %v", names)
	}
	for i := range a.Misses {
		if m := &a.Misses[i]; m.Perceptible() {
			t.Errorf("%s off by %v JND", m.Property.Name(), m.JND)
		}
	}
}

func TestChoosingNeedsAVolume(t *testing.T) {
	_, err := Design(Question{Spec: readSpec(t, "choose: {at most: 3}\ntarget:\n  abv: 20 %\n"), Shelf: pantry.Embedded()})
	if !errors.Is(err, ErrNoVolume) {
		t.Errorf("error %v, want %v", err, ErrNoVolume)
	}
}

// names are the ingredients of an answer, in order.
func names(pours []PouredAmount) []string {
	var out []string
	for i := range pours {
		out = append(out, pours[i].Ingredient.Name)
	}
	slices.Sort(out)
	return out
}

func TestOrderOfWhatIsOfferedChangesNothing(t *testing.T) {
	question := func(from []string) *Answer {
		return ask(t, "ice: shake\nchoose: {at most: 4, from: ["+strings.Join(from, ", ")+"]}\ntarget:\n  volume: 140 ml\n  abv: 14 %\n  sugar: 60 g/L\n  acid: 7 g/L\n")
	}
	from := slices.Clone(twenty)
	first := question(from)
	slices.Reverse(from)
	second := question(from)
	if !slices.Equal(names(first.Pours), names(second.Pours)) || math.Abs(first.TotalJND-second.TotalJND) > 1e-9 {
		t.Errorf("%v, %v JND; offered backwards %v, %v JND", names(first.Pours), first.TotalJND, names(second.Pours), second.TotalJND)
	}
}

func TestAlternativesDifferAndAreRanked(t *testing.T) {
	spec := readSpec(t, "ice: shake\nchoose: {at most: 4, from: ["+strings.Join(twenty, ", ")+"]}\ntarget:\n  volume: 140 ml\n  abv: 14 %\n  sugar: 60 g/L\n  acid: 7 g/L\n")
	a, err := Design(Question{Spec: spec, Shelf: pantry.Embedded(), Alternatives: 5})
	if err != nil || len(a.Alternatives) != 5 {
		t.Fatalf("%d alternatives, %v; expected 5", len(a.Alternatives), err)
	}
	sets := [][]string{names(a.Pours)}
	last := 0.0
	for _, other := range a.Alternatives {
		set := names(other.Pours)
		for _, before := range sets {
			apart := 0
			for _, name := range set {
				if !slices.Contains(before, name) {
					apart++
				}
			}
			for _, name := range before {
				if !slices.Contains(set, name) {
					apart++
				}
			}
			if apart < alternativesApart {
				t.Errorf("%v and %v are %d apart", before, set, apart)
			}
		}
		if other.TotalJND < last {
			t.Errorf("%v JND after %v", other.TotalJND, last)
		}
		sets, last = append(sets, set), other.TotalJND
	}
}

// The bar's prices and what it may not pour; the numbers are made up.
const pricedBar = `name,category,density_g_per_ml,abv_percent,sucrose_g_per_l,citric_g_per_l,sodium_mg_per_l,bitterness_mg_per_l_quinine_hcl_eq,glucose_g_per_l,fructose_g_per_l,other_sugars_g_per_l,malic_g_per_l,tartaric_g_per_l,lactic_g_per_l,acetic_g_per_l,glutamate_free_mg_per_l,nucleotides_mg_per_l,price,pack,currency,vegan,allergens,stock
house gin,spirit,,40,0,0,0,0,0,0,0,0,0,0,0,0,0,14,700 ml,EUR,yes,,yes
dear gin,spirit,,40,0,0,0,0,0,0,0,0,0,0,0,0,0,70,700 ml,EUR,yes,,yes
cream gin,spirit,,40,0,0,0,0,0,0,0,0,0,0,0,0,0,7,700 ml,EUR,no,milk,yes
lost gin,spirit,,40,0,0,0,0,0,0,0,0,0,0,0,0,0,7,700 ml,EUR,yes,,no
house syrup,syrup,,0,600,0,0,0,0,0,0,0,0,0,0,0,0,3,1 l,EUR,yes,,yes
sour water,juice,,0,0,60,0,0,0,0,0,0,0,0,0,0,0,6,1 l,EUR,yes,,yes
`

func TestCostAllergensAndStockRuleOut(t *testing.T) {
	shelf, err := pantry.Embedded().Overlay(strings.NewReader(pricedBar), "bar.csv")
	if err != nil {
		t.Fatal(err)
	}
	question := func(conditions string) (*Answer, error) {
		return Design(Question{Shelf: shelf, Spec: readSpec(t, "ice: none\nchoose: {at most: 4, from: [house gin, dear gin, cream gin, lost gin, house syrup, sour water, water]"+conditions+"}\ntarget:\n  volume: 120 ml\n  abv: 15 %\n  sugar: 60 g/L\n  acid: 6 g/L\n")})
	}
	for conditions, want := range map[string]string{
		", none of: [milk, out of stock, dear gin]":                                                   "house gin",
		", none of: [house gin, dear gin, out of stock]":                                              "cream gin",
		", none of: [animal products, house gin, lost gin]":                                           "dear gin",
		", must: [lost gin]":                                                                          "lost gin",
		", one of: [dear gin, water], must: [house syrup], none of: [house gin, cream gin, lost gin]": "dear gin",
	} {
		a, err := question(conditions)
		if err != nil {
			t.Errorf("%s: %v", conditions, err)
			continue
		}
		if !slices.Contains(names(a.Pours), want) {
			t.Errorf("%s: chosen %v, expected %s", conditions, names(a.Pours), want)
		}
	}
	// 45 ml of gin at 2 cents a ml, 12 ml of syrup at 0.3 and 12 of sour water at
	// 0.6 cents: 1.01 EUR and water, which costs nothing.
	a, err := question(", cost: at most 1.10, none of: [cream gin, lost gin]")
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(a.Chosen.Cost-1.01) > 0.06 || a.Chosen.Cost > 1.10 || a.Chosen.Currency != "EUR" {
		t.Errorf("costs %v %s of %v", a.Chosen.Cost, a.Chosen.Currency, names(a.Pours))
	}
	// With a cost below that of the gin in it no such drink is to be had; the
	// nearest that can be paid is weaker.
	a, err = question(", cost: at most 0.60, none of: [cream gin, lost gin]")
	if err != nil {
		t.Fatal(err)
	}
	if a.Chosen.Cost > 0.60 || a.Profile[profile.Strength].Value > 14 {
		t.Errorf("%v %% vol for %v", a.Profile[profile.Strength].Value, a.Chosen.Cost)
	}
}

func TestWhatCannotBeChosenIsRefused(t *testing.T) {
	for text, want := range map[string]string{
		"choose: {at most: 3, from: [dry gn]}":                                     `no ingredient "dry gn"`,
		"choose: {at most: 3, from: [dry gin], none of: [spirit]}":                 "nothing is left to choose from",
		"choose: {at most: 3, must: [dry gin], none of: [spirit]}":                 "must be in the drink and is ruled out",
		"choose: {at most: 3, from: [dry gin, lime juice], cost: at most 0.5}":     "nothing is left to choose from",
		"choose: {at most: 2, from: [spirit], must: [lime juice, lemon juice, x]}": "",
	} {
		spec, err := pantry.ReadSpec(strings.NewReader(text+"\ntarget:\n  volume: 100 ml\n  abv: 20 %\n"), "asked.yaml")
		if err == nil {
			_, err = Design(Question{Spec: spec, Shelf: pantry.Embedded()})
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, expected %q", text, err, want)
		}
	}
}
