package leastsquares

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// smallChoice draws a problem that can be enumerated: columns that depend on
// each other, duplicates and zeros, minima, groups, columns that must be used
// or count for nothing, rows and a true objective among them.
func smallChoice(r *rand.Rand) ChoiceProblem {
	n, m := 1+r.IntN(9), 1+r.IntN(5)
	p := ChoiceProblem{A: NewMatrix(m, n), B: make([]float64, m), Most: r.IntN(5)}
	whole := r.IntN(3) == 0
	draw := func() float64 {
		if whole {
			return float64(r.IntN(7) - 2)
		}
		return r.NormFloat64()
	}
	for j := range n {
		kind := r.IntN(8)
		for i := range m {
			switch {
			case kind == 0:
			case kind == 1 && j > 0:
				p.A.Set(i, j, p.A.At(i, j-1))
			case kind == 2 && j > 1:
				p.A.Set(i, j, p.A.At(i, j-1)+p.A.At(i, j-2))
			case kind < 5 || r.IntN(2) == 0:
				p.A.Set(i, j, draw())
			}
		}
		p.Upper = append(p.Upper, r.IntN(5))
	}
	for i := range m {
		p.B[i] = 3 * draw()
	}
	if r.IntN(2) == 0 {
		for range n {
			p.Least = append(p.Least, r.IntN(4))
		}
	}
	if r.IntN(2) == 0 {
		for range n {
			p.Counted = append(p.Counted, r.IntN(4) > 0)
		}
	}
	if r.IntN(3) == 0 {
		p.Must = append(p.Must, r.IntN(n))
	}
	for range r.IntN(3) {
		g := ChoiceGroup{Exactly: r.IntN(2) == 0}
		for j := range n {
			if r.IntN(3) == 0 {
				g.Columns = append(g.Columns, j)
			}
		}
		p.Groups = append(p.Groups, g)
	}
	if r.IntN(3) == 0 {
		p.G, p.H = NewMatrix(1, n), []float64{float64(r.IntN(8) - 1)}
		for j := range n {
			p.G.Set(0, j, float64(r.IntN(5)-1))
		}
	}
	if r.IntN(3) == 0 {
		p.Scale, p.Offset = 0.5+0.5*r.Float64(), r.Float64()
		shape := r.Float64()
		scale, offset, problem := p.Scale, p.Offset, p
		p.Evaluate = func(support, k []int) (float64, bool) {
			code := 0
			for c, j := range support {
				code = code*7 + 3*j + k[c]
			}
			l := problem.linear(support, k)
			wave := math.Abs(math.Sin(float64(code) + shape))
			return max(scale*l-offset*wave, 0) + 0.5*wave, code%11 != 0
		}
	}
	return p
}

func (p *ChoiceProblem) linear(support, k []int) float64 {
	sum := 0.0
	for i := range p.A.Rows {
		v := -p.B[i]
		for c, j := range support {
			v += p.A.At(i, j) * float64(k[c])
		}
		sum += v * v
	}
	return sum
}

// enumerate tries every k.
func (p *ChoiceProblem) enumerate(allowed func(support []int) bool) (best float64, equal [][]int) {
	n := p.A.Cols
	best = math.Inf(1)
	k := make([]int, n)
	var visit func(j int)
	visit = func(j int) {
		if j < n {
			for v := 0; v <= p.Upper[j]; v++ {
				if v == 0 || p.Least == nil || v >= p.Least[j] {
					k[j] = v
					visit(j + 1)
				}
			}
			k[j] = 0
			return
		}
		var support, steps []int
		counted := 0
		for j, v := range k {
			if v == 0 {
				continue
			}
			support, steps = append(support, j), append(steps, v)
			if p.Counted == nil || p.Counted[j] {
				counted++
			}
		}
		if counted > p.Most || slices.ContainsFunc(p.Must, func(j int) bool { return k[j] == 0 }) {
			return
		}
		for _, g := range p.Groups {
			used := 0
			for _, j := range g.Columns {
				used += min(k[j], 1)
			}
			if used > 1 || g.Exactly && used == 0 {
				return
			}
		}
		for i := range rowCount(p.G) {
			sum := 0.0
			for c, j := range support {
				sum += p.G.At(i, j) * float64(steps[c])
			}
			if sum > p.H[i] {
				return
			}
		}
		if allowed != nil && !allowed(support) {
			return
		}
		objective := p.linear(support, steps)
		if p.Evaluate != nil {
			v, ok := p.Evaluate(support, steps)
			if !ok {
				return
			}
			objective = v
		}
		switch {
		case objective < best-1e-9*(1+best) || len(equal) == 0:
			best, equal = objective, [][]int{slices.Clone(k)}
		case objective <= best+1e-9*(1+best):
			best = min(best, objective)
			equal = append(equal, slices.Clone(k))
		}
	}
	visit(0)
	return best, equal
}

