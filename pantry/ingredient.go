// Package pantry holds what stands on a bar's shelf and the specs written with
// it: ingredients with their composition as CSV that any spreadsheet opens,
// amounts, and specs as YAML, each read strictly and written back the same.
//
// Most callers start from Embedded, lay the bar's own CSV over it with Overlay,
// and look ingredients up with Find. The package computes no property of a
// drink: it hands an ingredient over as a profile.State.
package pantry

import "minim/profile"

// Ingredient is something on the shelf with a known composition.
type Ingredient struct {
	// ID is short and stays the same when the name is reworded.
	ID string
	// Name is what recipes and cards call it; Aliases are what else people say.
	Name    string
	Aliases []string
	// Category groups ingredients of a kind; empty where none was given.
	Category string
	// Solid is true of what is weighed and has no volume of its own in a drink.
	Solid bool
	// PerKilogram is true where the figures are per kilogram; solids always.
	PerKilogram bool
	// Figures is the composition, indexed by Column.
	Figures [Columns]Figure
	// Allergens are in the words of Regulation (EU) 1169/2011, Annex II.
	Allergens []string
	// Tannin says in words how astringent it is.
	Tannin string
	Note   string
	// Source and Confidence are those of the figures without their own.
	Source     string
	Confidence Confidence
	// SpreadPercent is one standard deviation between lots of the main
	// constituent, in percent of its figure.
	SpreadPercent float64
	// Step is the smallest measure the ingredient is poured in, if it has its own.
	Step Step
	// KeptAt is the temperature it is poured at.
	KeptAt profile.Celsius
	// Piece is what one piece holds, in ml of a liquid or grams of a solid; 0 is
	// unknown.
	Piece float64
	// BulkGramsPerMillilitre is the density of a powder in the spoon; 0 is unknown.
	BulkGramsPerMillilitre float64
	// SolubleGramsPerLitre is how much of a solid a litre of water at 20 °C
	// dissolves, or of a gum what stays pourable; 0 is unknown.
	SolubleGramsPerLitre float64
	SolubilitySource     string
	// DashMillilitres is what its own bottle dashes; 0 is profile.Dash.
	DashMillilitres float64
	// Price is what one Pack costs, in Currency; it means nothing unless Priced.
	Price  float64
	Priced bool
	// Pack is what the price buys, such as 700 ml; the zero Amount where none was
	// given.
	Pack Amount
	// Currency is three capital letters as in ISO 4217; empty where none was given.
	Currency string
	// OutOfStock is true where the column stock says no.
	OutOfStock bool
	// Vegan says whether it is free of all that comes from animals.
	Vegan Certainty
	// Keeps says in words how long it stays good, and how it is stored.
	Keeps string
	// Place is where the row stands that named it last.
	Place Place

	// made is the composition of what a prep makes, which goes before Figures;
	// nil of a row.
	made *composition
}

// Certainty is the answer to a question that may be open.
type Certainty int

// The answers; the zero Certainty is an open question.
const (
	Unknown Certainty = iota
	No
	Yes
)

// String returns the word in a file, empty for Unknown.
func (c Certainty) String() string { return [...]string{"", "no", "yes"}[c] }

// Room temperature, where bottles without a place of their own stand.
const roomTemperature profile.Celsius = 20
