package solver

import (
	"math"
	"strings"
	"testing"

	"minim/profile"
)

const sour = `
mix:
  gin: 50 ml
  lemon juice: open
  simple syrup: open
  water: optional
target:
  volume: 100 ml
  sugar: 90 g/L
  %
ice: none
`

// A limit on pH holds, and costs no more acid than it needs: the drink stands
// at it where less juice would be poured without it.
func TestPHAsALimit(t *testing.T) {
	free := ask(t, strings.Replace(sour, "%", "acid: 1 g/L, weight 0.5", 1))
	held := ask(t, strings.Replace(sour, "%", "acid: 1 g/L, weight 0.5\n  ph: at most 2.6", 1))
	if before := free.Profile[profile.PH].Value; before <= 2.6 {
		t.Fatalf("without the limit pH %.3f; want above 2.6", before)
	}
	if got := held.Profile[profile.PH].Value; got > 2.6+1e-9 || got < 2.5 {
		t.Errorf("pH %.3f; want 2.6 at most, and near it", got)
	}
	if len(held.Broken) > 0 {
		t.Errorf("broken: %+v", held.Broken)
	}
	if free, held := amounts(free.Pours)["lemon juice"], amounts(held.Pours)["lemon juice"]; held <= free {
		t.Errorf("%g ml of juice with the limit, %g without", held, free)
	}
}

// A limit that a sour keeps as it is usually mixed.
func TestASourKeepsAnEasyLimitOnPH(t *testing.T) {
	a := ask(t, strings.Replace(sour, "%", "acid: 9 g/L\n  ph: at most 3.4", 1))
	if got := a.Profile[profile.PH].Value; got > 3.4 || got < 2.3 {
		t.Errorf("pH %.3f; want above that of lemon juice, 2.3, and 3.4 at most", got)
	}
	near(t, "acid", a.Profile[profile.Acid].Value, 9, 1)
	if len(a.Broken) > 0 || !a.Solution.Proven {
		t.Errorf("broken %+v, proven %v", a.Broken, a.Solution.Proven)
	}
}

func TestPHAsAnAim(t *testing.T) {
	a := ask(t, strings.Replace(sour, "%", "ph: 2.7 ± 0.1", 1))
	near(t, "pH", a.Profile[profile.PH].Value, 2.7, 0.03)
	for i := range a.Misses {
		if m := &a.Misses[i]; m.Property == profile.PH && (m.HasJND || math.Abs(m.Off) > 0.03) {
			t.Errorf("miss %+v", m)
		}
	}
}

// Nothing here reaches pH 1.5: lemon juice alone has 2.3.
func TestPHOutOfReachIsSaid(t *testing.T) {
	a := ask(t, strings.Replace(sour, "%", "ph: at most 1.5", 1))
	if len(a.Broken) != 1 || !strings.HasPrefix(a.Broken[0].Written, "ph at most 1.5") {
		t.Errorf("broken: %+v; want ph", a.Broken)
	}
}
