package solver

import (
	"math"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// Drinks of which a swap is asked.
const (
	highball   = "mix:\n  blended whisky: 45 ml\nice: build\ntop:\n  soda water: 150 ml\n"
	whiskySour = "mix:\n  blended whisky: 55 ml\n  lemon juice: 20 ml\n  rich syrup: 12.5 ml\n  aromatic bitters: 2 dashes\nice: shake\n"
	ginFizz    = "mix:\n  dry gin: 45 ml\n  lemon juice: 20 ml\n  rich syrup: 15 ml\nice: shake\ntop:\n  soda water: 60 ml\n"
)

// Nothing of a sweet mixer can be put right without leaving the highball: it is
// poured one for one.
func TestASweetMixerIsPouredAsTheSodaWas(t *testing.T) {
	for _, mixer := range []string{"tonic water", "ginger beer", "cola"} {
		out := rebalanced(t, RebalanceQuestion{Spec: readSpec(t, highball), Shelf: pantry.Embedded(), Swaps: []Swap{{"soda water", mixer}}})
		for _, p := range out.Pours {
			if want := map[string]float64{"blended whisky": 45, mixer: 150}[p.Name]; p.AfterBase != want {
				t.Errorf("%s: %g ml of %s, expected %g", mixer, p.AfterBase, p.Name, want)
			}
		}
	}
}

func TestACorrectionSpendsNothingThatTheSwapLeavesUnnoticed(t *testing.T) {
	for _, c := range []struct{ drink, out, in string }{
		{highball, "soda water", "brut sparkling wine"},
		{ginFizz, "soda water", "brut sparkling wine"},
		{ginFizz, "soda water", "tonic water"},
		{whiskySour, "lemon juice", "grapefruit juice"},
		{whiskySour, "blended whisky", "rye whiskey"},
		{ginFizz, "dry gin", "fino sherry"},
	} {
		out := rebalanced(t, RebalanceQuestion{Spec: readSpec(t, c.drink), Shelf: pantry.Embedded(), Swaps: []Swap{{c.out, c.in}}})
		before, after := 0.0, 0.0
		for _, p := range out.Properties {
			if !p.Held || !p.HasJND {
				continue
			}
			before += p.AloneJND * p.AloneJND
			after += p.AfterJND * p.AfterJND
			if most := math.Max(math.Abs(p.AloneJND), profile.Perceptible); math.Abs(p.AfterJND) > most+1e-9 {
				t.Errorf("%s for %s: %s goes from %.2f JND off to %.2f", c.in, c.out, p.Property.Name(), p.AloneJND, p.AfterJND)
			}
		}
		if after > before*(1+1e-9) {
			t.Errorf("%s for %s: %.2f JND off in all, by itself %.2f", c.in, c.out, math.Sqrt(after), math.Sqrt(before))
		}
		if len(out.Far) > 0 {
			t.Errorf("%s for %s is another drink: %v", c.in, c.out, out.Far)
		}
	}
}

// 80 and 120 % of the original: common practice, no source.
func TestAReleasedVolumeStaysAboutTheServeItWas(t *testing.T) {
	for _, drink := range []string{whiskySour, ginFizz, "glass: 190 ml\n" + ginFizz} {
		spec := readSpec(t, drink)
		base := spec.Mix[0].Name
		out := rebalanced(t, RebalanceQuestion{Spec: spec, Shelf: pantry.Embedded(), Swaps: []Swap{{base, "rye whiskey"}}, Ignore: []profile.Property{profile.Volume}})
		was, is := out.Original.Profile[profile.Volume].Value, out.Profile[profile.Volume].Value
		if is < 0.8*was-1e-6 || is > 1.2*was+1e-6 || spec.Glass > 0 && is > float64(spec.Glass)+1e-6 {
			t.Errorf("rye for %s: %.0f ml, it was %.0f in a glass of %g", base, is, was, spec.Glass)
		}
	}
}
