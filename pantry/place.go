package pantry

import (
	"fmt"
	"slices"
	"strings"
)

// Place says where something stands in what was read.
type Place struct {
	// File is the name the person gave, "-" for standard input.
	File string
	// Line counts from 1; 0 means the whole file.
	Line int
	// Column counts characters from 1; 0 means the whole line.
	Column int
}

// String returns file:line:column without the parts that are not known.
func (p Place) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Column == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	default:
		return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
	}
}

// InputError is one thing wrong in what was read.
type InputError struct {
	Place Place
	// Message says what was read and what was expected.
	Message string
	// Text is the person's own line; empty where there is none to show.
	Text string
	// Hint says what to write instead; empty where there is nothing to add.
	Hint string
}

// widestLine is how many characters of a person's line are shown.
const widestLine = 100

// Error returns the place and the message, then the person's line with a mark
// under the column, then the hint.
func (e *InputError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s", e.Place, e.Message)
	if e.Text != "" {
		text, column := window(e.Text, e.Place.Column)
		b.WriteString("\n  " + text)
		if column > 0 {
			b.WriteString("\n  " + strings.Repeat(" ", column-1) + "^")
		}
	}
	if e.Hint != "" {
		b.WriteString("\nhint: " + e.Hint)
	}
	return b.String()
}

// window returns the part of a line that is worth showing around a column, and
// the column within that part. Control characters are shown as spaces.
func window(line string, column int) (string, int) {
	runes := []rune(strings.Map(func(r rune) rune {
		if isControl(r) {
			return ' '
		}
		return r
	}, strings.TrimRight(line, "\r\n")))
	if len(runes) <= widestLine {
		return string(runes), min(column, len(runes)+1)
	}
	start := min(max(0, column-widestLine/2), len(runes)-widestLine)
	shown := runes[start : start+widestLine]
	column -= start
	text := string(shown)
	if start > 0 {
		text, column = "…"+text, column+1
	}
	if start+widestLine < len(runes) {
		text += "…"
	}
	return text, min(column, len([]rune(text))+1)
}

// InputErrors is everything wrong in what was read.
type InputErrors []*InputError

// mostShown is how many errors are printed before the rest is only counted.
const mostShown = 10

// Error joins the first ten errors in the order of the file.
func (e InputErrors) Error() string {
	sorted := slices.Clone(e)
	slices.SortStableFunc(sorted, func(a, b *InputError) int {
		if byFile := strings.Compare(a.Place.File, b.Place.File); byFile != 0 {
			return byFile
		}
		if a.Place.Line != b.Place.Line {
			return a.Place.Line - b.Place.Line
		}
		return a.Place.Column - b.Place.Column
	})
	var lines []string
	for i, one := range sorted {
		if i == mostShown {
			lines = append(lines, fmt.Sprintf("and %d more", len(sorted)-mostShown))
			break
		}
		lines = append(lines, one.Error())
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns the single errors.
func (e InputErrors) Unwrap() []error {
	all := make([]error, len(e))
	for i, one := range e {
		all[i] = one
	}
	return all
}

// NameError says that no single ingredient goes by a name.
type NameError struct {
	// Name is what was asked for.
	Name string
	// Nearest are the names on the shelf that look most like it.
	Nearest []string
	// Hits are the ingredients that all go by the name; empty where there is none.
	Hits []string
}

// Error names what was asked for and what is near.
func (e *NameError) Error() string {
	switch {
	case len(e.Hits) > 0:
		return fmt.Sprintf("%q is the name of %d ingredients: %s", e.Name, len(e.Hits), strings.Join(e.Hits, "; "))
	case len(e.Nearest) > 0:
		return fmt.Sprintf("no ingredient %q on the shelf; nearest: %s", e.Name, strings.Join(e.Nearest, ", "))
	default:
		return fmt.Sprintf("no ingredient %q on the shelf; `minim pantry list` lists what is on it", e.Name)
	}
}
