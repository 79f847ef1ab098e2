package profile

// Property numbers what can be said, aimed at or limited about a finished drink.
type Property int

// The properties, in the order in which they are printed.
const (
	Volume Property = iota
	Strength
	Sugar
	Sweetness
	Acid
	PH
	Salt
	Bitter
	Umami
	Temperature
	Dilution
	CarbonDioxide
	Viscosity
	Ethanol
	Energy
	Caffeine

	// Properties is how many there are.
	Properties int = iota
)

// propertyFacts is what is fixed about each property.
var propertyFacts = [Properties]struct {
	name, unit string
	jnd        JND
	zero       bool
}{
	Volume:        {name: "volume", unit: "ml"},
	Strength:      {name: "abv", unit: "% vol", jnd: strengthJND, zero: true},
	Sugar:         {name: "sugar", unit: "g/L", jnd: sweetJND, zero: true},
	Sweetness:     {name: "sweetness", unit: "g/L", jnd: sweetJND, zero: true},
	Acid:          {name: "acid", unit: "g/L", jnd: acidJND, zero: true},
	PH:            {name: "ph", unit: ""},
	Salt:          {name: "salt", unit: "g/L", jnd: saltJND, zero: true},
	Bitter:        {name: "bitter", unit: "mg/L", jnd: bitterJND, zero: true},
	Umami:         {name: "umami", unit: "g/L", jnd: umamiJND, zero: true},
	Temperature:   {name: "temperature", unit: "°C", jnd: temperatureJND},
	Dilution:      {name: "dilution", unit: "%", zero: true},
	CarbonDioxide: {name: "co2", unit: "g/L", jnd: carbonationJND, zero: true},
	Viscosity:     {name: "viscosity", unit: "mPa·s", jnd: viscosityJND, zero: true},
	Ethanol:       {name: "ethanol", unit: "g", zero: true},
	Energy:        {name: "energy", unit: "kcal", zero: true},
	Caffeine:      {name: "caffeine", unit: "mg", zero: true},
}

// Name returns the word for the property in files, flags and tables.
func (p Property) Name() string { return propertyFacts[p].name }

// Unit returns the unit of the property's values: ml, % vol, g/L, mg/L, °C,
// % (ml of melted water per 100 ml before ice), mPa·s, g, kcal or mg a serve;
// empty for ph, which has none.
func (p Property) Unit() string { return propertyFacts[p].unit }

// NonNegative tells whether the property can never be below zero.
func (p Property) NonNegative() bool { return propertyFacts[p].zero || p == Volume }

// PropertyNamed returns the property of that exact name.
func PropertyNamed(name string) (Property, bool) {
	for p := range propertyFacts {
		if propertyFacts[p].name == name {
			return Property(p), true
		}
	}
	return 0, false
}

// PropertyNames returns the names of all properties, in printing order.
func PropertyNames() []string {
	names := make([]string, Properties)
	for p := range propertyFacts {
		names[p] = propertyFacts[p].name
	}
	return names
}

// JND returns the size law of the property's just-noticeable difference; ok is
// false for the properties that have none (volume, ph, dilution, ethanol, energy,
// caffeine).
func (p Property) JND() (j JND, ok bool) {
	j = propertyFacts[p].jnd
	return j, j.Threshold > 0
}
