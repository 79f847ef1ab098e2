package pantry

import (
	"math"
	"regexp"
	"slices"
	"strings"
)

// thousandsThenPoint is a number with commas between thousands and a point.
var thousandsThenPoint = regexp.MustCompile(`^[+-]?\d{1,3}(,\d{3})+\.\d+$`)

// unknownForCertain are words of an empty cell; a dash, a trace or none may be
// a zero.
var unknownForCertain = []string{"n/a", "na", "n.a.", "?", "unknown", "#n/a", "tbd"}

// cell cleans one cell of a row.
func (c *cleaner) cell(n int, column cleanColumn, cell string) string {
	f := &fields[column.field]
	read := cleanText(cell)
	text := read
	switch {
	case read == "":
	case f.number:
		text = c.number(n, column, read)
	default:
		text = guard(c.word(f, cleanText(unguard(read))))
	}
	if text != read && text != guard(unguard(read)) {
		became := text
		if became == "" {
			became = "empty, unknown"
		}
		c.change(c.reader.place(n), "%s %q becomes %s", f.heading, read, became)
	}
	return text
}

// number cleans a number: its decimal mark, its unit, the heading's unit, and
// words for unknown.
func (c *cleaner) number(n int, column cleanColumn, text string) string {
	heading := fields[column.field].heading
	lower := strings.ToLower(text)
	if slices.Contains(unknownForCertain, lower) {
		return ""
	}
	factor := column.factor
	number := text
	if parts := withUnitAndComma.FindStringSubmatch(text); parts != nil {
		own, known := unitFactors[unitOf(heading)][plainUnit(parts[2])]
		if !known {
			return text // the reader says what is wrong with it
		}
		number, factor = strings.TrimSpace(parts[1]), own
	}
	switch {
	case thousandsThenPoint.MatchString(number):
		number = strings.ReplaceAll(number, ",", "")
	case decimalComma.MatchString(number) && (c.reader.csv.Comma != ',' || !looksLikeThousands.MatchString(number)):
		number = strings.Replace(number, ",", ".", 1)
	}
	v, wrong := parseNumber(number)
	if wrong.message != "" {
		return text
	}
	if factor == 0 {
		c.reader.refuse(c.reader.place(n), "write the unit into the heading, such as "+heading,
			"%s %q without a unit, and its heading has none; expected one in either", heading, text)
		return text
	}
	if factor == 1 {
		return strings.TrimPrefix(number, "+")
	}
	// The product of two decimal numbers has no more digits than these.
	return formatNumber(roundDigits(v*factor, 12))
}

var (
	withUnitAndComma   = regexp.MustCompile(`^([+-]?[\d.,]+)\s*([%\pL].*)$`)
	looksLikeThousands = regexp.MustCompile(`^[+-]?[1-9]\d{0,2},\d{3}$`)
)

// roundDigits rounds to so many significant digits.
func roundDigits(v float64, digits int) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	scale := math.Pow(10, float64(digits)-1-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*scale) / scale
}

// Words for yes and no, and signs of currencies that only one has.
var (
	yesWords   = []string{"y", "yes", "true", "x", "✓", "✔"}
	noWords    = []string{"n", "no", "false"}
	currencies = map[string]string{"€": "EUR", "£": "GBP", "₹": "INR", "euro": "EUR", "euros": "EUR"}
)

// word cleans a word that the pantry writes in one way alone.
func (c *cleaner) word(f *field, text string) string {
	lower := strings.ToLower(text)
	switch f.heading {
	case "vegan", "stock":
		switch {
		case slices.Contains(yesWords, lower):
			return Yes.String()
		case slices.Contains(noWords, lower):
			return No.String()
		case slices.Contains(unknownForCertain, lower):
			return ""
		}
	case "state", "confidence", "basis":
		return lower
	case "currency":
		if code, ok := currencies[lower]; ok {
			return code
		}
		return strings.ToUpper(text)
	}
	return text
}
