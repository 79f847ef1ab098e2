package leastsquares

import (
	"fmt"
	"math"
)

// ConstraintKind tells the four kinds of constraints apart.
type ConstraintKind int

const (
	// Equality is a row of E.
	Equality ConstraintKind = iota
	// Inequality is a row of G.
	Inequality
	// LowerBound is the lower bound of a variable.
	LowerBound
	// UpperBound is the upper bound of a variable.
	UpperBound
)

// String returns the kind in words.
func (k ConstraintKind) String() string {
	switch k {
	case Equality:
		return "equality"
	case Inequality:
		return "inequality"
	case LowerBound:
		return "lower bound"
	case UpperBound:
		return "upper bound"
	}
	return fmt.Sprintf("ConstraintKind(%d)", int(k))
}

// Constraint names one row or bound; Index counts from 0.
type Constraint struct {
	Kind  ConstraintKind
	Index int
}

// Conflict proves that no x meets the constraints of a Problem, by Farkas's
// lemma: with y = Equality, mu = Inequality, zl = Lower, zu = Upper, all but y
// non-negative,
//
//	E^T y + G^T mu - zl + zu = 0   and
//	y.F + mu.H - zl.Lower + zu.Upper = -1,
//
// while any feasible x would make the second at least 0.
type Conflict struct {
	// Set is irreducible: the constraints in it cannot be met together, and
	// without any one of them they can.
	Set []Constraint
	// The multipliers are zero outside Set.
	Equality, Inequality, Lower, Upper []float64
}

// farkasGap returns min of y.(E x) + mu.(G x) over the bounds minus
// y.F + mu.H, which is positive only if nothing is feasible, and how much of
// it may be rounding. y is given for the rows of E, then G. Where a bound is
// infinite, coefficients that cancel to rounding count as zero.
func (p *Problem) farkasGap(y []float64) (gap, margin float64) {
	terms := 0.0
	for i, v := range y {
		_, right := p.constraint(i)
		gap -= v * right
		terms += math.Abs(v * right)
	}
	for j := range p.A.Cols {
		c, size := p.farkasColumn(y, j)
		term := min(boundTerm(c, p.lower(j)), boundTerm(c, p.upper(j)))
		if math.IsInf(term, 0) && math.Abs(c) <= farkasRoundoff*size {
			term = 0
		}
		gap += term
		terms += math.Abs(term)
	}
	if math.IsNaN(gap) || math.IsInf(gap, 0) {
		return math.Inf(-1), 0
	}
	return gap, farkasRoundoff * terms
}

// farkasRoundoff is the share of the size of its terms below which a sum in a
// certificate of infeasibility is taken for rounding.
const farkasRoundoff = 1e-12

// boundTerm is c*bound with 0*Inf = 0.
func boundTerm(c, bound float64) float64 {
	if c == 0 {
		return 0
	}
	return c * bound
}

// farkasColumn returns (E^T y + G^T mu)_j and the size that its rounding is
// relative to: with rows scaled to a maximum of 1, the largest multiplier times
// the largest coefficient.
func (p *Problem) farkasColumn(y []float64, j int) (sum, size float64) {
	multiplier, coefficient := 0.0, 0.0
	for i, v := range y {
		if v == 0 {
			continue
		}
		row, _ := p.constraint(i)
		sum += v * row[j]
		if largest := largestOf(row); largest > 0 {
			multiplier = max(multiplier, math.Abs(v)*largest)
			coefficient = max(coefficient, math.Abs(row[j])/largest)
		}
	}
	return sum, multiplier * coefficient
}

