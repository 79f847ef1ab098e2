package pantry

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
)

// AppendRow returns a CSV file with one more row under the given headings. What
// stood in the file is kept cell by cell with its separator, its line ends and
// its byte order mark, one in UTF-16 as UTF-8; columns that the row fills and the file lacks are added at the end. An
// empty file becomes a heading line and the row. The cells must be guarded
// already. The error is InputErrors.
func AppendRow(existing []byte, file string, headings, cells []string) ([]byte, error) {
	if len(bytes.TrimSpace(existing)) == 0 {
		return writeRecords([][]string{headings, cells}, ',', false)
	}
	marked := bytes.HasPrefix(existing, []byte(utf8Mark)) || bytes.HasPrefix(existing, []byte{0xFF, 0xFE}) || bytes.HasPrefix(existing, []byte{0xFE, 0xFF})
	data, wrong := textOf(existing)
	if wrong != nil {
		wrong.Place.File = file
		return nil, InputErrors{wrong}
	}
	t := newTable(data)
	records, err := t.csv.ReadAll()
	if err != nil {
		reading := &reader{file: file, lines: t.lines, csv: t.csv}
		reading.syntax(err)
		return nil, reading.errors
	}
	// Blank rows at the end would part the old rows from the new one.
	records = slices.DeleteFunc(records, blank)
	top := records[0]
	row := make([]string, len(top))
	for n, heading := range headings {
		at := slices.IndexFunc(top, func(h string) bool { return strings.EqualFold(cleanText(h), heading) })
		switch {
		case at >= 0:
			row[at] = cells[n]
		case cells[n] != "":
			top, row = append(top, heading), append(row, cells[n])
		}
	}
	records[0] = top
	records = append(records, row)
	for n := range records {
		if short := len(top) - len(records[n]); short > 0 {
			records[n] = append(records[n], make([]string, short)...)
		}
	}
	text, _ := decoded(existing)
	carriageReturns := bytes.Contains(text, []byte("\r\n"))
	out, err := writeRecords(records, t.csv.Comma, carriageReturns)
	switch {
	case t.named != "" && carriageReturns:
		out = append([]byte(t.named+"\r\n"), out...)
	case t.named != "":
		out = append([]byte(t.named+"\n"), out...)
	}
	if marked {
		out = append([]byte(utf8Mark), out...)
	}
	return out, err
}

func writeRecords(records [][]string, comma rune, carriageReturns bool) ([]byte, error) {
	var b bytes.Buffer
	out := csv.NewWriter(&b)
	out.Comma, out.UseCRLF = comma, carriageReturns
	err := out.WriteAll(records)
	return b.Bytes(), err
}

// AppendIngredient returns a bar's CSV with one more row for an ingredient. Where
// one of its name is on the shelf below, only the cells are filled that differ
// from it. It is refused where the file cannot be read over the shelf, or could
// not be with the row in it: a name that has a row already is one reason. The
// error is InputErrors.
func AppendIngredient(existing []byte, file string, i *Ingredient, below *Shelf) ([]byte, error) {
	if len(bytes.TrimSpace(existing)) > 0 {
		if _, err := below.Overlay(bytes.NewReader(existing), file); err != nil {
			return nil, err
		}
	}
	was, err := below.Find(i.Name)
	if err != nil {
		was = nil
	}
	var headings, cells []string
	for n := range fields {
		f := &fields[n]
		cell := f.write(i)
		if cell == "" || was != nil && f.heading != "name" && cell == f.write(was) {
			continue
		}
		if !f.number {
			cell = guard(cell)
		}
		headings, cells = append(headings, f.heading), append(cells, cell)
	}
	out, err := AppendRow(existing, file, headings, cells)
	if err != nil {
		return nil, err
	}
	over, err := below.Overlay(bytes.NewReader(out), file)
	if err != nil {
		return nil, err
	}
	if _, err := over.Find(i.Name); err != nil {
		return nil, InputErrors{{Place: Place{File: file}, Message: err.Error()}}
	}
	return out, nil
}
