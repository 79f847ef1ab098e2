package pantry

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// mistake is what is wrong with a piece of text before it is known where that
// text stands in a file.
type mistake struct {
	// message says what was read and what was expected.
	message string
	// hint says what to write instead; empty: nothing to add.
	hint string
	// part is the piece of the text that is at fault; empty: all of it.
	part string
}

// Error gives the message and, on a line of its own, the hint.
func (m *mistake) Error() string {
	if m.hint == "" {
		return m.message
	}
	return m.message + "\nhint: " + m.hint
}

// within narrows the mistake to a part of the text, unless it names one already.
func (m *mistake) within(part string) *mistake {
	if m.part == "" {
		m.part = part
	}
	return m
}

// largestMagnitude bounds every number in a spec; beyond it lies a slip of the
// keyboard, not a drink.
const largestMagnitude = 1e6

// smallestMagnitude is the least number that is not 0; nothing in a drink is
// measured finer.
const smallestMagnitude = 1e-6

// vulgarFractions are the fractions that have a character of their own, the
// trade's quarters first.
var vulgarFractions = []struct {
	sign                   string
	numerator, denominator float64
}{
	{"¼", 1, 4},
	{"½", 1, 2},
	{"¾", 3, 4},
	{"⅓", 1, 3},
	{"⅔", 2, 3},
	{"⅛", 1, 8},
	{"⅜", 3, 8},
	{"⅝", 5, 8},
	{"⅞", 7, 8},
}

var (
	decimalForm    = regexp.MustCompile(`^(?:\d+(?:\.\d+)?|\.\d+)$`)
	vulgarForm     = regexp.MustCompile(`^(?:(\d+)\s*)?([¼½¾⅓⅔⅛⅜⅝⅞])$`)
	slashedForm    = regexp.MustCompile(`^(?:(\d+)\s+)?(\d+)\s*[/⁄]\s*(\d+)$`)
	digitComma     = regexp.MustCompile(`\d,\d`)
	thousandsComma = regexp.MustCompile(`\d,\d{3}(?:\D|$)`)
	numberAtFront  = regexp.MustCompile(`^[-+−]?[\d.,/⁄¼½¾⅓⅔⅛⅜⅝⅞\s]*`)
)

// splitNumber cuts a quantity into its number and its unit, both trimmed:
// "1 ½ fl oz" into "1 ½" and "fl oz".
func splitNumber(text string) (number, unit string) {
	text = strings.TrimSpace(text)
	number = numberAtFront.FindString(text)
	if strings.Trim(number, "-+−., ") == "" {
		return "", text
	}
	return strings.TrimSpace(number), strings.TrimSpace(text[len(number):])
}

// parseMagnitude reads a number without a sign, 0 or from 0.000001 to 1000000,
// as a bar writes it: 30, 2.5, ¾, 3/4, 1 ½, 1 1/2.
func parseMagnitude(text string) (float64, *mistake) {
	value, ok := 0.0, false
	switch {
	case decimalForm.MatchString(text):
		value, ok = digitsValue(text), true
	case vulgarForm.MatchString(text):
		found := vulgarForm.FindStringSubmatch(text)
		for _, f := range vulgarFractions {
			if f.sign == found[2] {
				value, ok = digitsValue(found[1])+f.numerator/f.denominator, true
			}
		}
	case slashedForm.MatchString(text):
		found := slashedForm.FindStringSubmatch(text)
		if below := digitsValue(found[3]); below > 0 && !math.IsInf(below, 1) {
			value, ok = digitsValue(found[1])+digitsValue(found[2])/below, true
		}
	}
	switch {
	case !ok && digitComma.MatchString(text):
		return 0, commaMistake(text)
	case !ok && (strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−")):
		return 0, &mistake{message: fmt.Sprintf("%q is negative; expected a number of 0 or more", clip(text))}
	case !ok:
		return 0, &mistake{message: fmt.Sprintf("%q is not a number; expected one such as 30, 2.5 or ¾", clip(text))}
	case value > largestMagnitude:
		return 0, &mistake{message: fmt.Sprintf("%q is too large; expected at most 1000000", clip(text))}
	case value > 0 && value < smallestMagnitude:
		return 0, tooSmall(text)
	}
	return value, nil
}

func tooSmall(text string) *mistake {
	return &mistake{message: fmt.Sprintf("%q is too small to measure; expected 0, or at least 0.000001", clip(text))}
}

// parseSigned reads a number that may be negative, with - or − before it.
func parseSigned(text string) (float64, *mistake) {
	for _, sign := range []string{"-", "−"} {
		if rest, ok := strings.CutPrefix(text, sign); ok {
			value, wrong := parseMagnitude(strings.TrimSpace(rest))
			return 0 - value, wrong
		}
	}
	return parseMagnitude(strings.TrimSpace(strings.TrimPrefix(text, "+")))
}

// digitsValue is the value of digits with at most one point; no digits are 0,
// and more than a float64 holds is infinite.
func digitsValue(digits string) float64 {
	value, _ := strconv.ParseFloat(digits, 64)
	return value
}

// commaMistake is a comma where a decimal point belongs.
func commaMistake(text string) *mistake {
	wrong := &mistake{message: fmt.Sprintf("%q has a comma between digits; expected a decimal point", clip(text))}
	if thousandsComma.MatchString(text) {
		wrong.hint = "write 1000 for a thousand and 1.5 for one and a half"
	} else {
		wrong.hint = "write " + replaceDecimalCommas(clip(text))
	}
	return wrong
}

// replaceDecimalCommas turns each comma between two digits into a point.
func replaceDecimalCommas(text string) string {
	runes := []rune(text)
	for i := 1; i+1 < len(runes); i++ {
		if runes[i] == ',' && unicode.IsDigit(runes[i-1]) && unicode.IsDigit(runes[i+1]) {
			runes[i] = '.'
		}
	}
	return string(runes)
}

// formatMagnitude writes the shortest decimal that reads back to the same number.
func formatMagnitude(value float64) string {
	return strconv.FormatFloat(value+0, 'f', -1, 64)
}

// formatFraction writes halves, quarters, thirds and eighths with their own
// signs, where they are exact, and any other number as a decimal.
func formatFraction(value float64) string {
	whole := math.Floor(value)
	for _, f := range vulgarFractions {
		if value != whole+f.numerator/f.denominator {
			continue
		}
		if whole == 0 {
			return f.sign
		}
		return formatMagnitude(whole) + " " + f.sign
	}
	return formatMagnitude(value)
}

// clip shortens what was read to what a message can hold.
func clip(text string) string {
	const most = 60
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	return string(runes[:most]) + "…"
}
