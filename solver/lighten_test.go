package solver

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// finishedDrinks are drinks with all amounts written: those of the bar and some in
// the proportions of common recipes, from memory.
func finishedDrinks(t testing.TB) map[string]*pantry.Spec {
	t.Helper()
	drinks := map[string]*pantry.Spec{
		"sour":     readSpec(t, "mix:\n  dry gin: 50 ml\n  lemon juice: 25 ml\n  rich syrup: 15 ml\n  egg white: 1 piece\nice: shake\n"),
		"bitter":   readSpec(t, "mix:\n  dry gin: 30 ml\n  sweet vermouth: 30 ml\n  red bitter aperitif 25 %: 30 ml\nice: stir\n"),
		"highball": readSpec(t, "mix:\n  vodka: 40 ml\n  lime juice: 10 ml\nice: build\ntop:\n  ginger beer: 120 ml\n"),
	}
	for _, name := range []string{"morning-tide", "high-water"} {
		text, err := os.ReadFile(filepath.Join("..", "examples", name+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		spec, err := pantry.ReadSpec(bytes.NewReader(text), name+".yaml")
		if err != nil {
			t.Fatal(err)
		}
		drinks[name] = spec
	}
	return drinks
}

func lightened(t testing.TB, spec *pantry.Spec, most float64) *Lightened {
	t.Helper()
	l, err := Lighten(LightenQuestion{Spec: spec, Shelf: pantry.Embedded(), Property: profile.Strength, Most: most})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// falls tells what is wrong with the points of a frontier: a lower strength has a
// miss no smaller, keeps its limit, and the ends are the original and no alcohol.
func falls(f *Frontier, drink string) string {
	first, last := f.Points[0], f.Points[len(f.Points)-1]
	if !slices.EqualFunc(first.Pours, f.Original.Pours, func(a, b PouredAmount) bool { return a.Ingredient == b.Ingredient && a.Base == b.Base }) || first.LeastJND != 0 {
		return drink + ": the first point is not the original"
	}
	for _, p := range last.Pours {
		if p.Ingredient.PerUnit()[profile.EthanolGrams] != 0 {
			return drink + ": without alcohol there is still " + p.Name
		}
	}
	for i, p := range f.Points {
		if got := p.Profile[profile.Strength].Value; got > p.Most+1e-8 {
			return drink + ": a limit is not kept"
		}
		// Equal objectives of the search agree to 1e-9, so their roots to about 3e-5.
		if i > 0 && p.LeastJND < f.Points[i-1].LeastJND-1e-4 {
			return drink + ": the miss falls with strength"
		}
		if s := &p.Solution; s.Bound > s.Objective*(1+1e-9)+1e-9 {
			return fmt.Sprintf("%s: the drink beats the proven bound: %+v", drink, *s)
		}
		if s := &p.Solution; s.Least > s.Objective*(1+1e-9)+1e-9 {
			return fmt.Sprintf("%s: the drink is closer than the least: %+v", drink, *s)
		}
	}
	for i := 1; i < len(f.Curve); i++ {
		if f.Curve[i].LeastJND < f.Curve[i-1].LeastJND-1e-9 {
			return drink + ": the curve falls with strength"
		}
	}
	return ""
}

func TestWeakerDrinksAreNeverCloser(t *testing.T) {
	for name, spec := range finishedDrinks(t) {
		f, err := Trace(LightenQuestion{Spec: spec, Shelf: pantry.Embedded(), Property: profile.Strength}, 5)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if wrong := falls(f, name); wrong != "" {
			t.Error(wrong)
		}
	}
}

// The same for drawn drinks, half of them with searches that are cut short.
func TestWeakerDrinksAreNeverCloserInDrawnDrinks(t *testing.T) {
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 3))
		text := "mix:\n"
		for _, group := range [][]string{
			{"dry gin", "white rum", "aged rum"},
			{"lemon juice", "lime juice", "grapefruit juice"},
			{"simple syrup", "honey syrup", "orange curacao"},
			{"sweet vermouth", "light amaro", "fino sherry"},
		} {
			text += "  " + group[r.IntN(len(group))] + ": " + []string{"10", "15", "22.5", "30", "37"}[r.IntN(5)] + " ml\n"
		}
		text += "ice: " + []string{"shake", "stir", "build", "none"}[r.IntN(4)] + "\n"
		budget := []int{300, DefaultBudget}[seed%2]
		f, err := Trace(LightenQuestion{Spec: readSpec(t, text), Shelf: pantry.Embedded(), Property: profile.Strength, Budget: budget}, 3)
		if err != nil {
			t.Fatal(err)
		}
		if wrong := falls(f, text); wrong != "" {
			t.Error(wrong)
		}
	}
}

