package main

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// samplePicture has one of everything.
func samplePicture(name string) *picture {
	p := newPicture(360, 240, name, "strength against acid of "+name)
	x, y := niceAxis("strength, % vol", 0, 20, 60, 240), niceAxis("acid, g/L", 4, 8, 190, 40)
	p.axisBelow(x, 190, 40)
	p.axisLeft(y, 60, 240)
	p.band(xy{x.at(5), y.at(8)}, x.at(15)-x.at(5), y.at(4)-y.at(8), 2)
	p.bar(xy{x.at(1), y.at(5)}, 10, y.at(4)-y.at(5), plainSeries)
	p.polyline([]xy{{x.at(2), y.at(4.5)}, {x.at(10), y.at(7)}, {x.at(18), y.at(6)}}, 1)
	names := make([]string, 8)
	for n := range names {
		p.point(xy{x.at(2 + 2*float64(n)), y.at(6)}, 12, n, name)
		names[n] = strconv.Itoa(n) + " " + name
	}
	p.text(xy{150, 20}, anchorMiddle, textSize, name)
	p.legend(xy{250, 40}, 110, names)
	return p
}

func drawn(t *testing.T, p *picture) string {
	t.Helper()
	var b strings.Builder
	if err := p.write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// elements reads a picture as any reader of XML does, and counts its elements.
func elements(t *testing.T, svg string) (counted map[string]int, words string) {
	t.Helper()
	counted = map[string]int{}
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return counted, words
		}
		if err != nil {
			t.Fatalf("not well-formed: %v\n%s", err, svg)
		}
		switch one := token.(type) {
		case xml.StartElement:
			counted[one.Name.Local]++
			for _, a := range one.Attr {
				if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" {
					t.Errorf("attribute %s", a.Name.Local)
				}
			}
		case xml.CharData:
			words += string(one)
		}
	}
}

func TestPictureIsWellFormedAndNamed(t *testing.T) {
	svg := drawn(t, samplePicture("Slack Water"))
	counted, words := elements(t, svg)
	for element, least := range map[string]int{"svg": 1, "desc": 1, "style": 1, "rect": 2, "polyline": 1, "polygon": 8, "circle": 4, "text": 10} {
		if counted[element] < least {
			t.Errorf("%d of %s, expected %d or more", counted[element], element, least)
		}
	}
	if !strings.Contains(svg, `role="img"`) || !strings.Contains(svg, `viewBox="0 0 360.00 240.00"`) || !strings.Contains(words, "Slack Water") {
		t.Errorf("role, viewBox or title is missing:\n%s", svg)
	}
	if strings.Contains(strings.Replace(svg, "http://www.w3.org/2000/svg", "", 1), "://") || strings.Contains(svg, " id=") {
		t.Errorf("the picture names something outside, or has an id:\n%s", svg)
	}
}

func TestPictureKeepsHostileNamesInert(t *testing.T) {
	plain, _ := elements(t, drawn(t, samplePicture("name")))
	for _, hostile := range []string{
		"</svg><script>alert(1)</script>", `" onload="alert(1)`, "' & < > ]]> <!--", "bell\a escape\x1b[31m null\x00", "turned \u202e round",
		"broken \xff\xfe bytes", "no character \ufffe", "two\nlines\tand a tab", "<![CDATA[x]]>", "&amp;&#0;", strings.Repeat("long ", 200),
	} {
		svg := drawn(t, samplePicture(hostile))
		counted, words := elements(t, svg)
		for element, n := range counted {
			if plain[element] != n {
				t.Errorf("%q: %d of %s, but %d with a plain name", hostile, n, element, plain[element])
			}
		}
		if strings.ContainsAny(words, "\a\x1b\x00\u202e\ufffd\ufffe") {
			t.Errorf("%q: control characters are left", hostile)
		}
	}
}

