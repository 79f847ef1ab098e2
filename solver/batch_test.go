package solver

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"minim/pantry"
	"minim/profile"
)

func makeBatch(t testing.TB, text string, size BatchSize, change func(*BatchQuestion)) *Batch {
	t.Helper()
	q := BatchQuestion{Question: Question{Spec: readSpec(t, text), Shelf: pantry.Embedded()}, Size: size}
	if change != nil {
		change(&q)
	}
	b, err := MakeBatch(q)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return b
}

// rowNamed is a line of the sheet.
func rowNamed(t testing.TB, b *Batch, name string) *BatchRow {
	t.Helper()
	for i := range b.Rows {
		if b.Rows[i].Name == name {
			return &b.Rows[i]
		}
	}
	t.Fatalf("no line for %s in %v", name, b.Rows)
	return nil
}

// By hand, with the densities of OIML R 22 (1975) at 20 °C: 40 % vol is 948.05
// kg/m³, water 998.20. 40 × 50 ml of vodka weigh 1896.1 g, 40 × 25 ml of water
// 998.2 g: 1896 and 998 on the scale. Together 2894 g hold 800 ml of ethanol,
// 631.4 g, 21.82 % by mass; between 20 % vol (16.214 % by mass, 973.56 kg/m³)
// and 30 % vol (24.607 %, 962.21) that is 966.0 kg/m³: 2996 ml of 26.7 % vol.
func TestABatchIsWeighedAsByHand(t *testing.T) {
	b := makeBatch(t, "mix:\n  vodka: 50 ml\n  water: 25 ml\n", BatchSize{Serves: 40}, nil)
	near(t, "vodka, g", float64(rowNamed(t, b, "vodka").Grams), 1896, 0.5)
	near(t, "vodka, ml", float64(rowNamed(t, b, "vodka").Millilitres), 2000, 1)
	near(t, "water, g", float64(rowNamed(t, b, "water").Grams), 998, 0.5)
	near(t, "all, g", float64(b.Mass), 2894, 1)
	near(t, "all, ml", float64(b.Volume), 2996, 2)
	near(t, "strength", float64(b.Strength), 26.7, 0.05)
	if b.Rows[0].Name != "water" || b.Rows[1].Running != b.Mass {
		t.Errorf("not water first and running to the whole: %+v", b.Rows)
	}
}

// A stirred drink of 60 ml that takes up 25 % of water gets 15 ml in the batch:
// 14.97 g a serve at 0.9982 g/ml, 599 g for 40.
func TestWaterTakesThePlaceOfIce(t *testing.T) {
	text := "mix:\n  vodka: 60 ml\nice: {stir: 25 % water}\n"
	b := makeBatch(t, text, BatchSize{Serves: 40}, nil)
	if b.Dilution.Way != FullyDiluted || b.Ice != 0 {
		t.Fatalf("diluted %+v, with %g g of ice", b.Dilution, float64(b.Ice))
	}
	near(t, "water, g", float64(rowNamed(t, b, "water").Grams), 599, 0.5)
	undiluted := makeBatch(t, text, BatchSize{Serves: 40}, func(q *BatchQuestion) { q.Diluting = Undiluted })
	if len(undiluted.Rows) != 1 {
		t.Errorf("water in an undiluted batch: %+v", undiluted.Rows)
	}
	// 2 g of ice for each gram of 60 ml of 0.948 g/ml; common practice, no source.
	near(t, "ice, g", float64(undiluted.Ice), 40*2*60*0.948, 10)
}