func TestADrinkThatIsWeakEnoughStaysAsItIs(t *testing.T) {
	for name, spec := range finishedDrinks(t) {
		report, err := Report(Question{Spec: spec, Shelf: pantry.Embedded()})
		if err != nil {
			t.Fatal(err)
		}
		l := lightened(t, spec, report.Profile[profile.Strength].Value)
		if len(l.Pours) != len(report.Pours) || l.TotalJND != 0 || !l.Proven || len(l.Lost)+len(l.Variants) != 0 {
			t.Errorf("%s: %d pours, %v JND, %v lost", name, len(l.Pours), l.TotalJND, l.Lost)
		}
		for i, p := range l.Pours {
			if p.Base != report.Pours[i].Base || p.Amount != report.Pours[i].Amount || p.Ingredient != report.Pours[i].Ingredient {
				t.Errorf("%s: %v of %s, was %v", name, p.Amount, p.Name, report.Pours[i].Amount)
			}
		}
	}
}

// A weaker drink remembers the original: asked for the full strength again, it
// goes back to it.
func TestAWeakerDrinkComesBackToTheOriginal(t *testing.T) {
	spec := finishedDrinks(t)["high-water"]
	weaker := lightened(t, spec, 10)
	var written bytes.Buffer
	if err := weaker.Spec.Write(&written); err != nil {
		t.Fatal(err)
	}
	again := readSpec(t, written.String())
	back := lightened(t, again, 30)
	if len(back.Pours) != len(spec.Pours()) {
		t.Fatalf("%d pours, the original has %d\n%s", len(back.Pours), len(spec.Pours()), written.String())
	}
	for i, p := range spec.Pours() {
		if back.Pours[i].Amount != p.Low || back.Pours[i].Name != p.Name {
			t.Errorf("%v of %s, the original has %v of %s", back.Pours[i].Amount, back.Pours[i].Name, p.Low, p.Name)
		}
	}
	step := lightened(t, again, 5)
	if direct := lightened(t, spec, 5); math.Abs(step.LeastJND-direct.LeastJND) > 1e-4 {
		t.Errorf("by way of 10 %% vol it misses %v JND, directly %v", step.LeastJND, direct.LeastJND)
	}
}

// F* of a small question by plain loops over amounts and the forward model
// alone: lemon juice and syrup from half to double, water up to the volume.
func TestTheLeastMissIsThatOfTryingAll(t *testing.T) {
	const most = 8.0
	text := "measure: 5 ml\nmix:\n  vodka: 40 ml\n  lemon juice: 20 ml\n  simple syrup: 20 ml\nice: shake\n"
	l, err := Lighten(LightenQuestion{
		Spec: readSpec(t, text), Shelf: pantry.Embedded(), Property: profile.Strength, Most: most, With: []string{"water", "fino sherry"},
	})
	if err != nil {
		t.Fatal(err)
	}
	unit := func(name string) profile.State {
		i, err := pantry.Embedded().Find(name)
		if err != nil {
			t.Fatal(err)
		}
		return i.PerUnit()
	}
	vodka, lemon, syrup, water, fino := unit("vodka"), unit("lemon juice"), unit("simple syrup"), unit("water"), unit("fino sherry")
	values := func(v, l, s, w, f float64) profile.Values {
		mix := vodka.Scale(v).Add(lemon.Scale(l)).Add(syrup.Scale(s)).Add(water.Scale(w)).Add(fino.Scale(f))
		d := profile.Drink{Mix: mix, Ice: profile.Ice{Method: profile.Shake}}
		return d.Finish().Values
	}
	original := values(40, 20, 20, 0, 0)
	best, drinks := math.Inf(1), 0
	for v := 0.0; v <= 40; v += 5 {
		for l := 10.0; l <= 40; l += 5 {
			for s := 10.0; s <= 40; s += 5 {
				for w := 0.0; w <= 100; w += 5 {
					for f := 0.0; f <= 40; f += 5 {
						got := values(v, l, s, w, f)
						drinks++
						if got[profile.Strength] > most {
							continue
						}
						sum := 0.0
						for _, p := range []profile.Property{profile.Volume, profile.Sugar, profile.Acid, profile.Salt, profile.Bitter, profile.Umami} {
							size := 0.02 * original[p]
							if j, ok := p.JND(); ok {
								size = math.Hypot(j.Threshold, j.WeberFraction*original[p])
							}
							sum += math.Pow((got[p]-original[p])/size, 2)
						}
						best = min(best, sum)
					}
				}
			}
		}
	}
	if math.Abs(l.LeastJND-math.Sqrt(best)) > 1e-6 || !l.Proven {
		t.Errorf("%v JND, proven %v; the least of %d drinks is %v", l.LeastJND, l.Proven, drinks, math.Sqrt(best))
	}
}

