package profile

import "math"

// Rocks is the ice in the glass and the room that the glass stands in.
type Rocks struct {
	// Mass of the ice in the glass, and its temperature, 0 °C or below.
	Mass Gram
	At   Celsius
	// Drained ice brings no surface water: the drink has that of it already.
	Drained bool
	// Room is the temperature of the room.
	Room Celsius
}

// Two numbers say how a glass at rest exchanges heat. No published melt rate of
// a served glass was found; both are estimates.
const (
	// roomConductance is what the room gives to a glass, in W per kelvin: a glass
	// of 300 ml in a room of 22 °C gains 10 to 15 W near freezing.
	roomConductance = 12.5 / 22
	// iceTime is the time in seconds in which a drink at rest comes by a factor
	// e nearer to the temperature of its ice, for as much ice as drink.
	iceTime = 90.0
)

// rocksStep is the step of the integration in seconds: a fiftieth of the time in
// which a drink with five times its mass in ice comes nearer by a factor e.
const rocksStep = 0.25

// Sip is the drink in the glass at one moment.
type Sip struct {
	Minutes float64
	// Melted is the water since the drink was poured over the ice.
	Melted      Gram
	Temperature Celsius
	Values      Values
}

// OnTheRocks returns the drink at the given minutes after it was poured over
// ice, minutes rising from 0. The surface water of the ice joins at once, unless
// it is drained. Then heat flows from the room to the drink and from the drink to the ice, which
// warms to the drink's freezing point and melts there:
//
//	dH/dt = U (T_room - T) - q, q = C/τ (m_ice/m_drink) (T - T_f)
//	dm/dt = q / (L - cᵢ T_ice)  once the ice is no colder than T_f
//
// H heat content, T temperature, T_f freezing point, C heat capacity of the
// drink, L heat of fusion. Ice warmer than T_f cools with the same τ, and its heat
// goes into q. With 0 grams of ice it is the drink served up, which the room warms.
func (f *Finished) OnTheRocks(rocks Rocks, minutes []float64) []Sip {
	s := f.State
	iceMass, iceAt := float64(rocks.Mass), math.Min(float64(rocks.At), 0)
	poured := s[WaterGrams]
	if iceAt == 0 && !rocks.Drained {
		wet := SurfaceWater * iceMass
		s[WaterGrams] += wet
		iceMass -= wet
	}
	var out []Sip
	now := 0.0
	for _, minute := range minutes {
		for ; now+rocksStep/2 < 60*minute; now += rocksStep {
			iceMass, iceAt = s.rest(rocksStep, float64(rocks.Room), iceMass, iceAt)
		}
		sip := Sip{Minutes: minute, Melted: Gram(s[WaterGrams] - poured), Temperature: s.TemperatureAlone()}
		still := Drink{Mix: s}
		still.Evaluate(AllProperties, &sip.Values, nil, nil)
		if before := f.State[WaterGrams] - float64(f.Water); before > 0 {
			sip.Values[Dilution] = f.Values[Dilution] + 100*float64(sip.Melted)*MeltMillilitresPerGram/f.mixVolume()
		}
		out = append(out, sip)
	}
	return out
}

// mixVolume is the volume before ice, which the dilution is a part of; the
// drink's own where it met no ice.
func (f *Finished) mixVolume() float64 {
	if f.Values[Dilution] > 0 {
		return 100 * float64(f.Water) * MeltMillilitresPerGram / f.Values[Dilution]
	}
	return f.Values[Volume]
}

// rest moves the drink and its ice on by so many seconds.
func (s *State) rest(seconds, room, iceMass, iceAt float64) (mass, at float64) {
	t := s.temperature(nil)
	_, capacity := s.heatContent(t, nil)
	if capacity <= 0 {
		return iceMass, iceAt
	}
	s[HeatJoules] += seconds * roomConductance * (room - t)
	if iceMass <= 0 {
		return 0, iceAt
	}
	freezing := s.freezingPoint(nil)
	drink := float64(s.Mass())
	flow := seconds / iceTime * capacity * iceMass / drink * (t - freezing)
	if iceAt < freezing {
		warmed := math.Max(0, math.Min(flow, (freezing-iceAt)*iceMass*iceHeatCapacity))
		iceAt += warmed / (iceMass * iceHeatCapacity)
		s[HeatJoules] -= warmed
		flow -= warmed
	} else {
		// Ice warmer than the drink's freezing point cools, and melts by it.
		cooled := (iceAt - freezing) * seconds / iceTime
		iceAt -= cooled
		s[HeatJoules] += cooled * iceMass * iceHeatCapacity
		flow += cooled * iceMass * iceHeatCapacity
	}
	perGram := heatOfFusion - iceHeatCapacity*iceAt
	melt := math.Max(0, math.Min(flow/perGram, iceMass))
	s[WaterGrams] += melt
	s[HeatJoules] -= melt * perGram
	return iceMass - melt, iceAt
}
