package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// open returns a file's content, or standard input for -.
func open(name string, s streams) (io.ReadCloser, error) {
	if name == "-" {
		return io.NopCloser(s.in), nil
	}
	info, err := os.Stat(name)
	if err != nil {
		return nil, readError(name, err)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: not a file; expected a file to read, or - for standard input", name)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, readError(name, err)
	}
	return f, nil
}

// readError says what the system said of a file without its Go wrapping.
func readError(name string, err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Errorf("%s: %v", name, err)
}

// shelf is the built-in pantry with the CSVs of --pantry over it, and the
// measurements of --lots over both.
func (f *flags) shelf(s streams) (*pantry.Shelf, error) {
	shelf := pantry.Embedded()
	for _, name := range f.pantry {
		r, err := open(name, s)
		if err != nil {
			return nil, err
		}
		shelf, err = shelf.Overlay(r, name)
		r.Close()
		if err != nil {
			return nil, err
		}
	}
	if f.lots == "" {
		return shelf, nil
	}
	lots, err := readLots(f.lots, s)
	if err != nil {
		return nil, err
	}
	shelf, _, err = shelf.WithLots(lots)
	return shelf, err
}

// readLots reads a file of measurements.
func readLots(name string, s streams) ([]pantry.Lot, error) {
	r, err := open(name, s)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return pantry.ReadLots(r, name)
}

// readSpec reads one spec, and measures it in the unit of --units where it
// does not say otherwise.
func (f *flags) readSpec(name string, s streams) (*pantry.Spec, error) {
	r, err := open(name, s)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	spec, err := pantry.ReadSpec(r, name)
	if err != nil {
		return nil, err
	}
	f.setMeasure(spec)
	return spec, nil
}

func (f *flags) setMeasure(spec *pantry.Spec) {
	if f.given("units") && !spec.MeasureStated {
		spec.Measure = f.liquidUnit(spec).measure()
	}
}

// readLike reads the spec that another one should be like, named beside it, over
// which nothing may be written.
func (f *flags) readLike(spec *pantry.Spec, s streams) (*pantry.Spec, error) {
	if spec.Like == "" {
		return nil, nil
	}
	name := spec.Like
	if !filepath.IsAbs(name) && spec.File != "-" {
		name = filepath.Join(filepath.Dir(spec.File), name)
	}
	like, err := f.readSpec(name, s)
	if err != nil {
		return nil, fmt.Errorf("%s: like: %w", spec.File, err)
	}
	if err := f.notOverRead(f.out, name); err != nil {
		return nil, err
	}
	return like, f.checkPicture(name)
}

// question reads a spec, the one that it is like, and the preps beside them that
// these pour.
func (f *flags) question(file string, shelf *pantry.Shelf, s streams) (q solver.Question, err error) {
	if q.Spec, err = f.readSpec(file, s); err != nil {
		return q, err
	}
	if q.Like, err = f.readLike(q.Spec, s); err != nil {
		return q, err
	}
	q.Shelf, err = f.withPreps(shelf, q.Spec, q.Like)
	return q, err
}

// specFromFlags is the question that --from and the target flags ask, and says
// whether its ice was chosen for the asker.
func (f *flags) specFromFlags(shelf *pantry.Shelf) (spec *pantry.Spec, iceChosen bool, err error) {
	spec = &pantry.Spec{File: "flags", Name: f.name, Measure: pantry.DefaultMeasure}
	if f.measure != "" {
		if spec.Measure, err = pantry.ParseMeasure(f.measure); err != nil {
			return nil, false, fmt.Errorf("--measure: %w", err)
		}
		spec.MeasureStated = true
	}
	f.setMeasure(spec)
	if f.glass != "" {
		if err := f.bareVolume("glass", f.glass); err != nil {
			return nil, false, err
		}
		a, err := pantry.ParseVolume(f.glass)
		if err != nil {
			return nil, false, fmt.Errorf("--glass: %w", err)
		}
		spec.Glass = a
	}
	found, err := f.offeredOrChosen(spec, shelf)
	if err != nil {
		return nil, false, err
	}
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		text := f.targets[p]
		if *text == "" {
			continue
		}
		if p == profile.Volume {
			if err := f.bareVolume(p.Name(), *text); err != nil {
				return nil, false, err
			}
		}
		t, err := pantry.ParseTarget(*text, p)
		if err != nil {
			return nil, false, fmt.Errorf("--%s: %w", p.Name(), err)
		}
		t.Place.File = "--" + p.Name()
		spec.Target = append(spec.Target, t)
	}
	if f.ice == "" {
		spec.Ice = profile.Ice{Method: solver.ChooseIce(found)}
		return spec, true, nil
	}
	method, ok := profile.MethodNamed(f.ice)
	if !ok {
		return nil, false, fmt.Errorf("--ice %q; expected one of %s; nearest: %s", f.ice,
			strings.Join(profile.MethodNames(), ", "), strings.Join(pantry.Nearest(f.ice, profile.MethodNames(), 1), ""))
	}
	spec.Ice, spec.IceStated = profile.Ice{Method: method}, true
	return spec, false, nil
}

// offered turns --from into optional pours: what bubbles goes on top, the rest
// into the mix.
func (f *flags) offered(spec *pantry.Spec, shelf *pantry.Shelf) ([]*pantry.Ingredient, error) {
	var found []*pantry.Ingredient
	for _, list := range f.from {
		for _, name := range strings.Split(list, ",") {
			name = strings.TrimSpace(name)
			if name == "" {
				continue
			}
			i, err := shelf.Find(name)
			if err != nil {
				return nil, fmt.Errorf("--from: %w", err)
			}
			if slices.Contains(found, i) {
				return nil, fmt.Errorf("--from: %q was offered twice", name)
			}
			found = append(found, i)
			p := pantry.Pour{Name: name, Kind: pantry.Optional}
			if i.Bubbles() {
				spec.Top = append(spec.Top, p)
			} else {
				spec.Mix = append(spec.Mix, p)
			}
		}
	}
	if len(found) == 0 {
		return nil, errors.New("nothing to pour; expected a FILE, or --from with names such as \"dry gin, lime juice, rich syrup\"")
	}
	return found, nil
}
