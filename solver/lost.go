package solver

import (
	"cmp"
	"math"
	"slices"

	"minim/pantry"
	"minim/profile"
)

// LossKind says what a weaker drink no longer has.
type LossKind string

// What can be lost; the figures of each are in Lost.
const (
	// LostWarmth is alcohol's burn: strength in % vol. Burn rises with ethanol
	// whatever else is in the glass: Thibodeau and Pickering, Beverages 7:23
	// (2021), 5 to 23 % vol, abstract seen.
	LostWarmth LossKind = "warmth"
	// LostBitterness is alcohol's own, which no property counts: in water it is the
	// dominant quality from 8 to 16 % vol. Nolden and Hayes (2015), abstract seen.
	LostBitterness LossKind = "alcohol's own bitterness"
	// LostSweetness is alcohol's own, in g/L of sucrose.
	LostSweetness LossKind = "alcohol's own sweetness"
	// LostMelt is melted ice, in ml: a weaker mix melts less.
	LostMelt LossKind = "melt"
	// LostCold is the temperature at which it is served, in °C.
	LostCold LossKind = "temperature"
	// LostBody is viscosity in mPa·s.
	LostBody LossKind = "body"
	// LostGas is dissolved carbon dioxide, in g/L.
	LostGas LossKind = "sparkle"
)

// Lost is one thing that a drink of equal composition does not keep.
type Lost struct {
	Kind          LossKind
	Before, After float64
	Unit          string
	// JND is After less Before in JND; 0 where it has none.
	JND float64
}

// sucrosePerEthanol is how many grams of sucrose a gram of ethanol tastes as
// sweet as. Scinska and others, Drug Alcohol Depend. 60:199 (2000): 10 % vol was
// matched at most by 6 to 10 g/L of sucrose; converted, an estimate, from 0 to
// 0.13.
const sucrosePerEthanol = 0.08

// bitterFrom is the least strength, in % vol, at which ethanol in water was
// found mostly bitter: Nolden and Hayes (2015), abstract seen.
const bitterFrom = 8

// meltTold is the least change of melt, in ml, that is told. Common practice, no
// source: the finest measure of a bar.
const meltTold = 2.5

// lost lists what differs between a drink and its original beside what is aimed
// at, where a taster could tell.
func lost(original, now *Answer) []Lost {
	var out []Lost
	told := func(kind LossKind, p profile.Property, before, after float64) bool {
		j, ok := p.JND()
		shift := j.Level(after) - j.Level(before)
		if !ok || math.Abs(shift) < profile.Perceptible {
			return false
		}
		out = append(out, Lost{kind, before, after, p.Unit(), shift})
		return true
	}
	value := func(a *Answer, p profile.Property) float64 { return a.Profile[p].Value }
	strength := profile.Strength
	if told(LostWarmth, strength, value(original, strength), value(now, strength)) && value(original, strength) >= bitterFrom {
		out = append(out, Lost{LostBitterness, value(original, strength), value(now, strength), strength.Unit(), 0})
	}
	told(LostSweetness, profile.Sweetness, ethanolSweetness(original), ethanolSweetness(now))
	if before, after := float64(original.WaterMillilitres), float64(now.WaterMillilitres); math.Abs(after-before) >= meltTold {
		out = append(out, Lost{LostMelt, before, after, "ml", 0})
	}
	told(LostCold, profile.Temperature, value(original, profile.Temperature), value(now, profile.Temperature))
	told(LostBody, profile.Viscosity, value(original, profile.Viscosity), value(now, profile.Viscosity))
	told(LostGas, profile.CarbonDioxide, value(original, profile.CarbonDioxide), value(now, profile.CarbonDioxide))
	return out
}

// ethanolSweetness is the sucrose, in g/L, that the drink's ethanol tastes as
// sweet as.
func ethanolSweetness(a *Answer) float64 {
	volume := a.Profile[profile.Volume].Value
	if volume <= 0 {
		return 0
	}
	return 1000 * sucrosePerEthanol * a.Profile[profile.Ethanol].Value / volume
}

// Variant is a single step away from a drink, to be tried by tasting.
type Variant struct {
	Pour     string
	From, To pantry.Amount
	Property profile.Property
	// JND is what the step does to Property, Strength what the drink then has in
	// % vol.
	JND      float64
	Strength float64
}

// What a variant does, in JND: enough to be tasted now and then, not another
// drink.
const (
	leastVariant = 0.2
	mostVariant  = 2
)

// variants are up to three single steps up: sharper, more bitter, sweeter, each
// by the pour without alcohol that moves that property most among the others.
// Alcohol's going takes bitterness and some sweetness away and leaves sourness
// barer (Thibodeau and Pickering, Beverages 7:23, 2021, abstract seen).
func (l *lightening) variants(out *Lightened) []Variant {
	if out.Answer.Profile[profile.Strength].Value >= l.original.Profile[profile.Strength].Value {
		return nil
	}
	var found []Variant
	for _, p := range []profile.Property{profile.Bitter, profile.Acid, profile.Sugar} {
		var all []Variant
		purity := map[string]float64{}
		for n := range out.Pours {
			v, pure, ok := l.variant(out, n, p)
			if ok && !slices.ContainsFunc(found, func(f Variant) bool { return f.Pour == v.Pour }) {
				all = append(all, v)
				purity[v.Pour] = pure
			}
		}
		if len(all) > 0 {
			found = append(found, slices.MinFunc(all, func(a, b Variant) int { return cmp.Compare(purity[b.Pour], purity[a.Pour]) }))
		}
	}
	return found
}

// variant adds one step to pour n. Pure is how much of what it does, in JND, it
// does to p.
func (l *lightening) variant(out *Lightened, n int, p profile.Property) (v Variant, pure float64, ok bool) {
	poured := &out.Pours[n]
	step, err := stepOf(poured.Ingredient, out.Spec)
	if err != nil || poured.Amount.Unit == pantry.Pieces {
		return v, 0, false
	}
	one, err := pantry.Amount{Value: 1, Unit: poured.Amount.Unit}.Of(poured.Ingredient)
	if err != nil || one <= 0 {
		return v, 0, false
	}
	to := pantry.Amount{Value: tidy((poured.Base + step) / one), Unit: poured.Amount.Unit}
	spec := *out.Spec
	spec.Mix, spec.Top = slices.Clone(spec.Mix), slices.Clone(spec.Top)
	if n < len(spec.Mix) {
		spec.Mix[n].Low, spec.Mix[n].High = to, to
	} else {
		spec.Top[n-len(spec.Mix)].Low, spec.Top[n-len(spec.Mix)].High = to, to
	}
	w, err := newWork(Question{Spec: &spec, Shelf: l.asked.Shelf})
	if err != nil {
		return v, 0, false
	}
	d := w.problem.drink(nil)
	values := d.Finish().Values
	total, shift := 0.0, 0.0
	for _, q := range []profile.Property{profile.Sugar, profile.Acid, profile.Salt, profile.Bitter, profile.Umami} {
		j, _ := q.JND()
		moved := j.Level(values[q]) - j.Level(out.Answer.Profile[q].Value)
		total += moved * moved
		if q == p {
			shift = moved
		}
	}
	limit := values[out.Property] <= out.Most+tolerated*(1+out.Most)
	if !limit || shift < leastVariant || shift > mostVariant {
		return v, 0, false
	}
	return Variant{poured.Name, poured.Amount, to, p, shift, values[profile.Strength]}, shift / math.Sqrt(total), true
}
