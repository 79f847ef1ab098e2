package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

var designCommand = command{
	name:     "design",
	synopsis: "design FILE",
	summary:  "find the amounts that hit a target",
	about: `Solves the open pours of a spec, or finds a drink from flags alone: what to
pour, how far each property is from its target and whether anyone could taste
it, and what holds the drink back. Amounts are on your measures: 2.5 ml unless
the spec or --measure says otherwise. A target is 18, a band 65..70, or a limit
"at most 15" or "at least 9".`,
	example: `minim design --abv 16 --acid 8 --volume 120 --from "gin, lime, rich syrup"`,
	schema:  "design",
	flags: func(f *flags) {
		f.specFlags("print the filled-in spec")
		f.set.BoolVar(&f.robust, "robust", false, "among drinks that taste alike, and with as few ingredients, take the one whose serves are least often noticeably off")
		f.set.StringArrayVar(&f.from, "from", nil, "ingredients to choose from, `NAMES` with commas between; beside --at-most categories such as spirit too")
		f.choiceFlags()
		f.set.StringVar(&f.ice, "ice", "", "the ice `METHOD`: build, stir, shake, blend or none; unsaid, it is shake with juice, egg or dairy, else stir")
		f.set.StringVar(&f.measure, "measure", "", "smallest liquid `MEASURE`, such as 5ml or 0.25oz")
		f.set.StringVar(&f.glass, "glass", "", "the `VOLUME` that the glass holds, ice aside, such as 180ml")
		f.set.StringVar(&f.name, "name", "", "the `NAME` of the drink")
		f.targetFlags()
		f.costFlags()
	},
	run: design,
}

func design(f *flags, s streams) error {
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	q := solver.Question{Shelf: shelf}
	if err := f.checkQuotes(); err != nil {
		return err
	}
	if err := f.checkChoice(); err != nil {
		return err
	}
	iceChosen := false
	switch {
	case len(f.args) > 1:
		return fmt.Errorf("%d files named; expected one", len(f.args))
	case len(f.args) == 1:
		if name := f.firstTarget(); name != "" {
			return fmt.Errorf("--%s was given beside a file; expected the one or the other", name)
		}
		if q, err = f.question(f.args[0], shelf, s); err != nil {
			return err
		}
	default:
		if q.Spec, iceChosen, err = f.specFromFlags(shelf); err != nil {
			return err
		}
	}
	q.Robust, q.Alternatives = f.robust, f.chosen.alternatives
	answer, err := solver.Design(q)
	if errors.Is(err, solver.ErrNoVolume) && len(f.args) == 0 {
		return errors.New("ingredients are to be chosen but no volume is aimed at; expected one, such as --volume 150")
	}
	if err != nil {
		return named(q.Spec, err)
	}
	answer.IceChosen = iceChosen
	if len(f.args) == 0 {
		volumeByFlag(answer.Notes)
	}
	return f.print(answer, s)
}

// volumeByFlag says in the note on a drink of any size which flag gives it one.
func volumeByFlag(notes []string) {
	for n := range notes {
		if strings.HasPrefix(notes[n], solver.NoVolumeAsked) {
			notes[n] = solver.NoVolumeAsked + "; to say how much, write --volume 120ml"
		}
	}
}

// checkQuotes finds names that a shell took apart, since no quotes stood around
// them, and those with semicolons between them.
func (f *flags) checkQuotes() error {
	for _, names := range f.from {
		if strings.Contains(names, ";") {
			return fmt.Errorf("--from %q; expected commas between the names: --from %q", names, strings.ReplaceAll(names, ";", ","))
		}
	}
	if len(f.args) == 0 || !slices.ContainsFunc([]string{"from", "must", "one-of", "none-of", "name"}, f.given) {
		return nil
	}
	for _, word := range f.args {
		if _, err := os.Stat(word); errors.Is(err, fs.ErrNotExist) && word != "-" {
			return fmt.Errorf("no file %q; names with spaces or commas need quotes: --from \"gin, lime\"", word)
		}
	}
	return nil
}

// firstTarget is a flag that describes a drink, if one was given.
func (f *flags) firstTarget() string {
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		if f.given(p.Name()) {
			return p.Name()
		}
	}
	for _, name := range []string{"from", "at-most", "must", "none-of", "most-cost", "ice", "measure", "glass", "name"} {
		if f.given(name) {
			return name
		}
	}
	return ""
}

// named puts the file's name before an error that has no place of its own.
func named(spec *pantry.Spec, err error) error {
	var located pantry.InputErrors
	if errors.As(err, &located) || strings.HasPrefix(err.Error(), spec.File+": ") {
		return err
	}
	return fmt.Errorf("%s: %w", spec.File, err)
}

// print writes an answer as the flags ask for it.
func (f *flags) print(a *solver.Answer, s streams) error {
	var cost *pricing
	if f.cost.asked() {
		var err error
		if a.Prep != nil && (f.cost.price != "" || f.cost.margin != "") {
			return errors.New("--price or --margin of a prep; expected --cost, or a drink")
		}
		if cost, err = f.cost.of(a.Cost); err != nil {
			return err
		}
		cost.making = a.Prep != nil
	}
	var err error
	switch {
	case f.spec:
		err = f.writeSpec(a.Spec, s)
	case f.json && cost != nil:
		err = cost.writeJSON(s.out, a)
	case f.json:
		err = writeJSON(s.out, a)
	default:
		err = writeAnswer(s.out, a, f.liquidUnit(a.Spec))
		if err == nil && cost != nil {
			err = cost.write(s.out)
		}
	}
	return f.remarks(a, s, err)
}

// remarks ends the printing of an answer, which err says went wrong or not: its
// notes, and whether it breaks a limit.
func (f *flags) remarks(a *solver.Answer, s streams, err error) error {
	if err != nil {
		return &writeError{err}
	}
	for _, note := range a.Notes {
		fmt.Fprintln(s.err, wrap("note: "+note, lineWidth))
	}
	if len(a.Broken) > 0 {
		return errLimitBroke
	}
	return nil
}