func TestEthanolIsLimitedInGrams(t *testing.T) {
	l, err := Lighten(LightenQuestion{Spec: finishedDrinks(t)["sour"], Shelf: pantry.Embedded(), Property: profile.Ethanol, Most: 10})
	if err != nil {
		t.Fatal(err)
	}
	// Grams by hand: ml × strength × 0.78924 g/ml, the density of ethanol at 20 °C
	// in OIML R 22.
	grams := 0.0
	for _, p := range l.Pours {
		if p.Name == "dry gin" {
			grams += p.Base * 0.40 * 0.78924
		}
		if p.Name == "fino sherry 15 %" {
			grams += p.Base * 0.15 * 0.78924
		}
		if p.Name == "dry vermouth 18 %" {
			grams += p.Base * 0.18 * 0.78924
		}
	}
	if got := l.Profile[profile.Ethanol].Value; got > 10 || math.Abs(got-grams) > 0.02 || got < 8 {
		t.Errorf("%v g of ethanol, by hand %v; asked for at most 10", got, grams)
	}
}

func TestKeptPoursStay(t *testing.T) {
	l, err := Lighten(LightenQuestion{
		Spec: finishedDrinks(t)["bitter"], Shelf: pantry.Embedded(), Property: profile.Strength, Most: 10, Keep: []string{"sweet vermouth"},
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := amounts(l.Pours)["sweet vermouth"]; got != 30 {
		t.Errorf("%v ml of what was to be kept, expected 30", got)
	}
}

func TestLightenRefusesWhatItCannotDo(t *testing.T) {
	spec := finishedDrinks(t)["sour"]
	for name, q := range map[string]LightenQuestion{
		"a negative strength": {Property: profile.Strength, Most: -1},
		"no number":           {Property: profile.Strength, Most: math.NaN()},
		"another property":    {Property: profile.Sugar, Most: 5},
		"a pour to keep":      {Property: profile.Strength, Most: 5, Keep: []string{"white rum"}},
		"an offer":            {Property: profile.Strength, Most: 5, With: []string{"moonlight"}},
	} {
		q.Spec, q.Shelf = spec, pantry.Embedded()
		if _, err := Lighten(q); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	dry := LightenQuestion{Spec: readSpec(t, "mix:\n  lemon juice: 20 ml\n  water: 100 ml\n"), Shelf: pantry.Embedded(), Property: profile.Strength}
	if _, err := Trace(dry, 5); err != ErrNoAlcohol {
		t.Errorf("a drink without alcohol: %v", err)
	}
	if _, err := Trace(LightenQuestion{Spec: spec, Shelf: pantry.Embedded(), Property: profile.Strength}, 1); err != ErrSteps {
		t.Errorf("one step: %v", err)
	}
}

// 10 % vol is 78.9 g/L of ethanol; at 0.08 g of sucrose a gram that is 6.3 g/L,
// within the 6 to 10 g/L that matched it at most in Scinska and others (2000).
func TestAlcoholsOwnSweetnessIsThatWhichWasMatched(t *testing.T) {
	a := &Answer{}
	a.Profile[profile.Volume].Value, a.Profile[profile.Ethanol].Value = 100, 7.8924
	if got := ethanolSweetness(a); got < 6 || got > 10 {
		t.Errorf("%v g/L of sucrose for 10 %% vol, measured 6 to 10 at most", got)
	}
}

// J(c) = asinh(0.10 c / 0.60) / 0.10: threshold 0.60 % vol, Weber fraction 0.10,
// estimates after Yu and Pickering, Am. J. Enol. Vitic. 59 (2008).
func TestLostWarmthIsOnTheScaleOfStrength(t *testing.T) {
	l := lightened(t, finishedDrinks(t)["high-water"], 5)
	level := func(a *Answer) float64 { return math.Asinh(0.1*a.Profile[profile.Strength].Value/0.6) / 0.1 }
	if len(l.Lost) == 0 || l.Lost[0].Kind != LostWarmth || math.Abs(l.Lost[0].JND-(level(l.Answer)-level(l.Original))) > 1e-9 {
		t.Errorf("lost %+v, by hand %v JND of strength", l.Lost, level(l.Answer)-level(l.Original))
	}
	if !slices.ContainsFunc(l.Lost, func(one Lost) bool { return one.Kind == LostBitterness }) {
		t.Error("alcohol's own bitterness is not told of a drink above 8 % vol")
	}
}

// Pouring a variant does what it says.
func TestVariantsDoWhatTheySay(t *testing.T) {
	for name, spec := range finishedDrinks(t) {
		l := lightened(t, spec, 2)
		for _, v := range l.Variants {
			poured := *l.Spec
			poured.Mix, poured.Top = slices.Clone(poured.Mix), slices.Clone(poured.Top)
			for _, list := range [][]pantry.Pour{poured.Mix, poured.Top} {
				for i := range list {
					if list[i].Name == v.Pour {
						list[i].Low, list[i].High = v.To, v.To
					}
				}
			}
			a, err := Report(Question{Spec: &poured, Shelf: pantry.Embedded()})
			if err != nil {
				t.Fatal(err)
			}
			j, _ := v.Property.JND()
			moved := j.Level(a.Profile[v.Property].Value) - j.Level(l.Profile[v.Property].Value)
			if got := a.Profile[profile.Strength].Value; math.Abs(moved-v.JND) > 1e-9 || got > 2+1e-8 || math.Abs(got-v.Strength) > 1e-9 {
				t.Errorf("%s: %+v moves %s by %v JND, at %v %% vol", name, v, v.Property.Name(), moved, got)
			}
		}
	}
}

func TestTheKneeIsWhereTheMissTurns(t *testing.T) {
	for _, c := range []struct {
		misses []float64
		want   int
	}{
		{[]float64{0, 0, 0, 1, 2}, 2},
		{[]float64{0, 1, 2, 3, 4}, -1},
		{[]float64{0, 0, 0, 0, 0}, -1},
		{[]float64{0, 0.1, 0.2, 0.3, 3}, 3},
		{[]float64{0, 1, 2, 2.1, 2.2}, -1},
	} {
		var points []*Lightened
		for _, miss := range c.misses {
			points = append(points, &Lightened{LeastJND: miss})
		}
		if got := knee(points); got != c.want {
			t.Errorf("misses of %v turn at %d, want %d", c.misses, got, c.want)
		}
	}
}

// Two hundred points in real amounts.
func BenchmarkFrontier(b *testing.B) {
	l, err := newLightening(LightenQuestion{Spec: finishedDrinks(b)["high-water"], Shelf: pantry.Embedded(), Property: profile.Strength})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := l.curve(200); err != nil {
			b.Fatal(err)
		}
	}
}

// In quarter ounces 20 ml and 10 ml are no steps: they stay as they are, and with
// them the bitters.
func TestPoursOffTheMeasureNeedNotGo(t *testing.T) {
	spec := exampleSpec(t, "high-water")
	spec.Measure = pantry.Amount{Value: 0.25, Unit: pantry.USOunces}
	out, err := Lighten(LightenQuestion{Spec: spec, Shelf: pantry.Embedded(), Property: profile.Strength, Most: 13.8})
	if err != nil {
		t.Fatal(err)
	}
	for _, was := range out.Original.Pours[1:] {
		if !slices.ContainsFunc(out.Pours, func(p PouredAmount) bool { return p.Ingredient == was.Ingredient && math.Abs(p.Base-was.Base) < 1e-9 }) {
			t.Errorf("%s is not %g ml any more", was.Name, was.Base)
		}
	}
}
