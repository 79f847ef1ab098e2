package pantry

import (
	"fmt"
	"regexp"
	"strings"
)

// PricePerUnit returns what one millilitre of a liquid or one gram of a solid
// costs, in the ingredient's Currency:
//
//	price of a pack / what a pack holds, in ml at 20 °C or grams
//
// ok is false where the price or the pack is not known, or where the pack
// cannot be turned into the ingredient's unit: a bottle by weight needs a
// density, a carton by the piece the size of one.
func (i *Ingredient) PricePerUnit() (amount float64, ok bool) {
	if !i.Priced || i.Pack.Value == 0 {
		return 0, false
	}
	units, err := i.Pack.Of(i)
	if err != nil || units <= 0 {
		return 0, false
	}
	return i.Price / units, true
}

// largestPrice bounds what a pack may cost, in any currency.
const largestPrice = 1e9

// currencyCode is the shape of a currency in ISO 4217.
var currencyCode = regexp.MustCompile(`^[A-Z]{3}$`)

// tradeFields are the columns on buying, keeping and serving an ingredient.
func tradeFields() []field {
	price := numberField("price", 0, largestPrice, func(i *Ingredient) *float64 { return &i.Price }, 0)
	readNumber := price.read
	price.read = func(i *Ingredient, text string) wrongCell {
		wrong := readNumber(i, text)
		i.Priced = wrong.message == ""
		return wrong
	}
	price.write = func(i *Ingredient) string {
		if !i.Priced {
			return ""
		}
		return formatNumber(i.Price)
	}
	price.lay = func(on, from *Ingredient) { on.Price, on.Priced = from.Price, from.Priced }

	currency := textField("currency", func(i *Ingredient) *string { return &i.Currency })
	currency.read = func(i *Ingredient, text string) wrongCell {
		if !currencyCode.MatchString(text) {
			wrong := wrongCell{message: "is no currency; expected three capital letters such as EUR"}
			if code := strings.ToUpper(text); currencyCode.MatchString(code) {
				wrong.hint = "write " + code
			}
			return wrong
		}
		i.Currency = text
		return wrongCell{}
	}
	return []field{
		price,
		{
			heading: "pack",
			amount:  true,
			read:    readPack,
			write: func(i *Ingredient) string {
				if i.Pack.Value == 0 {
					return ""
				}
				return i.Pack.String()
			},
			lay: func(on, from *Ingredient) { on.Pack = from.Pack },
		},
		currency,
		stockField(),
		certaintyField("vegan", func(i *Ingredient) *Certainty { return &i.Vegan }),
		textField("keeps", func(i *Ingredient) *string { return &i.Keeps }),
	}
}

func readPack(i *Ingredient, text string) wrongCell {
	pack, wrong := parsePositiveAmount(text)
	if wrong != nil {
		return wrongCell{"is no pack: " + wrong.message, wrong.hint}
	}
	i.Pack = pack
	return wrongCell{}
}

// stockField holds yes or no; an empty cell is yes.
func stockField() field {
	return field{
		heading: "stock",
		read: func(i *Ingredient, text string) wrongCell {
			c, wrong := parseCertainty(text)
			i.OutOfStock = c == No
			return wrong
		},
		write: func(i *Ingredient) string {
			if i.OutOfStock {
				return No.String()
			}
			return ""
		},
		lay: func(on, from *Ingredient) { on.OutOfStock = from.OutOfStock },
	}
}

// certaintyField holds yes or no; an empty cell is unknown.
func certaintyField(heading string, of func(*Ingredient) *Certainty) field {
	return field{
		heading: heading,
		read: func(i *Ingredient, text string) wrongCell {
			c, wrong := parseCertainty(text)
			*of(i) = c
			return wrong
		},
		write: func(i *Ingredient) string { return of(i).String() },
		lay:   func(on, from *Ingredient) { *of(on) = *of(from) },
	}
}

func parseCertainty(text string) (Certainty, wrongCell) {
	for _, c := range []Certainty{Yes, No} {
		if Fold(text) == c.String() {
			return c, wrongCell{}
		}
	}
	return Unknown, wrongCell{fmt.Sprintf("is neither; expected %s or %s", Yes, No), ""}
}

// Currencies returns each currency on the shelf once, in the order of first
// appearance. Costs in more than one do not add.
func (s *Shelf) Currencies() []string {
	var found []string
	seen := map[string]bool{}
	for _, i := range s.ingredients {
		if i.Priced && i.Currency != "" && !seen[i.Currency] {
			seen[i.Currency] = true
			found = append(found, i.Currency)
		}
	}
	return found
}
