package pantry

import "fmt"

// slack is how far the parts of an ingredient may exceed the whole before it
// is an error: figures come from tables rounded to three digits.
const slack = 0.005

// check tells what in the composition cannot be.
func (i *Ingredient) check() error {
	if i.PerKilogram && !i.Solid && !i.Figures[DensityGramsPerMillilitre].Known {
		return fmt.Errorf("a liquid per kilogram without a density; expected density_g_per_ml or basis per_l")
	}
	if i.Solid && i.Figures[StrengthPercent].Value > 0 {
		return fmt.Errorf("a solid with a strength; expected abv_percent 0 or none")
	}
	listed := i.listed()
	mass := float64(listed.Mass())
	density := i.Figures[DensityGramsPerMillilitre]
	switch {
	case i.Solid && mass > 1+slack:
		return fmt.Errorf("the parts of a kilogram add up to %.0f g; expected 1000 g at most", mass*1000)
	case !i.Solid && density.Known && mass > density.Value*(1+slack):
		return fmt.Errorf("the parts of a litre add up to %.0f g; expected at most the %.0f g that it weighs", mass*1000, density.Value*1000)
	case !i.Solid && !density.Known && float64(listed.Volume()) > 1+slack:
		return fmt.Errorf("the parts of a litre take up %.0f ml; expected 1000 ml at most", float64(listed.Volume())*1000)
	}
	return nil
}

// names are all that the ingredient goes by.
func (i *Ingredient) names() []string {
	names := append([]string{i.Name}, i.Aliases...)
	if i.ID != "" {
		names = append(names, i.ID)
	}
	return names
}
