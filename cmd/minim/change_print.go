package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// printChanged writes a changed drink as the flags ask for it; jug is what goes
// into the batch on the table, nil where there is none.
func (f *flags) printChanged(c *solver.Changed, jug *solver.Jug, s streams) error {
	var err error
	switch {
	case f.spec:
		err = f.writeSpec(c.Spec, s)
	case f.json:
		err = writeValue(s.out, changedJSON(c, jug))
	default:
		err = writeChanged(s.out, c, jug, f)
	}
	if err != nil {
		return &writeError{err}
	}
	for _, note := range c.Notes {
		fmt.Fprintln(s.err, wrap("note: "+note, lineWidth))
	}
	if len(c.Broken) > 0 {
		return errLimitBroke
	}
	return nil
}

// writeChanged prints the pours and the properties before and after, and what
// there is to say.
func writeChanged(w io.Writer, c *solver.Changed, jug *solver.Jug, f *flags) error {
	unit := f.liquidUnit(c.Spec)
	var b strings.Builder
	writeTitle(&b, c.Answer, unit)
	if err := writePourChanges(&b, c, unit); err != nil {
		return err
	}
	writeService(&b, c.Answer, unit)
	if err := writePropertyChanges(&b, c, jug == nil && len(c.Nudges) == 0, unit); err != nil {
		return err
	}
	for _, s := range changeSentences(c, unit) {
		b.WriteString("\n" + wrap(s, lineWidth) + "\n")
	}
	if c.Remedy != nil {
		sentence, flag := remedySentence(c)
		b.WriteString("\n" + wrap(sentence, lineWidth) + "\n" + f.invocation(flag, c.Remedy.Name))
	}
	if jug != nil {
		if err := writeJug(&b, jug, unit); err != nil {
			return err
		}
	}
	writeCautions(&b, c.Cautions)
	_, err := io.WriteString(w, trimLines(b.String()))
	return err
}

func writePourChanges(b *strings.Builder, c *solver.Changed, unit liquidUnit) error {
	var before, after, moved []string
	var rows [][]string
	for i := range c.Pours {
		p := &c.Pours[i]
		before = append(before, pouredText(p.Ingredient, p.Before, p.BeforeBase, unit))
		after = append(after, pouredText(p.Ingredient, p.After, p.AfterBase, unit))
		if p.Before != nil && p.After != nil && p.Moved() && before[i] == after[i] {
			before[i], after[i] = fixed(unit.amount(p.BeforeBase), 2), fixed(unit.amount(p.AfterBase), 2)
		}
		word := ""
		switch {
		case p.Before == nil:
			word = "new"
		case p.After == nil:
			word = "out"
		case p.Moved() && p.Before.Unit == p.After.Unit && counted(p.After.Unit):
			word = signedAmount(p.After.Value - p.Before.Value)
		case p.Moved() && !unit.isOunce():
			word = signedAmount(unit.amount(p.AfterBase - p.BeforeBase))
		case p.Moved() && p.AfterBase > p.BeforeBase:
			word = "more"
		case p.Moved():
			word = "less"
		}
		moved = append(moved, word)
		when := ""
		if p.Stage == solver.OnTop {
			when = "top"
		}
		rows = append(rows, []string{"", "", "", p.Name, when})
	}
	if !unit.isOunce() {
		alignBare(before)
		alignBare(after)
	}
	for i := range rows {
		rows[i][0], rows[i][1], rows[i][2] = before[i], after[i], moved[i]
	}
	return writeTable(b, []tableColumn{
		{heading: "before, " + unit.heading(), right: true},
		{heading: "after, " + unit.heading(), right: true},
		{heading: "change", right: true, optional: true},
		{heading: "ingredient"},
		{optional: true},
	}, rows)
}

// signedAmount writes a change with its sign and as few decimals as it has.
func signedAmount(v float64) string {
	text := trimmed(v, 2)
	if v > 0 {
		text = "+" + text
	}
	return text
}

