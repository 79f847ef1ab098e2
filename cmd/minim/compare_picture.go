package main

import (
	"fmt"
	"math"
	"strings"

	"minim/profile"
	"minim/solver"
)

// picture draws a comparison: a few drinks property by property, a list as a
// map.
func (c *compared) picture() *picture {
	if c.menu {
		return c.menuPicture()
	}
	return c.scalesPicture()
}

// scalesPicture has a line a property and a mark a drink, all on JND scales
// around the first drink, so that equal distances are equally easy to taste.
// Below each line stand the values, in the property's unit, that are so many
// JND away.
func (c *compared) scalesPicture() *picture {
	const width, left, right = 760.0, 150.0, 730.0
	shown := c.shownProperties()
	low, high := -1.0, 1.0
	for n := range c.Drinks {
		for _, p := range shown {
			low, high = min(low, c.Against[n][p].JND), max(high, c.Against[n][p].JND)
		}
	}
	drinks := float64(len(c.Drinks))
	top := 30 + legendLine*drinks + 30
	lane := 12.0
	row := lane*drinks + 26
	bottom := top + row*float64(len(shown))

	pic := newPicture(width, bottom+60, "Drinks side by side: "+list(c.names), c.description())
	pic.legend(xy{left, 20}, right-left, c.names)
	a := niceAxis("JND from "+shortened(c.names[0], 40), low, high, left, right)
	pic.band(xy{a.at(-profile.Perceptible), top}, a.at(profile.Perceptible)-a.at(-profile.Perceptible), bottom-top, plainSeries)
	pic.text(xy{a.at(0), top - 8}, anchorMiddle, smallSize, "not noticed")
	pic.axisBelow(a, bottom, top)
	for i, p := range shown {
		y := top + row*float64(i)
		pic.gridLine(xy{20, y}, xy{right, y})
		label := p.Name() + ", " + p.Unit()
		pic.text(xy{left - 12, y + row/2}, anchorEnd, textSize, label)
		least, most := 0.0, 0.0
		for n, drink := range c.Drinks {
			least, most = min(least, c.Against[n][p].JND), max(most, c.Against[n][p].JND)
			meaning := fmt.Sprintf("%s: %s %s, %s JND", c.names[n], comparedValue(p, drink), p.Unit(), signed(c.Against[n][p].JND, 1))
			pic.point(xy{a.at(c.Against[n][p].JND), y + 5 + lane*(float64(n)+0.5)}, 11, n, meaning)
		}
		for _, v := range a.ticks() {
			if words, ok := c.valueAt(p, v); ok && v > least-a.step && v < most+a.step {
				pic.text(xy{a.at(v), y + row - 6}, anchorMiddle, smallSize-1, words)
			}
		}
	}
	return pic
}

// shownProperties are those that count and of which some drink has some.
func (c *compared) shownProperties() []profile.Property {
	var shown []profile.Property
	for _, p := range solver.TasteProperties {
		for _, a := range c.Drinks {
			if strings.Trim(fixed(a.Profile[p].Value, decimals[p]), "-0.") != "" {
				shown = append(shown, p)
				break
			}
		}
	}
	return shown
}

// valueAt is the value that lies so many JND from the first drink's; there may be
// none, as nothing is less than none.
func (c *compared) valueAt(p profile.Property, steps float64) (words string, ok bool) {
	j, ok := p.JND()
	if !ok {
		return "", false
	}
	v := j.At(j.Level(c.Drinks[0].Profile[p].Value) + steps)
	if p.NonNegative() && v < 0 {
		return "", false
	}
	return fixed(v, decimals[p]), true
}

// description says in words what the picture shows.
func (c *compared) description() string {
	var all []string
	for n := range c.Drinks[1:] {
		all = append(all, c.sentence(n+1))
	}
	return strings.Join(all, " ")
}

// largestDisc is how far the sweetest drink's disc stretches across.
const largestDisc = 46.0