// compareChoice checks an answer against enumeration.
func compareChoice(t *testing.T, p *ChoiceProblem, a ChoiceAnswer, allowed func([]int) bool) {
	t.Helper()
	best, equal := p.enumerate(allowed)
	if !a.Proven || a.Found != (len(equal) > 0) {
		t.Fatalf("found %v proven %v, enumeration has %d best: %+v", a.Found, a.Proven, len(equal), *p)
	}
	if !a.Found {
		return
	}
	if math.Abs(a.Objective-best) > 1e-9*(1+best) || a.Bound > a.Objective+1e-9*(1+best) {
		t.Fatalf("objective %.15g, bound %.15g, enumeration %.15g: %+v", a.Objective, a.Bound, best, *p)
	}
	if !slices.ContainsFunc(equal, func(k []int) bool { return slices.Equal(k, a.K) }) {
		t.Fatalf("k %v is not among the best %v", a.K, equal)
	}
	counted := func(k []int) int {
		sum := 0
		for j, v := range k {
			if v > 0 && (p.Counted == nil || p.Counted[j]) {
				sum++
			}
		}
		return sum
	}
	support := func(k []int) []int {
		var columns []int
		for j, v := range k {
			if v > 0 {
				columns = append(columns, j)
			}
		}
		return columns
	}
	slices.SortFunc(equal, func(a, b []int) int {
		if by := counted(a) - counted(b); by != 0 {
			return by
		}
		if by := slices.Compare(support(a), support(b)); by != 0 {
			return by
		}
		return slices.Compare(a, b)
	})
	if !slices.Equal(equal[0], a.K) {
		t.Fatalf("of %d equals got %v, want the first: %v", len(equal), a.K, equal[0])
	}
	if !slices.Equal(support(a.K), a.Support) {
		t.Fatalf("support %v of %v", a.Support, a.K)
	}
}

func TestChoiceEqualsEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	found := 0
	for trial := range 2000 {
		p := smallChoice(r)
		a, err := SolveChoice(p, ChoiceOptions{Budget: -1})
		if err != nil {
			t.Fatal(trial, err)
		}
		compareChoice(t, &p, a, nil)
		if a.Found {
			found++
		}
	}
	if found < 1000 {
		t.Errorf("only %d of 2000 problems had a solution", found)
	}
}

// With nothing but the value of the best known the tests of supports are as
// tight as they get, and no quick search hides what they lose.
func TestSweepFindsTheBestWithoutAStart(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	for range 3000 {
		p := smallChoice(r)
		best, equal := p.enumerate(nil)
		o := ChoiceOptions{Budget: -1, Cutoff: best}
		s := newChooser(&p, o, nil, 0)
		first := newChoiceWorker(s)
		a := s.sweep(s.roots(), first)
		if len(equal) == 0 && !a.Proven {
			t.Fatal("not proven")
		}
		compareChoice(t, &p, a, nil)
	}
}

// Twelve columns and up to four of them, with rows enough for the reflections.
func TestLargerChoiceEqualsEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 40 {
		n := 10 + r.IntN(3)
		p := ChoiceProblem{A: NewMatrix(3+r.IntN(8), n), Most: 2 + r.IntN(3)}
		for i := range p.A.Data {
			if r.IntN(2) == 0 {
				p.A.Data[i] = r.Float64()
			}
		}
		for range n {
			p.Upper = append(p.Upper, 1+r.IntN(2))
		}
		for range p.A.Rows {
			p.B = append(p.B, 2*r.Float64())
		}
		a, err := SolveChoice(p, ChoiceOptions{Budget: -1, Workers: 2})
		if err != nil {
			t.Fatal(err)
		}
		compareChoice(t, &p, a, nil)
	}
}

func TestAlternativesKeepTheirDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for range 300 {
		p := smallChoice(r)
		var taken [][]int
		for range 3 {
			apart := 1 + r.IntN(3)
			a, err := Alternatives(p, ChoiceOptions{Budget: -1}, taken, apart)
			if err != nil {
				t.Fatal(err)
			}
			compareChoice(t, &p, a, func(support []int) bool {
				for _, other := range taken {
					different := 0
					for j := range p.A.Cols {
						if slices.Contains(support, j) != slices.Contains(other, j) && (p.Counted == nil || p.Counted[j]) {
							different++
						}
					}
					if different < apart {
						return false
					}
				}
				return true
			})
			taken = append(taken, a.Support)
		}
	}
}

