package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"minim/pantry"
	"minim/solver"
)

// batchPrep answers for a prep.
func (f *flags) batchPrep(q *solver.BatchQuestion, s streams) error {
	switch {
	case f.cost.price != "" || f.cost.margin != "":
		return errors.New("--price or --margin of a prep; expected --cost, or a drink")
	case q.FreshIn:
		return errors.New("--fresh in of a prep; expected a drink: all of a prep is mixed beforehand")
	}
	batch, err := solver.MakePrepBatch(*q)
	if err != nil {
		return named(q.Spec, err)
	}
	if f.json {
		err = writePrepBatchJSON(s.out, batch)
	} else {
		err = writePrepBatch(s.out, batch, f.liquidUnit(batch.Making.Spec))
	}
	return f.remarks(batch.Making, s, err)
}

// writePrepBatch prints what is weighed for a prep, what is done with it, what
// comes of it and what to buy.
func writePrepBatch(w io.Writer, b *solver.PrepBatch, unit liquidUnit) error {
	var out strings.Builder
	prep := b.Making.Prep
	say := func(text string) {
		if text != "" {
			out.WriteString("\n" + wrap(text, lineWidth) + "\n")
		}
	}
	out.WriteString(wrap(fmt.Sprintf("%s, %s of it: %s times one making", drinkName(b.Making), unit.bulk(float64(b.Volume)), trimmed(b.Times, 2)), lineWidth) + "\n\n")
	if err := writeSheet(&out, b.Rows, "one making", unit); err != nil {
		return err
	}
	say(dissolving(b))
	say(coarseSentence(b.Rows, "one making"))
	writeNumbered(&out, b.Steps)
	say(fillingSentence(b.Filling, unit))
	say(underPressure(b.Steps))
	rows := [][]string{{"weight", "g", fixed(float64(b.Mass), 0), ""}}
	rows = append(rows, keptFigures(prep)...)
	out.WriteString("\n")
	if err := writeTable(&out, []tableColumn{{heading: "makes"}, {heading: "unit"}, {heading: "value", right: true}, {optional: true}}, rows); err != nil {
		return err
	}
	if err := writeReadings(&out, &b.Readings, "the prep by itself", prep.Ingredient.Bubbles()); err != nil {
		return err
	}
	say(allergenLine(prep.Ingredient))
	if len(prep.Unpriced) > 0 {
		say("The cost is unknown: no price for " + list(prep.Unpriced) + ".")
	}
	writeCautions(&out, b.Making.Cautions)
	out.WriteString("\n" + prepLabel(b, unit))
	if err := writeShopping(&out, b.Make, b.Buy, unit); err != nil {
		return err
	}
	_, err := io.WriteString(w, trimLines(out.String()))
	return err
}

// underPressure says how a carbonated prep is bottled; common practice, no
// source.
func underPressure(steps []pantry.PrepStep) string {
	if !slices.ContainsFunc(steps, func(s pantry.PrepStep) bool { return s.Kind == pantry.Carbonate }) {
		return ""
	}
	return "It is under pressure. Chill it first, and keep it cold while it takes up the gas and while it is filled. Use bottles or kegs that are made for the pressure, " +
		"leave head space, and follow the limits that their maker gives: bottles that are not made for pressure burst."
}

// prepLabel is what goes onto each container of a prep.
func prepLabel(b *solver.PrepBatch, unit liquidUnit) string {
	const blank = "____________"
	i, makes := b.Making.Prep.Ingredient, b.Making.Prep.Spec.Makes
	volume := b.Volume
	if b.Filling != nil {
		volume = b.Filling.Each
		if b.Filling.Containers == 1 {
			volume = b.Filling.Last
		}
	}
	measured := unit.bulk(float64(volume))
	if strength := i.Figures[pantry.StrengthPercent]; strength.Known && strength.Value > 0 {
		measured += ", " + fixed(strength.Value, 1) + " % vol"
	}
	useBy, keep := blank, blank
	if i.Keeps != "" {
		useBy, keep = useBy+"  (made on + "+makes.Keeps.String()+")", orBlank(makes.Store.String(), blank)
	}
	lines := []string{
		drinkName(b.Making), measured, "made on  " + blank + "  by " + blank, "use by   " + useBy, "keep     " + keep, "contains " + orNone(i.Allergens),
	}
	if underPressure(b.Steps) != "" {
		lines = append(lines, "under pressure: keep cold, open with care")
	}
	return labelOf(lines)
}

