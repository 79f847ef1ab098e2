package solver

import (
	"math"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// prepModel is drinks as functions of the open pours of the preps in them and of
// their own. x counts steps: first the preps' pours, then those of each drink.
type prepModel struct {
	preps    []*pantry.Prep
	open     []prepPour
	subjects []prepSubject
	// place is where a prep's ingredient stands in preps.
	place map[*pantry.Ingredient]int
	size  int // of x
}

// prepSubject is a drink, or what a prep itself aims at.
type prepSubject struct {
	work    *work // nil for a prep
	prep    int   // where work is nil
	problem *problem
	volume  float64
	first   int // of its open pours in x
	rows    []profile.Property
}

// newPrepModel takes the questions apart.
func newPrepModel(shelf *pantry.Shelf, questions []Question) (*prepModel, error) {
	m := &prepModel{preps: shelf.Preps(), place: map[*pantry.Ingredient]int{}}
	aimed := false
	for n, p := range m.preps {
		m.place[p.Ingredient] = n
		if !p.Open() && len(p.Spec.Target) == 0 {
			continue
		}
		for part, written := range p.Spec.Mix {
			if written.Kind == pantry.Fixed {
				continue
			}
			o, err := newPrepPour(p, n, part)
			if err != nil {
				return nil, pantry.InputErrors{asInputError(p.Spec, written, err)}
			}
			m.open = append(m.open, o)
		}
		aims, limits := aimsAndLimits(p.Spec.Target, 0)
		aimed = aimed || len(aims)+len(limits) > 0
		if p.Open() {
			aims = append(aims, volumeAim(p.Spec.Makes.Volume))
		}
		m.subjects = append(m.subjects, prepSubject{prep: n, problem: newProblem(profile.Ice{}, nil, aims, limits)})
	}
	m.size = len(m.open)
	for _, q := range questions {
		w, err := newOpenWork(q)
		if err != nil {
			return nil, named(q.Spec, err)
		}
		aimed = aimed || len(w.problem.aims)+len(w.problem.limits) > 0
		m.subjects = append(m.subjects, prepSubject{work: w, problem: w.problem, volume: w.volume, first: m.size})
		m.size += len(w.problem.open)
	}
	if !aimed {
		return nil, ErrNoTarget
	}
	return m, nil
}

// states are what one making of each prep comes to, and one ml of it.
func (m *prepModel) states(x []float64) (makings []pantry.Making, perMillilitre []profile.State) {
	makings, perMillilitre = make([]pantry.Making, len(m.preps)), make([]profile.State, len(m.preps))
	for n, p := range m.preps {
		bases, units := p.Bases(), p.Units()
		for part := range p.Parts {
			if below, is := m.place[p.Parts[part].Ingredient]; is {
				units[part] = perMillilitre[below]
			}
		}
		for j := range m.open {
			if m.open[j].prep == n {
				bases[m.open[j].part] = x[j] * m.open[j].step
			}
		}
		// A step that cannot be done with such amounts is passed over here, and
		// refused of the amounts that are chosen.
		makings[n], _ = p.Make(bases, units)
		perMillilitre[n] = p.PerMillilitre(&makings[n])
	}
	return makings, perMillilitre
}

// at is the problem of a subject once the preps are made, and its own part of x.
func (m *prepModel) at(s *prepSubject, x []float64, makings []pantry.Making, perMillilitre []profile.State) (*problem, []float64) {
	if s.work == nil {
		p := *s.problem
		p.mix = makings[s.prep].State()
		return &p, nil
	}
	pours := make([]pour, len(s.work.pours))
	for i, one := range s.work.pours {
		if n, is := m.place[one.ingredient]; is {
			one.unit = perMillilitre[n]
			one.setTemperature()
		}
		pours[i] = one
	}
	p := newProblem(s.problem.ice, pours, s.problem.aims, s.problem.limits)
	p.ratios = s.problem.ratios
	return p, x[s.first : s.first+len(s.problem.open)]
}

// slopeStep is what numeric slopes go to each side, in steps of a pour.
const slopeStep = 1e-3

// Values implements leastsquares.NonlinearModel.
func (m *prepModel) Values(x, value []float64, jacobian *leastsquares.Matrix) {
	m.valuesAt(x, value)
	if jacobian == nil {
		return
	}
	there := append([]float64(nil), x...)
	up, down := make([]float64, len(value)), make([]float64, len(value))
	for j := range x {
		there[j] = x[j] + slopeStep
		m.valuesAt(there, up)
		low := max(0, x[j]-slopeStep)
		there[j] = low
		m.valuesAt(there, down)
		there[j] = x[j]
		for i := range value {
			jacobian.Set(i, j, (up[i]-down[i])/(x[j]+slopeStep-low))
		}
	}
}

func (m *prepModel) valuesAt(x, value []float64) {
	makings, perMillilitre := m.states(x)
	i := 0
	for n := range m.subjects {
		s := &m.subjects[n]
		p, own := m.at(s, x, makings, perMillilitre)
		var v profile.Values
		d := p.drink(own)
		d.Evaluate(p.wanted, &v, nil, nil)
		for _, property := range s.rows {
			value[i] = v[property]
			i++
		}
	}
}

// problem writes all subjects as one problem in real amounts.
func (m *prepModel) problem() leastsquares.NonlinearProblem {
	q := leastsquares.NonlinearProblem{Model: m, Lower: make([]float64, m.size), Upper: make([]float64, m.size)}
	for j := range m.open {
		q.Lower[j], q.Upper[j] = m.open[j].low, m.open[j].high
	}
	var rows, h []float64
	for n := range m.subjects {
		s := &m.subjects[n]
		one, c := s.problem.nonlinear()
		s.rows = c.row
		q.Low, q.High = append(q.Low, one.Low...), append(q.High, one.High...)
		q.Scale, q.Weight = append(q.Scale, one.Scale...), append(q.Weight, one.Weight...)
		q.LimitLow, q.LimitHigh = append(q.LimitLow, one.LimitLow...), append(q.LimitHigh, one.LimitHigh...)
		q.LimitScale = append(q.LimitScale, one.LimitScale...)
		copy(q.Lower[s.first:], one.Lower)
		copy(q.Upper[s.first:], one.Upper)
		if one.G == nil {
			continue
		}
		for i := range one.H {
			row := make([]float64, m.size)
			copy(row[s.first:], one.G.Data[i*one.G.Cols:(i+1)*one.G.Cols])
			rows = append(rows, row...)
		}
		h = append(h, one.H...)
	}
	if len(h) > 0 {
		q.G, q.H = &leastsquares.Matrix{Rows: len(h), Cols: m.size, Data: rows}, h
	}
	return q
}

// starts are points to begin from: each prep as guessed, and with a third of it.
func (m *prepModel) starts() [][]float64 {
	full, lean := make([]float64, m.size), make([]float64, m.size)
	for j := range m.open {
		o := &m.open[j]
		guess := m.preps[o.prep].Parts[o.part].Base / o.step
		full[j] = min(max(guess, o.low), o.high)
		lean[j] = min(max(guess/3, o.low), o.high)
	}
	for n := range m.subjects {
		if s := &m.subjects[n]; s.work != nil {
			begin := s.problem.starts(s.volume)
			copy(full[s.first:], begin[0])
			copy(lean[s.first:], begin[1])
		}
	}
	return [][]float64{full, lean}
}

// solve finds the least sum of F in real amounts.
func (m *prepModel) solve() (leastsquares.NonlinearSolution, error) {
	q := m.problem()
	var best leastsquares.NonlinearSolution
	for i, start := range m.starts() {
		q.Start = start
		s, err := leastsquares.SolveNonlinear(q)
		if err != nil {
			return s, err
		}
		if i == 0 || better(&s, &best) {
			best = s
		}
	}
	return best, nil
}

// worth is how good preps on the scale are: how far limits are broken, then the
// sum of F. Open pours of the drinks are found anew, from where they were.
func (m *prepModel) worth(x []float64) (violation, objective float64) {
	makings, perMillilitre := m.states(x)
	for n := range m.subjects {
		s := &m.subjects[n]
		p, own := m.at(s, x, makings, perMillilitre)
		if len(own) > 0 {
			if found, err := p.continuous([][]float64{own}); err == nil {
				copy(own, found.X)
			}
		}
		var v profile.Values
		d := p.drink(own)
		d.Evaluate(p.wanted, &v, nil, nil)
		violation += p.violation(own, &v)
		objective += p.objective(&v)
	}
	return violation, objective
}

// ownObjective is what the preps miss of their own aims.
func (m *prepModel) ownObjective(x []float64) float64 {
	makings, perMillilitre := m.states(x)
	sum := 0.0
	for n := range m.subjects {
		if s := &m.subjects[n]; s.work == nil {
			p, _ := m.at(s, x, makings, perMillilitre)
			var v profile.Values
			d := p.drink(nil)
			d.Evaluate(p.wanted, &v, nil, nil)
			sum += p.objective(&v)
		}
	}
	return sum
}

// The search on the scale: how far one pour moves alone, and the most rounds.
const (
	farthestMove = 3
	mostRounds   = 100
)

// onScale returns whole steps near x: rounded, then moved one pour by up to three
// steps, or two pours by one each, to the best neighbour until none is better.
func (m *prepModel) onScale(x []float64) []float64 {
	k := append([]float64(nil), x...)
	for j := range m.open {
		k[j] = min(max(math.Round(k[j]), m.open[j].low), m.open[j].high)
	}
	violation, objective := m.worth(k)
	for range mostRounds {
		best, moved := k, false
		try := func(moves ...[2]int) {
			there := append([]float64(nil), k...)
			for _, move := range moves {
				j := move[0]
				there[j] += float64(move[1])
				if there[j] < m.open[j].low || there[j] > m.open[j].high {
					return
				}
			}
			v, f := m.worth(there)
			if v < violation-tolerated || v <= violation+tolerated && f < objective-1e-9*(1+objective) {
				violation, objective, best, moved = v, f, there, true
			}
		}
		for i := range m.open {
			for by := 1; by <= farthestMove; by++ {
				try([2]int{i, by})
				try([2]int{i, -by})
			}
			for j := range i {
				for _, signs := range [][2]int{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
					try([2]int{i, signs[0]}, [2]int{j, signs[1]})
				}
			}
		}
		if !moved {
			break
		}
		k = best
	}
	return k
}
