package solver

import (
	"math"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// A lightened drink that is nudged keeps the strength it was lightened to, within
// what can be perceived, and Moved counts the pours that differ from the file.
func TestNudgingALightenedDrinkKeepsItsStrength(t *testing.T) {
	shelf := pantry.Embedded()
	spec := readSpec(t, "drink: Stirred\nmix:\n  dry gin: 30 ml\n  sweet vermouth: 30 ml\n  red bitter aperitif: 30 ml\n")
	for _, q := range []LightenQuestion{
		{Spec: spec, Shelf: shelf, Property: profile.Strength, Most: 18},
		{Spec: spec, Shelf: shelf, Property: profile.Ethanol, Most: 13},
	} {
		light, err := Lighten(q)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range []Nudge{{profile.Acid, 1}, {profile.Sugar, 1}, {profile.Bitter, -1}} {
			out, _, err := Nudged(NudgeQuestion{Spec: light.Spec, Shelf: shelf, Nudges: []Nudge{n}})
			if err != nil {
				t.Fatal(err)
			}
			j, _ := profile.Strength.JND()
			before, after := light.Profile[profile.Strength].Value, out.Profile[profile.Strength].Value
			if off := math.Abs(j.Level(after) - j.Level(before)); off >= profile.Perceptible {
				t.Errorf("%+v: strength goes from %v to %v %% vol", n, before, after)
			}
			for _, p := range out.Properties {
				if p.Property == profile.Strength && !p.Held {
					t.Errorf("%+v: strength is not held", n)
				}
			}
			differ := 0
			for i := range out.Pours {
				if out.Pours[i].AfterBase != out.Pours[i].BeforeBase {
					differ++
				}
			}
			if out.Moved != differ || !out.FromReference {
				t.Errorf("%+v: %d pours move, %d differ from the file; from a reference: %v", n, out.Moved, differ, out.FromReference)
			}
		}
	}
}
