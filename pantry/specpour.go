package pantry

import (
	"fmt"
	"regexp"
	"strings"

	"go.yaml.in/yaml/v4"

	"minim/profile"
)

// pourExpected is what may stand after the name of a pour.
const pourExpected = "an amount such as 30 ml, a range such as 30..45 ml, open, or optional"

// mostPours are the lines that mix or top may have. With all of them open the
// search takes seconds, and what it takes rises faster than their number.
const mostPours = 40

// readPours reads the mapping under mix or top.
func (r *specReader) readPours(n *yaml.Node, section string) []Pour {
	switch {
	case n.Kind == yaml.SequenceNode:
		r.refuse(n, &mistake{
			message: fmt.Sprintf("a list under %s; expected lines such as `dry gin: 30 ml`", section),
			hint:    "take the dashes away; the order of the lines is kept",
		})
		return nil
	case n.Kind != yaml.MappingNode:
		r.refuse(n, &mistake{
			message: fmt.Sprintf("%s after %s; expected lines such as `dry gin: 30 ml` under it", kindWords(n), section),
			hint:    "one ingredient on each line, two spaces in",
		})
		return nil
	case len(n.Content) == 0:
		r.refuse(n, &mistake{message: fmt.Sprintf("no pours under %s; expected lines such as `dry gin: 30 ml`", section)})
		return nil
	}
	if most := 2 * mostPours; len(n.Content) > most {
		r.refuse(n.Content[most], &mistake{
			message: fmt.Sprintf("%d pours under %s; expected one drink of at most %d", len(n.Content)/2, section, mostPours),
			hint:    "to have some of many found, write `choose: {at most: 5, from: [...]}`",
		})
		return nil
	}
	var pours []Pour
	first := map[string]*yaml.Node{}
	for key, value := range pairs(n) {
		if r.refused[key] {
			continue
		}
		name := strings.TrimSpace(key.Value)
		if Fold(name) == "" {
			r.refuse(key, &mistake{message: fmt.Sprintf("%q has no letters; expected the name of an ingredient", clip(name))})
			continue
		}
		if before, twice := first[Fold(name)]; twice {
			r.refuseTwice(key, before)
			continue
		}
		if name == ratioWord {
			r.refuse(key, &mistake{message: fmt.Sprintf("%q is a word of ratios; expected the name of an ingredient", name)})
			continue
		}
		first[Fold(name)] = key
		if r.refused[value] {
			continue
		}
		pour, ok := scalar(r, value, pourExpected, func(text string) (Pour, *mistake) {
			pour, wrong := parsePour(text)
			if number, unit := splitNumber(text); wrong != nil && number != "" && unit == "" && !digitComma.MatchString(number) {
				wrong.hint = unitlessHint(number, name, Embedded())
			}
			return pour, wrong
		})
		if ok {
			pour.Name, pour.Place = name, r.placeOf(key, "")
			pours = append(pours, pour)
		}
	}
	return pours
}

// parsePour reads what stands after the name of a pour:
//
//	30 ml              fixed
//	30..45 ml          between
//	open               wanted, the amount to be found; open 10..30 ml within limits
//	optional           some or none; optional 10..20 ml: that much or none
//	at least 10 ml     open with one limit, and so `at most`
//
// each with the pour's temperature after it where that is not the usual one:
// 30 ml at 5 °C.
func parsePour(text string) (Pour, *mistake) {
	amount, at, wrong := splitTemperature(text)
	if wrong != nil {
		return Pour{}, wrong
	}
	pour, wrong := parsePourAmount(amount)
	pour.At = at
	return pour, wrong
}

func parsePourAmount(text string) (Pour, *mistake) {
	if wrong := comparisonMistake(text); wrong != nil {
		return Pour{}, wrong
	}
	for _, word := range []struct {
		text string
		kind PourKind
	}{{"open", Open}, {"optional", Optional}} {
		if rest, ok := cutWord(text, word.text); ok {
			low, high, wrong := parseBounds(rest)
			return Pour{Kind: word.kind, Low: low, High: high}, wrong
		}
	}
	if hasLimitWord(text) {
		low, high, wrong := parseBounds(text)
		return Pour{Kind: Open, Low: low, High: high}, wrong
	}
	if isRange(text) {
		low, high, wrong := parseRange(text)
		if wrong == nil && low.Value == 0 {
			wrong = &mistake{
				message: fmt.Sprintf("%q starts at nothing; expected a range of more than 0", clip(text)),
				hint:    "what may be left out is optional: write optional at most " + high.String(),
			}
		}
		return Pour{Kind: Between, Low: low, High: high}, wrong
	}
	if number, _ := splitNumber(text); number == "" {
		return Pour{}, pourWordMistake(text)
	}
	a, wrong := parsePositiveAmount(text)
	return Pour{Kind: Fixed, Low: a, High: a}, wrong
}

