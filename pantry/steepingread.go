package pantry

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"minim/profile"
)

const steepExpected = "a mapping such as {dried hibiscus: 20 g, for: 20 min, at: 90 °C}"

// steepWords are the names under steep that are no plant.
var steepWords = []string{"for", "at", "half in", "keeps back", "gives"}

// readSteeping reads one plant, how long and how hot, and what is known of what
// it gives.
func (r *specReader) readSteeping(n *yaml.Node) (s Steeping, ok bool) {
	if n.Kind != yaml.MappingNode {
		r.refuse(n, &mistake{message: kindWords(n) + " after steep; expected " + steepExpected})
		return s, false
	}
	ok = true
	for key, value := range pairs(n) {
		if r.refused[key] || r.refused[value] {
			ok = false
			continue
		}
		good := true
		switch key.Value {
		case "for":
			s.For, good = scalar(r, value, "a time such as 20 min", parseTime)
		case "half in":
			s.HalfIn, good = scalar(r, value, "a time such as 5 min", parseTime)
		case "at":
			var t profile.Celsius
			if t, good = scalar(r, value, "a temperature such as 90 °C", parseSteepTemperature); good {
				s.At = &t
			}
		case "keeps back":
			var v MillilitrePerGram
			if v, good = scalar(r, value, "the liquid that a gram of plant keeps, such as 2 ml/g", parseKeepsBack); good {
				s.KeepsBack = &v
			}
		case "gives":
			s.Gives, good = r.readGives(value)
		default:
			good = r.readPlant(&s, key, value)
		}
		ok = ok && good
	}
	if ok && s.Plant == "" {
		r.refuse(n, &mistake{message: "nothing is steeped; expected " + steepExpected})
		return s, false
	}
	if ok && s.HalfIn.Count > 0 && s.For.Count == 0 {
		r.refuse(n, &mistake{message: "half in without for; expected how long it steeps", hint: "write for: 20 min"})
		return s, false
	}
	return s, ok
}

// readPlant reads the one line of a steeping that is no word of its own.
func (r *specReader) readPlant(s *Steeping, key, value *yaml.Node) bool {
	name := strings.TrimSpace(key.Value)
	weighed := false
	if a, wrong := parseAmount(value.Value); wrong == nil {
		weighed = unitTable[a.Unit].grams > 0
	}
	switch near := lookalike(name, steepWords); {
	case near != "" && !weighed:
		r.refuse(key, &mistake{message: fmt.Sprintf("no %q under steep; expected a plant, or one of %s", clip(name), strings.Join(steepWords, ", ")), hint: "nearest: " + near})
		return false
	case Fold(name) == "":
		r.refuse(key, &mistake{message: fmt.Sprintf("%q has no letters; expected the name of a plant", clip(name))})
		return false
	case s.Plant != "":
		r.refuse(key, &mistake{message: fmt.Sprintf("%q after %s; expected one plant", clip(name), s.Plant), hint: "a second plant is a step of its own"})
		return false
	}
	amount, ok := scalar(r, value, "its mass, such as 20 g", func(text string) (Amount, *mistake) {
		a, wrong := parsePositiveAmount(text)
		if wrong == nil && (unitTable[a.Unit].grams == 0 || a.Unit == Pinches) {
			wrong = &mistake{message: fmt.Sprintf("%q is no mass; expected grams of what is steeped", clip(text)), hint: "weigh it"}
		}
		return a, wrong
	})
	s.Plant, s.Amount = name, amount
	return ok
}

func parseSteepTemperature(text string) (profile.Celsius, *mistake) {
	t, wrong := parseTemperature(text)
	if wrong == nil && (t < 0 || t > hottestPour) {
		wrong = &mistake{message: fmt.Sprintf("%q; expected from 0 to %g °C", clip(text), float64(hottestPour))}
	}
	return t, wrong
}

// mostKeptBack is what a gram of the most absorbent plant keeps; common practice,
// no source.
const mostKeptBack = 20

