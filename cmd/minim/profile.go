package main

import (
	"fmt"

	"minim/solver"
)

var profileCommand = command{
	name:     "profile",
	synopsis: "profile FILE",
	summary:  "the profile of a spec as written",
	about: `Computes what a spec with all amounts written comes to: volume, strength, sugar,
acid, salt, bitterness, umami, temperature and dilution, each with its ±.`,
	example: `minim profile examples/morning-tide.yaml`,
	flags:   func(*flags) {},
	run: func(f *flags, s streams) error {
		if len(f.args) != 1 {
			return fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
		}
		shelf, err := f.shelf(s)
		if err != nil {
			return err
		}
		spec, err := f.readSpec(f.args[0], s)
		if err != nil {
			return err
		}
		like, err := f.readLike(spec, s)
		if err != nil {
			return err
		}
		answer, err := solver.Report(solver.Question{Spec: spec, Shelf: shelf, Like: like})
		if err != nil {
			return named(spec, err)
		}
		return f.print(answer, s)
	},
}
