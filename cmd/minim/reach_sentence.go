package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// reachSentences say which pour or limit stops the properties that are aimed at
// (all of them where none is), and whether the targets can be met.
func reachSentences(r *solver.Reachable, unit liquidUnit) []string {
	var out []string
	for _, b := range r.Broken {
		out = append(out, fmt.Sprintf("The limit %q cannot be kept: the nearest comes to %s.", b.Written, unit.reached(&b)))
	}
	if len(r.Conflict) > 1 {
		out = append(out, fmt.Sprintf("These limits cannot be kept together with these bottles: %s.", list(r.Conflict)))
	}
	if len(r.Ranges) == 0 {
		return append(out, "No drink keeps all that is written, so nothing is in reach: loosen a limit, a ratio or a pour.")
	}
	aimed := anyAimed(r)
	var outside []string
	for i := range r.Ranges {
		one := &r.Ranges[i]
		if aimed && !one.Aimed || !aimed && !usual[one.Property] {
			continue
		}
		out = append(out, stopsOf(one, othersAimed(r, one.Property), unit))
		if text := outOfReach(one, unit); text != "" {
			outside = append(outside, text)
		}
	}
	out = append(out, outside...)
	switch {
	case len(r.Apart) == 1:
		out = append(out, fmt.Sprintf("With these bottles %s cannot be brought within one JND of its target, so that nothing else has a range with it held.", r.Apart[0].Name()))
	case len(r.Apart) > 1:
		var names []string
		for _, p := range r.Apart {
			names = append(names, p.Name())
		}
		out = append(out, fmt.Sprintf("With these bottles the targets of %s cannot be held together within one JND: what needs them all has no range held.", list(names)))
	case aimed && len(outside) == 0:
		out = append(out, "Every target lies where the others can be held: minim design finds the amounts on your measures.")
	}
	return out
}

// usual are the properties whose ends get a sentence where nothing is aimed at:
// those that one drink takes from another that it should be like.
var usual = map[profile.Property]bool{
	profile.Volume: true, profile.Strength: true, profile.Sugar: true, profile.Acid: true, profile.Salt: true, profile.Bitter: true, profile.Umami: true,
}

// anyAimed tells whether the drink has any target.
func anyAimed(r *solver.Reachable) bool {
	return slices.ContainsFunc(r.Ranges, func(one solver.PropertyReach) bool { return one.Aimed })
}

// othersAimed tells whether a property other than p has a target.
func othersAimed(r *solver.Reachable, p profile.Property) bool {
	return slices.ContainsFunc(r.Ranges, func(one solver.PropertyReach) bool { return one.Aimed && one.Property != p })
}

// stopsOf says what stops each end of a property.
func stopsOf(one *solver.PropertyReach, others bool, unit liquidUnit) string {
	p := one.Property
	if !(one.Alone.Greatest.Value > one.Alone.Least.Value) {
		return fmt.Sprintf("Nothing that is open moves %s: it is %s.", p.Name(), withUnit(p, one.Alone.Least.Value))
	}
	text := fmt.Sprintf("%s alone: %s.", p.Name(), endsWords(p, &one.Alone, unit))
	if one.Held != nil && others {
		text += fmt.Sprintf(" With the other targets held: %s.", endsWords(p, one.Held, unit))
	}
	return text
}

// endsWords says what stops the two ends of a span.
func endsWords(p profile.Property, s *solver.Span, unit liquidUnit) string {
	return fmt.Sprintf("from %s, stopped by %s, to %s, stopped by %s",
		withUnit(p, s.Least.Value), stopWords(&s.Least, unit), withUnit(p, s.Greatest.Value), stopWords(&s.Greatest, unit))
}

// outOfReach says what would bring a target nearer that lies outside its range;
// empty where it lies inside.
func outOfReach(one *solver.PropertyReach, unit liquidUnit) string {
	if !one.Aimed {
		return ""
	}
	span, how := &one.Alone, "with these bottles"
	if one.Held != nil && within(one, span) {
		span, how = one.Held, "while the other targets are held"
	}
	if within(one, span) {
		return ""
	}
	end := &span.Least
	if one.Low > span.Greatest.Value {
		end = &span.Greatest
	}
	text := fmt.Sprintf("%s %s is out of reach %s", one.Property.Name(), strings.TrimSpace(wanted(one)+" "+one.Property.Unit()), how)
	gap := max(one.Low-end.Value, end.Value-one.High)
	if len(end.Stops) == 0 || end.Stops[0].Price < worthRoom*gap {
		return text + "."
	}
	s := &end.Stops[0]
	return fmt.Sprintf("%s. What stops it first is %s: each %s of room there is worth %s.", text, stopWord(s, unit), s.Unit, amountOf(one.Property, s.Price))
}

// worthRoom is the part of what is missing that a unit of room has to be worth to
// be named.
const worthRoom = 0.01

// within tells whether the target, or a part of its band, lies in a span.
func within(one *solver.PropertyReach, span *solver.Span) bool {
	room := 1e-6 * (span.Greatest.Value - span.Least.Value)
	return one.High >= span.Least.Value-room && one.Low <= span.Greatest.Value+room
}

// amountOf writes a difference of a property to two figures.
func amountOf(p profile.Property, v float64) string {
	return strings.TrimSpace(trimmed(v, max(placesFor(v/3), 0)) + " " + p.Unit())
}

// withUnit writes a value of a property with its unit.
func withUnit(p profile.Property, v float64) string {
	return strings.TrimSpace(rangeNumber(p, v) + " " + p.Unit())
}

// stopWords names the weightiest bound that stops an end and, where that is a
// target held, the first pour or limit besides.
func stopWords(e *solver.End, unit liquidUnit) string {
	if len(e.Stops) == 0 {
		return "nothing: it turns there"
	}
	words := []string{stopWord(&e.Stops[0], unit)}
	for i := 1; i < len(e.Stops) && e.Stops[0].Kind == "held"; i++ {
		if e.Stops[i].Kind != "held" {
			words = append(words, stopWord(&e.Stops[i], unit))
			break
		}
	}
	return strings.Join(words, " and ")
}

// stopWord says one bound as the bar would.
func stopWord(s *solver.Stop, unit liquidUnit) string {
	switch s.Kind {
	case "least", "most":
		if s.Amount.Value == 0 {
			return s.Name + " at none"
		}
		return s.Name + " at its " + s.Kind + " (" + stopAmount(s, unit) + ")"
	case "held":
		p, _ := profile.PropertyNamed(s.Name)
		return s.Name + " held at " + withUnit(p, s.Bound)
	case "ratio":
		return "the ratio of " + s.Name + " at " + trimmed(s.Bound, 3)
	}
	if holds, ok := strings.CutPrefix(s.Name, "glass "); ok {
		return "the glass (" + holds + ")"
	}
	return fmt.Sprintf("the limit %q", s.Name)
}

// stopAmount writes the amount at which a pour stops.
func stopAmount(s *solver.Stop, unit liquidUnit) string {
	switch {
	case counted(s.Amount.Unit):
		return pantry.Amount{Value: math.Round(100*s.Amount.Value) / 100, Unit: s.Amount.Unit}.String()
	case s.Unit == "ml":
		return unit.sized(s.Bound)
	}
	return trimmed(s.Bound, 2) + " " + s.Unit
}