// mixtureChoice draws columns like those of mixtures: a total and up to four
// shares each, some of them alike.
func mixtureChoice(seed uint64, n, most int) ChoiceProblem {
	r := rand.New(rand.NewPCG(17, seed))
	p := ChoiceProblem{A: NewMatrix(7, n), B: []float64{100, 21.67, 6.82, 5, 5, 3.33, 3}, Most: most}
	for j := range n {
		p.A.Set(0, j, 5.0/3)
		switch r.IntN(3) {
		case 0: // a share of the second aim, a little of others
			p.A.Set(1, j, 0.4+float64(r.IntN(5)))
			if r.IntN(2) == 0 {
				p.A.Set(2+r.IntN(2), j, r.Float64())
			}
		case 1:
			p.A.Set(2, j, r.Float64())
			p.A.Set(3, j, r.Float64())
		default:
			for range 4 {
				p.A.Set(1+r.IntN(6), j, r.Float64())
			}
		}
		p.Upper = append(p.Upper, 24)
	}
	return p
}

func TestChoiceDoesNotDependOnTheNumberOfWorkers(t *testing.T) {
	for seed := range uint64(4) {
		for _, budget := range []int{-1, 0, 20_000, 400_000} {
			p := mixtureChoice(seed, 60, 4)
			one, err := SolveChoice(p, ChoiceOptions{Budget: budget, Workers: 1})
			if err != nil {
				t.Fatal(err)
			}
			three, _ := SolveChoice(p, ChoiceOptions{Budget: budget, Workers: 3})
			if !reflect.DeepEqual(one, three) {
				t.Errorf("budget %d: one worker %+v, three %+v", budget, one, three)
			}
		}
	}
}

func TestChoiceBudgetEndsWithAValidBound(t *testing.T) {
	for seed := range uint64(6) {
		p := mixtureChoice(seed, 40, 4)
		whole, err := SolveChoice(p, ChoiceOptions{Budget: -1})
		if err != nil || !whole.Proven {
			t.Fatal(whole, err)
		}
		for _, budget := range []int{0, 1, 1000, 10_000, 50_000, 100_000_000} {
			a, err := SolveChoice(p, ChoiceOptions{Budget: budget})
			if err != nil {
				t.Fatal(err)
			}
			if !a.Found || a.Objective < whole.Objective-1e-9 || a.Bound > whole.Objective+1e-9 || a.Proven && a.Objective > whole.Objective+1e-9 {
				t.Errorf("budget %d: %+v; the best is %.12g", budget, a, whole.Objective)
			}
			if budget <= 1000 && (a.Proven || a.Bound >= a.Objective) {
				t.Errorf("budget %d: proven with bound %g", budget, a.Bound)
			}
			if budget == 100_000_000 && !a.Proven {
				t.Errorf("budget %d: not proven", budget)
			}
		}
	}
}

// Order of columns and units of rows must not matter.
func TestChoiceDoesNotDependOnTheOrderOfColumns(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 20))
	for seed := range uint64(5) {
		p := mixtureChoice(seed, 50, 4)
		a, err := SolveChoice(p, ChoiceOptions{Budget: -1})
		if err != nil {
			t.Fatal(err)
		}
		order := r.Perm(50)
		q := ChoiceProblem{A: NewMatrix(7, 50), B: p.B, Upper: p.Upper, Most: 4}
		for j, from := range order {
			for i := range 7 {
				q.A.Set(i, j, p.A.At(i, from))
			}
		}
		b, _ := SolveChoice(q, ChoiceOptions{Budget: -1})
		if !a.Proven || !b.Proven || !near(a.Objective, b.Objective, 1e-9) {
			t.Errorf("objective %.15g, after permutation %.15g", a.Objective, b.Objective)
		}
	}
}

func TestChoiceCutoffAndIncumbents(t *testing.T) {
	p := mixtureChoice(1, 40, 3)
	a, err := SolveChoice(p, ChoiceOptions{Budget: -1})
	if err != nil {
		t.Fatal(err)
	}
	if b, _ := SolveChoice(p, ChoiceOptions{Budget: -1, Cutoff: a.Objective * 0.999}); b.Found || !b.Proven {
		t.Errorf("below the best: %+v", b)
	}
	if b, _ := SolveChoice(p, ChoiceOptions{Budget: -1, Cutoff: a.Objective * 1.001}); !slices.Equal(a.K, b.K) {
		t.Errorf("with a cutoff: %v, want %v", b.K, a.K)
	}
	if b, _ := SolveChoice(p, ChoiceOptions{Budget: 0, Incumbents: [][]int{make([]int, 40), a.K}}); !slices.Equal(a.K, b.K) {
		t.Errorf("with the best as incumbent: %v, want %v", b.K, a.K)
	}
}

