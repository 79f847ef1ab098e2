package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"minim/profile"
	"minim/solver"
)

// writeReach prints the ranges of a drink, the pours at the ends of one property
// where these are asked for, and what stops the targeted properties.
func writeReach(w io.Writer, r *solver.Reachable, unit liquidUnit, pours bool, of profile.Property) error {
	var b strings.Builder
	name := r.Spec.Name
	if name == "" {
		name = "A drink"
	}
	b.WriteString(wrap(name+", how far each property can go in amounts of any size", lineWidth) + "\n\n")
	if len(r.Ranges) > 0 {
		if err := writeRanges(&b, r); err != nil {
			return err
		}
	}
	if pours {
		if err := writeEnds(&b, r, unit, of); err != nil {
			return err
		}
	}
	for i, s := range reachSentences(r, unit) {
		if i > 0 || len(r.Ranges) > 0 {
			b.WriteString("\n")
		}
		b.WriteString(wrap(s, lineWidth) + "\n")
	}
	_, err := io.WriteString(w, trimLines(b.String()))
	return err
}

// writeRanges prints a line for each property that has a target or that moves
// by what its decimals show.
func writeRanges(b *strings.Builder, r *solver.Reachable) error {
	var rows [][]string
	var unknown []string
	aimed := anyAimed(r)
	for i := range r.Ranges {
		one := &r.Ranges[i]
		least, most := rangeNumber(one.Property, one.Alone.Least.Value), rangeNumber(one.Property, one.Alone.Greatest.Value)
		if least == most && !one.Aimed {
			continue
		}
		name, from, to := one.Property.Name(), "", ""
		if len(one.UnknownFrom) > 0 {
			name += " *"
			unknown = append(unknown, fmt.Sprintf("%s leaves out %s", one.Property.Name(), list(one.UnknownFrom)))
		}
		if one.Held != nil && aimed {
			from, to = rangeNumber(one.Property, one.Held.Least.Value), rangeNumber(one.Property, one.Held.Greatest.Value)
		}
		rows = append(rows, []string{name, one.Property.Unit(), wanted(one), least, from, to, most, reachBar(one, aimed)})
	}
	err := writeTable(b, []tableColumn{
		{heading: "property"},
		{heading: "unit"},
		{heading: "wanted", right: true, optional: true},
		{heading: "least", right: true},
		{heading: "held from", right: true, optional: true},
		{heading: "to", right: true, optional: true},
		{heading: "most", right: true},
		{},
	}, rows)
	if legend := barLegend(r); legend != "" {
		b.WriteString("\n" + legend + "\n")
	}
	if len(unknown) > 0 {
		bring := "these bring"
		if len(unknown) == 1 && !strings.Contains(unknown[0], " and ") {
			bring = "it brings"
		}
		b.WriteString(wrap("* "+strings.Join(unknown, "; ")+": how much "+bring+" is unknown.", lineWidth) + "\n")
	}
	return err
}

// wanted writes the target of a range, empty where there is none.
func wanted(one *solver.PropertyReach) string {
	if !one.Aimed {
		return ""
	}
	places := decimals[one.Property]
	if one.Low == one.High {
		return trimmed(one.Low, places)
	}
	return trimmed(one.Low, places) + ".." + trimmed(one.High, places)
}

// rangeNumber writes an end with the decimals of its property, from a thousand on
// without any.
func rangeNumber(p profile.Property, v float64) string {
	places := decimals[p]
	if math.Abs(v) >= 1000 {
		places = 0
	}
	return fixed(v, places)
}

// writeEnds prints the pours at the four ends of one property.
func writeEnds(b *strings.Builder, r *solver.Reachable, unit liquidUnit, of profile.Property) error {
	var one *solver.PropertyReach
	for i := range r.Ranges {
		if r.Ranges[i].Property == of {
			one = &r.Ranges[i]
		}
	}
	if one == nil {
		if len(r.Ranges) > 0 {
			b.WriteString("\n" + wrap("Nothing that is open moves "+of.Name()+".", lineWidth) + "\n")
		}
		return nil
	}
	ends := []*solver.End{&one.Alone.Least, nil, nil, &one.Alone.Greatest}
	if one.Held != nil && anyAimed(r) {
		ends[1], ends[2] = &one.Held.Least, &one.Held.Greatest
	}
	head := []string{"least", "held from", "to", "most"}
	columns := []tableColumn{{heading: of.Name()}, {heading: "unit"}}
	values := []string{"", of.Unit()}
	for i, end := range ends {
		columns = append(columns, tableColumn{heading: head[i], right: true, optional: true})
		values = append(values, endValue(of, end))
	}
	rows := [][]string{values}
	for _, p := range r.Spec.Pours() {
		rows = append(rows, endRow(p.Name, ends, unit))
	}
	for column := 2; column < len(columns); column++ {
		cells := make([]string, len(rows))
		for i := range rows {
			cells[i] = rows[i][column]
		}
		alignPoints(cells)
		for i := range rows {
			rows[i][column] = cells[i]
		}
	}
	b.WriteString("\n")
	return writeTable(b, columns, rows)
}

// endValue writes the value at an end; empty where there is none.
func endValue(p profile.Property, end *solver.End) string {
	if end == nil {
		return ""
	}
	return rangeNumber(p, end.Value)
}

// endRow writes what of one pour is in the drink at each end, a dash where none
// is.
func endRow(name string, ends []*solver.End, liquids liquidUnit) []string {
	unit, amounts, most := "", make([]float64, len(ends)), 0.0
	for i, end := range ends {
		if end == nil {
			continue
		}
		for j := range end.Pours {
			if p := &end.Pours[j]; p.Name == name {
				amounts[i], unit = endAmount(p, liquids)
			}
		}
		most = max(most, amounts[i])
	}
	places := 2
	if most < 1 {
		places = 4
	} else if most < 10 {
		places = 3
	}
	row := []string{cutName(longestEndName, name), unit}
	for i, end := range ends {
		switch {
		case end == nil:
			row = append(row, "")
		case amounts[i] == 0:
			row = append(row, "none")
		default:
			row = append(row, fixed(amounts[i], places))
		}
	}
	return row
}

// longestEndName is as much of a name as leaves room for the four ends.
const longestEndName = 26

// endAmount is a pour in the unit that it is measured in, and that unit.
func endAmount(p *solver.PouredAmount, liquids liquidUnit) (amount float64, unit string) {
	switch {
	case counted(p.Amount.Unit):
		return p.Amount.Value, p.Amount.Unit.String()
	case p.Ingredient.Solid:
		return p.Base, "g"
	}
	return liquids.amount(p.Base), liquids.heading()
}
