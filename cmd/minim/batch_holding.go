package main

import (
	"fmt"
	"math"
	"strings"

	"minim/solver"
)

// nearlyFreezing is how near, in kelvin, a freezing point may be to the freezer
// and be told apart no more: what the model and freezers are off by (estimate).
const nearlyFreezing = 2

// holdingSentences say how the batch freezes and keeps, with the usual caution.
// They never say that anything is safe.
func holdingSentences(b *solver.Batch) []string {
	h := &b.Holding
	return []string{freezingSentence(h), keepingSentence(b), "Your local food-safety rules come first; taste and smell it before every service, and write the date on it."}
}

func freezingSentence(h *solver.Holding) string {
	freezer, first := fixed(float64(solver.Freezer), 0), fixed(math.Round(float64(h.FreezingPoint)), 0)
	switch gap := float64(solver.Freezer - h.FreezingPoint); {
	case gap > nearlyFreezing:
		return fmt.Sprintf("At %s °C it stays liquid: the first ice would form near %s °C.", freezer, first)
	case gap > -nearlyFreezing:
		return fmt.Sprintf("At %s °C it is on the edge of freezing: the first ice forms near %s °C. Try a little of it first.", freezer, first)
	default:
		return fmt.Sprintf("At %s °C it freezes: the first ice forms near %s °C, and in the freezer about %s %% of its weight would be ice, the rest stronger. Keep it in the fridge, or leave a tenth of the bottle empty: ice takes up more room than water.",
			freezer, first, fixed(100*h.FrozenInFreezer, 0))
	}
}

// keepingSentence is advice by strength, sugar and pH.
func keepingSentence(b *solver.Batch) string {
	h := &b.Holding
	const strongest = "However strong or sweet a mix is, it is held no longer"
	var parts []string
	acidity := "pH " + fixed(h.PH, 1)
	if b.Readings.PH.Within == 0 {
		acidity = "next to no acid"
	}
	bound := "So weak a mix no longer protects its parts as their own bottles did"
	about := fmt.Sprintf("It has %s %% vol, %s %% sugar by weight and %s", fixed(float64(h.Strength), 1), fixed(h.Sugar, 0), acidity)
	switch {
	case h.Fresh:
		bound = "A mix with something fresh in it is kept no longer"
		parts = append(parts, about+", and something fresh in it, which decides. Keep it in the fridge and make no more than that time uses up.")
	case h.Strength >= solver.SpiritStrength:
		bound = strongest
		parts = append(parts, about+": from 20 % vol on drinks are commonly held for weeks (common practice, no source), and what suffers first is the flavour. Keep it cold, closed and dark.")
	case h.Sugar >= solver.SyrupBrix:
		bound = strongest
		parts = append(parts, about+": as sweet as syrups that are commonly kept cold for weeks (common practice, no source). Keep it cold and closed.")
	case h.PH > solver.AcidFoodPH:
		parts = append(parts, about+": neither strong, nor very sweet, nor below the pH of 4.6 that bounds acid foods in the United States (21 CFR 114.3, which leaves alcoholic drinks out). Keep it in the fridge and make little of it.")
	default:
		parts = append(parts, about+": on the acid side of 4.6, the bound of acid foods in the United States (21 CFR 114.3, which leaves alcoholic drinks out), but too weak to keep by its alcohol. Keep it in the fridge.")
	}
	if h.Days > 0 {
		parts = append(parts, fmt.Sprintf("What keeps the shortest is the %s: %s.", h.KeptShort, h.Words))
	} else {
		parts = append(parts, "The pantry says of nothing in it how long it keeps.")
	}
	if h.UseWithin() == h.Days {
		parts = append(parts, "Use the batch up within "+useWithin(h)+".")
	} else {
		parts = append(parts, fmt.Sprintf("%s: use the batch up within %s, cold (common practice, no source).", bound, useWithin(h)))
	}
	return strings.Join(parts, " ")
}

// labelText is the text of a label, to be written out by hand.
func labelText(b *solver.Batch, unit liquidUnit) string {
	const blank = "____________"
	h := &b.Holding
	volume := b.Volume
	if b.Filling != nil {
		volume = b.Filling.Each
		if b.Filling.Containers == 1 {
			volume = b.Filling.Last
		}
	}
	state := "ready to pour"
	switch {
	case b.Dilution.Way == solver.DilutedForTheFridge:
		state = "partly diluted, for ice"
	case len(b.AtService) > 0:
		state = "to be finished at service"
	case b.Ice > 0:
		state = "undiluted, for ice"
	}
	keep := "in the fridge, closed"
	if float64(solver.Freezer-h.FreezingPoint) > nearlyFreezing && h.Strength >= solver.SpiritStrength {
		keep = "in the fridge or the freezer, closed"
	}
	lines := []string{
		drinkName(b.Serve) + ", " + state,
		unit.bulk(float64(volume)) + ", " + fixed(float64(b.Strength), 1) + " % vol",
		"made on  " + blank + "  by " + blank,
		"use by   " + blank + "  (made on + " + useWithin(h) + ")",
		"keep     " + keep,
		"contains " + orNone(h.Allergens),
	}
	if len(h.AtService) > 0 {
		lines = append(lines, "added at service: "+strings.Join(h.AtService, ", "))
	}
	return labelOf(lines)
}

// labelOf sets the lines of a label under its heading.
func labelOf(lines []string) string {
	out := "Label\n"
	for _, line := range lines {
		out += "  " + strings.ReplaceAll(wrapLabel(line), "\n", "\n           ") + "\n"
	}
	return out
}

// useWithin writes within what time a batch is to be used up, on the sheet and on
// the label: whole days, or less than one in whole hours or minutes.
func useWithin(h *solver.Holding) string {
	const roundOff = 1e-9
	time, unit := h.UseWithin(), "day"
	if time < 1 {
		time, unit = time*24, "hour"
	}
	if time < 1 {
		time, unit = time*60, "minute"
	}
	if time = math.Floor(time + roundOff); time != 1 {
		unit += "s"
	}
	return fixed(time, 0) + " " + unit
}

// orNone lists the allergens that the pantry names.
func orNone(allergens []string) string {
	if len(allergens) == 0 {
		return "no allergen that the pantry lists"
	}
	return strings.Join(allergens, ", ")
}

// wrapLabel breaks a line of a label, keeping the spaces within it.
func wrapLabel(line string) string {
	const indent = 11
	if len([]rune(line)) <= lineWidth-2 {
		return line
	}
	return wrap(line, lineWidth-indent)
}
