package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"minim/profile"
	"minim/solver"
)

// writeCompared prints drinks side by side, or a folder as a list.
func writeCompared(w io.Writer, c *compared) error {
	var b strings.Builder
	write := c.writeColumns
	if c.menu {
		write = c.writeMenu
	}
	if err := write(&b); err != nil {
		return err
	}
	for _, s := range []string{c.openPours(), c.knownInPart()} {
		if s != "" {
			b.WriteString("\n" + wrap(s, lineWidth) + "\n")
		}
	}
	_, err := io.WriteString(w, trimLines(b.String()))
	return err
}

// widestColumn is how much of a drink's name heads its column.
const widestColumn = 18

// writeColumns prints a column a drink, in blocks that fit the line, and then
// what sets each drink apart from the first.
func (c *compared) writeColumns(b *strings.Builder) error {
	short := shortNames(c.names, widestColumn)
	if err := writeBlocks(b, "in units", short, c.unitRows()); err != nil {
		return err
	}
	b.WriteString("\n")
	if err := writeBlocks(b, "JND from "+short[0], short[1:], c.jndRows()); err != nil {
		return err
	}
	for n := range c.Drinks[1:] {
		b.WriteString("\n" + wrap(c.sentence(n+1), lineWidth) + "\n")
	}
	return nil
}

// comparedRow is a property across all drinks.
type comparedRow struct {
	name, unit string
	cells      []string
}

