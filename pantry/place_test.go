package pantry

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

func TestPlaceLeavesOutWhatIsNotKnown(t *testing.T) {
	for want, place := range map[string]Place{
		"bar.csv": {File: "bar.csv"}, "bar.csv:3": {File: "bar.csv", Line: 3}, "bar.csv:3:7": {File: "bar.csv", Line: 3, Column: 7},
	} {
		if got := place.String(); got != want {
			t.Errorf("place %q; want %q", got, want)
		}
	}
}

func TestInputErrorMarksTheColumnInTheLine(t *testing.T) {
	err := &InputError{Place: Place{"bar.csv", 2, 5}, Message: "this; expected that", Text: "é, x\t1", Hint: "write it so"}
	want := "bar.csv:2:5: this; expected that\n  é, x 1\n      ^\nhint: write it so"
	if err.Error() != want {
		t.Errorf("got\n%s\nwant\n%s", err, want)
	}
}

func TestInputErrorShowsThePartOfALongLineAroundTheColumn(t *testing.T) {
	line := strings.Repeat("a", 500) + "X" + strings.Repeat("b", 500)
	err := &InputError{Place: Place{"bar.csv", 1, 501}, Message: "m", Text: line}
	lines := strings.Split(err.Error(), "\n")
	text, mark := []rune(lines[1]), strings.IndexByte(lines[2], '^')
	if len(text) > widestLine+4 || text[mark] != 'X' {
		t.Errorf("the mark does not stand under the X:\n%s", err)
	}
}

func TestInputErrorsAreSortedAndCounted(t *testing.T) {
	var all InputErrors
	for line := 13; line > 0; line-- {
		all = append(all, &InputError{Place: Place{"bar.csv", line, 1}, Message: "wrong"})
	}
	lines := strings.Split(all.Error(), "\n")
	if len(lines) != 11 || lines[0] != "bar.csv:1:1: wrong" || lines[10] != "and 3 more" {
		t.Errorf("got\n%s", all)
	}
	var one *InputError
	if !errors.As(fmt.Errorf("reading: %w", all), &one) {
		t.Error("the single errors cannot be reached")
	}
}
