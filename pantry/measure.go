package pantry

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"minim/profile"
)

// Step is the smallest measure an ingredient is poured in. The zero Step is
// none: the ingredient takes the measure of the spec.
type Step struct {
	// Amount is in base units: ml of a liquid, grams of a solid.
	Amount float64
	// Word is "dash", "drop" or "piece" where the bar counts instead, else empty.
	Word string
}

// wordAmount is what one dash, drop or piece of i holds in base units; 0 where
// it is not known.
func (i *Ingredient) wordAmount(word string) float64 {
	switch word {
	case "dash":
		if i.DashMillilitres > 0 {
			return i.DashMillilitres
		}
		return float64(profile.Dash)
	case "drop":
		return float64(profile.Drop)
	default:
		return i.Piece
	}
}

// parseStep reads a measure of i: a number, a space and ml (of a liquid), g (of
// a solid), dash, drop (of a liquid) or piece.
func (i *Ingredient) parseStep(text string) (Step, error) {
	number, unit, _ := strings.Cut(strings.TrimSpace(text), " ")
	unit = singular(strings.TrimSpace(unit))
	count, wrong := parseNumber(number)
	if wrong.message != "" || unit == "" {
		return Step{}, fmt.Errorf("measure %q; expected a number and a unit, such as 0.25 ml, 0.1 g or 1 dash", text)
	}
	if count <= 0 || count > 1e4 {
		return Step{}, fmt.Errorf("measure %q; expected more than 0 and at most 10000", text)
	}
	switch unit {
	case "ml", "g":
		if i.Solid != (unit == "g") {
			return Step{}, fmt.Errorf("measure %q; expected %s", text, i.baseUnit())
		}
		return Step{Amount: count}, nil
	case "dash", "drop", "piece":
		if i.Solid && unit != "piece" {
			return Step{}, fmt.Errorf("measure %q of a solid; expected g or piece", text)
		}
		one := i.wordAmount(unit)
		if one == 0 {
			return Step{}, fmt.Errorf("measure %q; expected the size of a piece in the column piece, in %s", text, i.baseUnit())
		}
		return Step{Amount: count * one, Word: unit}, nil
	default:
		return Step{}, fmt.Errorf("measure %q; expected ml, g, dash, drop or piece", text)
	}
}

// baseUnit is ml for a liquid and g for a solid.
func (i *Ingredient) baseUnit() string {
	if i.Solid {
		return "g"
	}
	return "ml"
}

// stepText undoes parseStep; it is empty for the zero Step.
func (i *Ingredient) stepText() string {
	if i.Step.Amount == 0 {
		return ""
	}
	count, unit := i.Step.Amount, i.baseUnit()
	if i.Step.Word != "" {
		unit = i.Step.Word
		// The count was a number of few digits before it was multiplied.
		count = math.Round(count/i.wordAmount(unit)*1e9) / 1e9
	}
	return strconv.FormatFloat(count, 'f', -1, 64) + " " + unit
}
