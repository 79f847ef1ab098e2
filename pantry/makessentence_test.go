package pantry

import (
	"strings"
	"testing"
)

// Every kind of step in every measure that a spec can write.
func TestStepsAreSentencesThatABarReads(t *testing.T) {
	for _, c := range []struct{ written, want string }{
		{"reduce: to 500 ml", "Simmer it down to 500 ml, measured at 20 °C."},
		{"reduce: to 650 g", "Simmer it down to 650 g."},
		{"reduce: to 45 °Bx", "Simmer it down to 45 °Bx, read at 20 °C."},
		{"steep: {black tea: 12 g}", "Steep 12 g black tea in it, then strain."},
		{"steep: {black tea: 12 g, for: 12 hours, at: 20 °C}", "Steep 12 g black tea in it for 12 hours at 20 °C, then strain."},
		{"steep: {black tea: 12 g, for: 1 hour, half in: 10 min, keeps back: 2 ml/g, gives: {malic: 90 mg/g ± 20}}", "Steep 12 g black tea in it for 1 hour, then strain."},
		{"strain: loses 40 ml", "Strain it; about 40 ml stay behind."},
		{"strain: loses 5 %", "Strain it; about 5 % of it stays behind."},
		{"clarify", "Clarify it; about 10 % of it stays behind."},
		{"clarify: loses 25 ml", "Clarify it; about 25 ml stay behind."},
		{"dilute: to 1 l", "Fill it up with water to 1000 ml."},
		{"dilute: with 200 ml", "Add 200 ml water."},
		{"carbonate: 4 volumes", "Carbonate it to 4 volumes of carbon dioxide."},
		{"carbonate: 8 g/L", "Carbonate it to 8 g/L of carbon dioxide."},
	} {
		spec, err := ReadSpec(strings.NewReader("drink: Base\nmix:\n  water: 900 ml\n  sugar: 300 g\nmakes: {volume: 1 l}\nsteps:\n  - "+c.written+"\n"), "base.yaml")
		if err != nil {
			t.Errorf("%s: %v", c.written, err)
			continue
		}
		if got := spec.Steps[0].Sentence(); got != c.want {
			t.Errorf("%s: %q, want %q", c.written, got, c.want)
		}
		if steps := spec.BuildingSteps(); steps[1] != c.want {
			t.Errorf("%s: built as %q, want %q", c.written, steps[1], c.want)
		}
	}
}
