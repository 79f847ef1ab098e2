package main

import (
	"fmt"
	"io"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

var reachCommand = command{
	name:     "reach",
	synopsis: "reach FILE",
	summary:  "how far each property can go with these bottles",
	about: `Finds the least and the most that the open pours of a spec can make of each
property: alone, with nothing but the limits kept (pours, ratios, glass, "at
most" and "at least"), and with every other target held within one JND (the
volume within 2 %). Amounts may be of any size here, not only your measures. It
says which pour or limit stops each end; --of lists the pours at the four ends
of one property.`,
	example: `minim reach examples/weir-light.yaml --pantry examples/weir-lantern.csv --of acid`,
	schema:  "reach",
	flags: func(f *flags) {
		f.set.StringVar(&f.of, "of", "", "list the pours at the ends of this `PROPERTY`, such as acid")
		f.set.StringVar(&f.svg, "svg", "", "write the ranges as a picture into this `FILE`")
	},
	run: reach,
}

func reach(f *flags, s streams) error {
	if len(f.args) != 1 {
		return fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
	}
	of, err := f.propertyOf()
	if err != nil {
		return err
	}
	if err := f.checkPicture(f.args[0]); err != nil {
		return err
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	q, err := f.question(f.args[0], shelf, s)
	if err != nil {
		return err
	}
	r, err := solver.Reach(q)
	if err != nil {
		return named(q.Spec, err)
	}
	return f.printReach(r, of, s)
}

// propertyOf is the property that --of names, or the first where it was not
// given.
func (f *flags) propertyOf() (profile.Property, error) {
	if !f.given("of") {
		return 0, nil
	}
	p, ok := profile.PropertyNamed(f.of)
	if !ok {
		return 0, fmt.Errorf("--of %q; no such property; %s", f.of, pantry.Suggest(f.of, profile.PropertyNames(), 2))
	}
	return p, nil
}

// printReach writes the ranges as the flags ask for it.
func (f *flags) printReach(r *solver.Reachable, of profile.Property, s streams) error {
	if f.svg != "" && len(r.Ranges) > 0 {
		if err := writeFile(f.svg, func(w io.Writer) error { return writeReachPicture(w, r) }); err != nil {
			return err
		}
	}
	var err error
	switch {
	case f.json:
		err = writeReachJSON(s.out, r)
	default:
		err = writeReach(s.out, r, f.liquidUnit(r.Spec), f.given("of"), of)
	}
	if err != nil {
		return &writeError{err}
	}
	for _, note := range r.Notes {
		fmt.Fprintln(s.err, wrap("note: "+note, lineWidth))
	}
	if len(r.Ranges) == 0 {
		return errLimitBroke
	}
	return nil
}
