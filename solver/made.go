package solver

import "minim/pantry"

// Part is what goes into one unit (ml or g) of an ingredient that the bar makes
// itself.
type Part struct {
	Ingredient *pantry.Ingredient
	// PerUnit is ml of a liquid or grams of a solid for each ml or gram made.
	PerUnit float64
}

// Making says what an ingredient is made of; ok is false of one that is bought.
// A nil Making has everything bought.
type Making func(*pantry.Ingredient) (parts []Part, ok bool)

// MakingOf takes preps apart: what goes into a making, plants that are steeped
// in it included, over what it yields. A prep with open pours is not taken apart.
func MakingOf(preps []*pantry.Prep) Making {
	made := map[*pantry.Ingredient][]Part{}
	unlisted := map[string]*pantry.Ingredient{}
	for _, p := range preps {
		if p.Open() {
			continue
		}
		parts := []Part{}
		for i := range p.Parts {
			parts = append(parts, Part{p.Parts[i].Ingredient, p.Parts[i].Base / float64(p.Yield)})
		}
		for _, s := range p.Steeped() {
			plant := s.Ingredient
			if plant == nil {
				key := pantry.Fold(s.Plant)
				if unlisted[key] == nil {
					unlisted[key] = s.OnTheList()
				}
				plant = unlisted[key]
			}
			parts = append(parts, Part{plant, float64(s.Mass) / float64(p.Yield)})
		}
		made[p.Ingredient] = parts
	}
	return func(i *pantry.Ingredient) ([]Part, bool) {
		parts, ok := made[i]
		return parts, ok
	}
}

// deepest is how many makings one inside the other are followed: beyond it lies
// an ingredient that is made of itself.
const deepest = 20

// of asks m, which may be nil.
func (m Making) of(i *pantry.Ingredient) ([]Part, bool) {
	if m == nil {
		return nil, false
	}
	return m(i)
}

// bought calls buying for each ingredient that base units of i come down to, and
// making for each that is made on the way, after what goes into it.
func (m Making) bought(i *pantry.Ingredient, base float64, making, buying func(*pantry.Ingredient, float64)) {
	m.follow(i, base, deepest, making, buying)
}

func (m Making) follow(i *pantry.Ingredient, base float64, depth int, making, buying func(*pantry.Ingredient, float64)) {
	parts, ok := m.of(i)
	if !ok || depth == 0 {
		buying(i, base)
		return
	}
	for _, p := range parts {
		m.follow(p.Ingredient, base*p.PerUnit, depth-1, making, buying)
	}
	making(i, base)
}
