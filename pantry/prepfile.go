package pantry

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// prepFinder looks for preps in one folder.
type prepFinder struct {
	beside fs.FS
	folder string
	// byStem holds the files that could be specs by the fold of their name without
	// its ending, in the order of the folder.
	byStem map[string][]string
	files  []string
	// byDrink holds the preps by the fold of the drink's name in them; nil until a
	// pour needs it.
	byDrink map[string][]string
	found   []foundPrep
	// place is where a prep that was visited stands in found.
	place map[string]int
}

// stem is a file's name without its folder and ending.
func stem(file string) string {
	base := path.Base(filepath.ToSlash(file))
	for _, ending := range specEndings {
		base = strings.TrimSuffix(base, ending)
	}
	return base
}

var specEndings = []string{".yaml", ".yml"}

// findPreps returns the preps that specs need, each after those that it pours.
func findPreps(specs []*Spec, beside fs.FS, folder string) ([]foundPrep, error) {
	entries, err := fs.ReadDir(beside, ".")
	if err != nil {
		return nil, nil
	}
	f := &prepFinder{beside: beside, folder: folder, byStem: map[string][]string{}, place: map[string]int{}}
	for _, e := range entries {
		name := e.Name()
		if strings.HasPrefix(name, ".") || !slices.Contains(specEndings, path.Ext(name)) {
			continue
		}
		// Only a link has to be followed to know what it is.
		if !e.Type().IsRegular() {
			if info, err := fs.Stat(beside, name); err != nil || !info.Mode().IsRegular() {
				continue
			}
		}
		f.files = append(f.files, name)
		key := Fold(stem(name))
		f.byStem[key] = append(f.byStem[key], name)
	}
	for _, spec := range specs {
		own := ""
		if spec.Makes != nil && filepath.Dir(spec.File) == filepath.Clean(folder) {
			own = filepath.Base(spec.File)
		}
		if err := f.visit(spec, []string{own}); err != nil {
			return nil, err
		}
	}
	return f.found, nil
}

// shown is a file as people know it.
func (f *prepFinder) shown(name string) string { return filepath.Join(f.folder, name) }

// visit finds the preps that a spec pours, and those that they pour. The way is
// the files that led to it, itself the last.
func (f *prepFinder) visit(spec *Spec, way []string) error {
	for _, pour := range spec.Pours() {
		key := Fold(pour.Name)
		file, err := f.fileOf(key)
		if err != nil {
			return InputErrors{spec.ErrorAt(pour.Place, err.Error(), "rename one of them")}
		}
		if file == "" {
			continue
		}
		if at := slices.Index(way, file); at >= 0 {
			return InputErrors{spec.ErrorAt(pour.Place, f.circle(way[at:]), "rename the pour or the file where they are not the same")}
		}
		if at, done := f.place[file]; done {
			if one := &f.found[at]; !slices.Contains(one.names, key) {
				one.names = append(one.names, key)
			}
			continue
		}
		prep, err := f.read(file)
		if err != nil {
			return err
		}
		if err := f.visit(prep, append(slices.Clip(way), file)); err != nil {
			return err
		}
		f.place[file] = len(f.found)
		f.found = append(f.found, foundPrep{prep, []string{key}})
	}
	return nil
}

// circle says which preps pour each other.
func (f *prepFinder) circle(way []string) string {
	var shown []string
	for _, name := range append(slices.Clip(way), way[0]) {
		shown = append(shown, f.shown(name))
	}
	return strings.Join(shown, " -> ") + ": a prep that goes into itself; expected one that ends in ingredients"
}

// fileOf returns the prep that goes by a folded name: by the name of its file,
// else by the name of the drink in it; empty where there is none.
func (f *prepFinder) fileOf(key string) (string, error) {
	hits := slices.DeleteFunc(slices.Clone(f.byStem[key]), func(name string) bool { _, makes := f.head(name); return !makes })
	if len(hits) == 0 {
		if f.byDrink == nil {
			f.readDrinks()
		}
		hits = f.byDrink[key]
	}
	switch len(hits) {
	case 0:
		return "", nil
	case 1:
		return hits[0], nil
	}
	var shown []string
	for _, name := range hits {
		shown = append(shown, f.shown(name))
	}
	return "", fmt.Errorf("%d preps go by that name: %s; expected one", len(hits), strings.Join(shown, ", "))
}

// readDrinks looks into every file for the name of the drink.
func (f *prepFinder) readDrinks() {
	f.byDrink = map[string][]string{}
	for _, name := range f.files {
		if drink, makes := f.head(name); makes && drink != "" {
			f.byDrink[Fold(drink)] = append(f.byDrink[Fold(drink)], name)
		}
	}
}

var (
	makesLine = regexp.MustCompile(`(?m)^["']?makes["']?[ \t]*:`)
	drinkLine = regexp.MustCompile(`(?m)^["']?drink["']?[ \t]*:[ \t]*(?:"([^"\n]*)"|'((?:[^'\n]|'')*)'|([^\n]*?))[ \t\r]*(?: #[^\n]*)?$`)
)

// head looks at a file without parsing it: the name of its drink, and whether it
// says what it makes. What cannot be read is no prep.
func (f *prepFinder) head(name string) (drink string, makes bool) {
	text, err := fs.ReadFile(f.beside, name)
	if err != nil || len(text) > largestSpec || !makesLine.Match(text) {
		return "", false
	}
	if found := drinkLine.FindSubmatch(text); found != nil {
		drink = string(found[1]) + strings.ReplaceAll(string(found[2]), "''", "'") + string(found[3])
	}
	return drink, true
}

// read reads a prep.
func (f *prepFinder) read(name string) (*Spec, error) {
	text, err := fs.ReadFile(f.beside, name)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.shown(name), err)
	}
	return ReadSpec(bytes.NewReader(text), f.shown(name))
}
