package pantry

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v4"
)

// ratioWord stands before the number of a ratio, and so can name no pour.
const ratioWord = "is"

const ratioExpected = "a line such as {lemon juice: rich syrup, is: 1..1.2}"

// ratioNodes returns the mappings after ratio: one, or a list of them.
func (r *specReader) ratioNodes(n *yaml.Node) []*yaml.Node {
	switch n.Kind {
	case yaml.MappingNode:
		return []*yaml.Node{n}
	case yaml.SequenceNode:
		if len(n.Content) == 0 {
			r.refuse(n, &mistake{message: "an empty list; expected " + ratioExpected})
		}
		return n.Content
	}
	r.refuse(n, &mistake{message: kindWords(n) + " after ratio; expected " + ratioExpected})
	return nil
}

// readRatio reads {NAME: NAME, is: RANGE}: the first is that many times the
// second, counted in ml of a liquid and grams of a solid.
func (r *specReader) readRatio(n *yaml.Node) {
	if r.refused[n] {
		return
	}
	if n.Kind != yaml.MappingNode {
		r.refuse(n, &mistake{message: kindWords(n) + " under ratio; expected " + ratioExpected})
		return
	}
	ratio := Ratio{Place: r.placeOf(n, "")}
	named, ranged, good := false, false, true
	for key, value := range pairs(n) {
		switch {
		case r.refused[key] || r.refused[value]:
			good = false
		case key.Value == ratioWord:
			var bounds [2]float64
			bounds, ranged = scalar(r, value, "a number or a range such as 1..1.2", parseRatio)
			ratio.Low, ratio.High, good = bounds[0], bounds[1], good && ranged
		case named:
			r.refuse(key, &mistake{message: fmt.Sprintf("%q is a second pair; expected one pair and `is`", clip(key.Value)), hint: "each ratio is an item of its own, with a - before it"})
			good = false
		default:
			named = true
			var above, below bool
			ratio.Numerator, above = r.pourNamed(key)
			ratio.Denominator, below = r.pourNamed(value)
			good = good && above && below
			if above && below && ratio.Numerator == ratio.Denominator {
				r.refuse(value, &mistake{message: fmt.Sprintf("%q against itself; expected two different pours", clip(ratio.Numerator))})
				good = false
			}
		}
	}
	switch {
	case !good:
	case !named:
		r.refuse(n, &mistake{message: "a ratio without its two pours; expected " + ratioExpected})
	case !ranged:
		r.refuse(n, &mistake{message: "a ratio without its number; expected " + ratioExpected, hint: "add is: 1"})
	default:
		r.spec.Ratios = append(r.spec.Ratios, ratio)
	}
}

// pourNamed returns the name as it stands among the pours.
func (r *specReader) pourNamed(n *yaml.Node) (string, bool) {
	name := r.text(n, "the name of a pour")
	if name == "" {
		return "", false
	}
	var names []string
	for _, p := range r.spec.Pours() {
		if Fold(p.Name) == Fold(name) {
			return p.Name, true
		}
		names = append(names, p.Name)
	}
	wrong := &mistake{message: fmt.Sprintf("no pour %q in this spec; expected a name from mix or top", clip(name))}
	if near := Nearest(name, names, 1); len(near) > 0 {
		wrong.hint = "nearest: " + near[0]
	} else if r.spec.Choose != nil {
		wrong.hint = fmt.Sprintf("what is to be chosen is no pour yet: write `%s: optional` under mix or top to hold it to a ratio", clip(name))
	}
	r.refuse(n, wrong)
	return "", false
}

// parseRatio reads a positive number or a range of them.
func parseRatio(text string) (bounds [2]float64, wrong *mistake) {
	if digitComma.MatchString(text) {
		return bounds, commaMistake(text)
	}
	if first, second, ok := strings.Cut(text, ":"); ok {
		return bounds, &mistake{message: fmt.Sprintf("%q; expected one number", clip(text)), hint: fmt.Sprintf("%s to %s is written %s/%s", first, second, first, second)}
	}
	if wrong := comparisonMistake(text); wrong != nil || hasLimitWord(text) {
		return bounds, &mistake{message: fmt.Sprintf("%q; expected a number or a range with both ends, such as 1..1.2", clip(text))}
	}
	from, to := text, text
	if isRange(text) {
		if from, to, wrong = splitRange(text); wrong != nil {
			return bounds, wrong
		}
	}
	for i, end := range []string{from, to} {
		if bounds[i], wrong = parseMagnitude(end); wrong != nil {
			return bounds, wrong.within(end)
		}
		if bounds[i] < smallestMagnitude {
			return bounds, &mistake{message: fmt.Sprintf("a ratio of %q; expected more than 0", clip(end)), part: end}
		}
	}
	if bounds[0] > bounds[1] {
		return bounds, &mistake{message: fmt.Sprintf("%q is upside down; expected the smaller end first", clip(text)), hint: fmt.Sprintf("write %s..%s", formatMagnitude(bounds[1]), formatMagnitude(bounds[0]))}
	}
	return bounds, nil
}
