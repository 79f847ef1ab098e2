package pantry

import (
	"math"

	"minim/profile"
)

// Makes says that a spec is a prep: what comes of it is an ingredient of other
// specs.
type Makes struct {
	// Volume is what one making gives, as measured; 0: what is computed. Where
	// pours are open it is the volume that they are to come to.
	Volume profile.Millilitre
	Keeps  ShelfLife
	Store  Storage
	Place  Place
}

// ShelfLife is how long a prep keeps; the zero ShelfLife is not stated.
type ShelfLife struct {
	// Count is more than 0, in Unit.
	Count float64
	Unit  TimeUnit
}

// Hours returns the shelf life in hours, 0 where none is stated.
func (l ShelfLife) Hours() Hour { return Hour(l.Count) * timeTable[l.Unit].hours }

// String writes the shelf life as a spec does; empty where none is stated.
func (l ShelfLife) String() string {
	if l.Count == 0 {
		return ""
	}
	return formatMagnitude(l.Count) + " " + l.Unit.word(l.Count)
}

// TimeUnit is a unit of time.
type TimeUnit int

// The units of time.
const (
	Minutes TimeUnit = iota
	Hours
	Days
	Weeks
	Months

	timeUnits int = iota
)

// timeTable holds how the units are written and how long each is; a month is
// taken as 30 days.
var timeTable = [timeUnits]struct {
	one, several string
	words        []string
	hours        Hour
}{
	Minutes: {"min", "min", []string{"minute", "minutes", "mins"}, 1.0 / 60},
	Hours:   {"hour", "hours", []string{"h", "hr", "hrs"}, 1},
	Days:    {"day", "days", []string{"d"}, 24},
	Weeks:   {"week", "weeks", nil, 7 * 24},
	Months:  {"month", "months", nil, 30 * 24},
}

func (u TimeUnit) word(count float64) string {
	if count == 1 {
		return timeTable[u].one
	}
	return timeTable[u].several
}

// Storage is where a prep is kept.
type Storage int

// The places; the zero Storage is not stated.
const (
	StoreNotStated Storage = iota
	StoreShelf
	StoreFridge
	StoreFreezer
)

// storages holds the word for each place and how cold it is there: a bar's
// shelf, fridge and freezer; common practice, no source.
var storages = [...]struct {
	word string
	at   profile.Celsius
}{
	StoreNotStated: {"", roomTemperature},
	StoreShelf:     {"shelf", roomTemperature},
	StoreFridge:    {"fridge", 5},
	StoreFreezer:   {"freezer", -18},
}

// String returns the word in a file, empty where it is not stated.
func (s Storage) String() string { return storages[s].word }

// PrepStepKind is what is done to a prep after its pours are mixed.
type PrepStepKind int

// The steps.
const (
	Reduce PrepStepKind = iota
	Steep
	Strain
	Clarify
	Dilute
	Carbonate

	prepStepKinds int = iota
)

var prepStepWords = [prepStepKinds]string{"reduce", "steep", "strain", "clarify", "dilute", "carbonate"}

// String returns the word in a file.
func (k PrepStepKind) String() string { return prepStepWords[k] }

// StepMeasure says what the number of a step counts.
type StepMeasure int

// The measures of steps.
const (
	// ToVolume, ToMass and ToBrix are what a step ends at: ml at 20 °C, g, °Bx.
	ToVolume StepMeasure = iota
	ToMass
	ToBrix
	// WithVolume is what a step adds, in ml.
	WithVolume
	// LosesVolume and LosesPercent are what stays behind: ml, or % of the volume.
	LosesVolume
	LosesPercent
	// GasVolumes and GasPerLitre are dissolved carbon dioxide: volumes, or g/L.
	GasVolumes
	GasPerLitre
)

// PrepStep is one thing done to a prep, in order.
type PrepStep struct {
	Kind    PrepStepKind
	Measure StepMeasure
	// Value is in what Measure says; 0 of a steeping.
	Value float64
	// Steeping is what a Steep step steeps; the zero Steeping otherwise.
	Steeping Steeping
	Place    Place
}

// Times is the step for so many makings: volumes and masses times n, read to 1
// from 100 ml or g on and to 0.1 below; what a step comes to in percent, °Bx or
// gas is the same in any amount.
func (s *PrepStep) Times(n float64) PrepStep {
	out := *s
	switch s.Measure {
	case ToVolume, ToMass, WithVolume, LosesVolume:
		out.Value = readable(s.Value * n)
	}
	if s.Kind == Steep {
		out.Value = s.Value
		out.Steeping.Amount.Value = readable(s.Steeping.Amount.Value * n)
	}
	return out
}

// readable rounds an amount to what a jug or a scale shows of it.
func readable(v float64) float64 {
	if v >= 100 {
		return math.Round(v)
	}
	return math.Round(10*v) / 10
}

// Steeping is a plant that stands in the liquid and is strained off.
type Steeping struct {
	// Plant is any text; a row of the shelf by that name says what a kilogram of
	// it gives.
	Plant  string
	Amount Amount
	// For is how long; the zero ShelfLife where that is not stated.
	For ShelfLife
	// At is the temperature of steeping, for whoever makes it: no figure depends
	// on it.
	At *profile.Celsius
	// HalfIn is the time in which half of what the plant gives goes over; zero:
	// all of it is taken to be there.
	HalfIn ShelfLife
	// KeepsBack is the liquid that a gram of plant keeps; nil: RetainedByLeaf.
	KeepsBack *MillilitrePerGram
	// Gives is what the plant gives in the end, in the order of the file.
	Gives []Given
}

// Given is one thing that a plant gives to the liquid.
type Given struct {
	Into Column
	// PerKilogram of the plant, in the unit of the column; Spread is its ±, 0
	// where none was given.
	PerKilogram, Spread float64
}
