package solver

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"minim/pantry"
	"minim/profile"
)

// mostRelatives is how many weaker relatives are offered, so that a proven
// search takes about a second.
const mostRelatives = 2

// muchWeaker is the part of an ingredient's strength that a relative has at
// most: a vermouth for a gin, not a gin of 40 % for one of 43 %. Common practice,
// no source.
const muchWeaker = 2.0 / 3

// relatives are the categories in which a bar looks for a weaker stand-in, by
// the category of what is replaced. Common practice, no source.
var relatives = map[string][]string{
	"spirit":          {"fortified wine", "aromatised wine"},
	"liqueur":         {"liqueur", "aromatised wine"},
	"fortified wine":  {"aromatised wine", "wine"},
	"aromatised wine": {"wine"},
	"wine":            {"beer & cider"},
}

// withoutAlcohol are offered in every drink, by name: what lengthens it, an
// unsweetened tea for the grip of a spirit, and the sharpness of a wine without
// its alcohol. Common practice, no source. A shelf may lack any of them.
var withoutAlcohol = []string{"water", "green tea", "verjus"}

// sweetener is offered beside them to a drink that has no syrup: the sugar of a
// liqueur or a vermouth goes with it.
const sweetener = "rich syrup"

// offer is an ingredient by the name that the drink calls it.
type offer struct {
	name       string
	ingredient *pantry.Ingredient
}

// lowered writes a name as it stands in a list of pours.
func lowered(name string) string {
	r := []rune(name)
	if len(r) > 0 {
		r[0] = unicode.ToLower(r[0])
	}
	return string(r)
}

// replacements lists what is offered in the place of alcohol beside the drink's
// own pours: withoutAlcohol, and for the pours with most ethanol the nearest
// relative in each category, mostRelatives at most. What is poured already, is
// out of stock, or obscure in a wanted property is passed over.
func replacements(shelf *pantry.Shelf, poured []PouredAmount, wanted []profile.Property) []offer {
	var out []offer
	may := func(i *pantry.Ingredient) bool {
		unknown := slices.ContainsFunc(wanted, func(p profile.Property) bool { return obscure(i, p) })
		inGlass := slices.ContainsFunc(poured, func(p PouredAmount) bool { return p.Ingredient == i })
		return !unknown && !inGlass && !i.OutOfStock && !slices.ContainsFunc(out, func(o offer) bool { return o.ingredient == i })
	}
	names := withoutAlcohol
	if !slices.ContainsFunc(poured, func(p PouredAmount) bool { return p.Ingredient.Category == "syrup" }) {
		names = append(slices.Clone(names), sweetener)
	}
	for _, name := range names {
		if i, err := shelf.Find(name); err == nil && may(i) {
			out = append(out, offer{name, i})
		}
	}
	strongest := slices.Clone(poured)
	slices.SortStableFunc(strongest, func(a, b PouredAmount) int { return cmp.Compare(ethanolOf(&b), ethanolOf(&a)) })
	found := 0
	for n := range strongest {
		p := &strongest[n]
		if ethanolOf(p) == 0 {
			break
		}
		for _, category := range relatives[strings.ToLower(p.Ingredient.Category)] {
			var nearest *pantry.Ingredient
			for _, i := range shelf.All() {
				weaker := strengthAlone(i) <= muchWeaker*strengthAlone(p.Ingredient)
				if strings.EqualFold(i.Category, category) && weaker && !i.Solid && !i.Bubbles() && may(i) &&
					(nearest == nil || apartness(i, p.Ingredient) < apartness(nearest, p.Ingredient)) {
					nearest = i
				}
			}
			if nearest != nil && found < mostRelatives {
				out = append(out, offer{lowered(nearest.Name), nearest})
				found++
			}
		}
	}
	return out
}

// usualShare is the part of a drink that a replacement makes up. Common practice,
// no source.
const usualShare = 0.3

// obscure tells whether the unknown figures of an ingredient, at usualShare of a
// drink, could move property p as far as makes it no target. Where its category
// has no ceiling that is not known, and a note names it in the drink.
func obscure(i *pantry.Ingredient, p profile.Property) bool {
	j, ok := p.JND()
	if !ok || !i.Unknown(p) {
		return false
	}
	most, bounded := i.Ceiling(p)
	d := profile.Drink{Mix: i.PerUnit().Add(most)}
	var raised profile.Values
	d.Evaluate(profile.PropertySet(0).With(p), &raised, nil, nil)
	return bounded && j.Level(usualShare*raised[p])-j.Level(usualShare*alone(i)[p]) >= refusedUnknown
}

// ethanolOf is what a pour brings, in grams.
func ethanolOf(p *PouredAmount) float64 {
	unit := p.Ingredient.PerUnit()
	return unit[profile.EthanolGrams] * p.Base
}

// alone are the properties of an ingredient by itself, at 20 °C.
func alone(i *pantry.Ingredient) profile.Values {
	d := profile.Drink{Mix: i.PerUnit()}
	var v profile.Values
	d.Evaluate(profile.AllProperties, &v, nil, nil)
	return v
}

func strengthAlone(i *pantry.Ingredient) float64 { return alone(i)[profile.Strength] }

// apartness is the sum of the squared differences of two ingredients by
// themselves in sugar, acid, salt, bitterness and umami, in JND.
func apartness(a, b *pantry.Ingredient) float64 {
	sum, va, vb := 0.0, alone(a), alone(b)
	for _, p := range []profile.Property{profile.Sugar, profile.Acid, profile.Salt, profile.Bitter, profile.Umami} {
		j, _ := p.JND()
		d := j.Level(va[p]) - j.Level(vb[p])
		sum += d * d
	}
	return sum
}