// Out of the fridge a drink melts less: what is measured in and what then melts
// are what the spec's serve takes up. Both melts come from the model of ice
// alone.
func TestABatchFromTheFridgeIsDilutedInPart(t *testing.T) {
	text := "mix:\n  dry gin: 60 ml\n  dry vermouth: 15 ml\nice: stir\n"
	b := makeBatch(t, text, BatchSize{Serves: 100}, func(q *BatchQuestion) { q.Diluting, q.Scale = DilutedForTheFridge, 0.1 })
	gin, _ := pantry.Embedded().Find("dry gin")
	vermouth, _ := pantry.Embedded().Find("dry vermouth")
	mix := gin.PerUnit().Scale(60).Add(vermouth.PerUnit().Scale(15))
	warm := profile.Drink{Mix: mix, Ice: profile.Ice{Method: profile.Stir}}
	whole := float64(warm.Finish().Water)
	measured := float64(rowNamed(t, b, "water").Grams) / 100
	mix[profile.WaterGrams] += measured
	mix[profile.HeatJoules] = float64(mix.HeatAt(5))
	cold := profile.Drink{Mix: mix, Ice: profile.Ice{Method: profile.Stir}}
	near(t, "water in all, g", measured+float64(cold.Finish().Water), whole, 0.01)
	if measured <= 0 || measured >= whole {
		t.Errorf("%g g measured in out of %g", measured, whole)
	}
	_, err := MakeBatch(BatchQuestion{
		Question: Question{Spec: readSpec(t, "mix:\n  vodka: 60 ml\nice: {stir: 25 % water}\n"), Shelf: pantry.Embedded()},
		Size:     BatchSize{Serves: 4}, Diluting: DilutedForTheFridge,
	})
	if !errors.Is(err, ErrMeltFixed) {
		t.Errorf("a fixed melt gives %v", err)
	}
}

func TestWhatIsFreshOrCarbonatedIsAddedAtService(t *testing.T) {
	text := `
mix:
  dry gin: 40 ml
  lime juice: 20 ml
  rich syrup: 15 ml
  egg white: 1 piece
  green tea: 20 ml
ice: shake
top:
  soda water: 30 ml
`
	b := makeBatch(t, text, BatchSize{Serves: 10}, nil)
	want := map[string]string{
		"lime juice": "fresh juice", "egg white": "egg or dairy", "green tea": "keeps 3 days", "soda water": "carbonated",
	}
	if len(b.AtService) != len(want) || len(b.Rows) != 2 || b.Dilution.Way != Undiluted {
		t.Fatalf("%d lines, %d at service, diluted %+v", len(b.Rows), len(b.AtService), b.Dilution)
	}
	for i := range b.AtService {
		s := &b.AtService[i]
		if s.Why != want[s.Name] || math.Abs(s.Total-10*s.Base) > 1e-9 {
			t.Errorf("%s: %q, %g for all", s.Name, s.Why, s.Total)
		}
	}
	sameDay := makeBatch(t, text, BatchSize{Serves: 10}, func(q *BatchQuestion) { q.FreshIn = true })
	if len(sameDay.Rows) != 5 || len(sameDay.AtService) != 1 {
		t.Errorf("for the same day %d lines and %d at service", len(sameDay.Rows), len(sameDay.AtService))
	}
	// Fresh tea: 2 days cold, as egg white is; the first named.
	if h := sameDay.Holding; h.Days != 2 || strings.Join(h.Allergens, " ") != "eggs" {
		t.Errorf("keeps %g days by %s, with %q", h.Days, h.KeptShort, h.Allergens)
	}
	for _, text := range []string{"mix:\n  lime juice: 20 ml\n", "mix:\n  lime juice: 20 ml\n  sugar: 5 g\n"} {
		_, err := MakeBatch(BatchQuestion{Question: Question{Spec: readSpec(t, text), Shelf: pantry.Embedded()}, Size: BatchSize{Serves: 10}})
		if !errors.Is(err, ErrNothingKeeps) {
			t.Errorf("%q gives %v", text, err)
		}
	}
}

