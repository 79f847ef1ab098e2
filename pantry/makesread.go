package pantry

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"
)

const makesExpected = "a mapping such as {volume: 750 ml, keeps: 14 days, store: fridge}"

// makesKeys are the names under makes, in the order in which they are written.
var makesKeys = []string{"volume", "keeps", "store"}

// readMakes reads what a prep makes.
func (r *specReader) readMakes(n *yaml.Node) {
	if n.Kind != yaml.MappingNode {
		r.refuse(n, &mistake{message: kindWords(n) + " after makes; expected " + makesExpected, hint: "write makes: {volume: 750 ml}"})
		return
	}
	if len(n.Content) == 0 {
		r.refuse(n, &mistake{message: "nothing under makes; expected " + makesExpected})
		return
	}
	makes := &Makes{Place: r.placeOf(n, "")}
	for key, value := range pairs(n) {
		if r.refused[key] || r.refused[value] {
			continue
		}
		switch key.Value {
		case "volume":
			makes.Volume, _ = scalar(r, value, "a volume such as 750 ml", parseVolume)
		case "keeps":
			makes.Keeps, _ = scalar(r, value, "a time such as 14 days", parseTime)
		case "store":
			makes.Store, _ = scalar(r, value, "a place: "+strings.Join(storageWords(), ", "), parseStorage)
		default:
			r.refuse(key, unknownWord("makes", key.Value, makesKeys))
		}
	}
	r.spec.Makes = makes
}

// unknownWord is a name that a mapping does not have.
func unknownWord(where, name string, among []string) *mistake {
	wrong := &mistake{message: fmt.Sprintf("no %q under %s; expected %s", clip(name), where, strings.Join(among, ", "))}
	if near := lookalike(name, among); near != "" {
		wrong.hint = "nearest: " + near
	}
	return wrong
}

func storageWords() []string {
	var words []string
	for _, s := range storages {
		if s.word != "" {
			words = append(words, s.word)
		}
	}
	return words
}

func parseStorage(text string) (Storage, *mistake) {
	for s, facts := range storages {
		if facts.word != "" && strings.EqualFold(text, facts.word) {
			return Storage(s), nil
		}
	}
	wrong := &mistake{message: fmt.Sprintf("%q is no place to keep a prep; expected %s", clip(text), strings.Join(storageWords(), ", "))}
	if near := lookalike(text, storageWords()); near != "" {
		wrong.hint = "nearest: " + near
	}
	return 0, wrong
}

// parseTime reads a number and a unit of time.
func parseTime(text string) (ShelfLife, *mistake) {
	number, unit := splitNumber(text)
	if digitComma.MatchString(number) {
		return ShelfLife{}, commaMistake(text)
	}
	expected := &mistake{message: fmt.Sprintf("%q is not a time; expected one such as 20 min, 4 hours, 14 days, 2 weeks or 3 months", clip(text))}
	if number == "" {
		return ShelfLife{}, expected
	}
	count, wrong := parseMagnitude(number)
	if wrong != nil {
		return ShelfLife{}, wrong.within(number)
	}
	if count == 0 {
		return ShelfLife{}, &mistake{message: fmt.Sprintf("%q is no time; expected more than 0", clip(text))}
	}
	for u, facts := range timeTable {
		if word := foldUnit(unit); word == facts.one || word == facts.several || slices.Contains(facts.words, word) {
			return ShelfLife{count, TimeUnit(u)}, nil
		}
	}
	return ShelfLife{}, expected
}