// pourWordMistake is a word where an amount was expected.
func pourWordMistake(text string) *mistake {
	wrong := &mistake{message: fmt.Sprintf("%q is not an amount; expected %s", clip(text), pourExpected)}
	switch folded := Fold(text); {
	case folded == "top" || folded == "top up" || folded == "fill" || folded == "to taste" || folded == "to top" || folded == "some":
		wrong.hint = "an amount that is to be found is open"
	case folded == "none":
		wrong.hint = "delete the line, or write optional"
	default:
		if near := lookalike(text, []string{"open", "optional", "at least", "at most"}); near != "" {
			wrong.hint = "nearest: " + near
		}
	}
	return wrong
}

// parseBounds reads what limits an open or optional pour: nothing, a range, or
// one limit. A lower limit of 0 is none.
func parseBounds(text string) (low, high Amount, wrong *mistake) {
	for _, limit := range []struct {
		word string
		into *Amount
	}{{"at least", &low}, {"at most", &high}} {
		rest, ok := cutWord(text, limit.word)
		if !ok {
			continue
		}
		if strings.Contains(rest, ",") && hasLimitWord(text[strings.Index(text, ",")+1:]) {
			return low, high, &mistake{message: fmt.Sprintf("%q is two limits; expected one, or a range", clip(text)), hint: "write both ends as a range, such as 10..45 ml"}
		}
		*limit.into, wrong = parsePositiveAmount(rest)
		return low, high, wrong
	}
	switch {
	case text == "":
		return low, high, nil
	case isRange(text):
		low, high, wrong = parseRange(text)
		if low.Value == 0 {
			low = Amount{}
		}
		return low, high, wrong
	}
	a, wrong := parsePositiveAmount(text)
	if wrong == nil {
		wrong = &mistake{message: fmt.Sprintf("%q is one amount; expected a limit or a range after open or optional", clip(text)), hint: fmt.Sprintf("write at most %s, or the amount alone", a)}
	}
	return low, high, wrong
}

var (
	wordedRange = regexp.MustCompile(`^[\d.¼½¾⅓⅔/ ]*[\d¼½¾⅓⅔]\s*[a-zA-Z/%°]*\s*(?:-|–|—|…|\.\.\.+|\bto\b)\s*[\d¼½¾⅓⅔.]`)
	rangeSign   = regexp.MustCompile(`\s*(?:–|—|…|\.\.\.+|\bto\b|-)\s*`)
)

// isRange tells whether text is meant as a range, rightly written or not.
func isRange(text string) bool {
	return strings.Contains(text, "..") || wordedRange.MatchString(text)
}

// splitRange cuts a range at its two dots.
func splitRange(text string) (low, high string, wrong *mistake) {
	low, high, found := strings.Cut(text, "..")
	low, high = strings.TrimSpace(low), strings.TrimSpace(high)
	switch {
	case !found || strings.Contains(text, "..."):
		return "", "", &mistake{
			message: fmt.Sprintf("%q is not a range as a spec has it; expected two dots", clip(text)),
			hint:    "write " + rangeSign.ReplaceAllString(clip(text), ".."),
		}
	case noNumber(low) || noNumber(high):
		return "", "", &mistake{
			message: fmt.Sprintf("%q has one end only; expected both, such as 30..45", clip(text)),
			hint:    "a limit on one side is written at least or at most",
		}
	}
	return low, high, nil
}

// noNumber tells whether an end of a range lacks its number.
func noNumber(end string) bool {
	number, _ := splitNumber(end)
	return number == ""
}

// parseRange reads a range of amounts. An end without a unit takes that of the
// other.
func parseRange(text string) (low, high Amount, wrong *mistake) {
	from, to, wrong := splitRange(text)
	if wrong != nil {
		return low, high, wrong
	}
	if number, unit := splitNumber(from); unit == "" {
		_, other := splitNumber(to)
		from = number + " " + other
	} else if number, unit := splitNumber(to); unit == "" {
		_, other := splitNumber(from)
		to = number + " " + other
	}
	if low, wrong = parseAmount(from); wrong != nil {
		return low, high, wrong
	}
	if high, wrong = parsePositiveAmount(to); wrong != nil {
		return low, high, wrong
	}
	lowest, lowKind := low.comparable()
	highest, highKind := high.comparable()
	switch {
	case lowKind != highKind:
		return low, high, &mistake{message: fmt.Sprintf("%q mixes %s with %s; expected the same kind of unit at both ends", clip(text), low.Unit, high.Unit)}
	case lowest > highest:
		return low, high, &mistake{message: fmt.Sprintf("%q is upside down; expected the smaller end first", clip(text)), hint: fmt.Sprintf("write %s", rangeText(high, low))}
	}
	return low, high, nil
}

