package main

import "minim/pantry"

// The JSON of an ingredient; numbers that are not known are null.
type (
	jsonIngredient struct {
		Name        string                     `json:"name"`
		ID          string                     `json:"id"`
		Category    string                     `json:"category"`
		State       string                     `json:"state"`
		Aliases     []string                   `json:"aliases"`
		Allergens   []string                   `json:"allergens"`
		Vegan       *bool                      `json:"vegan"`
		InStock     bool                       `json:"in_stock"`
		Keeps       string                     `json:"keeps"`
		KeptAt      float64                    `json:"kept_at_c"`
		Measure     string                     `json:"measure"`
		Price       *float64                   `json:"price"`
		Currency    string                     `json:"currency"`
		Pack        string                     `json:"pack"`
		Confidence  string                     `json:"confidence"`
		Composition map[string]jsonConstituent `json:"composition"`
		Derived     map[string]jsonDerived     `json:"derived"`
		Unknown     []string                   `json:"unknown"`
		Source      string                     `json:"source"`
		Note        string                     `json:"note"`
		Lot         *jsonLot                   `json:"lot"`
	}
	jsonConstituent struct {
		Unit            string   `json:"unit"`
		PerLitre        *float64 `json:"per_litre"`
		PlusMinus       float64  `json:"plus_minus"`
		PerHundredGrams float64  `json:"per_100_g"`
		Source          string   `json:"source"`
		Confidence      string   `json:"confidence"`
	}
	jsonDerived struct {
		Value       float64  `json:"value"`
		Unit        string   `json:"unit"`
		PlusMinus   float64  `json:"plus_minus"`
		Low         float64  `json:"low"`
		High        float64  `json:"high"`
		UnknownFrom []string `json:"unknown_from"`
	}
)

func ingredientJSON(shelf *pantry.Shelf, i *pantry.Ingredient, derived []pantry.Derived) jsonIngredient {
	out := jsonIngredient{
		Name: i.Name, ID: i.ID, Category: i.Category, State: "liquid", Aliases: append([]string{}, i.Aliases...),
		Allergens: append([]string{}, i.Allergens...), InStock: !i.OutOfStock, Keeps: i.Keeps, KeptAt: digits(float64(i.KeptAt)),
		Measure: i.MeasureText(), Currency: i.Currency, Confidence: string(i.Confidence), Source: i.Source, Note: i.Note,
		Composition: map[string]jsonConstituent{}, Derived: map[string]jsonDerived{}, Unknown: []string{},
	}
	if i.Solid {
		out.State = "solid"
	}
	if i.Vegan != pantry.Unknown {
		vegan := i.Vegan == pantry.Yes
		out.Vegan = &vegan
	}
	if i.Priced {
		price := digits(i.Price)
		out.Price = &price
	}
	if i.Pack.Value > 0 {
		out.Pack = i.Pack.String()
	}
	for _, c := range i.Constituents() {
		if !c.Known {
			out.Unknown = append(out.Unknown, c.Name)
			continue
		}
		one := jsonConstituent{Unit: c.Unit, PlusMinus: digits(c.PerLitreSpread), PerHundredGrams: digits(c.PerHundredGrams), Source: c.Source, Confidence: string(c.Confidence)}
		if !i.Solid {
			litre := digits(c.PerLitre)
			one.PerLitre = &litre
		}
		out.Composition[c.Name] = one
	}
	for n := range derived {
		d := &derived[n]
		from := []string{}
		for _, c := range d.Unknown {
			from = append(from, c.Name())
		}
		out.Derived[d.Name] = jsonDerived{digits(d.Value), d.Unit, digits(d.PlusMinus()), digits(d.Low), digits(d.High), from}
	}
	if lot, ok := shelf.Lot(i); ok {
		out.Lot = &lotsJSON([]*pantry.AppliedLot{lot})[0]
	}
	return out
}

// jsonLot is a measurement that was taken into account.
type jsonLot struct {
	Ingredient string              `json:"ingredient"`
	ID         string              `json:"id"`
	Name       string              `json:"name"`
	Date       string              `json:"date"`
	Measured   map[string]*float64 `json:"measured"`
	Note       string              `json:"note"`
}

func lotsJSON(lots []*pantry.AppliedLot) []jsonLot {
	out := []jsonLot{}
	for _, l := range lots {
		one := jsonLot{l.Ingredient.Name, l.Ingredient.ID, l.Name, l.Day(), map[string]*float64{}, l.Note}
		for f, r := range l.Readings {
			var value *float64
			if r.Known {
				v := digits(r.Value)
				value = &v
			}
			one.Measured[pantry.LotFigure(f).Name()] = value
		}
		out = append(out, one)
	}
	return out
}
