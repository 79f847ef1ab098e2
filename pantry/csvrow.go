package pantry

import "slices"

// row is one line of a pantry file.
type row struct {
	// ingredient is what the row says, laid over the one below it if any.
	ingredient Ingredient
	// over is the place of that one on the shelf below, -1 for a new one.
	over int
	// own are the names, aliases and id in the row itself, folds their folds.
	own, folds []string
	// filled tells of each field whether the row fills it.
	filled []bool
	// measure is the text of that cell, read when the row is complete, and
	// measureAt where it stands.
	measure   string
	measureAt Place
}

// addName adds what the row itself is called.
func (r *row) addName(name string) {
	r.own, r.folds = append(r.own, name), append(r.folds, Fold(name))
}

// complete lays the row over the shelf below and settles what follows from more
// than one cell.
func (in *reader) complete(r *row) {
	i := &r.ingredient
	r.over = -1
	for _, name := range i.names() {
		r.addName(name)
	}
	if i.Name == "" {
		in.refuse(i.Place, "", "no name; expected one in each row")
		return
	}
	if i.Confidence == "" {
		i.Confidence = Seen
	}
	for c := range i.Figures {
		switch f := &i.Figures[c]; {
		case f.Confidence == "":
			f.Source, f.Confidence = i.Source, i.Confidence
		case f.Source == "" && f.Confidence.fromSource():
			f.Source = i.Source
		}
	}
	if !in.layOver(r) {
		return
	}
	switch {
	case r.over >= 0:
	case !r.filled[stateField]:
		i.Solid = i.PerKilogram
	case !r.filled[basisField]:
		i.PerKilogram = i.Solid
	case i.Solid && !i.PerKilogram:
		in.refuse(i.Place, "a kilogram of a solid is what a scale shows", "%s is a solid per litre; expected basis per_kg", i.Name)
		return
	}
	if strength := i.Figures[StrengthPercent].Value; !i.Solid && strength > 0 && strength < 1 && Fold(i.Category) == "spirit" {
		in.refuse(i.Place, "spreadsheets turn 47 % into 0.47: write 47; a spirit without alcohol goes into another category",
			"abv_percent %s for a spirit; expected percent by volume, and this looks like a fraction", formatNumber(strength))
	}
	if r.measure != "" {
		step, err := i.parseStep(r.measure)
		if err != nil {
			in.refuse(r.measureAt, "", "%s", err)
		}
		i.Step = step
	}
	for c := range i.Figures {
		f := &i.Figures[c]
		if f.OwnSpread && !f.Known {
			in.refuse(i.Place, "", "%s has a %s%s without a %s; expected both", i.Name, Column(c).Name(), spreadEnding, Column(c).Name())
		}
		if !f.Known {
			*f = Figure{}
		}
	}
	if err := i.check(); err != nil {
		in.refuse(i.Place, "the figures of a solid are grams per kilogram, those of a liquid grams per litre", "%s: %s", i.Name, err)
	}
	i.spreadFigures()
}

// layOver lays the row over the ingredient below that goes by its id or name,
// if there is one; it is false where the two do not go together.
func (in *reader) layOver(r *row) bool {
	i := &r.ingredient
	hits := slices.Clone(in.below.byName[r.folds[0]])
	if i.ID != "" {
		id := Fold(i.ID)
		for _, n := range in.below.byName[id] {
			if Fold(in.below.ingredients[n].ID) == id {
				hits = append(hits, n)
			}
		}
	}
	slices.Sort(hits)
	hits = slices.Compact(hits)
	switch len(hits) {
	case 0:
		return true
	case 1:
	default:
		in.refuse(i.Place, "", "name %q and id %q belong to two ingredients below, %s and %s; expected one",
			i.Name, i.ID, in.below.ingredients[hits[0]].Name, in.below.ingredients[hits[1]].Name)
		return false
	}
	below := in.below.ingredients[hits[0]]
	if r.filled[stateField] && i.Solid != below.Solid || r.filled[basisField] && i.PerKilogram != below.PerKilogram {
		in.refuse(i.Place, "give the ingredient another name", "%s has another state or basis than the ingredient below that it changes; expected the same", i.Name)
		return false
	}
	r.over = hits[0]
	r.ingredient = layOver(below, i, r.filled)
	return true
}

// refuseDoubles refuses rows that go by the same name, alias or id, or change
// the same ingredient below.
func (in *reader) refuseDoubles(rows []*row) {
	first, over := make(map[string]int, 3*len(rows)), map[int]int{}
	for n := range rows {
		i := &rows[n].ingredient
		if i.Name == "" {
			continue
		}
		if m, seen := over[rows[n].over]; seen {
			in.refuse(i.Place, "", "%s in line %d and %s in line %d both change %q; expected one row for it", rows[m].own[0],
				rows[m].ingredient.Place.Line, rows[n].own[0], i.Place.Line, in.below.ingredients[rows[n].over].Name)
			continue
		}
		if rows[n].over >= 0 {
			over[rows[n].over] = n
		}
		for k, folded := range rows[n].folds {
			m, seen := first[folded]
			if seen && m != n {
				in.refuse(i.Place, "", "%s in line %d and %s in line %d both go by %q; expected different names",
					rows[m].own[0], rows[m].ingredient.Place.Line, rows[n].own[0], i.Place.Line, rows[n].own[k])
				break
			}
			first[folded] = n
		}
	}
}
