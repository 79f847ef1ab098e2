package leastsquares

import "math"

// iteration is the state of one Gauss-Newton search. It minimises the merit
// function
//
//	F(x) + penalty sum_i (broken limit i / LimitScale_i)
//
// by steps within |d_j| ||J_j|| <= radius, J_j column j of the weighted
// Jacobian, and accepts those that lower it by a fair share of what the
// linear model of the values promised. A step that fails because the limits
// curve is tried once more with the limits corrected (second-order correction).
//
// Sources: R. Fletcher, Practical Methods of Optimization (1987), chapters 6,
// 12 and 14; J. J. Moré, The Levenberg-Marquardt algorithm (1978) for the
// scaling of the trust region; from memory.
type iteration struct {
	problem *NonlinearProblem

	x, value  []float64
	jacobian  *Matrix
	objective float64
	penalty   float64
	radius    float64
	columns   []float64 // largest ||J_j|| so far

	step       linearised
	curved     bool // second derivatives are in the model
	kkt        float64
	iterations int
	converged  bool
	gained     bool // the last step at least halved F

	trial, trialValue []float64
	trialJacobian     *Matrix
	spare             []float64 // one number a value
}

// acceptedStep is the largest step, relative to x, that an Optimal answer may
// still ask for.
const acceptedStep = 1e-6

// firstRadius is the first trust region relative to the size of x.
const firstRadius = 0.1

// iterationLimit is the largest number of steps of one search.
const iterationLimit = 500

func newIteration(p *NonlinearProblem, start []float64, space *Workspace) *iteration {
	n, m := len(start), len(p.Low)
	it := &iteration{
		problem: p, x: append([]float64(nil), start...),
		value: make([]float64, m), jacobian: NewMatrix(m, n), columns: make([]float64, n),
		trial: make([]float64, n), trialValue: make([]float64, m), trialJacobian: NewMatrix(m, n),
		spare: make([]float64, m), kkt: math.Inf(1),
	}
	it.step.workspace = space
	p.Model.Values(it.x, it.value, it.jacobian)
	it.objective = p.objective(it.value)
	return it
}

// distance is value minus the nearest point of [low, high].
func distance(value, low, high float64) float64 {
	if value < low {
		return value - low
	}
	if value > high {
		return value - high
	}
	if math.IsNaN(value) {
		return value
	}
	return 0
}

// objective is F at the given values.
func (p *NonlinearProblem) objective(value []float64) float64 {
	sum := 0.0
	for i, w := range p.Weight {
		if w > 0 {
			r := distance(value[i], p.Low[i], p.High[i]) / p.Scale[i]
			sum += w * r * r
		}
	}
	return sum
}

// broken is the sum of the broken limits, each in its scale.
func (p *NonlinearProblem) broken(value []float64) float64 {
	sum := 0.0
	for i, v := range value {
		if !math.IsInf(p.LimitLow[i], 0) || !math.IsInf(p.LimitHigh[i], 0) {
			sum += math.Abs(distance(v, p.LimitLow[i], p.LimitHigh[i])) / p.LimitScale[i]
		}
	}
	return sum
}

// run iterates until the optimality conditions hold or nothing more is gained.
func (it *iteration) run() {
	p := it.problem
	if !isFinite(it.objective) || finite("", it.jacobian.Data) != nil {
		return
	}
	it.measureColumns()
	it.radius = firstRadius * it.scaledSize()
	if it.radius == 0 {
		it.radius = 1
	}
	slow, idle, level := 0, 0, 0
	least := math.Inf(1)
	for range iterationLimit {
		it.iterations++
		it.step.build(it, nil)
		it.step.solve(it)
		before := it.kkt
		it.kkt = it.step.residual(it)
		if it.kkt <= convergedKKT && it.step.relativeSize(it) <= 1e-10 || it.kkt == 0 {
			it.converged = true
			return
		}
		if it.kkt < least/2 {
			least, level = it.kkt, 0
		} else if level++; it.kkt <= acceptedNonlinearKKT && level > 8 && it.step.relativeSize(it) <= 1e-9 {
			// Rounding keeps it from falling further.
			break
		}
		// A step that brought most of F down was slow by the trust region alone.
		if it.kkt > 0.3*before && !it.gained {
			slow++
		} else {
			slow = 0
		}
		if slow >= 3 {
			it.curved = true
		}
		for i, mu := range it.step.limitMultiplier {
			it.penalty = max(it.penalty, 2*math.Abs(mu)*p.LimitScale[i])
		}
		if it.advance() {
			idle = 0
		} else if idle++; idle > 60 || it.radius < 1e-14*it.scaledSize() {
			break
		}
	}
	it.converged = it.kkt <= acceptedNonlinearKKT && it.step.relativeSize(it) <= acceptedStep
}