// Powders go in before alcohol, water before powders.
func TestLinesComeInTheOrderOfAdding(t *testing.T) {
	b := makeBatch(t, "mix:\n  bourbon: 60 ml\n  sugar: 5 g\n  aromatic bitters: 2 dashes\n  rich syrup: 2.5 ml\nice: stir\n", BatchSize{Serves: 30}, nil)
	var order []string
	running := profile.Gram(0)
	for i := range b.Rows {
		r := &b.Rows[i]
		order = append(order, r.Name)
		running += r.Grams
		near(t, "running weight at "+r.Name, float64(r.Running), float64(running), 1e-6)
	}
	if got := strings.Join(order, ", "); got != "water, rich syrup, sugar, bourbon, aromatic bitters" {
		t.Errorf("order is %s", got)
	}
	for name, step := range map[string]profile.Gram{"sugar": 0.1, "aromatic bitters": 0.1, "bourbon": 1} {
		if got := rowNamed(t, b, name).Step; got != step {
			t.Errorf("%s is weighed in steps of %g g, want %g", name, float64(got), float64(step))
		}
	}
}

// The batch holds what its containers do, to what the scale rounds: 4.2 litres
// in six bottles, 17.1 in a keg of 19 with a tenth of it empty.
func TestContainersHoldWhatTheySay(t *testing.T) {
	text := "mix:\n  dry gin: 60 ml\n  dry vermouth: 15 ml\n  orange bitters: 1 dash\nice: stir\n"
	six := makeBatch(t, text, BatchSize{Bottle: 700, Bottles: 6}, nil)
	near(t, "six bottles, ml", float64(six.Volume), 4200, 2.5)
	near(t, "the last of six, ml", float64(six.Filling.Last), 700, 2.5)
	if six.Filling.Containers != 6 {
		t.Errorf("%d bottles", six.Filling.Containers)
	}
	near(t, "a full bottle, g", float64(six.Filling.Weight)*6, float64(six.Mass), 2.5)
	near(t, "serves", six.Filling.Serves*6, six.Serves, 0.05)

	keg := makeBatch(t, text, BatchSize{Keg: 19_000, HeadSpace: DefaultHeadSpace}, nil)
	near(t, "the keg, ml", float64(keg.Volume), 17_100, 2.5)
	near(t, "head space, ml", float64(keg.Filling.Empty), 1_900, 2.5)

	litres := makeBatch(t, text, BatchSize{Volume: 5_000}, nil)
	near(t, "five litres", float64(litres.Volume), 5_000, 2.5)
	if litres.Filling != nil {
		t.Errorf("no container was named, and it goes into %+v", litres.Filling)
	}

	forty := makeBatch(t, text, BatchSize{Serves: 40, Bottle: 700}, nil)
	f := forty.Filling
	if want := int(math.Ceil(float64(forty.Volume) / 700)); f.Containers != want || f.Last > 700 || f.Last <= 0 {
		t.Errorf("%g ml in %d bottles, %g ml in the last", float64(forty.Volume), f.Containers, float64(f.Last))
	}
	near(t, "all bottles, ml", 700*float64(f.Containers-1)+float64(f.Last), float64(forty.Volume), 1e-6)
}

func TestSizesThatNobodyMakesAreRefused(t *testing.T) {
	nan, inf := profile.Millilitre(math.NaN()), profile.Millilitre(math.Inf(1))
	for name, size := range map[string]BatchSize{
		"none": {}, "two": {Serves: 4, Volume: 1000}, "negative serves": {Serves: -1}, "very many serves": {Serves: 1e6},
		"a negative volume": {Volume: -1000}, "no volume": {Volume: nan}, "an endless volume": {Volume: inf}, "a thimble": {Bottle: 1},
		"bottles of nothing": {Bottles: 6}, "bottles and serves": {Bottle: 700, Bottles: 6, Serves: 40}, "negative bottles": {Bottle: 700, Bottles: -6},
		"a keg all head space": {Keg: 19_000, HeadSpace: 100}, "a keg of negative head space": {Keg: 19_000, HeadSpace: -1},
		"head space unknown": {Keg: 19_000, HeadSpace: math.NaN()}, "less than a serve": {Volume: 50}, "a lake": {Bottle: 1000, Bottles: 1001},
		"a lake of serves": {Serves: 10_000, Bottle: nan},
	} {
		_, err := MakeBatch(BatchQuestion{
			Question: Question{Spec: readSpec(t, "mix:\n  vodka: 100 ml\n"), Shelf: pantry.Embedded()}, Size: size,
		})
		if err == nil {
			t.Errorf("%s: %+v is made", name, size)
		}
	}
	for _, step := range []profile.Gram{-1, 0.001, 1000, profile.Gram(math.NaN()), profile.Gram(math.Inf(1))} {
		_, err := MakeBatch(BatchQuestion{
			Question: Question{Spec: readSpec(t, "mix:\n  vodka: 100 ml\n"), Shelf: pantry.Embedded()}, Size: BatchSize{Serves: 4}, Scale: step,
		})
		if err == nil {
			t.Errorf("a scale with steps of %g g is used", float64(step))
		}
	}
}

