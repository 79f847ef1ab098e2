package solver

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// tasted is the profile of a drink by the forward model alone: the states of its
// ingredients, the ice, and what is on top.
func tasted(t *testing.T, spec *pantry.Spec, amount map[string]float64) profile.Values {
	t.Helper()
	d := profile.Drink{Ice: spec.Ice}
	for stage, list := range [][]pantry.Pour{spec.Mix, spec.Top} {
		for _, p := range list {
			i, err := pantry.Embedded().Find(p.Name)
			if err != nil {
				t.Fatal(err)
			}
			part := i.PerUnit().Scale(amount[p.Name])
			if stage == 1 {
				d.Top = d.Top.Add(part)
			} else {
				d.Mix = d.Mix.Add(part)
			}
		}
	}
	return d.Finish().Values
}

// The drink that stands at an end has the value of that end by the forward model.
// 0.1 % is demanded; the difference is round-off.
func TestEndsAreReachedByTheirPours(t *testing.T) {
	for _, text := range reachQuestions {
		spec := readSpec(t, text)
		for _, one := range reachOf(t, text, pantry.Embedded()).Ranges {
			for name, end := range endsOf(&one) {
				got := tasted(t, spec, amounts(end.Pours))[one.Property]
				near(t, fmt.Sprintf("%s, %s", one.Property.Name(), name), got, end.Value, 1e-9*(1+math.Abs(end.Value)))
			}
		}
	}
}

// endsOf are the ends of a range by name.
func endsOf(one *PropertyReach) map[string]*End {
	ends := map[string]*End{"least": &one.Alone.Least, "greatest": &one.Alone.Greatest}
	if one.Held != nil {
		ends["held from"], ends["held to"] = &one.Held.Least, &one.Held.Greatest
	}
	return ends
}

// sampled is a question with what its spec allows written out by hand: for each
// pour its least and most in ml or g, for each target what holding it allows.
type sampled struct {
	text  string
	pours map[string][2]float64
	order []string
	// limits are always kept, held where the other targets are.
	limits map[profile.Property][2]float64
	held   map[profile.Property][2]float64
}

// Ranges held, by hand from J(c) = asinh(k c / T) / k: low and high are
// T/k sinh(asinh(k t / T) ∓ k). Sugar has T 4 g/L and k 0.17, acid 0.10 and 0.20,
// strength 0.60 and 0.10, salt 0.60 and 0.15, bitter 5 and 0.30; a volume is held to
// 2 %. An open pour goes from its measure (2.5 ml, 0.1 g, 1 dash of 0.92 ml or what the pantry
// says) to the target volume.
func samples() []sampled {
	within := func(target, threshold, weber float64) [2]float64 {
		level := math.Asinh(weber * target / threshold)
		return [2]float64{threshold / weber * math.Sinh(level-weber), threshold / weber * math.Sinh(level+weber)}
	}
	return []sampled{{
		text: reachQuestions[1],
		pours: map[string][2]float64{
			"dry gin": {30, 50}, "lemon juice": {2.5, 150}, "rich syrup": {0, 150},
		},
		order:  []string{"dry gin", "lemon juice", "rich syrup"},
		limits: map[profile.Property][2]float64{profile.Volume: {30, 160}},
		held: map[profile.Property][2]float64{
			profile.Volume: {147, 153}, profile.Strength: within(11.5, 0.6, 0.1), profile.Acid: within(7.5, 0.1, 0.2),
			profile.Sugar: {within(65, 4, 0.17)[0], within(75, 4, 0.17)[1]},
		},
	}, {
		text: `
ice: stir
mix:
  dry gin: 20..60 ml
  sweet vermouth: 10..40 ml
  red bitter aperitif: optional at most 30 ml
  water: optional at most 20 ml
target:
  volume: 100 ml
  abv: 24 %
  sugar: 60 g/L
`,
		pours: map[string][2]float64{
			"dry gin": {20, 60}, "sweet vermouth": {10, 40}, "red bitter aperitif": {0, 30}, "water": {0, 20},
		},
		order:  []string{"dry gin", "sweet vermouth", "red bitter aperitif", "water"},
		limits: map[profile.Property][2]float64{profile.Volume: {30, math.Inf(1)}},
		held: map[profile.Property][2]float64{
			profile.Volume: {98, 102}, profile.Strength: within(24, 0.6, 0.1), profile.Sugar: within(60, 4, 0.17),
		},
	}, {
		text: `
glass: 250 ml
ice: shake
mix:
  vodka: 30..60 ml
  tomato juice: 20..90 ml
  lemon juice: 5..30 ml
  honey syrup: 5..30 ml
top:
  soda water: 20..90 ml
target:
  abv: 8 %
  acid: at most 9 g/L
  ph: at least 3
`,
		pours: map[string][2]float64{
			"vodka": {30, 60}, "tomato juice": {20, 90}, "lemon juice": {5, 30}, "honey syrup": {5, 30}, "soda water": {20, 90},
		},
		order: []string{"vodka", "tomato juice", "lemon juice", "honey syrup", "soda water"},
		limits: map[profile.Property][2]float64{
			profile.Volume: {30, 250}, profile.Acid: {math.Inf(-1), 9}, profile.PH: {3, math.Inf(1)},
		},
		held: map[profile.Property][2]float64{profile.Strength: within(8, 0.6, 0.1)},
	}}
}

