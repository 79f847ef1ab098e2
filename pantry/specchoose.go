package pantry

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// Choose asks for ingredients besides amounts: the pours of the spec as they
// stand and, of those named here, as few as serve and at most AtMost.
type Choose struct {
	// AtMost counts the chosen ones alone; 1 to MostChosen.
	AtMost int
	// From names ingredients or categories to choose from; empty: the whole shelf
	// without plain water.
	From []string
	// Must are in the drink whatever else is.
	Must []string
	// OneOf are lists of which exactly one is in the drink.
	OneOf [][]string
	// NoneOf are ingredients, categories or allergens that are not, "animal
	// products" and "out of stock" among them.
	NoneOf []string
	// MostCost is the most that the liquid of a serve may cost, in the currency of
	// the shelf; 0: no limit.
	MostCost float64
	Place    Place
}

// MostChosen is how many ingredients may be asked for.
const MostChosen = 8

const chooseExpected = "lines such as `at most: 4` and `from: [spirit, juice, rich syrup]`"

// chooseLines are the names under choose, in the order in which they are
// written.
var chooseLines = []string{"at most", "from", "must", "one of", "none of", "cost"}

// readChoose reads the mapping under choose.
func (r *specReader) readChoose(n *yaml.Node) {
	if n.Kind != yaml.MappingNode || len(n.Content) == 0 {
		r.refuse(n, &mistake{message: fmt.Sprintf("%s under choose; expected %s", kindWords(n), chooseExpected)})
		return
	}
	c := &Choose{Place: r.placeOf(n, "")}
	before, good := len(r.source.problems), true
	for key, value := range pairs(n) {
		if r.refused[key] || r.refused[value] {
			good = false
			continue
		}
		switch key.Value {
		case "at most":
			c.AtMost, _ = scalar(r, value, "how many ingredients, such as 4", parseCount)
		case "from":
			c.From = r.names(value)
		case "must":
			c.Must = r.names(value)
		case "one of":
			c.OneOf = r.nameLists(value)
		case "none of":
			c.NoneOf = r.names(value)
		case "cost":
			c.MostCost, _ = scalar(r, value, "the most that a serve may cost, such as at most 2.50", parseMostCost)
		default:
			wrong := &mistake{message: fmt.Sprintf("no line %q under choose; expected one of %s", clip(key.Value), strings.Join(chooseLines, ", "))}
			if near := lookalike(key.Value, chooseLines); near != "" {
				wrong.hint = "nearest: " + near
			}
			r.refuse(key, wrong)
		}
	}
	if !good || len(r.source.problems) > before {
		return
	}
	if c.AtMost == 0 {
		r.refuse(n, &mistake{message: "a choice without a number; expected how many ingredients at most", hint: "add at most: 4"})
		return
	}
	if least := c.least(); least > c.AtMost {
		r.refuse(n, &mistake{message: fmt.Sprintf("at most %d, but must and one of ask for %d; expected at most %d or more", c.AtMost, least, least)})
		return
	}
	r.spec.Choose = c
}

// least is how many ingredients must and one of ask for: one that must be in the
// drink is also the one of a list that names it.
func (c *Choose) least() int {
	must := map[string]bool{}
	for _, name := range c.Must {
		must[Fold(name)] = true
	}
	least := len(must)
	for _, names := range c.OneOf {
		if !slices.ContainsFunc(names, func(name string) bool { return must[Fold(name)] }) {
			least++
		}
	}
	return least
}

// MostNames are those of one list of names to choose from.
const MostNames = 500

// names reads one name or a list of names.
func (r *specReader) names(n *yaml.Node) []string {
	items := []*yaml.Node{n}
	if n.Kind == yaml.SequenceNode {
		items = n.Content
	}
	if len(items) == 0 {
		r.refuse(n, &mistake{message: "an empty list; expected names", hint: "write a name, or delete the line"})
	}
	if len(items) > MostNames {
		r.refuse(n, &mistake{message: fmt.Sprintf("%d names; expected at most %d", len(items), MostNames), hint: "name a category, such as juice, in the place of what is in it"})
		return nil
	}
	var names []string
	for _, item := range items {
		if r.refused[item] {
			continue
		}
		name := r.text(item, "the name of an ingredient or a category")
		switch {
		case r.refused[item]:
		case Fold(name) == "":
			r.refuse(item, &mistake{message: fmt.Sprintf("%q has no letters; expected the name of an ingredient or a category", clip(name))})
		default:
			names = append(names, name)
		}
	}
	return names
}

