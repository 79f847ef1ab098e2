package main

import (
	"io"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// tableColumn is a heading and how the cells below it are set.
type tableColumn struct {
	heading string
	right   bool
	// optional columns are left out where every cell is empty.
	optional bool
}

// writeTable prints rows under headings: no borders, no locale, no
// capitalising. It is the only user of the table library.
func writeTable(w io.Writer, columns []tableColumn, rows [][]string) error {
	columns, rows = withoutEmpty(columns, rows)
	alignment := make(tw.Alignment, len(columns))
	headings := make([]string, len(columns))
	for i, c := range columns {
		headings[i] = c.heading
		alignment[i] = tw.AlignLeft
		if c.right {
			alignment[i] = tw.AlignRight
		}
	}
	table := tablewriter.NewTable(w,
		tablewriter.WithEastAsian(tw.Off),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithTrimSpace(tw.Off),
		tablewriter.WithAlignment(alignment),
		tablewriter.WithHeaderAlignmentConfig(tw.CellAlignment{PerColumn: alignment}),
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{
			Borders:  tw.BorderNone,
			Settings: tw.Settings{Separators: tw.SeparatorsNone, Lines: tw.Lines{ShowHeaderLine: tw.Off, ShowFooterLine: tw.Off}},
		})),
	)
	table.Header(headings)
	for _, row := range rows {
		if err := table.Append(append([]string(nil), row...)); err != nil {
			return err
		}
	}
	return table.Render()
}

// withoutEmpty leaves out the optional columns that hold nothing.
func withoutEmpty(columns []tableColumn, rows [][]string) ([]tableColumn, [][]string) {
	var kept []tableColumn
	out := make([][]string, len(rows))
	for c, column := range columns {
		filled := !column.optional
		for _, row := range rows {
			filled = filled || row[c] != ""
		}
		if !filled {
			continue
		}
		kept = append(kept, column)
		for i, row := range rows {
			out[i] = append(out[i], row[c])
		}
	}
	return kept, out
}

// cutName cuts a name that is longer than that many characters, and says so with
// an ellipsis.
func cutName(longest int, name string) string {
	letters := []rune(name)
	if len(letters) <= longest {
		return name
	}
	return string(letters[:longest-1]) + "…"
}