// measureColumns updates the scale of the trust region.
func (it *iteration) measureColumns() {
	p := it.problem
	for j := range it.columns {
		sum := 0.0
		for i, w := range p.Weight {
			if w > 0 {
				v := it.jacobian.At(i, j) / p.Scale[i]
				sum += w * v * v
			}
		}
		it.columns[j] = max(it.columns[j], math.Sqrt(sum))
	}
}

// scaledSize is the norm of x in the units of the radius.
func (it *iteration) scaledSize() float64 {
	sum := 0.0
	for j, x := range it.x {
		sum += (x * it.columns[j]) * (x * it.columns[j])
	}
	return math.Sqrt(sum)
}

// advance tries the step at hand and reports whether it was taken.
func (it *iteration) advance() bool {
	p := it.problem
	merit := it.objective + it.penalty*p.broken(it.value)
	promised := merit - it.step.predicted(it)
	ratio := it.try(merit, promised)
	if ratio < 0.1 && p.broken(it.trialValue) > p.broken(it.value) {
		// The limits curved away: aim at them from where the step ended.
		first := it.step.d
		correction := it.spare
		for i := range correction {
			correction[i] = it.trialValue[i] - it.value[i] - dot(it.jacobian.Row(i), first)
		}
		if finite("", correction) == nil {
			it.step.build(it, correction)
			it.step.solve(it)
			ratio = it.try(merit, promised)
		}
	}
	size := it.step.scaledSize(it)
	switch {
	case !(ratio >= 0.1):
		it.radius = min(it.radius/4, size/2)
	case ratio > 0.75 && size > 0.9*it.radius:
		it.radius *= 2
	}
	it.gained = false
	if !(ratio >= 1e-4) {
		return false
	}
	it.x, it.trial = it.trial, it.x
	it.value, it.trialValue = it.trialValue, it.value
	it.jacobian, it.trialJacobian = it.trialJacobian, it.jacobian
	before := it.objective
	it.objective = p.objective(it.value)
	it.gained = it.objective <= before/2
	it.measureColumns()
	return true
}

// try evaluates the end of the step and returns the gain in merit as a share
// of the promise; negative when the values there are not numbers.
func (it *iteration) try(merit, promised float64) float64 {
	p := it.problem
	if it.step.answer.Status != Optimal {
		return -1
	}
	copy(it.trial, it.step.answer.X)
	// Most steps are taken, and slopes cost little more than values.
	p.Model.Values(it.trial, it.trialValue, it.trialJacobian)
	reached := p.objective(it.trialValue) + it.penalty*p.broken(it.trialValue)
	if !isFinite(reached) {
		return -1
	}
	// Below the rounding of the merit the comparison says nothing, and the
	// step, which is tiny, is taken.
	if rounding := 1e-13 * math.Abs(merit); promised <= rounding && reached-merit <= rounding {
		return 1
	}
	return (merit - reached) / promised
}

// solution reports the state with the multipliers of the last step.
func (it *iteration) solution() NonlinearSolution {
	p, n, m := it.problem, len(it.x), len(it.value)
	s := NonlinearSolution{
		Status: Stopped, X: it.x, Value: it.value, Objective: it.objective,
		Violation: p.violation(it.value), KKT: it.kkt, Iterations: it.iterations,
		LimitMultiplier: make([]float64, m),
		LowerMultiplier: make([]float64, n), UpperMultiplier: make([]float64, n),
		InequalityMultiplier: make([]float64, rowCount(p.G)), EqualityMultiplier: make([]float64, rowCount(p.E)),
	}
	if it.converged && s.Violation <= metLimit {
		s.Status = Optimal
	}
	if it.step.limitMultiplier != nil {
		copy(s.LimitMultiplier, it.step.limitMultiplier)
		copy(s.LowerMultiplier, it.step.lowerMultiplier)
		copy(s.UpperMultiplier, it.step.upperMultiplier)
		copy(s.EqualityMultiplier, it.step.answer.EqualityMultiplier)
		copy(s.InequalityMultiplier, it.step.answer.InequalityMultiplier)
	}
	return s
}
