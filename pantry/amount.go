package pantry

import (
	"fmt"
	"strings"

	"minim/profile"
)

// Amount is how much of something, in the unit in which a bar measures it.
type Amount struct {
	// Value is 0 or more and finite, in Unit.
	Value float64
	Unit  Unit
}

// String writes the amount as a spec does: the shortest exact decimal and the
// unit, ounces in fractions where these are exact: "22.5 ml", "1 ½ oz",
// "2 dashes". ParseAmount reads it back to the same amount.
func (a Amount) String() string {
	number := formatMagnitude(a.Value)
	if a.Unit == USOunces || a.Unit == ImperialOunces {
		number = formatFraction(a.Value)
	}
	return number + " " + a.Unit.word(a.Value)
}

// ParseAmount reads an amount: a number and a unit, such as "30 ml", "¾ oz",
// "1 1/2 oz", "2 dashes", "0.1 g". Numbers have a decimal point; they are 0, or
// from 0.000001 to 1000000. The error says what was read, what was expected and, where one
// is near, what to write instead.
func ParseAmount(text string) (Amount, error) {
	a, wrong := parseAmount(text)
	if wrong != nil {
		return Amount{}, wrong
	}
	return a, nil
}

func parseAmount(text string) (Amount, *mistake) {
	text = strings.TrimSpace(text)
	number, unit := splitNumber(text)
	if digitComma.MatchString(number) {
		return Amount{}, commaMistake(text)
	}
	if number == "" {
		return Amount{}, &mistake{message: fmt.Sprintf("%q is not an amount; expected a number and a unit such as 30 ml", clip(text))}
	}
	value, wrong := parseMagnitude(number)
	if wrong != nil {
		return Amount{}, wrong.within(number)
	}
	u, wrong := unitNamed(unit, number)
	if wrong != nil {
		return Amount{}, wrong.within(unit)
	}
	return Amount{value, u}, nil
}

// parsePositiveAmount reads an amount that is more than nothing.
func parsePositiveAmount(text string) (Amount, *mistake) {
	a, wrong := parseAmount(text)
	if wrong == nil && a.Value == 0 {
		return a, &mistake{message: fmt.Sprintf("%q is nothing; expected more than 0", clip(text))}
	}
	return a, wrong
}

// finestMeasure is the smallest step of a liquid: common practice, no source, a
// drop.
const finestMeasure profile.Millilitre = 0.05

// ParseMeasure reads the smallest step of a liquid: a volume of a drop, 0.05 ml,
// or more, such as "2.5 ml" or "¼ oz". The error says what was expected.
func ParseMeasure(text string) (Amount, error) {
	a, wrong := parseMeasure(text)
	if wrong != nil {
		return Amount{}, wrong
	}
	return a, nil
}

func parseMeasure(text string) (Amount, *mistake) {
	const expected = "expected the smallest step of a liquid, such as 2.5 ml or ¼ oz"
	a, wrong := parsePositiveAmount(text)
	if wrong != nil {
		return a, wrong
	}
	switch millilitres := unitTable[a.Unit].millilitres; {
	case millilitres == 0:
		return a, &mistake{message: fmt.Sprintf("%q is not a volume; %s", clip(text), expected)}
	case profile.Millilitre(a.Value)*millilitres < finestMeasure*(1-1e-9):
		return a, &mistake{message: fmt.Sprintf("%q is less than a drop, 0.05 ml; %s", clip(text), expected)}
	}
	return a, nil
}

// parseVolume reads an amount of 100 litres at most in a unit of volume.
func parseVolume(text string) (profile.Millilitre, *mistake) {
	a, wrong := parsePositiveAmount(text)
	if wrong != nil {
		return 0, wrong
	}
	each := unitTable[a.Unit].millilitres
	volume := profile.Millilitre(a.Value) * each
	switch {
	case each == 0 || a.Unit == Dashes || a.Unit == Drops:
		return 0, &mistake{message: fmt.Sprintf("%q is not a volume; expected ml, cl, l or oz", clip(text))}
	case volume > largestVolume:
		return 0, &mistake{message: fmt.Sprintf("%q is more than 100 litres; expected a smaller volume", clip(text))}
	}
	return volume, nil
}

// largestVolume is more than any bar makes at once; common practice, no source.
const largestVolume profile.Millilitre = 100_000

// comparable returns the amount in one unit for all volumes, one for all masses
// and one for pieces; two amounts of the same kind can be compared. A dash is
// the usual one, whatever the bottle's own may be.
func (a Amount) comparable() (value float64, kind Unit) {
	facts := unitTable[a.Unit]
	switch {
	case facts.millilitres > 0:
		return a.Value * float64(facts.millilitres), Millilitres
	case facts.grams > 0:
		return a.Value * float64(facts.grams), Grams
	default:
		return a.Value, Pieces
	}
}

// Of returns how much of i the amount is, in the unit in which i is counted: ml
// at 20 °C of a liquid, grams of a solid.
//
//	volume of a liquid    value × ml of the unit; a dash is the ingredient's own where it has one
//	mass of a liquid      grams / density, that of its composition where none was measured
//	mass of a solid       grams; a pinch is 0.3 g
//	volume of a solid     ml × bulk density
//	pieces                value × the ingredient's piece
//
// It is an error where the bulk density or the piece that is needed is unknown,
// and for a pinch of a liquid.
func (a Amount) Of(i *Ingredient) (base float64, err error) {
	facts := unitTable[a.Unit]
	millilitres := a.Value * float64(facts.millilitres)
	if a.Unit == Dashes && i.DashMillilitres > 0 {
		millilitres = a.Value * i.DashMillilitres
	}
	grams := a.Value * float64(facts.grams)
	switch {
	case a.Unit == Pieces && i.Piece > 0:
		return a.Value * i.Piece, nil
	case a.Unit == Pieces:
		return 0, &mistake{
			message: fmt.Sprintf("%s of %s; the size of one piece is not known", a, i.Name),
			hint:    "give the amount in " + baseWords(i),
		}
	case i.Solid && facts.millilitres > 0 && i.BulkGramsPerMillilitre > 0:
		return millilitres * i.BulkGramsPerMillilitre, nil
	case i.Solid && facts.millilitres > 0:
		return 0, &mistake{
			message: fmt.Sprintf("%s of %s, which is solid and has no bulk density; expected grams", a, i.Name),
			hint:    "weigh it, or give its bulk density in the pantry",
		}
	case i.Solid:
		return grams, nil
	case a.Unit == Pinches:
		return 0, &mistake{
			message: fmt.Sprintf("%s of %s, which is liquid; expected a volume", a, i.Name),
			hint:    "a pinch is for powders; use drops, dashes or ml",
		}
	case facts.grams > 0:
		unit := i.composed()
		return grams / float64(unit.Mass()), nil
	default:
		return millilitres, nil
	}
}

func baseWords(i *Ingredient) string {
	if i.Solid {
		return "g"
	}
	return "ml"
}