func TestPictureRefusesWhatIsNoNumber(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300} {
		for name, draw := range map[string]func(*picture){
			"line":      func(p *picture) { p.line(xy{0, bad}, xy{1, 1}) },
			"grid line": func(p *picture) { p.gridLine(xy{0, 0}, xy{bad, 1}) },
			"polyline":  func(p *picture) { p.polyline([]xy{{0, 0}, {bad, 1}}, 0) },
			"bar":       func(p *picture) { p.bar(xy{0, 0}, bad, 1, 0) },
			"band":      func(p *picture) { p.band(xy{0, 0}, 1, bad, 0) },
			"text":      func(p *picture) { p.text(xy{bad, 0}, anchorStart, textSize, "word") },
			"axis": func(p *picture) {
				a := niceAxis("acid", 0, bad, 0, 100)
				p.axisBelow(a, 10, 10)
				p.line(xy{a.at(1), 0}, xy{1, 1})
			},
			"axis below": func(p *picture) { p.axisBelow(niceAxis("acid", 0, 1, 0, bad), 10, 10) },
			"axis left":  func(p *picture) { p.axisLeft(niceAxis("acid", 0, 1, 0, 100), bad, bad) },
		} {
			p := newPicture(100, 100, "a", "b")
			draw(p)
			if err := p.write(io.Discard); !errors.Is(err, errNoCoordinate) {
				t.Errorf("%s with %g: error %v", name, bad, err)
			}
		}
		for n := range shapes {
			p := newPicture(100, 100, "a", "b")
			p.point(xy{bad, 5}, 10, n, "")
			if err := p.write(io.Discard); !errors.Is(err, errNoCoordinate) {
				t.Errorf("shape %d with %g: error %v", n, bad, err)
			}
		}
		if err := newPicture(bad, 100, "a", "b").write(io.Discard); !errors.Is(err, errNoCoordinate) {
			t.Errorf("width %g: error %v", bad, err)
		}
	}
	p := newPicture(100, 100, "a", "b")
	p.bar(xy{5, 5}, -1, 3, 0)
	if err := p.write(io.Discard); !errors.Is(err, errNoCoordinate) {
		t.Errorf("a bar of negative width: error %v", err)
	}
}

// The ticks by hand: 1, 2 or 5 times a power of ten apart, around the values.
func TestTicksAreRound(t *testing.T) {
	for _, one := range []struct {
		low, high float64
		ticks     string
	}{
		{0, 20, "0 5 10 15 20"},
		{4, 8, "4 5 6 7 8"},
		{0.13, 0.87, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{-7.3, 2.1, "-8 -6 -4 -2 0 2 4"},
		{12, 12, "10.5 11.0 11.5 12.0 12.5 13.0 13.5"},
		{0, 0, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{8, 4, "4 5 6 7 8"},
		{0, 0.00037, "0.0000 0.0001 0.0002 0.0003 0.0004"},
		{0, 34000, "0 10000 20000 30000 40000"},
	} {
		a := niceAxis("x", one.low, one.high, 0, 100)
		var written []string
		for _, v := range a.ticks() {
			written = append(written, a.tickText(v))
		}
		if got := strings.Join(written, " "); got != one.ticks {
			t.Errorf("%g to %g: ticks %s, expected %s", one.low, one.high, got, one.ticks)
		}
		if a.at(a.low) != 0 || a.at(a.high) != 100 {
			t.Errorf("%g to %g: the ends are at %g and %g", one.low, one.high, a.at(a.low), a.at(a.high))
		}
	}
}

// Graphics that carry meaning stand out 3 to 1 from what they are drawn on:
// Web Content Accessibility Guidelines 2.2, success criterion 1.4.11, with the
// relative luminance defined there.
func TestInksStandOutOnLightAndDark(t *testing.T) {
	contrast := func(a, b string) float64 { return contrastRatio(t, a, b) }
	if black := contrast("#000000", "#ffffff"); math.Abs(black-21) > 1e-9 {
		t.Fatalf("black on white is %g to 1, expected 21", black)
	}
	for _, i := range inks {
		if on := contrast(i.light, "#ffffff"); on < 3 {
			t.Errorf("%s on white: %.1f to 1", i.light, on)
		}
		if on := contrast(i.dark, "#121212"); on < 3 {
			t.Errorf("%s on a dark screen: %.1f to 1", i.dark, on)
		}
	}
}

// The picture kept beside the test was looked at.
func TestPictureLooksAsItDid(t *testing.T) {
	const golden = "testdata/picture.svg"
	svg := drawn(t, samplePicture("Slack Water & Co"))
	if again := drawn(t, samplePicture("Slack Water & Co")); again != svg {
		t.Error("drawn twice, the picture differs")
	}
	if *update {
		if err := os.WriteFile(golden, []byte(svg), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if svg != string(kept) {
		t.Errorf("the picture is no longer %s:\n%s", golden, svg)
	}
}

// contrastRatio is that of two colours as Web Content Accessibility Guidelines 2.2
// define it, from 1 to 21.
func contrastRatio(t *testing.T, a, b string) float64 {
	t.Helper()
	luminance := func(colour string) float64 {
		n, err := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 32)
		if err != nil || len(colour) != 7 {
			t.Fatalf("colour %q", colour)
		}
		linear := func(shift uint) float64 {
			c := float64(n>>shift&0xff) / 255
			if c <= 0.04045 {
				return c / 12.92
			}
			return math.Pow((c+0.055)/1.055, 2.4)
		}
		return 0.2126*linear(16) + 0.7152*linear(8) + 0.0722*linear(0)
	}
	l, d := luminance(a), luminance(b)
	return (max(l, d) + 0.05) / (min(l, d) + 0.05)
}
