package pantry

import (
	"math"

	"minim/profile"
)

// Counted is what a bar weighs to know one of it.
type Counted int

// What can be counted.
const (
	// CountedDashes are those of a bottle's own dasher.
	CountedDashes Counted = iota
	// CountedPinches are of a powder.
	CountedPinches
	// CountedBarspoons are of a powder or a liquid, level.
	CountedBarspoons
)

var countedWords = map[Counted]string{CountedDashes: "dash", CountedPinches: "pinch", CountedBarspoons: "barspoon"}

// CountReading is a number of dashes, pinches or spoons on a scale.
type CountReading struct {
	Of   *Ingredient
	What Counted
	// Each are the weights one by one, twenty for choice; or none, and Total is
	// the weight of Count of them together.
	Each  []profile.Gram
	Total profile.Gram
	Count int
	// Scale is one standard deviation of a weighing; 0 stands for 0.1 g.
	Scale profile.Gram
}

// Calibrated is one dash, pinch or spoon.
type Calibrated struct {
	Measured
	Count int
	// Mean is the weight of one, OfOne the standard deviation between them (0
	// where only their total was weighed: unknown), and OfMean that of the mean.
	Mean, OfOne, OfMean profile.Gram
	// Millilitres is one of a liquid at 20 °C and its ±; 0 for a powder.
	Millilitres Measurement[profile.Millilitre]
}

// Calibrate returns the mean of what was counted and an ingredient that knows it:
// a dash bottle its dash_ml and its measure, a powder by the barspoon its bulk
// density, a pinch its measure in grams. From n weights x
//
//	mean = Σx/n,   s² = Σ(x - mean)²/(n-1),   s_mean² = s²/n + scale²/n
//
// and from a total s_mean = scale/n. One weighing after another on the same
// scale is taken as independent. ml = mean/density, whose ± counts too.
func Calibrate(r CountReading) (*Calibrated, error) {
	var f faults
	word, known := countedWords[r.What]
	if !known {
		f.add("what was counted is unknown; expected dashes, pinches or barspoons")
	}
	r.check(&f, word)
	if len(f) > 0 {
		return nil, f.err()
	}
	copied := *r.Of
	out := &Calibrated{Measured: Measured{Ingredient: &copied}, Count: r.Count}
	n := float64(r.Count)
	if len(r.Each) > 0 {
		sum, squares := 0.0, 0.0
		for _, x := range r.Each {
			sum += float64(x)
		}
		out.Mean = profile.Gram(sum / n)
		for _, x := range r.Each {
			squares += float64((x - out.Mean) * (x - out.Mean))
		}
		if r.Count > 1 {
			out.OfOne = profile.Gram(math.Sqrt(squares / (n - 1)))
		}
		out.OfMean = profile.Gram(math.Hypot(float64(out.OfOne), float64(r.Scale)) / math.Sqrt(n))
	} else {
		out.Mean, out.OfMean = r.Total/profile.Gram(n), r.Scale/profile.Gram(n)
	}
	if !(out.OfMean < out.Mean) {
		f.add("one %s of %s g; expected a ± below that: weigh more of them together", word, withSpread(float64(out.Mean), float64(out.OfMean)))
		return nil, f.err()
	}
	r.apply(out, word)
	const enough = 10
	if r.Count < enough {
		out.remark("%d is few; weigh twenty", r.Count)
	}
	if len(r.Each) == 0 {
		out.remark("the total alone does not say how much one %s differs from the next", word)
	}
	return out, nil
}

