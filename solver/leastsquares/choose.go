package leastsquares

import (
	"fmt"
	"math"
)

// ChoiceProblem asks for whole steps k of few columns of A: it minimises
//
//	||A k - B||^2
//
// over integer vectors k in which each k_j is 0 or from Least_j to Upper_j, at
// most Most of the columns that Counted marks are nonzero, all Must columns
// are nonzero, every group has its say and G k <= H. The support of k is the
// set of its nonzero columns.
//
// What is minimised may differ from the linear objective: see Evaluate.
type ChoiceProblem struct {
	// A has a row for each aim, at most 10, and a column for each choice, at
	// most 300: what one step of it adds. B holds the aims, less whatever is
	// fixed. No number of A or G times Upper, nor any of B or H, may exceed
	// 1e100.
	A *Matrix
	B []float64
	// Least[j] is the smallest k_j other than 0; nil, and values below 1,
	// mean 1. Upper[j] is the largest, at most 1e9; a column whose Upper is
	// below its Least is never chosen.
	Least, Upper []int
	// Counted marks the columns that count towards Most; nil means all. At
	// most 12 of the others may be free to come or go: every subset of those
	// is searched for itself.
	Counted []bool
	Most    int
	// Must lists columns that have to be nonzero.
	Must []int
	// Groups restrict which columns go together; at most 48.
	Groups []ChoiceGroup
	// G k <= H are tested to 1e-9 of the size of their terms; nil G means no
	// such rows.
	G *Matrix
	H []float64
	// Evaluate returns the true objective of a candidate, which must not be
	// negative, and whether it is allowed at all. support is ascending and k
	// holds the steps of its columns, none of them 0; both may only be read,
	// and only during the call. It must depend on nothing else and be safe to
	// call from several goroutines. Nil means the linear objective.
	//
	// It promises objective >= Scale ||A k - B||^2 - Offset for all that it
	// allows. Proofs rest on that. Scale is above 0 and at most 1, where 0
	// stands for 1; Offset is not negative. Without Evaluate they must be 0
	// or 1, and 0.
	Evaluate      func(support, k []int) (objective float64, ok bool)
	Scale, Offset float64
	// Decode, if not nil, searches the integers of one support where the linear
	// bounds leave any: each k from least to upper, which hold every candidate of
	// interest. It returns the best with an objective of at most cutoff, k nil
	// where there is none, a bound that none of them falls below (+Inf where it
	// is proven that none is within the cutoff), and how many boxes it looked at,
	// at most limit. The same rules as for Evaluate hold.
	Decode func(support, least, upper []int, cutoff float64, limit int) (k []int, objective, bound float64, boxes int)
}

// ChoiceGroup is a set of columns of which at most one may be nonzero or,
// when Exactly is set, exactly one has to be.
type ChoiceGroup struct {
	Columns []int
	Exactly bool
}

// ChoiceOptions steers SolveChoice.
type ChoiceOptions struct {
	// Budget limits the work of the search, counted in pairs of columns, of
	// about 4 ns each; trying integers on a support counts as 1000 of them at
	// least. Negative: no limit. At 0 the best of a quick search is returned,
	// with a bound. That search comes first in any case and is not counted.
	Budget int
	// QuickBudget limits the neighbours that the quick search looks at in the same
	// way; 0: no limit.
	QuickBudget int
	// Workers is the number of goroutines; below 1 means 1. It changes no
	// number of the answer.
	Workers int
	// Cutoff: only objectives up to it are of interest. +Inf and 0: all.
	Cutoff float64
	// Incumbents are vectors k to try first; those that are not allowed are
	// ignored.
	Incumbents [][]int
}

