package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// liquidUnits are those that liquids can be printed in: the words of --units, how
// a heading names them, the millilitres of one, and the smallest step where the
// spec states none.
var liquidUnits = []struct {
	word    string
	unit    pantry.Unit
	heading string
	each    profile.Millilitre
	step    float64
}{
	{"ml", pantry.Millilitres, "ml", 1, 2.5},
	{"cl", pantry.Centilitres, "cl", 10, 0.25},
	{"oz", pantry.USOunces, "oz (US)", profile.USFluidOunce, 0.25},
	{"imp-oz", pantry.ImperialOunces, "oz (imp)", profile.ImperialFluidOunce, 0.25},
}

// unitWords are what --units takes.
func unitWords() []string {
	var words []string
	for _, u := range liquidUnits {
		words = append(words, u.word)
	}
	return words
}

// liquidUnit numbers the rows of liquidUnits; the first is millilitres.
type liquidUnit int

const millilitres liquidUnit = 0

// parseLiquidUnit reads the value of --units.
func parseLiquidUnit(word string) (liquidUnit, error) {
	n := slices.Index(unitWords(), strings.ReplaceAll(word, " ", "-"))
	if n < 0 {
		return 0, fmt.Errorf("--units %q; expected one of %s", word, strings.Join(unitWords(), ", "))
	}
	return liquidUnit(n), nil
}

// liquidUnit is what a drink is printed in: the unit of --units, else that of the
// spec's measure.
func (f *flags) liquidUnit(spec *pantry.Spec) liquidUnit {
	if f.given("units") {
		u, _ := parseLiquidUnit(f.units)
		return u
	}
	for n, u := range liquidUnits {
		if u.unit == spec.Measure.Unit {
			return liquidUnit(n)
		}
	}
	return 0
}

// bareVolume refuses a volume of a flag that ends without a unit where --units
// asks for another than ml: it could be meant in either.
func (f *flags) bareVolume(flag, text string) error {
	u, err := parseLiquidUnit(f.units)
	text = strings.TrimSpace(text)
	if err != nil || u == millilitres || text == "" || !strings.ContainsAny(text[len(text)-1:], "0123456789.") {
		return err
	}
	return fmt.Errorf("--%s %q beside --units %s; expected its unit too: write \"%s %s\" or \"%s ml\"", flag, text, f.units, text, u.word(), text)
}

// volumeValue is a volume in ml as one in the unit.
func (u liquidUnit) volumeValue(v *solver.PropertyValue) solver.PropertyValue {
	out := *v
	out.Value, out.Low, out.High = u.amount(v.Value), u.amount(v.Low), u.amount(v.High)
	return out
}

// places is how many decimals a volume deserves in the unit that has so many in
// ml: an ounce or a centilitre holds ten or more.
func (u liquidUnit) places(inMillilitres int) int {
	if u == millilitres {
		return inMillilitres
	}
	return inMillilitres + 1
}

func (u liquidUnit) heading() string { return liquidUnits[u].heading }

// isOunce tells whether the unit is written in quarters.
func (u liquidUnit) isOunce() bool {
	return slices.Contains([]pantry.Unit{pantry.USOunces, pantry.ImperialOunces}, liquidUnits[u].unit)
}

// number writes millilitres in the unit: decimals, or quarters of an ounce where
// these are right to 2 %, as a jigger is, else hundredths.
func (u liquidUnit) number(base float64) string {
	value := u.amount(base)
	if !u.isOunce() {
		return trimmed(value, 3)
	}
	quarter := math.Round(4*value) / 4
	if quarter > 0 && math.Abs(value-quarter) <= 0.02*quarter {
		return strings.TrimSuffix(pantry.Amount{Value: quarter, Unit: pantry.USOunces}.String(), " oz")
	}
	return fixed(value, 2)
}

// amount is millilitres in the unit.
func (u liquidUnit) amount(ml float64) float64 { return ml / float64(liquidUnits[u].each) }

// whole writes a volume as whole ml, or tenths of a larger unit.
func (u liquidUnit) whole(ml float64) string {
	if liquidUnits[u].unit == pantry.Millilitres {
		return fixed(ml, 0)
	}
	return fixed(u.amount(ml), 1)
}

// tenths writes a volume to a tenth of a ml or of an ounce, hundredths of a cl.
func (u liquidUnit) tenths(ml float64) string {
	if liquidUnits[u].unit == pantry.Centilitres {
		return fixed(u.amount(ml), 2)
	}
	return fixed(u.amount(ml), 1)
}

// volume writes a volume for a sentence, see whole.
func (u liquidUnit) volume(ml float64) string { return u.whole(ml) + " " + u.word() }

// sized writes what is poured for a sentence, see number.
func (u liquidUnit) sized(ml float64) string { return u.number(ml) + " " + u.word() }

// reached says what a limit comes to.
func (u liquidUnit) reached(b *solver.BrokenLimit) string {
	if b.Unit == profile.Volume.Unit() {
		return fixed(u.amount(b.Got), 2) + " " + u.word()
	}
	return strings.TrimSpace(fixed(b.Got, 2) + " " + b.Unit)
}

func (u liquidUnit) word() string { return liquidUnits[u].unit.String() }

// measure is the smallest step of a liquid where the spec states none.
func (u liquidUnit) measure() pantry.Amount {
	return pantry.Amount{Value: liquidUnits[u].step, Unit: liquidUnits[u].unit}
}
