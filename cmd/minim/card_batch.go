package main

import (
	"strconv"

	"minim/profile"
	"minim/solver"
)

// cardServes are how many serves the batch table of a card has columns for.
var cardServes = []int{1, 10, 20, 40}

// cardBatch is the batch table of a card.
type cardBatch struct {
	// Heading names the unit of the liquids.
	Heading string
	Serves  []string
	Rows    []cardBatchRow
}

// cardBatchRow is an ingredient by volume or count, and by weight.
type cardBatchRow struct {
	Name, Note string
	Amounts    []cardBatchAmount
}

type cardBatchAmount struct{ Measured, Grams string }

// batchOf is a serve times so many: the one place where the table comes from.
// Water in the place of ice is a row of its own, for a batch that meets none.
func batchOf(a *solver.Answer, unit liquidUnit) cardBatch {
	b := cardBatch{Heading: unit.heading() + " and g"}
	for _, n := range cardServes {
		b.Serves = append(b.Serves, strconv.Itoa(n))
	}
	for i := range a.Pours {
		p := &a.Pours[i]
		row := cardBatchRow{Name: printable(p.Name)}
		if p.Stage == solver.OnTop {
			row.Note = "at service"
		}
		for _, n := range cardServes {
			times := float64(n)
			one := cardBatchAmount{Grams: gramsOf(times * float64(p.Grams))}
			if !p.Ingredient.Solid {
				one.Measured = batchVolume(unit, times*p.Base)
			}
			row.Amounts = append(row.Amounts, one)
		}
		b.Rows = append(b.Rows, row)
	}
	if a.Spec.Ice.Method == profile.NoIce {
		return b
	}
	row := cardBatchRow{Name: "water", Note: "in place of ice"}
	for _, n := range cardServes {
		ml := float64(n) * float64(a.WaterMillilitres)
		row.Amounts = append(row.Amounts, cardBatchAmount{batchVolume(unit, ml), gramsOf(ml * waterGramsPerMillilitre)})
	}
	b.Rows = append(b.Rows, row)
	return b
}

// waterGramsPerMillilitre is the density of water at 20 °C.
// Source: CIPM formula (Tanaka et al., 2001), from memory.
const waterGramsPerMillilitre = 0.9982

// batchVolume writes an amount of a batch: quarters of an ounce only for small
// ones.
func batchVolume(unit liquidUnit, ml float64) string {
	value := ml / float64(liquidUnits[unit].each)
	if unit.isOunce() && value < 4 {
		return unit.number(ml)
	}
	return trimmed(value, batchPlaces(value))
}

// gramsOf writes a weight as a scale shows it.
func gramsOf(g float64) string { return fixed(g, batchPlaces(g)) }

// batchPlaces is how many decimals a jug or a scale shows of an amount.
func batchPlaces(v float64) int {
	switch {
	case v < 1:
		return 2
	case v < 100:
		return 1
	}
	return 0
}