// menuPicture has a disc a drink: strength across, acid upwards, its area the
// sweetness. Lines join the pairs that are nearest to one another.
func (c *compared) menuPicture() *picture {
	const width, height, left, right, top, bottom = 760.0, 560.0, 70.0, 730.0, 80.0, 500.0
	extent := func(p profile.Property) (low, high float64) {
		low, high = math.Inf(1), math.Inf(-1)
		for _, a := range c.Drinks {
			low, high = min(low, a.Profile[p].Value), max(high, a.Profile[p].Value)
		}
		return low, high
	}
	low, high := extent(profile.Strength)
	x := niceAxis("strength, % vol", low, high, left, right)
	low, high = extent(profile.Acid)
	y := niceAxis("acid, g/L", low, high, bottom, top)
	_, sweetest := extent(profile.Sweetness)

	pic := newPicture(width, height, fmt.Sprintf("Strength, acid and sweetness of %d drinks", len(c.Drinks)), c.menuDescription())
	pic.axisBelow(x, bottom, top)
	pic.axisLeft(y, left, right)
	sweetnessKey(pic, sweetest, right)

	things := make([]labelled, len(c.Drinks))
	for n, a := range c.Drinks {
		things[n] = labelled{
			at:    xy{x.at(a.Profile[profile.Strength].Value), y.at(a.Profile[profile.Acid].Value)},
			reach: discFor(a.Profile[profile.Sweetness].Value, sweetest) / 2,
			words: shortened(c.names[n], 24),
		}
	}
	pairs := c.shownPairs()
	if len(pairs) > 0 {
		pic.text(xy{left, height - 24}, anchorStart, smallSize, "lines join the drinks nearest to one another")
	}
	for i := range pairs {
		pic.line(things[pairs[i].First].at, things[pairs[i].Second].at)
	}
	for n, a := range c.Drinks {
		meaning := fmt.Sprintf("%s: %s %% vol, %s g/L acid, %s g/L sweetness", c.names[n],
			comparedValue(profile.Strength, a), comparedValue(profile.Acid, a), comparedValue(profile.Sweetness, a))
		pic.disc(things[n].at, 2*things[n].reach, 0, meaning)
	}
	pic.labels(things, box{left + 2, top - 10, width - 5, bottom})
	return pic
}

// discFor is how far a disc stretches across: its area goes with the sweetness,
// but no drink is too dry to be seen.
func discFor(sweetness, sweetest float64) float64 {
	if sweetest <= 0 {
		return 8
	}
	return max(largestDisc*math.Sqrt(max(sweetness, 0)/sweetest), 8)
}

// sweetnessKey says which disc is how sweet.
func sweetnessKey(pic *picture, sweetest, right float64) {
	if sweetest <= 0 {
		return
	}
	at := right
	step := niceStep(sweetest / 4)
	for n := math.Floor(sweetest / step); n >= 1; n-- {
		across := discFor(n*step, sweetest)
		words := fixed(n*step, max(0, -int(math.Floor(math.Log10(step)+1e-9))))
		at -= textWidth(words, smallSize)
		pic.text(xy{at, 38}, anchorStart, smallSize, words)
		at -= across/2 + 5
		pic.disc(xy{at, 34}, across, 0, "")
		at -= across/2 + 12
	}
	pic.text(xy{at, 38}, anchorEnd, textSize, "sweetness, g/L:")
}

// menuDescription says in words which drinks are near to one another.
func (c *compared) menuDescription() string {
	pairs := c.shownPairs()
	var near []string
	for i := range pairs {
		near = append(near, fmt.Sprintf("%s and %s (%s JND)", c.names[pairs[i].First], c.names[pairs[i].Second], fixed(pairs[i].TotalJND, 1)))
	}
	if len(near) == 0 {
		return c.names[0]
	}
	return "Nearest to one another: " + list(near) + "."
}
