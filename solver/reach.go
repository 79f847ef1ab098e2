package solver

import (
	"errors"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// Reachable is how far each property of a drink can be moved by its open pours,
// in amounts of any size.
type Reachable struct {
	Spec *pantry.Spec
	// Ranges are those of the targeted properties, in the order of the targets,
	// then of every other property that the open pours move. Empty where the
	// limits cannot all be kept.
	Ranges []PropertyReach
	// Apart are the targets that cannot all be held within a JND of theirs, while
	// all but any one of them can; empty where all can.
	Apart []profile.Property
	// Broken are the hard limits that the nearest drink breaks, Conflict those
	// that cannot be kept together; empty where all can be kept.
	Broken   []BrokenLimit
	Conflict []string
	Lots     []*pantry.AppliedLot
	Notes    []string
}

// PropertyReach is what the open pours make of one property.
type PropertyReach struct {
	Property profile.Property
	// Aimed says that the property has a target, from Low to High: equal for an
	// aim, apart for a band.
	Aimed     bool
	Low, High float64
	// Alone keeps the hard limits and nothing else.
	Alone Span
	// Held also keeps every other target: within one JND where it has one, a
	// volume within 2 %, else within the ± that was written. Nil where these
	// cannot all be held.
	Held *Span
	// UnknownFrom names ingredients whose figures for the property are unknown.
	UnknownFrom []string
}

// Span is the least and the greatest value of a property.
type Span struct{ Least, Greatest End }

// End is the end of a span: a drink, and what stops it there. It is the best of
// many starts.
type End struct {
	Value float64
	// Pours are in the order of building; those of nothing are left out.
	Pours []PouredAmount
	// Stops are the bounds that hold the end where it is, the weightiest first;
	// none where the property turns there of itself.
	Stops []Stop
	// KKT is the residual of the optimality conditions: what moving one pour over
	// all of its room would still bring by first order, over 1 plus the size of
	// Value.
	KKT float64
}

// Stop is one bound that stops a property.
type Stop struct {
	// Kind is "least" or "most" of a pour, "limit", "ratio", or "held" for a
	// target that is kept.
	Kind string
	// Name is the pour, the limit or ratio as written, or the property held.
	Name string
	// Amount is where a pour stops, as the bar measures it, and Bound the same in ml
	// or g; of what is held or limited, Bound is the value it stops at.
	Amount pantry.Amount
	Bound  float64
	// Price is by how much the end moves, in its own unit, for one more Unit of
	// room: a ml, a gram, or the unit of the property.
	Price float64
	Unit  string

	weight float64
}

// ErrNothingOpen is returned where every pour is written as an amount.
var ErrNothingOpen = errors.New("every amount is fixed, so nothing can move; expected at least one pour with room, such as 30..45 ml, open or optional")

// Reach finds the least and the greatest value of each property over the open
// pours of a spec, by themselves and with all other targets held. A property is
// linearised as a ratio at several drinks, the ratio's extreme found by a
// linear-fractional program, and the full model refined from there.
//
// Limits that cannot be kept are no error: the answer then has Broken and
// Conflict. Errors are pantry.InputErrors, ErrNothingOpen, ErrNoPours or
// ErrNoLiquid.
func Reach(q Question) (*Reachable, error) {
	if q.Spec.Choose != nil {
		return nil, errToChoose(q)
	}
	w, err := newWork(q)
	if err != nil {
		return nil, err
	}
	if len(w.problem.open) == 0 {
		return nil, ErrNothingOpen
	}
	w.problem = w.problem.with(w.problem.aims, w.withLeastDrink())
	out := &Reachable{Spec: q.Spec}
	alone := newRoom(w.problem.with(nil, w.problem.limits))
	starts := append(w.problem.starts(w.volume), alone.draw(drawnStarts)...)
	nearest, err := alone.nearest(w.problem.aims, starts)
	if err != nil {
		return nil, err
	}
	if nearest.Violation > brokenByMore {
		return out, w.cannotKeep(out, &nearest)
	}

	s := search{work: w, alone: alone, starts: append(starts, nearest.X)}
	held, possible, err := s.canHold(w.problem.aims)
	if err != nil {
		return nil, err
	}
	s.starts, s.allHeld = append(s.starts, held), possible
	for _, p := range w.reachable() {
		if err := s.seek(p); err != nil {
			return nil, err
		}
	}
	if err := s.settle(); err != nil {
		return nil, err
	}
	out.Ranges = s.ranges()
	if !s.allHeld {
		if out.Apart, err = s.apart(); err != nil {
			return nil, err
		}
	}
	w.remarkReach(out)
	return out, nil
}

// withLeastDrink is the limits and one that keeps the drink a drink: at least
// 30 ml, or as much as was asked for where that is less.
func (w *work) withLeastDrink() []limit {
	least := leastDrink.low
	for i := range w.problem.limits {
		l := &w.problem.limits[i]
		if l.property != profile.Volume {
			continue
		}
		if !math.IsInf(l.low, 0) {
			return w.problem.limits
		}
		least = min(least, (1-volumeTolerance)*l.high)
	}
	for i := range w.problem.aims {
		if a := &w.problem.aims[i]; a.property == profile.Volume {
			least = min(least, (1-volumeTolerance)*a.low)
		}
	}
	drink := leastDrink
	drink.low, drink.scale = least, sizeAt(profile.Volume, least)
	drink.written = limitName(profile.Volume, "at least", least)
	return append(slices.Clone(w.problem.limits), drink)
}

// cannotKeep names the limits that the nearest drink breaks and those that shut
// each other out.
func (w *work) cannotKeep(out *Reachable, nearest *leastsquares.NonlinearSolution) error {
	var values profile.Values
	d := w.problem.drink(nearest.X)
	d.Evaluate(profile.AllProperties, &values, nil, nil)
	for i := range w.problem.limits {
		l := &w.problem.limits[i]
		if v := values[l.property]; l.broken(v) > brokenByMore {
			out.Broken = append(out.Broken, BrokenLimit{l.written, v, l.property.Unit()})
		}
	}
	for i := range w.problem.ratios {
		if r := &w.problem.ratios[i]; r.broken(nearest.X) > 0 {
			out.Broken = append(out.Broken, BrokenLimit{Written: "ratio " + r.written, Got: r.quotient(nearest.X)})
		}
	}
	w.continuous = nearest
	var err error
	out.Conflict, err = w.limitsApart()
	return err
}

// reachable are the properties to look at: those aimed at, in order, then the
// others.
func (w *work) reachable() []profile.Property {
	var list []profile.Property
	for i := range w.targets {
		if p := w.targets[i].Property; !slices.Contains(list, p) {
			list = append(list, p)
		}
	}
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		if !slices.Contains(list, p) && !(p == profile.Dilution && w.ice.Method == profile.NoIce) {
			list = append(list, p)
		}
	}
	return list
}

// remarkReach adds what the asker should know beside the numbers.
func (w *work) remarkReach(out *Reachable) {
	every := make([]float64, len(w.problem.open))
	for j := range every {
		every[j] = 1
	}
	var a Answer
	a.Pours, _ = w.poured(every)
	w.remarkLots(&a)
	w.remarkTwice(&a)
	w.remarkBubbles(&a)
	for i := range out.Ranges {
		a.Profile[out.Ranges[i].Property].UnknownFrom = out.Ranges[i].UnknownFrom
	}
	a.remarkUnknown()
	out.Lots, out.Notes = a.Lots, a.Notes
	if !slices.ContainsFunc(w.problem.limits, func(l limit) bool { return l.property == profile.Volume && !math.IsInf(l.high, 1) }) {
		out.Notes = append(out.Notes, "no glass is written: alone, the drink may be as large as its pours make it")
	}
}
