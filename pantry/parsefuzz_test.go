package pantry

import (
	"math"
	"strconv"
	"testing"

	"minim/profile"
)

// Whatever is given as a target, it is read or refused, and what is read is
// written as a target that reads back as itself.
func FuzzParseTarget(f *testing.F) {
	for _, text := range []string{
		"18 %", "65..70 g/L", "at most 15 mg/L", "at least 2 g/L, at most 3 g/L", "6.5 g/L ± 0.3", "6.5 g/L, weight 2", "6..7 g/L +/- 0.5, at most 7 g/L",
		"6.5 g/L +- 300 mg/L", ">= 9 %", "6,5 g/L", "20..10 %", "NaN", "-5 °C", "2.5 volumes", "1e300 g/L", "weight weight", "..", "± 1", "\xff %", "¾ oz",
	} {
		for p := range profile.Property(profile.Properties) {
			f.Add(text, uint8(p))
		}
	}
	f.Fuzz(func(t *testing.T, text string, n uint8) {
		p := profile.Property(int(n) % profile.Properties)
		target, err := ParseTarget(text, p)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error that says nothing")
			}
			return
		}
		back, err := ParseTarget(target.text(), p)
		if err != nil {
			t.Fatalf("%q on %s is read as %+v, written %q and refused: %v", text, p.Name(), target, target.text(), err)
		}
		if back.text() != target.text() {
			t.Fatalf("%q on %s is written %q and then %q", text, p.Name(), target.text(), back.text())
		}
	})
}

// Whatever is typed as a reading is refused or a finite number, and one that is
// written with its ± in the base unit reads back as the same two numbers.
func FuzzParseQuantity(f *testing.F) {
	units := []Quantities{Masses, Volumes, Temperatures, Strengths, BrixDegrees, Densities, PerLitres, Milligrams, Molarities, Times, Parts, Counts}
	for _, text := range []string{
		"1.062 ± 0.001", "0.7 l", "500g", "20 °C", "44.7 % vol", "29.4 °Bx", "0.1 mol/l", "12h", "2,5 ml", "-0", "1e999", "1e-999", "± 1", "1 ± 0",
		"1 ± 1e-320", "5 kg ± 1 g", "٣ ml", "1 ml ± 2 ± 3", "\xff", "", "1e308 kg",
	} {
		for n := range units {
			f.Add(text, uint8(n))
		}
	}
	finite := func(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
	f.Fuzz(func(t *testing.T, text string, n uint8) {
		own := units[int(n)%len(units)]
		ByVolume(text)
		value, spread, err := ParseQuantity(text, own)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error that says nothing")
			}
			return
		}
		if !finite(value) || !finite(spread) || spread < 0 {
			t.Fatalf("%q is read as %g ± %g", text, value, spread)
		}
		again := strconv.FormatFloat(value, 'g', -1, 64)
		if spread > 0 {
			again += " ± " + strconv.FormatFloat(spread, 'g', -1, 64)
		}
		if v, s, err := ParseQuantity(again, own); err != nil || v != value || s != spread {
			t.Fatalf("%q is read as %g ± %g, and %q as %g ± %g, %v", text, value, spread, again, v, s, err)
		}
	})
}

// Whatever is given as a condition, it is refused or compares with a finite
// number, and written out it reads back as itself.
func FuzzParseCondition(f *testing.F) {
	for _, text := range []string{"acid>=20", "abv ≤ 15 %", "sugar<1e3", "ph=3,2", "acid>NaN", "aсid>1", "abv>", ">5", "abv==5", "\xffabv>5", "cost>=1e309"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParseCondition(text)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error that says nothing")
			}
			return
		}
		if math.IsNaN(c.Value) || math.IsInf(c.Value, 0) {
			t.Fatalf("%q compares with %g", text, c.Value)
		}
		again := c.Property + c.Sign + strconv.FormatFloat(c.Value, 'g', -1, 64)
		if back, err := ParseCondition(again); err != nil || back != c {
			t.Fatalf("%q is read as %+v, and %q as %+v, %v", text, c, again, back, err)
		}
	})
}
