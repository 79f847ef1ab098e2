package pantry

import (
	"math"
	"slices"
	"strings"

	"minim/profile"
)

// Confidence says how well founded a figure is.
type Confidence string

// The degrees of confidence.
const (
	// Seen was read in its source or on a label, or measured.
	Seen Confidence = "seen"
	// FromMemory was recalled from published knowledge and not read again.
	FromMemory Confidence = "memory"
	// Estimated was reached by analogy or by eye.
	Estimated Confidence = "estimate"
	// Computed follows from other figures by arithmetic.
	Computed Confidence = "computed"
)

var confidences = []Confidence{Seen, FromMemory, Estimated, Computed}

// fromSource tells whether a figure of this confidence rests on a source; one
// from memory or an estimate may have none.
func (c Confidence) fromSource() bool { return c == Seen || c == Computed }

// Figure is one number of an ingredient, in the unit of its column.
type Figure struct {
	Value float64
	// Known is false for an empty cell: unknown, which is never zero.
	Known bool
	// Spread is one standard deviation in the unit of the value; 0 for density,
	// pH, other solids and bitterness without a ± of their own, see Ingredient.
	Spread float64
	// OwnSpread is true where the cell has its own ± in the column named with _pm.
	OwnSpread bool
	// Source is the cell's own source, else that of its row; empty where a
	// figure comes from memory or is an estimate without more to say.
	Source string
	// Confidence is the cell's own, else that of its row.
	Confidence Confidence
}

// BitternessFactor is what bitterness without a ± of its own is multiplied and
// divided by to give its range: threshold ratios are good to a factor of two.
const BitternessFactor = 2

// doubtFactor widens the row's spread for figures from memory and estimates.
const doubtFactor = 2

// spreadFigures sets the spread of every figure that has no ± of its own: the
// row's percentage, twice that for figures from memory and estimates. The row's
// percentage says nothing of density or pH, nor of other solids, which take the
// place of water and are not what a lot differs in; bitterness has its factor.
func (i *Ingredient) spreadFigures() {
	for c := range i.Figures {
		f := &i.Figures[c]
		if f.OwnSpread {
			continue
		}
		f.Spread = 0
		if !f.Known {
			continue
		}
		switch Column(c) {
		case DensityGramsPerMillilitre, PH, BitternessMilligramsPerLitre, OtherSolidsPerLitre:
		default:
			f.Spread = math.Abs(f.Value) * i.SpreadPercent / 100
			if !f.Confidence.fromSource() {
				f.Spread *= doubtFactor
			}
		}
	}
}

// HasOwnBitterness tells whether the bitterness has a ± of its own; else its
// range is the figure multiplied and divided by BitternessFactor.
func (i *Ingredient) HasOwnBitterness() bool {
	if i.made != nil {
		return i.made.ownBitterness
	}
	return i.Figures[BitternessMilligramsPerLitre].OwnSpread
}

// parseCellSource splits the text of a cell named with _source: an optional
// confidence, then the source itself after a colon. A source without a
// confidence is one that was seen; seen and computed without a source go back
// to that of the row.
func parseCellSource(text string) (source string, confidence Confidence) {
	word, rest, _ := strings.Cut(text, ":")
	if c := Confidence(strings.TrimSpace(word)); slices.Contains(confidences, c) {
		return strings.TrimSpace(rest), c
	}
	return text, Seen
}

// cellSource undoes parseCellSource; it is empty where the row says it all.
func (i *Ingredient) cellSource(f Figure) string {
	if f.Source == i.Source && f.Confidence == i.Confidence {
		return ""
	}
	if f.Source == "" || f.Source == i.Source && f.Confidence.fromSource() {
		return string(f.Confidence)
	}
	if source, confidence := parseCellSource(f.Source); confidence == f.Confidence && source == f.Source {
		return f.Source
	}
	return string(f.Confidence) + ": " + f.Source
}

// perUnit is how much of a figure is in one base unit of the ingredient: in a
// millilitre of a liquid or a gram of a solid.
func (i *Ingredient) perUnit() float64 {
	if i.PerKilogram && !i.Solid {
		return 1e-3 * i.Figures[DensityGramsPerMillilitre].Value
	}
	return 1e-3
}

// ethanolGrams is the ethanol in a millilitre at a strength in % vol.
func ethanolGrams(strength float64) float64 {
	return strength / 100 * float64(profile.EthanolDensity) / 1000
}
