package profile

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawCurve draws points with rising x and any y.
func drawCurve(t *rapid.T) curve {
	n := rapid.IntRange(2, 8).Draw(t, "points")
	x, y := make([]float64, n), make([]float64, n)
	for i := range x {
		x[i] = rapid.Float64Range(0.05, 2).Draw(t, "step")
		if i > 0 {
			x[i] += x[i-1]
		}
		y[i] = rapid.Float64Range(-10, 10).Draw(t, "height")
	}
	return newCurve(x, y)
}

func TestCurvePassesThroughItsPointsSmoothly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t)
		for i := range c.x {
			value, slope := c.at(c.x[i])
			if !alike(value, c.y[i], 1e-12) {
				t.Errorf("%g at %g, want %g", value, c.x[i], c.y[i])
			}
			const near = 1e-9
			valueBelow, below := c.at(c.x[i] - near)
			valueAbove, above := c.at(c.x[i] + near)
			steepest := 0.0
			for j := range len(c.x) - 1 {
				steepest = max(steepest, math.Abs((c.y[j+1]-c.y[j])/(c.x[j+1]-c.x[j])))
			}
			if math.Abs(valueAbove-valueBelow) > 1e-8*(1+steepest) || math.Abs(above-below) > 1e-6*(1+steepest) {
				t.Errorf("at %g: values %g and %g, slopes %g and %g", c.x[i], valueBelow, valueAbove, below, above)
			}
			if !alike(slope, c.slope[i], 1e-9) {
				t.Errorf("slope %g at %g, want %g", slope, c.x[i], c.slope[i])
			}
		}
	})
}

func TestCurveStaysBetweenItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t)
		i := rapid.IntRange(0, len(c.x)-2).Draw(t, "interval")
		part := rapid.Float64Range(0, 1).Draw(t, "part")
		next := rapid.Float64Range(part, 1).Draw(t, "next part")
		width := c.x[i+1] - c.x[i]
		one, slope := c.at(c.x[i] + part*width)
		other, _ := c.at(c.x[i] + next*width)
		low, high := min(c.y[i], c.y[i+1]), max(c.y[i], c.y[i+1])
		if one < low-1e-12 || one > high+1e-12 {
			t.Errorf("%g is not between %g and %g", one, low, high)
		}
		if rise := c.y[i+1] - c.y[i]; (other-one)*rise < -1e-12 || slope*rise < -1e-9 {
			t.Errorf("goes from %g to %g with slope %g while the points rise by %g", one, other, slope, rise)
		}
	})
}

func TestCurveOfThreePoints(t *testing.T) {
	c := newCurve([]float64{0, 1, 3}, []float64{0, 2, 3})
	for _, p := range []struct{ x, value, slope float64 }{{-2, -4, 2}, {5, 4, 0.5}} {
		value, slope := c.at(p.x)
		if !alike(value, p.value, 1e-15) || !alike(slope, p.slope, 1e-15) {
			t.Errorf("at %g: %g with slope %g, want %g and %g", p.x, value, slope, p.value, p.slope)
		}
	}
	// By hand: secants 2 and 1/2, α = (1 + 2·2)/(3·3), slope 1/(α/2 + 2(1-α)).
	if _, slope := c.at(1); !alike(slope, 6.0/7, 1e-15) {
		t.Errorf("slope at the middle point %g, want 6/7", slope)
	}
	if value, _ := c.at(math.NaN()); !math.IsNaN(value) {
		t.Errorf("at no number: %g", value)
	}
}

func TestFreezingPointFallsWithStrength(t *testing.T) {
	if !slices.IsSorted(freezingOfEthanol.x) || !slices.IsSorted(freezingOfEthanol.y) {
		t.Fatal("the table does not rise")
	}
	last := 1.0
	for p := 0.0; p <= 100; p += 0.25 {
		freezing := float64(byMass(100, p).FreezingPoint())
		if freezing >= last {
			t.Fatalf("%g %% by mass freezes at %g °C, not below %g", p, freezing, last)
		}
		last = freezing
	}
}
