package solver

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"minim/pantry"
	"minim/profile"
)

// named puts the file's name before an error that has no place of its own.
func named(spec *pantry.Spec, err error) error {
	var located pantry.InputErrors
	if errors.As(err, &located) {
		return err
	}
	return fmt.Errorf("%s: %w", spec.File, err)
}

// reportPrep is the profile of a prep by itself, all pours of which are written.
func reportPrep(q Question) (*Answer, error) {
	shelf, prep, err := q.Shelf.WithPrep(q.Spec)
	if err != nil {
		return nil, err
	}
	return answerPrep(shelf, prep)
}

// designPrep finds the open pours of a prep for its own target.
func designPrep(q Question) (*Answer, error) {
	shelf, prep, err := q.Shelf.WithPrep(q.Spec)
	if err != nil {
		return nil, err
	}
	if !prep.Open() && !openPreps(q) {
		return answerPrep(shelf, prep)
	}
	m, err := newPrepModel(shelf, nil)
	if err != nil {
		return nil, err
	}
	out, err := m.answer(shelf, nil)
	if err != nil {
		return nil, err
	}
	filled := out.Shelf.Preps()
	a, err := answerPrep(out.Shelf, filled[len(filled)-1])
	if err != nil {
		return nil, err
	}
	least := a.Solution.Objective
	a.found(out)
	a.Solution.Least = least
	if last := len(out.Preps) - 1; out.Preps[last].Prep == a.Prep {
		for i := range a.Pours {
			a.Pours[i].Solved = out.Preps[last].Solved[i]
		}
		a.SolvedPreps = out.Preps[:last]
	}
	return a, nil
}

// answerPrep is what a prep comes to: one making of it as a drink without ice.
func answerPrep(shelf *pantry.Shelf, prep *pantry.Prep) (*Answer, error) {
	name := prep.Ingredient.Name
	alone := pantry.Spec{
		File: prep.Spec.File, Name: name, Measure: prep.Spec.Measure, Target: prep.Spec.Target,
		Mix: []pantry.Pour{pantry.FixedPour(name, pantry.Amount{Value: float64(prep.Yield), Unit: pantry.Millilitres})},
	}
	w, err := newWork(Question{Spec: &alone, Shelf: shelf})
	if err != nil {
		return nil, err
	}
	w.making = true
	a, err := w.answer(w.problem, nil, Solution{Proven: true, PreferenceProven: true})
	if err != nil {
		return nil, err
	}
	a.Tolerance = nil
	a.Spec, a.Prep = prep.Spec, prep
	a.Pours = PouredParts(prep)
	a.Preps = prepsOf(prep.Spec, shelf)
	a.Notes = append(a.Notes, notesOf(a.Preps)...)
	w.gasInTheVessel(a)
	a.Cautions = w.cautions(a)
	return a, nil
}

// gasInTheVessel puts the gas that a prep holds in its keg or bottle, as a gauge
// shows it, in the place of what is left when it is poured, and says what that is.
// A target stays on what is poured.
func (w *work) gasInTheVessel(a *Answer) {
	held, poured := 1000*a.Prep.Ingredient.PerUnit()[profile.CarbonDioxideGrams], &a.Profile[profile.CarbonDioxide]
	if held <= poured.Value {
		return
	}
	volumes := func(perLitre float64) float64 { return profile.CarbonDioxideVolumes(profile.GramPerLitre(perLitre)) }
	if w.targetOf(profile.CarbonDioxide) != nil {
		a.Notes = append(a.Notes, fmt.Sprintf("co2 is what is left in the glass; closed, it holds %.1f g/L (%.1f volumes)", held, volumes(held)))
		return
	}
	a.Notes = append(a.Notes, fmt.Sprintf("co2 is what it holds closed, as a gauge shows it; poured at %.0f °C, about %.1f g/L (%.1f volumes) are left, which a drink of it counts",
		a.Profile[profile.Temperature].Value, poured.Value, volumes(poured.Value)))
	spread := 1000 * a.Prep.Ingredient.PerUnitSpread()[profile.CarbonDioxideGrams]
	poured.Value, poured.Low, poured.High = held, max(0, held-spread), held+spread
}

// PouredParts are the pours of one making of a prep.
func PouredParts(prep *pantry.Prep) []PouredAmount {
	var pours []PouredAmount
	for n := range prep.Parts {
		part := &prep.Parts[n]
		pours = append(pours, PouredAmount{
			Ingredient: part.Ingredient, Name: part.Name, Stage: InMix, Amount: part.Amount, Base: part.Base,
			Grams: part.Unit(part.Ingredient.PerUnit()).Scale(part.Base).Mass(),
		})
	}
	return pours
}

// notesOf are what the makers of preps should know.
func notesOf(preps []*pantry.Prep) []string {
	var notes []string
	for _, p := range preps {
		notes = append(notes, p.Notes...)
	}
	return notes
}

// remarkPreps names the preps that went into the drink, and what their makers
// should know.
func (w *work) remarkPreps(a *Answer) {
	a.Preps = prepsOf(w.question.Spec, w.question.Shelf)
	a.Notes = append(a.Notes, notesOf(a.Preps)...)
}

// noteStillOpen says how the amounts that were found come into the prep's file.
func (a *Answer) noteStillOpen(shelf *pantry.Shelf) {
	for i := range a.SolvedPreps {
		file := a.SolvedPreps[i].Prep.Spec.File
		a.Notes = append(a.Notes, fmt.Sprintf("%s is still open in its file; `minim prep %s --for %s%s --spec` prints it filled in",
			a.SolvedPreps[i].Prep.Ingredient.Name, quoted(file), quoted(a.Spec.File), ownFiles(shelf)))
	}
}

// quoted is a file's name as a command line takes it.
func quoted(file string) string {
	if strings.ContainsAny(file, " '\"") {
		return strconv.Quote(file)
	}
	return file
}

// unknownNames names what brings an unknown amount of p in a pour: the pour, or
// the parts of a prep.
func (w *work) unknownNames(n int, p profile.Property) []string {
	if parts := w.question.Shelf.UnknownParts(w.pours[n].ingredient, p); len(parts) > 0 {
		return parts
	}
	return []string{w.pours[n].written.Name}
}
