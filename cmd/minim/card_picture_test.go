package main

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// The words stand out from what they are written on, 4.5 to 1: Web Content
// Accessibility Guidelines 2.2, success criterion 1.4.3.
func TestWordsOfACardStandOut(t *testing.T) {
	schemes := regexp.MustCompile(`:root \{ (--paper:[^}]*)\}|:root \{\n\t(--paper:[^\n]*)\n`).FindAllStringSubmatch(cardHTML, -1)
	if len(schemes) != 2 {
		t.Fatalf("%d schemes of colours, expected light and dark", len(schemes))
	}
	for _, scheme := range schemes {
		colours := map[string]string{}
		for _, one := range regexp.MustCompile(`--([a-z]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(scheme[1]+scheme[2], -1) {
			colours[one[1]] = one[2]
		}
		for _, ink := range []string{"ink", "soft", "brine", "warn"} {
			if on := contrastRatio(t, colours[ink], colours["paper"]); on < 4.5 {
				t.Errorf("%s %s on %s: %.1f to 1", ink, colours[ink], colours["paper"], on)
			}
		}
		for _, i := range inks {
			mark := map[bool]string{true: i.light, false: i.dark}[scheme[2] != ""]
			if on := contrastRatio(t, mark, colours["paper"]); on < 3 {
				t.Errorf("mark %s on %s: %.1f to 1", mark, colours["paper"], on)
			}
		}
	}
}

// From minute to minute of what profile prints, the drink is weaker by the law of
// JND, asinh(k c / T) / k with T = 0.60 % vol and k = 0.10 (fitted to Yu &
// Pickering, Am. J. Enol. Vitic. 59, 2008); 0.5 of it may be noticed.
func TestCardSaysWhenTheGlassGrowsWeaker(t *testing.T) {
	const drink = "drink: Long\nmix:\n  gin: 45 ml\n  lemon juice: 20 ml\n  rich syrup: 10 ml\nice: shake\ntop:\n  soda water: 60 ml\n"
	page := cardOf(t, drink, "-", "--rocks", "120g")
	said := regexp.MustCompile(`Over 120 g of ice: perhaps noticeably weaker than a fresh one from minute (\d+) on`).FindStringSubmatch(page)
	if said == nil {
		t.Fatal("the card does not say when the drink grows weaker")
	}
	from, _ := strconv.ParseFloat(said[1], 64)
	level := func(c float64) float64 { return math.Asinh(0.10*c/0.60) / 0.10 }
	sips := decoded(t, drink, exitAnswered, "profile", "-", "--rocks", "120g", "--json")["glass"].([]any)
	var fresh float64
	for i, one := range sips {
		sip := one.(map[string]any)
		strength := sip["profile"].(map[string]any)["abv"].(float64)
		if i == 0 {
			fresh = level(strength)
		}
		minute := sip["minutes"].(float64)
		if lost := fresh - level(strength); minute >= from && lost < 0.5 || minute <= from-1 && lost >= 0.5 {
			t.Errorf("at minute %g it is %.2f JND weaker, but the card says from minute %g on", minute, lost, from)
		}
	}
}

// A drink without ice in the glass keeps its strength, one built on ice is drawn
// only over what is left of that, and one without alcohol is followed by its
// sugar.
func TestGlassIsDrawnAsTheDrinkIsServed(t *testing.T) {
	for _, one := range []struct {
		ice, rocks   string
		holds, lacks []string
	}{
		{"shake", "", []string{"Without ice in the glass: not noticeably weaker", "Over 120 g of ice:", "dilution, %"}, nil},
		{"build", "", []string{"left of its ice:"}, []string{"Without ice in the glass"}},
		{"none", "", []string{"Without ice in the glass", "temperature, °C"}, []string{"120 g", "dilution, %"}},
		{"none", "80g", []string{"Over 80 g of ice:"}, []string{"Without ice"}},
		{"build", "none", []string{"Without ice in the glass"}, []string{"120 g"}},
		{"blend", "", []string{"Without ice in the glass"}, []string{"120 g"}},
	} {
		args := []string{"-"}
		if one.rocks != "" {
			args = append(args, "--rocks", one.rocks)
		}
		page := cardOf(t, "mix:\n  gin: 45 ml\n  lemon juice: 20 ml\nice: "+one.ice+"\n", args...)
		for _, words := range one.holds {
			if !strings.Contains(page, words) {
				t.Errorf("ice %s, --rocks %q: the card does not say %q", one.ice, one.rocks, words)
			}
		}
		for _, words := range one.lacks {
			if strings.Contains(page, words) {
				t.Errorf("ice %s, --rocks %q: the card says %q", one.ice, one.rocks, words)
			}
		}
	}
	if page := cardOf(t, "mix:\n  orange juice: 100 ml\n  water: 20 ml\nice: shake\n", "-"); !strings.Contains(page, "less sweet") || strings.Contains(page, "weaker") {
		t.Error("a drink without alcohol is not followed by its sugar")
	}
}

// answered is an answer with one property and one target, all that a row of the
// picture looks at.
func answered(p profile.Property, value float64, target pantry.Target) *solver.Answer {
	target.Property = p
	a := &solver.Answer{Spec: &pantry.Spec{Target: []pantry.Target{target}}}
	a.Profile[p].Value = value
	return a
}

// The places on a scale are those of the law J(c) = asinh(k c / T) / k, here with
// the thresholds and Weber fractions of the literature that each property names.
func TestTargetsStandOnTheirOwnJNDScale(t *testing.T) {
	law := func(threshold, weber float64) func(float64) float64 {
		return func(c float64) float64 { return math.Asinh(weber*c/threshold) / weber }
	}
	for _, one := range []struct {
		property       profile.Property
		level          func(float64) float64
		low, high, got float64
	}{
		{profile.Acid, law(0.10, 0.20), 6.5, 6.5, 7.4},
		{profile.Sugar, law(4.0, 0.17), 65, 75, 40},
		{profile.Bitter, law(5.0, 0.30), 0, 0, 12},
		{profile.Strength, law(0.60, 0.10), 18, 20, 30},
		// Volume has no JND; a step is its tolerance of 2 %.
		{profile.Volume, func(v float64) float64 { return v / (0.02 * 150) }, 150, 150, 147},
	} {
		a := answered(one.property, one.got, pantry.Target{Aimed: true, Low: one.low, High: one.high})
		row, ok := newAimedRow(a, &a.Spec.Target[0])
		if !ok {
			t.Fatalf("%s has no scale", one.property.Name())
		}
		for what, pair := range map[string][2]float64{
			"wanted from": {row.low, one.level(one.low)}, "wanted to": {row.high, one.level(one.high)}, "got": {row.got, one.level(one.got)},
			"value in the middle": {row.back(row.got), one.got},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9*max(1, math.Abs(pair[1])) {
				t.Errorf("%s, %s: at %g, expected %g", one.property.Name(), what, pair[0], pair[1])
			}
		}
	}
}

// What is far off is drawn at the edge, and nothing outside.
func TestTargetsFarOffStayWithinThePicture(t *testing.T) {
	inside := regexp.MustCompile(` (?:x|cx)="(-?[0-9.]+)"`)
	least, most := 7.0, 12.0
	for _, a := range []*solver.Answer{
		answered(profile.Acid, 1e6, pantry.Target{Aimed: true, Low: 0, High: 0}),
		answered(profile.Acid, 0, pantry.Target{Aimed: true, Low: 500, High: 500}),
		answered(profile.Sugar, 40, pantry.Target{Aimed: true, Low: 0, High: 900}),
		answered(profile.Strength, 40, pantry.Target{AtLeast: &least, AtMost: &most}),
		answered(profile.Strength, 0, pantry.Target{AtLeast: &least}),
		answered(profile.PH, 7, pantry.Target{Aimed: true, Low: 3, High: 3, Tolerance: 0.1}),
		answered(profile.Ethanol, 7, pantry.Target{AtMost: &most}),
		answered(profile.Temperature, -40, pantry.Target{Aimed: true, Low: -5, High: -5}),
	} {
		p, title, _ := aimPicture(a)
		svg := drawn(t, p)
		for _, found := range inside.FindAllStringSubmatch(svg, -1) {
			if x, err := strconv.ParseFloat(found[1], 64); err != nil || x < 0 || x > cardPictureWidth {
				t.Errorf("%s, %s: something at x = %s", title, a.Spec.Target[0].Property.Name(), found[1])
			}
		}
		elements(t, svg)
	}
}

// Every pour is a layer as high as it is large: 60 and 30 ml are 2 to 1.
func TestPoursAreDrawnToScale(t *testing.T) {
	page := cardOf(t, "mix:\n  gin: 60 ml\n  lemon juice: 30 ml\n", "-")
	_, vessel, _ := strings.Cut(page, `<div class="vessel">`)
	vessel, _, _ = strings.Cut(vessel, "</svg>")
	var heights []float64
	for _, found := range regexp.MustCompile(`<rect[^>]* height="([0-9.]+)"`).FindAllStringSubmatch(vessel, -1) {
		h, err := strconv.ParseFloat(found[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		heights = append(heights, h)
	}
	if len(heights) != 2 || math.Abs(heights[0]/heights[1]-2) > 0.001 {
		t.Errorf("layers of %v, expected two as 2 to 1", heights)
	}
}
