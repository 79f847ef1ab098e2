package pantry

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	bothMarks     = regexp.MustCompile(`^[+-]?[\d.,]*(\d\.\d[\d.]*,\d|\d,\d[\d,]*\.\d)[\d.,]*$`)
	decimalComma  = regexp.MustCompile(`^[+-]?\d*,\d+$`)
	withUnit      = regexp.MustCompile(`^([+-]?(?:\d+\.?\d*|\.\d+))\s*([%°\pL].*)$`)
	ratioOrTime   = regexp.MustCompile(`^\d+[:/]\d+(:\d+)?$`)
	belowOrAbove  = regexp.MustCompile(`^[<>≤≥~≈]`)
	rangeOfValues = regexp.MustCompile(`^[\d.,]+\s*(-|–|\.\.|to)\s*[\d.,]+$`)
	unknownWords  = []string{"-", "–", "n/a", "na", "n.a.", "?", "unknown", "trace", "tr", "none", "nil"}
)

// wrongCell says what is wrong with what a cell holds, after its text;
// the zero value says nothing is.
type wrongCell struct{ message, hint string }

// parseNumber reads a bare number with a decimal point.
func parseNumber(text string) (float64, wrongCell) {
	lower := strings.ToLower(strings.TrimLeft(text, "+-"))
	switch {
	case isPlainNumber(text):
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsInf(v, 0) {
			return 0, wrongCell{"is too large; expected a number", ""}
		}
		return v + 0, wrongCell{} // + 0 turns -0 into 0
	case bothMarks.MatchString(text):
		return 0, wrongCell{"has a point and a comma; expected a decimal mark alone", "leave out the mark that parts thousands"}
	case decimalComma.MatchString(text):
		return 0, wrongCell{
			"has a decimal comma; expected a decimal point",
			"write " + strings.Replace(text, ",", ".", 1) + ", or the number without a comma if it parts thousands",
		}
	case lower == "nan" || lower == "inf" || lower == "infinity" || lower == "∞":
		return 0, wrongCell{"is not a quantity; expected a number", "leave the cell empty where the figure is unknown"}
	case lower == "" || containsWord(unknownWords, lower):
		return 0, wrongCell{
			"is no number; expected a number",
			"leave the cell empty where the figure is unknown, write 0 where there is none",
		}
	case withUnit.MatchString(text):
		parts := withUnit.FindStringSubmatch(text)
		return 0, wrongCell{
			"has a unit; expected a bare number",
			"the unit stands in the heading: write " + parts[1] + " if that is in the heading's unit",
		}
	case ratioOrTime.MatchString(text):
		return 0, wrongCell{"is a ratio or a time; expected a number", "spreadsheets turn 1:1 into a time: format the column as numbers"}
	case belowOrAbove.MatchString(text):
		return 0, wrongCell{"is a limit; expected a number", "write a figure and its ± in the column named with _pm"}
	case rangeOfValues.MatchString(text):
		return 0, wrongCell{"is a range; expected one number", "write the middle, and half the range in the column named with _pm"}
	default:
		return 0, wrongCell{"is no number; expected a number", "leave the cell empty where the figure is unknown"}
	}
}

// isPlainNumber tells whether text is digits with at most one decimal point, a
// sign before them and an exponent of up to three digits after them.
func isPlainNumber(text string) bool {
	text = strings.TrimLeft(text[:min(1, len(text))], "+-") + text[min(1, len(text)):]
	mantissa, exponent := text, ""
	if n := strings.IndexAny(text, "eE"); n >= 0 {
		mantissa, exponent = text[:n], text[n+1:]
		if exponent != "" && (exponent[0] == '+' || exponent[0] == '-') {
			exponent = exponent[1:]
		}
		if len(exponent) > 3 || !digits(exponent) {
			return false
		}
	}
	whole, part, _ := strings.Cut(mantissa, ".")
	return (whole == "" || digits(whole)) && (part == "" || digits(part)) && whole+part != ""
}

// digits tells whether text is digits alone, and one at least.
func digits(text string) bool {
	for n := range len(text) {
		if text[n] < '0' || text[n] > '9' {
			return false
		}
	}
	return text != ""
}

func containsWord(words []string, word string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}

// formatNumber writes v so that parseNumber gives it back exactly.
func formatNumber(v float64) string {
	if v == 0 {
		return "0"
	}
	if size := math.Abs(v); size < 1e-6 || size >= 1e15 {
		return strconv.FormatFloat(v, 'e', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
