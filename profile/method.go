package profile

import "slices"

// Method is how a drink meets its ice.
type Method int

// The methods.
const (
	NoIce Method = iota
	Build
	Stir
	Shake
	Blend

	methods int = iota
)

var methodNames = [methods]string{NoIce: "none", Build: "build", Stir: "stir", Shake: "shake", Blend: "blend"}

// Name returns the word for the method in files, flags and tables.
func (m Method) Name() string { return methodNames[m] }

// MethodNames returns the names of all methods.
func MethodNames() []string { return slices.Clone(methodNames[:]) }

// MethodNamed returns the method of that exact name.
func MethodNamed(name string) (Method, bool) {
	for m, n := range methodNames {
		if n == name {
			return Method(m), true
		}
	}
	return 0, false
}

// Ice is what happens to the mix between the tin and the glass. The zero value
// is no ice.
type Ice struct {
	Method Method
	// Mass of the ice; 0 means two grams for each gram of mix. Fixed water needs
	// none: there is as much ice as it takes.
	Mass Gram
	// At is the temperature of the ice, 0 °C or below.
	At Celsius
	// WaterFixed says that the melt is WaterPercent, whatever heat says.
	WaterFixed bool
	// WaterPercent is ml of melted water per 100 ml of mix at 20 °C.
	WaterPercent float64
	// TemperatureFixed says that the method goes on until the drink is at
	// Temperature, and melts what that takes. It gets no colder than at rest with
	// its ice, and no warmer than it was.
	TemperatureFixed bool
	Temperature      Celsius
}
