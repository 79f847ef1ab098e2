package main

import "fmt"

// disc draws a pale disc with an outline, so that what lies below it is still
// seen; what it stands for is shown to those who point at it.
func (p *picture) disc(at xy, across float64, series int, meaning string) {
	c := p.coordinates(at.x, at.y, across/2)
	title := ""
	if meaning != "" {
		title = "<title>" + escaped(meaning) + "</title>"
	}
	fmt.Fprintf(&p.body, `<g%s>%s<circle cx="%s" cy="%s" r="%s" fill="currentColor" fill-opacity="0.35" stroke="currentColor"/></g>`+"\n",
		inked(series), title, c[0], c[1], c[2])
}
