package main

import (
	"strings"
	"testing"

	"minim/profile"
	"minim/solver"
)

// A quarter more or less is told: 12 g to 15 g is a quarter more, 12.4 g to
// 15.5 g too, and 14.9 g is less than that.
func TestAQuarterMoreOrLessEthanolIsTold(t *testing.T) {
	for _, c := range []struct {
		before, after float64
		told          string
	}{
		{12, 15, "25 % more"},
		{12.4, 15.5, "25 % more"},
		{12, 9, "25 % less"},
		{0.3, 0.1 + 0.275, "25 % more"},
		{12, 14.9, ""},
		{12, 9.1, ""},
		{12, 12, ""},
	} {
		changed := solver.Changed{Answer: &solver.Answer{}, Original: &solver.Answer{}}
		changed.Original.Profile[profile.Ethanol].Value = c.before
		changed.Profile[profile.Ethanol].Value = c.after
		got := strings.Join(ethanolSentence(&changed), " ")
		if (got != "") != (c.told != "") || !strings.Contains(got, c.told) {
			t.Errorf("%v to %v g: %q, want %q", c.before, c.after, got, c.told)
		}
	}
}
