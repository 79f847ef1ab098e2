package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"minim/profile"
	"minim/solver"
)

// tastesNow says in words how a swapped drink differs from what it was.
func tastesNow(c *solver.Changed) string {
	if len(c.Nudges) > 0 {
		return ""
	}
	var words []string
	for i := range c.Properties {
		p := &c.Properties[i]
		pair, ok := moreAndLess[p.Property]
		if !ok || !p.Held || math.Abs(p.AfterJND) < profile.Perceptible {
			continue
		}
		if p.AfterJND > 0 {
			words = append(words, pair[0])
		} else {
			words = append(words, pair[1])
		}
	}
	if len(words) == 0 {
		return ""
	}
	return " It is " + list(words) + " than it was."
}

// toAnotherDrink is what to say of pours that went so far that it is no longer the
// drink it was.
const toAnotherDrink = "This is another drink: %s."

// goneFar is what to say of the pours of a change that went far; where tasting
// asked for it, it may still be the drink.
func goneFar(c *solver.Changed) string {
	switch {
	case c.FromReference:
		return "This is another drink than the one that it came from: %s."
	case len(c.Nudges) > 0:
		return "That is far to go: %s. Taste whether it is still your drink."
	}
	return toAnotherDrink
}

// farSentences name the pours that went far, in the words of said.
func farSentences(far []solver.FarPour, said string, unit liquidUnit) []string {
	var clauses []string
	for i := range far {
		p := &far[i]
		before, after := spokenAmount(p.Before, unit), spokenAmount(p.After, unit)
		if p.InPlaceOf != "" {
			clauses = append(clauses, fmt.Sprintf("%s %s stands in the place of %s %s", after, p.Name, before, p.InPlaceOf))
			continue
		}
		clauses = append(clauses, fmt.Sprintf("%s goes from %s to %s", p.Name, before, after))
	}
	if len(clauses) == 0 {
		return nil
	}
	return []string{fmt.Sprintf(said, list(clauses))}
}

// ethanolTold is the change of a serve's ethanol, as a part, that is always told.
// Common practice, no source.
const ethanolTold = 0.25

// roundOff is what sums of floating-point numbers may be off by, as a part.
const roundOff = 1e-9

// ethanolSentence tells a serve that holds much more or less alcohol.
func ethanolSentence(c *solver.Changed) []string {
	before, after := c.Original.Profile[profile.Ethanol].Value, c.Profile[profile.Ethanol].Value
	if math.Abs(after-before) < ethanolTold*before*(1-roundOff) || fixed(before, 1) == fixed(after, 1) {
		return nil
	}
	if fixed(before, 1) == "0.0" {
		return []string{fmt.Sprintf("The serve now holds %s g of ethanol; it held none.", fixed(after, 1))}
	}
	word := "more"
	if after < before {
		word = "less"
	}
	return []string{fmt.Sprintf("The serve now holds %s g of ethanol, not %s: %s %% %s.", fixed(after, 1), fixed(before, 1), fixed(100*math.Abs(after/before-1), 0), word)}
}

// helpful is what pulls apart, without help that leaves the drink about as far
// off, and without what the remedy says.
func helpful(c *solver.Changed) *solver.Conflict {
	out := *c.Conflict
	if out.Help != nil && (c.Remedy != nil || c.TotalJND-out.Help.TotalJND < profile.Perceptible) {
		out.Help = nil
	}
	return &out
}

// bodyAndStrength say what would help a nudge that no pour of the drink brings
// about.
func bodyAndStrength(c *solver.Changed, unit liquidUnit) []string {
	out := thinnerSentence(c.Thinner, unit)
	for i := range c.Properties {
		p := &c.Properties[i]
		asked := false
		for _, n := range c.Nudges {
			asked = asked || n.Property == p.Property && n.Steps > 0
		}
		if !asked || p.AfterJND > -profile.Perceptible {
			continue
		}
		switch p.Property {
		case profile.Strength:
			out = append(out, "What makes it stronger at its size is a stronger spirit in the place of its own, or less melt: larger, colder and drier ice.")
		case profile.Viscosity:
			out = append(out, "Nothing in the drink can thicken it that far and keep the rest.")
		}
	}
	return out
}

// atLeastSentences say which of the properties that were nudged are known only in
// part.
func atLeastSentences(c *solver.Changed) []string {
	var out []string
	for _, n := range c.Nudges {
		from := c.Profile[n.Property].UnknownFrom
		if len(from) == 0 || slices.ContainsFunc(c.Unknown, func(u solver.UnknownProperty) bool { return u.Property == n.Property }) {
			continue
		}
		bring := "brings"
		if len(from) > 1 {
			bring = "bring"
		}
		out = append(out, fmt.Sprintf("All figures of %s are at least so much: what %s %s of it is not known.", n.Property.Name(), list(from), bring))
	}
	return out
}

// thinnerSentence says what was tried to thin a drink that its pours cannot.
func thinnerSentence(t *solver.Thinner, unit liquidUnit) []string {
	if t == nil {
		return nil
	}
	var ways []string
	if p := t.Thickest; p != nil {
		ways = append(ways, fmt.Sprintf("What thickens it most is %s: with the %s left out and nothing put right it comes to %s mPa·s, but what that brings to the taste goes too.",
			p.Name, spokenAmount(*p.Before, unit), fixed(t.Without, 1)))
	}
	if t.Water > 0 {
		ways = append(ways, fmt.Sprintf("With %s more water it is as thin as you want it: a drink of %s, and all of it weaker.",
			unit.sized(t.Water), unit.volume(t.Volume)))
	}
	if len(ways) == 0 {
		return []string{"Leaving out any one pour does not thin it by what can be noticed, nor does as much water as there is drink."}
	}
	return []string{strings.Join(ways, " ")}
}

// remedySentence says what one more ingredient does, and the flag that lets it in.
func remedySentence(c *solver.Changed) (sentence, flag string) {
	flag, what := "--free", "put right"
	if len(c.Nudges) > 0 {
		flag, what = "--from", "done"
	}
	switch {
	case c.Remedy.Unnoticed && c.Remedy.TotalJND >= profile.Perceptible:
		return fmt.Sprintf("With %s allowed in, it can be %s, and no miss that is left would be noticed by itself:", c.Remedy.Name, what), flag
	case c.Remedy.Unnoticed:
		return fmt.Sprintf("With %s allowed in, it can be %s, and nobody would notice what is left:", c.Remedy.Name, what), flag
	}
	return fmt.Sprintf("With %s allowed in, the misses come down to %s JND in all:", c.Remedy.Name, fixed(c.Remedy.TotalJND, 1)), flag
}

// invocation is the command line as it was typed with one more flag, so that it
// runs as it is printed; one that is too wide is broken as a shell reads it.
func (f *flags) invocation(flag, value string) string {
	words := append([]string{"minim", f.command.name}, f.typed...)
	words = append(words, flag, value)
	var lines []string
	line := ""
	for i, word := range words {
		word = quoted(word)
		switch {
		case i == 0:
			line = "  " + word
		case len([]rune(line))+1+len([]rune(word))+2 > lineWidth:
			lines = append(lines, line+" \\")
			line = "    " + word
		default:
			line += " " + word
		}
	}
	return strings.Join(append(lines, line), "\n") + "\n"
}

// quoted is a word as a shell reads it back.
func quoted(word string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_./,:+@%", r)
	}
	if word != "" && strings.IndexFunc(word, func(r rune) bool { return !plain(r) }) < 0 {
		return word
	}
	if strings.ContainsAny(word, "\"$`\\!") {
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	}
	return `"` + word + `"`
}
