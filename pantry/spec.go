package pantry

import "minim/profile"

// Spec is a drink written down: what is poured, in the order of building, what
// ice does to it, and what the result should be. A spec without targets is a
// finished drink.
type Spec struct {
	// File is where it was read, as the person named it.
	File string
	// Name of the drink; empty: none was given.
	Name string
	// Glass is what the glass holds, ice aside; 0: not stated.
	Glass profile.Millilitre
	// Mix goes into the tin or mixing glass, Top in after the ice.
	Mix, Top []Pour
	// Ice is what happens between them; IceStated tells a written `none` from
	// nothing written, which means the same.
	Ice       profile.Ice
	IceStated bool
	// Finish is aroma and garnish, as text.
	Finish []string
	// Choose asks for ingredients besides amounts; nil: none are to be chosen.
	Choose *Choose
	// Measure is the smallest step of a liquid that has none of its own;
	// MeasureStated is false for DefaultMeasure.
	Measure       Amount
	MeasureStated bool
	// Target is in the order of the file, a property at most once.
	Target []Target
	Ratios []Ratio
	// Like is the file of another spec whose profile is the target; empty: none.
	Like string
	// Reference is the approved drink that this one came from; nil: none.
	Reference *Reference
	// Makes makes the spec a prep; nil: it is a drink. Steps are what is done to
	// a prep after its mix is stirred together, in order.
	Makes *Makes
	Steps []PrepStep

	lines []string
}

// DefaultMeasure is the smallest step of a liquid where nothing else is said;
// common practice, no source.
var DefaultMeasure = Amount{2.5, Millilitres}

// PourKind says how much of a pour is given.
type PourKind int

// The kinds of pour.
const (
	// Fixed is one amount: Low and High are equal.
	Fixed PourKind = iota
	// Between is anything from Low to High, both more than nothing.
	Between
	// Open is wanted, and its amount is to be found. Low or High, where its
	// value is not 0, is a limit.
	Open
	// Optional may come out at nothing. Low or High, where its value is not 0,
	// is a limit on the amount if there is any.
	Optional
)

// Pour is the amount of one ingredient.
type Pour struct {
	// Name is as written; a pantry matches it by its fold.
	Name string
	Kind PourKind
	// Low and High bound the amount; see PourKind for when 0 means no bound.
	Low, High Amount
	// At is the temperature of the ingredient; nil: that at which it is kept.
	At    *profile.Celsius
	Place Place
}

// FixedPour is a pour of exactly that amount.
func FixedPour(name string, a Amount) Pour {
	return Pour{Name: name, Kind: Fixed, Low: a, High: a}
}

// Target is what one property should be. All numbers are in the property's own
// unit. A target is aimed, limited, or both.
type Target struct {
	Property profile.Property
	// Aimed says that Low and High count: an aim where they are equal, else a
	// band, inside which there is no miss.
	Aimed     bool
	Low, High float64
	// AtLeast and AtMost are hard limits; nil: none.
	AtLeast, AtMost *float64
	// Weight multiplies the square of the miss; 1 unless written, and 0 means 1.
	// Limits have none.
	Weight float64
	// Tolerance is what counts as one step of missing; 0: one JND, or for volume
	// its 2 %.
	Tolerance float64
	Place     Place
}

// Ratio holds one pour between Low and High times another, both counted in ml
// of a liquid or grams of a solid. The names are those of two pours.
type Ratio struct {
	Numerator, Denominator string
	// Low and High are more than 0; equal for a fixed ratio.
	Low, High float64
	Place     Place
}

// Pours returns mix and top, in the order of building.
func (s *Spec) Pours() []Pour {
	return append(append([]Pour(nil), s.Mix...), s.Top...)
}

// ErrorAt is something wrong at a place in the spec, found after it was read: an
// ingredient that no shelf has. It carries the person's own line.
func (s *Spec) ErrorAt(p Place, message, hint string) *InputError {
	return &InputError{Place: p, Message: message, Text: lineOf(s.lines, p.Line), Hint: hint}
}