// pouredText writes an amount in the unit of the heading, or with its own unit
// where the bar weighs or counts it.
func pouredText(i *pantry.Ingredient, a *pantry.Amount, base float64, unit liquidUnit) string {
	switch {
	case a == nil:
		return ""
	case i.Solid || counted(a.Unit):
		return a.String()
	}
	return unit.number(base)
}

// alignBare aligns the bare numbers among cells on their points.
func alignBare(cells []string) {
	var numbers []string
	var at []int
	for i, s := range cells {
		if s != "" && !strings.ContainsAny(s, " ") {
			numbers, at = append(numbers, s), append(at, i)
		}
	}
	alignPoints(numbers)
	for n, i := range at {
		cells[i] = numbers[n]
	}
}

// writePropertyChanges compares the properties before and after; with the swap
// alone where there is one.
func writePropertyChanges(b *strings.Builder, c *solver.Changed, alone bool, unit liquidUnit) error {
	var rows [][]string
	for i := range c.Properties {
		p := &c.Properties[i]
		named, places, in := p.Property.Unit(), decimals[p.Property], func(v float64) float64 { return v }
		if p.Property == profile.Volume {
			named, places, in = unit.word(), unit.places(places), unit.amount
		}
		wanted, aloneJND, afterJND, word := "", "", "", ""
		if p.Held && (!alone || fixed(in(p.Wanted), places) != fixed(in(p.Before), places)) {
			wanted = fixed(in(p.Wanted), places)
		}
		if p.HasJND {
			aloneJND, afterJND = signed(p.AloneJND, 1), signed(p.AfterJND, 1)
			word = profile.Noticed(p.AfterJND)
		} else {
			m := solver.Miss{Property: p.Property, Low: p.Wanted, High: p.Wanted, Got: p.After, Off: p.After - p.Wanted}
			word = missWord(&m)
		}
		if !p.Held {
			word = "not held"
		}
		if !alone {
			aloneJND = ""
		}
		rows = append(rows, []string{
			p.Property.Name(), named, fixed(in(p.Before), places), wanted, aloneJND, fixed(in(p.After), places), afterJND, word,
		})
	}
	if alone && slices.ContainsFunc(rows, func(row []string) bool { return row[3] != "" }) {
		// Beside what is wanted and the swap alone there is no room for more.
		for _, row := range rows {
			row[7] = strings.TrimSuffix(row[7], " side by side")
		}
	}
	b.WriteString("\n")
	return writeTable(b, []tableColumn{
		{heading: "property"},
		{heading: "unit"},
		{heading: "before", right: true},
		{heading: "wanted", right: true, optional: true},
		{heading: "swap alone, JND", right: true, optional: true},
		{heading: "after", right: true},
		{heading: "JND", right: true},
		{heading: "a taster"},
	}, rows)
}

