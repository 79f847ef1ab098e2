package main

import (
	"fmt"
	"strings"
	"unicode"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// glassMinutes are the moments at which a drink in the glass is printed.
var glassMinutes = []float64{0, 1, 2, 3, 5, 8, 10, 15, 20}

// roomTemperature is that of the room a glass stands in; common practice, no
// source.
const roomTemperature profile.Celsius = 22

// parseRocks reads the ice in the glass: a mass such as 120g, or none.
func parseRocks(text string) (profile.Rocks, error) {
	rocks := profile.Rocks{Room: roomTemperature}
	if text == "none" {
		return rocks, nil
	}
	if text != "" && unicode.IsDigit(rune(text[len(text)-1])) {
		text += " g"
	}
	a, err := pantry.ParseAmount(text)
	if err != nil {
		return rocks, fmt.Errorf("--rocks: %w", err)
	}
	if a.Unit != pantry.Grams {
		return rocks, fmt.Errorf("--rocks %q; expected the mass of the ice in the glass, such as 120g, or none", text)
	}
	rocks.Mass = profile.Gram(a.Value)
	return rocks, nil
}

// builtOn is the ice that a drink stands on where it is asked to stand on rocks:
// what is left of its own where it was built in the glass, which a note says.
func builtOn(a *solver.Answer, rocks profile.Rocks) profile.Rocks {
	if a.Spec.Ice.Method != profile.Build || rocks.Mass == 0 {
		return rocks
	}
	left := a.LeftOnIce(rocks.Room)
	a.Notes = append(a.Notes, fmt.Sprintf("built in the glass, it stands on the %s g left of its own ice: the %s g of --rocks are not added; for more ice or less, write it in the spec, such as `ice: {build: 150 g}`",
		fixed(float64(left.Mass), 0), trimmed(float64(rocks.Mass), 0)))
	return left
}

// writeGlass prints how the drink changes in the glass.
func writeGlass(b *strings.Builder, sips []profile.Sip) error {
	var rows [][]string
	for i := range sips {
		v := &sips[i].Values
		rows = append(rows, []string{
			fixed(sips[i].Minutes, 0), fixed(float64(sips[i].Melted), 0), fixed(v[profile.Volume], 0), fixed(v[profile.Strength], 1),
			fixed(v[profile.Sugar], 0), fixed(v[profile.Acid], 1), fixed(float64(sips[i].Temperature), 0),
		})
	}
	b.WriteString("\n")
	return writeTable(b, []tableColumn{
		{heading: "minute", right: true},
		{heading: "melted, g", right: true},
		{heading: "ml", right: true},
		{heading: "% vol", right: true},
		{heading: "sugar g/L", right: true},
		{heading: "acid g/L", right: true},
		{heading: "°C", right: true},
	}, rows)
}

// doseLine says what one drink holds that counts for a guest.
func doseLine(a *solver.Answer) string {
	d := &a.Dose
	if d.Ethanol < 0.05 {
		return ""
	}
	var drinks []string
	for _, s := range d.StandardDrinks {
		drinks = append(drinks, fmt.Sprintf("%s %s", fixed(s.Count, 1), s.Where))
	}
	return fmt.Sprintf("One drink holds %s g of ethanol; in standard drinks: %s.", fixed(float64(d.Ethanol), 1), strings.Join(drinks, ", "))
}
