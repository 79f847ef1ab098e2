package main

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

var nudgeCommand = command{
	name:     "nudge",
	synopsis: "nudge FILE",
	summary:  "a step more of this, less of that",
	about: `Moves a finished drink by what a taster can just tell, and holds the rest of it:
--more sour is one such step, --more sour=2 two. Words are sour, sweet, salty,
bitter, savoury, strong, thick and long, or the name of a property. As few pours
move as can; where it is to be less strong, water may come in unasked. Where no
pour gets there, it says what does. With --jug it also says what to add to the
batch on the table: so many ml of the mix, before ice and top. Only adding can
correct a jug; where that does not get there, it says how far it gets.`,
	example: `minim nudge examples/morning-tide.yaml --more sour --jug 2L`,
	schema:  "nudge",
	flags: func(f *flags) {
		f.set.StringArrayVar(&f.change.more, "more", nil, "what there should be more of, a `TASTE` such as sour; =2 for two steps (repeatable)")
		f.set.StringArrayVar(&f.change.less, "less", nil, "what there should be less of, a `TASTE` likewise (repeatable)")
		f.set.StringVar(&f.change.jug, "jug", "", "the `VOLUME` of mix on the table, before ice and top, such as 2L")
		f.set.StringArrayVar(&f.change.from, "from", nil, "what may be added besides the drink's own pours, `NAMES` with commas between")
		f.set.StringArrayVar(&f.change.keep, "keep", nil, "pours that do not move, `NAMES` with commas between")
		f.specFlags("print the new spec")
	},
	run: nudge,
}

