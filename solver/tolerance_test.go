package solver

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// toleranceQuestions are drinks as written, each with aims: shaken, stirred by
// the dash, salted on a scale, topped, without ice, with powders and a piece.
var toleranceQuestions = []string{
	"mix:\n  dry gin: 52.5 ml\n  lemon juice: 20 ml\n  rich syrup: 10 ml\nice: shake\ntarget:\n  abv: 16 %\n  sugar: 70 g/L\n  acid: 7.5 g/L\n",
	"mix:\n  maize whiskey: 60 ml\n  sweet vermouth: 30 ml\n  aromatic bitters: 2 dashes\nice: stir\ntarget:\n  abv: 28 %\n  sugar: 40 g/L\n  bitter: 12 mg/L\n  temperature: -4 °C\n",
	"mix:\n  tequila: 45 ml\n  lime juice: 25 ml\n  orange curacao: 20 ml\n  salt: 0.3 g\nice: shake\ntarget:\n  abv: 18 %\n  salt: 2 g/L\n  acid: 9 g/L\n",
	"mix:\n  aquavit: 40 ml\n  tomato juice: 60 ml\n  soy sauce: 2.5 ml\nice: none\ntarget:\n  umami: 1 g/L\n  salt: 4 g/L\n  abv: 15 %\n",
	"mix:\n  dry gin: 40 ml\n  egg white: 1 piece\n  sugar: 12 g\n  lemon juice: 22.5 ml\nice: shake\ntop:\n  soda water: 60 ml\ntarget:\n  abv: 9 %\n  sweetness: 60 g/L\n  acid: 6 g/L\n  co2: 2 g/L\n",
}

