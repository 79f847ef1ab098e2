package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// writeBatch prints a batch: the sheet, what is added at service, how it is
// filled, what the instruments should read, how it keeps, a label, what to buy
// and what it costs.
func writeBatch(w io.Writer, b *solver.Batch, cost *pricing, unit liquidUnit) error {
	var out strings.Builder
	out.WriteString(wrap(batchTitle(b, unit), lineWidth) + "\n\n")
	if err := writeSheet(&out, b.Rows, "spec's serve", unit); err != nil {
		return err
	}
	say := func(text string) {
		if text != "" {
			out.WriteString("\n" + wrap(text, lineWidth) + "\n")
		}
	}
	say(orderSentence(b))
	say(coarseSentence(b.Rows, "single serves"))
	say(serviceSentence(b, unit))
	if err := writeAtService(&out, b, unit); err != nil {
		return err
	}
	if finish := b.Serve.Spec.Finish; len(finish) > 0 {
		out.WriteString("\n" + wrap("finish: "+strings.Join(finish, ", "), lineWidth) + "\n")
	}
	say(waterSentence(b))
	say(fillingSentence(b.Filling, unit))
	say(closeness(b))
	for _, broken := range b.Serve.Broken {
		say(fmt.Sprintf("The limit %q is broken: it comes to %s.", broken.Written, unit.reached(&broken)))
	}
	if err := writeReadings(&out, &b.Readings, "the drink", false); err != nil {
		return err
	}
	for _, text := range holdingSentences(b) {
		say(text)
	}
	writeCautions(&out, b.Cautions)
	out.WriteString("\n" + labelText(b, unit))
	if err := writeShopping(&out, b.Make, b.Buy, unit); err != nil {
		return err
	}
	if cost != nil {
		say(cost.sentence(b.Serves))
	}
	_, err := io.WriteString(w, trimLines(out.String()))
	return err
}

func batchTitle(b *solver.Batch, unit liquidUnit) string {
	return fmt.Sprintf("%s for %s, %s to mix beforehand", drinkName(b.Serve), servesInWords(b.Serves), unit.bulk(float64(b.Volume)))
}

func servesInWords(serves float64) string {
	if serves == 1 {
		return "1 serve"
	}
	return trimmed(serves, 1) + " serves"
}

// writeSheet prints what is weighed; whole heads the column of what the spec says.
func writeSheet(b *strings.Builder, sheet []solver.BatchRow, whole string, unit liquidUnit) error {
	var grams, running, volumes []string
	var rows [][]string
	for i := range sheet {
		r := &sheet[i]
		name := r.Name
		if r.Ingredient == nil {
			name = "water in place of ice"
		}
		ml := ""
		if r.Millilitres > 0 {
			ml = unit.onTheJug(float64(r.Millilitres))
		}
		grams = append(grams, fixed(float64(r.Grams), r.Places))
		running = append(running, fixed(float64(r.Running), scalePlaces(sheet)))
		volumes = append(volumes, ml)
		rows = append(rows, []string{"[ ]", "", "", "", shortened(name, sheetNames), perServe(r, unit)})
	}
	alignPoints(grams)
	if !unit.isOunce() {
		alignPoints(volumes)
	}
	for i := range rows {
		rows[i][1], rows[i][2], rows[i][3] = grams[i], running[i], volumes[i]
	}
	return writeTable(b, []tableColumn{
		{},
		{heading: "g", right: true},
		{heading: "scale shows", right: true},
		{heading: unit.heading(), right: true},
		{heading: "ingredient"},
		{heading: whole, right: true},
	}, rows)
}

// The most characters of a name that leave room for the other columns.
const (
	sheetNames    = 26
	serviceNames  = 22
	shoppingNames = 26
)

// scalePlaces is how many decimals the large scale shows, on which all of it
// stands.
func scalePlaces(sheet []solver.BatchRow) int {
	places := sheet[0].Places
	for i := range sheet {
		places = min(places, sheet[i].Places)
	}
	return places
}

// perServe is what one serve takes, as the bar measures it.
func perServe(r *solver.BatchRow, unit liquidUnit) string {
	switch {
	case counted(r.Amount.Unit):
		return r.Amount.String()
	case r.Ingredient != nil && r.Ingredient.Solid:
		return trimmed(r.PerServe, 2) + " g"
	case r.Ingredient == nil:
		return unit.sized(math.Round(10*r.PerServe) / 10)
	}
	return unit.sized(r.PerServe)
}

