package pantry

import (
	"bytes"
	"errors"
	"fmt"
	"io"
)

// Change is one thing that Clean did to a spreadsheet's CSV.
type Change struct {
	// Place is where it stood in what was read.
	Place Place
	// What says what was read and what it became.
	What string
}

// Cleaned is a spreadsheet's CSV brought into the form of the pantry.
type Cleaned struct {
	// CSV is the file, with the columns of the pantry by their own headings.
	CSV []byte
	// Rows is how many ingredients it holds.
	Rows    int
	Changes []Change
}

// cleaner brings one file into form.
type cleaner struct {
	reader  *reader
	columns []cleanColumn
	changes []Change
}

// cleanColumn is a column of the file that was read.
type cleanColumn struct {
	// field is the pantry's, -1 for a column that is left out.
	field int
	// factor turns the heading's unit into the pantry's, 0 where the heading has
	// none and every cell has to bring its own.
	factor float64
	at     Place
}

// Clean brings a spreadsheet's CSV into the form of the pantry, as far as it is
// certain what was meant: headings by other names and in other units, units and
// decimal commas in cells, words for unknown, yes and no, columns that the
// pantry has no place for. What is left has to read well over the shelf below.
// The error is InputErrors with the lines of the file as it was read, or what
// reading the stream gave.
func Clean(r io.Reader, file string, below *Shelf) (*Cleaned, error) {
	data, err := io.ReadAll(io.LimitReader(r, largestFile+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	data, wrong := textOf(data)
	if wrong != nil {
		wrong.Place.File = file
		return nil, InputErrors{wrong}
	}
	t := newTable(data)
	in := &reader{file: file, lines: t.lines, csv: t.csv}
	c := &cleaner{reader: in}
	records, lines := c.read()
	if len(in.errors) > 0 {
		return nil, in.errors
	}
	out, err := writeRecords(records, ',', false)
	if err != nil {
		return nil, err
	}
	if _, err := below.Overlay(bytes.NewReader(out), file); err != nil {
		return nil, asRead(err, lines, in.lines)
	}
	return &Cleaned{CSV: out, Rows: len(records) - 1, Changes: c.changes}, nil
}

// asRead gives the errors of the cleaned file the lines of the one that was read.
func asRead(err error, lines []int, text []string) error {
	var all InputErrors
	if !errors.As(err, &all) {
		return err
	}
	for _, one := range all {
		if n := one.Place.Line; n > 0 && n <= len(lines) {
			one.Place.Line, one.Place.Column = lines[n-1], 0
			one.Text = text[lines[n-1]-1]
		}
	}
	return all
}

// read returns the cleaned records, the headings first, and the line that each
// stood in.
func (c *cleaner) read() (records [][]string, lines []int) {
	for {
		record, err := c.reader.csv.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			c.reader.syntax(err)
			break
		}
		if blank(record) {
			continue
		}
		if records == nil && c.reader.tooWide(record) || c.reader.tooMany(len(records)-1) {
			break
		}
		var cleaned []string
		if records == nil {
			cleaned = c.headings(record)
		} else {
			cleaned = c.cells(record)
		}
		records, lines = append(records, cleaned), append(lines, c.reader.place(0).Line)
	}
	return records, lines
}

func (c *cleaner) change(at Place, format string, arguments ...any) {
	c.changes = append(c.changes, Change{at, fmt.Sprintf(format, arguments...)})
}

// headings cleans the heading line.
func (c *cleaner) headings(record []string) []string {
	var out []string
	first := map[int]bool{}
	for n, cell := range record {
		text := cleanText(cell)
		column := cleanColumn{field: -1, factor: 1, at: c.reader.place(n)}
		if text == "" {
			c.columns = append(c.columns, column)
			continue
		}
		f, factor, known := headingMeant(text)
		switch {
		case !known && doubtfulHeading(text):
			c.reader.refuse(column.at, "the pantry has a column for each sugar and acid, and grams per litre: see `minim pantry export`",
				"column %q; expected to know which figure it is, and in which unit", text)
		case !known:
			c.change(column.at, "column %q left out: the pantry has no place for it", text)
		case first[f]:
			c.reader.refuse(column.at, "leave one of them out", "column %q is a second one for %s; expected each once", text, fields[f].heading)
		default:
			first[f] = true
			column.field, column.factor = f, factor
			heading := fields[f].heading
			out = append(out, heading)
			switch {
			case factor != 1 && factor != 0:
				c.change(column.at, "column %q becomes %s, its figures times %s", text, heading, formatNumber(factor))
			case text != heading:
				c.change(column.at, "column %q becomes %s", text, heading)
			}
		}
		c.columns = append(c.columns, column)
	}
	if name, _ := fieldNamed("name"); !first[name] && len(c.reader.errors) == 0 {
		c.reader.refuse(Place{File: c.reader.file, Line: c.reader.place(0).Line, Column: 1}, "the first line of the file names the columns",
			"no column of names; expected one called name or ingredient")
	}
	return out
}

// cells cleans a row.
func (c *cleaner) cells(record []string) []string {
	var out []string
	for n, column := range c.columns {
		if column.field < 0 {
			continue
		}
		cell := ""
		if n < len(record) {
			cell = record[n]
		}
		out = append(out, c.cell(n, column, cell))
	}
	for n := len(c.columns); n < len(record); n++ {
		if text := cleanText(record[n]); text != "" {
			c.reader.refuse(c.reader.place(n), "a cell with a comma in it stands in quotation marks", "%q under no heading; expected %d cells", text, len(c.columns))
		}
	}
	return out
}