func toleranceWork(t *testing.T, text string) *work {
	t.Helper()
	w, err := newWork(Question{Spec: readSpec(t, text), Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// drawnServes mixes so many serves with the full model, written apart from the
// code under test: it starts from the written pours, and an error is a part of
// the amount or an amount by the measure's word.
func drawnServes(w *work, overall bool, r *rand.Rand, draws int) (deviation map[profile.Property]float64, chance float64) {
	mixed := func(perturb bool) profile.Values {
		d := profile.Drink{Ice: w.ice}
		normal := func() float64 {
			if !perturb {
				return 0
			}
			return r.NormFloat64()
		}
		for n := range w.pours {
			p := &w.pours[n]
			var error float64
			switch p.written.Low.Unit.String() {
			case "ml":
				error = max(0.75, 0.02*p.amount)
				if p.written.Name == "soy sauce" { // by the spoon
					error = 0.1 * p.amount
				}
			case "dash":
				error = 0.2 * p.amount
			case "g":
				error = 0.05
			case "piece":
				error = 0.1 * p.amount
			}
			unit := p.unit
			amount := max(0, p.amount+error*normal())
			if overall {
				for c, s := range p.ingredient.PerUnitSpread() {
					unit[c] = unit[c] + s*normal()
					if p.unit[c] >= 0 {
						unit[c] = max(0, unit[c])
					}
				}
			}
			if p.stage == OnTop {
				d.Top = d.Top.Add(unit.Scale(amount))
			} else {
				d.Mix = d.Mix.Add(unit.Scale(amount))
			}
		}
		degrees := 0.0
		if w.ice.Method != profile.NoIce {
			// 3 ml of melt more or less for each 100 ml of mix, and 1.5 °C.
			d.Top[profile.WaterGrams] += 0.03 * float64(d.Mix.Volume()) * 0.9982 * normal()
			degrees = 1.5 * normal()
		}
		v := d.Finish().Values
		v[profile.Temperature] += degrees
		return v
	}
	meant := mixed(false)
	squares := map[profile.Property]float64{}
	sums := map[profile.Property]float64{}
	off := 0
	for range draws {
		v := mixed(true)
		total := 0.0
		for i := range w.problem.aims {
			p := w.problem.aims[i].property
			if j, ok := p.JND(); ok {
				miss := j.Level(v[p]) - j.Level(meant[p])
				total += miss * miss
				sums[p] += miss
				squares[p] += miss * miss
			}
		}
		if math.Sqrt(total) >= 0.5 {
			off++
		}
	}
	for p := range squares {
		mean := sums[p] / float64(draws)
		squares[p] = math.Sqrt(squares[p]/float64(draws) - mean*mean)
	}
	return squares, float64(off) / float64(draws)
}

// The spread by first order is that of 20,000 serves mixed one by one, and the
// chance that a serve is off is the part of these that are.
func TestToleranceIsThatOfMixingEveryServe(t *testing.T) {
	const draws = 20_000
	for n, text := range toleranceQuestions {
		w := toleranceWork(t, text)
		got := w.tolerance(nil)
		for _, v := range []struct {
			name    string
			overall bool
			got     *Variation
		}{{"by hand", false, &got.ByHand}, {"overall", true, &got.Overall}} {
			deviation, chance := drawnServes(w, v.overall, rand.New(rand.NewPCG(uint64(n), 11)), draws)
			for _, p := range v.got.Properties {
				want := deviation[p.Property]
				// 1 % of sampling, and what curves; a spread of more than a JND reaches
				// far down the scale, where steps are smaller.
				if want < 1 && math.Abs(p.JND-want) > (0.03+0.05*want)*want+1e-9 {
					t.Errorf("%d %s, %s: ± %v JND by first order, %v drawn", n, v.name, p.Property.Name(), p.JND, want)
				}
			}
			drawnError := math.Sqrt(chance * (1 - chance) / draws)
			room := 4 * math.Hypot(drawnError, v.got.StandardError)
			t.Logf("%d %s: chance %.4f ± %.4f, drawn %.4f; %s, %s by %.2f", n, v.name, v.got.Chance, v.got.StandardError, chance, v.got.Worst.Name(), v.got.Pour, v.got.Share)
			if math.Abs(v.got.Chance-chance) > room {
				t.Errorf("%d %s: chance %v ± %v, drawn %v", n, v.name, v.got.Chance, v.got.StandardError, chance)
			}
		}
	}
}

// One property and one pour: the chance has a closed form. Two liquids without
// ice of which only one holds sugar, poured with an error of σ: the sugar is
// noticeably off where |z| >= 0.5/(σ in JND), so the chance is erfc(0.5/(σ√2)).
func TestChanceOfOnePropertyIsThatOfTheNormalDistribution(t *testing.T) {
	w := toleranceWork(t, "mix:\n  simple syrup: 15 ml\n  water: 135 ml\nice: none\ntarget:\n  sugar: 60 g/L\n")
	got := w.tolerance(nil).ByHand
	sigma := got.Properties[0].JND
	want := math.Erfc(0.5 / (sigma * math.Sqrt2))
	if math.Abs(got.Chance-want) > 4*got.StandardError {
		t.Errorf("σ %v JND: chance %v ± %v, want %v", sigma, got.Chance, got.StandardError, want)
	}
	if got.Pour != "simple syrup" || got.Share < 0.8 || got.Worst != profile.Sugar {
		t.Errorf("%s makes %v of the variance of %s; expected the syrup most of that of sugar", got.Pour, got.Share, got.Worst.Name())
	}
}

// The share of a pour is what the variance of the worst property falls by where
// that pour alone is exact.
func TestShareIsWhatAnExactPourWouldSave(t *testing.T) {
	for n, text := range toleranceQuestions {
		w := toleranceWork(t, text)
		s := w.newServes()
		s.lookAt(nil)
		v := s.variation(every)
		k := 0
		for i, p := range s.properties {
			if p == v.Worst {
				k = i
			}
		}
		size := len(s.properties)
		without := s.covariance(func(one *source) bool {
			return one.pour == theIce || w.pours[one.pour].written.Name != v.Pour
		})[k*size+k]
		all := s.covariance(every)[k*size+k]
		near(t, text, v.Share, (all-without)/all, 1e-12)
		if n == 3 && v.Pour == "ice" {
			t.Error("a drink without ice varies by its ice")
		}
	}
}

func TestToleranceIsTheSameEachTime(t *testing.T) {
	w := toleranceWork(t, toleranceQuestions[0])
	if a, b := w.tolerance(nil), w.tolerance(nil); !reflect.DeepEqual(a, b) {
		t.Errorf("%+v, then %+v", a, b)
	}
}

// Water that is fixed leaves nothing to the arm, and what has no JND has no
// tolerance.
func TestWhatDoesNotVary(t *testing.T) {
	w := toleranceWork(t, "mix:\n  vodka: 50 ml\nice: {stir: 30 % water}\ntarget:\n  abv: 30 %\n")
	s := w.newServes()
	s.lookAt(nil)
	for i := range s.sources {
		if one := &s.sources[i]; one.kind == melt && one.size != 0 {
			t.Errorf("fixed melt varies by %v g", one.size)
		}
	}
	w = toleranceWork(t, "mix:\n  vodka: 50 ml\nice: stir\ntarget:\n  volume: 60 ml\n")
	if got := w.tolerance(nil); got != nil {
		t.Errorf("a volume alone has tolerance %+v", got)
	}
}

// A factor of any covariance multiplies back to it, singular ones included.
func TestFactorOfACovariance(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 5))
	for range 200 {
		n, rank := 1+r.IntN(7), 1+r.IntN(7)
		c := make([]float64, n*n)
		for range rank {
			e := make([]float64, n)
			for k := range e {
				e[k] = float64(r.IntN(5) - 2)
			}
			for k := range e {
				for l := range e {
					c[k*n+l] += e[k] * e[l]
				}
			}
		}
		f := cholesky(c, n)
		for k := range n {
			for l := range n {
				if got := inner(f[k*n:k*n+n], f[l*n:l*n+n]); math.Abs(got-c[k*n+l]) > 1e-9*(1+math.Abs(c[k*n+l])) {
					t.Fatalf("%v gives back %v at %d, %d of %v", f, got, k, l, c)
				}
			}
		}
	}
}

// Upper points of the χ² distribution, as any table of it has them to three
// decimals (Abramowitz & Stegun, table 26.8; from memory).
func TestChiSquareBeyondItsTabulatedPoints(t *testing.T) {
	for _, row := range []struct {
		n       int
		x, want float64
	}{
		{1, 3.841, 0.05},
		{1, 6.635, 0.01},
		{2, 5.991, 0.05},
		{2, 1.386, 0.5},
		{3, 7.815, 0.05},
		{3, 2.366, 0.5},
		{4, 9.488, 0.05},
		{5, 11.070, 0.05},
		{6, 12.592, 0.05},
		{7, 14.067, 0.05},
		{8, 20.090, 0.01},
		{9, 0, 1},
	} {
		near(t, "a point of the table", chiSquareBeyond(row.x, row.n), row.want, 2e-4)
	}
}
