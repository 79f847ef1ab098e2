package pantry

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"minim/profile"
)

// coldestIce is that of a laboratory freezer; common practice, no source.
const coldestIce profile.Celsius = -80

// mostWaterPercent is more melt than any method gives; common practice, no source.
const mostWaterPercent = 1000

// readIce reads what follows ice:
//
//	shake                              the usual ice
//	shake at -10 °C                    colder ice
//	{shake: 130 g, at: -10 °C}         so much of it
//	{stir: 25 % water}                 the melt given, whatever heat says
func (r *specReader) readIce(n *yaml.Node) {
	r.spec.IceStated = true
	if n.Kind == yaml.MappingNode {
		r.readIceMapping(n)
		return
	}
	r.spec.Ice, _ = scalar(r, n, "a method: "+strings.Join(profile.MethodNames(), ", "), parseIceWord)
}

func parseIceWord(text string) (profile.Ice, *mistake) {
	name, at, cold := strings.Cut(text, " at ")
	method, wrong := methodNamed(strings.TrimSpace(name))
	if wrong != nil {
		return profile.Ice{}, wrong
	}
	ice := profile.Ice{Method: method}
	if cold {
		ice.At, wrong = parseIceTemperature(strings.TrimSpace(at))
		if wrong == nil {
			wrong = iceOfNone(ice)
		}
	}
	return ice, wrong
}

func (r *specReader) readIceMapping(n *yaml.Node) {
	var ice profile.Ice
	methodSeen := ""
	for key, value := range pairs(n) {
		if r.refused[key] || r.refused[value] {
			continue
		}
		if key.Value == "at" {
			ice.At, _ = scalar(r, value, "a temperature such as -10 °C", parseIceTemperature)
			continue
		}
		method, wrong := methodNamed(key.Value)
		if wrong != nil {
			wrong.message += ", or at"
			r.refuse(key, wrong)
			continue
		}
		if methodSeen != "" {
			r.refuse(key, &mistake{message: fmt.Sprintf("%s after %s; expected one method", key.Value, methodSeen), hint: "a drink meets its ice once; delete one of the two"})
			continue
		}
		methodSeen = key.Value
		amount, ok := scalar(r, value, "the ice, such as 130 g, its water, such as 25 % water, or to -5 °C", parseIceAmount)
		if ok {
			at := ice.At
			ice = amount
			ice.Method, ice.At = method, at
		}
		if wrong := iceOfNone(ice); ok && method == profile.NoIce {
			r.refuse(key, wrong)
		}
	}
	if methodSeen == "" && !slices.ContainsFunc(n.Content, func(c *yaml.Node) bool { return r.refused[c] }) {
		r.refuse(n, &mistake{message: "ice without a method; expected one of " + strings.Join(profile.MethodNames(), ", "), hint: "write shake at -10 °C, or {shake: 130 g, at: -10 °C}"})
	}
	r.spec.Ice = ice
}

// iceOfNone is a temperature or an amount of no ice.
func iceOfNone(ice profile.Ice) *mistake {
	if ice.Method != profile.NoIce {
		return nil
	}
	return &mistake{message: "no ice, and yet its amount or temperature; expected one or the other", hint: "write none alone, or name a method"}
}

func methodNamed(name string) (profile.Method, *mistake) {
	if m, ok := profile.MethodNamed(name); ok {
		return m, nil
	}
	wrong := &mistake{message: fmt.Sprintf("no method %q; expected one of %s", clip(name), strings.Join(profile.MethodNames(), ", ")), part: name}
	said := map[string]string{"no": "none", "no ice": "none", "throw": "stir", "swizzle": "build", "blender": "blend", "on the rocks": "build"}
	near := said[strings.ToLower(name)]
	if near == "" {
		near = methodBegun(name)
	}
	if near == "" {
		near = lookalike(name, append([]string{"shaken", "stirred", "blended", "built"}, profile.MethodNames()...))
	}
	if plain, ok := map[string]string{"shaken": "shake", "stirred": "stir", "blended": "blend", "built": "build"}[near]; ok {
		near = plain
	}
	if near != "" {
		wrong.hint = "nearest: " + near
	}
	return 0, wrong
}

// methodBegun is the method that stands first in longer words: the shake of
// "shake 20 s".
func methodBegun(name string) string {
	words := strings.Fields(strings.ToLower(name))
	if len(words) < 2 {
		return ""
	}
	if m, ok := profile.MethodNamed(words[0]); ok {
		return m.Name()
	}
	return ""
}

// parseIceAmount reads a mass of ice, the water that it gives, or the temperature
// that it brings the drink to.
func parseIceAmount(text string) (profile.Ice, *mistake) {
	if rest, ok := cutWord(text, "to"); ok {
		t, wrong := parseTemperature(rest)
		return profile.Ice{TemperatureFixed: true, Temperature: t}, wrong
	}
	number, unit := splitNumber(text)
	switch foldUnit(unit) {
	case "% water", "%water", "% of water":
		percent, wrong := parseSigned(number)
		if wrong == nil && !(percent >= 0 && percent <= mostWaterPercent) {
			wrong = &mistake{message: fmt.Sprintf("%q; expected from 0 to %d %% water", clip(text), mostWaterPercent)}
		}
		return profile.Ice{WaterFixed: true, WaterPercent: percent + 0}, wrong
	case "%", "percent", "per cent":
		return profile.Ice{}, &mistake{
			message: fmt.Sprintf("%q of what; expected a mass of ice, or water as a percentage of the mix", clip(text)),
			hint:    fmt.Sprintf("write %s %% water", clip(number)),
		}
	}
	a, wrong := parsePositiveAmount(text)
	if wrong == nil && a.Unit != Grams && a.Unit != Kilograms {
		wrong = &mistake{message: fmt.Sprintf("%q is not a mass of ice; expected g, or water such as 25 %% water", clip(text))}
	}
	mass := profile.Gram(a.Value) * unitTable[a.Unit].grams
	if wrong == nil && mass > largestMagnitude {
		wrong = &mistake{message: fmt.Sprintf("%q is more than a tonne; expected the ice of one drink", clip(text))}
	}
	return profile.Ice{Mass: mass}, wrong
}

func parseIceTemperature(text string) (profile.Celsius, *mistake) {
	t, wrong := parseTemperature(text)
	switch {
	case wrong != nil:
		return t, wrong.within(text)
	case t > 0:
		return t, &mistake{message: fmt.Sprintf("ice at %q; above 0 °C it is water", clip(text)), hint: "leave it out for wet ice, or write at -10 °C for ice from a freezer", part: text}
	case t < coldestIce:
		return t, &mistake{message: fmt.Sprintf("ice at %q; expected %g °C or above", clip(text), float64(coldestIce)), part: text}
	}
	return t, nil
}
