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
// making, before that, for each that is made on the way.
func (m Making) bought(i *pantry.Ingredient, base float64, making, buying func(*pantry.Ingredient, float64)) {
	m.follow(i, base, deepest, making, buying)
}

func (m Making) follow(i *pantry.Ingredient, base float64, depth int, making, buying func(*pantry.Ingredient, float64)) {
	parts, ok := m.of(i)
	if !ok || depth == 0 {
		buying(i, base)
		return
	}
	making(i, base)
	for _, p := range parts {
		m.follow(p.Ingredient, base*p.PerUnit, depth-1, making, buying)
	}
}

// plainWater tells whether an ingredient is water, which comes from the tap.
func plainWater(i *pantry.Ingredient) bool {
	p := pour{unit: i.PerUnit()}
	return !i.Solid && p.isWater() && !i.Bubbles()
}