// parseLoss reads what a step leaves behind: "loses 40 ml", "loses 5 %".
func parseLoss(text string) (StepMeasure, float64, *mistake) {
	expected := &mistake{message: fmt.Sprintf("%q is no loss; expected one such as loses 40 ml or loses 5 %%", clip(text))}
	rest, ok := cutWord(text, "loses")
	if !ok {
		return 0, 0, expected
	}
	if number, unit := splitNumber(rest); foldUnit(unit) == "%" {
		value, wrong := parseMagnitude(number)
		switch {
		case wrong != nil:
			return 0, 0, wrong.within(number)
		case value >= 100:
			return 0, 0, &mistake{message: fmt.Sprintf("%q leaves nothing; expected less than 100 %%", clip(text))}
		}
		return LosesPercent, value, nil
	}
	volume, wrong := parseVolume(rest)
	return LosesVolume, float64(volume), wrong
}

// parseReduction reads where simmering ends: "to 500 ml", "to 650 g", "to 45 °Bx".
func parseReduction(text string) (StepMeasure, float64, *mistake) {
	rest, ok := cutWord(text, "to")
	if !ok {
		return 0, 0, &mistake{message: fmt.Sprintf("%q is no end; expected one such as to 500 ml, to 650 g or to 45 °Bx", clip(text))}
	}
	number, unit := splitNumber(rest)
	switch foldUnit(unit) {
	case "°bx", "bx", "°brix", "brix", "° brix", "° bx":
		value, wrong := parseMagnitude(number)
		if wrong == nil && !(value > 0 && value <= mostBrix) {
			wrong = &mistake{message: fmt.Sprintf("%q; expected more than 0 and at most %d °Bx", clip(text), mostBrix)}
		}
		return ToBrix, value, wrong
	}
	a, wrong := parsePositiveAmount(rest)
	if wrong != nil {
		return 0, 0, wrong
	}
	if grams := unitTable[a.Unit].grams; grams > 0 && a.Unit != Pinches {
		return ToMass, a.Value * float64(grams), nil
	}
	volume, wrong := parseVolume(rest)
	return ToVolume, float64(volume), wrong
}

// mostBrix is beyond every syrup; at 20 °C water holds 66.7.
const mostBrix = 85

// parseDilution reads "to 1 l" or "with 200 ml".
func parseDilution(text string) (StepMeasure, float64, *mistake) {
	measure := ToVolume
	rest, ok := cutWord(text, "to")
	if !ok {
		rest, ok = cutWord(text, "with")
		measure = WithVolume
	}
	if !ok {
		return 0, 0, &mistake{message: fmt.Sprintf("%q is no dilution; expected one such as to 1 l or with 200 ml", clip(text)), hint: "it is water that is added; anything else is a pour"}
	}
	volume, wrong := parseVolume(rest)
	return measure, float64(volume), wrong
}

// Bounds of carbon dioxide in a prep: what a keg or a siphon holds.
const (
	mostGasVolumes  = 10
	mostGasPerLitre = 20
)

// parseCarbonation reads "4 volumes" or "7 g/L".
func parseCarbonation(text string) (StepMeasure, float64, *mistake) {
	number, unit := splitNumber(text)
	measure, most := GasVolumes, float64(mostGasVolumes)
	switch foldUnit(unit) {
	case "volume", "volumes", "vol", "vols":
	case "g/l":
		measure, most = GasPerLitre, mostGasPerLitre
	default:
		return 0, 0, &mistake{message: fmt.Sprintf("%q is no amount of gas; expected one such as 4 volumes or 8 g/L", clip(text))}
	}
	value, wrong := parseMagnitude(number)
	if wrong == nil && !(value > 0 && value <= most) {
		wrong = &mistake{message: fmt.Sprintf("%q; expected more than 0 and at most %g", clip(text), most)}
	}
	return measure, value, wrong
}

// usualClarifyLoss is what clarifying leaves behind where nothing is said, in
// percent of the volume; common practice, no source: 5 to 20.
const usualClarifyLoss = 10

