package pantry

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// What a CSV file may have at most. A row in memory is some four thousand bytes, so that the
// largest pantry takes less than 200 MB and is checked in about a second.
const (
	// largestFile is in bytes.
	largestFile = 10 << 20
	// mostRows are rows with something in them, beside the headings.
	mostRows = 10_000
	// mostLines are lines with or without anything in them.
	mostLines = 200_000
	// longestLine is in bytes.
	longestLine = 1 << 20
	// mostHeadings are cells of the heading line.
	mostHeadings = 1_000
)

// reader collects what is wrong in one file while it is read.
type reader struct {
	file   string
	below  *Shelf
	lines  []string
	csv    *csv.Reader
	fields []int // field of each column of the file, or one of those below
	errors InputErrors
	// warn is told of each row while the places of its cells are known; nil
	// where nobody asked for more than errors.
	warn func(*row)
	// columns holds the column of the file that fills each field of the last
	// row; kept for warn alone.
	columns      map[int]int
	comma, point decimalMark
}

// decimalMark is the first number of a file that is written with that mark.
type decimalMark struct {
	text string
	at   Place
}

// What stands in place of a field for a column of the file without one.
const (
	noHeading      = -1 // the cells must be empty
	refusedHeading = -2 // the heading has its error, the cells are passed over
)

// readRows reads a pantry file that lies over the shelf below: a heading line,
// then a row an ingredient. Rows without anything in them are passed over. Every error in the file is
// collected; the error is InputErrors, or what reading the stream gave.
func readRows(r io.Reader, file string, below *Shelf) ([]*row, error) {
	in := &reader{file: file, below: below}
	rows, err := in.rows(r)
	if err == nil && len(in.errors) > 0 {
		err = in.errors
	}
	if err != nil {
		return nil, err
	}
	return rows, nil
}

// rows reads what can be read and leaves the errors in in; the error is what
// reading the stream gave.
func (in *reader) rows(r io.Reader) ([]*row, error) {
	data, err := io.ReadAll(io.LimitReader(r, largestFile+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", in.file, err)
	}
	data, wrong := textOf(data)
	if wrong != nil {
		wrong.Place.File = in.file
		in.errors = InputErrors{wrong}
		return nil, nil
	}
	t := newTable(data)
	in.lines, in.csv = t.lines, t.csv
	in.csv.ReuseRecord = true
	in.readHeadings()
	var rows []*row
	for in.fields != nil {
		record, err := in.csv.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			in.syntax(err)
			break
		}
		if blank(record) {
			continue
		}
		if in.tooMany(len(rows)) {
			break
		}
		r := in.readRow(record)
		if rows = append(rows, r); in.warn != nil {
			in.warn(r)
		}
	}
	in.refuseDoubles(rows)
	return rows, nil
}

// textOf returns the bytes of a file as UTF-8 text without a byte order mark
// and with line feeds alone.
func textOf(data []byte) ([]byte, *InputError) {
	wrong := notText(data, "CSV, which is plain text", "in a spreadsheet, save the table as CSV UTF-8 (comma separated), and give that")
	if wrong == nil && len(data) <= largestFile {
		if data, wrong = decoded(data); wrong == nil {
			wrong = notTable(string(data))
		}
	}
	if wrong != nil {
		return nil, &InputError{Message: wrong.message, Hint: wrong.hint}
	}
	switch {
	case len(data) > largestFile:
		return nil, &InputError{Message: fmt.Sprintf("more than %d MB; expected a smaller file", largestFile>>20)}
	case bytes.IndexByte(data, 0) >= 0:
		return nil, &InputError{Message: "not text; expected CSV", Hint: "in the spreadsheet, save as CSV UTF-8"}
	case len(bytes.TrimSpace(data)) == 0:
		return nil, &InputError{Message: "empty; expected a heading line with the column name, then a row an ingredient"}
	}
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	if lines := bytes.Count(data, []byte("\n")); lines > mostLines {
		return nil, &InputError{Message: fmt.Sprintf("%d lines; expected at most %d rows", lines, mostRows), Hint: "delete the empty rows below the last, or split the file"}
	}
	number := 0
	for line := range bytes.Lines(data) {
		if number++; len(line) > longestLine {
			return nil, &InputError{Place: Place{Line: number}, Message: "a line of more than one megabyte; expected a row an ingredient"}
		}
	}
	if !utf8.Valid(data) {
		line := 1
		for part := range bytes.Lines(data) {
			if !utf8.Valid(part) {
				break
			}
			line++
		}
		return nil, &InputError{
			Place: Place{Line: line}, Message: "letters that are not UTF-8; expected CSV in UTF-8",
			Hint: "in the spreadsheet, save as CSV UTF-8",
		}
	}
	return data, nil
}

// tooMany refuses one more row than a file may have, where it stands.
func (in *reader) tooMany(read int) bool {
	if read < mostRows {
		return false
	}
	in.refuse(in.place(0), "split the file, and name each part", "row %d; expected at most %d rows", read+1, mostRows)
	return true
}

// tooWide refuses a heading line with more cells than a file may have.
func (in *reader) tooWide(headings []string) bool {
	if len(headings) <= mostHeadings {
		return false
	}
	in.refuse(in.place(mostHeadings), "delete the columns to the right of the last", "column %d; expected at most %d columns", mostHeadings+1, mostHeadings)
	return true
}

