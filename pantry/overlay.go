package pantry

import (
	"math"
	"slices"
)

// leastChange is the change of composition, in grams per litre, from which a
// measured density no longer holds.
const leastChange = 0.1

// layOver returns the ingredient below with the filled fields of from laid over
// it. A liquid whose composition changed but whose density was not given loses
// its measured density, and one whose acids changed its titratable acidity:
// both are then computed anew. The aliases are those of both, and the name
// below becomes one.
func layOver(below *Ingredient, from *Ingredient, filled func(heading string) bool) Ingredient {
	out := *below
	for c := range out.Figures {
		if f := &out.Figures[c]; f.Known && f.Source == "" && f.Confidence.fromSource() {
			f.Source = below.Place.File
		}
	}
	step := below.stepText()
	for n := range fields {
		if f := &fields[n]; filled(f.heading) {
			f.lay(&out, from)
		}
	}
	if !filled(measureHeading) && step != "" {
		// The size of a dash or a piece may have changed; of unknown size it is
		// no measure.
		out.Step, _ = out.parseStep(step)
	}
	out.Place = from.Place
	moved, acidMoved := 0.0, 0.0
	for c, facts := range columns {
		change := math.Abs(out.Figures[c].Value - below.Figures[c].Value)
		moved += change * facts.grams
		acidMoved += change * facts.citric
	}
	moved += 1000 * ethanolGrams(math.Abs(out.Figures[StrengthPercent].Value-below.Figures[StrengthPercent].Value))
	if !out.Solid && moved > leastChange && !filled(DensityGramsPerMillilitre.Name()) {
		out.Figures[DensityGramsPerMillilitre] = Figure{}
	}
	if acidMoved > 0 && !filled(TitratableAcidPerLitre.Name()) {
		out.Figures[TitratableAcidPerLitre] = Figure{}
	}
	out.Aliases = slices.Concat(from.Aliases, []string{below.Name}, below.Aliases)
	return out
}

// laidOver returns the ingredients of the shelf below with the rows in their
// places or after them. A word that a row uses is the row's: an ingredient
// below loses an alias to it, and gives way where it was its name or id, the
// rest of its aliases going to the row.
func laidOver(below *Shelf, rows []row) []*Ingredient {
	owner := map[string]int{} // row that uses a folded word
	for n := range rows {
		for _, name := range rows[n].own {
			owner[Fold(name)] = n
		}
	}
	over := map[int]int{}
	for n := range rows {
		if rows[n].over >= 0 {
			over[rows[n].over] = n
		}
	}
	var result []*Ingredient
	taken := map[string]bool{}
	for b, i := range below.ingredients {
		if n, laid := over[b]; laid {
			result = append(result, &rows[n].ingredient)
			continue
		}
		if n, lost := losesTo(i, owner); lost {
			rows[n].ingredient.Aliases = append(rows[n].ingredient.Aliases, i.Aliases...)
			continue
		}
		result = append(result, withoutAliases(i, func(alias string) bool { _, used := owner[Fold(alias)]; return used }))
		for _, name := range i.names() {
			taken[Fold(name)] = true
		}
	}
	for n := range rows {
		i := &rows[n].ingredient
		if rows[n].over < 0 {
			result = append(result, i)
		}
		i.Aliases = distinctAliases(i, func(alias string) bool {
			m, used := owner[Fold(alias)]
			return used && m != n
		})
		for _, name := range i.names() {
			taken[Fold(name)] = true
		}
	}
	for n := range rows {
		if i := &rows[n].ingredient; i.ID == "" {
			i.ID = newID(i.Name, func(id string) bool { return taken[id] && id != Fold(i.Name) })
			taken[Fold(i.ID)] = true
		}
	}
	return result
}

// losesTo returns the row that uses the name or the id of i.
func losesTo(i *Ingredient, owner map[string]int) (n int, lost bool) {
	if n, lost = owner[Fold(i.Name)]; lost || i.ID == "" {
		return n, lost
	}
	n, lost = owner[Fold(i.ID)]
	return n, lost
}

// withoutAliases returns i, or a copy without the aliases that are used elsewhere.
func withoutAliases(i *Ingredient, used func(string) bool) *Ingredient {
	if !slices.ContainsFunc(i.Aliases, used) {
		return i
	}
	out := *i
	out.Aliases = slices.DeleteFunc(slices.Clone(i.Aliases), used)
	return &out
}

// distinctAliases returns the aliases of i each once, without its own name and
// those that are used elsewhere.
func distinctAliases(i *Ingredient, used func(string) bool) []string {
	seen := map[string]bool{Fold(i.Name): true}
	var aliases []string
	for _, alias := range i.Aliases {
		if key := Fold(alias); !seen[key] && !used(alias) {
			seen[key] = true
			aliases = append(aliases, alias)
		}
	}
	return aliases
}
