package pantry

import (
	"encoding/csv"
	"io"
	"slices"
)

// WriteCSV writes ingredients as a pantry file that reads back the same. The
// columns with a ± or a source of their own appear where some row fills them.
func WriteCSV(w io.Writer, ingredients []*Ingredient) error {
	var written []*field
	var heading []string
	for n := range fields {
		f := &fields[n]
		if f.besides && !slices.ContainsFunc(ingredients, func(i *Ingredient) bool { return f.write(i) != "" }) {
			continue
		}
		written = append(written, f)
		heading = append(heading, f.heading)
	}
	out := csv.NewWriter(w)
	if err := out.Write(heading); err != nil {
		return err
	}
	record := make([]string, len(written))
	for _, i := range ingredients {
		for n, f := range written {
			record[n] = f.write(i)
			if !f.number {
				record[n] = guard(record[n])
			}
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Write writes the whole shelf as one pantry file.
func (s *Shelf) Write(w io.Writer) error { return WriteCSV(w, s.ingredients) }
