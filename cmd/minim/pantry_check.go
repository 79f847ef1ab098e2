package main

import (
	"fmt"
	"io"
	"strings"

	"minim/pantry"
)

var pantryCheckCommand = command{
	name:     "pantry check",
	synopsis: "pantry check FILE",
	summary:  "every problem of a CSV at once, by row and column",
	about: `Reads your CSV as --pantry would and lists all that is wrong or odd in it, by
row and column: an error keeps the file from being read, a warning does not.
Exit code 2 where there is an error.`,
	example: `minim pantry check examples/weir-lantern.csv`,
	schema:  "pantry-check",
	flags:   func(*flags) {},
	run: func(f *flags, s streams) error {
		if len(f.args) != 1 {
			return fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
		}
		below, err := f.shelf(s)
		if err != nil {
			return err
		}
		r, err := open(f.args[0], s)
		if err != nil {
			return err
		}
		defer r.Close()
		findings := pantry.Check(r, f.args[0], below)
		if err := f.printFindings(findings, s); err != nil {
			return &writeError{err}
		}
		for _, one := range findings {
			if one.Severity == pantry.SevereError {
				return errFindings
			}
		}
		return nil
	},
}

// mostFindings are printed before the rest is only counted; --json has them all.
const mostFindings = 200

func (f *flags) printFindings(findings []pantry.Finding, s streams) error {
	if f.json {
		list := []map[string]any{}
		for _, one := range findings {
			list = append(list, map[string]any{
				"file": one.Place.File, "line": one.Place.Line, "column": one.Place.Column,
				"severity": string(one.Severity), "message": one.Message, "hint": one.Hint,
			})
		}
		return writeValue(s.out, map[string]any{"findings": list})
	}
	var b strings.Builder
	errors, warnings := 0, 0
	for _, one := range findings {
		if one.Severity == pantry.SevereError {
			errors++
		} else {
			warnings++
		}
		if errors+warnings > mostFindings {
			continue
		}
		b.WriteString(wrap(fmt.Sprintf("%s: %s: %s", one.Place, one.Severity, one.Message), lineWidth) + "\n")
		if one.Hint != "" {
			b.WriteString(wrap("hint: "+one.Hint, lineWidth) + "\n")
		}
	}
	if more := len(findings) - mostFindings; more > 0 {
		fmt.Fprintf(&b, "and %d more\n", more)
	}
	if len(findings) > 0 {
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "%s, %s.\n", countOf(errors, "error"), countOf(warnings, "warning"))
	_, err := io.WriteString(s.out, b.String())
	return err
}