// explain returns the conflict of an infeasible problem, or nil when the
// proof does not stand up to rounding.
//
// The rows and bounds with a multiplier in the proof conflict; the deletion
// filter then leaves out one at a time, bounds first, and keeps it out while
// the others still conflict (J. W. Chinneck and E. W. Dravnieks, Locating
// minimal infeasible constraint sets in linear programs, 1991; from memory).
func (p *Problem) explain(w *Workspace) *Conflict {
	n, mE := p.A.Cols, rowCount(p.E)
	for j := range n {
		if l, u := p.lower(j), p.upper(j); l > u {
			c := p.newConflict()
			c.Set = []Constraint{{LowerBound, j}, {UpperBound, j}}
			c.Lower[j], c.Upper[j] = 1/(l-u), 1/(l-u)
			return c
		}
	}
	y := append([]float64(nil), w.farkas...)
	members := p.support(y)
	for k := len(members) - 1; k >= 0; k-- {
		rest := append(append([]Constraint(nil), members[:k]...), members[k+1:]...)
		if shorter := p.conflicts(w, rest); shorter != nil {
			// The new proof may need still fewer. What was found necessary, the
			// part after k, is in every proof and keeps its order.
			necessary := len(members) - 1 - k
			y = shorter
			members = p.support(y)
			k = len(members) - necessary
		}
	}
	c := p.newConflict()
	c.Set = members
	gap, margin := p.farkasGap(y)
	if gap <= margin {
		return nil
	}
	for i, v := range y {
		if i < mE {
			c.Equality[i] = v / gap
		} else {
			c.Inequality[i-mE] = v / gap
		}
	}
	for _, member := range members {
		if member.Kind == LowerBound || member.Kind == UpperBound {
			sum, _ := p.farkasColumn(y, member.Index)
			c.Lower[member.Index] = max(sum, 0) / gap
			c.Upper[member.Index] = max(-sum, 0) / gap
		}
	}
	return c
}

func (p *Problem) newConflict() *Conflict {
	return &Conflict{
		Equality: make([]float64, rowCount(p.E)), Inequality: make([]float64, rowCount(p.G)),
		Lower: make([]float64, p.A.Cols), Upper: make([]float64, p.A.Cols),
	}
}

// support lists the constraints that have a multiplier in the proof y: rows
// of E, rows of G, bounds.
func (p *Problem) support(y []float64) []Constraint {
	var members []Constraint
	mE := rowCount(p.E)
	for i, v := range y {
		if v == 0 {
			continue
		}
		if i < mE {
			members = append(members, Constraint{Equality, i})
		} else {
			members = append(members, Constraint{Inequality, i - mE})
		}
	}
	for j := range p.A.Cols {
		if sum, size := p.farkasColumn(y, j); sum > farkasRoundoff*size {
			members = append(members, Constraint{LowerBound, j})
		} else if sum < -farkasRoundoff*size {
			members = append(members, Constraint{UpperBound, j})
		}
	}
	return members
}

// conflicts returns a proof, in p's rows, that the given constraints cannot be
// met together, or nil when they can.
func (p *Problem) conflicts(w *Workspace, set []Constraint) []float64 {
	n, mE := p.A.Cols, rowCount(p.E)
	part := Problem{A: NewMatrix(0, n), E: NewMatrix(0, n), G: NewMatrix(0, n)}
	part.Lower, part.Upper = make([]float64, n), make([]float64, n)
	for j := range n {
		part.Lower[j], part.Upper[j] = math.Inf(-1), math.Inf(1)
	}
	var equalities, inequalities []int
	for _, c := range set {
		switch c.Kind {
		case Equality:
			part.E.Data = append(part.E.Data, p.E.Row(c.Index)...)
			part.E.Rows++
			part.F = append(part.F, p.F[c.Index])
			equalities = append(equalities, c.Index)
		case Inequality:
			part.G.Data = append(part.G.Data, p.G.Row(c.Index)...)
			part.G.Rows++
			part.H = append(part.H, p.H[c.Index])
			inequalities = append(inequalities, mE+c.Index)
		case LowerBound:
			part.Lower[c.Index] = p.Lower[c.Index]
		case UpperBound:
			part.Upper[c.Index] = p.Upper[c.Index]
		}
	}
	var s Solution
	nearest := w.nearest
	w.nearest = false
	w.Solve(&part, &s)
	w.nearest = nearest
	if s.Status != Infeasible {
		return nil
	}
	y := make([]float64, mE+rowCount(p.G))
	for k, i := range append(equalities, inequalities...) {
		y[i] = w.farkas[k]
	}
	return y
}
