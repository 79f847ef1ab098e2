package main

import (
	"fmt"
	"io"
	"strings"

	"minim/pantry"
)

var pantryExportCommand = command{
	name:     "pantry export",
	synopsis: "pantry export",
	summary:  "the shelf as CSV that a spreadsheet opens and --pantry reads",
	about: `Prints the ingredients, as they are with your own CSVs and measurements over the
built-in pantry, as CSV that reads back the same. Cells that a spreadsheet would
take for a formula begin with an apostrophe.`,
	example: `minim pantry export --category juice --out juices.csv`,
	schema:  "pantry-export",
	flags: func(f *flags) {
		f.set.StringVar(&f.list.category, "category", "", "only those of the `CATEGORY`")
		f.outFlag("write into `FILE` instead of printing" + replacesFile)
	},
	run: func(f *flags, s streams) error {
		if len(f.args) > 0 {
			return fmt.Errorf("%q; expected flags alone, and --out FILE to write a file", f.args[0])
		}
		shelf, err := f.shelf(s)
		if err != nil {
			return err
		}
		choice, err := f.choice(shelf)
		if err != nil {
			return err
		}
		chosen := choice.Of(shelf).Ingredients
		write := func(w io.Writer) error { return pantry.WriteCSV(w, chosen) }
		if f.out == "" {
			if f.json {
				return fmt.Errorf("--json; expected `minim pantry list --json`, an export is CSV")
			}
			if err := write(s.out); err != nil {
				return &writeError{err}
			}
			return nil
		}
		if err := f.notOverRead(f.out); err != nil {
			return err
		}
		if err := writeFile(f.out, write); err != nil {
			return err
		}
		if f.json {
			return writeValue(s.out, map[string]any{"file": f.out, "ingredients": len(chosen)})
		}
		_, err = fmt.Fprintln(s.out, wrap(strings.TrimSpace(countOf(len(chosen), "ingredient")+" written to "+f.out), lineWidth))
		return err
	},
}
