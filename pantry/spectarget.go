package pantry

import (
	"fmt"
	"regexp"
	"strings"

	"go.yaml.in/yaml/v4"

	"minim/profile"
)

// readTargets reads the mapping under target.
func (r *specReader) readTargets(n *yaml.Node) {
	if n.Kind != yaml.MappingNode || len(n.Content) == 0 {
		r.refuse(n, &mistake{
			message: fmt.Sprintf("%s under target; expected lines such as `abv: 18 %%`", kindWords(n)),
			hint:    "one property on each line, two spaces in; properties are " + strings.Join(profile.PropertyNames(), ", "),
		})
		return
	}
	for key, value := range pairs(n) {
		if r.refused[key] {
			continue
		}
		p, ok := profile.PropertyNamed(key.Value)
		if !ok {
			r.refuse(key, unknownProperty(key.Value))
			continue
		}
		if r.refused[value] {
			continue
		}
		t, ok := scalar(r, value, "a number with its unit, or a range such as 65..70 g/L", func(text string) (Target, *mistake) { return parseTarget(text, p) })
		if ok {
			t.Place = r.placeOf(key, "")
			r.spec.Target = append(r.spec.Target, t)
		}
	}
}

// propertyWords are what people say for a property.
var propertyWords = map[string]string{
	"alcohol": "abv", "strength": "abv", "proof": "abv", "sweet": "sweetness", "sour": "acid", "acidity": "acid",
	"salty": "salt", "salinity": "salt", "saltiness": "salt", "bitterness": "bitter", "savoury": "umami", "savory": "umami",
	"size": "volume", "temp": "temperature", "fizz": "co2", "carbonation": "co2", "bubbles": "co2", "calories": "energy", "water": "dilution",
}

func unknownProperty(name string) *mistake {
	wrong := &mistake{message: fmt.Sprintf("no property %q; expected one of %s", clip(name), strings.Join(profile.PropertyNames(), ", "))}
	near := propertyWords[strings.ToLower(name)]
	if near == "" {
		near = lookalike(name, profile.PropertyNames())
	}
	if near != "" {
		wrong.hint = "nearest: " + near
	}
	return wrong
}

// parseTarget reads the target of a property: parts with commas between them,
// each at most once, in any order.
//
//	6.5 g/L                an aim
//	65..70 g/L             a band
//	6.5 g/L ± 0.3          either, with a tolerance of its own in place of one JND
//	at least 9 %           a limit, and so `at most`
//	weight 2               what a miss of the aim or band counts
func parseTarget(text string, p profile.Property) (Target, *mistake) {
	t := Target{Property: p, Weight: 1}
	if digitComma.MatchString(text) {
		return t, commaMistake(text)
	}
	seen := map[string]bool{}
	for part := range strings.SplitSeq(text, ",") {
		part = strings.TrimSpace(part)
		kind, wrong := t.read(part)
		if wrong != nil {
			return t, wrong.within(part)
		}
		if seen[kind] {
			return t, &mistake{message: fmt.Sprintf("%q is a second %s; expected one", clip(part), kind), part: part}
		}
		seen[kind] = true
	}
	return t, t.contradiction(text, seen["weight"])
}

// read reads one part of a target into t and says of what kind it is.
func (t *Target) read(part string) (kind string, wrong *mistake) {
	if part == "" {
		return "", &mistake{message: "nothing before or after a comma; expected a value, a limit or a weight"}
	}
	if wrong := comparisonMistake(part); wrong != nil {
		return "", wrong
	}
	if rest, ok := cutWord(part, "weight"); ok {
		t.Weight, wrong = parseWeight(rest)
		return "weight", wrong
	}
	for _, limit := range []struct {
		word string
		into **float64
	}{{"at least", &t.AtLeast}, {"at most", &t.AtMost}} {
		if rest, ok := cutWord(part, limit.word); ok {
			value, wrong := parseTargetValue(rest, t.Property, "")
			*limit.into = &value
			return limit.word, wrong
		}
	}
	t.Aimed = true
	return "aim", t.readAim(part)
}