func TestMalformedChoicesAreRefused(t *testing.T) {
	good := func() ChoiceProblem {
		return ChoiceProblem{A: fromRows([][]float64{{1, 2}, {3, 4}}), B: []float64{1, 1}, Upper: []int{2, 2}, Most: 1}
	}
	for name, spoil := range map[string]func(*ChoiceProblem){
		"no matrix":        func(p *ChoiceProblem) { p.A = nil },
		"not a number":     func(p *ChoiceProblem) { p.B[0] = math.NaN() },
		"upper bounds":     func(p *ChoiceProblem) { p.Upper = nil },
		"negative upper":   func(p *ChoiceProblem) { p.Upper[1] = -1 },
		"least":            func(p *ChoiceProblem) { p.Least = []int{1} },
		"counted":          func(p *ChoiceProblem) { p.Counted = []bool{true} },
		"negative most":    func(p *ChoiceProblem) { p.Most = -1 },
		"must":             func(p *ChoiceProblem) { p.Must = []int{2} },
		"group":            func(p *ChoiceProblem) { p.Groups = []ChoiceGroup{{Columns: []int{-1}}} },
		"scale":            func(p *ChoiceProblem) { p.Scale = 1.5 },
		"offset":           func(p *ChoiceProblem) { p.Offset = math.Inf(1) },
		"promise unneeded": func(p *ChoiceProblem) { p.Offset = 1 },
		"rows":             func(p *ChoiceProblem) { p.A, p.B = NewMatrix(11, 2), make([]float64, 11) },
		"uncounted": func(p *ChoiceProblem) {
			p.A, p.Upper, p.Counted = NewMatrix(2, 13), make([]int, 13), make([]bool, 13)
		},
	} {
		p := good()
		spoil(&p)
		if _, err := SolveChoice(p, ChoiceOptions{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := Alternatives(good(), ChoiceOptions{}, [][]int{{5}}, 1); err == nil {
		t.Error("a support outside the columns: no error")
	}
	if _, err := SolveChoice(good(), ChoiceOptions{Cutoff: math.NaN()}); err == nil {
		t.Error("cutoff: no error")
	}
	if _, err := SolveChoice(good(), ChoiceOptions{Incumbents: [][]int{{1}}}); err == nil {
		t.Error("incumbent: no error")
	}
}

// tryBox is a search of the integers of one support by trying them all.
func (p *ChoiceProblem) tryBox(support, least, upper []int, cutoff float64, limit int) (best []int, objective, bound float64, boxes int) {
	objective, bound = math.Inf(1), math.Inf(1)
	k := slices.Clone(least)
	for {
		if boxes++; boxes > limit {
			return best, objective, 0, boxes
		}
		value, ok := p.linear(support, k), true
		if p.Evaluate != nil {
			value, ok = p.Evaluate(support, k)
		}
		for i := range rowCount(p.G) {
			sum := 0.0
			for c, j := range support {
				sum += p.G.At(i, j) * float64(k[c])
			}
			ok = ok && sum <= p.H[i]+1e-9
		}
		if ok && value <= cutoff && value < objective {
			best, objective = slices.Clone(k), value
		}
		c := 0
		for ; c < len(k); c++ {
			if k[c]++; k[c] <= upper[c] {
				break
			}
			k[c] = least[c]
		}
		if c == len(k) {
			return best, objective, bound, boxes
		}
	}
}

// A search of the integers that the caller brings finds the same objective.
func TestDecodedChoiceEqualsEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 4))
	found := 0
	for n := range 1500 {
		p := smallChoice(r)
		want, _ := p.enumerate(nil)
		p.Decode = p.tryBox
		a, err := SolveChoice(p, ChoiceOptions{Budget: -1, Workers: 1 + n%2})
		if err != nil {
			t.Fatal(err)
		}
		if !a.Proven || a.Found == math.IsInf(want, 1) || a.Found && math.Abs(a.Objective-want) > 1e-8*(1+want) {
			t.Fatalf("problem %d: found %v, objective %v, proven %v; enumeration %v", n, a.Found, a.Objective, a.Proven, want)
		}
		if a.Found {
			found++
		}
	}
	if found < 500 {
		t.Errorf("only %d problems had an answer", found)
	}
}
