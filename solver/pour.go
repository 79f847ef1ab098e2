package solver

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// Stage says when a pour joins the drink.
type Stage int

// The stages that pours have.
const (
	InMix Stage = iota
	OnTop
)

// String returns the word for the stage in files and tables.
func (s Stage) String() string {
	if s == OnTop {
		return "top"
	}
	return "mix"
}

// powderStep is that of a solid without its own, in grams: a bar's scale.
// Common practice, no source.
const powderStep = 0.1

// longest is the most, in ml or g, that an open pour is given where neither
// target nor glass says; common practice, no source.
const longest = 240

// pour is one line of a spec, resolved. Amounts are in the ingredient's base
// unit: ml at 20 °C of a liquid, grams of a solid.
type pour struct {
	written    pantry.Pour
	ingredient *pantry.Ingredient
	stage      Stage
	unit       profile.State // of one base unit, at the temperature it is poured at
	fixed      bool
	optional   bool
	original   bool    // of the drink that this one came from: never left out for brevity
	amount     float64 // of a fixed pour
	step       float64 // of an open pour
	// low and high are in steps; a pour of none is allowed besides where
	// optional and low is above 0.
	low, high int
	// chosen says that the pour was offered for choice and counts.
	chosen bool
	// least and most are the ends of what an open pour may be, in base units,
	// wherever its measure falls.
	least, most float64
}

// isWater tells whether the ingredient is plain water, which is not counted
// among the ingredients of a drink.
func (p *pour) isWater() bool {
	for c, v := range p.unit {
		if v != 0 && c != int(profile.WaterGrams) && c != int(profile.HeatJoules) &&
			c != int(profile.VolumeCorrectionMillilitres) && c != int(profile.SodiumMilligrams) &&
			c != int(profile.StrongChargeMilliequivalents) {
			return false
		}
	}
	return p.unit[profile.SodiumMilligrams] < 0.1 && p.unit[profile.WaterGrams] > 0
}

// resolvePours finds every pour's ingredient and turns its amounts into base
// units and steps. All that is wrong is collected.
func resolvePours(spec *pantry.Spec, shelf *pantry.Shelf, most float64) ([]pour, error) {
	var pours []pour
	var wrong pantry.InputErrors
	for stage, list := range [][]pantry.Pour{InMix: spec.Mix, OnTop: spec.Top} {
		for _, written := range list {
			p, err := resolvePour(written, Stage(stage), spec, shelf, most)
			if err != nil {
				wrong = append(wrong, asInputError(spec, written, err))
				continue
			}
			pours = append(pours, p)
		}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return pours, nil
}

// asInputError puts the place of the pour to what is wrong with it.
func asInputError(spec *pantry.Spec, written pantry.Pour, err error) *pantry.InputError {
	var located *pantry.InputError
	if errors.As(err, &located) {
		return located
	}
	hint := ""
	var name *pantry.NameError
	if errors.As(err, &name) {
		hint = "an ingredient of your own goes into a CSV, given with --pantry"
	}
	return spec.ErrorAt(written.Place, err.Error(), hint)
}

func resolvePour(written pantry.Pour, stage Stage, spec *pantry.Spec, shelf *pantry.Shelf, most float64) (pour, error) {
	ingredient, err := shelf.Find(written.Name)
	if err != nil {
		return pour{}, err
	}
	p := pour{written: written, ingredient: ingredient, stage: stage, unit: ingredient.PerUnit()}
	p.setTemperature()

	if written.Kind == pantry.Fixed {
		p.fixed = true
		p.amount, err = written.Low.Of(ingredient)
		return p, err
	}
	p.optional = written.Kind == pantry.Optional
	if p.step, err = stepOf(ingredient, spec); err != nil {
		return p, err
	}
	low, high := p.step, most
	if p.optional {
		low = 0
	}
	if written.Low.Value > 0 {
		if low, err = written.Low.Of(ingredient); err != nil {
			return p, err
		}
	}
	if written.High.Value > 0 {
		if high, err = written.High.Of(ingredient); err != nil {
			return p, err
		}
	} else if soluble := ingredient.SolubleGramsPerLitre * most / 1000; soluble > 0 {
		high = min(high, soluble)
	}
	p.least, p.most = low, high
	p.low = int(math.Ceil(low/p.step - roundOff))
	p.high = int(math.Floor(high/p.step + roundOff))
	if p.low > p.high {
		return p, fmt.Errorf("%s: no multiple of its measure, %s, lies between %s and %s; expected a wider range or a finer measure",
			written.Name, quantity(p.step, ingredient), quantity(low, ingredient), quantity(high, ingredient))
	}
	return p, nil
}

// roundOff forgives the last bits of amounts that were converted on the way to
// steps, relative to a step.
const roundOff = 1e-6

// quantity writes an amount in base units for a sentence.
func quantity(base float64, i *pantry.Ingredient) string {
	unit := pantry.Millilitres
	if i.Solid {
		unit = pantry.Grams
	}
	return pantry.Amount{Value: math.Round(base*1e4) / 1e4, Unit: unit}.String()
}

// stepOf is the smallest measure of an ingredient: its own, else the spec's for
// liquids and a tenth of a gram for solids.
func stepOf(i *pantry.Ingredient, spec *pantry.Spec) (float64, error) {
	switch {
	case i.Step.Amount > 0:
		return i.Step.Amount, nil
	case i.Solid:
		return powderStep, nil
	default:
		return spec.Measure.Of(i)
	}
}

// setTemperature gives the unit the heat, and the mass, of a pour that is
// measured at its own temperature.
func (p *pour) setTemperature() {
	if p.written.At == nil {
		return
	}
	at := *p.written.At
	if !p.ingredient.Solid {
		if there := p.unit.VolumeAt(at); there > 0 {
			p.unit = p.unit.Scale(float64(p.unit.Volume() / there))
		}
	}
	p.unit[profile.HeatJoules] = float64(p.unit.HeatAt(at))
}

// compareNames orders pours by the name of their ingredient, for a choice that
// nothing else decides.
func compareNames(a, b *pour) int {
	return strings.Compare(a.ingredient.Name, b.ingredient.Name)
}
