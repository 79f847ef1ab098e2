package main

import (
	"fmt"
	"strings"
)

// ink is a colour of a picture, on light paper and on a dark screen.
type ink struct{ light, dark string }

// inks are the colours of the series, apart from one another in lightness too,
// so that they differ in grey.
var inks = []ink{
	{"#1d5a9e", "#7ab8f5"},
	{"#a8480a", "#f2a65a"},
	{"#2b6e3f", "#86d19a"},
	{"#8a2f6b", "#e79acb"},
	{"#5b5a14", "#d6cf6c"},
	{"#6a4bb0", "#b9a5f2"},
}

// dashes are the dash patterns of the lines of the series: never colour alone.
var dashes = []string{"", "8 4", "2 3", "10 3 2 3", "5 2", "12 4 2 4 2 4"}

// plainSeries is drawn in the colour of the text.
const plainSeries = -1

// inked is the attributes that colour an element, with a class by which the
// dark screen recolours it.
func inked(series int) string {
	if series < 0 {
		return ""
	}
	n := series % len(inks)
	return fmt.Sprintf(` class="minim-ink-%d" color="%s"`, n, inks[n].light)
}

func dashed(series int) string {
	if series < 0 || dashes[series%len(dashes)] == "" {
		return ""
	}
	return fmt.Sprintf(` stroke-dasharray="%s"`, dashes[series%len(dashes)])
}

// pictureStyle recolours the inks on a dark screen, and lets a picture that is a
// file of its own follow the screen; paper stays light.
func pictureStyle() string {
	var b strings.Builder
	b.WriteString(".minim-picture{max-width:100%;height:auto}.minim-picture:root{color-scheme:light dark}")
	b.WriteString("@media screen and (prefers-color-scheme:dark){")
	for n, i := range inks {
		fmt.Fprintf(&b, ".minim-ink-%d{color:%s}", n, i.dark)
	}
	b.WriteString("}")
	return b.String()
}

// shapes are how many shapes a mark can have; they and the inks have no common
// divisor, so that many series come before two look the same.
const shapes = 7

// point draws the mark of a series, about size across; what it stands for is
// shown to those who point at it. Its shape depends on the series as well as its
// colour.
func (p *picture) point(at xy, size float64, series int, meaning string) {
	half := size / 2
	fmt.Fprintf(&p.body, "<g%s>", inked(series))
	if meaning != "" {
		fmt.Fprintf(&p.body, "<title>%s</title>", escaped(meaning))
	}
	filled, drawn := ` fill="currentColor"`, ` stroke="currentColor" stroke-width="2.5"`
	switch max(series, 0) % shapes {
	case 0:
		c := p.coordinates(at.x, at.y, half)
		fmt.Fprintf(&p.body, `<circle cx="%s" cy="%s" r="%s"%s/>`, c[0], c[1], c[2], filled)
	case 1:
		p.polygon(filled, at, []xy{{-0.9 * half, -0.9 * half}, {0.9 * half, -0.9 * half}, {0.9 * half, 0.9 * half}, {-0.9 * half, 0.9 * half}})
	case 2:
		p.polygon(filled, at, []xy{{0, -1.1 * half}, {1.1 * half, 0}, {0, 1.1 * half}, {-1.1 * half, 0}})
	case 3:
		p.polygon(filled, at, []xy{{0, -1.1 * half}, {half, 0.8 * half}, {-half, 0.8 * half}})
	case 4:
		p.polygon(filled, at, []xy{{0, 1.1 * half}, {half, -0.8 * half}, {-half, -0.8 * half}})
	case 5:
		c := p.coordinates(at.x-half, at.y, at.x+half, at.y, at.x, at.y-half, at.x, at.y+half)
		fmt.Fprintf(&p.body, `<path d="M%s %sL%s %sM%s %sL%s %s"%s/>`, c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7], drawn)
	default:
		c := p.coordinates(at.x, at.y, max(half-1.25, 0))
		fmt.Fprintf(&p.body, `<circle cx="%s" cy="%s" r="%s"%s/>`, c[0], c[1], c[2], drawn)
	}
	p.body.WriteString("</g>\n")
}

// polygon draws corners, given from a middle.
func (p *picture) polygon(looks string, middle xy, corners []xy) {
	var b strings.Builder
	for i, at := range corners {
		c := p.coordinates(middle.x+at.x, middle.y+at.y)
		if i > 0 {
			b.WriteString(" ")
		}
		b.WriteString(c[0] + "," + c[1])
	}
	fmt.Fprintf(&p.body, `<polygon points="%s"%s/>`, b.String(), looks)
}

// legendLine is the height that a series takes in a legend.
const legendLine = 20.0

// legend names the series 0, 1, 2 ... from an upper left corner downwards, each
// within a width.
func (p *picture) legend(corner xy, width float64, names []string) {
	for n, name := range names {
		y := corner.y + legendLine*(float64(n)+0.5)
		p.point(xy{corner.x + 6, y}, 11, n, name)
		p.text(xy{corner.x + 18, y + 0.35*textSize}, anchorStart, textSize, cutShort(name, textSize, width-18))
	}
}
