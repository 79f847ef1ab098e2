package solver

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"minim/pantry"
	"minim/solver/leastsquares"
)

// Frontier is a drink from its original strength down to none, or to what the
// pours that are kept hold.
type Frontier struct {
	Original *Answer
	// Points are by falling strength: the first is the original, the last has
	// nothing alcoholic but what is kept. LeastJND never falls along them.
	Points []*Lightened
	// Knee is the index of the point below which the miss grows fastest against
	// how it grew above; -1: there is none to speak of.
	Knee int
	// Curve is the same in amounts that nobody can measure.
	Curve []CurvePoint
}

// CurvePoint is the least total miss at one strength, in real amounts.
type CurvePoint struct {
	Most, LeastJND float64
}

// Errors of frontiers.
var (
	// ErrNoAlcohol is returned for a drink that has none to begin with.
	ErrNoAlcohol = errors.New("nothing alcoholic in the drink; expected one to lighten")
	// ErrSteps is returned for fewer than 2 or more than 50 steps.
	ErrSteps = errors.New("expected 2 to 50 steps from the original strength to none")
)

// curvePoints is how many points a frontier's curve has.
const curvePoints = 100

// Trace finds the pourable drink at each of so many steps of equal size, rounded
// to a tenth, from the original strength (or grams of ethanol, by q.Property)
// down to none, or to what leastKept says, in fewer where these would be less
// than a tenth; q.Most is not used. It works upwards from the weakest: a drink
// for a lower limit is allowed for each higher one, so that even where a search
// is cut short the least miss never falls as strength does.
func Trace(q LightenQuestion, count int) (*Frontier, error) {
	if count < 2 || count > 50 {
		return nil, ErrSteps
	}
	q.Most = 0
	l, err := newLightening(q)
	if err != nil {
		return nil, err
	}
	full := l.original.Profile[q.Property].Value
	if full <= 0 {
		return nil, ErrNoAlcohol
	}
	least := tenthAbove(l.leastKept())
	if least >= full {
		return nil, fmt.Errorf("--keep: %s alone make it as strong as it is; keep less, and there is something to lighten", strings.Join(l.strongKept(), " and "))
	}
	count = max(1, min(count, int(math.Floor(10*(full-least)+tolerated))))
	f := &Frontier{Original: l.original, Points: make([]*Lightened, count+1)}
	var weaker weakDrinks
	for i := count; i >= 0; i-- {
		most := full
		if i > 0 {
			most = math.Round(10*(least+(full-least)*float64(count-i)/float64(count))) / 10
		}
		point, best, err := l.at(most, weaker)
		if err != nil {
			return nil, err
		}
		if best != nil {
			weaker = best
		}
		f.Points[i] = point
	}
	f.Knee = knee(f.Points)
	if f.Curve, err = l.curve(curvePoints); err != nil {
		return nil, err
	}
	return f, nil
}

// sharpKnee is the least turn that is called a knee, in JND: half of what can be
// noticed. Common practice, no source.
const sharpKnee = 0.25

// knee is the inner point with the largest second difference of the least miss,
// m(i-1) - 2 m(i) + m(i+1), the points being equally far apart in strength; of
// equals the strongest, and -1 where none is sharpKnee.
func knee(points []*Lightened) int {
	at, sharpest := -1, sharpKnee
	for i := 1; i+1 < len(points); i++ {
		turn := points[i-1].LeastJND - 2*points[i].LeastJND + points[i+1].LeastJND
		if turn > sharpest*(1+tolerated) || at < 0 && turn >= sharpest {
			at, sharpest = i, turn
		}
	}
	return at
}

// metObjective is the F up to which every aim is met: the rest is round-off.
const metObjective = 1e-12

// curve follows the least miss over real amounts from the weakest to the original
// strength, each point started from the drink of the one below it, which it may
// be too, and returns it by falling strength. Where the limits cannot be kept it
// has no point.
func (l *lightening) curve(points int) ([]CurvePoint, error) {
	full := l.original.Profile[l.asked.Property].Value
	// A positive limit keeps every pour in the problem: at 0 the columns with
	// alcohol would be gone and the others in other places.
	weakest := l.leastKept()
	least := max(weakest, full*1e-9)
	w, err := l.work(pantry.Target{Property: l.asked.Property, AtMost: &least}, nil)
	if err != nil {
		return nil, err
	}
	q, c := w.problem.nonlinear()
	row := len(c.row) - len(w.problem.limits)
	for i := range w.problem.limits {
		if w.problem.limits[i].property == l.asked.Property {
			row += i
			break
		}
	}
	var out []CurvePoint
	best := math.Inf(1)
	q.Start = w.problem.starts(w.volume)[0]
	for i := range points {
		most := weakest + (full-weakest)*float64(i)/float64(points-1)
		q.LimitHigh[row] = max(most, least)
		s, err := leastsquares.SolveNonlinear(q)
		if err != nil {
			return nil, err
		}
		if s.Violation <= 1e-7 {
			q.Start = slices.Clone(s.X)
			best = min(best, s.Objective)
		}
		if !math.IsInf(best, 1) {
			point := CurvePoint{Most: most}
			if best > metObjective {
				point.LeastJND = math.Sqrt(best)
			}
			out = append(out, point)
		}
	}
	slices.Reverse(out)
	return out, nil
}