// Whatever the drink, its size and the scale: N serves in every mass to a step
// of the scale, and no further from the serve than rounding alone.
func TestABatchIsAsManyServes(t *testing.T) {
	names := []string{
		"dry gin", "aged rum", "dry vermouth", "rich syrup", "honey syrup", "light amaro", "orange bitters", "saline", "sugar",
		"citric acid powder", "lime juice", "egg white", "green tea", "water",
	}
	units := map[string]string{"orange bitters": "dashes", "sugar": "g", "citric acid powder": "g", "egg white": "piece"}
	rapid.Check(t, func(t *rapid.T) {
		var text strings.Builder
		fmt.Fprintf(&text, "ice: %s\nmix:\n  vodka: 30 ml\n", rapid.SampledFrom([]string{"stir", "shake", "build", "none", "{stir: 20 % water}", "{stir: to -3 °C}"}).Draw(t, "ice"))
		for _, name := range rapid.SliceOfNDistinct(rapid.SampledFrom(names), 0, 6, rapid.ID[string]).Draw(t, "names") {
			unit := units[name]
			if unit == "" {
				unit = "ml"
			}
			fmt.Fprintf(&text, "  %s: %g %s\n", name, float64(rapid.IntRange(1, 12).Draw(t, name))/4, unit)
		}
		if rapid.Bool().Draw(t, "aimed") {
			text.WriteString("target:\n  abv: 20 %\n  volume: 80 ml\n")
		}
		spec, err := pantry.ReadSpec(strings.NewReader(text.String()), "drawn.yaml")
		if err != nil {
			t.Fatal(err)
		}
		q := BatchQuestion{
			Question: Question{Spec: spec, Shelf: pantry.Embedded()},
			Scale:    rapid.SampledFrom([]profile.Gram{0.1, 1, 5}).Draw(t, "scale"),
			Diluting: rapid.SampledFrom([]Diluting{AsUsual, Undiluted, FullyDiluted}).Draw(t, "diluted"),
			FreshIn:  rapid.Bool().Draw(t, "fresh in"),
		}
		switch rapid.IntRange(0, 2).Draw(t, "way") {
		case 0:
			q.Size.Serves = rapid.IntRange(1, 500).Draw(t, "serves")
		case 1:
			q.Size.Volume = profile.Millilitre(rapid.IntRange(1, 100).Draw(t, "litres") * 1000)
		default:
			q.Size.Bottle, q.Size.Bottles = 700, rapid.IntRange(1, 20).Draw(t, "bottles")
		}
		b, err := MakeBatch(q)
		if err != nil {
			t.Fatalf("%v\n%s", err, text.String())
		}
		masses := map[string]profile.Gram{}
		for i := range b.Serve.Pours {
			masses[b.Serve.Pours[i].Name] = b.Serve.Pours[i].Grams
		}
		rounding := 0.0
		for i := range b.Rows {
			r := &b.Rows[i]
			serve := masses[r.Name]
			if r.Ingredient == nil {
				serve = b.Dilution.PerServe
			}
			rounding += float64(r.Step)
			if off := float64(r.Grams) - float64(serve)*b.Serves; math.Abs(off) > float64(r.Step)*(1+1e-6) {
				t.Fatalf("%s: %g g for %g serves of %g g", r.Name, float64(r.Grams), b.Serves, float64(serve))
			}
			if steps := float64(r.Grams / r.Step); math.Abs(steps-math.Round(steps)) > 1e-6 {
				t.Fatalf("%s: %g g on a scale with steps of %g g", r.Name, float64(r.Grams), float64(r.Step))
			}
		}
		if b.Objective > b.ScaledObjective {
			t.Fatalf("F of the sheet is %g, that of the scaled serve %g", b.Objective, b.ScaledObjective)
		}
		// A gram of anything in it takes up 1.3 ml at most.
		if total := q.Size.total(); total > 0 && math.Abs(float64(b.Volume-total)) > 1.3*rounding {
			t.Fatalf("%g ml made of %g", float64(b.Volume), float64(total))
		}
	})
}