// nameLists reads one list of names, or a list of such lists.
func (r *specReader) nameLists(n *yaml.Node) [][]string {
	if n.Kind == yaml.SequenceNode && len(n.Content) > 0 && n.Content[0].Kind == yaml.SequenceNode {
		var lists [][]string
		for _, item := range n.Content {
			if names := r.choices(item); names != nil {
				lists = append(lists, names)
			}
		}
		return lists
	}
	if names := r.choices(n); names != nil {
		return [][]string{names}
	}
	return nil
}

// choices reads a list of two names or more, or one category.
func (r *specReader) choices(n *yaml.Node) []string {
	if n.Kind != yaml.SequenceNode && n.Kind != yaml.ScalarNode {
		r.refuse(n, &mistake{message: fmt.Sprintf("%s after one of; expected a list such as [lemon juice, lime juice]", kindWords(n))})
		return nil
	}
	return r.names(n)
}

// parseCount reads how many ingredients may be chosen.
func parseCount(text string) (int, *mistake) {
	count, err := strconv.Atoi(text)
	if err != nil || count < 1 || count > MostChosen {
		return 0, &mistake{message: fmt.Sprintf("%q ingredients; expected a whole number from 1 to %d", clip(text), MostChosen)}
	}
	return count, nil
}

// parseMostCost reads the most that something may cost, with or without the
// words that say so.
func parseMostCost(text string) (float64, *mistake) {
	if digitComma.MatchString(text) {
		return 0, commaMistake(text)
	}
	number := text
	if rest, ok := cutWord(text, "at most"); ok {
		number = rest
	}
	cost, wrong := parseMagnitude(number)
	if wrong != nil {
		return 0, &mistake{message: fmt.Sprintf("%q is no cost; expected one such as at most 2.50, in the currency of your prices", clip(text))}
	}
	if cost < smallestMagnitude {
		return 0, &mistake{message: fmt.Sprintf("a cost of %q; expected more than 0", clip(text))}
	}
	return cost, nil
}

// ParseMostCost reads the most that something may cost, such as 2.50.
func ParseMostCost(text string) (float64, error) {
	cost, wrong := parseMostCost(text)
	if wrong != nil {
		return 0, wrong
	}
	return cost, nil
}

// yaml writes the choice as readChoose reads it.
func (c *Choose) yaml() string {
	var b strings.Builder
	b.WriteString("choose:\n")
	fmt.Fprintf(&b, "  at most: %d\n", c.AtMost)
	list := func(names []string) string {
		quoted := make([]string, len(names))
		for i, name := range names {
			quoted[i] = yamlText(name)
		}
		return "[" + strings.Join(quoted, ", ") + "]"
	}
	for _, line := range []struct {
		name  string
		names []string
	}{{"from", c.From}, {"must", c.Must}} {
		if len(line.names) > 0 {
			fmt.Fprintf(&b, "  %s: %s\n", line.name, list(line.names))
		}
	}
	switch len(c.OneOf) {
	case 0:
	case 1:
		fmt.Fprintf(&b, "  one of: %s\n", list(c.OneOf[0]))
	default:
		lists := make([]string, len(c.OneOf))
		for i, names := range c.OneOf {
			lists[i] = list(names)
		}
		fmt.Fprintf(&b, "  one of: [%s]\n", strings.Join(lists, ", "))
	}
	if len(c.NoneOf) > 0 {
		fmt.Fprintf(&b, "  none of: %s\n", list(c.NoneOf))
	}
	if c.MostCost > 0 {
		fmt.Fprintf(&b, "  cost: at most %s\n", formatMagnitude(c.MostCost))
	}
	return b.String()
}
