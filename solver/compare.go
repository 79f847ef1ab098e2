package solver

import (
	"cmp"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// TasteProperties are what a distance between two drinks counts: every property
// with a JND, but sugar only once, as sweetness.
var TasteProperties = []profile.Property{
	profile.Strength, profile.Sweetness, profile.Acid, profile.Salt, profile.Bitter, profile.Umami,
	profile.Temperature, profile.CarbonDioxide, profile.Viscosity,
}

// HardlyTold is the distance, in JND, below which two drinks could hardly be told
// apart: one taster in one comparison would name the difference correctly less
// than three times in four.
const HardlyTold = 1.0

// Comparison is several drinks side by side.
type Comparison struct {
	// Drinks are in the order given.
	Drinks []*Answer
	// Against has, for each drink, how each property differs from that of the
	// first, in the order of the properties; the first from itself by 0.
	Against [][profile.Properties]Difference
	// Pairs are all pairs of drinks, the nearest first and, of equals, in the order
	// of the drinks.
	Pairs []Pair
}

// Difference is what one drink has more of a property than another.
type Difference struct {
	Property profile.Property
	// More is in the unit of the property, JND is J(one) - J(other), J the
	// property's JND scale; HasJND is false where the property has none.
	More, JND float64
	HasJND    bool
	// Unknown says that what one of the two holds of it is known only in part, so
	// that the difference may be more or less.
	Unknown bool
}

// Perceptible tells whether a taster may notice the difference.
func (d *Difference) Perceptible() bool {
	return d.HasJND && math.Abs(d.JND) >= profile.Perceptible
}

// Pair is how far two drinks are apart.
type Pair struct {
	// First and Second count the drinks from 0; First is the smaller.
	First, Second int
	// TotalJND is the distance: sqrt(Σ (J_k(second) - J_k(first))²) over
	// TasteProperties. It is Euclidean, so it is symmetric, 0 between equal drinks,
	// and no longer than any way round.
	TotalJND float64
	// Differences are those of TasteProperties, second less first, the largest
	// first.
	Differences []Difference
}

// Finish returns the drink that a spec stands for, with all pours fixed: as
// written where no pour is open, in the spec or in a prep that it pours, else as
// Design solves it. solved says which. The errors are those of Report and Design.
func Finish(q Question) (a *Answer, solved bool, err error) {
	if q.Spec.Choose != nil || slices.ContainsFunc(q.Spec.Pours(), func(p pantry.Pour) bool { return p.Kind != pantry.Fixed }) || openPreps(q) {
		a, err = Design(q)
		return a, true, err
	}
	a, err = Report(q)
	return a, false, err
}

// Compare sets finished drinks side by side. Without drinks the comparison is
// empty.
func Compare(drinks []*Answer) *Comparison {
	c := &Comparison{Drinks: drinks}
	for n, a := range drinks {
		var against [profile.Properties]Difference
		for p := range against {
			against[p] = difference(profile.Property(p), drinks[0], a)
		}
		c.Against = append(c.Against, against)
		for first := range n {
			c.Pairs = append(c.Pairs, pairOf(drinks, first, n))
		}
	}
	slices.SortStableFunc(c.Pairs, func(a, b Pair) int {
		return cmp.Or(cmp.Compare(a.TotalJND, b.TotalJND), cmp.Compare(a.First, b.First), cmp.Compare(a.Second, b.Second))
	})
	return c
}

// Between returns the pair of two drinks, counted from 0, in either order.
func (c *Comparison) Between(a, b int) *Pair {
	first, second := min(a, b), max(a, b)
	n := slices.IndexFunc(c.Pairs, func(p Pair) bool { return p.First == first && p.Second == second })
	if n < 0 {
		return nil
	}
	return &c.Pairs[n]
}

func pairOf(drinks []*Answer, first, second int) Pair {
	pair := Pair{First: first, Second: second}
	sum := 0.0
	for _, p := range TasteProperties {
		d := difference(p, drinks[first], drinks[second])
		pair.Differences = append(pair.Differences, d)
		sum += d.JND * d.JND
	}
	pair.TotalJND = math.Sqrt(sum)
	slices.SortStableFunc(pair.Differences, func(a, b Difference) int {
		return cmp.Compare(math.Abs(b.JND), math.Abs(a.JND))
	})
	return pair
}

// difference is what a drink has more of a property than another.
func difference(p profile.Property, from, to *Answer) Difference {
	a, b := &from.Profile[p], &to.Profile[p]
	d := Difference{Property: p, More: b.Value - a.Value, Unknown: len(a.UnknownFrom)+len(b.UnknownFrom) > 0}
	if j, ok := p.JND(); ok {
		d.HasJND = true
		d.JND = j.Level(b.Value) - j.Level(a.Value)
	}
	return d
}