func orBlank(text, blank string) string {
	if text == "" {
		return blank
	}
	return text
}

// dissolving says how the lines of the sheet come together. Gums clump when they
// are stirred in, and agar dissolves in boiling liquid alone; common practice, no
// source.
func dissolving(b *solver.PrepBatch) string {
	var sprinkled, boiled []string
	for i := range b.Rows {
		switch r := &b.Rows[i]; {
		case r.Ingredient.IsBoiledGum():
			boiled = append(boiled, r.Name)
		case r.Ingredient.IsGum():
			sprinkled = append(sprinkled, r.Name)
		}
	}
	if len(sprinkled)+len(boiled) == 0 {
		return "Weigh from the top into one vessel, and stir until everything is dissolved."
	}
	text := fmt.Sprintf("Weigh from the top into one vessel, but the %s apart, and stir until all else is dissolved.", list(append(slices.Clone(boiled), sprinkled...)))
	if len(boiled) > 0 {
		text += fmt.Sprintf(" Sprinkle the %s in and boil it for two minutes, whisking: it dissolves in nothing cooler.", list(boiled))
	}
	switch {
	case len(sprinkled) == 0:
		return text
	case len(boiled) > 0:
		text += fmt.Sprintf(" Sprinkle the %s in while blending,", list(sprinkled))
	default:
		text += " Sprinkle it in while blending,"
	}
	return text + " little by little, else it clumps; then let it stand until it is smooth and the foam is gone."
}

// The JSON of a batch of a prep: the keys of one making as an answer, and batch.
type (
	jsonPrepBatchAnswer struct {
		*jsonAnswer
		Batch jsonPrepBatch `json:"batch"`
	}
	jsonPrepBatch struct {
		Makings  float64        `json:"makings"`
		Rows     []jsonBatchRow `json:"rows"`
		Weighing []string       `json:"weighing"`
		Steps    []string       `json:"steps"`
		Said     []string       `json:"sentences"`
		Pressure string         `json:"under_pressure"`
		Volume   float64        `json:"volume_ml"`
		Mass     float64        `json:"g"`
		Filling  *jsonFilling   `json:"filling"`
		Readings jsonReadings   `json:"readings"`
		Label    string         `json:"label"`
		Buy      []jsonPurchase `json:"buy"`
		Make     []jsonPurchase `json:"make"`
	}
)

func writePrepBatchJSON(w io.Writer, b *solver.PrepBatch) error {
	out := jsonPrepBatch{
		Makings: digits(b.Times), Rows: batchRowsJSON(b.Rows), Weighing: thoseSaid(dissolving(b), coarseSentence(b.Rows, "one making")),
		Steps: []string{}, Said: []string{}, Pressure: underPressure(b.Steps),
		Volume: digits(float64(b.Volume)), Mass: digits(float64(b.Mass)), Filling: fillingJSON(b.Filling),
		Readings: readingsJSON(&b.Readings), Label: prepLabel(b, millilitres), Buy: purchasesJSON(b.Buy), Make: purchasesJSON(b.Make),
	}
	for n := range b.Steps {
		out.Steps = append(out.Steps, b.Steps[n].Text())
		out.Said = append(out.Said, b.Steps[n].Sentence())
	}
	return writeValue(w, &jsonPrepBatchAnswer{answerJSON(b.Making), out})
}
