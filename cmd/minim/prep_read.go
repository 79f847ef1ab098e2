package main

import (
	"os"
	"path/filepath"
	"slices"

	"minim/pantry"
)

// withPreps lays the preps over a shelf that stand beside specs and that these
// pour. A nil spec is passed over; standard input stands in the working folder.
// Over such a prep nothing may be written, but the one that the command is given.
func (f *flags) withPreps(shelf *pantry.Shelf, specs ...*pantry.Spec) (*pantry.Shelf, error) {
	var folders []string
	in := map[string][]*pantry.Spec{}
	for _, spec := range specs {
		if spec == nil {
			continue
		}
		folder := filepath.Dir(spec.File)
		if !slices.Contains(folders, folder) {
			folders = append(folders, folder)
		}
		in[folder] = append(in[folder], spec)
	}
	for _, folder := range folders {
		var err error
		if shelf, err = shelf.WithPreps(os.DirFS(folder), folder, in[folder]...); err != nil {
			return nil, err
		}
	}
	for _, p := range shelf.Preps() {
		if slices.ContainsFunc(f.args, func(given string) bool { return sameFile(given, p.Spec.File) }) {
			continue
		}
		if err := f.notOverRead(f.out, p.Spec.File); err != nil {
			return nil, err
		}
		if err := f.checkPicture(p.Spec.File); err != nil {
			return nil, err
		}
	}
	return shelf, nil
}