// ChoiceAnswer is what SolveChoice found.
type ChoiceAnswer struct {
	// K has a number for each column; Support lists those that are not 0.
	K, Support []int
	// Objective is the true one of K, Bound a lower bound on that of any
	// candidate. Where nothing was found Objective is +Inf.
	Objective, Bound float64
	// Proven: no candidate has a smaller objective, and of those within 1e-9
	// of 1 + objective K is the first: fewest counted columns, then supports
	// in lexicographic order, then steps. When Found is false it means that
	// nothing is allowed within Cutoff.
	Found, Proven bool
	// Nodes counts sets of columns that were extended, Pairs the pairs tried
	// on them, Decoded the supports whose integers were searched.
	Nodes, Pairs, Decoded int
	// Work is all that was done, the quick search included, in the unit of
	// ChoiceOptions.Budget.
	Work int
}

const (
	mostChoiceRows     = 10
	largestChoice      = 1e100 // squares of it must not overflow
	mostChoiceColumns  = 300
	mostChoiceGroups   = 48
	mostUncounted      = 12
	mostChoiceSteps    = 1_000_000_000
	decodeWork         = 1000
	nonDefaultEvaluate = "without Evaluate the objective is the linear one: Scale must be 0 or 1 and Offset 0"
)

// SolveChoice minimises p by enumerating supports with cuts that make each
// cheap, and proves the answer:
//
//  1. columns are chosen depth first, each by one Householder reflection of
//     the columns that remain, which leaves a row less;
//  2. the last two are taken in closed form: with r the reduced target, u_p
//     and u_q the reduced columns over their norms, h = u.r and g = u_p.u_q,
//     the least residual is ||r||^2 - h_p^2 - (h_q - g h_p)^2 / (1 - g^2);
//  3. a coefficient whose real optimum is e away from the nearest integer
//     allowed adds at least e^2 over its diagonal element of (A^T A)^-1;
//  4. amounts are not negative, so that an aim with B_i^2 above the limit needs
//     a column whose element has the sign of B_i;
//  5. the integers of the supports that are left come from Decode or, without
//     one, from a triangle search, where columns depend on each other from
//     SolveGrid.
//
// The limit is (U + Offset) / Scale with U the objective of the best candidate
// known. Supports are given up only when they exceed it by more than 1e-9 of
// 1 + U and what rounding can do, so that equals are found whatever the
// order; goroutines share what they found at fixed points of the search only.
// So the same problem gives the same answer for any number of workers.
//
// Time grows like C(N, Most); with 7 rows it is far below a second at N = 130
// and Most = 5. An error means malformed input.
//
// Sources: U. Fincke and M. Pohst, Improved methods for calculating vectors of
// short length in a lattice (1985), for the triangle search; C. L. Lawson and
// R. J. Hanson, Solving Least Squares Problems (1974), for the reflections;
// both from memory. The tests of pairs are derived above.
func SolveChoice(p ChoiceProblem, o ChoiceOptions) (ChoiceAnswer, error) {
	return solveChoice(p, o, nil, 0)
}

// Alternatives solves p among the supports that differ from each of taken by
// at least apart columns: |S \ T| + |T \ S| >= apart, counted columns only.
// Taking its answers in turn is greedy: each is the best that is far enough
// from those before, which need not make the best set.
func Alternatives(p ChoiceProblem, o ChoiceOptions, taken [][]int, apart int) (ChoiceAnswer, error) {
	return solveChoice(p, o, taken, apart)
}

func solveChoice(p ChoiceProblem, o ChoiceOptions, taken [][]int, apart int) (ChoiceAnswer, error) {
	if err := p.validate(); err != nil {
		return ChoiceAnswer{}, err
	}
	for _, support := range taken {
		if err := columnsWithin("taken support", support, p.A.Cols); err != nil {
			return ChoiceAnswer{}, err
		}
	}
	if math.IsNaN(o.Cutoff) || o.Cutoff < 0 {
		return ChoiceAnswer{}, fmt.Errorf("leastsquares: cutoff %g; expected a number from 0", o.Cutoff)
	}
	for _, k := range o.Incumbents {
		if len(k) != p.A.Cols {
			return ChoiceAnswer{}, fmt.Errorf("leastsquares: an incumbent has %d numbers; expected %d", len(k), p.A.Cols)
		}
	}
	if o.Cutoff == 0 {
		o.Cutoff = math.Inf(1)
	}
	return newChooser(&p, o, taken, apart).run(), nil
}

