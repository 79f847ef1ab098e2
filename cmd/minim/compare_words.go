package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"minim/profile"
	"minim/solver"
)

// moreAndLess say what more and less of a property make of a drink.
var moreAndLess = map[profile.Property][2]string{
	profile.Strength: {"stronger", "weaker"}, profile.Sugar: {"sweeter", "drier"}, profile.Sweetness: {"sweeter", "less sweet"}, profile.Acid: {"sharper", "less sharp"},
	profile.Salt: {"saltier", "less salty"}, profile.Bitter: {"more bitter", "less bitter"}, profile.Umami: {"more savoury", "less savoury"},
	profile.Temperature: {"warmer", "colder"}, profile.CarbonDioxide: {"fizzier", "less fizzy"}, profile.Viscosity: {"thicker", "thinner"},
}

// differenceWord is what one property makes of the second of two drinks.
func differenceWord(d *solver.Difference) string {
	words := moreAndLess[d.Property]
	if d.JND < 0 {
		return words[1]
	}
	return words[0]
}

// sentence says what sets a drink apart from the first of a comparison.
func (c *compared) sentence(n int) string {
	pair := c.Between(0, n)
	name, first := c.names[n], c.names[0]
	against := c.Against[n][:]
	if !slices.ContainsFunc(against, func(d solver.Difference) bool { return d.More != 0 }) {
		return fmt.Sprintf("%s and %s are the same on every property computed: 0 JND.", first, name)
	}
	text := c.tasted(pair, name, first)
	if more := c.Against[n][profile.Volume].More; math.Abs(more) > fullWithin*c.Drinks[0].Profile[profile.Volume].Value {
		word := "larger"
		if more < 0 {
			word = "smaller"
		}
		text += fmt.Sprintf(" It is also %s by %s.", word, c.unit.volume(math.Abs(more)))
	}
	return text
}

// adverbs say how a difference is noticed, the plain before the faint.
var adverbs = []struct{ how, word string }{
	{profile.Noticed(2), "plainly"}, {profile.Noticed(1), "noticeably"}, {profile.Noticed(profile.Perceptible), "perhaps"},
}

// mostNamed is how many differences a sentence names; the table has them all.
const mostNamed = 4

// tasted says what a taster would find, the plain differences before the faint.
func (c *compared) tasted(pair *solver.Pair, name, first string) string {
	total := fixed(pair.TotalJND, 1)
	if pair.TotalJND < profile.Perceptible {
		return fmt.Sprintf("Nobody would tell %s from %s on the properties computed: %s JND in all.", name, first, total)
	}
	words := map[string][]string{}
	named, perceptible := 0, 0
	for i := range pair.Differences {
		d := &pair.Differences[i]
		if !d.Perceptible() {
			continue
		}
		if perceptible++; named == mostNamed {
			continue
		}
		named++
		how := profile.Noticed(d.JND)
		words[how] = append(words[how], fmt.Sprintf("%s (%s)", differenceWord(d), fixed(math.Abs(d.JND), 1)))
	}
	var parts []string
	for _, adverb := range adverbs {
		if some := words[adverb.how]; len(some) > 0 {
			parts = append(parts, adverb.word+" "+list(some))
		}
	}
	if len(parts) == 0 {
		return fmt.Sprintf("%s is %s JND from %s in all: each difference alone would not be noticed, together they may be.", name, total, first)
	}
	rest := "; the rest nobody would notice"
	switch {
	case perceptible > named:
		rest = "; the rest is less"
	case perceptible == len(pair.Differences):
		rest = ""
	}
	return fmt.Sprintf("Against %s, %s is %s: %s JND in all%s.", first, name, strings.Join(parts, ", "), total, rest)
}

// openPours says whose amounts were found rather than read.
func (c *compared) openPours() string {
	var open []string
	for n, name := range c.names {
		if c.solved[n] {
			open = append(open, name)
		}
	}
	switch len(open) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("%s has open pours; its amounts are those that design finds.", open[0])
	}
	return fmt.Sprintf("%s have open pours; their amounts are those that design finds.", list(open))
}

// knownInPart says which of the properties that count are known only in part,
// and by whose fault.
func (c *compared) knownInPart() string {
	var parts []string
	for _, p := range solver.TasteProperties {
		var from []string
		for _, a := range c.Drinks {
			for _, name := range a.Profile[p].UnknownFrom {
				if !slices.Contains(from, name) {
					from = append(from, name)
				}
			}
		}
		if len(from) > 4 {
			from = append(from[:3:3], fmt.Sprintf("%d more ingredients", len(from)-3))
		}
		if len(from) > 0 {
			parts = append(parts, fmt.Sprintf("%s, which leaves out what is in %s", p.Name(), list(from)))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("Known only in part, so that the distances may be more or less: %s.", strings.Join(parts, "; "))
}

// hardlyTold names the pairs that a guest could hardly tell apart.
func (c *compared) hardlyTold(pairs []solver.Pair) string {
	var near []string
	for i := range pairs {
		if pairs[i].TotalJND < solver.HardlyTold {
			near = append(near, fmt.Sprintf("%s from %s", c.names[pairs[i].Second], c.names[pairs[i].First]))
		}
	}
	if len(near) == 0 {
		return ""
	}
	return fmt.Sprintf("On the properties computed, which leave out aroma, a guest could hardly tell %s.", list(near))
}