// rangeText writes a range: the unit once, where both ends have the same.
func rangeText(low, high Amount) string {
	if low.Unit != high.Unit {
		return low.String() + ".." + high.String()
	}
	return strings.TrimSuffix(low.String(), " "+low.Unit.word(low.Value)) + ".." + high.String()
}

// cutWord cuts a keyword off the front of text, whatever its case and spacing.
func cutWord(text, word string) (rest string, ok bool) {
	fields := strings.Fields(text)
	words := strings.Fields(word)
	if len(fields) < len(words) {
		return text, false
	}
	for i, w := range words {
		if !strings.EqualFold(strings.TrimSuffix(fields[i], ","), w) {
			return text, false
		}
	}
	return strings.Join(fields[len(words):], " "), true
}

func hasLimitWord(text string) bool {
	_, least := cutWord(text, "at least")
	_, most := cutWord(text, "at most")
	return least || most
}

var comparisonWords = regexp.MustCompile(`(?i)^(>=?|<=?|≥|≤|max\b\.?|maximum\b|up to\b|under\b|below\b|less than\b|min\b\.?|minimum\b|over\b|above\b|more than\b|from\b)\s*(?:of\s+)?(.*)$`)

// comparisonMistake answers a limit written in signs or in other words.
func comparisonMistake(text string) *mistake {
	found := comparisonWords.FindStringSubmatch(text)
	if found == nil {
		return nil
	}
	word := "at most"
	switch strings.ToLower(strings.TrimSuffix(found[1], ".")) {
	case ">", ">=", "≥", "min", "minimum", "over", "above", "more than", "from":
		word = "at least"
	}
	return &mistake{
		message: fmt.Sprintf("%q is not a limit as a spec has it; expected words", clip(text)),
		hint:    strings.TrimSpace(fmt.Sprintf("write %s %s", word, clip(found[2]))),
	}
}

// splitTemperature cuts ` at 5 °C` off the end of a pour.
func splitTemperature(text string) (amount string, at *profile.Celsius, wrong *mistake) {
	fields := strings.Fields(text)
	for i := len(fields) - 1; i >= 0; i-- {
		if !strings.EqualFold(fields[i], "at") || i+1 < len(fields) && (strings.EqualFold(fields[i+1], "least") || strings.EqualFold(fields[i+1], "most")) {
			continue
		}
		amount, rest := strings.Join(fields[:i], " "), strings.Join(fields[i+1:], " ")
		t, wrong := parseTemperature(rest)
		switch {
		case wrong != nil:
			return amount, nil, wrong.within(rest)
		case amount == "":
			return amount, nil, &mistake{message: fmt.Sprintf("%q is a temperature alone; expected an amount before it", clip(text)), hint: "write open at 5 °C, or 30 ml at 5 °C"}
		case t < coldestPour || t > hottestPour:
			return amount, nil, &mistake{message: fmt.Sprintf("%q; expected from %g to %g °C", clip(rest), float64(coldestPour), float64(hottestPour)), part: rest}
		}
		return amount, &t, nil
	}
	return text, nil, nil
}

// What is poured is neither colder than a deep freezer nor hotter than boiling.
const (
	coldestPour profile.Celsius = -40
	hottestPour profile.Celsius = 100
)

// parseTemperature reads a temperature in °C.
func parseTemperature(text string) (profile.Celsius, *mistake) {
	number, unit := splitNumber(text)
	if digitComma.MatchString(number) {
		return 0, commaMistake(text)
	}
	value, wrong := parseSigned(number)
	if wrong != nil {
		return 0, &mistake{message: fmt.Sprintf("%q is not a temperature; expected one such as 5 °C", clip(text))}
	}
	switch strings.ToLower(strings.Join(strings.Fields(unit), "")) {
	case "°c", "c", "ºc", "℃":
		return profile.Celsius(value), nil
	case "°f", "f", "ºf", "℉":
		return 0, &mistake{message: fmt.Sprintf("%q is in Fahrenheit; expected °C", clip(text)), hint: fmt.Sprintf("write %.3g °C", (value-32)/1.8+0)}
	case "":
		return 0, &mistake{message: fmt.Sprintf("%q has no unit; expected °C", clip(text)), hint: fmt.Sprintf("write %s °C", clip(number))}
	}
	return 0, &mistake{message: fmt.Sprintf("%q is not a temperature; expected one such as 5 °C", clip(text))}
}
