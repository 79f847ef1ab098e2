package pantry

import (
	"math"
	"slices"

	"minim/profile"
)

// AcidShare is one acid of a blend.
type AcidShare struct {
	// Acid is a column such as MalicPerLitre.
	Acid Column
	// Share is its part of the blend by weight, in any unit.
	Share float64
	// Purity is as in AcidPowder; 0 stands for 1.
	Purity profile.MassFraction
}

// JuiceQuestion asks how to bring a juice to an acidity, to a sugar, or to both.
type JuiceQuestion struct {
	Name string
	// Juice is what is there, its acidity known where that is to change.
	Juice *Ingredient
	// Batch is how much of it; 0 stands for 1000 ml.
	Batch profile.Millilitre
	// Acid is the wanted titratable acidity, as citric acid, and Sugar that of all
	// sugars; nil leaves it as it comes.
	Acid, Sugar *profile.GramPerLitre
	// Blend are the acids to add; citric acid alone where none is given. Sugar is
	// added as sucrose.
	Blend []AcidShare
	// Scale is one standard deviation of a weighing; 0 stands for 0.1 g.
	Scale profile.Gram
}

// Addition is what to weigh in.
type Addition struct {
	// Into is the column of the acid, or SucrosePerLitre.
	Into  Column
	Grams profile.Gram
}

// AdjustedJuice is the juice that comes of it.
type AdjustedJuice struct {
	Measured
	// Additions to the batch, the acids in the order of the blend, then sugar.
	Additions []Addition
}

// AdjustJuice finds the grams of acid and sugar that bring a juice to a wanted
// acidity and sugar, the volume that they add counted:
//
//	k a = T V' - TA V,   s = S V' - sugar V,   V' = V(juice + a + s)
//
// a grams of blend of k grams citric acid a gram, s of sucrose, V' by bisection.
// Both can only be raised, to 300 g/L of acid and 1000 g/L of sugar; what water
// would lower them is in the error. The ± is that of the juice, carried through,
// and of the scale.
func AdjustJuice(q JuiceQuestion) (*AdjustedJuice, error) {
	var f faults
	name := f.nameOf(q.Name)
	perGram, whole := q.check(&f)
	if len(f) > 0 {
		return nil, f.err()
	}
	start := q.Juice.PerUnit().Scale(float64(q.Batch))
	sugar := sugarIn(start)
	q.reachable(&f, start, sugar)
	if len(f) > 0 {
		return nil, f.err()
	}
	added := func(volume float64) (acid, sucrose float64) {
		if q.Acid != nil {
			acid = math.Max(0, (float64(*q.Acid)*volume/1000-start[profile.TitratableAcidGrams])/perGram)
		}
		if q.Sugar != nil {
			sucrose = math.Max(0, float64(*q.Sugar)*volume/1000-sugar)
		}
		return acid, sucrose
	}
	mixed := func(acid, sucrose float64) profile.State {
		s := start
		s[profile.SucroseGrams] += sucrose
		for _, b := range q.Blend {
			grams := acid * b.Share / whole
			s[columns[b.Acid].component] += grams * purityOf(b.Purity)
			s[profile.WaterGrams] += grams * (1 - purityOf(b.Purity))
		}
		return s
	}
	const most = 20 // times the batch: more than 1000 g/L of sugar and 300 g/L of acid ever make of it
	volume := crossing(float64(q.Batch), most*float64(q.Batch), func(v float64) bool { return float64(mixed(added(v)).Volume()) > v })
	acid, sucrose := added(volume)
	out := &AdjustedJuice{Measured: *newMeasured(name, q.Juice.Category, "computed from "+q.Juice.Name+" and what was added", Computed)}
	q.figures(out, mixed(acid, sucrose), acid, sucrose, volume, perGram, whole)
	out.Yield = profile.Millilitre(volume)
	q.remarks(out, acid, sucrose)
	m, err := out.closed()
	if err != nil {
		return nil, err
	}
	out.Measured = *m
	return out, nil
}

func purityOf(p profile.MassFraction) float64 {
	if p == 0 {
		return 1
	}
	return float64(p)
}

// sugarIn is the grams of all sugars.
func sugarIn(s profile.State) float64 {
	return s[profile.SucroseGrams] + s[profile.GlucoseGrams] + s[profile.FructoseGrams] + s[profile.OtherSugarsGrams]
}

// check refuses what cannot be asked and fills in what was not said. It returns
// the citric acid that a gram of the blend titrates like, and the sum of the
// shares.
func (q *JuiceQuestion) check(f *faults) (perGram, whole float64) {
	if q.Batch == 0 {
		q.Batch = 1000
	}
	f.above("batch", float64(q.Batch), 1e7, " ml")
	f.spread("weighing", float64(q.Scale))
	if q.Scale == 0 {
		q.Scale = ScaleSpread
	}
	const mostAcid, mostSugar = 300, 1000
	if q.Acid != nil {
		f.within("wanted acidity", float64(*q.Acid), 0, mostAcid, " g/L")
	}
	if q.Sugar != nil {
		f.within("wanted sugar", float64(*q.Sugar), 0, mostSugar, " g/L")
	}
	if q.Acid == nil && q.Sugar == nil {
		f.add("nothing wanted; expected an acidity or a sugar in g/L")
	}
	if len(q.Blend) == 0 {
		q.Blend = []AcidShare{{Acid: CitricPerLitre, Share: 1}}
	}
	for n, b := range q.Blend {
		if !isAcid(b.Acid) {
			f.add("acid %d of the blend is none; expected one of %s", n+1, acidNames())
			continue
		}
		f.above("share of "+acidName(b.Acid), b.Share, 1e6, "")
		f.within("purity of "+acidName(b.Acid), float64(b.Purity), 0, 1, "")
		whole += b.Share
		perGram += b.Share * columns[b.Acid].citric * purityOf(b.Purity)
	}
	if q.Juice == nil || q.Juice.Solid {
		f.add("no juice; expected a liquid")
		return 0, 0
	}
	if q.Acid != nil && !q.Juice.acidKnown() {
		f.add("the acidity of %s is unknown; expected it measured: titrate it first", q.Juice.Name)
	}
	if q.Sugar != nil && !q.Juice.Figures[SucrosePerLitre].Known {
		f.add("the sugar of %s is unknown; expected it measured", q.Juice.Name)
	}
	return perGram / whole, whole
}

