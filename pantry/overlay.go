package pantry

import (
	"math"
	"slices"
	"strings"
	"sync"
)

// leastChange is the change of composition, in grams per litre, from which a
// measured density no longer holds.
const leastChange = 0.1

// layOver returns the ingredient below with the filled fields of from laid over
// it. A liquid whose composition changed but whose density was not given loses
// its measured density, and one whose acids changed its titratable acidity:
// both are then computed anew. The aliases are those of both, and the name
// below becomes one.
func layOver(below *Ingredient, from *Ingredient, filled []bool) Ingredient {
	out := *below
	for c := range out.Figures {
		if f := &out.Figures[c]; f.Known && f.Source == "" && f.Confidence.fromSource() {
			f.Source = below.Place.File
		}
	}
	step := below.stepText()
	for n := range fields {
		if filled[n] {
			fields[n].lay(&out, from)
		}
	}
	if !filled[measureField] && step != "" {
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
	if !out.Solid && moved > leastChange && !filled[figureFields[DensityGramsPerMillilitre]] {
		out.Figures[DensityGramsPerMillilitre] = Figure{}
	}
	if acidMoved > 0 && !filled[figureFields[TitratableAcidPerLitre]] {
		out.Figures[TitratableAcidPerLitre] = Figure{}
	}
	out.Aliases = slices.Concat(from.Aliases, []string{below.Name}, below.Aliases)
	return out
}

// laidOver returns the ingredients of the shelf below with the rows in their
// places or after them. A word that a row uses is the row's: an ingredient
// below loses an alias to it, and gives way where it was its name or id, the
// rest of its aliases going to the row.
func laidOver(below *Shelf, rows []*row) []*Ingredient {
	owner := make(map[string]int, 3*len(rows)) // row that uses a folded word
	over := map[int]int{}
	for n, r := range rows {
		for _, folded := range r.folds {
			owner[folded] = n
		}
		if r.over >= 0 {
			over[r.over] = n
		}
	}
	result := make([]*Ingredient, 0, len(below.ingredients)+len(rows))
	for b, i := range below.ingredients {
		if n, laid := over[b]; laid {
			result = append(result, &rows[n].ingredient)
			continue
		}
		if n, lost := losesTo(i, owner); lost {
			rows[n].ingredient.Aliases = append(rows[n].ingredient.Aliases, i.Aliases...)
			continue
		}
		result = append(result, withoutAliases(i, func(folded string) bool { _, used := owner[folded]; return used }))
	}
	for n, r := range rows {
		i := &r.ingredient
		if r.over < 0 {
			result = append(result, i)
		}
		i.Aliases = distinctAliases(r, func(folded string) bool {
			m, used := owner[folded]
			return used && m != n
		})
	}
	nameTheNameless(result, rows)
	return result
}

// nameTheNameless gives an id to each row without one.
func nameTheNameless(all []*Ingredient, rows []*row) {
	// Most ids are their own name, so the words in use are seldom asked for.
	taken := sync.OnceValue(func() map[string]bool {
		words := make(map[string]bool, 3*len(all))
		for _, i := range all {
			for _, name := range i.names() {
				words[Fold(name)] = true
			}
		}
		return words
	})
	for _, r := range rows {
		i := &r.ingredient
		if i.ID != "" {
			continue
		}
		if id := idOf(r.folds[0]); strings.ReplaceAll(id, "_", " ") == r.folds[0] {
			i.ID = id
			continue
		}
		i.ID = newID(i.Name, func(folded string) bool { return folded != r.folds[0] && taken()[folded] })
		if folded := Fold(i.ID); folded != r.folds[0] {
			taken()[folded] = true
		}
	}
}

// losesTo returns the row that uses the name or the id of i.
func losesTo(i *Ingredient, owner map[string]int) (n int, lost bool) {
	if n, lost = owner[Fold(i.Name)]; lost || i.ID == "" {
		return n, lost
	}
	n, lost = owner[Fold(i.ID)]
	return n, lost
}

// withoutAliases returns i, or a copy without the aliases whose folds are used
// elsewhere.
func withoutAliases(i *Ingredient, used func(folded string) bool) *Ingredient {
	usedAlias := func(alias string) bool { return used(Fold(alias)) }
	if !slices.ContainsFunc(i.Aliases, usedAlias) {
		return i
	}
	out := *i
	out.Aliases = slices.DeleteFunc(slices.Clone(i.Aliases), usedAlias)
	return &out
}

// distinctAliases returns the aliases of the row's ingredient each once, without
// its own name and those whose folds are used elsewhere. The first of them are
// the row's own, whose folds are known.
func distinctAliases(r *row, used func(folded string) bool) (aliases []string) {
	var folds []string
	for n, alias := range r.ingredient.Aliases {
		folded := ""
		if n+1 < len(r.own) && r.own[n+1] == alias {
			folded = r.folds[n+1]
		} else {
			folded = Fold(alias)
		}
		if folded != r.folds[0] && !slices.Contains(folds, folded) && !used(folded) {
			aliases, folds = append(aliases, alias), append(folds, folded)
		}
	}
	return aliases
}
