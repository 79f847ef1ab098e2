package pantry

import (
	"io/fs"
	"maps"
	"slices"
)

// Prep returns the prep that makes an ingredient of this shelf, if one does.
func (s *Shelf) Prep(i *Ingredient) (*Prep, bool) {
	for _, p := range s.preps {
		if p.Ingredient == i {
			return p, true
		}
	}
	return nil, false
}

// Preps returns the preps of the shelf, each after those that it pours.
func (s *Shelf) Preps() []*Prep { return slices.Clone(s.preps) }

// WithPreps returns a new shelf on which every pour of the specs that names a prep
// beside them finds that prep, and so on for what the preps pour. Beside is the
// folder of the specs, and folder its name as people know it. A prep goes before
// whatever else has its name; lots and a bar's CSV lie below it.
//
// A file is a prep where it says what it makes. It is found by the name of the
// file without its ending, else by the name of the drink in it; a file that no
// pour could mean is not parsed, so that a broken one does no harm. The error is
// InputErrors: of a prep that was found, of two that go by one name, or of preps
// that pour each other in a circle.
func (s *Shelf) WithPreps(beside fs.FS, folder string, specs ...*Spec) (*Shelf, error) {
	found, err := findPreps(specs, beside, folder)
	if err != nil || len(found) == 0 {
		return s, err
	}
	return s.withFound(found)
}

// foundPrep is a prep's spec and the folded names that pours call it by.
type foundPrep struct {
	spec  *Spec
	names []string
}

// withFound lays preps over the shelf, each after those that it pours.
func (s *Shelf) withFound(found []foundPrep) (*Shelf, error) {
	out := &Shelf{ingredients: slices.Clone(s.ingredients), byName: maps.Clone(s.byName), lots: s.lots, preps: slices.Clone(s.preps), below: s, overlays: s.overlays, lotsFile: s.lotsFile}
	if s.below != nil {
		out.below = s.below
	}
	for _, f := range found {
		p, err := newPrep(f.spec, out)
		if err != nil {
			return nil, err
		}
		p.names = f.names
		out.add(p)
	}
	return out, nil
}

// add puts a prep on a shelf that is being made.
func (s *Shelf) add(p *Prep) {
	s.preps = append(s.preps, p)
	s.ingredients = append(s.ingredients, p.Ingredient)
	for _, name := range p.names {
		s.byName[name] = []int{len(s.ingredients) - 1}
	}
}

// WithPrepPours returns the shelf with other pours in some of its preps, and
// everything that pours those made anew.
func (s *Shelf) WithPrepPours(pours map[*Prep][]Pour) (*Shelf, error) {
	var found []foundPrep
	for _, p := range s.preps {
		spec := p.Spec
		if mix, ok := pours[p]; ok {
			changed := *spec
			changed.Mix = mix
			spec = &changed
		}
		found = append(found, foundPrep{spec, p.names})
	}
	if s.below == nil {
		return s, nil
	}
	return s.below.withFound(found)
}

// WithPrep returns the shelf with the prep that a spec makes on it, found by its
// own name, and that prep. The error is InputErrors.
func (s *Shelf) WithPrep(spec *Spec) (*Shelf, *Prep, error) {
	names := []string{Fold(spec.title())}
	if byFile := Fold(stem(spec.File)); byFile != names[0] {
		names = append(names, byFile)
	}
	out, err := s.withFound([]foundPrep{{spec, names}})
	if err != nil {
		return nil, nil, err
	}
	return out, out.preps[len(out.preps)-1], nil
}
