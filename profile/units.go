package profile

// Physical quantities. The type carries the unit, so that a signature says
// what it wants; conversions are methods.
type (
	// Millilitre is a volume at 20 °C unless the field says otherwise.
	Millilitre float64
	// Gram is a mass.
	Gram float64
	// GramPerLitre is a concentration by mass in a litre of the drink at 20 °C.
	GramPerLitre float64
	// MilligramPerLitre is a concentration by mass in a litre of the drink at 20 °C.
	MilligramPerLitre float64
	// PercentVolume is an alcoholic strength: ml of ethanol in 100 ml, both at 20 °C.
	PercentVolume float64
	// MassFraction is grams of a part per gram of the whole, 0 to 1.
	MassFraction float64
	// Celsius is a temperature.
	Celsius float64
	// KilogramPerCubicMetre is a density; it is also grams per litre.
	KilogramPerCubicMetre float64
	// Joule is an amount of heat.
	Joule float64
)

// Millilitres in the measures of the trade.
const (
	// USFluidOunce is 231 cubic inches divided by 128, exactly 29.5735295625 ml.
	USFluidOunce Millilitre = 29.5735295625
	// ImperialFluidOunce is 4.54609 litres divided by 160, exactly 28.4130625 ml.
	ImperialFluidOunce Millilitre = 28.4130625
	// Teaspoon is the metric teaspoon; common practice, no source.
	Teaspoon Millilitre = 5
	// Barspoon is common practice, no source: spoons hold 2.5 to 5 ml.
	Barspoon Millilitre = 5
	// Dash is 1/32 US fluid ounce; common practice, no source: dashes run from 0.6 to 1.25 ml.
	Dash Millilitre = 0.92
	// Drop is 1/20 ml; common practice, no source: drops run from 0.024 to 0.05 ml.
	Drop Millilitre = 0.05
	// Pinch is a mass; common practice, no source.
	Pinch Gram = 0.3
)