func (p *ChoiceProblem) validate() error {
	linear := Problem{A: p.A, B: p.B, G: p.G, H: p.H}
	if err := linear.validate(); err != nil {
		return err
	}
	n := p.A.Cols
	switch {
	case p.A.Rows > mostChoiceRows:
		return fmt.Errorf("leastsquares: %d rows to choose columns for; expected at most %d", p.A.Rows, mostChoiceRows)
	case n > mostChoiceColumns:
		return fmt.Errorf("leastsquares: %d columns to choose from; expected at most %d", n, mostChoiceColumns)
	case len(p.Upper) != n:
		return fmt.Errorf("leastsquares: %d upper bounds; expected %d", len(p.Upper), n)
	case p.Least != nil && len(p.Least) != n:
		return fmt.Errorf("leastsquares: %d least steps; expected %d", len(p.Least), n)
	case p.Counted != nil && len(p.Counted) != n:
		return fmt.Errorf("leastsquares: %d marks of counted columns; expected %d", len(p.Counted), n)
	case p.Most < 0:
		return fmt.Errorf("leastsquares: at most %d columns; expected a number from 0", p.Most)
	case len(p.Groups) > mostChoiceGroups:
		return fmt.Errorf("leastsquares: %d groups of columns; expected at most %d", len(p.Groups), mostChoiceGroups)
	case !(p.Scale >= 0 && p.Scale <= 1):
		return fmt.Errorf("leastsquares: scale %g of the linear objective; expected a number from 0 to 1", p.Scale)
	case !(p.Offset >= 0) || math.IsInf(p.Offset, 1):
		return fmt.Errorf("leastsquares: offset %g of the linear objective; expected a number from 0", p.Offset)
	case p.Evaluate == nil && (p.Offset != 0 || p.Scale != 0 && p.Scale != 1):
		return fmt.Errorf("leastsquares: %s", nonDefaultEvaluate)
	}
	for j, upper := range p.Upper {
		if upper < 0 || upper > mostChoiceSteps {
			return fmt.Errorf("leastsquares: upper bound %d of column %d; expected a number from 0 to %d", upper, j, mostChoiceSteps)
		}
	}
	for k, m := range []*Matrix{p.A, p.G} {
		for i := range rowCount(m) {
			for j, v := range m.Row(i) {
				if math.Abs(v)*float64(p.Upper[j]) > largestChoice {
					return fmt.Errorf("leastsquares: %g steps of %g in matrix %s; expected less than %g together", float64(p.Upper[j]), v, [...]string{"A", "G"}[k], largestChoice)
				}
			}
		}
	}
	if largest := max(largestOf(p.B), largestOf(p.H)); largest > largestChoice {
		return fmt.Errorf("leastsquares: a right-hand side of %g; expected less than %g", largest, largestChoice)
	}
	if err := columnsWithin("list of columns that must be used", p.Must, n); err != nil {
		return err
	}
	must := make([]bool, n)
	for _, j := range p.Must {
		must[j] = true
	}
	for _, g := range p.Groups {
		if err := columnsWithin("group", g.Columns, n); err != nil {
			return err
		}
	}
	free := 0
	for j := range p.Counted {
		if !p.Counted[j] && !must[j] {
			free++
		}
	}
	if free > mostUncounted {
		return fmt.Errorf("leastsquares: %d uncounted columns may come or go; expected at most %d", free, mostUncounted)
	}
	return nil
}

func columnsWithin(name string, columns []int, n int) error {
	for _, j := range columns {
		if j < 0 || j >= n {
			return fmt.Errorf("leastsquares: a %s names column %d; expected one from 0 to %d", name, j, n-1)
		}
	}
	return nil
}
