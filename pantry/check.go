package pantry

import (
	"io"
	"slices"
	"strings"
)

// Severity says how bad a finding is.
type Severity string

// The severities.
const (
	// SevereError keeps the file from being read.
	SevereError Severity = "error"
	// SevereWarning is something that is read as it stands and may be a slip.
	SevereWarning Severity = "warning"
)

// Finding is one thing in a pantry file that is wrong or may be.
type Finding struct {
	Place    Place
	Severity Severity
	// Message says what was read and what was expected.
	Message string
	// Hint says what to write instead; empty where there is nothing to add.
	Hint string
}

// String returns the finding on one line, its hint on a second.
func (f Finding) String() string {
	text := f.Place.String() + ": " + string(f.Severity) + ": " + f.Message
	if f.Hint != "" {
		text += "\nhint: " + f.Hint
	}
	return text
}

// Check reads a pantry file that would lie over the shelf below and returns all
// that is wrong with it and all that may be, in the order of the file: every
// error that Overlay gives, and in the rows without one
//
//	composition    no water left; density and composition further apart than
//	               densityTolerance; titratable acidity that the listed acids
//	               do not give
//	plausibility   figures beyond the embedded pantry's in the category, a
//	               sweet spirit, numbers whose comma may part thousands
//	gaps           unknown figures that could be tasted, no source, no category
//	trade          a price without a pack or a currency, several currencies
//	names          a name that belongs to another ingredient below
//	allergens      words that are not those of the law, contradictions to vegan
//
// A row is checked for what it fills in. No findings: nothing was found.
func Check(r io.Reader, file string, below *Shelf) []Finding {
	c := &checker{in: &reader{file: file, below: below}}
	c.in.warn = c.row
	if _, err := c.in.rows(r); err != nil {
		return []Finding{{Place: Place{File: file}, Severity: SevereError, Message: strings.TrimPrefix(err.Error(), file+": ")}}
	}
	for _, wrong := range c.in.errors {
		c.findings = append(c.findings, Finding{Place: wrong.Place, Severity: SevereError, Message: wrong.Message, Hint: wrong.Hint})
	}
	c.decimalMarks()
	slices.SortStableFunc(c.findings, func(a, b Finding) int {
		if a.Place.Line != b.Place.Line {
			return a.Place.Line - b.Place.Line
		}
		return a.Place.Column - b.Place.Column
	})
	return c.findings
}

// checker collects findings while a file is read.
type checker struct {
	in       *reader
	findings []Finding
	// errors is how many errors stood before the last row.
	errors int
	// currency is the first in the file.
	currency string
}

// warn adds a warning at the cell that fills a field of the last row, at the
// name of its ingredient where none does.
func (c *checker) warn(r *row, field int, message, hint string) {
	at := r.ingredient.Place
	if n, ok := c.in.columns[field]; ok {
		at = c.in.place(n)
	}
	c.findings = append(c.findings, Finding{Place: at, Severity: SevereWarning, Message: message, Hint: hint})
}

// row checks the last row; one with an error is passed over.
func (c *checker) row(r *row) {
	before := c.errors
	c.errors = len(c.in.errors)
	if c.errors > before {
		return
	}
	c.names(r)
	c.trade(r)
	c.allergens(r)
	if !slices.ContainsFunc(figureFields[:], func(f int) bool { return r.filled[f] }) {
		return
	}
	c.closure(r)
	c.food(r)
	c.density(r)
	c.acidity(r)
	c.plausibility(r)
	c.gaps(r)
	c.source(r)
}

// decimalMarks warns of a comma before three digits in a file that also has
// decimal points: it was read as a decimal comma and may part thousands.
func (c *checker) decimalMarks() {
	if comma, point := c.in.comma, c.in.point; point.text != "" && thousandsComma.MatchString(comma.text) {
		c.findings = append(c.findings, Finding{
			Place: comma.at, Severity: SevereWarning,
			Message: "\"" + comma.text + "\" is read as " + replaceDecimalCommas(comma.text) + ", and " + point.at.String() +
				" has a decimal point; expected one decimal mark in the file",
			Hint: "leave out a comma that parts thousands",
		})
	}
}
