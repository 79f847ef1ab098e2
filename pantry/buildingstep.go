package pantry

import (
	"fmt"

	"minim/profile"
)

// BuildingSteps returns how the drink is made, a sentence a step, in the order of
// building: the mix, the ice, each top and each finish. A recipe with these steps
// is read back to the same ice, tops and finish (see ReadRecipe). Of a prep they
// are its own steps and how it is kept, which no recipe says back.
func (s *Spec) BuildingSteps() []string {
	if s.Makes != nil {
		return s.makingSteps()
	}
	var steps []string
	if len(s.Mix) > 0 {
		steps = append(steps, mixStep(s.Ice.Method), iceStep(s.Ice))
	}
	for _, p := range s.Top {
		steps = append(steps, topWords+p.Name+".")
	}
	for _, text := range s.Finish {
		steps = append(steps, finishWords+text)
	}
	return steps
}

// makingSteps are those of a prep.
func (s *Spec) makingSteps() []string {
	steps := []string{"Mix it in one vessel."}
	for n := range s.Steps {
		steps = append(steps, s.Steps[n].Sentence())
	}
	if s.Makes.Volume > 0 {
		steps = append(steps, "It makes "+Amount{float64(s.Makes.Volume), Millilitres}.String()+".")
	}
	if words := keepsWords(s.Makes); words != "" {
		steps = append(steps, "Keeps: "+words+".")
	}
	return steps
}

// The words with which the steps of top and finish begin.
const (
	topWords    = "Top with "
	finishWords = "Finish: "
)

// mixStep says where the mix goes.
func mixStep(m profile.Method) string {
	vessel := map[profile.Method]string{
		profile.NoIce: "the glass", profile.Build: "the glass", profile.Stir: "a mixing glass", profile.Shake: "a shaker", profile.Blend: "a blender",
	}[m]
	return "Measure the mix into " + vessel + "."
}

// iceWords are how a step with ice begins.
var iceWords = map[profile.Method]string{
	profile.Build: "Build over", profile.Stir: "Stir with", profile.Shake: "Shake with", profile.Blend: "Blend with",
}

const withoutIce = "Serve it without ice."

// iceStep says what ice does to the mix.
func iceStep(ice profile.Ice) string {
	if ice.Method == profile.NoIce {
		return withoutIce
	}
	text := iceWords[ice.Method] + " ice"
	if ice.Mass != 0 {
		text = fmt.Sprintf("%s %s of ice", iceWords[ice.Method], Amount{float64(ice.Mass), Grams})
	}
	if ice.At != 0 {
		text += " at " + celsiusText(ice.At)
	}
	switch {
	case ice.WaterFixed:
		text += " until " + formatMagnitude(ice.WaterPercent) + " % water has melted in"
	case ice.TemperatureFixed:
		text += " until it is at " + celsiusText(ice.Temperature)
	}
	return text + "."
}
