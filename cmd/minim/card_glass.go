package main

import (
	"fmt"
	"math"
	"strings"

	"minim/profile"
	"minim/solver"
)

// usualRocks is the ice in a glass where nothing is said: two large cubes or a
// handful. Common practice, no source.
const usualRocks profile.Gram = 120

// cardMinutes are the moments at which the curves of a card are computed.
const cardMinutes = 20

// serving is one way of serving a drink, as the curves show it.
type serving struct {
	words string
	rocks profile.Rocks
	// asked says that --rocks named it.
	asked bool
}

// servings are the ways that the curves are drawn for: that of --rocks, else
// without ice and over a usual amount.
func (f *flags) servings() ([]serving, error) {
	if f.rocks != "" {
		rocks, err := parseRocks(f.rocks)
		if err != nil {
			return nil, err
		}
		return []serving{{rocksWords(rocks), rocks, true}}, nil
	}
	up, over := profile.Rocks{Room: roomTemperature}, profile.Rocks{Mass: usualRocks, Room: roomTemperature}
	return []serving{{rocksWords(up), up, false}, {rocksWords(over), over, false}}, nil
}

func rocksWords(r profile.Rocks) string {
	switch {
	case r.Mass == 0:
		return "without ice in the glass"
	case r.Drained:
		return "over the " + fixed(float64(r.Mass), 0) + " g left of its ice"
	}
	return "over " + trimmed(float64(r.Mass), 0) + " g of ice"
}

// servedWays are the ways in which this drink may stand in a glass: what is built
// stays on what is left of its ice; what is blended has its ice in it, and what met none is given
// none, unless --rocks says so.
func servedWays(a *solver.Answer, all []serving) []serving {
	var ways []serving
	for _, one := range all {
		iced := one.rocks.Mass > 0
		switch a.Spec.Ice.Method {
		case profile.Build:
			if !iced && !one.asked {
				continue
			}
			if one.asked {
				one.rocks = builtOn(a, one.rocks)
			} else {
				one.rocks = a.LeftOnIce(one.rocks.Room)
			}
			one.words = rocksWords(one.rocks)
		case profile.Blend, profile.NoIce:
			if iced && !one.asked {
				continue
			}
		}
		ways = append(ways, one)
	}
	return ways
}

// inGlass draws strength and dilution over twenty minutes; of a drink without
// alcohol, sugar in the place of strength, and temperature in the place of
// dilution where nothing melts. The sentences say when it shows.
func inGlass(a *solver.Answer, all []serving) (*picture, string) {
	ways := servedWays(a, all)
	minutes := make([]float64, cardMinutes+1)
	for n := range minutes {
		minutes[n] = float64(n)
	}
	upper, lower := profile.Strength, profile.Temperature
	if a.Dose.Ethanol < 0.05 {
		upper = profile.Sugar
	}
	curves := make([][]profile.Sip, len(ways))
	says := ""
	for n, way := range ways {
		curves[n] = a.InGlass(way.rocks, minutes)
		if way.rocks.Mass > 0 {
			lower, a.Glass = profile.Dilution, a.InGlass(way.rocks, glassMinutes)
		}
		if n > 0 {
			says += " "
		}
		says += glassSentence(way, upper, curves[n])
	}
	const width, left, right, panel, above = 350.0, 42.0, 342.0, 64.0, 34.0
	keys := 2 + legendLine*float64(len(ways))
	bottom := keys + 2*(above+panel)
	p := newPicture(width, bottom+40, drinkName(a)+": in the glass", says)
	names := make([]string, len(ways))
	for n, way := range ways {
		names[n] = way.words
	}
	p.legend(xy{2, 0}, width-4, names)
	time := niceAxis("minutes", 0, cardMinutes, left, right)
	for n, property := range []profile.Property{upper, lower} {
		foot := keys + float64(n+1)*(above+panel)
		y := glassAxis(property, curves, foot, foot-panel)
		p.axisLeft(y, left, right)
		for way, sips := range curves {
			var places []xy
			for i := range sips {
				places = append(places, xy{time.at(sips[i].Minutes), y.at(sips[i].Values[property])})
			}
			p.polyline(places, way)
			for i := 0; i <= cardMinutes; i += 5 {
				p.point(places[i], 7, way, fmt.Sprintf("%s, minute %d: %s %s", names[way], i, fixed(sips[i].Values[property], 1), property.Unit()))
			}
		}
	}
	p.axisBelow(time, bottom, bottom)
	return p, says
}

// glassAxis spans all curves of a property.
func glassAxis(property profile.Property, curves [][]profile.Sip, foot, top float64) axis {
	low, high := math.Inf(1), math.Inf(-1)
	for _, sips := range curves {
		for i := range sips {
			low, high = min(low, sips[i].Values[property]), max(high, sips[i].Values[property])
		}
	}
	words := property.Name()
	if property == profile.Strength {
		words = "strength"
	}
	a := niceAxis(words+", "+property.Unit(), low, high, foot, top)
	if n := len(a.ticks()); n > 4 {
		a.step *= math.Ceil(float64(n-1) / 3)
		a.low, a.high = a.step*math.Floor(a.low/a.step+1e-9), a.step*math.Ceil(a.high/a.step-1e-9)
	}
	return a
}

// glassSentence says from when on a taster may notice, beside a fresh one, that
// the drink has grown weaker, and how warm it gets.
func glassSentence(way serving, property profile.Property, sips []profile.Sip) string {
	last := &sips[len(sips)-1]
	j, _ := property.JND()
	fresh := j.Level(sips[0].Values[property])
	word := "weaker"
	if property == profile.Sugar {
		word = "less sweet"
	}
	how := strings.ToUpper(way.words[:1]) + way.words[1:]
	change := fmt.Sprintf("not noticeably %s in %d minutes", word, cardMinutes)
	for i := range sips {
		if fresh-j.Level(sips[i].Values[property]) >= profile.Perceptible {
			change = fmt.Sprintf("perhaps noticeably %s than a fresh one from minute %s on", word, fixed(sips[i].Minutes, 0))
			break
		}
	}
	return fmt.Sprintf("%s: %s; after %d minutes at %s °C.", how, change, cardMinutes, fixed(last.Values[profile.Temperature], 0))
}
