package pantry

import "testing"

func TestStepIsReadAndWritten(t *testing.T) {
	liquid := &Ingredient{Piece: 30}
	dasher := &Ingredient{DashMillilitres: 0.8}
	solid := &Ingredient{Solid: true, Piece: 4}
	// Drops of 0.05 and dashes of 0.92 ml: common practice, no source.
	for _, c := range []struct {
		of      *Ingredient
		text    string
		want    Step
		written string
	}{
		{liquid, "0.25 ml", Step{0.25, ""}, "0.25 ml"},
		{liquid, "1 dash", Step{0.92, "dash"}, "1 dash"},
		{liquid, "2 dashes", Step{1.84, "dash"}, "2 dash"},
		{dasher, "0.5 dash", Step{0.4, "dash"}, "0.5 dash"},
		{liquid, "2 drops", Step{0.1, "drop"}, "2 drop"},
		{liquid, "1 piece", Step{30, "piece"}, "1 piece"},
		{solid, "0.1 g", Step{0.1, ""}, "0.1 g"},
		{solid, "2 pieces", Step{8, "piece"}, "2 piece"},
	} {
		got, err := c.of.parseStep(c.text)
		if err != nil || got != c.want {
			t.Errorf("%q is %v, %v; want %v", c.text, got, err, c.want)
			continue
		}
		c.of.Step = got
		if written := c.of.stepText(); written != c.written {
			t.Errorf("%q is written %q; want %q", c.text, written, c.written)
		}
	}
	for _, wrong := range []string{"", "1", "ml", "one dash", "1,5 ml", "-1 ml", "0 ml", "1 g", "1 oz", "NaN ml", "1e9 ml", "1 ml ml"} {
		if got, err := liquid.parseStep(wrong); err == nil {
			t.Errorf("%q is read as %v", wrong, got)
		}
	}
	if got, err := solid.parseStep("1 dash"); err == nil {
		t.Errorf("a dash of a solid is read as %v", got)
	}
}