// acidKnown tells whether anything says how acid i is.
func (i *Ingredient) acidKnown() bool {
	for c := range columns {
		if i.Figures[c].Known && (isAcid(Column(c)) || Column(c) == TitratableAcidPerLitre) {
			return true
		}
	}
	return false
}

// reachable refuses to take away what is there; water would lower it.
func (q *JuiceQuestion) reachable(f *faults, start profile.State, sugar float64) {
	lower := func(what string, has float64, wanted *profile.GramPerLitre) {
		const rounding = 1e-9
		if wanted == nil || has <= float64(*wanted)*(1+rounding) {
			return
		}
		if *wanted == 0 {
			f.add("the %s of %s is %.1f g/L; expected more than that wanted, nothing takes it away", what, q.Juice.Name, has)
			return
		}
		f.add("the %s of %s is %.1f g/L already; expected more than that wanted: about %.0f ml of water a litre would bring it down to %.1f",
			what, q.Juice.Name, has, 1000*(has/float64(*wanted)-1), float64(*wanted))
	}
	perLitre := 1000 / float64(q.Batch)
	lower("acid", start[profile.TitratableAcidGrams]*perLitre, q.Acid)
	lower("sugar", sugar*perLitre, q.Sugar)
}

// figures sets what the adjusted juice holds.
func (q *JuiceQuestion) figures(out *AdjustedJuice, s profile.State, acid, sucrose, volume, perGram, whole float64) {
	base := q.Juice.inLitres()
	thinner := float64(q.Batch) / volume
	weighed := float64(q.Scale) * 1000 / volume // g/L of one weighing
	more := map[Column]float64{}
	for _, b := range q.Blend {
		grams := acid * b.Share / whole
		more[b.Acid] += grams * purityOf(b.Purity)
		if grams > 0 {
			out.Additions = append(out.Additions, Addition{b.Acid, profile.Gram(grams)})
		}
	}
	if sucrose > 0 {
		more[SucrosePerLitre] += sucrose
		out.Additions = append(out.Additions, Addition{SucrosePerLitre, profile.Gram(sucrose)})
	}
	more[TitratableAcidPerLitre] = acid * perGram
	baseDensity := base[DensityGramsPerMillilitre].Spread * thinner
	out.figure(DensityGramsPerMillilitre, float64(s.Mass())/volume, math.Hypot(baseDensity, weighed/1000/2))
	for c := range Column(Columns) {
		if !columns[c].amount && c != StrengthPercent {
			continue
		}
		from, known := base[c], base[c].Known
		if c == TitratableAcidPerLitre && !known {
			if acid == 0 {
				continue
			}
			from.Value = 1000 * q.Juice.PerUnit()[profile.TitratableAcidGrams]
			from.Spread, known = 1000*q.Juice.PerUnitSpread()[profile.TitratableAcidGrams], true
		}
		if !known {
			continue
		}
		spread := from.Spread * thinner
		if more[c] > 0 {
			spread = math.Hypot(spread, weighed)
		}
		out.figure(c, from.Value*thinner+more[c]*1000/volume, spread)
	}
	out.Ingredient.Allergens = slices.Clone(q.Juice.Allergens)
	out.Ingredient.Tannin, out.Ingredient.KeptAt = q.Juice.Tannin, q.Juice.KeptAt
}

// remarks adds what a reader of the result should know.
func (q *JuiceQuestion) remarks(out *AdjustedJuice, acid, sucrose float64) {
	for _, a := range out.Additions {
		word := "sucrose"
		if isAcid(a.Into) {
			word = acidName(a.Into)
		}
		out.remark("%.1f g of %s to %.0f ml of %s", float64(a.Grams), word, float64(q.Batch), q.Juice.Name)
		if isAcid(a.Into) && !q.Juice.Figures[a.Into].Known {
			out.remark("the %s that %s had of its own is unknown, so its column stays empty; the titratable acid counts it", word, q.Juice.Name)
		}
	}
	if acid == 0 && sucrose == 0 {
		out.remark("%s is there already; nothing to add", q.Juice.Name)
	}
	out.remark("makes %.0f ml; the acidity of fresh fruit varies, so titrate this batch where it matters", float64(out.Yield))
	if q.Juice.Figures[PH].Known {
		out.remark("its pH is unknown; measure it")
	}
	if acid > 0 {
		out.remark(AcidCaution)
	}
}
