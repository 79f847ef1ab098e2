package main

import (
	"fmt"

	"minim/profile"
	"minim/solver"
)

// frontierPicture draws the least miss over strength: the curve in real amounts
// as a line, what the bar can pour as points, the knee with its name.
func frontierPicture(f *solver.Frontier) *picture {
	const width, height, left, right, top, bottom = 640.0, 420.0, 60.0, 610.0, 60.0, 350.0
	name := f.Original.Spec.Name
	if name == "" {
		name = "A drink"
	}
	highest := 1.0
	for _, p := range f.Points {
		highest = max(highest, p.LeastJND)
	}
	for _, c := range f.Curve {
		highest = max(highest, c.LeastJND)
	}
	full := f.Points[0].Most
	pic := newPicture(width, height, name+": what less alcohol costs", frontierDescription(f))
	x := niceAxis("at most, % vol", 0, full, left, right)
	y := niceAxis("off by, JND in all, strength left out", 0, highest, bottom, top)
	pic.axisBelow(x, bottom, top)
	pic.axisLeft(y, left, right)
	var line []xy
	for _, c := range f.Curve {
		line = append(line, xy{x.at(c.Most), y.at(c.LeastJND)})
	}
	if len(line) > 1 {
		pic.polyline(line, 1)
	}
	for i, p := range f.Points {
		at := xy{x.at(p.Most), y.at(p.LeastJND)}
		pic.point(at, 9, 0, fmt.Sprintf("%s %% vol: %s JND, %s", fixed(p.Most, 1), fixed(p.LeastJND, 1), profile.Noticed(p.LeastJND)))
		if i == f.Knee {
			pic.text(xy{at.x + 8, at.y - 10}, anchorStart, textSize, "knee, "+fixed(p.Most, 1)+" % vol")
		}
	}
	pic.text(xy{left, 24}, anchorStart, textSize, cutShort(name, textSize, right-left))
	pic.legend(xy{right - 190, top}, 190, []string{"what the bar can pour", "any amounts"})
	return pic
}

func frontierDescription(f *solver.Frontier) string {
	last := f.Points[len(f.Points)-1]
	text := fmt.Sprintf("The least total miss from %s %% vol down to %s %% vol, where it is %s JND.",
		fixed(f.Points[0].Most, 1), fixed(last.Most, 1), fixed(last.LeastJND, 1))
	if f.Knee >= 0 {
		text += " The knee is at " + fixed(f.Points[f.Knee].Most, 1) + " % vol."
	}
	return text
}
