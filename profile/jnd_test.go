package profile

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// laws are the JND laws of the package and the two that take its branches.
func laws() []JND {
	all := []JND{{Threshold: 2}, {Threshold: 0.5, WeberFraction: 0.3}}
	for p := range Property(Properties) {
		if j, ok := p.JND(); ok {
			all = append(all, j)
		}
	}
	return all
}

func TestLevelAndAtUndoEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := rapid.SampledFrom(laws()).Draw(t, "law")
		c := rapid.Float64Range(0, 500).Draw(t, "level")
		if back := j.At(j.Level(c)); !alike(back, c, 1e-12) {
			t.Errorf("%+v: %g becomes %g", j, c, back)
		}
		n := rapid.Float64Range(-30, 30).Draw(t, "place")
		if back := j.Level(j.At(n)); !alike(back, n, 1e-12) {
			t.Errorf("%+v: place %g becomes %g", j, n, back)
		}
		if sum := j.Level(c) + j.Level(-c); sum != 0 {
			t.Errorf("%+v: levels of %g and its negative add up to %g", j, c, sum)
		}
	})
}

// One unit of Level is one JND, so its slope is 1/Size.
func TestSizeIsTheSlopeOfLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := rapid.SampledFrom(laws()).Draw(t, "law")
		c := rapid.Float64Range(0, 500).Draw(t, "level")
		step := 1e-4 * j.Size(c)
		slope := (j.Level(c+step) - j.Level(c-step)) / (2 * step)
		if !alike(slope*j.Size(c), 1, 1e-6) {
			t.Errorf("%+v at %g: slope %g, size %g", j, c, slope, j.Size(c))
		}
	})
}

func TestSizeIsThresholdThenWeber(t *testing.T) {
	for _, j := range laws() {
		if j.Size(0) != j.Threshold {
			t.Errorf("%+v: size at nothing %g", j, j.Size(0))
		}
		const far = 1e9
		if got := j.Size(far) / far; math.Abs(got-j.WeberFraction) > 1e-8 {
			t.Errorf("%+v: size far out is %g of the level", j, got)
		}
	}
}

func TestNoticedWords(t *testing.T) {
	for _, c := range []struct {
		miss float64
		want string
	}{
		{0, "not noticed"},
		{0.499, "not noticed"},
		{Perceptible, "borderline"},
		{0.999, "borderline"},
		{1 - 1e-5, "noticeable side by side"},
		{1, "noticeable side by side"},
		{1.999, "noticeable side by side"},
		{2 - 1e-5, "plain"},
		{2, "plain"},
		{40, "plain"},
	} {
		if got := Noticed(c.miss); got != c.want {
			t.Errorf("%g JND above: %q, want %q", c.miss, got, c.want)
		}
		if got := Noticed(-c.miss); got != c.want {
			t.Errorf("%g JND below: %q, want %q", c.miss, got, c.want)
		}
	}
}

// A level that is one step or two from one that is written to six figures is
// called the same above and below.
func TestAWholeStepHasOneWord(t *testing.T) {
	sixFigures := func(v float64) float64 {
		out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	rapid.Check(t, func(t *rapid.T) {
		j := rapid.SampledFrom(laws()).Draw(t, "law")
		level := rapid.Float64Range(0.01, 90).Draw(t, "level")
		for n, word := range map[float64]string{1: "noticeable side by side", 2: "plain"} {
			up, down := sixFigures(j.At(j.Level(sixFigures(level))+n)), sixFigures(j.At(j.Level(sixFigures(level))-n))
			for _, wanted := range []float64{up, down} {
				if got := Noticed(j.Level(level) - j.Level(wanted)); got != word {
					t.Errorf("%+v at %g, %g wanted: %q, not %q", j, level, wanted, got, word)
				}
			}
		}
	})
}
