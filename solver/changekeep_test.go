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

// A limit that the drink broke as it was written costs nothing in a swap that
// nobody can taste: no pour moves, to keep it or to come no further from it.
func TestAnUnnoticedSwapMovesNothingForALimitThatWasBroken(t *testing.T) {
	const sour = "mix:\n  white rum: 50 ml\n  lemon juice: 25 ml\n  rich syrup: 15 ml\n  saline: 2 drops\nice: shake\n"
	for _, limit := range []string{"abv: at most 14 %", "salt: at most 0.1 g/L", "acid: at least 9.5 g/L", "ethanol: at most 15 g", "energy: at most 100 kcal", "volume: at least 150 ml"} {
		for _, s := range []Swap{{"lemon juice", "lime juice"}, {"white rum", "dry gin"}} {
			out := rebalanced(t, RebalanceQuestion{Spec: readSpec(t, sour+"target:\n  "+limit+"\n"), Shelf: pantry.Embedded(), Swaps: []Swap{s}})
			if len(out.BrokenBefore) != 1 {
				t.Errorf("%s: %q broken before, expected it alone", limit, out.BrokenBefore)
			}
			was := map[string]float64{}
			for _, p := range out.Pours {
				was[p.Name] = p.BeforeBase
			}
			was[s.In] = was[s.Out]
			for _, p := range out.Pours {
				if p.After != nil && p.AfterBase != was[p.Name] {
					t.Errorf("%s for %s, %s: %g of %s, it was %g", s.In, s.Out, limit, p.AfterBase, p.Name, was[p.Name])
				}
			}
		}
	}
}
