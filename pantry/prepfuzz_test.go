package pantry

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// Whatever a prep's file says, it makes a liquid with finite figures or the person
// is told what is wrong.
func FuzzPrepOfAnyText(f *testing.F) {
	f.Add(cordial)
	f.Add("mix:\n  vodka: 500 ml\n  honey syrup: open\nsteps:\n  - reduce: to 40 °Bx\n  - clarify\nmakes: {volume: 300 ml}\n")
	f.Add("mix:\n  red wine: 750 ml at 60 °C\n  citric acid: optional at most 20 g\nsteps:\n  - carbonate: 8 g/L\n  - dilute: with 1 ml\nmakes: {volume: 1 l, store: freezer}\n")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ReadSpec(strings.NewReader(text), "p.yaml")
		if err != nil || s.Makes == nil {
			t.Skip()
		}
		_, p, err := Embedded().WithPrep(s)
		var wrong InputErrors
		if err != nil {
			if !errors.As(err, &wrong) {
				t.Errorf("%q: %v has no place", text, err)
			}
			return
		}
		for c, v := range p.Ingredient.PerUnit() {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%q: component %d is %v", text, c, v)
			}
		}
		if v := float64(p.Yield); !(v > 0) || math.IsInf(v, 0) {
			t.Errorf("%q yields %v ml", text, v)
		}
	})
}