func nudge(f *flags, s streams) error {
	if len(f.args) != 1 {
		return fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	q := solver.NudgeQuestion{Shelf: shelf, Keep: commaList(f.change.keep), From: commaList(f.change.from)}
	if q.Nudges, err = f.change.nudges(); err != nil {
		return err
	}
	if f.change.jug != "" {
		if !strings.ContainsFunc(f.change.jug, unicode.IsLetter) {
			return fmt.Errorf("--jug %q; expected a unit behind it, such as 2L or 500ml", f.change.jug)
		}
		if q.Jug, err = pantry.ParseVolume(f.change.jug); err != nil {
			return fmt.Errorf("--jug: %w", err)
		}
	}
	if q.Spec, err = f.readSpec(f.args[0], s); err != nil {
		return err
	}
	if q.Shelf, err = f.withPreps(q.Shelf, q.Spec); err != nil {
		return err
	}
	changed, jug, err := solver.Nudged(q)
	if err != nil {
		return named(q.Spec, err)
	}
	return f.printChanged(changed, jug, s)
}

// tasteWords are what people say after tasting, and the property and direction
// that they mean.
var tasteWords = map[string]solver.Nudge{
	"sour": {Property: profile.Acid, Steps: 1}, "sharp": {Property: profile.Acid, Steps: 1}, "tart": {Property: profile.Acid, Steps: 1},
	"sweet": {Property: profile.Sugar, Steps: 1}, "dry": {Property: profile.Sugar, Steps: -1},
	"salty": {Property: profile.Salt, Steps: 1}, "savoury": {Property: profile.Umami, Steps: 1}, "savory": {Property: profile.Umami, Steps: 1},
	"strong": {Property: profile.Strength, Steps: 1}, "weak": {Property: profile.Strength, Steps: -1},
	"thick": {Property: profile.Viscosity, Steps: 1}, "thin": {Property: profile.Viscosity, Steps: -1}, "body": {Property: profile.Viscosity, Steps: 1},
	"long": {Property: profile.Volume, Steps: 1}, "short": {Property: profile.Volume, Steps: -1},
}

// mostNudge is the most that one nudge moves.
const mostNudge = 20

// nudges reads --more and --less.
func (c *changeFlags) nudges() ([]solver.Nudge, error) {
	var out []solver.Nudge
	for _, side := range []struct {
		flag  string
		words []string
		sign  float64
	}{{"more", c.more, 1}, {"less", c.less, -1}} {
		for _, text := range commaList(side.words) {
			word, count, counted := strings.Cut(text, "=")
			n, err := nudgeWord(strings.TrimSpace(word))
			if err != nil {
				return nil, fmt.Errorf("--%s: %w", side.flag, err)
			}
			steps := 1.0
			if counted {
				steps, err = strconv.ParseFloat(strings.TrimSpace(count), 64)
				if err != nil || !(steps > 0 && steps <= mostNudge) || math.IsNaN(steps) {
					return nil, fmt.Errorf("--%s %q; expected a number of steps above 0 and at most %d, such as %s=2", side.flag, text, mostNudge, word)
				}
			}
			n.Steps *= steps * side.sign
			out = append(out, n)
		}
	}
	return out, nil
}

func nudgeWord(word string) (solver.Nudge, error) {
	folded := pantry.Fold(word)
	if n, ok := tasteWords[folded]; ok {
		return n, nil
	}
	if p, ok := profile.PropertyNamed(folded); ok {
		return solver.Nudge{Property: p, Steps: 1}, nil
	}
	return solver.Nudge{}, fmt.Errorf("%q is no taste or property; %s", word, pantry.Suggest(word, nudgeWords(), 2))
}

// nudgeWords are what --more and --less take, in order.
func nudgeWords() []string {
	known := slices.AppendSeq(profile.PropertyNames(), maps.Keys(tasteWords))
	slices.Sort(known)
	return known
}

// writeJug says what goes into the batch on the table.
func writeJug(b *strings.Builder, j *solver.Jug, unit liquidUnit) error {
	heading := fmt.Sprintf("In the jug: %s of the mix, before ice and top, %s serves of %s",
		unit.volume(float64(j.Volume)), fixed(j.Serves, 1), inServe(j.ServeBefore, unit))
	b.WriteString("\n" + wrap(heading, lineWidth) + "\n\n")
	if len(j.Additions) == 0 {
		b.WriteString("Nothing that can be added brings it nearer.\n")
	} else {
		amounts := make([]string, len(j.Additions))
		rows := make([][]string, len(j.Additions))
		for i := range j.Additions {
			if a := &j.Additions[i]; a.Ingredient.Solid {
				amounts[i], rows[i] = trimmed(a.Base, 2), []string{"", a.Amount.Unit.String(), a.Name}
			} else {
				amounts[i], rows[i] = unit.number(a.Base), []string{"", unit.heading(), a.Name}
			}
		}
		if !unit.isOunce() {
			alignPoints(amounts)
		}
		for i := range rows {
			rows[i][0] = amounts[i]
		}
		if err := writeTable(b, []tableColumn{{heading: "add", right: true}, {heading: "unit"}, {heading: "ingredient"}}, rows); err != nil {
			return err
		}
	}
	var rows [][]string
	for i := range j.Properties {
		p := &j.Properties[i]
		places := decimals[p.Property]
		rows = append(rows, []string{
			p.Property.Name(), p.Property.Unit(), fixed(p.Before, places), fixed(p.Wanted, places), fixed(p.After, places),
			signed(p.AfterJND, 1), profile.Noticed(p.AfterJND),
		})
	}
	b.WriteString("\n")
	err := writeTable(b, []tableColumn{
		{heading: "in a serve"},
		{heading: "unit"},
		{heading: "was", right: true},
		{heading: "wanted", right: true},
		{heading: "will be", right: true},
		{heading: "JND", right: true},
		{heading: "a taster"},
	}, rows)
	if err != nil {
		return err
	}
	b.WriteString("\n" + wrap(jugSentence(j, unit), lineWidth) + "\n")
	return nil
}

// jugSentence says how far adding gets, and how to pour what is in the jug then.
func jugSentence(j *solver.Jug, unit liquidUnit) string {
	var far []string
	for i := range j.Properties {
		p := &j.Properties[i]
		if math.Abs(p.AfterJND) >= profile.Perceptible {
			places := decimals[p.Property]
			far = append(far, fmt.Sprintf("%s comes to %s %s, not %s", p.Property.Name(), fixed(p.After, places), p.Property.Unit(), fixed(p.Wanted, places)))
		}
	}
	text := fmt.Sprintf("The jug then holds %s: %s serves of %s.", unit.volume(float64(j.VolumeAfter)), fixed(j.ServesAfter, 1), inServe(j.ServeAfter, unit))
	if len(far) > 0 {
		text = "Adding alone, up to a quarter more to drink, does not get there: " + list(far) + ". " + text
	}
	if !j.Proven {
		text += " The search was cut short: fewer or smaller additions are not ruled out."
	}
	return text
}

// inServe writes how much of the mix a serve takes, to a tenth of a ml or a
// hundredth of an ounce.
func inServe(v profile.Millilitre, unit liquidUnit) string {
	if unit.isOunce() {
		return fixed(unit.amount(float64(v)), 2) + " " + unit.word()
	}
	return unit.tenths(float64(v)) + " " + unit.word()
}
