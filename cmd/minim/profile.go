package main

import (
	"fmt"

	"minim/profile"
	"minim/solver"
)

var profileCommand = command{
	name:     "profile",
	synopsis: "profile FILE",
	summary:  "the profile of a spec as written",
	about: `Computes what a spec with all amounts written comes to: volume, strength, sugar,
acid, pH, salt, bitterness, umami, temperature, dilution and the rest, each with
its ±. With --rocks it follows the drink in the glass for twenty minutes, over
that much ice or none, in a room of 22 °C; what was built in its glass stands on
what is left of its own ice, and gets no other.`,
	example: `minim profile examples/morning-tide.yaml --rocks 120g`,
	schema:  "profile",
	flags: func(f *flags) {
		f.set.StringVar(&f.rocks, "rocks", "", "`MASS` of ice in the glass, such as 120g, or none")
		f.costFlags()
	},
	run: func(f *flags, s streams) error {
		var rocks profile.Rocks
		if f.rocks != "" {
			var err error
			if rocks, err = parseRocks(f.rocks); err != nil {
				return err
			}
		}
		answer, err := f.written(s)
		if err != nil {
			return err
		}
		if f.rocks != "" {
			rocks = builtOn(answer, rocks)
			answer.Glass = answer.InGlass(rocks, glassMinutes)
		}
		return f.print(answer, s)
	},
}

// written is the profile of the one file named, whose amounts are all written.
func (f *flags) written(s streams) (*solver.Answer, error) {
	if len(f.args) != 1 {
		return nil, fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return nil, err
	}
	q, err := f.question(f.args[0], shelf, s)
	if err != nil {
		return nil, err
	}
	answer, err := solver.Report(q)
	if err != nil {
		return nil, named(q.Spec, err)
	}
	return answer, nil
}
