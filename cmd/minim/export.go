package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// exportForms are what a drink can be written as, in the order of the help.
var exportForms = []struct {
	name  string
	write func(io.Writer, *solver.Answer, *flags) error
}{
	{"text", writeMessage},
	{"markdown", writeMarkdown},
	{"csv", writePoursCSV},
	{"recipe", writeRecipe},
}

var exportCommand = command{
	name:     "export",
	synopsis: "export FILE",
	summary:  "a drink as text, Markdown, CSV or a recipe",
	about: `Writes a drink whose amounts are all written for others to read: as plain text
for a message, as Markdown, as CSV of the pours for a spreadsheet, or as a
Recipe of schema.org (JSON-LD) for web pages and other programs, which minim
import reads back. Text, Markdown and CSV count in --units; a recipe keeps the
measures of the spec.`,
	example: `minim export examples/morning-tide.yaml --as markdown --out morning-tide.md`,
	schema:  "export",
	flags: func(f *flags) {
		f.set.StringVar(&f.as, "as", "text", "the `FORM`: text, markdown, csv or recipe")
		f.outFlag("write into `FILE` instead of printing" + replacesFile)
	},
	run: export,
}

func export(f *flags, s streams) error {
	write, err := exportForm(f.as)
	if err != nil {
		return err
	}
	if f.json && f.out == "" {
		return errors.New("--json; expected --as recipe, or `minim profile FILE --json`")
	}
	answer, err := f.written(s)
	if err != nil {
		return err
	}
	to := func(w io.Writer) error { return write(w, answer, f) }
	if f.out != "" {
		return f.exportInto(answer, to, s)
	}
	if err := to(s.out); err != nil {
		return &writeError{err}
	}
	return nil
}

// exportInto writes the file of --out and says so.
func (f *flags) exportInto(answer *solver.Answer, write func(io.Writer) error, s streams) error {
	if err := f.notOverRead(f.out, f.args...); err != nil {
		return err
	}
	if err := writeFile(f.out, write); err != nil {
		return err
	}
	if f.json {
		return writeValue(s.out, map[string]any{"file": f.out, "as": f.as, "pours": len(answer.Pours)})
	}
	_, err := fmt.Fprintln(s.out, wrap(drinkName(answer)+" written to "+f.out+" as "+f.as, lineWidth))
	return err
}

// exportForm finds a form by its name.
func exportForm(name string) (func(io.Writer, *solver.Answer, *flags) error, error) {
	var names []string
	for _, form := range exportForms {
		if form.name == name {
			return form.write, nil
		}
		names = append(names, form.name)
	}
	return nil, fmt.Errorf("--as %q; expected one of %s; nearest: %s", name, strings.Join(names, ", "), strings.Join(pantry.Nearest(name, names, 1), ""))
}

// drinkName is what a drink or a prep is called, "A drink" where it has no name.
func drinkName(a *solver.Answer) string {
	switch {
	case a.Prep != nil:
		return a.Prep.Ingredient.Name
	case a.Spec.Name == "":
		return "A drink"
	}
	return a.Spec.Name
}

func writeRecipe(w io.Writer, a *solver.Answer, _ *flags) error {
	r, err := a.Recipe()
	if err != nil {
		return err
	}
	return r.Write(w)
}

// pourText writes how much of a pour: in the unit of --units where it was given,
// else as the spec measures it.
func (f *flags) pourText(p *solver.PouredAmount) string {
	if u, given := f.pourUnit(p); given {
		return u.sized(p.Base)
	}
	return p.Amount.String()
}

// pourUnit is the unit of --units; given is false where nobody wrote it, or the
// bar counts or weighs the pour.
func (f *flags) pourUnit(p *solver.PouredAmount) (unit liquidUnit, given bool) {
	if p.Ingredient.Solid || counted(p.Amount.Unit) || !f.given("units") {
		return 0, false
	}
	u, err := parseLiquidUnit(f.units)
	return u, err == nil
}

// shortProfile is the drink in one line: size, strength, ethanol.
func (f *flags) shortProfile(a *solver.Answer) string {
	parts := []string{f.liquidUnit(a.Spec).volume(a.Profile[profile.Volume].Value), fixed(a.Profile[profile.Strength].Value, 1) + " % vol"}
	if grams := float64(a.Dose.Ethanol); grams >= 0.05 {
		parts = append(parts, fixed(grams, 1)+" g of ethanol")
	}
	return strings.Join(parts, ", ")
}
