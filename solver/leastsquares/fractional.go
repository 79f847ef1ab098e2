package leastsquares

import (
	"errors"
	"fmt"
	"math"
)

// FractionalProblem asks for the x that minimises
//
//	(C.x + C0) / (D.x + D0)
//
// subject to Lower <= x <= Upper, E x = F, G x <= H, as in LinearProblem. The
// denominator has to be positive at every feasible x.
type FractionalProblem struct {
	C            []float64
	C0           float64
	D            []float64
	D0           float64
	E            *Matrix
	F            []float64
	G            *Matrix
	H            []float64
	Lower, Upper []float64
}

// ErrDenominator is returned when the denominator of a FractionalProblem is
// not positive at some feasible point, or not beyond rounding.
var ErrDenominator = errors.New("leastsquares: the denominator of the ratio is not positive everywhere")

// FractionalSolution is the answer to a FractionalProblem.
type FractionalSolution struct {
	Status Status
	// X has the ratio Value, unless Ray is set.
	X     []float64
	Value float64
	// Bound is a lower bound on the ratio over all feasible x, computed from
	// the multipliers of Certificate and LeastDenominator: equal to Value but
	// for rounding when the status is Optimal. Of a greatest ratio it is an
	// upper bound.
	Bound float64
	// Ray, when not nil, is a direction along which the ratio tends to Value,
	// which no x of its own then has; or to minus infinity, when the status is
	// Unbounded. X is then some feasible point.
	Ray []float64
	// LeastDenominator is the least D.x + D0, above 0.
	LeastDenominator float64
	// Certificate solves min (C - Value D).x: its minimum is Value D0 - C0, so
	// that C.x + C0 >= Value (D.x + D0) everywhere. Its multipliers are those
	// of the proof. When the status is Infeasible it carries the Conflict.
	Certificate LinearSolution
	// Rounds counts the linear programs solved after the first.
	Rounds int
}

// SolveFractional minimises a ratio of two linear functions by Dinkelbach's
// method: with v the ratio at x, the x that minimises (C.x + C0) - v (D.x + D0)
// has a smaller ratio, or v is the least. It ends after a few rounds.
//
// An error means malformed input, or ErrDenominator.
//
// Source: W. Dinkelbach, On nonlinear fractional programming (1967), from
// memory.
func SolveFractional(p FractionalProblem) (FractionalSolution, error) {
	if len(p.D) != len(p.C) {
		return FractionalSolution{}, fmt.Errorf("leastsquares: a denominator of %d numbers; expected %d as in the numerator", len(p.D), len(p.C))
	}
	if err := finite("ratio", append([]float64{p.C0, p.D0}, p.C...)); err != nil {
		return FractionalSolution{}, err
	}
	linear := LinearProblem{C: p.D, E: p.E, F: p.F, G: p.G, H: p.H, Lower: p.Lower, Upper: p.Upper}
	least, err := SolveLinear(linear)
	if err != nil {
		return FractionalSolution{}, err
	}
	s := FractionalSolution{Status: least.Status, X: least.X, Value: math.Inf(1), Bound: math.Inf(-1), Certificate: least}
	switch least.Status {
	case Unbounded:
		return s, ErrDenominator
	case Optimal:
	default:
		return s, nil
	}
	s.LeastDenominator = least.Objective + p.D0
	if !(s.LeastDenominator > 1e-12*(sizeOf(p.D, least.X)+math.Abs(p.D0))) {
		return s, ErrDenominator
	}
	s.Value = p.at(least.X)
	linear.C = make([]float64, len(p.C))
	for range mostRounds {
		s.Rounds++
		for j, c := range p.C {
			linear.C[j] = c - s.Value*p.D[j]
		}
		if s.Certificate, err = SolveLinear(linear); err != nil {
			return s, err
		}
		s.Status = s.Certificate.Status
		switch s.Status {
		case Unbounded:
			ray := s.Certificate.Ray
			along := dot(p.D, ray)
			if !(along > 1e-12*sizeOf(p.D, ray)) {
				// The numerator falls while the denominator stays.
				s.Ray, s.Value = ray, math.Inf(-1)
				return s, nil
			}
			value := dot(p.C, ray) / along
			if !(value < s.Value) {
				s.Status = Stopped
				return s, nil
			}
			s.Ray, s.Value = ray, value
		case Optimal:
			value := p.at(s.Certificate.X)
			if p.gap(&s) >= 0 || !(value < s.Value) {
				return p.finish(s, linear), nil
			}
			s.X, s.Value, s.Ray = s.Certificate.X, value, nil
		default:
			return s, nil
		}
	}
	s.Status = Stopped
	return s, nil
}

// mostRounds guards against numbers that fall by rounding alone.
const mostRounds = 100

// at returns the ratio at x.
func (p *FractionalProblem) at(x []float64) float64 {
	return (dot(p.C, x) + p.C0) / (dot(p.D, x) + p.D0)
}

// gap returns the least of (C.x + C0) - Value (D.x + D0) that the certificate
// found, 0 when that is rounding.
func (p *FractionalProblem) gap(s *FractionalSolution) float64 {
	x := s.Certificate.X
	sum := dot(p.C, x) + p.C0 - s.Value*(dot(p.D, x)+p.D0)
	size := sizeOf(p.C, x) + math.Abs(p.C0) + math.Abs(s.Value)*(sizeOf(p.D, x)+math.Abs(p.D0))
	if math.Abs(sum) <= 1e-14*size {
		return 0
	}
	return sum
}

// finish computes the bound: where C.x + C0 - v (D.x + D0) >= f with f <= 0,
// the ratio is at least v + f / LeastDenominator.
func (p *FractionalProblem) finish(s FractionalSolution, linear LinearProblem) FractionalSolution {
	f := linear.DualBound(s.Certificate.InequalityMultiplier, s.Certificate.EqualityMultiplier) + p.C0 - s.Value*p.D0
	s.Bound = s.Value + min(f, 0)/s.LeastDenominator
	if !(s.Value-s.Bound <= 1e-9*(1+math.Abs(s.Value))) {
		s.Status = Stopped
	}
	return s
}

// FractionalExtremes returns the least and the greatest ratio of p. Of the
// greatest, Certificate is that of the least with C and C0 negated; Value and
// Bound have their own sign, plus infinity when it is Unbounded.
func FractionalExtremes(p FractionalProblem) (least, greatest FractionalSolution, err error) {
	if least, err = SolveFractional(p); err != nil {
		return least, greatest, err
	}
	q := p
	q.C0 = -p.C0
	q.C = make([]float64, len(p.C))
	for j, c := range p.C {
		q.C[j] = -c
	}
	greatest, err = SolveFractional(q)
	greatest.Value, greatest.Bound = -greatest.Value+0, -greatest.Bound+0
	return least, greatest, err
}

// sizeOf is the sum of |a_j x_j|.
func sizeOf(a, x []float64) float64 {
	sum := 0.0
	for j, v := range a {
		sum += math.Abs(v * x[j])
	}
	return sum
}
