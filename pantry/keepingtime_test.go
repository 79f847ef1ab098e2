package pantry

import (
	"math"
	"strings"
	"testing"
)

func TestKeepingTimeIsReadOutOfItsWords(t *testing.T) {
	for text, want := range map[string]float64{
		"":                               -1,
		"closed and dark":                -1,
		"best within a day, 3 days cold": 3,
		"the same day once opened":       1,
		"the same hour":                  1.0 / 24,
		"1 week cold once opened; common practice, no source": 7,
		"6 Months closed":     180,
		"2 years":             730,
		"1.5 days":            1.5,
		"one week":            7,
		"a birthday":          -1,
		"3 days; 2 days warm": 3,
	} {
		i := Ingredient{Keeps: text}
		days, ok := i.KeepingDays()
		if !ok {
			days = -1
		}
		if math.Abs(days-want) > 1e-12 {
			t.Errorf("%q keeps %g days, want %g", text, days, want)
		}
	}
}

// Whatever the pantry says of keeping is understood.
func TestEveryKeepingTimeOfThePantryIsUnderstood(t *testing.T) {
	for _, i := range Embedded().All() {
		if _, ok := i.KeepingDays(); !ok && strings.TrimSpace(i.Keeps) != "" {
			t.Errorf("%s: no time in %q", i.Name, i.Keeps)
		}
	}
}
