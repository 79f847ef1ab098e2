package pantry

import "strings"

// mostlyGum is the gum in g/kg from which a powder is one.
const mostlyGum = 500

// IsGum tells of a powder of gum, pectin or another polysaccharide, which clumps
// when it is stirred in.
func (i *Ingredient) IsGum() bool {
	return i.Solid && i.Figures[GumPerLitre].Value > mostlyGum
}

// boiledGums only dissolve in boiling liquid; common practice, no source.
var boiledGums = []string{"agar", "agar-agar"}

// IsBoiledGum tells of a gum, by its name, that has to be boiled to dissolve.
func (i *Ingredient) IsBoiledGum() bool {
	return i.IsGum() && holdsPhrase(strings.Join(append([]string{i.Name}, i.Aliases...), "; "), boiledGums)
}
