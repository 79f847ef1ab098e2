package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"minim/pantry"
)

var pantryImportCommand = command{
	name:     "pantry import",
	synopsis: "pantry import FILE",
	summary:  "clean a spreadsheet's CSV into one that --pantry reads",
	about: `Cleans what a spreadsheet wrote into the form of the pantry, as far as it is
certain what was meant: other names and units of the columns, units and decimal
commas in the cells, columns that the pantry has no place for. Each change is
listed. What is doubtful is refused with its place, and nothing is written.`,
	example: `minim pantry import examples/cellar-sheet.csv --out cellar.csv`,
	schema:  "pantry-import",
	flags:   func(f *flags) { f.outFlag("the `FILE` to write" + replacesFile) },
	run: func(f *flags, s streams) error {
		switch {
		case len(f.args) != 1:
			return fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
		case f.out == "":
			return errors.New("nowhere to write; expected --out with the name of the cleaned file")
		}
		if err := f.notOverRead(f.out, f.args[0]); err != nil {
			return err
		}
		shelf, err := f.shelf(s)
		if err != nil {
			return err
		}
		r, err := open(f.args[0], s)
		if err != nil {
			return err
		}
		cleaned, err := pantry.Clean(r, f.args[0], shelf)
		r.Close()
		if err != nil {
			return err
		}
		if err := writeFile(f.out, func(w io.Writer) error { _, err := w.Write(cleaned.CSV); return err }); err != nil {
			return err
		}
		return f.printCleaned(cleaned, s)
	},
}

func (f *flags) printCleaned(cleaned *pantry.Cleaned, s streams) error {
	if f.json {
		changes := []map[string]any{}
		for _, c := range cleaned.Changes {
			changes = append(changes, map[string]any{"line": c.Place.Line, "column": c.Place.Column, "change": c.What})
		}
		return writeValue(s.out, map[string]any{"file": f.out, "ingredients": cleaned.Rows, "changes": changes})
	}
	var b strings.Builder
	for _, c := range cleaned.Changes {
		b.WriteString(wrap(c.Place.String()+": "+c.What, lineWidth) + "\n")
	}
	if len(cleaned.Changes) > 0 {
		b.WriteString("\n")
	}
	b.WriteString(wrap(fmt.Sprintf("%s, %s, written to %s.", countOf(cleaned.Rows, "ingredient"), countOf(len(cleaned.Changes), "change"), f.out), lineWidth) + "\n")
	if _, err := io.WriteString(s.out, b.String()); err != nil {
		return &writeError{err}
	}
	return nil
}