// unitRows are the values of all drinks.
func (c *compared) unitRows() []comparedRow {
	var rows []comparedRow
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		row := comparedRow{name: p.Name(), unit: p.Unit()}
		for _, a := range c.Drinks {
			row.cells = append(row.cells, comparedValue(p, a))
		}
		if p == profile.Volume {
			row.unit = c.unit.heading()
			for n, a := range c.Drinks {
				row.cells[n] = c.unit.tenths(a.Profile[p].Value)
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// comparedValue is a value with decimals that are the same for every drink.
func comparedValue(p profile.Property, a *solver.Answer) string {
	v := &a.Profile[p]
	return withDoubt(p, v, fixed(v.Value, decimals[p]))
}

// jndRows are the distances of the other drinks from the first in what can be
// tasted; their total counts each of them.
func (c *compared) jndRows() []comparedRow {
	var rows []comparedRow
	for _, p := range solver.TasteProperties {
		row := comparedRow{name: p.Name()}
		for n := range c.Drinks[1:] {
			d := &c.Against[n+1][p]
			text := signed(d.JND, 1)
			if d.Unknown {
				text = "about " + text
			}
			row.cells = append(row.cells, text)
		}
		rows = append(rows, row)
	}
	total := comparedRow{name: "in all"}
	for n := range c.Drinks[1:] {
		total.cells = append(total.cells, fixed(c.Between(0, n+1).TotalJND, 1))
	}
	return append(rows, total)
}

// writeBlocks prints rows with as many drinks beside one another as fit.
func writeBlocks(b *strings.Builder, heading string, names []string, rows []comparedRow) error {
	const between = 2
	head := utf8.RuneCountInString(heading)
	unit := 0
	widths := make([]int, len(names))
	for n, name := range names {
		widths[n] = utf8.RuneCountInString(name)
	}
	for _, row := range rows {
		head, unit = max(head, utf8.RuneCountInString(row.name)), max(unit, utf8.RuneCountInString(row.unit))
		for n, cell := range row.cells {
			widths[n] = max(widths[n], utf8.RuneCountInString(cell))
		}
	}
	for first := 0; first < len(names); {
		used, last := 1+head+between+unit, first
		for last < len(names) && (last == first || used+between+widths[last] < lineWidth) {
			used += between + widths[last]
			last++
		}
		if first > 0 {
			b.WriteString("\n")
		}
		columns := []tableColumn{{heading: heading}, {optional: true}}
		for _, name := range names[first:last] {
			columns = append(columns, tableColumn{heading: name, right: true})
		}
		var cells [][]string
		for _, row := range rows {
			cells = append(cells, append([]string{row.name, row.unit}, row.cells[first:last]...))
		}
		if err := writeTable(b, columns, cells); err != nil {
			return err
		}
		first = last
	}
	return nil
}

// Pairs of a list that are printed: the nearest, and any that could hardly be
// told apart, but no more than a page of them.
const (
	nearestPairs = 3
	mostPairs    = 20
)

// writeMenu prints a line a drink, then the pairs nearest to one another.
func (c *compared) writeMenu(b *strings.Builder) error {
	rows := make([][]string, len(c.Drinks))
	rest := 0
	columns := []tableColumn{{heading: "drink"}, {heading: c.unit.heading(), right: true}}
	for n, a := range c.Drinks {
		rows[n] = []string{"", c.unit.whole(a.Profile[profile.Volume].Value)}
	}
	for _, one := range []struct {
		property profile.Property
		heading  string
		places   int
	}{
		{profile.Strength, "% vol", 1},
		{profile.Sugar, "sugar g/L", 0},
		{profile.Acid, "acid g/L", 1},
		{profile.Ethanol, "ethanol g", 1},
		{profile.PH, "ph", 1},
	} {
		columns = append(columns, tableColumn{heading: one.heading, right: true})
		for n, a := range c.Drinks {
			rows[n] = append(rows[n], menuValue(one.property, &a.Profile[one.property], one.places))
		}
	}
	for i := 1; i < len(columns); i++ {
		width := utf8.RuneCountInString(columns[i].heading)
		for n := range rows {
			width = max(width, utf8.RuneCountInString(rows[n][i]))
		}
		rest += 2 + width
	}
	for n, name := range shortNames(c.names, lineWidth-2-rest) {
		rows[n][0] = name
	}
	if err := writeTable(b, columns, rows); err != nil {
		return err
	}
	return c.writePairs(b)
}

// menuValue is a value of the list; a pH that is known only in part is left out.
func menuValue(p profile.Property, v *solver.PropertyValue, places int) string {
	switch {
	case len(v.UnknownFrom) == 0:
		return fixed(v.Value, places)
	case p == profile.PH:
		return ""
	}
	return "at least " + fixed(v.Value, places)
}

// shownPairs are the pairs of a list that are named.
func (c *compared) shownPairs() []solver.Pair {
	n := 0
	for n < len(c.Pairs) && (n < nearestPairs || c.Pairs[n].TotalJND < solver.HardlyTold && n < mostPairs) {
		n++
	}
	return c.Pairs[:n]
}

// writePairs prints the drinks nearest to one another.
func (c *compared) writePairs(b *strings.Builder) error {
	if len(c.Pairs) == 0 {
		b.WriteString("\nOne drink: there is none to compare it with.\n")
		return nil
	}
	pairs := c.shownPairs()
	short := shortNames(c.names, 22)
	var rows [][]string
	for i := range pairs {
		p := &pairs[i]
		most := ""
		if d := &p.Differences[0]; d.JND != 0 {
			most = fmt.Sprintf("%s, %s JND", differenceWord(d), fixed(math.Abs(d.JND), 1))
		}
		rows = append(rows, []string{short[p.First], short[p.Second], fixed(p.TotalJND, 1), most})
	}
	b.WriteString("\n")
	columns := []tableColumn{{heading: "nearest to one another"}, {}, {heading: "JND"}, {heading: "most of all the second is"}}
	columns[2].right = true
	if err := writeTable(b, columns, rows); err != nil {
		return err
	}
	if s := c.hardlyTold(pairs); s != "" {
		b.WriteString("\n" + wrap(s, lineWidth) + "\n")
	}
	if more := c.hardlyToldCount() - len(pairs); more > 0 {
		b.WriteString("\n" + wrap(fmt.Sprintf("%d more pairs could hardly be told apart; --json has them all.", more), lineWidth) + "\n")
	}
	return nil
}

// hardlyToldCount is how many pairs a guest could hardly tell apart.
func (c *compared) hardlyToldCount() int {
	n := 0
	for n < len(c.Pairs) && c.Pairs[n].TotalJND < solver.HardlyTold {
		n++
	}
	return n
}
