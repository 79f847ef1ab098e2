package pantry

import (
	"math"

	"minim/profile"
)

// Derived is what the composition of an ingredient comes to when it stands by
// itself at the temperature it is kept at.
type Derived struct {
	// Name is that of the property in files and flags, or ph, density, brix.
	Name string
	// Unit is that of the property; of a solid's per kilogram instead of per litre.
	Unit string
	// Value is at least what it says where Unknown names figures that nobody gave.
	Value float64
	// Low and High are one standard deviation of all figures away.
	Low, High float64
	Unknown   []Column
}

// Known tells whether every figure that the value rests on is known.
func (d *Derived) Known() bool { return len(d.Unknown) == 0 }

// PlusMinus is half of the range in which the value is known.
func (d *Derived) PlusMinus() float64 { return (d.High - d.Low) / 2 }

// derivedProperties are the properties that an ingredient has by itself; those
// of a solid are the ones that are a mass per litre of a drink.
var derivedProperties = []struct {
	property  profile.Property
	ofSolid   bool
	solidUnit string
}{
	{profile.Strength, false, ""},
	{profile.Sugar, true, "g/kg"},
	{profile.Sweetness, true, "g/kg"},
	{profile.Acid, true, "g/kg"},
	{profile.Salt, true, "g/kg"},
	{profile.Bitter, true, "mg/kg"},
	{profile.Umami, false, ""},
	{profile.CarbonDioxide, false, ""},
}

// solidInWater is how much of a solid is put into a kilogram of water to learn
// what it brings; any small amount would do, the properties being linear.
const solidInWater profile.Gram = 1

// Derived returns the properties of the ingredient by itself: strength, sugar,
// sweetness, acid, salt, bitterness, umami, carbon dioxide, energy and caffeine
// of 100 ml or 100 g, and pH, density and Brix where they are known or follow.
func (i *Ingredient) Derived() []Derived {
	unit, spread := i.PerUnit(), i.PerUnitSpread()
	amount, d := 1000.0, profile.Drink{Mix: unit.Scale(1000)}
	perKilogram := 1.0
	if i.Solid {
		amount, d.Mix = float64(solidInWater), unit.Scale(float64(solidInWater))
		d.Mix[profile.WaterGrams] += 1000
		perKilogram = float64(d.Mix.Volume()) / float64(solidInWater)
	}
	var values profile.Values
	var mix, top profile.Gradients
	d.Evaluate(profile.AllProperties, &values, &mix, &top)
	// A litre stays a litre: what there is more of a substance takes the place of
	// its volume of water.
	volume := d.Mix.VolumeGradient()
	slope := func(p profile.Property, c int) float64 {
		return mix[p][c] - mix[p][profile.WaterGrams]*volume[c]/volume[profile.WaterGrams]
	}
	// of carries a property, each times factor, and the ± of every figure to it.
	of := func(p profile.Property, unitText string, factor float64) Derived {
		out := Derived{Name: p.Name(), Unit: unitText, Value: values[p] * factor, Unknown: i.UnknownColumns(p)}
		down, up := 0.0, 0.0
		for c, s := range &spread {
			term := slope(p, c) * s * amount * factor
			down, up = down+term*term, up+term*term
		}
		if p == profile.Bitter && !i.HasOwnBitterness() {
			lower, higher := out.Value*(1-1/float64(BitternessFactor)), out.Value*(BitternessFactor-1)
			down, up = down+lower*lower, up+higher*higher
		}
		out.Low, out.High = max(0, out.Value-math.Sqrt(down)), out.Value+math.Sqrt(up)
		return out
	}
	var all []Derived
	for _, one := range derivedProperties {
		switch {
		case !i.Solid:
			all = append(all, of(one.property, one.property.Unit(), 1))
		case one.ofSolid:
			all = append(all, of(one.property, one.solidUnit, perKilogram))
		}
	}
	part, hundred := 100/amount, "100 ml"
	if i.Solid {
		hundred = "100 g"
	}
	all = append(all, of(profile.Energy, "kcal in "+hundred, part), of(profile.Caffeine, "mg in "+hundred, part))
	return append(all, i.readings()...)
}

// readings are what a bar's instruments show of the ingredient.
func (i *Ingredient) readings() []Derived {
	figure := func(name, unit string, c Column) Derived {
		f := i.Figures[c]
		out := Derived{Name: name, Unit: unit, Value: f.Value, Low: f.Value - f.Spread, High: f.Value + f.Spread}
		if !f.Known {
			out.Unknown = []Column{c}
		}
		return out
	}
	all := []Derived{figure("ph", "", PH), figure("density", "g/ml", DensityGramsPerMillilitre)}
	if density := &all[1]; !density.Known() && !i.Solid {
		density.Value = float64(i.PerUnit().Mass())
		density.Low, density.High, density.Unknown = density.Value, density.Value, nil
	}
	if brix, spread, ok := i.Brix(); ok {
		all = append(all, Derived{Name: "brix", Unit: "°Bx", Value: brix, Low: max(0, brix-spread), High: brix + spread})
	}
	return all
}

// DerivedNames are the names that Derived may give, in its order.
func DerivedNames() []string {
	var all []string
	for _, one := range derivedProperties {
		all = append(all, one.property.Name())
	}
	return append(all, profile.Energy.Name(), profile.Caffeine.Name(), "ph", "density", "brix")
}
