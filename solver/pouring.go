package solver

import (
	"minim/pantry"
	"minim/profile"
)

// What the hand is off by, one standard deviation of one pour. Common practice,
// no source; a bar that pours ten of each onto a scale has its own.
const (
	// JiggerError and JiggerErrorPart are those of a jigger, or a free pour as good
	// as one: the first in ml, the second a part of the amount, whichever is more.
	JiggerError     profile.Millilitre = 0.75
	JiggerErrorPart float64            = 0.02
	// ScaleError is that of a bar's scale.
	ScaleError profile.Gram = 0.05
)

// What the hand is off by, as parts of the amount. The dashes of one drink come
// from the same bottle and wrist, and are off together.
const (
	dashPart     = 0.20
	dropPart     = 0.10
	barspoonPart = 0.10
	piecePart    = 0.10
	pinchPart    = 0.30
)

// HandErrorPart returns the part of an amount in the unit that the hand is off
// by, one standard deviation; ok is false for what is poured from a jigger or
// weighed. Common practice, no source.
func HandErrorPart(u pantry.Unit) (part float64, ok bool) {
	switch u {
	case pantry.Dashes:
		return dashPart, true
	case pantry.Drops:
		return dropPart, true
	case pantry.Barspoons, pantry.Teaspoons:
		return barspoonPart, true
	case pantry.Pinches:
		return pinchPart, true
	case pantry.Pieces:
		return piecePart, true
	}
	return 0, false
}

// finerThanJigger is the measure, in ml, below which an ingredient of its own
// measure is given by the spoon or the dropper as long as these are the better:
// nobody fills a jigger with half a ml of saline.
const finerThanJigger = 1.0

// pouringError is one standard deviation of a pour of so many base units, in
// base units (ml of a liquid, grams of a solid), measured in the given unit.
func (p *pour) pouringError(base float64, measuredIn pantry.Unit) float64 {
	if part, ok := HandErrorPart(measuredIn); ok {
		return part * base
	}
	if p.ingredient.Solid {
		return float64(ScaleError)
	}
	jigger := max(float64(JiggerError), JiggerErrorPart*base)
	if own := p.ingredient.Step.Amount; own > 0 && own < finerThanJigger {
		return min(barspoonPart*base, jigger)
	}
	return jigger
}

// measuredIn is the unit in which the bar measures a pour.
func (w *work) measuredIn(p *pour) pantry.Unit {
	if p.fixed {
		return p.written.Low.Unit
	}
	return w.amountOf(p, 1).Unit
}

// amounts appends to list what each pour comes to, in base units, with x steps
// of each open one.
func (w *work) amounts(list, x []float64) []float64 {
	open := 0
	for n := range w.pours {
		base := w.pours[n].amount
		if !w.pours[n].fixed {
			base = x[open] * w.pours[n].step
			open++
		}
		list = append(list, base)
	}
	return list
}