// No drawn drink lies outside the ends: drinks are drawn over all that the spec
// allows, a third of them with amounts at their ends, and a third between the
// drinks at two ends with a little added. Those that keep the limits are compared
// with the range alone, and those that keep the other targets too with that held.
func TestNoDrawnDrinkLiesOutsideTheEnds(t *testing.T) {
	const draws = 12_000
	for n, q := range samples() {
		random := rand.New(rand.NewPCG(uint64(n), 77))
		spec := readSpec(t, q.text)
		r := reachOf(t, q.text, pantry.Embedded())
		var corners []map[string]float64
		for i := range r.Ranges {
			for _, end := range []string{"least", "greatest", "held from", "held to"} {
				if e := endsOf(&r.Ranges[i])[end]; e != nil {
					corners = append(corners, amounts(e.Pours))
				}
			}
		}
		fixed := map[string]float64{}
		for name, amount := range corners[0] {
			if _, open := q.pours[name]; !open {
				fixed[name] = amount
			}
		}
		alone, held := 0, 0
		for draw := range draws {
			x := drawDrink(random, draw%3, &q, corners)
			for name, amount := range fixed {
				x[name] = amount
			}
			v := tasted(t, spec, x)
			if !allIn(q.limits, &v, -1) {
				continue
			}
			alone++
			for i := range r.Ranges {
				one := &r.Ranges[i]
				outside(t, one.Property, "alone", v[one.Property], &one.Alone)
				if allIn(q.held, &v, one.Property) {
					held++
					outside(t, one.Property, "held", v[one.Property], one.Held)
				}
			}
		}
		if alone < draws/20 || held < 500 {
			t.Errorf("question %d: %d drinks keep the limits and %d comparisons are with the targets held", n, alone, held)
		}
		t.Logf("question %d: %d of %d drinks keep the limits, %d comparisons with the targets held", n, alone, draws, held)
	}
}

func drawDrink(random *rand.Rand, way int, q *sampled, corners []map[string]float64) map[string]float64 {
	x := map[string]float64{}
	a, b := corners[random.IntN(len(corners))], corners[random.IntN(len(corners))]
	share, spread := random.Float64(), 0.1*random.Float64()*random.Float64()
	for _, name := range q.order {
		low, high := q.pours[name][0], q.pours[name][1]
		at := low + random.Float64()*(high-low)
		switch {
		case way == 1 && random.IntN(3) == 0:
			at = low
		case way == 1 && random.IntN(3) == 0:
			at = high
		case way == 2:
			at = share*a[name] + (1-share)*b[name] + spread*(2*random.Float64()-1)*(high-low)
		}
		x[name] = min(max(at, low), high)
	}
	return x
}

// allIn tells whether every property but one is where it has to be.
func allIn(rooms map[profile.Property][2]float64, v *profile.Values, but profile.Property) bool {
	for p, room := range rooms {
		if p != but && (v[p] < room[0] || v[p] > room[1]) {
			return false
		}
	}
	return true
}

// outside complains of a value beyond the ends by more than round-off.
func outside(t *testing.T, p profile.Property, which string, v float64, s *Span) {
	t.Helper()
	room := 1e-6 * (1 + math.Abs(v))
	if s == nil || v < s.Least.Value-room || v > s.Greatest.Value+room {
		t.Errorf("a drawn drink has %s %v, outside what is reached %s: %+v", p.Name(), v, which, s)
	}
}
