package main

import (
	"encoding/csv"
	"io"

	"minim/pantry"
	"minim/solver"
)

// writePoursCSV writes the pours for a spreadsheet, in the order of building:
// bare numbers, units in a column of their own or in the heading. A solid has no
// ml. Text that a spreadsheet would take for a formula begins with an apostrophe.
func writePoursCSV(w io.Writer, a *solver.Answer, f *flags) error {
	out := csv.NewWriter(w)
	if err := out.Write([]string{"stage", "ingredient", "amount", "unit", "ml", "g"}); err != nil {
		return err
	}
	for i := range a.Pours {
		p := &a.Pours[i]
		amount, unit, ml := trimmed(p.Amount.Value, 6), p.Amount.Unit.String(), ""
		if !p.Ingredient.Solid {
			ml = trimmed(p.Base, 3)
			if u, given := f.pourUnit(p); given {
				amount, unit = trimmed(p.Base/float64(liquidUnits[u].each), 4), liquidUnits[u].unit.String()
			}
		}
		if err := out.Write([]string{p.Stage.String(), pantry.GuardCell(p.Name), amount, unit, ml, trimmed(float64(p.Grams), 3)}); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
