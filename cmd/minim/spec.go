package main

import (
	"errors"
	"fmt"

	"minim/pantry"
)

// specFlags add the flags for an answer as a spec; what is printed, usage says.
func (f *flags) specFlags(usage string) {
	f.set.BoolVar(&f.spec, "spec", false, usage+" as YAML, which every command reads")
	f.outFlag("with --spec: write it into `FILE` instead, once it is solved; one of that name is replaced, and may be the one that is read")
}

// checkSpecFile refuses a file for a spec without --spec, and one that the answer
// is worked out from other than the spec itself.
func (f *flags) checkSpecFile() error {
	switch {
	case f.set.Lookup("spec") == nil || !f.given("out"):
		return nil
	case !f.spec:
		return errors.New("--out writes a spec; expected --spec beside it")
	case f.out == "" || f.out == "-":
		return fmt.Errorf("--out %q; expected the name of a file, such as new.yaml", f.out)
	}
	return f.notOverRead(f.out, append(f.drinks, f.change.lot)...)
}

// writeSpec writes an answer as a spec where the flags ask for it.
func (f *flags) writeSpec(spec *pantry.Spec, s streams) error {
	if f.out == "" {
		return spec.Write(s.out)
	}
	err := writeFile(f.out, spec.Write)
	var notWritten *writeError
	if errors.As(err, &notWritten) {
		return notWritten.err
	}
	if err != nil {
		return err
	}
	name := spec.Name
	if name == "" {
		name = "the spec"
	}
	_, err = fmt.Fprintln(s.out, wrap(name+" written to "+f.out, lineWidth))
	return err
}