// orderSentence says why powders come where they do.
func orderSentence(b *solver.Batch) string {
	liquid := false
	for i := range b.Rows {
		r := &b.Rows[i]
		if r.Ingredient == nil || !r.Ingredient.Solid {
			liquid = true
			continue
		}
		if liquid {
			return fmt.Sprintf("Weigh from the top. Stir until the %s is dissolved before the next line goes in; what holds alcohol goes in last. Stir well at the end.", r.Name)
		}
		return fmt.Sprintf("Weigh from the top. The %s goes in dry: stir until it is dissolved. Stir well at the end.", r.Name)
	}
	return "Weigh from the top into one vessel, and stir well at the end."
}

// coarse is the part of an amount from which a step of the scale is too much of
// it; common practice, no source.
const coarse = 0.2

// coarseSentence names what the batch has too little of for its scale.
func coarseSentence(sheet []solver.BatchRow, single string) string {
	var names []string
	for i := range sheet {
		if r := &sheet[i]; float64(r.Step) > coarse*float64(r.Grams) {
			names = append(names, r.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("The scale is too coarse for so little of the %s: measure it as for %s, or make more.", list(names), single)
}

// serviceSentence says what one serve takes of the batch.
func serviceSentence(b *solver.Batch, unit liquidUnit) string {
	text := fmt.Sprintf("Each serve: %s %s (%s g) of the batch", unit.onTheJug(float64(b.Volume)/b.Serves), unit.word(), fixed(float64(b.Mass)/b.Serves, 1))
	if len(b.AtService) > 0 {
		text += ", and add at service:"
	} else if b.Ice > 0 {
		text += fmt.Sprintf(", then %s on ice.", b.Serve.Spec.Ice.Method.Name())
	} else {
		text += ", poured cold."
	}
	return text
}

func writeAtService(b *strings.Builder, batch *solver.Batch, unit liquidUnit) error {
	if len(batch.AtService) == 0 {
		return nil
	}
	var rows [][]string
	for i := range batch.AtService {
		r := &batch.AtService[i]
		amount, total := "", unit.bulk(r.Total)
		switch {
		case r.Ingredient.Solid || counted(r.Amount.Unit):
			total = pantry.Amount{Value: roundedUp(r.Amount.Value*batch.Serves, r.Amount.Unit), Unit: r.Amount.Unit}.String()
			amount = r.Amount.String()
		default:
			amount = unit.sized(r.Base)
		}
		if r.Stage == solver.InMix && batch.Ice > 0 {
			amount += ", before the ice"
		} else if r.Stage == solver.OnTop {
			amount += ", on top"
		}
		rows = append(rows, []string{shortened(r.Name, serviceNames), amount, r.Why, total})
	}
	return writeTable(b, []tableColumn{
		{heading: "at service"}, {heading: "in a serve"}, {heading: "why not before"}, {heading: "for all", right: true},
	}, rows)
}

// roundedUp is how many are needed: whole ones of what is counted, tenths of
// what is weighed.
func roundedUp(amount float64, u pantry.Unit) float64 {
	const roundOff = 1e-9
	if counted(u) {
		return math.Ceil(amount - roundOff)
	}
	return math.Ceil(10*amount-roundOff) / 10
}

// waterSentence says what was done about the ice's water.
func waterSentence(b *solver.Batch) string {
	method := b.Serve.Spec.Ice.Method.Name()
	why := ""
	if b.Dilution.Why != "" {
		why = ", since " + b.Dilution.Why
	}
	switch b.Dilution.Way {
	case solver.FullyDiluted:
		return fmt.Sprintf("All the water that ice would bring is measured in%s. Pour it without ice, and as cold as you can: on ice it would be served at %s °C, out of the fridge it is near %s.",
			why, fixed(float64(b.Serve.Temperature), 0), fixed(float64(solver.ColdBatch), 0))
	case solver.DilutedForTheFridge:
		return fmt.Sprintf("Part of the ice's water is measured in: from %s °C, %s brings the rest.", fixed(float64(solver.ColdBatch), 0), method)
	}
	if b.Ice == 0 {
		return ""
	}
	return fmt.Sprintf("No water is measured in%s. The serves take about %s kg of ice.", why, fixed(float64(b.Ice)/1000, 1))
}

func fillingSentence(f *solver.Filling, unit liquidUnit) string {
	if f == nil {
		return ""
	}
	what := fmt.Sprintf("%s (%s g)", unit.bulk(float64(f.Each)), fixed(float64(f.Weight), 0))
	if f.Empty > 0 {
		return fmt.Sprintf("The keg takes %s and keeps %s empty.", what, unit.bulk(float64(f.Empty)))
	}
	each := ""
	if f.Serves > 0 {
		each = fmt.Sprintf("%s to a bottle", servesInWords(math.Round(10*f.Serves)/10))
	}
	switch short := f.Each - f.Last; {
	case math.Abs(float64(short)) <= fullBottle*float64(f.Each) && f.Containers == 1:
		return fmt.Sprintf("It fills 1 bottle with %s%s.", what, behind(", ", each))
	case math.Abs(float64(short)) <= fullBottle*float64(f.Each):
		return fmt.Sprintf("It fills %d bottles with %s each, the last one too%s.", f.Containers, what, behind("; ", each))
	case f.Containers == 1:
		return fmt.Sprintf("It goes into 1 bottle, which holds %s of it.", unit.bulk(float64(f.Last)))
	default:
		return fmt.Sprintf("It goes into %d bottles: %s in each, %s in the last%s.", f.Containers, what, unit.bulk(float64(f.Last)), behind("; ", each))
	}
}

// behind is text after a mark; nothing where there is none.
func behind(mark, text string) string {
	if text == "" {
		return ""
	}
	return mark + text
}

// fullBottle is how far, as a part, the last bottle may be off the others and
// be called as full: what the scale rounds.
const fullBottle = 0.005

// closeness says how far a serve of the batch is from what is wanted, beside
// that of scaling the serve.
func closeness(b *solver.Batch) string {
	from := "the spec's serve"
	if len(b.Serve.Misses) > 0 {
		from = "the target"
	}
	text := fmt.Sprintf("A serve of it is %s JND from %s in all, %s", fixed(b.JND, 2), from, profile.Noticed(b.JND))
	if b.ScaledJND >= b.JND+0.005 {
		text += fmt.Sprintf("; the poured serve times %s would be %s. A scale is finer than a jigger, so what the spec leaves open is weighed up to half a measure nearer to the target", trimmed(b.Serves, 1), fixed(b.ScaledJND, 2))
	}
	text += "."
	for i := range b.Misses {
		if m := &b.Misses[i]; m.Perceptible() {
			text += " " + offBy(m)
		}
	}
	return text
}

// offBy says how far one property of a serve of the batch is from its target,
// and of gas that nothing brings what would.
func offBy(m *solver.Miss) string {
	way := "too high"
	if m.JND < 0 {
		way = "too low"
	}
	places := decimals[m.Property]
	text := fmt.Sprintf("Its %s is %s where %s is wanted, %s JND %s.",
		m.Property.Name(), inItsUnit(m.Got, m.Property, places), inItsUnit(m.Got-m.Off, m.Property, places), fixed(math.Abs(m.JND), 1), way)
	if m.Property == profile.CarbonDioxide && m.Got == 0 {
		text += " Nothing in it is carbonated: write a prep with `carbonate:` for that."
	}
	return text
}

func inItsUnit(v float64, p profile.Property, places int) string {
	return strings.TrimSpace(fixed(v, places) + " " + p.Unit())
}

// writeReadings prints what instruments should show; of is what half a JND is
// counted in, bubbles whether there is gas to be got out first.
func writeReadings(b *strings.Builder, r *solver.Readings, of string, bubbles bool) error {
	sg := float64(profile.SpecificGravityOf(profile.KilogramPerCubicMetre(1000 * r.Density.Value)))
	perDensity := sg / r.Density.Value
	row := func(name, unit string, v solver.Reading, factor float64, places int) []string {
		within, speaks := "", ""
		if v.Within > 0 {
			within, speaks = "± "+fixed(v.Within*factor, places), v.Property.Name()
		}
		return []string{name, unit, fixed(v.Value*factor, places), within, speaks}
	}
	rows := [][]string{
		row("refractometer", "°Bx", r.Brix, 1, 1),
		row("hydrometer", "g/ml", r.Density, 1, 4),
		row("", "SG", r.Density, perDensity, 4),
	}
	if r.PH.Within > 0 {
		rows = append(rows, row("pH meter", "", r.PH, 1, 2))
	}
	b.WriteString("\n")
	if err := writeTable(b, []tableColumn{
		{heading: "reading at 20 °C"},
		{heading: "unit"},
		{heading: "should be", right: true},
		{heading: "still right", right: true},
		{heading: "speaks for"},
	}, rows); err != nil {
		return err
	}
	text := ""
	if bubbles {
		text = "Read it degassed: before it is carbonated, or of a sample with the gas shaken out. "
	}
	text += "Still right is what half a JND in " + of + " moves a reading by."
	if r.PH.Within == 0 {
		text += " A pH meter tells nothing of it: there is next to no acid in it."
	}
	if len(r.Unsure) > 0 {
		text += fmt.Sprintf(" Not all figures are known of %s: take the reading of a batch that tasted right for the rule.", list(r.Unsure))
	}
	b.WriteString("\n" + wrap(text, lineWidth) + "\n")
	return nil
}
