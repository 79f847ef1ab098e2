package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// writeFile puts what write writes into a file: into a temporary one beside it,
// which then takes its name, so that the old file is there in full until the
// new one is. The error is a writeError, or what write found wrong itself.
func writeFile(name string, write func(io.Writer) error) (err error) {
	target := name
	mode := fs.FileMode(0o644)
	if linked, err := filepath.EvalSymlinks(name); err == nil {
		target = linked
	}
	if info, err := os.Stat(target); err == nil {
		if !info.Mode().IsRegular() {
			return &writeError{fmt.Errorf("%s: not a file", name)}
		}
		mode = info.Mode().Perm()
	}
	temporary, err := os.CreateTemp(filepath.Dir(target), "."+filepath.Base(target)+".*")
	if err != nil {
		return &writeError{fmt.Errorf("%s: %w", name, cause(err))}
	}
	defer func() {
		if err != nil {
			temporary.Close()
			os.Remove(temporary.Name())
		}
	}()
	checked := &checkedWriter{to: temporary}
	if err := write(checked); err != nil && checked.err == nil {
		return err
	}
	for _, step := range []func() error{
		func() error { return checked.err },
		func() error { return temporary.Chmod(mode) },
		temporary.Sync,
		temporary.Close,
		func() error { return os.Rename(temporary.Name(), target) },
	} {
		if err := step(); err != nil {
			return &writeError{fmt.Errorf("%s: %w", name, cause(err))}
		}
	}
	return nil
}

// cause is what the system said, without the name of a temporary file.
func cause(err error) error {
	var path *os.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// sameFile tells whether two names are one file.
func sameFile(a, b string) bool {
	first, err := os.Stat(a)
	if err != nil {
		return false
	}
	second, err := os.Stat(b)
	return err == nil && os.SameFile(first, second)
}

// notOverRead refuses a file of --out that is being read.
func (f *flags) notOverRead(out string, read ...string) error {
	return f.notOver("--out", out, read...)
}

// notOver refuses a file to write, named by a flag, that is being read.
func (f *flags) notOver(flag, out string, read ...string) error {
	for _, name := range append(append(read, f.pantry...), f.lots) {
		if name != "" && sameFile(out, name) {
			return fmt.Errorf("%s %s is the file being read; expected another name", flag, out)
		}
	}
	return nil
}

// checkPicture refuses a picture that would be written over a file being read,
// or to standard output, where the answer goes.
func (f *flags) checkPicture(read ...string) error {
	switch f.svg {
	case "":
		return nil
	case "-":
		return errors.New("--svg -; expected the name of a file, such as menu.svg")
	}
	return f.notOver("--svg", f.svg, read...)
}

// outFlag adds the flag for a file to write.
func (f *flags) outFlag(usage string) { f.set.StringVar(&f.out, "out", "", usage) }

// replacesFile ends what is said of a flag that writes a whole file.
const replacesFile = "; one of that name is replaced"