func blank(record []string) bool {
	return !slices.ContainsFunc(record, func(cell string) bool { return strings.TrimSpace(cell) != "" })
}

// place returns where the n-th cell of the last record starts.
func (in *reader) place(n int) Place {
	line, column := in.csv.FieldPos(n)
	return in.characters(line, column)
}

// characters turns a byte column into a place that counts characters.
func (in *reader) characters(line, column int) Place {
	text := in.lines[min(line, len(in.lines))-1]
	before := text[:min(max(column-1, 0), len(text))]
	return Place{File: in.file, Line: line, Column: utf8.RuneCountInString(before) + 1}
}

// refuse adds an error at a place, with the person's line.
func (in *reader) refuse(at Place, hint, format string, arguments ...any) {
	wrong := &InputError{Place: at, Message: fmt.Sprintf(format, arguments...), Hint: hint}
	if at.Line > 0 {
		wrong.Text = in.lines[at.Line-1]
	}
	in.errors = append(in.errors, wrong)
}

// syntax adds an error of the CSV itself.
func (in *reader) syntax(err error) {
	var wrong *csv.ParseError
	if !errors.As(err, &wrong) {
		in.refuse(Place{File: in.file}, "", "%s", err)
		return
	}
	in.refuse(in.characters(wrong.Line, wrong.Column),
		`a cell with a quotation mark in it stands in quotation marks, the inner ones doubled: "12"" ribbon"`,
		"a quotation mark out of place; expected it around a whole cell")
}

// readHeadings reads the heading line; the fields stay nil where no row could
// be made sense of.
func (in *reader) readHeadings() {
	record, err := in.csv.Read()
	if err != nil {
		in.syntax(err)
		return
	}
	if in.tooWide(record) {
		return
	}
	var found []int
	first := map[int]bool{}
	for n, cell := range record {
		heading := cleanText(cell)
		f, ok := fieldNamed(heading)
		switch {
		case heading == "":
			f = noHeading
		case !ok:
			nearest := Nearest(heading, headings(), 1)
			in.refuse(in.place(n), "", "column %q; expected a column of the pantry, nearest: %s", heading, nearest[0])
			f = refusedHeading
		case first[f]:
			in.refuse(in.place(n), "", "column %q a second time; expected each column once", heading)
			f = refusedHeading
		}
		if f >= 0 {
			first[f] = true
		}
		found = append(found, f)
	}
	if name, _ := fieldNamed("name"); !first[name] {
		in.refuse(Place{File: in.file, Line: in.place(0).Line, Column: 1}, "the first line of the file names the columns",
			"no column name; expected at least that one")
		return
	}
	in.fields = found
}

// headings are all that a column may be called.
func headings() []string {
	all := make([]string, len(fields))
	for n := range fields {
		all[n] = fields[n].heading
	}
	return all
}

// readRow reads one record into a row.
func (in *reader) readRow(record []string) *row {
	out := &row{filled: make([]bool, len(fields))}
	i := &out.ingredient
	i.KeptAt = roomTemperature
	i.Place = in.place(0)
	if in.warn != nil {
		in.columns = map[int]int{}
	}
	for n, cell := range record {
		if n >= len(in.fields) || in.fields[n] < 0 {
			if strings.TrimSpace(cell) != "" && (n >= len(in.fields) || in.fields[n] == noHeading) {
				in.refuse(in.place(n), "a cell with a comma in it stands in quotation marks, and numbers have a decimal point",
					"%q under no heading; expected %d cells", cleanText(cell), len(in.fields))
			}
			continue
		}
		f := &fields[in.fields[n]]
		text := cleanText(cell)
		if !f.number {
			text = cleanText(unguard(text))
		}
		if in.fields[n] == nameField {
			i.Place = in.place(n)
		}
		if text == "" {
			continue
		}
		if in.warn != nil {
			in.columns[in.fields[n]] = n
		}
		out.filled[in.fields[n]] = true
		if f.number || f.amount {
			text = in.decimal(n, text)
		}
		if in.fields[n] == measureField {
			out.measure, out.measureAt = text, in.place(n)
			continue
		}
		if wrong := f.read(i, text); wrong.message != "" {
			out.filled[in.fields[n]] = false
			in.refuse(in.place(n), wrong.hint, "%s %q %s", f.heading, text, wrong.message)
		}
	}
	in.complete(out)
	return out
}

// decimal returns the text of a cell with a decimal point for a decimal comma,
// which a file has whose cells are not parted by commas: there 1,234 is one and
// a bit, however many digits follow. It remembers the first number with each
// mark.
func (in *reader) decimal(n int, text string) string {
	if in.csv.Comma == ',' {
		return text
	}
	switch {
	case strings.ContainsRune(text, '.'):
		if in.point.text == "" {
			in.point = decimalMark{text, in.place(n)}
		}
	case digitComma.MatchString(text):
		if in.comma.text == "" || !thousandsComma.MatchString(in.comma.text) {
			in.comma = decimalMark{text, in.place(n)}
		}
		text = replaceDecimalCommas(text)
	}
	return text
}
