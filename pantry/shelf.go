package pantry

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
)

// Shelf is a set of ingredients by name. The zero Shelf is empty and ready to
// have a file laid over it. A Shelf never changes once it is made.
type Shelf struct {
	ingredients []*Ingredient
	// byName holds the places in ingredients that go by a folded name.
	byName map[string][]int
	// lots are the deliveries that ingredients were measured in.
	lots map[*Ingredient]*AppliedLot
	// preps lie over below, the shelf without them; each after those it pours.
	preps []*Prep
	below *Shelf
	// overlays are the files that were laid over what comes with the program, in
	// their order, and lotsFile the one of the measurements; empty: none.
	overlays []string
	lotsFile string
}

// Files names the bar's own files on the shelf: CSVs in the order in which they
// lie over one another, and the file of its lots, empty where there is none.
func (s *Shelf) Files() (overlays []string, lots string) {
	return slices.Clone(s.overlays), s.lotsFile
}

// All returns the ingredients in the order of the files.
func (s *Shelf) All() []*Ingredient { return slices.Clone(s.ingredients) }

// Categories returns each category once, in the order of first appearance.
func (s *Shelf) Categories() []string {
	var categories []string
	for _, i := range s.ingredients {
		if i.Category != "" && !slices.Contains(categories, i.Category) {
			categories = append(categories, i.Category)
		}
	}
	return categories
}

// nearestNames is how many names an error offers.
const nearestNames = 3

// Find returns the ingredient whose name, alias or id is that name once folded.
// The error is a *NameError: none with up to three names that are near, or all
// that go by it.
func (s *Shelf) Find(name string) (*Ingredient, error) {
	hits := s.byName[Fold(name)]
	switch len(hits) {
	case 0:
		return nil, &NameError{Name: name, Nearest: s.nearest(name)}
	case 1:
		return s.ingredients[hits[0]], nil
	}
	wrong := &NameError{Name: name}
	for _, n := range hits {
		wrong.Hits = append(wrong.Hits, s.ingredients[n].Name)
	}
	return nil, wrong
}

// nearest returns the names or aliases that look like name, one of each
// ingredient.
func (s *Shelf) nearest(name string) []string {
	var words []string
	owner := map[string]*Ingredient{}
	for _, i := range s.ingredients {
		for _, word := range append([]string{i.Name}, i.Aliases...) {
			words = append(words, word)
			owner[word] = i
		}
	}
	var found []string
	given := map[*Ingredient]bool{}
	for _, word := range NearestWithin(name, words, len(words)) {
		if i := owner[word]; !given[i] && len(found) < nearestNames {
			given[i] = true
			found = append(found, word)
		}
	}
	return found
}

// index fills byName from the ingredients.
func (s *Shelf) index() {
	s.byName = make(map[string][]int, 4*len(s.ingredients))
	// One array holds the places of all names that are of one ingredient alone.
	places := make([]int, len(s.ingredients))
	for n, i := range s.ingredients {
		places[n] = n
		for _, name := range i.names() {
			key := Fold(name)
			switch hits := s.byName[key]; {
			case hits == nil:
				s.byName[key] = places[n : n+1 : n+1]
			case !slices.Contains(hits, n):
				s.byName[key] = append(hits, n)
			}
		}
	}
}

// Overlay reads a bar's CSV and returns a new shelf with it laid over s. A row
// that goes by the name, an alias or the id of an ingredient below replaces
// only the columns it fills, and takes the name over; every other row is a new
// ingredient. An alias of the bar's takes the word from the ingredient below
// that had it, and where that was its name, the ingredient itself. Preps come on
// top of CSVs: those of s are not on the new shelf. The error is InputErrors, or what reading the stream gave.
func (s *Shelf) Overlay(r io.Reader, file string) (*Shelf, error) {
	rows, err := readRows(r, file, s)
	if err != nil {
		return nil, err
	}
	out := &Shelf{ingredients: laidOver(s, rows), overlays: append(slices.Clone(s.overlays), file)}
	if len(out.ingredients) > mostIngredients {
		return nil, InputErrors{{
			Place: Place{File: file}, Message: fmt.Sprintf("%d ingredients with those before it; expected at most %d", len(out.ingredients), mostIngredients),
			Hint: "leave out what the bar does not pour",
		}}
	}
	out.index()
	return out, nil
}

// mostIngredients are those of a shelf: a CSV of the most rows over what comes
// with the program, with some room.
const mostIngredients = mostRows + 1000

// idOf is the fold of a name with low lines for spaces.
func idOf(folded string) string {
	return strings.Map(func(r rune) rune {
		if r == '_' || r == '.' || unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return '_'
	}, strings.TrimSuffix(folded, "%"))
}

// newID makes an id of a name, with a number where it is taken.
func newID(name string, taken func(string) bool) string {
	id := idOf(Fold(name))
	for candidate, n := id, 2; ; n++ {
		if !taken(Fold(candidate)) {
			return candidate
		}
		candidate = fmt.Sprintf("%s_%d", id, n)
	}
}
