package main

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"unicode"
)

// picture is a drawing in SVG, the only one that the program makes: a file that
// stands by itself, or a part of a page. It holds no script, loads nothing, has
// no ids, and prefixes its class names, so that several fit into one page.
//
// Coordinates are in pixels at full size, x to the right and y down, from the
// upper left corner. The first that is no number, or is far outside, is
// remembered and refused by write.
type picture struct {
	width, height      float64
	title, description string
	body               strings.Builder
	err                error
}

// xy is a place in a picture.
type xy struct{ x, y float64 }

// anchor is the side on which a text is held in place.
type anchor string

const (
	anchorStart  anchor = "start"
	anchorMiddle anchor = "middle"
	anchorEnd    anchor = "end"
)

// Sizes of text, in pixels.
const (
	textSize  = 13.0
	smallSize = 11.0
)

// farthest is beyond every picture: a coordinate larger than this is a mistake.
const farthest = 1e6

// errNoCoordinate is returned for a picture with a coordinate that is no
// number, infinite, or beyond farthest.
var errNoCoordinate = errors.New("the picture has a coordinate that cannot be drawn")

// newPicture is an empty picture with a title and a description for those who
// cannot see it.
func newPicture(width, height float64, title, description string) *picture {
	p := &picture{width: width, height: height, title: title, description: description}
	p.coordinates(width, height)
	return p
}

// write writes the picture: the same picture, the same bytes.
func (p *picture) write(w io.Writer) error {
	if p.err != nil {
		return p.err
	}
	size := p.coordinates(p.width, p.height)
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="minim-picture" viewBox="0 0 %s %s" width="%s" height="%s" role="img" fill="none" font-family="sans-serif">`,
		size[0], size[1], size[0], size[1])
	fmt.Fprintf(&b, "\n<title>%s</title>\n<desc>%s</desc>\n<style>%s</style>\n", escaped(p.title), escaped(p.description), pictureStyle())
	b.WriteString(p.body.String())
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// line draws a thin straight line, in the colour of the text.
func (p *picture) line(from, to xy) {
	c := p.coordinates(from.x, from.y, to.x, to.y)
	fmt.Fprintf(&p.body, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="currentColor"/>`+"\n", c[0], c[1], c[2], c[3])
}

// gridLine draws a line that only guides the eye.
func (p *picture) gridLine(from, to xy) {
	c := p.coordinates(from.x, from.y, to.x, to.y)
	fmt.Fprintf(&p.body, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="currentColor" stroke-opacity="0.2"/>`+"\n", c[0], c[1], c[2], c[3])
}

// polyline draws straight lines from place to place, in the colour and dashes
// of a series.
func (p *picture) polyline(places []xy, series int) {
	if len(places) < 2 {
		return
	}
	var b strings.Builder
	for i, at := range places {
		c := p.coordinates(at.x, at.y)
		if i > 0 {
			b.WriteString(" ")
		}
		b.WriteString(c[0] + "," + c[1])
	}
	fmt.Fprintf(&p.body, `<polyline%s points="%s" stroke="currentColor" stroke-width="2" stroke-linejoin="round"%s/>`+"\n", inked(series), b.String(), dashed(series))
}

// bar draws a filled rectangle from its upper left corner.
func (p *picture) bar(corner xy, width, height float64, series int) {
	p.rectangle(corner, width, height, inked(series)+` fill="currentColor"`)
}

// band draws a pale rectangle: a range rather than an amount.
func (p *picture) band(corner xy, width, height float64, series int) {
	p.rectangle(corner, width, height, inked(series)+` fill="currentColor" fill-opacity="0.18"`)
}

func (p *picture) rectangle(corner xy, width, height float64, looks string) {
	c := p.coordinates(corner.x, corner.y, width, height)
	if width < 0 || height < 0 {
		p.err = errNoCoordinate
	}
	fmt.Fprintf(&p.body, `<rect%s x="%s" y="%s" width="%s" height="%s"/>`+"\n", looks, c[0], c[1], c[2], c[3])
}

// text writes words at the height of their base line.
func (p *picture) text(at xy, side anchor, size float64, words string) {
	c := p.coordinates(at.x, at.y, size)
	fmt.Fprintf(&p.body, `<text x="%s" y="%s" text-anchor="%s" font-size="%s" fill="currentColor">%s</text>`+"\n", c[0], c[1], side, c[2], escaped(words))
}

// coordinates writes numbers with two decimals.
func (p *picture) coordinates(values ...float64) []string {
	out := make([]string, len(values))
	for i, v := range values {
		if math.IsNaN(v) || math.Abs(v) > farthest {
			p.err = errNoCoordinate
			v = 0
		}
		out[i] = fixed(v, 2)
	}
	return out
}

// escaped makes any words inert within XML: markup is escaped, and what is not
// printable is dropped.
func escaped(words string) string {
	var b strings.Builder
	// A strings.Builder never fails to be written to.
	_ = xml.EscapeText(&b, []byte(printable(words)))
	return b.String()
}

// printable drops control characters, those that turn the direction of writing,
// and what is no character; lines and tabs become spaces.
func printable(words string) string {
	var kept strings.Builder
	for _, r := range words {
		switch {
		case r == '\n' || r == '\t':
			kept.WriteRune(' ')
		case r == unicode.ReplacementChar || unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || unicode.Is(unicode.Noncharacter_Code_Point, r):
		default:
			kept.WriteRune(r)
		}
	}
	return kept.String()
}

// textWidth is about how wide words are: six tenths of the size a character, as
// in the wider sans-serif faces. An estimate, for placing labels.
func textWidth(words string, size float64) float64 {
	return 0.6 * size * float64(len([]rune(words)))
}

// cutShort cuts words to about a width, and says so with an ellipsis.
func cutShort(words string, size, width float64) string {
	if textWidth(words, size) <= width {
		return words
	}
	return shortened(words, max(2, int(width/(0.6*size))))
}
