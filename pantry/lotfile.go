package pantry

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"time"
)

// lotHeadings are the columns of a lot file, in the order in which they are
// written.
var lotHeadings = func() []string {
	all := []string{"date", "ingredient"}
	for f := range lotTable {
		all = append(all, lotTable[f].heading)
	}
	return append(all, "note")
}()

// ReadLots reads a lot file: a heading line, then a row a measurement. The
// columns date and ingredient and one figure have to be filled in each row.
// Every mistake is collected; the error is InputErrors, or what reading the
// stream gave.
func ReadLots(r io.Reader, file string) ([]Lot, error) {
	data, err := io.ReadAll(io.LimitReader(r, largestFile+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	data, wrong := textOf(data)
	if wrong != nil {
		wrong.Place.File = file
		wrong.Message = strings.Replace(wrong.Message, "the column name, then a row an ingredient", "the columns date and ingredient, then a row a measurement", 1)
		return nil, InputErrors{wrong}
	}
	t := newTable(data)
	in := &reader{file: file, lines: t.lines, csv: t.csv}
	headings := in.readLotHeadings()
	var lots []Lot
	for headings != nil {
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
		if in.tooMany(len(lots)) {
			break
		}
		lots = append(lots, in.readLot(record, headings))
	}
	if len(in.errors) > 0 {
		return nil, in.errors
	}
	return lots, nil
}

// readLotHeadings reads the heading line; nil where no row could be made sense of.
func (in *reader) readLotHeadings() []string {
	record, err := in.csv.Read()
	if err != nil {
		in.syntax(err)
		return nil
	}
	if in.tooWide(record) {
		return nil
	}
	var found []string
	first := map[string]bool{}
	for n, cell := range record {
		heading := strings.ToLower(cleanText(cell))
		switch {
		case heading == "":
		case !containsWord(lotHeadings, heading):
			in.refuse(in.place(n), "the columns are "+strings.Join(lotHeadings, ", "),
				"column %q; expected a column of a lot file, nearest: %s", cleanText(cell), Nearest(heading, lotHeadings, 1)[0])
			heading = "?"
		case first[heading]:
			in.refuse(in.place(n), "", "column %q a second time; expected each column once", heading)
			heading = "?"
		}
		first[heading] = true
		found = append(found, heading)
	}
	for _, needed := range []string{"date", "ingredient"} {
		if !first[needed] {
			in.refuse(Place{File: in.file, Line: in.place(0).Line, Column: 1}, "the columns are "+strings.Join(lotHeadings, ", "),
				"no column %s; expected date and ingredient at least", needed)
			return nil
		}
	}
	return found
}

// readLot reads one record.
func (in *reader) readLot(record, headings []string) Lot {
	l := Lot{Place: in.place(0)}
	dated, measured, refused := false, false, len(in.errors)
	for n, cell := range record {
		text := cleanText(cell)
		if n >= len(headings) || headings[n] == "" {
			if text != "" {
				in.refuse(in.place(n), "a cell with a comma in it stands in quotation marks, and numbers have a decimal point",
					"%q under no heading; expected %d cells", text, len(headings))
			}
			continue
		}
		if text == "" {
			continue
		}
		switch heading := headings[n]; heading {
		case "?":
		case "date":
			day, err := ParseDate(text)
			if err != nil {
				in.refuse(in.place(n), dateHint(text), "date %s", err)
			}
			l.Date, dated = day, true
		case "ingredient":
			l.Ingredient, l.Place = cleanText(unguard(text)), in.place(n)
		case "note":
			l.Note = cleanText(unguard(text))
		default:
			f := lotFigureNamed(heading)
			v, wrong := parseWithin(in.decimal(n, text), lotTable[f].low, lotTable[f].high)
			if wrong.message != "" {
				in.refuse(in.place(n), wrong.hint, "%s %q %s", heading, text, wrong.message)
			}
			l.Readings[f], measured = Reading{Value: v, Known: true}, true
		}
	}
	switch {
	case len(in.errors) > refused:
	case !dated:
		in.refuse(l.Place, "", "no date; expected one in each row, such as 2026-11-20")
	case l.Ingredient == "":
		in.refuse(l.Place, "", "no ingredient; expected one in each row")
	case !measured:
		in.refuse(l.Place, "fill at least one of brix, acid_g_per_l, ph, abv_percent and density_g_per_ml",
			"%s has nothing measured; expected a figure", l.Ingredient)
	}
	return l
}

func lotFigureNamed(heading string) LotFigure {
	for f := range lotTable {
		if lotTable[f].heading == heading {
			return LotFigure(f)
		}
	}
	panic("pantry: no lot figure " + heading)
}

var (
	dayFirst  = regexp.MustCompile(`^(\d{1,2})[./](\d{1,2})[./](\d{4})$`)
	withTime  = regexp.MustCompile(`^(\d{4}-\d{2}-\d{2})[ T]\d`)
	serialDay = regexp.MustCompile(`^[34]\d{4}$`)
)

// dateHint says what to write instead of what a spreadsheet made of a date.
func dateHint(text string) string {
	const column = "format the column in the spreadsheet as text or as year-month-day"
	switch parts := dayFirst.FindStringSubmatch(text); {
	case parts != nil:
		if day, err := time.Parse("2/1/2006", parts[1]+"/"+parts[2]+"/"+parts[3]); err == nil && parts[1] != parts[2] {
			if other, err := time.Parse("1/2/2006", parts[1]+"/"+parts[2]+"/"+parts[3]); err == nil {
				return "write " + day.Format(time.DateOnly) + ", or " + other.Format(time.DateOnly) + " if the month stood first; " + column
			}
			return "write " + day.Format(time.DateOnly) + "; " + column
		}
		if day, err := time.Parse("1/2/2006", parts[1]+"/"+parts[2]+"/"+parts[3]); err == nil {
			return "write " + day.Format(time.DateOnly) + "; " + column
		}
	case withTime.MatchString(text):
		return "write " + withTime.FindStringSubmatch(text)[1] + " without the time"
	case serialDay.MatchString(text):
		return "a spreadsheet's number of a day: " + column
	}
	return column
}

// WriteLots writes lots as a file that reads back the same, places aside.
func WriteLots(w io.Writer, lots []Lot) error {
	out := csv.NewWriter(w)
	if err := out.Write(lotHeadings); err != nil {
		return err
	}
	for n := range lots {
		if err := out.Write(lots[n].cells()); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// cells are the row of the lot under lotHeadings.
func (l *Lot) cells() []string {
	row := []string{l.Day(), guard(l.Ingredient)}
	for _, r := range l.Readings {
		cell := ""
		if r.Known {
			cell = formatNumber(r.Value)
		}
		row = append(row, cell)
	}
	return append(row, guard(l.Note))
}

// AppendLot returns a lot file with one more row: what stood in it is kept as
// it was written, and a column is added where the lot needs one. An empty file
// becomes one with a heading line. It is refused where the result would not
// read back as the old rows and the new one. The error is InputErrors.
func AppendLot(existing []byte, file string, l Lot) ([]byte, error) {
	var before []Lot
	if len(bytes.TrimSpace(existing)) > 0 {
		var err error
		if before, err = ReadLots(bytes.NewReader(existing), file); err != nil {
			return nil, err
		}
	}
	out, err := AppendRow(existing, file, lotHeadings, l.cells())
	if err != nil {
		return nil, err
	}
	after, err := ReadLots(bytes.NewReader(out), file)
	if err != nil {
		return nil, err
	}
	if len(after) != len(before)+1 || !sameLot(after[len(before)], l) {
		return nil, InputErrors{{Place: Place{File: file}, Message: "the new row does not read back as it was given; expected plain text"}}
	}
	return out, nil
}

// sameLot compares two lots, places aside.
func sameLot(a, b Lot) bool {
	a.Place, b.Place = Place{}, Place{}
	return a.Date.Equal(b.Date) && a.Ingredient == b.Ingredient && a.Note == b.Note && a.Readings == b.Readings
}
