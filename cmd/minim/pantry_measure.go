package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"minim/pantry"
)

var pantryMeasureCommand = command{
	name:     "pantry measure",
	synopsis: "pantry measure COMMAND",
	summary:  "an unknown, from what your instruments or its recipe say",
	about: `Turns readings or a recipe into an ingredient, each figure with its ±. Readings
carry their unit or are taken in the one named, and a ± of their own may follow:
--brix "32.5 ± 0.3". --out FILE appends the ingredient to your own CSV.`,
	commands: []command{
		measureLiqueurCommand, measureTitrationCommand, measureSyrupCommand, measureSalineCommand, measureAcidCommand,
		measureInfusionCommand, measureAdjustCommand, measureDashCommand, measureBitternessCommand,
	},
}

// measureFlags are the readings of a measurement as typed.
type measureFlags struct {
	texts            map[string]*string
	lists            map[string]*[]string
	compensated, raw bool
}

// reading adds a flag for a reading, a name or a recipe's amount.
func (f *flags) reading(name, usage string) {
	if f.measured.texts == nil {
		f.measured.texts = map[string]*string{}
	}
	text := new(string)
	f.measured.texts[name] = text
	f.set.StringVar(text, name, "", usage)
}

// several adds a flag that may be given more than once.
func (f *flags) several(name, usage string) {
	if f.measured.lists == nil {
		f.measured.lists = map[string]*[]string{}
	}
	list := new([]string)
	f.measured.lists[name] = list
	f.set.StringArrayVar(list, name, nil, usage)
}

// measuredOut adds the flag that appends the result.
func (f *flags) measuredOut() {
	f.outFlag("append the ingredient to your own CSV `FILE`, which is made where there is none")
}

// text is what was typed for a flag.
func (f *flags) text(name string) string {
	return strings.Join(strings.Fields(*f.measured.texts[name]), " ")
}

// needed refuses a command line without these flags.
func (f *flags) needed(names ...string) error {
	if len(f.args) > 0 {
		return fmt.Errorf("%q; expected flags alone", f.args[0])
	}
	var missing []string
	for _, name := range names {
		if !f.given(name) {
			missing = append(missing, "--"+name)
		}
	}
	if len(missing) > 0 {
		return fmt.Errorf("%s was not given; expected it, see `minim help %s`", list(missing), f.command.name)
	}
	return nil
}

// quantity reads a flag as a number with a unit; nil where it was not given.
func quantity[Unit ~float64](f *flags, name string, units pantry.Quantities) (*pantry.Measurement[Unit], error) {
	if !f.given(name) {
		return nil, nil
	}
	value, spread, err := pantry.ParseQuantity(f.text(name), units)
	if err != nil {
		return nil, fmt.Errorf("--%s: %w", name, err)
	}
	return &pantry.Measurement[Unit]{Value: Unit(value), Spread: Unit(spread)}, nil
}

// collect takes several quantities at once and keeps the first error.
type collect struct {
	flags *flags
	err   error
}

// take returns the quantity of a flag, the zero one where it was not given.
func take[Unit ~float64](c *collect, name string, units pantry.Quantities) (m pantry.Measurement[Unit]) {
	if p := maybe[Unit](c, name, units); p != nil {
		return *p
	}
	return m
}

// maybe returns the quantity of a flag, nil where it was not given.
func maybe[Unit ~float64](c *collect, name string, units pantry.Quantities) *pantry.Measurement[Unit] {
	m, err := quantity[Unit](c.flags, name, units)
	if c.err == nil {
		c.err = err
	}
	return m
}

// solvent reads --water or --made-up-to.
func solvent(c *collect) pantry.Solvent {
	var s pantry.Solvent
	s.Water = maybe[gram](c, "water", pantry.Masses)
	s.MadeUpTo = maybe[millilitre](c, "made-up-to", pantry.Volumes)
	if c.err == nil && (s.Water == nil) == (s.MadeUpTo == nil) {
		c.err = fmt.Errorf("expected one of --water and --made-up-to")
	}
	return s
}

// result is what a measurement found, and what to say of it beside the
// ingredient.
type result struct {
	measured *pantry.Measured
	// lines stand before the remarks; json beside the ingredient.
	lines []string
	json  map[string]any
}

// report prints what was measured, and appends it to the file of --out.
func (f *flags) report(r *result, shelf *pantry.Shelf, s streams) error {
	i := r.measured.Ingredient
	if f.out != "" {
		existing, err := existingFile(f.out)
		if err != nil {
			return err
		}
		below := shelf
		if slices.ContainsFunc(f.pantry, func(name string) bool { return sameFile(name, f.out) }) {
			// A file that --pantry reads as well may still be appended to.
			if below, err = f.shelfWithout(f.out, s); err != nil {
				return err
			}
		}
		content, err := pantry.AppendIngredient(existing, f.out, i, below)
		if err != nil {
			return err
		}
		if err := writeFile(f.out, func(w io.Writer) error { _, err := w.Write(content); return err }); err != nil {
			return err
		}
	}
	if f.json {
		out := map[string]any{
			"ingredient": ingredientJSON(shelf, i, i.Derived()), "yield_ml": digits(float64(r.measured.Yield)),
			"remarks": append([]string{}, r.measured.Remarks...), "file": f.out,
		}
		for key, value := range r.json {
			out[key] = value
		}
		return writeValue(s.out, out)
	}
	var b strings.Builder
	if err := writeIngredient(&b, shelf, i); err != nil {
		return &writeError{err}
	}
	for _, line := range slices.Concat(r.lines, r.measured.Remarks) {
		b.WriteString("\n" + wrap(sentence(line), lineWidth) + "\n")
	}
	if f.out != "" {
		b.WriteString("\n" + wrap(fmt.Sprintf("Appended to %s.", f.out), lineWidth) + "\n")
	}
	if _, err := io.WriteString(s.out, b.String()); err != nil {
		return &writeError{err}
	}
	return nil
}

// sentence begins with a capital and ends in a full stop.
func sentence(text string) string {
	runes := []rune(text)
	if len(runes) == 0 {
		return text
	}
	text = strings.ToUpper(string(runes[:1])) + string(runes[1:])
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}

// shelfWithout is the shelf without one of the CSVs of --pantry, and without
// --lots.
func (f *flags) shelfWithout(file string, s streams) (*pantry.Shelf, error) {
	without := *f
	without.pantry = slices.DeleteFunc(slices.Clone(f.pantry), func(name string) bool { return sameFile(name, file) })
	without.lots = ""
	return without.shelf(s)
}