// changeSentences say what was put right, what cannot be and why.
func changeSentences(c *solver.Changed, unit liquidUnit) []string {
	out := farSentences(c.Far, goneFar(c), unit)
	out = append(out, ethanolSentence(c)...)
	var righted, left []string
	heldAll, wasOff := true, false
	for i := range c.Properties {
		p := &c.Properties[i]
		name := p.Property.Name()
		off := p.HasJND && math.Abs(p.AloneJND) >= profile.Perceptible
		switch {
		case !p.Held:
			heldAll = false
			continue
		case p.Noticed():
			left = append(left, name+" stays "+farOff(p, unit))
		case off:
			righted = append(righted, name)
		}
		wasOff = wasOff || off
	}
	together := len(left) == 0 && c.TotalJND >= profile.Perceptible
	compared := "computed"
	if !heldAll {
		compared = "held"
	}
	for _, b := range c.Broken {
		if slices.Contains(c.BrokenBefore, b.Written) {
			out = append(out, fmt.Sprintf("The limit %q was not kept before either, and is left as it was: it comes to %s.", b.Written, unit.reached(&b)))
			continue
		}
		out = append(out, fmt.Sprintf("The limit %q cannot be kept: the nearest comes to %s.", b.Written, unit.reached(&b)))
	}
	switch {
	case len(c.Nudges) > 0 && len(left) == 0:
		out = append(out, pourCount(c)+": on the properties "+compared+", it is where you want it.")
	case len(c.Nudges) > 0:
	case !wasOff && c.TotalJND < profile.Perceptible && c.Moved == 0:
		out = append(out, "Nobody could taste the difference in what is "+compared+"; no other pour moves.")
	case len(righted) > 0:
		out = append(out, fmt.Sprintf("Put right: %s. %s.", list(righted), pourCount(c)))
	default:
		out = append(out, pourCount(c)+".")
	}
	if together {
		out = append(out, fmt.Sprintf("All misses together make %s JND: each alone would not be noticed, together they may be.", fixed(c.TotalJND, 1)))
	}
	if len(left) > 0 {
		out = append(out, "What these pours cannot put right: "+list(left)+"."+tastesNow(c))
	}
	if c.Conflict != nil {
		out = append(out, apart(helpful(c), "these bottles", confined(c.Within))...)
		if !c.Conflict.Coarse && len(c.Limits) > 0 && fixed(c.Limits[0].Price, 2) != "0.00" {
			out = append(out, back(c.Limits[0]))
		}
	}
	out = append(out, bodyAndStrength(c, unit)...)
	out = append(out, atLeastSentences(c)...)
	for _, u := range c.Unknown {
		out = append(out, unknownSentence(c, u))
	}
	if len(c.NotComputed) > 0 {
		matches := "Taste it"
		switch {
		case len(left) > 0 || together:
		case heldAll:
			matches = "The numbers match; taste it"
		default:
			matches = "What is held matches; taste it"
		}
		out = append(out, matches+": aroma, smoke, peel, tannin and heat are not computed.")
	}
	if !c.Solution.Proven || !c.Solution.PreferenceProven {
		out = append(out, "This is the best found; the search was cut short before it could rule out fewer changes.")
	}
	return out
}

// confined says within what a property is out of reach.
func confined(w solver.Confines) string {
	var ways []string
	if w.HalfToDouble {
		ways = append(ways, "no pour goes below half or above double of what it was")
	}
	if w.AsItWas {
		ways = append(ways, "what the change leaves as it was stays so")
	}
	if w.Limits {
		ways = append(ways, "your limits are kept")
	}
	if len(ways) == 0 {
		return ""
	}
	return " as long as " + list(ways)
}

// farOff says how far a property is from what it is held to.
func farOff(p *solver.PropertyChange, unit liquidUnit) string {
	off, in, low, high := p.AfterJND, "JND", "too low", "too high"
	if !p.HasJND {
		off, in, low, high = p.After-p.Wanted, p.Property.Unit(), "short", "over"
	}
	places := 1
	if p.Property == profile.Volume {
		off, in, places = unit.amount(off), unit.word(), unit.places(places)
	}
	direction := low
	if off > 0 {
		direction = high
	}
	return fmt.Sprintf("%s %s %s", fixed(math.Abs(off), places), in, direction)
}

// unknownSentence says why a property is not held, and how far off what is known
// of it comes out.
func unknownSentence(c *solver.Changed, u solver.UnknownProperty) string {
	name := u.Property.Name()
	text := fmt.Sprintf("%s is not held: what %s brings of it is not known.", strings.ToUpper(name[:1])+name[1:], list(u.Names))
	for i := range c.Properties {
		if p := &c.Properties[i]; p.Property == u.Property && p.HasJND && math.Abs(p.AfterJND) >= profile.Perceptible {
			text += " What is known of it comes out " + farOff(p, millilitres) + "."
		}
	}
	return text
}

// pourCount says how many pours moved.
func pourCount(c *solver.Changed) string {
	what := "other pour"
	if len(c.Nudges) > 0 || len(c.NotComputed) == 0 {
		what = "pour"
	}
	fewest := ", and no drink with fewer comes as near"
	if c.FromReference {
		fewest = "; counted from the drink that it came from, no drink with fewer comes as near"
	}
	switch c.Moved {
	case 0:
		return "No " + what + " moves"
	case 1:
		return "1 " + what + " moves" + fewest
	}
	return fmt.Sprintf("%d %ss move%s", c.Moved, what, fewest)
}
