package pantry

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// Condition compares a property of an ingredient with a number.
type Condition struct {
	// Property is one of DerivedNames.
	Property string
	// Sign is one of >=, <=, >, < and =.
	Sign  string
	Value float64
}

var conditionText = regexp.MustCompile(`^\s*([\pL][\pL\d]*)\s*(>=|<=|≥|≤|>|<|=)\s*(.*?)\s*$`)

// ParseCondition reads a condition such as "acid>=20".
func ParseCondition(text string) (Condition, error) {
	parts := conditionText.FindStringSubmatch(text)
	if parts == nil {
		return Condition{}, fmt.Errorf("%q; expected a property, a comparison and a number, such as acid>=20", text)
	}
	name := strings.ToLower(parts[1])
	if !slices.Contains(DerivedNames(), name) {
		return Condition{}, fmt.Errorf("%q; no property %q, %s", text, parts[1], Suggest(name, DerivedNames(), 3))
	}
	number := parts[3]
	if unit := withUnit.FindStringSubmatch(number); unit != nil && !isPlainNumber(number) {
		number = unit[1]
	}
	v, wrong := parseNumber(number)
	if wrong.message != "" {
		return Condition{}, fmt.Errorf("%q; %q %s", text, parts[3], wrong.message)
	}
	sign := map[string]string{"≥": ">=", "≤": "<="}[parts[2]]
	if sign == "" {
		sign = parts[2]
	}
	return Condition{Property: name, Sign: sign, Value: v}, nil
}

// holds compares v.
func (c Condition) holds(v float64) bool {
	switch c.Sign {
	case ">=":
		return v >= c.Value
	case "<=":
		return v <= c.Value
	case ">":
		return v > c.Value
	case "<":
		return v < c.Value
	default:
		return v == c.Value
	}
}

// Choice says which ingredients of a shelf are wanted; the zero Choice is all.
type Choice struct {
	// Category is one of the shelf's, empty for all.
	Category string
	// With are conditions that must all hold; what is unknown meets none.
	With []Condition
	// WithoutAllergens are words of the law of which none may be listed.
	WithoutAllergens []string
	// Vegan leaves out what is not known to be vegan, InStock what is out of stock.
	Vegan, InStock bool
	// Confidence is that of the row; empty for any.
	Confidence Confidence
}

// Chosen are the ingredients that a choice leaves, in the order of the shelf.
type Chosen struct {
	Ingredients []*Ingredient
	// Derived are the properties of each.
	Derived [][]Derived
	// Notes say how many were left out for what is not known of them.
	Notes []string
}

// Of chooses from a shelf.
func (c *Choice) Of(s *Shelf) *Chosen {
	out := &Chosen{}
	unknown := map[string]int{}
	openVegan := 0
	for _, i := range s.ingredients {
		switch {
		case c.Category != "" && i.Category != c.Category, c.Confidence != "" && i.Confidence != c.Confidence,
			c.InStock && i.OutOfStock, c.lists(i):
			continue
		case c.Vegan && i.Vegan != Yes:
			if i.Vegan == Unknown {
				openVegan++
			}
			continue
		}
		all := i.Derived()
		if c.holdsFor(all, unknown) {
			out.Ingredients, out.Derived = append(out.Ingredients, i), append(out.Derived, all)
		}
	}
	if openVegan > 0 {
		out.Notes = append(out.Notes, fmt.Sprintf("left out %d of which it is not known whether they are vegan", openVegan))
	}
	for _, condition := range c.With {
		if n := unknown[condition.Property]; n > 0 {
			out.Notes = append(out.Notes, fmt.Sprintf("left out %d of which %s is not known", n, condition.Property))
			unknown[condition.Property] = 0
		}
	}
	if len(c.WithoutAllergens) > 0 {
		out.Notes = append(out.Notes, "allergens are those that the rows list; the label of the bottle goes before them")
	}
	return out
}

// lists tells whether an ingredient lists one of the unwanted allergens, with
// or without its kind in brackets.
func (c *Choice) lists(i *Ingredient) bool {
	for _, listed := range i.Allergens {
		whole, _, _ := strings.Cut(listed, "(")
		for _, unwanted := range c.WithoutAllergens {
			if Fold(listed) == Fold(unwanted) || Fold(whole) == Fold(unwanted) {
				return true
			}
		}
	}
	return false
}

// holdsFor tells whether all conditions hold, and counts those that only what
// is unknown leaves open.
func (c *Choice) holdsFor(all []Derived, unknown map[string]int) bool {
	open := ""
	for _, condition := range c.With {
		n := slices.IndexFunc(all, func(d Derived) bool { return d.Name == condition.Property })
		switch {
		case n >= 0 && all[n].Known():
			if !condition.holds(all[n].Value) {
				return false
			}
		case open == "":
			open = condition.Property
		}
	}
	if open != "" {
		unknown[open]++
	}
	return open == ""
}

// WordAmong returns the word of a list that is the same once folded.
func WordAmong(word string, among []string) (string, bool) {
	for _, w := range among {
		if Fold(w) == Fold(word) {
			return w, true
		}
	}
	return "", false
}

// ConfidenceNamed returns the degree of confidence of that name.
func ConfidenceNamed(name string) (Confidence, bool) {
	word, ok := WordAmong(name, []string{string(Seen), string(FromMemory), string(Estimated), string(Computed)})
	return Confidence(word), ok
}

// GuardCell puts an apostrophe before text that a spreadsheet would take for a
// formula: what begins with =, +, - or @.
func GuardCell(text string) string { return guard(text) }