func parseKeepsBack(text string) (MillilitrePerGram, *mistake) {
	number, unit := splitNumber(text)
	value, wrong := parseMagnitude(number)
	switch {
	case number == "" || foldUnit(unit) != "ml/g":
		return 0, &mistake{message: fmt.Sprintf("%q; expected the liquid that a gram of plant keeps, such as 2 ml/g", clip(text))}
	case wrong != nil:
		return 0, wrong.within(number)
	case value > mostKeptBack:
		return 0, &mistake{message: fmt.Sprintf("%q; expected at most %d ml/g", clip(text), mostKeptBack)}
	}
	return MillilitrePerGram(value), nil
}

// readGives reads what a plant gives, as {caffeine: 11 mg/g, citric: 40 mg/g ± 5}.
func (r *specReader) readGives(n *yaml.Node) (all []Given, ok bool) {
	const expected = "a mapping such as {caffeine: 11 mg/g, citric: 40 mg/g ± 5}"
	if n.Kind != yaml.MappingNode || len(n.Content) == 0 {
		r.refuse(n, &mistake{message: kindWords(n) + " after gives; expected " + expected})
		return nil, false
	}
	ok = true
	for key, value := range pairs(n) {
		if r.refused[key] || r.refused[value] {
			ok = false
			continue
		}
		into, known := AmountNamed(key.Value)
		if !known || !canBeGiven(into) {
			r.refuse(key, &mistake{message: fmt.Sprintf("no %q in a plant that the pantry has a column for; expected bitterness, caffeine, an acid, a sugar or the like", clip(key.Value))})
			ok = false
			continue
		}
		if slices.ContainsFunc(all, func(g Given) bool { return g.Into == into }) {
			r.refuse(key, &mistake{message: fmt.Sprintf("%q is given twice; expected it once", clip(key.Value))})
			ok = false
			continue
		}
		given, good := scalar(r, value, "an amount in a gram of plant, such as 11 mg/g", func(text string) (Given, *mistake) {
			return parseGiven(text, into)
		})
		if good {
			all = append(all, given)
		}
		ok = ok && good
	}
	return all, ok
}

// parseGiven reads what a plant gives of a column: a number with a unit, and its ±
// in that unit or one of its own.
func parseGiven(text string, into Column) (Given, *mistake) {
	written, about, _ := strings.Cut(text, "±")
	if _, unit := splitNumber(strings.TrimSpace(written)); about != "" && !strings.Contains(about, "/") {
		text = written + "± " + strings.TrimSpace(about) + " " + unit
	}
	units, most := gramsInPlant, 1000.0
	if columns[into].grams != 1 {
		units, most = milligramsInPlant, 1e6
	}
	if into == BitternessMilligramsPerLitre {
		most = columns[into].high
	}
	v, spread, err := ParseQuantity(text, units)
	switch {
	case err != nil:
		return Given{}, &mistake{message: err.Error()}
	case !(v >= 0 && v <= most):
		return Given{}, &mistake{message: fmt.Sprintf("%q; expected from nothing to all of the plant", clip(text))}
	case v > 0 && v < smallestMagnitude:
		return Given{}, tooSmall(text)
	}
	return Given{into, v, spread}, nil
}

// What a plant gives is in grams or milligrams per kilogram of it.
var (
	gramsInPlant      = Quantities{"g/kg": 1, "mg/g": 1, "mg/kg": 1e-3, "g/g": 1000}
	milligramsInPlant = Quantities{"mg/kg": 1, "mg/g": 1000, "g/kg": 1000, "g/g": 1e6}
)

// canBeGiven tells whether a steeped plant can give so much of a column: all that
// is an amount of its own.
func canBeGiven(c Column) bool {
	return columns[c].amount && c != TitratableAcidPerLitre && c != StrongChargePerLitre && c != CarbonDioxidePerLitre
}