func parseWeight(text string) (float64, *mistake) {
	weight, wrong := parseSigned(text)
	if wrong == nil && weight < smallestMagnitude {
		wrong = &mistake{message: fmt.Sprintf("a weight of %q; expected more than 0, such as weight 2", clip(text)), hint: "a property that does not matter needs no line"}
	}
	if wrong != nil && wrong.part == "" {
		wrong.part = text
	}
	return weight, wrong
}

var plusMinus = regexp.MustCompile(`\s*(?:±|\+/?-|\+/?−|plus or minus)\s*`)

// readAim reads a value or a band, with a tolerance where there is one. An end
// without a unit takes that of the one after it, a tolerance that of the aim.
func (t *Target) readAim(part string) (wrong *mistake) {
	aim, tolerance := part, ""
	if at := plusMinus.FindStringIndex(part); at != nil {
		aim, tolerance = part[:at[0]], part[at[1]:]
	}
	_, toleranceUnit := splitNumber(tolerance)
	unit := toleranceUnit
	if isRange(aim) {
		var from, to string
		if from, to, wrong = splitRange(aim); wrong != nil {
			return wrong
		}
		for _, end := range []string{from, to, tolerance} {
			if _, u := splitNumber(end); u != "" {
				unit = u
			}
		}
		if _, u := splitNumber(to); u != "" {
			unit = u
		}
		if t.Low, wrong = parseTargetValue(from, t.Property, unit); wrong != nil {
			return wrong
		}
		if t.High, wrong = parseTargetValue(to, t.Property, unit); wrong != nil {
			return wrong
		}
		if t.Low > t.High {
			return &mistake{
				message: fmt.Sprintf("%q is upside down; expected the smaller end first", clip(aim)),
				hint:    fmt.Sprintf("write %s..%s", formatMagnitude(t.High), targetText(t.Low, t.Property)),
			}
		}
	} else {
		if t.Low, wrong = parseTargetValue(aim, t.Property, unit); wrong != nil {
			return wrong
		}
		t.High = t.Low
		if _, u := splitNumber(aim); u != "" {
			unit = u
		}
	}
	if aim == part {
		return nil
	}
	if t.Tolerance, wrong = parseTargetValue(tolerance, t.Property, unit); wrong != nil {
		return wrong
	}
	if t.Tolerance < smallestMagnitude {
		return &mistake{message: fmt.Sprintf("a tolerance of %q; expected more than 0", clip(tolerance)), part: tolerance}
	}
	return nil
}

// contradiction finds what the parts of a target say against each other.
func (t *Target) contradiction(text string, weighted bool) *mistake {
	_, hasJND := t.Property.JND()
	name := t.Property.Name()
	switch {
	case t.AtLeast != nil && t.AtMost != nil && *t.AtLeast > *t.AtMost:
		return &mistake{message: fmt.Sprintf("%q asks for at least more than at most; nothing can be both", clip(text)), hint: "exchange the two numbers"}
	case weighted && !t.Aimed:
		return &mistake{message: "a weight without a value to aim at; expected a number or a range too", hint: "a limit needs no weight: it always holds"}
	case t.Aimed && t.AtMost != nil && t.Low > *t.AtMost, t.Aimed && t.AtLeast != nil && t.High < *t.AtLeast:
		return &mistake{message: fmt.Sprintf("%q aims beyond its own limit; expected an aim inside it", clip(text)), hint: "move the aim, or take the limit away"}
	case t.Aimed && !hasJND && t.Property != profile.Volume && t.Tolerance == 0:
		tolerance := tidy(max(t.Low, 1) / 10)
		if t.Property == profile.PH {
			tolerance = 0.1
		}
		return &mistake{
			message: fmt.Sprintf("%s is aimed at, but has no just-noticeable difference to measure a miss in; expected a tolerance or a limit", name),
			hint:    fmt.Sprintf("write %s ± %s, or at most %s", targetText(t.Low, t.Property), formatMagnitude(tolerance), targetText(t.High, t.Property)),
		}
	case t.Property == profile.Volume && (t.Aimed && t.Low == 0 || t.AtMost != nil && *t.AtMost == 0):
		return &mistake{message: "a volume of 0; expected more than 0"}
	}
	return nil
}