// What the spec leaves open is solved on the scale's steps: no further from the
// target than the poured serve times so many, within half of the measure and in
// the range.
func TestASolvedBatchIsAtLeastAsCloseAsTheScaledServe(t *testing.T) {
	check := func(t *testing.T, q BatchQuestion, asked string) {
		t.Helper()
		b, err := MakeBatch(q)
		if err != nil {
			t.Fatalf("%v\n%s", err, asked)
		}
		if b.Objective > b.ScaledObjective && len(b.Serve.Broken) == 0 {
			t.Errorf("F of the sheet is %g, that of the scaled serve %g:\n%s", b.Objective, b.ScaledObjective, asked)
		}
		for i := range b.Rows {
			r := &b.Rows[i]
			if r.Ingredient == nil || r.Ingredient.Solid {
				continue
			}
			step := float64(r.Step) / b.Serves / float64(r.Ingredient.PerUnit().Mass())
			if got := float64(r.Millilitres) / b.Serves; math.Abs(got-r.PerServe) > 1.25+step {
				t.Errorf("%s: %g ml in a serve of the batch, %g ml in the spec's", r.Name, got, r.PerServe)
			}
		}
	}
	r := rand.New(rand.NewPCG(7, 40))
	for range 25 {
		text := randomPours(r) + fmt.Sprintf("target:\n  volume: %d ml\n  abv: %d %%\n  sugar: %d g/L\n  acid: %d g/L\n", 100+r.IntN(80), 8+r.IntN(15), 40+r.IntN(60), 4+r.IntN(6))
		size := BatchSize{Serves: 1 + r.IntN(60)}
		if r.IntN(2) == 0 {
			size = BatchSize{Bottle: 700, Bottles: 1 + r.IntN(10)}
		}
		check(t, BatchQuestion{
			Question: Question{Spec: readSpec(t, text), Shelf: pantry.Embedded(), Budget: 3000}, Size: size, FreshIn: r.IntN(2) == 0,
		}, text)
	}
	shelf := houseShelf(t)
	for _, name := range []string{"low-tide-garden", "morning-tide", "slack-water", "weir-light"} {
		file := "../examples/" + name + ".yaml"
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		check(t, BatchQuestion{Question: Question{Spec: readSpec(t, string(text)), Shelf: shelf}, Size: BatchSize{Serves: 40}}, file)
		check(t, BatchQuestion{Question: Question{Spec: readSpec(t, string(text)), Shelf: shelf}, Size: BatchSize{Keg: 19_000, HeadSpace: 10}, FreshIn: true}, file)
	}
}

func houseShelf(t *testing.T) *pantry.Shelf {
	t.Helper()
	f, err := os.Open("../examples/weir-lantern.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	shelf, err := pantry.Embedded().Overlay(f, "weir-lantern.csv")
	if err != nil {
		t.Fatal(err)
	}
	return shelf
}