// check refuses weights that cannot be, and counts them.
func (r *CountReading) check(f *faults, word string) {
	const most = 1e4 // g of one
	f.spread("weighing", float64(r.Scale))
	if r.Scale == 0 {
		r.Scale = ScaleSpread
	}
	switch {
	case len(r.Each) > 0 && (r.Total != 0 || r.Count != 0 && r.Count != len(r.Each)):
		f.add("weights one by one and a total; expected one of them")
	case len(r.Each) > 0:
		r.Count = len(r.Each)
		sum := 0.0
		for n, x := range r.Each {
			if !(x >= 0 && x <= most) {
				f.add("weight %d %v g; expected 0 to %d g", n+1, float64(x), int(most))
			}
			sum += float64(x)
		}
		f.above("weight of all", sum, most*float64(r.Count), " g")
	case r.Count < 1 || r.Count > 1e6:
		f.add("count %d; expected 1 or more, twenty for choice", r.Count)
	default:
		f.above("total", float64(r.Total), most*float64(r.Count), " g")
	}
	switch {
	case r.Of == nil:
		f.add("no ingredient; expected what was weighed")
	case r.What == CountedDashes && r.Of.Solid:
		f.add("dashes of %s, a solid; expected a liquid", r.Of.Name)
	case r.What == CountedPinches && !r.Of.Solid:
		f.add("pinches of %s, a liquid; expected a powder", r.Of.Name)
	case !r.Of.Solid && !r.Of.Figures[DensityGramsPerMillilitre].Known && r.Of.PerKilogram:
		f.add("no density of %s; expected density_g_per_ml to turn grams into ml", r.Of.Name)
	}
	if len(*f) > 0 {
		return
	}
	one := float64(r.Total) / float64(r.Count)
	for _, x := range r.Each {
		one += float64(x) / float64(r.Count)
	}
	const leastOne, mostDash = 1e-3, 10 // g that a scale can tell of many; ml, as the column dash_ml allows
	f.within("one "+word, one, leastOne, most, " g")
	if r.What == CountedDashes {
		if density, _ := r.Of.densityKnown(); one/density > mostDash {
			f.add("%.1f ml a %s; expected at most %d", one/density, word, mostDash)
		}
	}
}

// densityKnown is the density of a liquid in g/ml and its ±: the measured one,
// else that of its composition to 0.5 %.
func (i *Ingredient) densityKnown() (density, spread float64) {
	if d := i.Figures[DensityGramsPerMillilitre]; d.Known {
		return d.Value, d.Spread
	}
	const doubt = 0.005
	unit := i.PerUnit()
	density = float64(unit.Mass()) / float64(unit.Volume())
	return density, doubt * density
}

// apply puts what was counted into the ingredient.
func (r *CountReading) apply(out *Calibrated, word string) {
	i, mean, spread := out.Ingredient, float64(out.Mean), float64(out.OfMean)
	if !i.Solid {
		density, ofDensity := i.densityKnown()
		ml := mean / density
		ofMl := ml * math.Hypot(spread/mean, ofDensity/density)
		ml, ofMl = roundedTo(ml, ofMl)
		out.Millilitres = Measurement[profile.Millilitre]{profile.Millilitre(ml), profile.Millilitre(ofMl)}
		out.remark("one %s is %s ml, %s g", word, withSpread(ml, ofMl), withSpread(mean, spread))
	} else {
		out.remark("one %s is %s g", word, withSpread(mean, spread))
	}
	if out.OfOne > 0 {
		out.remark("single ones differ by ± %.0f %%", 100*float64(out.OfOne)/mean)
	}
	grams, _ := roundedTo(mean, spread)
	switch {
	case r.What == CountedDashes:
		i.DashMillilitres = float64(out.Millilitres.Value)
		i.Step = Step{Amount: i.DashMillilitres, Word: "dash"}
	case r.What == CountedPinches:
		i.Step = Step{Amount: grams}
	case i.Solid:
		i.BulkGramsPerMillilitre = roundPlaces(grams/float64(profile.Barspoon), 4)
		out.remark("at the %s ml of a barspoon that is %s g/ml in the spoon", formatNumber(float64(profile.Barspoon)), formatNumber(i.BulkGramsPerMillilitre))
	default:
		out.remark("the pantry has no measure of its own for a barspoon of a liquid: write %s ml in the spec", formatNumber(float64(out.Millilitres.Value)))
	}
}
