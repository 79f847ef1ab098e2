package main

import (
	"io"
	"strings"

	"minim/profile"
	"minim/solver"
)

// writeMessage writes a drink as plain text that fits a message: one short line
// for each pour and step, the cautions by name.
func writeMessage(w io.Writer, a *solver.Answer, f *flags) error {
	lines := []string{drinkName(a)}
	for i := range a.Pours {
		lines = append(lines, f.pourText(&a.Pours[i])+" "+a.Pours[i].Name)
	}
	lines = append(lines, a.Spec.BuildingSteps()...)
	lines = append(lines, f.shortProfile(a))
	var care []string
	for i := range a.Cautions {
		c := &a.Cautions[i]
		if c.Key == profile.AllergensKey {
			allergens, _, _ := strings.Cut(c.Text, ". ")
			lines = append(lines, c.Title+": "+allergens)
			continue
		}
		of := ""
		if len(c.Ingredients) > 0 {
			of = " (" + strings.Join(c.Ingredients, ", ") + ")"
		}
		care = append(care, strings.ToLower(c.Title)+of)
	}
	if len(care) > 0 {
		lines = append(lines, "Care: "+strings.Join(care, "; "))
	}
	_, err := io.WriteString(w, strings.Join(lines, "\n")+"\n")
	return err
}
