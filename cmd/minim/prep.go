package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

var prepCommand = command{
	name:     "prep",
	synopsis: "prep FILE --for DRINK",
	summary:  "solve a prep so that its drinks come out right",
	about: `A prep is a spec with makes: in the place of glass:, and an ingredient of every
spec beside it that pours it by its name or its file's. This finds its open
pours so that the drinks that pour it come out right together, in steps of 1 g
on the scale and 5 ml in the jug, or the prep's own measure. In a prep,

  makes: {volume: 750 ml, keeps: 14 days, store: fridge}
  steps:
    - steep: {dried hibiscus: 20 g, for: 20 min, gives: {citric: 60 mg/g}}
    - strain: loses 40 ml
    - clarify: loses 10 %
    - reduce: to 500 ml        (or: to 600 g; to 45 °Bx)
    - dilute: to 1 l           (or: with 200 ml)
    - carbonate: 4 volumes     (or: 8 g/L)

each step in its turn, all of them optional.`,
	example: `minim prep examples/preps/tide-base.yaml --for examples/preps/ebb-tide.yaml`,
	schema:  "prep",
	flags: func(f *flags) {
		f.set.StringArrayVar(&f.drinks, "for", nil, "a `DRINK` that pours the prep and says what it should come to (repeatable)")
		f.specFlags("print the filled-in prep")
	},
	run: prep,
}

func prep(f *flags, s streams) error {
	switch {
	case len(f.args) != 1:
		return fmt.Errorf("%d files named; expected one prep", len(f.args))
	case f.args[0] == "-":
		return errors.New("a prep on standard input; expected its file, which its drinks stand beside")
	case len(f.drinks) == 0:
		return errors.New("no drink to solve it for; expected --for DRINK.yaml")
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	if _, err := f.readSpec(f.args[0], s); err != nil {
		return err
	}
	var questions []solver.Question
	var specs []*pantry.Spec
	for _, name := range f.drinks {
		q := solver.Question{}
		if q.Spec, err = f.readSpec(name, s); err != nil {
			return err
		}
		if q.Spec.Makes != nil {
			return fmt.Errorf("%s: a prep; expected a drink after --for", name)
		}
		if q.Like, err = f.readLike(q.Spec, s); err != nil {
			return err
		}
		questions = append(questions, q)
		specs = append(specs, q.Spec, q.Like)
	}
	if shelf, err = f.withPreps(shelf, specs...); err != nil {
		return err
	}
	if err := poursPrep(shelf, f.args[0]); err != nil {
		return err
	}
	for i := range questions {
		questions[i].Shelf = shelf
	}
	answer, err := solver.SolvePreps(questions)
	if err != nil {
		return err
	}
	return f.printPrep(answer, s)
}

// poursPrep tells whether the drinks pour the prep of a file, and whether it has
// anything to find.
func poursPrep(shelf *pantry.Shelf, file string) error {
	for _, p := range shelf.Preps() {
		if filepath.Clean(p.Spec.File) != filepath.Clean(file) {
			continue
		}
		if !p.Open() {
			return fmt.Errorf("%s: no pour is open; expected one or more to find, such as `sugar: open`", file)
		}
		return nil
	}
	return fmt.Errorf("%s: no drink after --for pours it; expected one beside it that names the prep or its file", file)
}

// printPrep writes solved preps and their drinks as the flags ask for it.
func (f *flags) printPrep(a *solver.PrepAnswer, s streams) error {
	var err error
	switch {
	case f.spec:
		err = f.writeSpec(f.solvedSpec(a), s)
	case f.json:
		err = writePrepJSON(s.out, a)
	default:
		err = writePrepAnswer(s.out, a, f.liquidUnit(f.solvedSpec(a)))
	}
	if err != nil {
		return &writeError{err}
	}
	said := map[string]bool{}
	broken := false
	for _, drink := range a.Drinks {
		broken = broken || len(drink.Broken) > 0
		for _, note := range drink.Notes {
			if !said[note] {
				said[note] = true
				fmt.Fprintln(s.err, wrap("note: "+note, lineWidth))
			}
		}
	}
	if broken {
		return errLimitBroke
	}
	return nil
}

// solvedSpec is the filled-in spec of the prep that was named.
func (f *flags) solvedSpec(a *solver.PrepAnswer) *pantry.Spec {
	for i := range a.Preps {
		if spec := a.Preps[i].Prep.Spec; filepath.Clean(spec.File) == filepath.Clean(f.args[0]) {
			return spec
		}
	}
	panic("main: the solved preps lack the one that was asked for")
}

// writePrepAnswer prints what goes into each prep, what it comes to, and how its
// drinks do.
func writePrepAnswer(w io.Writer, a *solver.PrepAnswer, unit liquidUnit) error {
	var b strings.Builder
	for i := range a.Preps {
		p := a.Preps[i].Prep
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString(wrap(p.Ingredient.Name+", "+unit.volume(float64(p.Yield))+" of it", lineWidth) + "\n\n")
		if err := writePours(&b, solver.PouredParts(p), unit); err != nil {
			return err
		}
		if err := writeMakes(&b, p, unit); err != nil {
			return err
		}
	}
	files := make([]string, len(a.Drinks))
	for n, drink := range a.Drinks {
		files[n] = drink.Spec.File
	}
	names := drinkNames(a.Drinks, files)
	for n, drink := range a.Drinks {
		b.WriteString("\n" + wrap("With it, "+names[n]+", "+unit.volume(drink.Profile[profile.Volume].Value)+" in the glass:", lineWidth) + "\n\n")
		if err := writePours(&b, drink.Pours, unit); err != nil {
			return err
		}
		if err := writeMisses(&b, drink, unit); err != nil {
			return err
		}
		b.WriteString("\n" + wrap(missedBy(drink), lineWidth) + "\n")
	}
	b.WriteString("\n" + wrap(prepFound, lineWidth) + "\n")
	_, err := io.WriteString(w, trimLines(b.String()))
	return err
}

// prepFound says how far a solved prep may be trusted.
const prepFound = "The amounts of a prep are the best found on the scale and in the jug; better ones are not ruled out."

// missedBy says in a sentence how near a drink is.
func missedBy(a *solver.Answer) string {
	if a.TotalJND < profile.Perceptible {
		return "On target, as far as anyone could taste, on the properties computed."
	}
	return fmt.Sprintf("In all %s JND from the target, on the properties computed.", fixed(a.TotalJND, 1))
}

type jsonPrepAnswer struct {
	Objective  float64       `json:"objective"`
	Continuous float64       `json:"continuous"`
	KKT        float64       `json:"kkt"`
	Proven     bool          `json:"proven"`
	Preps      []jsonPrep    `json:"preps"`
	Drinks     []*jsonAnswer `json:"drinks"`
}

func writePrepJSON(w io.Writer, a *solver.PrepAnswer) error {
	out := jsonPrepAnswer{Objective: digits(a.Objective), Continuous: digits(a.Continuous), KKT: digits(a.KKT), Preps: []jsonPrep{}, Drinks: []*jsonAnswer{}}
	for i := range a.Preps {
		out.Preps = append(out.Preps, prepJSON(a.Preps[i].Prep, a.Preps[i].Solved, a.Shelf.Preps()))
	}
	for _, drink := range a.Drinks {
		out.Drinks = append(out.Drinks, answerJSON(drink))
	}
	return writeValue(w, out)
}