// checkPrep refuses what a prep and a drink cannot both have, and steps of a drink.
func (r *specReader) checkPrep(root *yaml.Node) {
	var makes, steps *yaml.Node
	for key := range pairs(root) {
		switch key.Value {
		case "makes":
			makes = key
		case "steps":
			steps = key
		}
	}
	if makes == nil {
		if steps != nil && !r.refused[steps] {
			r.refuse(steps, &mistake{message: "steps without makes; expected them in a prep", hint: "a prep says what it makes: write makes: {volume: 750 ml}"})
		}
		return
	}
	instead := map[string]string{
		"glass": "a prep makes a volume: write makes: {volume: 750 ml}", "ice": "water goes into a prep as a pour or as `- dilute: to 1 l` under steps",
		"top": "all that goes into a prep stands under mix; bubbles come by `- carbonate: 4 volumes`", "finish": "a garnish belongs to the drink",
		"like": "write the target out", "ratio": "write the amounts, or leave them open",
	}
	for key := range pairs(root) {
		if hint := instead[key.Value]; hint != "" && !r.refused[key] {
			r.refuse(key, &mistake{message: fmt.Sprintf("%s beside makes; expected the one or the other", key.Value), hint: hint})
		}
	}
}

// readSteps reads the list of what is done to a prep.
func (r *specReader) readSteps(n *yaml.Node) {
	if n.Kind != yaml.SequenceNode || len(n.Content) == 0 {
		r.refuse(n, &mistake{message: kindWords(n) + " after steps; expected a list in order", hint: "put a - before each step, such as `- reduce: to 500 ml`"})
		return
	}
	for _, item := range n.Content {
		if r.refused[item] {
			continue
		}
		switch {
		case item.Kind == yaml.ScalarNode && strings.EqualFold(strings.TrimSpace(item.Value), Clarify.String()):
			r.spec.Steps = append(r.spec.Steps, PrepStep{Kind: Clarify, Measure: LosesPercent, Value: usualClarifyLoss, Place: r.placeOf(item, "")})
		case item.Kind == yaml.MappingNode && len(item.Content) == 2:
			r.readStep(item.Content[0], item.Content[1])
		case item.Kind == yaml.MappingNode:
			r.refuse(item, &mistake{message: "several steps in one item; expected one", hint: "put a - before each step"})
		default:
			r.refuse(item, &mistake{message: kindWords(item) + "; expected a step such as `reduce: to 500 ml`", hint: "steps are " + strings.Join(prepStepWords[:], ", ")})
		}
	}
}

func (r *specReader) readStep(key, value *yaml.Node) {
	if r.refused[key] || r.refused[value] {
		return
	}
	kind := slices.Index(prepStepWords[:], key.Value)
	if kind < 0 {
		wrong := unknownWord("steps", key.Value, prepStepWords[:])
		if wrong.hint == "" {
			wrong.hint = "what is added later goes into a prep of its own that pours this one"
		}
		r.refuse(key, wrong)
		return
	}
	step := PrepStep{Kind: PrepStepKind(kind), Place: r.placeOf(key, "")}
	if step.Kind == Steep {
		if steeping, ok := r.readSteeping(value); ok {
			step.Steeping = steeping
			r.spec.Steps = append(r.spec.Steps, step)
		}
		return
	}
	parse := map[PrepStepKind]func(string) (StepMeasure, float64, *mistake){
		Reduce: parseReduction, Strain: parseLoss, Clarify: parseLoss, Dilute: parseDilution, Carbonate: parseCarbonation,
	}[step.Kind]
	type measured struct {
		by    StepMeasure
		value float64
	}
	if m, ok := scalar(r, value, "text such as to 500 ml", func(text string) (measured, *mistake) {
		by, value, wrong := parse(text)
		if wrong == nil && (math.IsInf(value, 0) || value < smallestMagnitude) {
			wrong = &mistake{message: fmt.Sprintf("%q is nothing; expected more than 0", clip(text))}
		}
		return measured{by, value}, wrong
	}); ok {
		step.Measure, step.Value = m.by, m.value
		r.spec.Steps = append(r.spec.Steps, step)
	}
}
